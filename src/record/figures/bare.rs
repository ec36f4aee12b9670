//! What behind the bath came later than it may, and what was kept out of the bath so that it did not.

use crate::analysis::Analysis;
use crate::event::{Breach, LoadNo};
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
    /// Whether it has been in a bath before and was neither oiled nor sealed since: it is bare.
    pub bare: bool,
    /// Whether it still waits when the record ends.
    pub still: bool,
    /// What kept it when it should have gone on at the latest.
    pub cause: WaitCause,
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
    /// Hands were at other work, or it was not its turn.
    Hands,
}

/// What kept a load from a step at a moment.
fn cause(shop: &Shop, ways: &BTreeMap<LoadNo, Trajectory>, load: LoadNo, at: (StepRef, Moment)) -> WaitCause {
    let (wanted, now) = at;
    let stations = shop.find_step(wanted).map_or(&[][..], |s| &s.stations);
    let places = |id: &StationId| {
        shop.stations
            .get(id.index())
            .map_or(0, |s| s.places * s.together.max(1))
    };
    let others = ways
        .iter()
        .filter(|(no, _)| **no != load)
        .flat_map(|(_, way)| &way.visits);
    let inside = |v: &&crate::visit::Visit| {
        stations.contains(&v.station) && v.set_in <= now && v.done.is_none_or(|done| done > now)
    };
    let free: u64 = stations.iter().map(|id| u64::from(places(id))).sum();
    if others.filter(inside).count() as u64 >= free {
        return WaitCause::Full;
    }
    let day = shop.calendar.days.iter().find(|d| d.open <= now && now < d.close);
    match day {
        None => WaitCause::Closed,
        Some(day) if day.breaks.iter().any(|b| b.holds(now)) => WaitCause::Break,
        Some(_) => WaitCause::Hands,
    }
}

/// A wait longer than allowed by less is not worth a word beside the orders.
const HARDLY: Span = Span::whole_minutes(1);

impl Waited {
    /// Whether coated work lay bare longer than it may, by more than hands take to turn round.
    #[must_use]
    pub fn lies_bare(&self) -> bool {
        self.bare && self.by >= HARDLY
    }
}

/// The same of a wait that was too long by so much: whether coated work lay bare in it.
pub(crate) fn lies_bare(shop: &Shop, step: StepRef, by: Span) -> bool {
    comes_bare(shop, step) && by >= HARDLY
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

/// Whether work comes bare to a step: a bath comes before it on its route, and nothing that keeps rust away between them: what is oiled or sealed is
/// not bare, until it is cleaned again. Common practice, no source.
#[must_use]
pub fn comes_bare(shop: &Shop, at: StepRef) -> bool {
    let steps = shop.routes.get(at.route.index()).map_or(&[][..], |r| &r.steps);
    let in_bath = |s: &Step| {
        let first = s.stations.first();
        first.is_some_and(|id| shop.tank(*id).is_some())
    };
    let mut cleaned = false;
    for step in steps.iter().take(at.step.index()).rev() {
        match () {
            () if in_bath(step) => return true,
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
            bare: comes_bare(shop, step),
            still: false,
            cause: cause(shop, ways, load, (step, at - by)),
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
            bare: comes_bare(shop, at),
            still: true,
            cause: cause(shop, ways, *load, (at, end - by)),
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
