//! All heaters together draw no more than the supply bears: between any two moments at which every tank is looked at, by
//! their sums of energy.

use super::found::{FaultKind, Findings};
use std::collections::BTreeMap;
use tankday_base::shop::{Shop, StationId};
use tankday_base::units::{Energy, Moment, Quantity};
use tankday_record::{LogEntry, Record};

/// Rounding, as a share of what the supply gives, and in any case.
const SHARE: f64 = 1e-6;
const LEAST: Energy = Energy::joules(1.0);
/// A bath within half a millikelvin of its set point is taken to be there, and the heat for it counts at once: with
/// 4.2 kJ for each litre and kelvin, and twice for the way through the heater, no more than this for each litre.
const TAKEN_TO_BE_THERE: f64 = 4.2;

pub(super) fn check(shop: &Shop, record: &Record, found: &mut Findings<'_>) {
    let Some(supply) = shop.supply else { return };
    let tanks = shop.tanks().count();
    let litres: f64 = shop.tanks().map(|t| 1e3 * t.2.fill.base()).sum();
    let rounding = LEAST.base() + TAKEN_TO_BE_THERE * litres;
    let mut before: Option<(Moment, Energy)> = None;
    for (at, drawn) in looks(record) {
        if drawn.len() < tanks {
            continue;
        }
        let sum: Energy = drawn.values().copied().sum();
        if let Some((from, had)) = before {
            let seconds = (at - from).in_seconds();
            let most = supply.base() * seconds * (1.0 + SHARE) + rounding;
            if (sum - had).base() > most {
                let kilowatts = (sum - had).base() / seconds.max(1e-6) / 1e3;
                let text = format!(
                    "the heaters draw {kilowatts:.2} kW of a supply of {:.2} kW",
                    supply.in_kilowatts()
                );
                found.say(at, FaultKind::Heater, text);
            }
        }
        before = Some((at, sum));
    }
}

/// What every tank that is looked at had drawn, moment by moment.
fn looks(record: &Record) -> Vec<(Moment, BTreeMap<StationId, Energy>)> {
    let mut looks: Vec<(Moment, BTreeMap<StationId, Energy>)> = Vec::new();
    for entry in &record.entries {
        let LogEntry::Bath { tank, sample } = &entry.event else {
            continue;
        };
        if looks.last().is_none_or(|l| l.0 != entry.at) {
            looks.push((entry.at, BTreeMap::new()));
        }
        if let Some((_, drawn)) = looks.last_mut() {
            drawn.insert(*tank, sample.drawn);
        }
    }
    looks
}
