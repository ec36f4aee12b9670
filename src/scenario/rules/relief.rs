//! Hydrogen and stress in hard parts: what is done before coating, what after, and what a coating does not stand.

use super::{Facts, Rule};
use crate::finding::{Code, Finding};
use crate::node::SourceSpan;
use crate::resolve::relief_needed;
use crate::steps;
use crate::thing::Thing;
use crate::written::{Order, Part, Route, Step};
use std::collections::BTreeSet;
use tankday_base::bath::hydrogen::{Bake, COATING_NOT_ABOVE, RELIEF, coated_part_may_bake};
use tankday_base::shop::{Relieves, StepKind};
use tankday_base::units::{Length, Span, Temperature};

pub(super) const ALL: &[Rule] = &[
    Rule::Whole(|f| each(f, coating_stands_it)),
    Rule::Whole(|f| each(f, in_order)),
    Rule::Step(hot_enough),
    Rule::Step(long_enough),
    Rule::Whole(purpose_unsaid),
    Rule::Whole(|f| each(f, bake_before_oil)),
    Rule::Whole(no_acid_on_hard_parts),
    Rule::Whole(no_pickled_hard_parts),
    Rule::Whole(worked_cold),
];

/// Temperatures of stress relief (DOD-P-16232F, 3.3).
const STRESS: (Temperature, Temperature) = (Temperature::celsius(177.0), Temperature::celsius(204.0));

/// The steps of a route that come before each step, directly or through others.
pub(super) fn ancestors(route: &Route) -> Vec<BTreeSet<usize>> {
    let before = steps::before(route);
    let mut all: Vec<BTreeSet<usize>> = before.iter().map(|b| b.iter().copied().collect()).collect();
    for _ in 0..all.len() {
        let grown: Vec<BTreeSet<usize>> = all
            .iter()
            .map(|own| {
                let through = own.iter().filter_map(|i| all.get(*i)).flatten();
                own.iter().chain(through).copied().collect()
            })
            .collect();
        if grown == all {
            break;
        }
        all = grown;
    }
    all
}

/// Each step with a coating step before it, if there is one, and one after it.
struct Placed<'a> {
    route: &'a Route,
    step: &'a Step,
    coated_by: Option<&'a Step>,
    coated_later: bool,
    before: Vec<&'a Step>,
    /// Whether a step that relieves stress comes before.
    relieved: bool,
}

fn placed<'a>(f: &Facts<'a>) -> Vec<Placed<'a>> {
    let of = |route: &'a Route| -> Vec<Placed<'a>> {
        let all = ancestors(route);
        let coats = |i: &usize| route.steps.get(*i).filter(|s| s.coats());
        let one = |(i, step): (usize, &'a Step)| {
            let own = all.get(i)?;
            let before: Vec<&Step> = own.iter().filter_map(|b| route.steps.get(*b)).collect();
            let later = |(j, before): (usize, &BTreeSet<usize>)| before.contains(&i) && coats(&j).is_some();
            Some(Placed {
                route,
                step,
                coated_by: before.iter().rev().find(|s| s.coats()).copied(),
                coated_later: all.iter().enumerate().any(later),
                relieved: before.iter().any(|s| relieves(s) == Some(Relieves::Stress)),
                before,
            })
        };
        route.steps.iter().enumerate().filter_map(one).collect()
    };
    f.file.routes.iter().flat_map(of).collect()
}

fn each(f: &Facts, rule: fn(Placed) -> Option<Finding>) -> Vec<Finding> {
    placed(f).into_iter().filter_map(rule).collect()
}

fn relieves(step: &Step) -> Option<Relieves> {
    step.relieves.as_ref().map(|r| r.value)
}

fn heat(step: &Step) -> Option<Temperature> {
    step.heat.as_ref()?.value
}

/// A manganese phosphate coating must not get hotter than 121 °C (MIL-DTL-16232G, 6.1.1): the bakes that
/// electroplaters use, 190 to 220 °C, would spoil it.
fn coating_stands_it(p: Placed) -> Option<Finding> {
    let coat = p.coated_by?;
    let heat = heat(p.step).filter(|_| relieves(p.step) != Some(Relieves::Stress))?;
    let bake = Bake {
        least: heat,
        most: heat,
        time: Span::ZERO,
    };
    let refused = coated_part_may_bake(&bake).err()?;
    let at = p.step.heat.as_ref()?.at;
    Some(
        Finding::new(Code::Contradiction, at, refused.to_string())
            .label("spoils the coating")
            .and(coat.places.at, "coated here")
            .help("hydrogen is relieved of coated parts at 98 to 107 °C in 8 h, or in 120 h at room temperature"),
    )
}

