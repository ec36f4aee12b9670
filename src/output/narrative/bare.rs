//! What the first line of the answer says of work that lies bare, and of work that is kept out of the bath for that.

use super::Results;
use super::promise::Promise;
use tankday_base::print::{clock_or_date, count_word, how_long};
use tankday_base::shop::{Step, StepKind, StepRef};
use tankday_base::units::Span;
use tankday_record::{Bare, Kept, LoadNo, LogEntry, WaitCause, Waited, bare};

/// Loads that are named one by one.
const NAMED: usize = 2;

/// The worst wait of each load that lies bare, the worst first.
fn worst(results: &Results<'_>) -> Vec<Waited> {
    worst_of_each(results, Waited::lies_bare)
}

/// The worst wait of each load that waits for its bath longer than it may and is not stripped: what is clean gets dirty again.
fn before_bath(results: &Results<'_>) -> Vec<Waited> {
    let coats = |w: &Waited| {
        results
            .shop
            .find_step(w.step)
            .is_some_and(|s| s.kind == StepKind::Coat)
    };
    worst_of_each(results, |w| {
        w.bare.is_none() && w.by >= Span::whole_minutes(1) && coats(w)
    })
}

/// The worst wait of each load that is oiled or sealed and waits longer than it may.
fn kept(results: &Results<'_>) -> Vec<Waited> {
    worst_of_each(results, |w| {
        let over = w.bare.is_none() && w.by >= Span::whole_minutes(1);
        over && is_kept(results, w.step)
    })
}

/// Whether work comes oiled or sealed to a step, from a bath.
pub(super) fn is_kept(results: &Results<'_>, at: StepRef) -> bool {
    let route = results.shop.routes.get(at.route.index());
    let before = route.and_then(|r| r.steps.get(..at.step.index()));
    let coated = before
        .unwrap_or_default()
        .iter()
        .any(|s| s.kind == StepKind::Coat);
    coated && bare(results.shop, at).is_none()
}

/// `L1 (H) waits 41 min for pack (at most 10 min), as the table was full`
fn waits_kept(results: &Results<'_>, wait: &Waited) -> String {
    let (who, step, within) = waiting(results, wait);
    format!(
        "{who} {} {} for {} (at most {}){}",
        if wait.still { "still waits" } else { "waits" },
        how_long(wait.by + within),
        step.map_or("the next step", |s| s.name.as_str()),
        how_long(within),
        because(results, wait)
    )
}

/// The worst of these waits of each load, the worst first.
fn worst_of_each(results: &Results<'_>, which: impl Fn(&Waited) -> bool) -> Vec<Waited> {
    let mut all: Vec<Waited> = results.figures.waited.clone();
    all.retain(which);
    all.sort_by_key(|w| (std::cmp::Reverse(w.by), w.load));
    let mut seen = std::collections::BTreeSet::new();
    all.retain(|w| seen.insert(w.load));
    all
}

/// `L1 (N) waits 39 min to coat (at most 10 min)`
fn waits_too_long(results: &Results<'_>, wait: &Waited) -> String {
    let (who, step, within) = waiting(results, wait);
    format!(
        "{who} {} {} to {} (at most {})",
        if wait.still { "still waits" } else { "waits" },
        how_long(wait.by + within),
        step.map_or("go on", |s| s.name.as_str()),
        how_long(within)
    )
}

/// Who waits, `L4 (A3)`, for which step, and how long it may.
fn waiting<'a>(results: &Results<'a>, wait: &Waited) -> (String, Option<&'a Step>, Span) {
    let label = results.labels.at(wait.load, wait.at);
    let step = results.shop.find_step(wait.step);
    let within = step.and_then(|s| s.within).unwrap_or(Span::ZERO);
    let own = match wait.bare {
        Some(Bare::Stripped) => made_of(results, wait.load),
        _ => orders(results, wait.load),
    };
    let who = match own {
        own if own.is_empty() || label.contains(&own) => label.to_owned(),
        own => format!("{label} ({own})"),
    };
    (who, step, within)
}

/// Orders that have pieces in a load: `A3 and B1`.
fn orders(results: &Results<'_>, load: LoadNo) -> String {
    let loads = &results.figures.loads;
    let lots = loads.iter().find(|l| l.load == load).map_or(&[][..], |l| &l.lots);
    let all = results.figures.orders.iter();
    let own = all.filter(|o| lots.iter().any(|lot| lot.order == o.order));
    tankday_base::print::list(&own.map(|o| o.id.clone()).collect::<Vec<_>>())
}

/// The order of which a load was made, before it met others.
fn made_of(results: &Results<'_>, load: LoadNo) -> String {
    let made = results.record.entries.iter().find_map(|e| match e.event {
        LogEntry::LoadMade { load: l, order, .. } if l == load => Some(order),
        _ => None,
    });
    let all = &results.figures.orders;
    let own = all.iter().find(|o| Some(o.order) == made);
    own.map_or(String::new(), |o| o.id.clone())
}

/// What kept it: `, as the oil tray was full`.
fn because(results: &Results<'_>, wait: &Waited) -> String {
    match wait.cause {
        WaitCause::Full => format!(
            ", as {} {} full",
            places(results, wait.step),
            if results
                .shop
                .find_step(wait.step)
                .is_some_and(|s| s.stations.len() > 1)
            {
                "were"
            } else {
                "was"
            }
        ),
        WaitCause::Closed => ", as the shop was closed".to_owned(),
        WaitCause::Break => ", as hands had their break".to_owned(),
        WaitCause::Care => ", as its bath was cared for".to_owned(),
        WaitCause::Cold => ", as its bath was not hot".to_owned(),
        WaitCause::Bath => ", as its bath took no load".to_owned(),
        WaitCause::Hands => ", as hands were busy".to_owned(),
    }
}

