//! Rinses: whether their keys say something.

use super::{Facts, Rule};
use crate::finding::{Code, Finding};
use tankday_base::shop::{Rinse, RinseLimit};
use tankday_base::units::Strength;

pub(super) const ALL: &[Rule] = &[holds_water, reached, filled_after_coating, cool];

/// Tubs, flow and renewal belong to a rinse that holds water.
fn holds_water(f: &Facts) -> Vec<Finding> {
    let idle = f.file.stations.iter().filter_map(|s| s.idle);
    idle.map(|at| {
        Finding::new(
            Code::Missing,
            at,
            "this belongs to a rinse, and no water is in it",
        )
        .label("how much?")
        .help("write `fill: 15 L` beside it")
    })
    .collect()
}

/// A rinse is renewed before it is as strong as the bath.
fn reached(f: &Facts) -> Vec<Finding> {
    let readings = f.file.baths.iter().filter_map(|b| b.now.as_ref()?.reads());
    let acids = readings
        .filter_map(|now| now.total_acid.as_ref())
        .map(|acid| acid.value);
    let Some(strongest) = acids.reduce(Strength::max) else {
        return Vec::new();
    };
    let limits = f.file.stations.iter().filter_map(|s| {
        s.fill.as_ref()?;
        let at = s.renew.as_ref()?.rule.as_ref()?.at.as_ref()?;
        match at.value {
            RinseLimit::Points(points) if points >= strongest => Some(at.at),
            _ => None,
        }
    });
    limits
        .map(|at| {
            Finding::new(
                Code::Contradiction,
                at,
                "no rinse ever becomes so strong: the bath itself is not",
            )
            .label("never reached")
            .help("1 point is the default")
        })
        .collect()
}

/// Water that is counted where no coated work comes says nothing.
fn filled_after_coating(f: &Facts) -> Vec<Finding> {
    let rinses = f.file.stations.iter().filter_map(|s| {
        let (fill, name) = (s.fill.as_ref()?, s.name.as_ref()?);
        let comes = comes_coated(f, &name.value);
        (!comes).then_some(fill.at)
    });
    rinses
        .map(|at| {
            Finding::warning(
                Code::Route,
                at,
                "no coated work comes to this rinse: its water stays clean",
            )
            .label("counted for nothing")
        })
        .collect()
}

/// Coated work is rinsed cool: a hot rinse sets residues.
fn cool(f: &Facts) -> Vec<Finding> {
    let hot = |s: &crate::written::Station| {
        let (water, name) = (s.temperature.as_ref()?, s.name.as_ref()?);
        water
            .value
            .filter(|t| *t > Rinse::HOTTEST && t.in_celsius() < 100.0)?;
        comes_coated(f, &name.value).then(|| {
            Finding::warning(
                Code::Bath,
                water.at,
                "a hot rinse sets what is left of the bath: rough, whitish, less protection",
            )
            .label("above 50 °C")
            .help("rinse at 20 to 50 °C, on the cool side, unless the supplier of the bath asks for a hot rinse")
        })
    };
    f.file.stations.iter().filter_map(hot).collect()
}

/// Whether coated work comes to a station.
fn comes_coated(f: &Facts, name: &str) -> bool {
    f.file.routes.iter().any(|route| {
        let coats = route.steps.iter().position(|s| s.coats());
        let later = coats.map_or(&[][..], |first| route.steps.get(first..).unwrap_or_default());
        later
            .iter()
            .any(|step| step.stations.iter().any(|s| s.value == name))
    })
}
