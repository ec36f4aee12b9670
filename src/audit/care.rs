//! Care of the baths: begun before it ends, one at a time at a tank, nothing in the bath meanwhile, hands only while it lasts;
//! and readings that only work and care move.

use super::found::{FaultKind, Findings};
use super::hands::{Doing, Kind};
use super::stage::Story;
use tankday_base::shop::{Shop, StationId};
use tankday_base::units::{Moment, Quantity};
use tankday_record::{BathReadings, CareKind, LoadNo, LogEntry, Record};

/// Molar mass of iron, g/mol (standard atomic weight, IUPAC).
const IRON: f64 = 55.845;
/// Litres of an ideal gas by mole at 20 °C and 101.325 kPa: R T / p.
const MOLAR_LITRES: f64 = 24.055;
/// Rounding in a reading.
const ROUNDING: f64 = 1e-6;

/// Care of a tank from beginning to end.
pub(super) struct Cared {
    pub(super) tank: StationId,
    pub(super) from: Moment,
    pub(super) to: Moment,
}

pub(super) fn check(shop: &Shop, record: &Record, story: &Story, tasks: &[Doing], found: &mut Findings<'_>) {
    let cared = spells(record, found);
    let outside = super::vessel::check(shop, record, found);
    for visit in &story.visits {
        let (from, to) = (visit.set_in, visit.done.unwrap_or(visit.set_in));
        let meanwhile = |c: &&Cared| c.tank == visit.station && c.from < to && from < c.to;
        if cared.iter().any(|c| meanwhile(&c)) {
            found.of_load(
                from,
                FaultKind::Life,
                visit.load,
                "is in a bath that is under care",
            );
        }
    }
    for task in tasks.iter().filter(|t| t.kind == Kind::Care) {
        let to = task.to.unwrap_or(task.from);
        let within = |c: &Cared| c.tank == task.station && c.from <= task.from && to <= c.to;
        if !cared.iter().chain(&outside).any(within) {
            let text = format!(
                "hands care for {} when it is not under care",
                found.station(task.station)
            );
            found.say(task.from, FaultKind::Hands, text);
        }
    }
    coatings(shop, record, story, found);
    for (id, ..) in shop.tanks() {
        readings(record, id, found);
    }
}

/// Every load that is lifted from a bath is coated just then, once, by no more than its surface can bear; the metal sets its
/// hydrogen free.
fn coatings(shop: &Shop, record: &Record, story: &Story, found: &mut Findings<'_>) {
    let mut due: Vec<(Moment, LoadNo, StationId)> = Vec::new();
    for visit in &story.visits {
        let tank = shop
            .stations
            .get(visit.station.index())
            .is_some_and(|s| s.tank.is_some());
        due.extend(
            visit
                .lift
                .filter(|_| tank)
                .map(|lift| (lift, visit.load, visit.station)),
        );
    }
    for entry in &record.entries {
        let LogEntry::Coated { load, tank, coated } = &entry.event else {
            continue;
        };
        match due.iter().position(|d| *d == (entry.at, *load, *tank)) {
            Some(i) => {
                due.swap_remove(i);
            }
            None => found.of_load(
                entry.at,
                FaultKind::Life,
                *load,
                "is coated when it is not lifted from a bath",
            ),
        }
        let gas = coated.metal.base() * 1e3 / IRON * MOLAR_LITRES * 1e-3;
        let hydrogen = coated.hydrogen.base();
        if (gas - hydrogen).abs() > 1e-3 * gas.abs() + 1e-12
            || coated.coating.base() < 0.0
            || coated.conversion < 0.0
            || coated.on_cast_iron < coated.conversion * (1.0 - ROUNDING) - ROUNDING
        {
            found.of_load(
                entry.at,
                FaultKind::Life,
                *load,
                "sets free another gas than its metal gives",
            );
        }
    }
    for (at, load, _) in due {
        if story.load(load).is_some_and(|l| !l.lost) {
            found.of_load(
                at,
                FaultKind::Life,
                load,
                "is lifted from a bath, and nothing says how it was coated",
            );
        }
    }
}

