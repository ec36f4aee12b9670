//! What to watch of heaters: too weak for the band, too weak for the set point, and on for long when nothing more goes in.

use super::idle_watch;
use super::loads::TankLoad;
use super::warning_kind::WarningKind;
use super::warnings::{Caution, Reading, at};
use crate::analysis::Analysis;
use crate::event::BathSample;
use crate::reading::HeaterState;
use tankday_base::bath::water::measuring_density;
use tankday_base::bath::{Lid, TankHeat};
use tankday_base::shop::{HeatOff, LidKind, Shop, StationId, Tank};
use tankday_base::units::{Moment, Power, Share, Span, TempDiff, Temperature};

/// A set point that is missed by less is as good as met.
const HARDLY: TempDiff = TempDiff::kelvin(0.3);
/// A bath that is kept hot for less after its last load is not worth a word: hands have things to finish. A choice.
const LONG: Span = Span::whole_minutes(60);

type Look = (Moment, BathSample);

pub(super) fn of(read: &Analysis<'_>, loads: &[TankLoad]) -> Vec<(WarningKind, Caution)> {
    let shop = read.shop;
    let mut found = Vec::new();
    for (id, _, tank) in shop.tanks() {
        let looks = read.samples(id);
        let Some(on) = looks.iter().find(|l| is_on(&l.1)).map(|l| l.0) else {
            continue;
        };
        if !looks.iter().any(|l| l.1.heater == HeaterState::Holding) {
            if read.tank(id).is_none_or(|t| t.in_band.is_empty()) {
                found.push((WarningKind::NeverHot, at(on, Some(id))));
            } else if let Some(most) = levels_off(shop, tank, looks) {
                let caution = Caution {
                    reading: Some(most),
                    ..at(on, Some(id))
                };
                found.push((WarningKind::WeakHeater, caution));
            }
        }
        found.extend(boils_dry(tank, id, looks));
        let mut idle = hot_for_nothing(read, (id, looks), loads);
        if shop.rules.heat.off != HeatOff::AtClosing {
            // What goes off after the last load was on for nothing only where none ever went in.
            idle.retain(|(_, c)| {
                !loads
                    .iter()
                    .any(|l| l.tank == id && same_day(shop, l.begins, c.at))
            });
        }
        let said = idle.into_iter();
        found.extend(said.filter_map(|(_, c)| idle_watch::meant(read, id, c)));
        found.extend(idle_watch::hot_early(read, id, loads));
    }
    found
}

/// Of a bath that has less of its fill left nothing covers a heater any more. A choice.
const DRY: Share = Share::percent(10.0);

/// When a bath has boiled away with its heater on; for ever, where it is empty to the end.
pub(super) fn boils_dry(tank: &Tank, id: StationId, looks: &[Look]) -> Option<(WarningKind, Caution)> {
    let dry = |s: &BathSample| s.water / measuring_density() < tank.fill * DRY.in_fraction();
    let (when, _) = looks.iter().find(|(_, s)| is_on(s) && dry(s))?;
    let stays = looks.last().is_some_and(|(_, s)| dry(s));
    let caution = Caution {
        by: if stays { Span::FOREVER } else { Span::ZERO },
        ..at(*when, Some(id))
    };
    Some((WarningKind::BoilsDry, caution))
}

fn is_on(sample: &BathSample) -> bool {
    sample.heater != HeaterState::Off
}

/// Where a bath levels off that its heater cannot bring to the set point under its lid; or, lid off, cannot hold in its band,
/// or not at the set point where it was open while heated. None where it can.
fn levels_off(shop: &Shop, tank: &Tank, looks: &[Look]) -> Option<Reading> {
    let band = shop.baths.get(tank.bath.index())?.band;
    let table = TankHeat::new(tank, &shop.air);
    let air = shop.air.temperature;
    let has_lid = tank.lid != LidKind::None;
    let off = |lid, wanted, covered| {
        let temperature = level(&table, lid, air, wanted)?;
        Some(Reading::LevelsOff { temperature, covered })
    };
    let open = looks.iter().any(|l| is_on(&l.1) && !l.1.lid);
    let covered = || off(Lid::On, band.hold, Some(true));
    let bare = || {
        off(
            Lid::Off,
            if open { band.hold } else { band.least },
            has_lid.then_some(false),
        )
    };
    has_lid.then(covered).flatten().or_else(bare)
}

/// Where a bath levels off with its heater on; none where that carries it to what is wanted.
fn level(table: &TankHeat, lid: Lid, air: Temperature, wanted: Temperature) -> Option<Temperature> {
    let gains = |t: Temperature| table.leaving(t, lid).heat.max(Power::ZERO) < table.net_power();
    if gains(wanted - HARDLY) {
        return None;
    }
    let (mut low, mut high) = (air.in_celsius(), wanted.in_celsius());
    for _ in 0..40 {
        let middle = 0.5 * (low + high);
        if gains(Temperature::celsius(middle)) {
            low = middle;
        } else {
            high = middle;
        }
    }
    Some(Temperature::celsius(low))
}

/// Each day on which a heater is on for long and nothing goes in any more, after a break as well, or nothing at all; and what it drew meanwhile.
fn hot_for_nothing(
    read: &Analysis<'_>,
    (id, looks): (StationId, &[Look]),
    loads: &[TankLoad],
) -> Vec<(WarningKind, Caution)> {
    let shop = read.shop;
    let mut found = Vec::new();
    for day in &shop.calendar.days {
        let here = |l: &&TankLoad| l.tank == id && day.open <= l.begins && l.begins < day.close;
        let outs = loads.iter().filter(here).map(|l| l.out);
        // One that is still in is what the heater is on for.
        let Some(last) = outs.collect::<Option<Vec<Moment>>>() else {
            continue;
        };
        let last = last.into_iter().max().unwrap_or(day.open);
        let from = last.max(last_care(read, id, last, day.close));
        let today = |l: &Look| from <= l.0 && l.0 <= day.close && is_on(&l.1);
        let (Some(first), Some(last_on)) = (looks.iter().position(today), looks.iter().rposition(today))
        else {
            continue;
        };
        let since = &looks[first];
        let (until, sample) = looks.get(last_on + 1).unwrap_or(&looks[last_on]);
        let by = *until - since.0;
        if by >= LONG {
            let drawn = sample.drawn - since.1.drawn;
            let costs = drawn.in_kilowatt_hours() * shop.prices.power_per_kwh;
            let caution = Caution {
                by,
                reading: Some(Reading::Power(drawn, costs)),
                ..at(since.0, Some(id))
            };
            found.push((WarningKind::HotForNothing, caution));
        }
    }
    found
}

/// Whether two moments lie in one opening.
fn same_day(shop: &Shop, one: Moment, other: Moment) -> bool {
    let mut days = shop.calendar.days.iter();
    days.any(|d| [one, other].iter().all(|at| d.open <= *at && *at <= d.close))
}

/// When the last care of a tank between two moments is over: its heater may have been on for that.
pub(super) fn last_care(read: &Analysis<'_>, id: StationId, from: Moment, to: Moment) -> Moment {
    let own = read.watched.sums.iter().filter(|s| s.tank == id);
    let ends = own.flat_map(|s| &s.care).map(|care| care.to);
    ends.filter(|at| from <= *at && *at <= to).max().unwrap_or(from)
}
