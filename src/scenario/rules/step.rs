//! Single steps: where, how long, and keys that exclude each other.

use super::{Facts, Rule};
use crate::finding::{Code, Finding};
use crate::node::Place;
use crate::walk::list;
use crate::written::{Route, Step, Tank};
use tankday_base::luck::Spread;
use tankday_base::shop::Hands;
use tankday_base::units::Span;

pub(super) const ALL: &[Rule] = &[
    has_place,
    tank_needs_bath,
    bath_has_tank,
    has_time,
    bath_decides,
    ends_only,
    longest_stay,
    drips_over_a_bath,
];

fn each(f: &Facts, rule: fn(&Facts, &Step) -> Option<Finding>) -> Vec<Finding> {
    f.steps().filter_map(|(_, step)| rule(f, step)).collect()
}

/// Every step happens somewhere.
fn has_place(f: &Facts) -> Vec<Finding> {
    each(f, |_, step| {
        let nowhere = step.places.at.is_none() && step.places.bath.is_none();
        nowhere.then(|| {
            Finding::new(Code::Missing, step.at, "no station does this step")
                .label("where?")
                .help("write the station, `at: bench`, or for a coating step the bath, `in: manganese`")
        })
    })
}

/// A step at a tank says which bath it uses.
fn tank_needs_bath(f: &Facts) -> Vec<Finding> {
    let of = |(_, step): (&Route, &Step)| -> Vec<Finding> {
        let tanks = step
            .stations
            .iter()
            .filter_map(|s| f.tank(&s.value).map(|t| (s, t)));
        let at_tank = tanks.filter(|_| !step.coats());
        at_tank
            .map(|(s, tank)| {
                let bath = tank.bath.as_ref().map_or("manganese", |b| b.value.as_str());
                Finding::new(
                    Code::Route,
                    s.at,
                    format!("`{}` is a tank: only coating steps happen in it", s.value),
                )
                .label("a tank")
                .help(format!("write `in: {bath}` and no time, or another station"))
            })
            .collect()
    };
    f.steps().flat_map(of).collect()
}

/// Some tank holds the bath, and those that are named do.
fn bath_has_tank(f: &Facts) -> Vec<Finding> {
    let mut found = Vec::new();
    for (_, step) in f.steps() {
        let Some(bath) = step.bath.as_ref().filter(|b| f.bath(&b.value).is_some()) else {
            continue;
        };
        let holds = |name: &str| {
            f.tank(name)
                .and_then(|t| t.bath.as_ref())
                .is_some_and(|b| b.value == bath.value)
        };
        let wrong = step
            .stations
            .iter()
            .filter(|s| f.names.stations.contains_key(&s.value) && !holds(&s.value));
        found.extend(wrong.map(|s| {
            Finding::new(
                Code::Route,
                s.at,
                format!("`{}` does not hold `{}`", s.value, bath.value),
            )
            .label("another place")
            .and(bath.at, "the bath")
        }));
        let known = |t: &Tank| t.bath.as_ref().is_some_and(|b| f.bath(&b.value).is_some());
        let sure = f.file.tanks.iter().all(known);
        if step.stations.is_empty() && f.tanks_for(step).is_empty() && sure {
            let tanks = f
                .file
                .tanks
                .iter()
                .filter_map(|t| t.name.as_ref())
                .map(|n| n.value.as_str());
            found.push(
                Finding::new(Code::Route, bath.at, format!("no tank holds `{}`", bath.value))
                    .label("no station does this step")
                    .help(format!(
                        "write `bath: {}` at a tank; the tanks are {}",
                        bath.value,
                        list(tanks)
                    )),
            );
        }
    }
    found
}

/// Work takes a time that is written.
fn has_time(f: &Facts) -> Vec<Finding> {
    each(f, |_, step| {
        let timeless = !step.coats()
            && step.relieves.is_none()
            && step.dries.is_none()
            && step.places.time.is_none()
            && step.places.each.is_none();
        timeless.then(|| {
            Finding::new(Code::Missing, step.at, "this step does not say how long it takes")
                .label("how long?")
                .help("write `for: 8 min`, `for: 4 to 7 min`, or `each piece: 20 s`")
        })
    })
}

/// In a bath the bath decides how long.
fn bath_decides(f: &Facts) -> Vec<Finding> {
    each(f, |_, step| {
        let bath = step.places.bath?;
        let own = step.places.time.or(step.places.each).or(step.places.most)?;
        Some(
            Finding::new(
                Code::Contradiction,
                own,
                "the bath decides how long a coating step takes",
            )
            .label("not here")
            .and(bath, "in this bath")
            .help("write `coat: {time: 15 min}` or `dwell: 10 to 30 min` at the bath instead"),
        )
    })
}

/// Putting in, taking out and staying overnight belong to steps that need hands at their ends.
fn ends_only(f: &Facts) -> Vec<Finding> {
    each(f, |_, step| {
        let hands = step.hands.as_ref().filter(|h| h.value != Hands::Ends)?;
        let own: Option<Place> = step
            .places
            .put_in
            .or(step.places.take_out)
            .or(step.overnight.as_ref().map(|o| o.at));
        let word = if hands.value == Hands::None {
            "none"
        } else {
            "throughout"
        };
        let message = format!("this needs `hands: ends`, but hands are `{word}`");
        Some(
            Finding::new(Code::Contradiction, own?, message)
                .label("without effect")
                .and(hands.at, "hands"),
        )
    })
}

/// Dripping is part of taking out of a bath.
fn drips_over_a_bath(f: &Facts) -> Vec<Finding> {
    each(f, |_, step| {
        let (drip, at) = (step.drip.as_ref()?, step.places.drip?);
        if !step.coats() {
            let finding = Finding::new(
                Code::Contradiction,
                at,
                "only what comes from a bath drips over it",
            );
            return Some(finding.label("without effect"));
        }
        let out = step.take_out.as_ref()?;
        let by_hand = step.hands.as_ref().is_some_and(|h| h.value == Hands::Ends);
        (by_hand && drip.value > out.value).then(|| {
            Finding::new(
                Code::Contradiction,
                drip.at,
                "dripping takes longer than taking out",
            )
            .label("part of taking out")
            .help("write a longer `take out`")
        })
    })
}

/// The longest stay is not shorter than the work.
fn longest_stay(f: &Facts) -> Vec<Finding> {
    each(f, |_, step| {
        let (most, time) = (step.most.as_ref()?, step.time.as_ref()?);
        let longest = longest_of(&time.value)?;
        (!step.coats() && most.value < longest).then(|| {
            Finding::new(
                Code::Contradiction,
                most.at,
                "the longest stay is shorter than the work",
            )
            .label("at most")
            .and(time.at, "the work")
        })
    })
}

/// The longest time of a spread that has one.
fn longest_of(spread: &Spread) -> Option<Span> {
    match spread {
        Spread::Fixed(time) => Some(*time),
        Spread::Uniform { most, .. } | Spread::Triangular { most, .. } => Some(*most),
        Spread::Readings(all) => all.iter().max().copied(),
        _ => None,
    }
}
