//! What kind of step each is, and what a route needs before and after a bath.

use super::relief::ancestors;
use super::{Facts, Rule};
use crate::finding::{Code, Finding};
use crate::kinds::{Said, said, said_at};
use crate::steps;
use crate::walk::list;
use crate::written::{Part, Route, Step};
use std::collections::BTreeSet;
use tankday_base::shop::StepKind;

pub(super) const ALL: &[Rule] = &[
    Rule::Step(asked),
    Rule::Whole(unknown_words),
    Rule::Step(fits_its_keys),
    Rule::Whole(degreased_and_rinsed),
    Rule::Whole(dry_into_hot_oil),
    Rule::Whole(no_acid_dragged_in),
];

/// Words that may mean a kind are asked about: what is not said is not guessed in silence.
fn asked(_: &Facts, step: &Step) -> Option<Finding> {
    let what = step.what.as_ref()?;
    if step.own_kind.is_some() || step.coats() || step.relieves.is_some() || step.dries.is_some() {
        return None;
    }
    let name = &what.value;
    let (said, place) = said_at(name, &step.stations);
    let (message, kind, not) = match said {
        Said::Near(phrase, kind) => (format!("`{name}`: did you mean `{phrase}`?"), kind, "if not, "),
        Said::Holds(_, kind) => (format!("`{name}`: is its kind `{}`?", kind.word()), kind, ""),
        Said::Known(_) | Said::Nothing => return None,
    };
    let kind = kind.word();
    let finding = Finding::warning(Code::UnknownWord, what.at, message).label("what kind of step is it?");
    let finding = match place {
        Some(station) => finding.and(station.at, "a place for hot oil"),
        None => finding,
    };
    Some(
        finding
            .help(format!(
                "{not}say its `kind:` beside it, such as `kind: {kind}` or `kind: other`; until then it counts as `{kind}`"
            )),
    )
}

/// Words that say nothing are said, each once: no caution is printed for them.
fn unknown_words(f: &Facts) -> Vec<Finding> {
    let mut seen = BTreeSet::new();
    let mut unknown = |(_, step): (&Route, &Step)| {
        let what = step.what.as_ref()?;
        let stated = step.own_kind.is_some() || step.coats();
        let by_keys = step.relieves.is_some() || step.dries.is_some();
        if stated || by_keys || said(&what.value) != Said::Nothing || !seen.insert(what.value.to_lowercase())
        {
            return None;
        }
        let message = format!(
            "nothing is known of `{}`: no caution is printed for it",
            what.value
        );
        Some(
            Finding::warning(Code::UnknownWord, what.at, message)
                .label("what kind of step is it?")
                .help("say its `kind:` beside it, or `kind: other` if nothing about it can hurt"),
        )
    };
    f.steps().filter_map(&mut unknown).collect()
}

/// The kind that is written agrees with the other keys.
fn fits_its_keys(_: &Facts, step: &Step) -> Option<Finding> {
    let kind = step.own_kind.as_ref()?;
    let (relieves, dries) = (step.relieves.as_ref(), step.dries.as_ref());
    let (message, other, label) = match (kind.value, step.bath.as_ref()) {
        (StepKind::Coat, None) if !step.coats() => {
            let finding =
                Finding::error(Code::Contradiction, kind.at).says("only a bath coats, and none is named");
            return Some(
                finding
                    .label("in which bath?")
                    .help("write `in: manganese` beside it"),
            );
        }
        (StepKind::Coat, _) => return None,
        (_, Some(bath)) => ("a bath coats in this step", bath.at, "the bath"),
        (StepKind::Relieve | StepKind::Rest, None) if relieves.is_some() => return None,
        (StepKind::DryByAir, None) if dries.is_some() => return None,
        _ => match (relieves, dries) {
            (Some(relieves), _) => ("this step relieves", relieves.at, "here"),
            (None, Some(dries)) => ("the air dries in this step", dries.at, "here"),
            (None, None) => return None,
        },
    };
    let message = format!("{message}, but its kind is `{}`", kind.value.word());
    Some(
        Finding::new(Code::Contradiction, kind.at, message)
            .label("another kind")
            .and(other, label)
            .help("leave `kind` out: it follows"),
    )
}

/// Whether a step concerns a part; where no part is meant, any.
fn concerns(step: &Step, part: Option<&Part>) -> bool {
    part.is_none_or(|part| step.concerns(part))
}