/// Stress is relieved before coating, hydrogen after it (MIL-DTL-16232G, 3.2).
fn in_order(p: Placed) -> Option<Finding> {
    let at = p.step.relieves.as_ref()?.at;
    match relieves(p.step)? {
        Relieves::Stress if p.coated_by.is_some() => {
            let limit = COATING_NOT_ABOVE.in_celsius();
            let message =
                format!("stress is relieved before coating: the coating must stay below {limit:.0} °C");
            let finding = Finding::new(Code::Route, at, message).label("too late");
            Some(finding.and(p.coated_by?.places.at, "coated here"))
        }
        Relieves::Hydrogen if p.coated_by.is_none() => {
            let message = "hydrogen is relieved after coating, which brings it in";
            let label = if p.coated_later {
                "too early"
            } else {
                "nothing is coated on this route"
            };
            Some(Finding::new(Code::Route, at, message).label(label))
        }
        _ => None,
    }
}

/// Relief is neither too cold nor too hot.
fn hot_enough(_: &Facts, step: &Step) -> Option<Finding> {
    let written = step.heat.as_ref()?;
    let (what, least, most) = match relieves(step)? {
        Relieves::Stress => ("stress", STRESS.0, STRESS.1),
        Relieves::Hydrogen => ("hydrogen", RELIEF.least, RELIEF.most),
    };
    let heat = match (written.value, relieves(step)?) {
        (None, Relieves::Hydrogen) => return None,
        (heat, _) => heat,
    };
    let fits = heat.is_some_and(|h| h >= least && h <= most);
    let spoils = heat.is_some_and(|h| h > COATING_NOT_ABOVE) && what == "hydrogen";
    let (least, most) = (least.in_celsius(), most.in_celsius());
    (!fits && !spoils).then(|| {
        let message = format!("{what} is relieved between {least:.0} and {most:.0} °C");
        let finding = Finding::new(Code::Range, written.at, message).label("does not relieve");
        match what {
            "hydrogen" => finding.help("or by 120 h at room temperature: `heat: as the air`"),
            _ => finding,
        }
    })
}

/// Relief that is written too short does not relieve.
fn long_enough(_: &Facts, step: &Step) -> Option<Finding> {
    step.place(&Step::time)?;
    let written = step.time.as_ref()?;
    let needed = relief_needed(step, Length::ZERO)?;
    (written.value.mean() < needed).then(|| {
        let hours = needed.in_hours();
        let message = format!("this is too short to relieve: at least {hours} h are needed");
        Finding::new(Code::Range, written.at, message)
            .label("too short")
            .help("leave `for` out, and the time follows from what is relieved")
    })
}

/// A step whose kind is relief and whose keys do not say of what: nothing counts it as relief, nor holds its length and heat
/// against what relief needs. On a route of hard or sprung
/// steel its place says what its words do not: stress before the bath, hydrogen behind it.
fn purpose_unsaid(f: &Facts) -> Vec<Finding> {
    let hard = hardened(f).filter_map(|(order, ..)| Some(&order.route.as_ref()?.value));
    let hard: BTreeSet<&String> = hard.collect();
    let all = placed(f).into_iter();
    all.filter_map(|p| unsaid(&p, hard.contains(&p.route.name.value)))
        .collect()
}

fn unsaid(p: &Placed, hard: bool) -> Option<Finding> {
    let what = p.step.what.as_ref().filter(|_| p.step.relieves.is_none())?;
    let words = what.value.to_lowercase();
    let purpose = match (p.step.kind(), p.coated_by.is_some() || p.coated_later) {
        (StepKind::Relieve, _) if words.contains("hydrogen") => "hydrogen",
        (StepKind::Relieve, _) if words.contains("stress") => "stress",
        (StepKind::Relieve, true) if hard && p.coated_by.is_some() => "hydrogen",
        (StepKind::Relieve, true) if hard => "stress",
        _ => return None,
    };
    Some(
        Finding::warns(Code::Route, what.at)
            .says(format!(
                "`{}` isn't counted as relief: no key says what it relieves",
                what.value
            ))
            .label("relieves what?")
            .help(format!("write `relieves: {purpose}` beside it")),
    )
}

