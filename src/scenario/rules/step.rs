//! Single steps: where, how long, and keys that exclude each other.

use super::{Facts, Rule};
use crate::finding::{Code, Finding};
use crate::node::Spanned;
use crate::thing::Thing;
use crate::walk::list;
use crate::written::Step;
use tankday_base::random::Spread;
use tankday_base::shop::{Hands, StepKind};
use tankday_base::units::Span;

pub(super) const ALL: &[Rule] = &[
    Rule::Step(has_place),
    Rule::Whole(tank_needs_bath),
    Rule::Whole(bath_has_tank),
    Rule::Step(has_time),
    Rule::Step(bath_decides),
    Rule::Step(ends_only),
    Rule::Step(longest_stay),
    Rule::Step(drips_over_a_bath),
    Rule::Step(goes_in_by_itself),
    Rule::Step(works_by_itself),
];

/// Every step happens somewhere.
fn has_place(_: &Facts, step: &Step) -> Option<Finding> {
    let nowhere = step.place(&Step::stations).is_none() && !step.coats();
    nowhere.then(|| {
        Finding::new(Code::Missing, step.places.at, "no station does this step")
            .label("where?")
            .help("write the station, `at: bench`, or for a coating step the bath, `in: manganese`")
    })
}

/// Where there are hands, a step that goes without them has no row on the day sheet, nor the caution of its kind.
fn goes_in_by_itself(f: &Facts, step: &Step) -> Option<Finding> {
    let shop = f.file.shop.as_ref()?;
    let hands = step.hands.as_ref().filter(|h| h.value == Hands::None)?;
    if shop.hands.as_ref()?.value == 0 {
        return None;
    }
    let (says, help) = match step.kind() {
        StepKind::Coat => (
            "a load goes into the bath and comes out by itself: the day sheet says neither",
            "take `hands: none` away if somebody puts it in and takes it out",
        ),
        StepKind::Pickle
        | StepKind::DegreaseHotAlkaline
        | StepKind::DegreaseSolvent
        | StepKind::Blast
        | StepKind::Seal
        | StepKind::SealHexavalent
        | StepKind::Oil
        | StepKind::OilHot
        | StepKind::Wipe => (
            "a step that can hurt goes by itself: it has no line on the day sheet, and its caution stands nowhere",
            "take `hands: none` away if somebody puts the parts in; `put in: 2 min` is the time that this takes",
        ),
        _ => return None,
    };
    let found = Finding::warns(Code::Route, hands.at).says(says);
    Some(found.label("no hands").help(help))
}

/// What is brushed, wiped or blasted is so by hand, unless somebody says otherwise: hands that only put it in and take it out
/// would be free for other work meanwhile.
fn works_by_itself(f: &Facts, step: &Step) -> Option<Finding> {
    let by_hand = matches!(step.kind(), StepKind::Brush | StepKind::Wipe | StepKind::Blast);
    if !by_hand || step.place(&Step::hands).is_some() || f.no_hands().is_some() {
        return None;
    }
    let what = step.what.as_ref()?;
    let message = format!(
        "`{}` goes on by itself: hands put the work in and take it out",
        what.value
    );
    let help = "write `hands: throughout` if somebody does it from beginning to end, `hands: ends` if a machine does";
    Some(
        Finding::warning(Code::Route, what.at, message)
            .label("nobody at it")
            .help(help),
    )
}

/// A step at a tank says which bath it uses.
fn tank_needs_bath(f: &Facts) -> Vec<Finding> {
    let elsewhere = f.steps().filter(|(_, step)| !step.coats());
    let at_tank = |at: &Spanned<String>| {
        let bath = f.tank(&at.value)?.bath.as_ref();
        let bath = bath.map_or("manganese", |b| b.value.as_str());
        let message = format!("`{}` is a tank: only coating steps happen in it", at.value);
        Some(
            Finding::new(Code::Route, at.at, message)
                .label("a tank")
                .help(format!("write `in: {bath}` and no time, or another station")),
        )
    };
    elsewhere
        .flat_map(|(_, step)| step.stations.iter().filter_map(at_tank))
        .collect()
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
            Finding::error(Code::Route, s.at)
                .says(format!("`{}` does not hold `{}`", s.value, bath.value))
                .label("another place")
                .and(bath.at, "the bath")
        }));
        let sure = f.tanks_are_known();
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
fn has_time(_: &Facts, step: &Step) -> Option<Finding> {
    let timeless = !step.coats()
        && step.relieves.is_none()
        && step.dries.is_none()
        && step.first(&[&Step::time, &Step::each]).is_none();
    timeless.then(|| {
        Finding::new(
            Code::Missing,
            step.places.at,
            "this step does not say how long it takes",
        )
        .label("how long?")
        .help("write `for: 8 min`, `for: 4 to 7 min`, or `each piece: 20 s`")
    })
}

/// In a bath the bath decides how long.
fn bath_decides(_: &Facts, step: &Step) -> Option<Finding> {
    let bath = step.bath_at()?;
    let own = step.first(&[&Step::time, &Step::each, &Step::most])?;
    Some(
        Finding::error(Code::Contradiction, own)
            .says("the bath decides how long a coating step takes")
            .label("not here")
            .and(bath, "in this bath")
            .help("write `coat: {time: 15 min}` or `dwell: 10 to 30 min` at the bath instead"),
    )
}

/// Putting in, taking out and staying overnight belong to steps that need hands at their ends.
fn ends_only(_: &Facts, step: &Step) -> Option<Finding> {
    let hands = step.hands.as_ref().filter(|h| h.value != Hands::Ends)?;
    let ends = step.first(&[&Step::put_in, &Step::take_out]);
    let own = ends.or(step.overnight.as_ref().map(|o| o.at));
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
}

/// Dripping is part of taking out of a bath.
fn drips_over_a_bath(_: &Facts, step: &Step) -> Option<Finding> {
    let (drip, at) = (step.drip.as_ref()?, step.place(&Step::drip)?);
    if !step.coats() {
        let finding =
            Finding::error(Code::Contradiction, at).says("only what comes from a bath drips over it");
        return Some(finding.label("without effect"));
    }
    let out = step.take_out.as_ref()?;
    let by_hand = step.hands.as_ref().is_some_and(|h| h.value == Hands::Ends);
    (by_hand && drip.value > out.value).then(|| {
        Finding::error(Code::Contradiction, drip.at)
            .says("dripping takes longer than taking out")
            .label("part of taking out")
            .help("write a longer `take out`")
    })
}

/// The longest stay is not shorter than the work.
fn longest_stay(_: &Facts, step: &Step) -> Option<Finding> {
    let (most, time) = (step.most.as_ref()?, step.time.as_ref()?);
    let longest = longest_of(&time.value)?;
    (!step.coats() && most.value < longest).then(|| {
        Finding::error(Code::Contradiction, most.at)
            .says("the longest stay is shorter than the work")
            .label("at most")
            .and(time.at, "the work")
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
