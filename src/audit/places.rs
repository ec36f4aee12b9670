//! Places of stations, and room of tanks.

use super::found::{FaultKind, Findings};
use super::stage::{Story, Visit};
use std::collections::BTreeMap;
use tankday_base::shop::Shop;
use tankday_base::units::{Area, Mass, Moment, Quantity, Volume};

/// What rounding may change in a sum of areas, masses or volumes.
const ROUNDING: f64 = 1.0 + 1e-8;

pub(super) fn check(shop: &Shop, story: &Story, found: &mut Findings<'_>) {
    let mut inside: Vec<Vec<usize>> = vec![Vec::new(); shop.stations.len()];
    for &(at, index, takes) in &story.moves {
        let Some(visit) = story.visits.get(index) else {
            continue;
        };
        let (Some(station), Some(here)) = (
            shop.stations.get(visit.station.index()),
            inside.get_mut(visit.station.index()),
        ) else {
            continue;
        };
        if !takes {
            here.retain(|&v| v != index);
            continue;
        }
        here.push(index);
        let used = places_used(story, here, station.together.max(1));
        if used > station.places {
            let text = format!("{} has {used} of {} places taken", station.name, station.places);
            found.say(at, FaultKind::Places, text);
        }
        room(shop, story, visit, found);
    }
}

/// Loads that were set in at one moment may share places, up to `together` in each.
fn places_used(story: &Story, here: &[usize], together: u32) -> u32 {
    let mut groups: BTreeMap<Moment, u32> = BTreeMap::new();
    for visit in here.iter().filter_map(|&v| story.visits.get(v)) {
        *groups.entry(visit.set_in).or_default() += 1;
    }
    groups.values().map(|n| n.div_ceil(together)).sum()
}

/// Area, mass and bulk of a load against what the tank can take.
fn room(shop: &Shop, story: &Story, visit: &Visit, found: &mut Findings<'_>) {
    let Some(tank) = shop.stations.get(visit.station.index()).and_then(|s| s.tank) else {
        return;
    };
    let Some(bath) = shop.baths.get(tank.bath.index()) else {
        return;
    };
    let (mut area, mut mass, mut bulk) = (Area::ZERO, Mass::ZERO, Volume::ZERO);
    for lot in visit.lots.iter().filter_map(|&l| story.lots.get(l)) {
        if let Some(part) = shop.parts.get(lot.part.index()) {
            let n = f64::from(lot.pieces);
            area += part.area * n;
            mass += part.mass * n;
            bulk += part.bulk * n;
        }
    }
    let over = [
        ("surface", area / (bath.room.area * tank.fill)),
        ("mass", mass / (bath.room.mass * tank.fill)),
        (
            "bulk",
            if tank.basket.base() > 0.0 {
                bulk / tank.basket
            } else {
                0.0
            },
        ),
    ];
    for (what, share) in over.into_iter().filter(|(_, share)| *share > ROUNDING) {
        let text = format!("has {:.4} times the {what} that the tank may take", share);
        found.of_load(visit.set_in, FaultKind::Room, visit.load, &text);
    }
}
