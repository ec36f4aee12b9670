//! What the first line of the answer says of work that lies bare, and of work that is kept out of the bath for that.

use super::Results;
use crate::print::{clock_or_date, count_word, how_long};
use crate::record::{Kept, Waited};
use crate::shop::{Step, StepRef};
use crate::units::Span;

/// Loads that are named one by one.
const NAMED: usize = 2;

fn step<'a>(results: &Results<'a>, at: StepRef) -> Option<&'a Step> {
    results
        .shop
        .routes
        .get(at.route.index())?
        .steps
        .get(at.step.index())
}

/// The worst wait of each load that lies bare, the worst first.
fn worst(results: &Results<'_>) -> Vec<Waited> {
    let mut all: Vec<Waited> = results.figures.waited.clone();
    all.retain(Waited::lies_bare);
    all.sort_by_key(|w| (std::cmp::Reverse(w.by), w.load));
    let mut seen = std::collections::BTreeSet::new();
    all.retain(|w| seen.insert(w.load));
    all
}

/// `L4 lies bare 84 h before oil (at most 1 h)`
fn lies_bare(results: &Results<'_>, wait: &Waited) -> String {
    let label = results.labels.at(wait.load, wait.at);
    let step = step(results, wait.step);
    let within = step.and_then(|s| s.within).unwrap_or(Span::ZERO);
    format!(
        "{label} {} bare {} before {} (at most {})",
        if wait.still { "still lies" } else { "lies" },
        how_long(wait.by + within),
        step.map_or("the next step", |s| s.name.as_str()),
        how_long(within)
    )
}

/// Kept out beyond the day: it went in on another, or never.
fn beyond_its_day(kept: &Kept) -> bool {
    kept.until
        .is_none_or(|until| until.day_and_time().0 != kept.from.day_and_time().0)
}

/// `L5 stays out of coat until Sat 08:03: the oil tray has no place for it in time; one more place there …`
fn stays_out(results: &Results<'_>, kept: &Kept) -> String {
    let label = results.labels.at(kept.load, kept.from);
    let name = |at: StepRef| step(results, at).map_or("?", |s| s.name.as_str());
    let until = kept.until.map_or("to the end".to_owned(), |until| {
        format!("until {}", clock_or_date(&results.shop.calendar, until))
    });
    let stations = step(results, kept.behind).map_or(&[][..], |s| &s.stations);
    let names: Vec<&str> = stations
        .iter()
        .filter_map(|s| results.shop.stations.get(s.index()))
        .map(|s| s.name.as_str())
        .collect();
    format!(
        "{label} waits for {} from {} {until}, as {} has no free place to {} it in time: one more place there, or \
         emptying it sooner, would free it",
        name(kept.step),
        clock_or_date(&results.shop.calendar, kept.from),
        crate::print::list(&names.into_iter().map(str::to_owned).collect::<Vec<_>>()),
        name(kept.behind),
    )
}

/// What of it belongs into the first line, as sentences; empty if nothing does.
pub(super) fn first_line(results: &Results<'_>) -> String {
    let bare = worst(results);
    let mut kept: Vec<Kept> = results.figures.kept.clone();
    kept.retain(beyond_its_day);
    let mut seen = std::collections::BTreeSet::new();
    kept.retain(|k| seen.insert(k.load));
    let mut said = String::new();
    for sentence in [
        clause(&bare, |w| lies_bare(results, w)),
        clause(&kept, |k| stays_out(results, k)),
    ]
    .into_iter()
    .flatten()
    {
        said.push_str(&format!(" {sentence}."));
    }
    said
}

fn clause<T>(all: &[T], words: impl Fn(&T) -> String) -> Option<String> {
    let named: Vec<String> = all.iter().take(NAMED).map(words).collect();
    let more = all.len().saturating_sub(NAMED);
    match (named.is_empty(), more) {
        (true, _) => None,
        (false, 0) => Some(named.join("; ")),
        (false, _) => Some(format!("{}; and {} more", named.join("; "), count_word(more))),
    }
}
