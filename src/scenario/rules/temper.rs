//! Relief and the tempering temperature.

use super::{Facts, Rule};
use crate::finding::{Code, Finding};
use crate::node::Spanned;
use crate::written::{Order, Part, Step};
use std::collections::BTreeSet;
use tankday_base::shop::{Relieves, StepKind};
use tankday_base::units::Temperature;

pub(super) const ALL: &[Rule] = &[Rule::Whole(below_tempering), Rule::Whole(heat_unsaid)];

/// The tempering temperature of a part: its own, or that of its material.
fn tempered<'a>(f: &Facts<'a>, part: &'a Part) -> Option<&'a Spanned<Temperature>> {
    let of_material = || {
        let name = &part.material.as_ref()?.value;
        f.file
            .materials
            .iter()
            .find(|m| m.name.value == *name)?
            .tempered
            .as_ref()
    };
    part.tempered.as_ref().or_else(of_material)
}

/// Steps on the route of an order that warm hardened work, with the part.
fn warmed<'a>(f: &Facts<'a>, order: &'a Order) -> Vec<(&'a Part, &'a Step)> {
    let part = order.part.as_ref().and_then(|p| f.part(&p.value));
    let route = order.route.as_ref().and_then(|r| f.route(&r.value));
    let (Some(part), Some(route)) = (part, route) else {
        return Vec::new();
    };
    if !f.material(part).is_some_and(|m| m.hardened) {
        return Vec::new();
    }
    let steps = route.steps.iter().filter(|s| s.concerns(part));
    steps.map(|step| (part, step)).collect()
}

/// Whether a step says that it relieves stress, by its key or as `relieve`; a preheating or a bake for hydrogen does not.
fn relieves_stress(step: &Step) -> bool {
    match &step.relieves {
        Some(relieves) => relieves.value == Relieves::Stress,
        None => step.kind() == StepKind::Relieve,
    }
}

const ASK: &str = "ask whoever hardened it, and write it at the part or its material: `tempered: 300 °C`";

/// Above the temperature at which it was tempered, hard steel loses its hardness (common practice, no source; the
/// temperature is known to whoever hardened it).
fn below_tempering(f: &Facts) -> Vec<Finding> {
    let mut seen = BTreeSet::new();
    let mut found = Vec::new();
    for (part, step) in f.file.orders.iter().flat_map(|o| warmed(f, o)) {
        let Some(heat) = step.heat.as_ref().and_then(|h| h.value) else {
            continue;
        };
        if !seen.insert((part.name.at.start, step.places.at.start)) {
            continue;
        }
        let (name, heat) = (&part.name.value, heat);
        let at = step
            .heat
            .as_ref()
            .filter(|h| h.at != step.places.at)
            .map(|h| h.at)
            .or_else(|| Some(step.relieves.as_ref()?.at))
            .unwrap_or(step.places.at);
        match tempered(f, part) {
            None if relieves_stress(step) => found.push(
                Finding::warns(Code::Material, at)
                    .says(format!(
                        "the tempering temperature of `{name}` isn't known: relief must not exceed it"
                    ))
                    .label(format!("at {:.0} °C", heat.in_celsius()))
                    .and(part.name.at, "hardened")
                    .help(ASK),
            ),
            Some(limit) if heat > limit.value => found.push(
                Finding::error(Code::Material, at)
                    .says(format!(
                        "`{name}` was tempered at {:.0} °C: {} {:.0} °C makes it soft",
                        limit.value.in_celsius(),
                        match step.kind() {
                            StepKind::Relieve => "relief at",
                            _ => "a step at",
                        },
                        heat.in_celsius()
                    ))
                    .label("too hot for it")
                    .and(limit.at, "tempered")
                    .help("send it another way, and ask whoever hardened it how to relieve it"),
            ),
            None | Some(_) => {}
        }
    }
    found
}

/// Of work whose tempering temperature is known a step that warms it says how hot it gets: nothing else tells whether it
/// stays hard.
fn heat_unsaid(f: &Facts) -> Vec<Finding> {
    let mut seen = BTreeSet::new();
    let mut found = Vec::new();
    for (part, step) in f.file.orders.iter().flat_map(|o| warmed(f, o)) {
        let kind = step.kind();
        let warms = matches!(kind, StepKind::Relieve | StepKind::Preheat | StepKind::DryByOven);
        let Some(limit) = tempered(f, part).filter(|_| warms && step.heat.is_none()) else {
            continue;
        };
        if !seen.insert((part.name.at.start, step.places.at.start)) {
            continue;
        }
        let at = step.what.as_ref().map_or(step.places.at, |w| w.at);
        let most = limit.value.in_celsius();
        found.push(
            Finding::warning(
                Code::Material,
                at,
                format!(
                    "this doesn't say how hot `{}` gets: above {most:.0} °C, at which it was tempered, it goes soft",
                    part.name.value
                ),
            )
            .label("at what heat?")
            .and(limit.at, "tempered")
            .help(format!(
                "write it beside it, {most:.0} °C at most: `heat: {:.0} °C`; or `heat: as the air` where nothing is warmed",
                most.min(140.0)
            )),
        );
    }
    found
}
