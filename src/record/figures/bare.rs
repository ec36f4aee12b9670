//! What lay bare longer than it may, stripped before the bath or behind it, and what was kept out of the bath so that it did not.

use crate::analysis::Analysis;
use crate::event::{Breach, LoadNo};
use crate::tank_state::TankState;
use crate::visit::Trajectory;
use std::collections::BTreeMap;
use tankday_base::shop::{Shop, StationId, Step, StepKind, StepRef};
use tankday_base::units::{Moment, Span};

/// A load that waited for a step longer than it may, or still does when the record ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Waited {
    /// The load.
    pub load: LoadNo,
    /// What it waited for.
    pub step: StepRef,
    /// When the wait ended, or the record.
    pub at: Moment,
    /// Longer than it may.
    pub by: Span,
    /// Whether it was bare, and how.
    pub bare: Option<Bare>,
    /// Whether it still waits when the record ends.
    pub still: bool,
    /// What kept it when it should have gone on at the latest.
    pub cause: WaitCause,
}

/// How work is bare: nothing keeps rust away from it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Bare {
    /// Stripped to the metal, and on the way to a bath.
    Stripped,
    /// Coated, and neither oiled nor sealed since.
    Coated,
}

/// What kept a load from a step when that should have begun at the latest.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WaitCause {
    /// No place was free.
    Full,
    /// The shop was closed.
    Closed,
    /// Hands had their break.
    Break,
    /// Its bath was cared for.
    Care,
    /// Its bath was not hot.
    Cold,
    /// Its bath was hot and empty to the end, and took no load: it was outside its limits, say.
    Bath,
    /// Hands were at other work, or it was not its turn.
    Hands,
}

/// What kept a load from a step at a moment; whether it still waits when the record ends.
fn cause(read: &Analysis<'_>, load: LoadNo, (wanted, now, still): (StepRef, Moment, bool)) -> WaitCause {
    let shop = read.shop;
    let stations = shop.find_step(wanted).map_or(&[][..], |s| &s.stations);
    if is_full(read, load, (stations, now)) {
        return WaitCause::Full;
    }
    let day = shop.calendar.days.iter().find(|d| d.open <= now && now < d.close);
    let tanks = stations.iter().filter_map(|id| state(read, *id, now));
    let tanks: Vec<TankState> = tanks.collect();
    let cold = |t: &TankState| matches!(t, TankState::Care | TankState::Off | TankState::Heating);
    match day {
        None => WaitCause::Closed,
        Some(day) if day.breaks.iter().any(|b| b.holds(now)) => WaitCause::Break,
        Some(_) if tanks.is_empty() => WaitCause::Hands,
        Some(_) if tanks.iter().all(|t| *t == TankState::Care) => WaitCause::Care,
        Some(_) if tanks.iter().all(cold) => WaitCause::Cold,
        Some(_) if still => WaitCause::Bath,
        Some(_) => WaitCause::Hands,
    }
}

/// Whether other loads take all places of some stations at a moment.
fn is_full(read: &Analysis<'_>, load: LoadNo, (stations, now): (&[StationId], Moment)) -> bool {
    let places = |id: &StationId| {
        let station = read.shop.stations.get(id.index());
        station.map_or(0, |s| u64::from(s.places * s.together.max(1)))
    };
    let others = read
        .ways
        .iter()
        .filter(|(no, _)| **no != load)
        .flat_map(|(_, way)| &way.visits);
    let inside = |v: &&crate::visit::Visit| {
        stations.contains(&v.station) && v.set_in <= now && v.done.is_none_or(|done| done > now)
    };
    others.filter(inside).count() as u64 >= stations.iter().map(places).sum()
}

/// What a tank is doing at a moment; none of a station that is no tank.
fn state(read: &Analysis<'_>, id: StationId, now: Moment) -> Option<TankState> {
    let mut states = read.tank(id)?.states().iter();
    states.find(|s| s.from <= now && now < s.to).map(|s| s.state)
}

/// A wait longer than allowed by less is not worth a word beside the orders.
const HARDLY: Span = Span::whole_minutes(1);

impl Waited {
    /// Whether work lay bare longer than it may, by more than hands take to turn round.
    #[must_use]
    pub fn lies_bare(&self) -> bool {
        self.bare.is_some() && self.by >= HARDLY
    }
}

/// The same of a wait that was too long by so much: whether work lay bare in it.
pub(crate) fn lies_bare(shop: &Shop, step: StepRef, by: Span) -> bool {
    bare(shop, step).is_some() && by >= HARDLY
}

/// Whether work comes bare to a step, and how. Common practice, no source.
#[must_use]
pub fn bare(shop: &Shop, at: StepRef) -> Option<Bare> {
    match () {
        () if comes_coated(shop, at) => Some(Bare::Coated),
        () if comes_stripped(shop, at) => Some(Bare::Stripped),
        () => None,
    }
}

