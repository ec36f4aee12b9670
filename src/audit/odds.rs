//! What inspection finds: said where a load is sent back for a cause and nowhere else, with a chance that is at least
//! the one that follows from what a record tells.

use super::found::{FaultKind, Findings};
use std::collections::BTreeMap;
use tankday_base::shop::{HeaterKind, Mishap, Mishaps, Odds, Shop, StationId, Step, StepRef};
use tankday_base::units::Moment;
use tankday_record::{Breach, LoadNo, LogEntry, OrderNo, Record};

/// What of a load's way since it was last in a bath the record tells.
#[derive(Debug, Clone, Copy, Default)]
struct Since {
    underfired: bool,
    waited: bool,
    dried_on: bool,
    overstayed: bool,
    brings: Mishaps,
}

pub(super) fn check(shop: &Shop, record: &Record, found: &mut Findings<'_>) {
    let mut ways: BTreeMap<LoadNo, Since> = BTreeMap::new();
    let mut sources: BTreeMap<OrderNo, Mishaps> = BTreeMap::new();
    let mut brought: BTreeMap<LoadNo, Mishaps> = BTreeMap::new();
    let mut told: BTreeMap<LoadNo, (Moment, StepRef)> = BTreeMap::new();
    for entry in &record.entries {
        let at = entry.at;
        match entry.event {
            LogEntry::OrderArrives { order, source, .. } => {
                let part = shop.orders.get(source.index()).map(|o| o.part);
                let part = part.and_then(|p| shop.parts.get(p.index()));
                sources.insert(order, part.map_or(Mishaps::default(), |p| p.brings));
            }
            LogEntry::LoadMade { load, order, .. } => {
                brought.insert(load, sources.get(&order).copied().unwrap_or_default());
            }
            LogEntry::Joins { load, into } => {
                let both = [load, into].map(|l| brought.get(&l).copied().unwrap_or_default());
                brought.insert(into, both[0].and(both[1]));
                if let Some(way) = ways.get_mut(&into) {
                    way.brings = both[0].and(both[1]);
                }
            }
            LogEntry::WorkBegins { load, station, .. } => {
                if let Some(kind) = heater(shop, station) {
                    let underfired = kind != HeaterKind::Immersion;
                    let new = Since {
                        underfired,
                        brings: brought.get(&load).copied().unwrap_or_default(),
                        ..Since::default()
                    };
                    ways.insert(load, new);
                }
            }
            LogEntry::Breaks { load, step, what } => note(shop, &mut ways, load, step, what),
            LogEntry::Found {
                load, step, chance, ..
            } => {
                let never_in = Since {
                    brings: brought.get(&load).copied().unwrap_or_default(),
                    ..Since::default()
                };
                let way = ways.get(&load).copied().unwrap_or(never_in);
                let least = least(shop, step, way);
                let chance = chance.in_fraction();
                if least.is_none_or(|least| chance < least - 1e-9) || chance > 1.0 {
                    found.of_load(
                        at,
                        FaultKind::Inspection,
                        load,
                        "fails by another chance than its way gives it",
                    );
                }
                told.insert(load, (at, step));
            }
            LogEntry::Fails { load, step, .. } => {
                let said = told.remove(&load) == Some((at, step));
                if said != odds(shop, step).is_some() {
                    let text = "fails where a cause should be told, or should not";
                    found.of_load(at, FaultKind::Inspection, load, text);
                }
            }
            _ => {}
        }
    }
    for (load, (at, _)) in told {
        found.of_load(
            at,
            FaultKind::Inspection,
            load,
            "has a defect and is not sent back",
        );
    }
}

fn heater(shop: &Shop, station: StationId) -> Option<HeaterKind> {
    let tank = shop.stations.get(station.index())?.tank?;
    Some(tank.heater.kind)
}

fn step_of(shop: &Shop, at: StepRef) -> Option<&Step> {
    shop.routes.get(at.route.index())?.steps.get(at.step.index())
}

fn odds(shop: &Shop, at: StepRef) -> Option<(f64, Odds)> {
    let retry = step_of(shop, at)?.retry?;
    Some((retry.share.in_fraction(), retry.odds?))
}

fn note(shop: &Shop, ways: &mut BTreeMap<LoadNo, Since>, load: LoadNo, at: StepRef, what: Breach) {
    let coats = step_of(shop, at).is_some_and(|s| s.stations.iter().any(|s| heater(shop, *s).is_some()));
    let Some(way) = ways.get_mut(&load) else { return };
    match what {
        Breach::InAtBreak { .. } => {}
        Breach::StayedTooLong { .. } => way.overstayed |= coats,
        Breach::WaitedTooLong { .. } if coats => {}
        Breach::WaitedTooLong { .. } if right_after_coating(shop, at) => way.dried_on = true,
        Breach::WaitedTooLong { .. } => way.waited |= follows_coating(shop, at),
    }
}

/// Whether a step right before this one coats.
fn right_after_coating(shop: &Shop, at: StepRef) -> bool {
    let Some(here) = step_of(shop, at) else {
        return false;
    };
    let before = here.after.iter().filter_map(|b| {
        step_of(
            shop,
            StepRef {
                route: at.route,
                step: *b,
            },
        )
    });
    before
        .flat_map(|s| &s.stations)
        .any(|s| heater(shop, *s).is_some())
}

/// Whether some step before this one coats.
fn follows_coating(shop: &Shop, at: StepRef) -> bool {
    let Some(route) = shop.routes.get(at.route.index()) else {
        return false;
    };
    let mut open = vec![at.step];
    let mut seen = 0u64;
    while let Some(step) = open.pop() {
        let Some(here) = route.steps.get(step.index()) else {
            continue;
        };
        for before in &here.after {
            let bit = 1u64 << (before.0 & 63);
            if seen & bit == 0 {
                seen |= bit;
                open.push(*before);
            }
        }
    }
    let coats = |i: usize| {
        let stations = route.steps.get(i).map_or(&[][..], |s| &s.stations);
        stations.iter().any(|s| heater(shop, *s).is_some())
    };
    (0..64).any(|i| seen & (1 << i) != 0 && coats(i))
}

/// The chance with only what is told: by complements, p = 1 - 1/(1 + odds).
fn least(shop: &Shop, at: StepRef, way: Since) -> Option<f64> {
    let (base, odds) = odds(shop, at)?;
    let mut against = (1.0 - base) / base;
    for (so, factor) in [
        (way.underfired, odds.underfired),
        (way.waited, odds.waited),
        // Where a part passes over the coating right before, it counts as any wait: by the lesser of the two.
        (way.dried_on, odds.dried_on.min(odds.waited)),
        (way.overstayed, odds.too_long),
        (way.brings.has(Mishap::Greasy), odds.greasy),
        (way.brings.has(Mishap::Pickled), odds.pickled),
        (way.brings.has(Mishap::HolesDown), odds.holes_down),
        (way.brings.has(Mishap::Crevices), odds.crevices),
    ] {
        if so {
            against /= factor;
        }
    }
    Some(1.0 - against / (1.0 + against))
        .filter(|p| p.is_finite())
        .or(Some(0.0))
}