/// Grease is taken off before a bath, or it leaves bare and blotchy spots; what is left of the bath is rinsed off after
/// it, or it dries in and rusts (trade letters; a supplier's product page has both steps).
fn degreased_and_rinsed(f: &Facts) -> Vec<Finding> {
    let sound = f.file.routes.iter().filter(|r| r.steps.len() == r.written);
    sound.flat_map(|route| of_route(f, route)).collect()
}

/// The parts that are ordered on a route, each once; where there are none, one that is not known.
fn parts_on<'a>(f: &Facts<'a>, route: &Route) -> Vec<Option<&'a Part>> {
    let on_it = |o: &&crate::written::Order| o.route.as_ref().is_some_and(|r| r.value == route.name.value);
    let ordered = f.file.orders.iter().filter(on_it);
    let mut parts: Vec<Option<&Part>> = Vec::new();
    for part in ordered.filter_map(|o| f.part(&o.part.as_ref()?.value)) {
        if !parts.iter().flatten().any(|p| p.name.at == part.name.at) {
            parts.push(Some(part));
        }
    }
    if parts.is_empty() {
        parts.push(None);
    }
    parts
}

/// The same with those that a step of the route is for, ordered or not.
fn parts_meant_on<'a>(f: &Facts<'a>, route: &Route) -> Vec<Option<&'a Part>> {
    let named = route.steps.iter().flat_map(|s| &s.only);
    let mut all = parts_on(f, route);
    all.extend(named.filter_map(|n| f.part(&n.value)).map(Some));
    all
}

/// The steps from which work comes straight to another: those right before it, and those before what takes nothing off or
/// is not done to some part.
fn straight_before<'r>(
    route: &'r Route,
    at: usize,
    parts: &[Option<&Part>],
    passes: fn(StepKind) -> bool,
) -> Vec<&'r Step> {
    let before = steps::before(route);
    let mut all: BTreeSet<usize> = BTreeSet::new();
    let here = route.steps.get(at);
    for part in parts.iter().filter(|p| here.is_some_and(|s| concerns(s, **p))) {
        let mut open: Vec<usize> = before.get(at).cloned().unwrap_or_default();
        let mut seen: BTreeSet<usize> = BTreeSet::new();
        while let Some(next) = open.pop() {
            let Some(step) = route.steps.get(next).filter(|_| seen.insert(next)) else {
                continue;
            };
            if concerns(step, *part) {
                all.insert(next);
            }
            if !concerns(step, *part) || passes(step.kind()) {
                open.extend(before.get(next).into_iter().flatten());
            }
        }
    }
    all.into_iter().filter_map(|i| route.steps.get(i)).collect()
}

fn of_route(f: &Facts, route: &Route) -> Vec<Finding> {
    let all = ancestors(route);
    let parts = parts_on(f, route);
    let mut found = Vec::new();
    for (i, coat) in route.steps.iter().enumerate().filter(|(_, s)| s.coats()) {
        let at = coat.bath.as_ref().map_or(coat.places.at, |b| b.at);
        let before: Vec<&Step> = all
            .get(i)
            .into_iter()
            .flatten()
            .filter_map(|b| route.steps.get(*b))
            .collect();
        let later = |(j, _): &(usize, &Step)| all.get(*j).is_some_and(|b| b.contains(&i));
        let after: Vec<&Step> = route
            .steps
            .iter()
            .enumerate()
            .filter(later)
            .map(|(_, s)| s)
            .collect();
        let coated = parts.iter().filter(|p| concerns(coat, **p));
        let lacks = |steps: &[&Step], is: fn(StepKind) -> bool| {
            let of = |p: &Option<&Part>| steps.iter().any(|s| is(s.kind()) && concerns(s, *p));
            coated.clone().any(|p| !of(p))
        };
        // Oil that is put on before says so itself.
        if lacks(&before, StepKind::degreases) && !super::film::is_oiled(route, &all, i) {
            found.push(
                Finding::warning(Code::Route, at, "this coats without degreasing before")
                    .label("oil leaves bare, blotchy spots")
                    .help(format!(
                        "write a step before it, `{{do: degrease, at: sink, for: 8 min}}`{}",
                        or_one_of(&before, "degrease")
                    )),
            );
        }
        if lacks(&after, |k| k == StepKind::Rinse) {
            found.push(
                Finding::warning(Code::Route, at, "nothing is rinsed after this bath")
                    .label("acid dries in, stains and rusts")
                    .help(format!(
                        "write a step after it, `{{do: rinse, at: sink, for: 1 min}}`{}",
                        or_one_of(&after, "rinse")
                    )),
            );
        }
    }
    found
}