/// Whether work comes stripped to a step, and goes into a bath then or later: it rusts while it waits. What is only degreased
/// keeps.
fn comes_stripped(shop: &Shop, at: StepRef) -> bool {
    use StepKind::{Blast, Brush, Pickle, Tumble};
    let steps = shop.routes.get(at.route.index()).map_or(&[][..], |r| &r.steps);
    let (before, rest) = steps.split_at(at.step.index().min(steps.len()));
    let strips = |s: &&Step| matches!(s.kind, Pickle | Blast | Tumble | Brush);
    let keeps = |s: &&Step| s.kind.keeps_rust_away() && s.only.is_empty();
    let last = before.iter().rev().find(|s| strips(s) || keeps(s));
    rest.iter().any(|s| in_bath(shop, s)) && last.is_some_and(|s| strips(&s))
}

fn in_bath(shop: &Shop, step: &Step) -> bool {
    let first = step.stations.first();
    first.is_some_and(|id| shop.tank(*id).is_some())
}

/// A load kept out of a step, since a later one would have had no place for it in time.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Kept {
    /// The load.
    pub load: LoadNo,
    /// The step that it is kept out of.
    pub step: StepRef,
    /// The step that has no place.
    pub behind: StepRef,
    /// From.
    pub from: Moment,
    /// To: it went in, or a place was free; none if it is still kept out when the record ends.
    pub until: Option<Moment>,
}

/// Whether work comes coated and bare to a step: a bath comes before it on its route, and nothing that keeps rust away between
/// them: what is oiled or sealed is not bare, until it is cleaned again.
fn comes_coated(shop: &Shop, at: StepRef) -> bool {
    let steps = shop.routes.get(at.route.index()).map_or(&[][..], |r| &r.steps);
    let mut cleaned = false;
    for step in steps.iter().take(at.step.index()).rev() {
        match () {
            () if in_bath(shop, step) => return true,
            // What is oiled only of some parts leaves the others bare.
            () if step.kind.keeps_rust_away() && step.only.is_empty() && !cleaned => return false,
            () => cleaned |= step.kind.degreases() || matches!(step.kind, StepKind::Pickle | StepKind::Blast),
        }
    }
    false
}

/// Everything that waited too long, in the order of the record; what still waits last.
pub(super) fn waited(read: &Analysis<'_>) -> Vec<Waited> {
    let (shop, ways) = (read.shop, &read.ways);
    let noted = read.breaches.iter().filter_map(|breach| match *breach {
        (at, load, step, Breach::WaitedTooLong { by }) => Some(Waited {
            load,
            step,
            at,
            by,
            bare: bare(shop, step),
            still: false,
            cause: cause(read, load, (step, at - by, false)),
        }),
        _ => None,
    });
    let end = read.end;
    let waits = |(load, way): (&LoadNo, &Trajectory)| {
        if way.ready.is_some() || way.joined.is_some() {
            return None;
        }
        let done = way.visits.last()?.done?;
        let late = |(at, _): &(StepRef, Moment)| {
            let by = end - (done + shop.find_step(*at)?.within?);
            (by > Span::ZERO).then_some((*at, by))
        };
        let (at, by) = way.waiting.iter().filter_map(late).max_by_key(|w| w.1)?;
        Some(Waited {
            load: *load,
            step: at,
            at: end,
            by,
            bare: bare(shop, at),
            still: true,
            cause: cause(read, *load, (at, end - by, true)),
        })
    };
    noted.chain(ways.iter().filter_map(waits)).collect()
}

/// When a place of a step that was full is free, if that is before a moment: what keeps a load from then on is something else.
fn free_again(
    shop: &Shop,
    ways: &BTreeMap<LoadNo, Trajectory>,
    at: StepRef,
    from: Moment,
    until: Option<Moment>,
) -> Option<Moment> {
    let stations = shop.find_step(at).map_or(&[][..], |s| &s.stations);
    let places = |id: &StationId| shop.stations.get(id.index()).map_or(0, |s| s.places);
    let places: u64 = stations.iter().map(|id| u64::from(places(id))).sum();
    let visits = ways.values().flat_map(|way| &way.visits);
    let stays: Vec<(Moment, Moment)> = visits
        .filter(|v| stations.contains(&v.station))
        .map(|v| (v.set_in, v.done.unwrap_or(Moment::NEVER)))
        .filter(|stay| stay.1 > from && stay.1 > stay.0)
        .collect();
    let full = |at: Moment| stays.iter().filter(|s| s.0 <= at && at < s.1).count() as u64 >= places;
    let begins = stays.iter().map(|s| s.0.max(from)).filter(|at| full(*at)).min()?;
    let free = stays
        .iter()
        .map(|s| s.1)
        .filter(|at| *at > begins && !full(*at))
        .min()?;
    Some(until.map_or(free, |until| until.min(free))).filter(|at| *at < Moment::NEVER)
}

/// Everything that was kept out of a step for want of a place later, up to when it went in or a place was free.
pub(super) fn kept(read: &Analysis<'_>) -> Vec<Kept> {
    let of = |&(from, load, step, behind): &(Moment, LoadNo, StepRef, StepRef)| {
        let visits = read
            .ways
            .get(&read.cargo.holder(load))
            .map_or(&[][..], |w| &w.visits);
        let went = |v: &&crate::visit::Visit| v.step == step && v.set_in >= from;
        let set_in = visits.iter().find(went).map(|v| v.set_in);
        Kept {
            load,
            step,
            behind,
            from,
            until: free_again(read.shop, &read.ways, behind, from, set_in).or(set_in),
        }
    };
    read.kept.iter().map(of).collect()
}