/// What is oiled smokes and burns in an oven: behind the bath, and before it where nothing degreases it in between.
fn bake_before_oil(p: Placed) -> Option<Finding> {
    let hot = p.step.heat.as_ref().is_some_and(|h| h.value.is_some());
    let oven = matches!(p.step.kind(), StepKind::DryByOven | StepKind::Preheat) || hot;
    let heat = p.step.heat.as_ref().map(|h| h.at).filter(|_| oven);
    let heat = heat.or_else(|| p.step.what.as_ref().map(|w| w.at).filter(|_| oven))?;
    let last = p.before.iter().rposition(|s| s.kind().oils())?;
    let oil = p.before.get(last)?;
    let later = p.before.get(last + 1..).unwrap_or_default();
    if later.iter().any(|s| s.kind().degreases()) {
        return None;
    }
    Some(
        Finding::warning(Code::Route, heat, "oily work gives fumes and fire in an oven")
            .label("bake before oiling")
            .and(oil.places.at, "oiled here"),
    )
}

/// Every coating of a part that is hardened.
fn hardened<'a>(f: &Facts<'a>) -> impl Iterator<Item = (&'a Order, &'a Part, &'a Step)> {
    let hard = move |part: &Part| f.material(part).is_some_and(|m| m.hardened);
    f.coatings().filter(move |(_, part, _)| hard(part))
}

fn no_acid(part: &Part, at: SourceSpan, coat: &Step) -> Finding {
    Finding::warns(Code::Material, at)
        .says(format!(
            "`{}` is hardened: acid before the bath makes it brittle",
            part.name.value
        ))
        .label("no acid")
        .and(coat.places.at, "and then coated")
        .help("blast or brush it instead")
}

/// Hardened parts are never pickled.
fn no_acid_on_hard_parts(f: &Facts) -> Vec<Finding> {
    let mut seen = BTreeSet::new();
    let pickled = hardened(f).filter_map(|(order, part, coat)| {
        let route = f.route(&order.route.as_ref()?.value)?;
        let mut steps = route.steps.iter().filter(|s| s.concerns(part));
        let acid = steps.find(|s| s.kind() == StepKind::Pickle)?;
        let new = seen.insert((part.name.at.start, acid.places.at.start));
        new.then(|| no_acid(part, acid.what.as_ref().map_or(acid.places.at, |w| w.at), coat))
    });
    pickled.collect()
}

/// Nor do they come pickled.
fn no_pickled_hard_parts(f: &Facts) -> Vec<Finding> {
    let mut seen = BTreeSet::new();
    let pickled = hardened(f).filter_map(|(_, part, coat)| {
        let pickled = part.pickled.as_ref().filter(|p| p.value)?;
        seen.insert(part.name.at.start)
            .then(|| no_acid(part, pickled.at, coat))
    });
    pickled.collect()
}

/// Hardened parts that were worked cold are relieved of stress before coating.
fn worked_cold(f: &Facts) -> Vec<Finding> {
    let placed = placed(f);
    let mut seen = BTreeSet::new();
    let strained = hardened(f).filter_map(|(order, part, coat)| {
        let cold = part.worked_cold.as_ref().filter(|w| w.value)?;
        let route = order.route.as_ref().map(|r| &r.value);
        let mut own = placed.iter().filter(|p| route == Some(&p.route.name.value));
        let relieved = own
            .find(|p| p.step.places.at == coat.places.at)
            .is_none_or(|p| p.relieved);
        (!relieved && seen.insert((part.name.at.start, coat.places.at.start))).then(|| {
            Finding::warns(Code::Material, cold.at)
                .says(format!(
                    "`{}` is hardened and worked cold: relieve its stress first",
                    part.name.value
                ))
                .label("under stress")
                .and(coat.places.at, "coated here")
                .help("write a step before it: `{do: relieve, at: oven, relieves: stress}`")
        })
    });
    strained.collect()
}
