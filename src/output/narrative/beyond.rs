//! What planning gains by itself, and what would help then.

use super::Results;
use super::ends::gained;
use super::traded::{Way, apart, of_hundred, passed_over};
use tankday_study::what_if::{Ease, Gain, WORTH_NAMING};

/// Easings that are named.
const NAMED: usize = 3;

/// What the plan gains against the shop's own rules, in a sentence; nothing where nothing was planned.
#[must_use]
pub(super) fn by_planning(results: &Results<'_>) -> Option<String> {
    let beyond = results.beyond?;
    let chances = results.planned.and_then(|found| found.chances);
    let rules = Way {
        judged: &beyond.rules,
        kept: chances.map(|c| of_hundred(c.by_rules, c.due)),
    };
    let planned = Way {
        judged: &beyond.planned,
        kept: chances.map(|c| of_hundred(c.kept, c.due)),
    };
    Some(planning(&rules, &planned))
}

/// What was passed over, and what would help beyond planning, each in a sentence.
#[must_use]
pub fn beyond(results: &Results<'_>) -> Vec<String> {
    let Some(beyond) = results.beyond else {
        return Vec::new();
    };
    let mut said: Vec<String> = Vec::new();
    said.extend(results.planned.map(passed_over).unwrap_or_default());
    said.push(match &beyond.gains {
        Some(gains) => then(results, gains),
        None => format!(
            "What would help beyond that: --what-helps plans the day again with each of {} things made easier.",
            Ease::all(results.shop).len()
        ),
    });
    if beyond.stopped {
        said.push("The search was stopped before all were tried.".to_owned());
    }
    said
}

/// What the plan gains against the shop's own rules, and what it gives up for that.
#[must_use]
pub fn planning(rules: &Way<'_>, planned: &Way<'_>) -> String {
    match apart(planned, rules).say("by the shop's own rules") {
        Some(said) => format!("Planning alone: {said}."),
        None => "Planning alone: no more than by the shop's own rules.".to_owned(),
    }
}

/// What would help then, the best first.
fn then(results: &Results<'_>, gains: &[Gain]) -> String {
    let helps: Vec<&Gain> = gains.iter().filter(|g| worth_naming(g)).collect();
    if helps.is_empty() {
        let tried: Vec<String> = gains.iter().map(|g| g.ease.words(results.shop)).collect();
        return format!(
            "Nothing of this would help more than a minute: {}.",
            tried.join("; ")
        );
    }
    let still = |gain: &Gain| gained(gain).trim().replace(" earlier", " earlier still");
    let one = |gain: &&Gain| format!("{}: {}", gain.ease.words(results.shop), still(gain));
    let named: Vec<String> = helps.iter().take(NAMED).map(one).collect();
    format!("Beyond planning: {}.", named.join("; "))
}

/// Whether it helps by enough to be named.
fn worth_naming(gain: &Gain) -> bool {
    gain.more_orders > 0 || gain.earlier >= WORTH_NAMING || gain.less_late >= WORTH_NAMING
}
