//! Materials, parts, routes and orders as meant.

use super::Context;
use super::{dry, relief};
use crate::names::Names;
use crate::node::Spanned;
use crate::steps::{self, Sequence};
use crate::written::{Arrives, MOST_IN_STREAM, Material, Order, Part, Route, Step, Stream};
use tankday_base::shop::{
    self, Arrival, Coats, Hands, MaterialId, Mishap, Mishaps, PartId, Retry, RouteId, StationId, StepIx,
    StepTime,
};
use tankday_base::units::{Moment, Span, Volume};

/// Built-in materials, then the shop's own.
pub(super) fn materials(c: Context) -> Option<Vec<shop::Material>> {
    let mut all = c.names.built_in.clone();
    for written in &c.file.materials {
        all.push(material(written, &c.names.built_in)?);
    }
    Some(all)
}

/// A material of the shop's own: what is not written is as what it is like.
pub(crate) fn material(written: &Material, built_in: &[shop::Material]) -> Option<shop::Material> {
    let like = built_in
        .iter()
        .find(|m| Some(&m.name) == written.like.as_ref().map(|l| &l.value))?;
    let coats = match &written.coats {
        Some(coats) if coats.value => Coats::Yes,
        Some(_) => Coats::No(written.because.as_ref()?.value.clone()),
        None => like.coats.clone(),
    };
    let coats = match (coats, &written.trial) {
        (Coats::No(why), _) => Coats::No(why),
        (_, Some(why)) => Coats::AfterTrial(why.value.clone()),
        (coats, None) => coats,
    };
    Some(shop::Material {
        name: written.name.value.clone(),
        coats,
        heat_capacity: own(&written.heat_capacity, like.heat_capacity),
        density: own(&written.density, like.density),
        slower: own(&written.slower, like.slower),
        heavier: own(&written.heavier, like.heavier),
        from: like.from,
        hardened: own(&written.hardened, like.hardened),
    })
}

fn own<T: Copy>(written: &Option<Spanned<T>>, like: T) -> T {
    written.as_ref().map_or(like, |w| w.value)
}

/// A part.
pub(super) fn part(written: &Part, names: &Names, materials: &[shop::Material]) -> Option<shop::Part> {
    let material = MaterialId(*names.materials.get(&written.material.as_ref()?.value)?);
    let density = materials.get(material.index())?.density;
    let (mass, area) = written.measures(density)?;
    Some(shop::Part {
        name: written.name.value.clone(),
        material,
        mass,
        area,
        shape: written.estimate(density),
        drag_out: written.drag_out()?,
        thick: written.thick.as_ref()?.value,
        worked_cold: written.worked_cold.as_ref()?.value,
        brings: brings(written)?,
        bulk: written.bulk.as_ref()?.value.unwrap_or(Volume::ZERO),
        held: written.held.as_ref()?.value,
        dwell: written.dwell.as_ref().map(|d| d.value),
        goes: shop::Goes {
            size: written.size(),
            turned: written.turned.as_ref()?.value,
            tanks: tanks(&written.tanks, names)?,
        },
    })
}

/// The tanks that a part or an order names.
fn tanks(named: &[Spanned<String>], names: &Names) -> Option<Vec<StationId>> {
    let of = |name: &Spanned<String>| names.stations.get(&name.value).copied().map(StationId);
    named.iter().map(of).collect()
}

/// What of a part makes its loads fail more often.
fn brings(written: &Part) -> Option<Mishaps> {
    let mut all = Mishaps::default();
    for (key, mishap) in [
        (&written.greasy, Mishap::Greasy),
        (&written.pickled, Mishap::Pickled),
        (&written.holes_down, Mishap::HolesDown),
        (&written.crevices, Mishap::Crevices),
    ] {
        if key.as_ref()?.value {
            all.add(mishap);
        }
    }
    Some(all)
}

/// A route, its steps in an order in which they may be done.
pub(super) fn route(written: &Route, c: Context) -> Option<shop::Route> {
    let sequence = steps::sequence(written)?;
    let steps = sequence
        .order
        .iter()
        .map(|&i| step(written, i, &sequence, c))
        .collect::<Option<_>>()?;
    Some(shop::Route {
        name: written.name.value.clone(),
        steps,
    })
}

