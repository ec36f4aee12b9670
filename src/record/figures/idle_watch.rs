//! What a hot bath waits for that nothing goes into: nothing at all, loads that are too large for its tank, or its first load.

use super::loads::TankLoad;
use super::warning_kind::WarningKind;
use super::warnings::{Caution, Reading, at};
use crate::analysis::Analysis;
use crate::event::{BathSample, LoadNo};
use crate::reading::HeaterState;
use crate::visit::Trajectory;
use tankday_base::shop::{Day, Shop, StationId, Step, StepKind, StepRef};
use tankday_base::units::{Moment, Span, TempDiff};

/// A bath that is hot for less before its first load is not worth a word: hands have things to begin. A choice.
const LONG: Span = Span::whole_minutes(60);
/// What is missed of a temperature by less is met: a bath is looked at just as it gets there.
const NEARLY: TempDiff = TempDiff::kelvin(1e-3);

type Look = (Moment, BathSample);

/// What is said of a spell in which a bath is kept hot and nothing goes in: none where it never got hot in it, or where a load
/// that fits stands before it.
pub(super) fn meant(read: &Analysis<'_>, id: StationId, idle: Caution) -> Option<(WarningKind, Caution)> {
    let until = idle.at + idle.by;
    let looks = read.samples(id);
    let first = looks.partition_point(|l| l.0 < idle.at);
    let mut within = looks.get(first..)?.iter().take_while(|l| l.0 <= until);
    if !within.any(|l| is_hot(read.shop, id, &l.1)) {
        return None;
    }
    let left = read
        .ways
        .iter()
        .filter_map(|(load, way)| to_come(read.shop, id, (*load, way), until));
    let (fit, too_large): (Vec<ToCome>, Vec<ToCome>) = left.partition(|l| fits(read, id, l.load));
    match (fit.is_empty(), too_large.is_empty()) {
        (true, false) => Some((WarningKind::HotNothingFits, idle)),
        _ if fit.iter().any(|l| l.stands_ready) => None,
        _ => Some((WarningKind::HotForNothing, idle)),
    }
}

fn is_hot(shop: &Shop, id: StationId, sample: &BathSample) -> bool {
    let tank = shop.tank(id);
    let band = tank.and_then(|t| Some(shop.baths.get(t.bath.index())?.band));
    band.is_some_and(|band| sample.temperature >= band.least - NEARLY)
}

/// A load that a tank might still have to coat.
struct ToCome {
    load: LoadNo,
    /// Whether it stands ready to go in.
    stands_ready: bool,
}

/// A load as it is at a moment, if a bath in which a tank has a part is still before it.
fn to_come(shop: &Shop, id: StationId, (load, way): (LoadNo, &Trajectory), now: Moment) -> Option<ToCome> {
    let gone = way.joined.is_some_and(|(when, _)| when <= now) || way.ready.is_some_and(|when| when <= now);
    if way.made > now || gone {
        return None;
    }
    let visits = way.visits.iter().map(|v| v.step);
    let any = visits.chain(way.waiting.iter().map(|w| w.0)).next()?;
    let steps = shop.routes.get(any.route.index()).map_or(&[][..], |r| &r.steps);
    let here = |s: &Step| s.kind == StepKind::Coat && s.stations.contains(&id);
    let is_here = |at: StepRef| shop.find_step(at).is_some_and(here);
    let coated = way.visits.iter().any(|v| v.set_in <= now && is_here(v.step));
    let stood = |at: StepRef, since: Moment| is_here(at) && since <= now;
    let stands_ready = way.waiting.iter().any(|(at, since)| stood(*at, *since))
        || way
            .visits
            .iter()
            .any(|v| stood(v.step, v.waits) && v.set_in > now);
    (!coated && steps.iter().any(here)).then_some(ToCome { load, stands_ready })
}

/// Whether a load goes into a tank by its area, its mass and the size of its pieces.
fn fits(read: &Analysis<'_>, id: StationId, load: LoadNo) -> bool {
    const HAIR: f64 = 1.0 + 1e-9;
    let shop = read.shop;
    let Some((tank, room)) = shop
        .tank(id)
        .and_then(|t| Some((t, shop.baths.get(t.bath.index())?.room)))
    else {
        return false;
    };
    let parts = read.cargo.parts(shop, load);
    read.cargo.area(shop, load) <= room.area * tank.fill * HAIR
        && read.cargo.mass(shop, load) <= room.mass * tank.fill * HAIR
        && parts.iter().all(|(_, part, _)| part.goes.lies(tank).is_some())
}

/// Each day on which a bath is hot for long before its first load stands ready, and what its heater drew meanwhile.
pub(super) fn hot_early(
    read: &Analysis<'_>,
    id: StationId,
    loads: &[TankLoad],
) -> Vec<(WarningKind, Caution)> {
    let days = read.shop.calendar.days.iter();
    days.filter_map(|day| early_on(read, (id, read.samples(id)), loads, day))
        .collect()
}

fn early_on(
    read: &Analysis<'_>,
    (id, looks): (StationId, &[Look]),
    loads: &[TankLoad],
    day: &Day,
) -> Option<(WarningKind, Caution)> {
    let here = |l: &&TankLoad| l.tank == id && day.open <= l.begins && l.begins < day.close;
    let first = loads.iter().filter(here).min_by_key(|l| l.begins)?;
    let visits = &read.ways.get(&first.load)?.visits;
    let ready = visits.iter().find(|v| v.step == first.step)?.waits;
    let since = super::heater_watch::last_care(read, id, day.open, ready);
    let on = |s: &BathSample| s.heater != HeaterState::Off;
    let hot = |l: &&Look| since <= l.0 && l.0 <= ready && on(&l.1) && is_hot(read.shop, id, &l.1);
    let (from, begun) = looks.iter().find(hot)?;
    let (_, ended) = looks.iter().take_while(|l| l.0 <= ready).last()?;
    let by = ready - *from;
    (by >= LONG).then(|| {
        let drawn = ended.drawn - begun.drawn;
        let costs = drawn.in_kilowatt_hours() * read.shop.prices.power_per_kwh;
        let caution = Caution {
            by,
            reading: Some(Reading::Power(drawn, costs)),
            ..at(*from, Some(id))
        };
        (WarningKind::HotEarly, caution)
    })
}
