//! Relief and the tempering temperature, and materials that are hard by their name.

use super::{Facts, Rule};
use crate::finding::{Code, Finding};
use crate::node::Spot;
use crate::written::{Order, Part, Step};
use std::collections::BTreeSet;
use tankday_base::shop::{Relieves, is_hard_name};
use tankday_base::units::Temperature;

pub(super) const ALL: &[Rule] = &[below_tempering, hard_or_not];

/// The tempering temperature of a part: its own, or that of its material.
fn tempered<'a>(f: &Facts<'a>, part: &'a Part) -> Option<&'a Spot<Temperature>> {
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

/// Steps on the route of an order that warm hardened work to relieve stress, with the part.
fn reliefs<'a>(f: &Facts<'a>, order: &'a Order) -> Vec<(&'a Part, &'a Step)> {
    let part = order.part.as_ref().and_then(|p| f.part(&p.value));
    let route = order.route.as_ref().and_then(|r| f.route(&r.value));
    let (Some(part), Some(route)) = (part, route) else {
        return Vec::new();
    };
    if !f.material(part).is_some_and(|m| m.hardened) {
        return Vec::new();
    }
    let passes = |s: &&Step| s.only.is_empty() || s.only.iter().any(|n| n.value == part.name.value);
    let stress = |s: &&Step| s.relieves.as_ref().is_some_and(|r| r.value == Relieves::Stress);
    let steps = route.steps.iter().filter(passes).filter(stress);
    steps.map(|step| (part, step)).collect()
}

/// Above the temperature at which it was tempered, hard steel loses its hardness (common practice, no source; the
/// temperature is known to whoever hardened it).
fn below_tempering(f: &Facts) -> Vec<Finding> {
    let mut seen = BTreeSet::new();
    let mut found = Vec::new();
    for (part, step) in f.file.orders.iter().flat_map(|o| reliefs(f, o)) {
        let (Some(relieves), Some(heat)) = (&step.relieves, step.heat.as_ref().and_then(|h| h.value)) else {
            continue;
        };
        if !seen.insert((part.name.at.start, step.at.start)) {
            continue;
        }
        let (name, heat) = (&part.name.value, heat);
        let at = step
            .heat
            .as_ref()
            .filter(|h| h.at != step.at)
            .map_or(relieves.at, |h| h.at);
        match tempered(f, part) {
            None => found.push(
                Finding::warning(
                    Code::Material,
                    at,
                    format!("the tempering temperature of `{name}` isn't known: relief must not exceed it"),
                )
                .label(format!("at {:.0} °C", heat.in_celsius()))
                .and(part.name.at, "hardened")
                .help(
                    "ask whoever hardened it, and write it at the part or its material: `tempered: 300 °C`",
                ),
            ),
            Some(limit) if heat > limit.value => found.push(
                Finding::new(
                    Code::Material,
                    at,
                    format!(
                        "`{name}` was tempered at {:.0} °C: relief at {:.0} °C makes it soft",
                        limit.value.in_celsius(),
                        heat.in_celsius()
                    ),
                )
                .label("too hot for it")
                .and(limit.at, "tempered")
                .help("send it another way, and ask whoever hardened it how to relieve it"),
            ),
            Some(_) => {}
        }
    }
    found
}

/// A material of the shop's own whose name says that it is hard or sprung is not plain steel by default.
fn hard_or_not(f: &Facts) -> Vec<Finding> {
    let open = f
        .file
        .materials
        .iter()
        .filter(|m| is_hard_name(&m.name.value) && m.hardened.is_none() && m.like_at.is_none());
    open.map(|m| {
        Finding::new(
            Code::Material,
            m.name.at,
            format!(
                "`{}` is like plain steel as long as nothing else is written",
                m.name.value
            ),
        )
        .label("hard or sprung? hydrogen matters")
        .help("write `like: hardened steel`, or `hardened: no` if it is soft")
    })
    .collect()
}