fn spells(record: &Record, found: &mut Findings<'_>) -> Vec<Cared> {
    let mut cared: Vec<Cared> = Vec::new();
    let mut open: Vec<(StationId, CareKind)> = Vec::new();
    for entry in &record.entries {
        match &entry.event {
            LogEntry::CareBegins { tank, care } => {
                if open.iter().any(|o| o.0 == *tank) {
                    let text = format!("{} is under care twice", found.station(*tank));
                    found.say(entry.at, FaultKind::Life, text);
                }
                open.push((*tank, *care));
                cared.push(Cared {
                    tank: *tank,
                    from: entry.at,
                    to: Moment::NEVER,
                });
            }
            LogEntry::CareEnds { tank, care, used } => {
                let begun = open.iter().position(|o| *o == (*tank, *care));
                match begun {
                    Some(i) => {
                        open.remove(i);
                    }
                    None => {
                        let text = format!("care of {} ends that had not begun", found.station(*tank));
                        found.say(entry.at, FaultKind::Life, text);
                    }
                }
                if let Some(c) = cared.iter_mut().rev().find(|c| c.tank == *tank) {
                    c.to = entry.at;
                }
                let amounts = [
                    used.water,
                    used.concentrate,
                    used.wasted,
                    used.hydrogen,
                    used.drawn_off,
                    used.refilled,
                ];
                let less = amounts.iter().any(|v| v.base() < 0.0)
                    || used.chemical.base() < 0.0
                    || used.sludge.base() < 0.0;
                if less {
                    let text = format!("care of {} used less than nothing", found.station(*tank));
                    found.say(entry.at, FaultKind::Water, text);
                }
            }
            _ => {}
        }
    }
    cared
}

/// Between work and care the amounts in a bath stay: acid by its volume does not move, sludge and area neither, and iron
/// does not grow.
fn readings(record: &Record, id: StationId, found: &mut Findings<'_>) {
    let mut last: Option<(BathReadings, f64)> = None;
    let mut cared = false;
    for entry in &record.entries {
        match &entry.event {
            LogEntry::Coated { tank, .. } if *tank == id => last = None,
            LogEntry::CareBegins { tank, .. } if *tank == id => cared = true,
            LogEntry::CareEnds { tank, .. } if *tank == id => (cared, last) = (false, None),
            LogEntry::Bath { tank, sample } if *tank == id => {
                let Some(now) = sample.readings else { continue };
                let litres = sample.water.base();
                if !sound(&now) {
                    let text = format!("{} reads as no bath can", found.station(id));
                    found.say(entry.at, FaultKind::Water, text);
                }
                if let Some((before, had)) = last
                    && moved(&before, had, &now, litres)
                {
                    let text = format!("{} changes without work or care", found.station(id));
                    found.say(entry.at, FaultKind::Water, text);
                }
                last = (!cared).then_some((now, litres));
            }
            _ => {}
        }
    }
}

fn sound(r: &BathReadings) -> bool {
    let all = [
        r.total_acid.base(),
        r.free_acid.base(),
        r.iron.base(),
        r.stirred.base(),
        r.settled.base(),
        r.area.base(),
    ];
    all.iter().all(|x| x.is_finite() && *x >= -ROUNDING) && r.free_acid <= r.total_acid
}

fn moved(a: &BathReadings, had: f64, b: &BathReadings, has: f64) -> bool {
    let same = |x: f64, y: f64| (x - y).abs() <= ROUNDING * (x.abs() + y.abs()) + 1e-12;
    let iron = (a.iron.base() * had, b.iron.base() * has);
    let sludge = ((a.stirred + a.settled).base(), (b.stirred + b.settled).base());
    let rusted = iron.1 < iron.0 * (1.0 - ROUNDING);
    // Less iron than rounding shows may have rusted: that much of it may lie in the sludge. A kilogram of iron makes 3.35 of
    // sludge; g/L times kg of water are a thousandth of a kilogram.
    let silt = 4e-3 * ROUNDING * iron.0;
    let muddy = same(sludge.0, sludge.1) || (sludge.1 - sludge.0).abs() <= silt;
    let acid = same(a.total_acid.base() * had, b.total_acid.base() * has);
    iron.1 > iron.0 * (1.0 + ROUNDING) + 1e-12
        || !(rusted || acid && muddy)
        || !same(a.area.base(), b.area.base())
        || a.uses != b.uses
}