/// `, or say \`kind: degrease\` beside \`wash\` if that is what it is`
fn or_one_of(steps: &[&Step], kind: &str) -> String {
    let unknown = steps.iter().filter(|s| s.kind() == StepKind::Other);
    let names: Vec<&str> = unknown
        .filter_map(|s| s.what.as_ref())
        .map(|w| w.value.as_str())
        .collect();
    match names.as_slice() {
        [] => String::new(),
        [one] => format!(", or say `kind: {kind}` beside `{one}` if that is what it is"),
        several => format!(
            ", or say `kind: {kind}` beside the one that does it: {}",
            list(several.iter().copied())
        ),
    }
}

/// What takes neither acid nor caustic off: they stay on work that drains, lies, or dries.
const fn stays_wet_with(kind: StepKind) -> bool {
    matches!(
        kind,
        StepKind::Rest | StepKind::Inspect | StepKind::DryByAir | StepKind::DryByOven | StepKind::Preheat
    )
}

/// What one kind of step carries into another where nothing is rinsed between them: what it is, where it comes from, and
/// what becomes of it.
fn carried(from: StepKind, into: StepKind) -> Option<(&'static str, &'static str, &'static str)> {
    use StepKind::{Coat, DegreaseHotAlkaline, Pickle, SealHexavalent};
    const SPATTERS: &str = "the caustic: it heats up violently and spatters";
    Some(match (from, into) {
        (Pickle, Coat) => ("acid", "the pickle", "the bath"),
        (DegreaseHotAlkaline, Coat) => ("caustic", "the cleaner", "the bath"),
        (DegreaseHotAlkaline, Pickle) => (
            "caustic",
            "the cleaner",
            "the acid: it heats up violently and spatters",
        ),
        (Pickle, DegreaseHotAlkaline) => ("acid", "the pickle", SPATTERS),
        (Coat, DegreaseHotAlkaline) => ("acid", "the bath", SPATTERS),
        (SealHexavalent, DegreaseHotAlkaline) => ("acid", "the seal", SPATTERS),
        _ => return None,
    })
}

/// What comes straight from another acid or from caustic drags it along: into the bath, which it spoils, or acid into caustic
/// and caustic into acid, which heat each other up (common practice, no source).
fn no_acid_dragged_in(f: &Facts) -> Vec<Finding> {
    let mut found = Vec::new();
    for route in f.file.routes.iter().filter(|r| r.steps.len() == r.written) {
        let parts = parts_meant_on(f, route);
        for (i, step) in route.steps.iter().enumerate() {
            let into = step.kind();
            let straight = straight_before(route, i, &parts, stays_wet_with);
            let mut brings = straight
                .iter()
                .filter_map(|s| Some((*s, carried(s.kind(), into)?)));
            let Some((from, (what, of, becomes))) = brings.next() else {
                continue;
            };
            let place = |s: &Step| s.what.as_ref().map_or(s.places.at, |w| w.at);
            found.push(
                Finding::warns(Code::Route, place(step))
                    .says(format!("{what} from {of} is carried into {becomes}"))
                    .label("rinse it first")
                    .and(place(from), "it comes from here")
                    .help(format!(
                        "write a step between them, `{{do: rinse, at: sink, for: 1 min, as: rinse before {}}}`",
                        match into {
                            StepKind::Coat => "the bath",
                            StepKind::Pickle => "the acid",
                            _ => "the caustic",
                        }
                    )),
            );
        }
    }
    found
}

/// Water in hot oil boils over, and spray of hot oil burns (common practice, no source).
fn dry_into_hot_oil(f: &Facts) -> Vec<Finding> {
    let mut found = Vec::new();
    for route in f.file.routes.iter().filter(|r| r.steps.len() == r.written) {
        let parts = parts_meant_on(f, route);
        let hot = |(_, s): &(usize, &Step)| s.kind() == StepKind::OilHot;
        for (i, step) in route.steps.iter().enumerate().filter(hot) {
            let straight = straight_before(route, i, &parts, |k| k == StepKind::Inspect);
            let Some(wet) = straight.iter().find(|s| s.kind().leaves_wet()) else {
                continue;
            };
            let place = |s: &Step| s.what.as_ref().map_or(s.places.at, |w| w.at);
            found.push(
                Finding::warns(Code::Route, place(step))
                    .says("wet work goes into hot oil: the water boils over")
                    .label("dry it first")
                    .and(place(wet), "it is wet from here")
                    .help("write a step between them, `{do: dry, at: bench, for: 5 min}`"),
            );
        }
    }
    found
}
