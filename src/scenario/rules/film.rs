//! Oil, wax and seals in the wrong place of a route, and drying in vain.

use super::relief::ancestors;
use super::{Facts, Rule};
use crate::finding::{Code, Finding};
use crate::node::SourceSpan;
use crate::steps;
use crate::written::{Route, Step};
use std::collections::BTreeSet;
use tankday_base::shop::StepKind;

pub(super) const ALL: &[Rule] = &[
    Rule::Whole(nothing_before_the_bath),
    Rule::Whole(oil_stays_on),
    Rule::Whole(dried_once),
];

/// Whether a seal goes on.
const fn seals(kind: StepKind) -> bool {
    matches!(kind, StepKind::Seal | StepKind::SealHexavalent)
}

/// Whether a kind of step takes a film off again: any degreasing oil, what bites or cuts a seal and all else.
const fn takes_off(film: StepKind, kind: StepKind) -> bool {
    match kind {
        // What is coated on top of a film is said at that bath.
        StepKind::DegreaseHotAlkaline | StepKind::Pickle | StepKind::Blast | StepKind::Coat => true,
        StepKind::Degrease | StepKind::DegreaseSolvent => film.oils(),
        _ => false,
    }
}

/// Whether two steps are done to some part alike.
fn share(a: &Step, b: &Step) -> bool {
    let same = |name: &str| b.only.iter().any(|n| n.value == name);
    a.only.is_empty() || b.only.is_empty() || a.only.iter().any(|n| same(&n.value))
}

/// Where a step says what it is.
fn place(step: &Step) -> SourceSpan {
    step.what.as_ref().map_or(step.places.at, |w| w.at)
}

/// The last step before another, by its place, that leaves a film of a kind which nothing between takes off.
fn film_before<'r>(
    route: &'r Route,
    all: &[BTreeSet<usize>],
    at: usize,
    is: fn(StepKind) -> bool,
) -> Option<&'r Step> {
    let (before, step) = (all.get(at)?, route.steps.get(at)?);
    let films = before
        .iter()
        .rev()
        .filter_map(|i| Some((*i, route.steps.get(*i)?)));
    let stays = |(film, s): &(usize, &Step)| {
        let between = before
            .iter()
            .filter(|b| all.get(**b).is_some_and(|a| a.contains(film)));
        let mut between = between.filter_map(|b| route.steps.get(*b));
        !between.any(|b| takes_off(s.kind(), b.kind()) && share(s, b))
    };
    let own = films.filter(|(_, s)| is(s.kind()) && share(s, step));
    own.filter(stays).map(|(_, s)| s).next()
}

/// Whether oil that goes on before a bath is still on when work goes in.
pub(super) fn is_oiled(route: &Route, all: &[BTreeSet<usize>], coat: usize) -> bool {
    film_before(route, all, coat, StepKind::oils).is_some()
}

/// Oil keeps the bath from wetting the steel, and a seal keeps it off: no coat grows (common practice, no source).
fn nothing_before_the_bath(f: &Facts) -> Vec<Finding> {
    let mut found = Vec::new();
    for route in f.file.routes.iter().filter(|r| r.steps.len() == r.written) {
        let all = ancestors(route);
        for (i, coat) in route.steps.iter().enumerate().filter(|(_, s)| s.coats()) {
            let bath = coat.bath.as_ref().map_or(coat.places.at, |b| b.at);
            if let Some(oil) = film_before(route, &all, i, StepKind::oils) {
                found.push(
                    Finding::warns(Code::Route, place(oil))
                        .says("oil keeps the bath from wetting this work: no coat grows")
                        .label("on it when it goes in")
                        .and(bath, "into this bath")
                        .help("oil after the bath, or degrease once more behind this: `{do: degrease, at: sink, for: 8 min, as: degrease again}`"),
                );
            }
            if let Some(seal) = film_before(route, &all, i, seals) {
                found.push(
                    Finding::warns(Code::Route, place(seal))
                        .says("a seal keeps the bath off this work: no coat grows")
                        .label("on it when it goes in")
                        .and(bath, "into this bath")
                        .help("seal after the bath and its rinse"),
                );
            }
        }
    }
    found
}

/// Water floats oil off, and the work rusts in store (common practice, no source).
fn oil_stays_on(f: &Facts) -> Vec<Finding> {
    let mut found = Vec::new();
    for route in f.file.routes.iter().filter(|r| r.steps.len() == r.written) {
        let all = ancestors(route);
        let rinses = route.steps.iter().enumerate();
        for (i, rinse) in rinses.filter(|(_, s)| s.kind() == StepKind::Rinse) {
            if let Some(oil) = film_before(route, &all, i, StepKind::oils) {
                found.push(
                    Finding::warns(Code::Route, place(rinse))
                        .says("this rinse washes oil off again")
                        .label("after the oil")
                        .and(place(oil), "it goes on here")
                        .help("rinse first, dry, then oil"),
                );
            }
        }
    }
    found
}

/// What is dried is not made wet again by the next step; what the bath leaves is rinsed off before it dries in (trade letters).
fn dried_once(f: &Facts) -> Vec<Finding> {
    let mut found = Vec::new();
    for route in f.file.routes.iter().filter(|r| r.steps.len() == r.written) {
        let before = steps::before(route);
        for (rinse, behind) in route.steps.iter().zip(&before) {
            let dries = |s: &&Step| matches!(s.kind(), StepKind::DryByAir | StepKind::DryByOven);
            let direct = behind.iter().filter_map(|b| Some((*b, route.steps.get(*b)?)));
            let dry = direct.filter(|(_, s)| dries(s)).find(|(_, s)| share(s, rinse));
            let Some((at, dry)) = dry.filter(|_| rinse.kind() == StepKind::Rinse) else {
                continue;
            };
            let from_bath = before.get(at).into_iter().flatten();
            let acid = from_bath.filter_map(|b| route.steps.get(*b)).any(Step::coats);
            let (says, label) = match acid {
                true => (
                    "what the bath leaves dries in before it is rinsed: stains and rust",
                    "dries in here",
                ),
                false => (
                    "this dries work that the next step makes wet again",
                    "for nothing",
                ),
            };
            found.push(
                Finding::warns(Code::Route, place(dry))
                    .says(says)
                    .label(label)
                    .and(place(rinse), "rinsed right behind")
                    .help("rinse first, then dry"),
            );
        }
    }
    found
}