/// `L4 (order A3) lies bare 84 h before oil (at most 1 h), as the oil tray was full`; `lies stripped` where it has not been in
/// a bath yet.
fn lies_bare(results: &Results<'_>, wait: &Waited) -> String {
    let (who, step, within) = waiting(results, wait);
    format!(
        "{who} {} {} {} before {} (at most {}){}",
        if wait.still { "still lies" } else { "lies" },
        match wait.bare {
            Some(Bare::Stripped) => "stripped",
            _ => "bare",
        },
        how_long(wait.by + within),
        step.map_or("the next step", |s| s.name.as_str()),
        how_long(within),
        because(results, wait)
    )
}

/// Kept out beyond the day: it went in on another, or never.
fn beyond_its_day(kept: &Kept) -> bool {
    kept.until
        .is_none_or(|until| until.day_and_time().0 != kept.from.day_and_time().0)
}

/// `; rods, 1 of 2 was kept out of the bath 4 h 02 min until the oil tray had a place`: of the loads of an order the one that
/// was kept out longest on its day; empty where that was for less than a time, or is said of another day already.
pub(super) fn kept_out(results: &Results<'_>, promise: &Promise, least: Span) -> String {
    let own = own_loads(results, promise);
    let mut kept = results.figures.kept.iter();
    if kept.clone().any(|k| own.contains(&k.load) && beyond_its_day(k)) {
        return String::new();
    }
    let length = |k: &Kept| k.until.map_or(Span::ZERO, |until| until - k.from);
    let longest = kept
        .by_ref()
        .filter(|k| own.contains(&k.load))
        .max_by_key(|k| length(k));
    match longest.filter(|k| length(k) >= least.max(Span::whole_minutes(1))) {
        Some(kept) => format!(
            "; {} was kept out of the bath {} until {} had a place",
            results.labels.at(kept.load, kept.from),
            how_long(length(kept)),
            places(results, kept.behind)
        ),
        None => String::new(),
    }
}

/// Every load in which pieces of an order have been, before they met others and since.
fn own_loads(results: &Results<'_>, promise: &Promise) -> Vec<LoadNo> {
    let made = results.record.entries.iter().filter_map(|e| match e.event {
        LogEntry::LoadMade { load, order, .. } if order == promise.order.order => Some(load),
        _ => None,
    });
    made.flat_map(|load| [load, results.labels.holder(load)])
        .collect()
}

/// Where a step happens: `the oil tray`.
fn places(results: &Results<'_>, at: StepRef) -> String {
    let stations = results.shop.find_step(at).map_or(&[][..], |s| &s.stations);
    let names = stations
        .iter()
        .filter_map(|s| results.shop.stations.get(s.index()))
        .map(|s| format!("the {}", s.name));
    tankday_base::print::list(&names.collect::<Vec<_>>())
}

/// `thumb nuts (before blast, from Tue 18:35 until Sat 08:03)`
fn waits(results: &Results<'_>, kept: &Kept) -> String {
    let clock = |at| clock_or_date(&results.shop.calendar, at);
    let until = kept
        .until
        .map_or("to the end".to_owned(), |until| format!("until {}", clock(until)));
    format!(
        "{} (before {}, from {} {until})",
        results.labels.at(kept.load, kept.from),
        results
            .shop
            .find_step(kept.step)
            .map_or("it goes in", |s| s.name.as_str()),
        clock(kept.from)
    )
}

/// What waits for a place behind the bath, with the place that is full and what would free it.
fn stays_out(results: &Results<'_>, kept: &[Kept]) -> Option<String> {
    let first = kept.first()?;
    let place = places(results, first.behind);
    let mut named: Vec<String> = kept.iter().take(NAMED).map(|k| waits(results, k)).collect();
    let more = kept.len() - named.len();
    if more > 0 {
        named.push(format!("{} more", count_word(more)));
    }
    let them = if kept.len() == 1 { "it" } else { "them" };
    Some(format!(
        "Kept out of the bath until {place} has a place: {}; one more place there, or emptying it sooner, would free \
         {them}",
        tankday_base::print::list(&named)
    ))
}

/// What of it belongs into the first line, as sentences; empty if nothing does.
pub(super) fn first_line(results: &Results<'_>) -> String {
    let bare = worst(results);
    let mut kept: Vec<Kept> = results.figures.kept.clone();
    kept.retain(beyond_its_day);
    let mut seen = std::collections::BTreeSet::new();
    kept.retain(|k| seen.insert(k.load));
    let mut said = String::new();
    let (before, oiled) = (before_bath(results), self::kept(results));
    for sentence in [
        clause(&bare, |w| lies_bare(results, w)),
        frees(results, &bare),
        clause(&before, |w| waits_too_long(results, w)),
        clause(&oiled, |w| waits_kept(results, w)),
        stays_out(results, &kept),
    ]
    .into_iter()
    .flatten()
    {
        said.push_str(&format!(" {sentence}."));
    }
    said
}

/// What would free the first that found its place taken.
fn frees(results: &Results<'_>, bare: &[Waited]) -> Option<String> {
    let full = bare.iter().take(NAMED).find(|w| w.cause == WaitCause::Full)?;
    Some(format!(
        "One more place at {}, or emptying it sooner, would help",
        places(results, full.step)
    ))
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