fn step(route: &Route, index: usize, sequence: &Sequence, c: Context) -> Option<shop::Step> {
    let written = route.steps.get(index)?;
    let hands = written.hands.as_ref()?.value;
    let ends = |span: &Option<Spanned<Span>>| match hands {
        Hands::Ends => span.as_ref().map(|s| s.value),
        _ => Some(Span::ZERO),
    };
    Some(shop::Step {
        name: written.name()?.value.clone(),
        kind: written.kind(),
        stations: stations(written, c)?,
        time: relief::time(written, route, c)
            .or_else(|| dry::time(written, route, c))
            .or_else(|| time(written))?,
        hands,
        put_in: ends(&written.put_in)?,
        take_out: ends(&written.take_out)?,
        most: written.most.as_ref().map(|s| s.value),
        within: written.within.as_ref().map(|s| s.value),
        at_once: written.at_once.as_ref()?.value,
        at_break: written.at_break.as_ref()?.value,
        overnight: written.overnight.is_some(),
        after: sequence.after(index)?,
        only: written
            .only
            .iter()
            .map(|p| part_id(p, c.names))
            .collect::<Option<_>>()?,
        retry: retry(written, sequence, c)?,
        drip: written.drip.as_ref()?.value,
        relief: relief::relief(written),
    })
}

fn part_id(name: &Spanned<String>, names: &Names) -> Option<PartId> {
    names.parts.get(&name.value).copied().map(PartId)
}

/// Where a step can happen: for a coating step the tanks that are named, or else every tank with the bath.
fn stations(written: &Step, c: Context) -> Option<Vec<StationId>> {
    if written.coats() && written.stations.is_empty() {
        let bath = &written.bath.as_ref()?.value;
        return Some(tanks_with(bath, c).collect());
    }
    written
        .stations
        .iter()
        .map(|s| c.names.stations.get(&s.value).copied().map(StationId))
        .collect()
}

fn tanks_with<'a>(bath: &'a str, c: Context<'a>) -> impl Iterator<Item = StationId> + 'a {
    let tanks = c.file.tanks.iter().enumerate();
    tanks
        .filter(move |(_, t)| t.bath.as_ref().is_some_and(|b| b.value == bath))
        .map(|(i, _)| StationId(i as u32))
}

fn time(written: &Step) -> Option<StepTime> {
    if written.coats() {
        return Some(StepTime::Coat);
    }
    Some(StepTime::Work {
        load: written.time.as_ref()?.value.clone(),
        each: written.each.as_ref()?.value,
    })
}

/// Outer none: something is missing; inner none: nothing fails here.
fn retry(written: &Step, sequence: &Sequence, c: Context) -> Option<Option<Retry>> {
    let (Some(share), Some(back)) = (&written.fails, &written.back_to) else {
        return Some(None);
    };
    let back_to = StepIx(*sequence.number.get(&back.value)?);
    let by_cause = c.file.rules.as_ref()?.odds.as_ref()?;
    let (share, odds) = match share.value {
        Some(share) => (share, None),
        None => (by_cause.base.as_ref()?.value, Some(super::odds(by_cause)?)),
    };
    Some(Some(Retry { share, back_to, odds }))
}

/// An order.
pub(super) fn order(written: &Order, c: Context) -> Option<shop::Order> {
    let count = written.count.as_ref()?.value;
    let arrival = arrival(written.arrives.as_ref()?, count, c)?;
    let due_after = match (&written.due_after, &written.due) {
        (Some(after), _) => Some(after.value),
        (None, Some(due)) => Some(c.hours.moment(due.value)? - first(&arrival)),
        (None, None) => None,
    };
    Some(shop::Order {
        id: written.id.as_ref()?.value.clone(),
        part: part_id(written.part.as_ref()?, c.names)?,
        count,
        route: c
            .names
            .routes
            .get(&written.route.as_ref()?.value)
            .copied()
            .map(RouteId)?,
        arrival,
        tanks: tanks(&written.tanks, c.names)?,
        looks: written.looks.as_ref()?.value,
        weight: written.weight.as_ref()?.value,
        due_after,
    })
}

fn first(arrival: &Arrival) -> Moment {
    match arrival {
        Arrival::At(at) => *at,
        Arrival::Every { from, .. } => *from,
    }
}

fn arrival(written: &Arrives, count: u32, c: Context) -> Option<Arrival> {
    match written {
        Arrives::Once(when) => c.hours.moment(when.value).map(Arrival::At),
        // Written out before.
        Arrives::Weekly(_) => None,
        Arrives::Every(stream) => again_and_again(stream, count, c),
    }
}

fn again_and_again(stream: &Stream, count: u32, c: Context) -> Option<Arrival> {
    let until = stream.until.as_ref();
    Some(Arrival::Every {
        gap: stream.gap.as_ref()?.value.clone(),
        from: c.hours.moment(stream.from.as_ref()?.value)?,
        until: until.map_or(Some(Moment::NEVER), |u| c.hours.moment(u.value))?,
        most: stream.most.as_ref().map_or(MOST_IN_STREAM, |m| m.value),
        only: match (&stream.only, stream.on.as_slice()) {
            (None, []) => Vec::new(),
            _ => c.hours.open_on(&stream.weekdays()),
        },
        fewest: stream.fewest.as_ref().map_or(count, |n| n.value),
    })
}
