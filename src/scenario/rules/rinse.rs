//! Rinses: whether their keys say something.

use super::{Facts, Rule, care};
use crate::finding::{Code, Finding};
use crate::thing::{Key, Thing};
use crate::written::{Bath, Order, Station, Step};
use tankday_base::shop::{Rinse, RinseLimit};
use tankday_base::units::Strength;

pub(super) const ALL: &[Rule] = &[
    Rule::Station(holds_water),
    Rule::Station(reached),
    Rule::Station(loads_come),
    Rule::Station(filled_after_coating),
    Rule::Station(cool),
];

/// Tubs, flow and renewal belong to a rinse that holds water.
fn holds_water(_: &Facts, station: &Station) -> Option<Finding> {
    let keys: [&Key; 4] = [
        &Station::tubs,
        &Station::flow,
        &Station::temperature,
        &Station::renew,
    ];
    let idle = station
        .first(&keys)
        .filter(|_| station.place(&Station::fill).is_none())?;
    Some(
        Finding::error(Code::Missing, idle)
            .says("this belongs to a rinse, and no water is in it")
            .label("how much?")
            .help("write `fill: 15 L` beside it"),
    )
}

/// A rinse is renewed before it is as strong as the bath.
fn reached(f: &Facts, station: &Station) -> Option<Finding> {
    station.fill.as_ref()?;
    let at = station.renew.as_ref()?.rule.as_ref()?.at.as_ref()?;
    let acid = |bath: &Bath| Some(bath.now.as_ref()?.reads()?.total_acid.as_ref()?.value);
    let strongest = f.file.baths.iter().filter_map(acid).reduce(Strength::max)?;
    match at.value {
        RinseLimit::Points(points) if points >= strongest => Some(
            Finding::error(Code::Contradiction, at.at)
                .says("no rinse ever becomes so strong: the bath itself is not")
                .label("never reached")
                .help("1 point is the default"),
        ),
        _ => None,
    }
}

/// Water that is renewed after more loads than ever come is not renewed by that.
fn loads_come(f: &Facts, station: &Station) -> Option<Finding> {
    let (after, name) = (
        station.renew.as_ref()?.rule.as_ref()?.after.as_ref()?,
        station.name.as_ref()?,
    );
    let here = |step: &Step| step.stations.iter().any(|s| s.value == name.value);
    let comes = |order: &Order| {
        let route = order.route.as_ref().and_then(|r| f.route(&r.value));
        route.is_some_and(|r| r.steps.iter().any(here))
    };
    // What no bath coats is not divided by one: how many loads it makes is not known.
    if f.file
        .orders
        .iter()
        .any(|o| comes(o) && f.coatings_of(o).is_empty())
    {
        return None;
    }
    // A load may come here several times on its way.
    let visits = f
        .file
        .routes
        .iter()
        .map(|r| r.steps.iter().filter(|s| here(s)).count());
    let visits = visits.max().unwrap_or(1).max(1) as u64;
    let loads = care::loads(f, comes).filter(|l| u64::from(after.value) > l.ever.saturating_mul(visits))?;
    Some(
        Finding::warning(
            Code::Contradiction,
            after.at,
            format!(
                "this water is never renewed after so many loads: {}",
                loads.words()
            ),
        )
        .label("never comes")
        .help("write a number that this work reaches, or `at opening: yes`"),
    )
}

/// Water that is counted where no coated work comes says nothing.
fn filled_after_coating(f: &Facts, station: &Station) -> Option<Finding> {
    let (fill, name) = (station.fill.as_ref()?, station.name.as_ref()?);
    (!comes_coated(f, &name.value)).then(|| {
        Finding::warns(Code::Route, fill.at)
            .says("no coated work comes to this rinse: its water stays clean")
            .label("counted for nothing")
    })
}

/// Coated work is rinsed cool: a hot rinse sets residues.
fn cool(f: &Facts, station: &Station) -> Option<Finding> {
    let (water, name) = (station.temperature.as_ref()?, station.name.as_ref()?);
    water
        .value
        .filter(|t| *t > Rinse::HOTTEST && t.in_celsius() < 100.0)?;
    let help = "rinse at 20 to 50 °C, on the cool side, unless the supplier of the bath asks for a hot rinse";
    comes_coated(f, &name.value).then(|| {
        Finding::warns(Code::Bath, water.at)
            .says("a hot rinse sets what is left of the bath: rough, whitish, less protection")
            .label("above 50 °C")
            .help(help)
    })
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
