//! What planning gains by itself, and what would help then.

use super::Results;
use super::ends::gained;
use tankday_base::print::minutes;
use tankday_plan::Judged;
use tankday_study::ease::{Ease, Gain, WORTH_NAMING};

/// Easings that are named.
const NAMED: usize = 3;

/// Each in a sentence; nothing where nothing was planned.
#[must_use]
pub fn beyond(results: &Results<'_>) -> Vec<String> {
    let Some(beyond) = results.beyond else {
        return Vec::new();
    };
    let mut said = vec![planning(&beyond.rules, &beyond.planned)];
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

/// What the plan gains against the shop's own rules.
#[must_use]
pub fn planning(rules: &Judged, planned: &Judged) -> String {
    let mut parts = Vec::new();
    match rules.unready.saturating_sub(planned.unready) {
        0 => {}
        1 => parts.push("one more order ready".to_owned()),
        many => parts.push(format!("{many} more orders ready")),
    }
    match rules.breaches.saturating_sub(planned.breaches) {
        0 => {}
        1 => parts.push("one limit less broken".to_owned()),
        many => parts.push(format!("{many} limits fewer broken")),
    }
    if rules.unready == planned.unready {
        let late = minutes(rules.late - planned.late);
        if late != 0 {
            let which = if late > 0 { "less" } else { "more" };
            parts.push(format!("{} min {which} late in all", late.abs()));
        }
        let end = minutes(rules.finish - planned.finish);
        if end != 0 {
            let which = if end > 0 { "earlier" } else { "later" };
            parts.push(format!("{} min {which}", end.abs()));
        }
    }
    let gains = parts
        .iter()
        .any(|p| !p.ends_with(" later") && !p.contains(" more late"));
    if parts.is_empty() {
        return "Planning alone: no more than by the shop's own rules.".to_owned();
    }
    if !gains {
        parts.extend(in_return(rules, planned));
    }
    format!(
        "Planning alone: {} than by the shop's own rules.",
        parts.join(", ")
    )
}

/// What a plan gains that ends no earlier and leaves nothing less undone, limits first.
fn in_return(rules: &Judged, planned: &Judged) -> Vec<String> {
    let mut parts = Vec::new();
    let over = minutes(rules.over - planned.over);
    if over > 0 {
        parts.push(format!("{over} min less over limits"));
    }
    let before = minutes(rules.days_before - planned.days_before);
    if before > 0 {
        parts.push(format!("{before} min less work on the days before"));
    }
    let tenths = ((rules.drawn - planned.drawn).in_kilowatt_hours() * 10.0).round();
    if tenths > 0.0 {
        parts.push(format!("{:.1} kWh less", tenths / 10.0));
    }
    parts
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
    format!("Then {}.", named.join("; "))
}

/// Whether it helps by enough to be named.
fn worth_naming(gain: &Gain) -> bool {
    gain.more_orders > 0 || gain.earlier >= WORTH_NAMING || gain.less_late >= WORTH_NAMING
}

#[cfg(test)]
mod tests {
    use super::planning;
    use tankday_base::units::{Energy, Moment, Span};
    use tankday_plan::Judged;

    fn day(finish: i64, late: i64, unready: u32) -> Judged {
        Judged {
            cost: 0.0,
            finish: Moment::ZERO + Span::whole_minutes(finish),
            late_orders: 0,
            late: Span::whole_minutes(late),
            breaches: 0,
            unready,
            kept: 0,
            over: Span::ZERO,
            drawn: Energy::ZERO,
            days_before: Span::ZERO,
        }
    }

    #[test]
    fn what_planning_gains_is_said_in_what_counts_first() {
        let said = |rules, planned| planning(&rules, &planned);
        assert_eq!(
            said(day(838, 0, 0), day(780, 0, 0)),
            "Planning alone: 58 min earlier than by the shop's own rules."
        );
        assert_eq!(
            said(day(780, 40, 0), day(790, 0, 0)),
            "Planning alone: 40 min less late in all, 10 min later than by the shop's own rules."
        );
        assert_eq!(
            said(day(780, 40, 2), day(790, 90, 0)),
            "Planning alone: 2 more orders ready than by the shop's own rules."
        );
        assert_eq!(
            said(day(780, 0, 0), day(780, 0, 0)),
            "Planning alone: no more than by the shop's own rules."
        );
        let cooler = Judged {
            drawn: Energy::kilowatt_hours(2.0),
            ..day(780, 0, 0)
        };
        assert_eq!(
            said(cooler, day(789, 0, 0)),
            "Planning alone: 9 min later, 2.0 kWh less than by the shop's own rules."
        );
    }
}
