//! Dispatch: waiting lines, stations, hands, and what starts next, by the shop's rules or by a plan, given the floor as it
//! is.
//!
//! # Known and left
//!
//! - A line is searched 12 entries deep for one that may start (`TRIES`); the audit does not judge what stands
//!   further back at the end.
//! - Dispatch asks the floor, flow and baths themselves, not a picture of them made beforehand: whether a load may go in
//!   brings the bath up to now, and is asked only of the loads that it comes to.

mod ahead;
mod away;
mod bare;
mod charge;
mod clear;
mod early;
mod follow;
mod hands;
mod pick;
mod places;
mod vain;

use crate::compile::Compiled;
use crate::floor::Floor;
use crate::ids::{HandIx, LineIx, LoadIx, Of, TankIx};
use crate::plan::Plan;
use crate::state::{Hand, Queue, Station, Waiting};
use std::collections::VecDeque;
use tankday_base::shop::{HandsFirst, NextLoad, RouteId, Shop, StationId, StepIx, StepRef, VesselId};
use tankday_base::units::{Moment, Span};
use tankday_record::LogEntry;

/// So many loads of one line are looked at before the line is passed over.
const TRIES: usize = 12;

/// What free hands could turn to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Pick {
    /// Take out the load at this place among those that are done.
    TakeOut(usize),
    /// Take up the work at this place among those laid down.
    Resume(usize),
    /// Start the load at this place of this line, at this station.
    Start {
        station: StationId,
        line: LineIx,
        at: usize,
    },
    /// Top up this tank.
    TopUp(TankIx),
    /// Renew the water of this rinse.
    Renew(StationId),
    /// Go on with the care of this tank.
    Care(TankIx),
    /// Go on with what settles or is filtered in this vessel.
    Vessel(VesselId),
}

/// How pressing it is: class, then key, then when it was asked for. The least goes first.
pub(crate) type Rank = (u8, i64, i64);

/// Must not wait.
const MUST: u8 = 0;
/// Feeds a tank.
const FEED: u8 = 1;
/// All else.
const REST: u8 = 2;

/// Lines, stations and hands.
pub(crate) struct Dispatch<'a> {
    shop: &'a Shop,
    plan: &'a Compiled,
    /// The plan that is followed, if there is one.
    follow: Option<follow::PlanDispatcher<'a>>,
    lines: Of<LineIx, Queue>,
    stations: Of<StationId, Station>,
    hands: Of<HandIx, Hand>,
    free_hands: u32,
    /// Pairs of hands that are there in these hours. Those beyond them that are still at work end it.
    present: u32,
    /// When hands under way will be there.
    walking: Moment,
    /// Loads that are done and wait to be taken out, as asked.
    done: VecDeque<LoadIx>,
    /// Loads whose work was laid down.
    paused: Vec<LoadIx>,
    /// Loads that somebody must take out before a certain time.
    watched: Vec<LoadIx>,
    scratch: Vec<(Moment, Moment, Span)>,
    /// What was found of loads that wait: whether each is kept out of its bath for the rest of the day.
    put_off: Vec<(LoadIx, bool)>,
}

impl<'a> Dispatch<'a> {
    pub(crate) fn new(shop: &'a Shop, plan: &'a Compiled, follow: Option<&'a Plan>) -> Self {
        let hand = Hand {
            task: None,
            until: Moment::ZERO,
            load: LoadIx::NONE,
            at: StationId(0),
            free_since: Moment::ZERO,
        };
        Self {
            shop,
            plan,
            follow: follow.map(follow::PlanDispatcher::new),
            lines: Of::same(Queue::default(), plan.lines.len()),
            stations: Of::same(Station::default(), plan.stations.len()),
            hands: Of::same(hand, plan.hands as usize),
            free_hands: plan.hands,
            present: shop.hands_at(Moment::ZERO),
            walking: Moment::ZERO,
            done: VecDeque::new(),
            paused: Vec::new(),
            watched: Vec::new(),
            scratch: Vec::new(),
            put_off: Vec::new(),
        }
    }
}

impl Dispatch<'_> {
    #[inline]
    pub(crate) fn has_place(&self, floor: &Floor<'_>, station: StationId) -> bool {
        self.stations[station].used < self.plan.stations[station].places && !floor.baths.is_renewed(station)
    }

    /// Whether the station is a tank into which the load never goes: it is passed over and uses up no try.
    #[inline]
    pub(super) fn never_takes(&self, floor: &Floor<'_>, station: StationId, entry: &Waiting) -> bool {
        let tank = self.plan.stations[station].tank;
        tank.is_some_and(|t| !floor.flow.admits(t, entry.load)) && !floor.flow.is_pinned(entry)
    }

    #[inline]
    pub(super) fn drop_stale(&mut self, floor: &mut Floor<'_>, line: LineIx) {
        while let Some(front) = self.lines[line].0.front().copied() {
            if floor.flow.fresh(&front) {
                return;
            }
            self.lines[line].0.pop_front();
        }
    }

    pub(super) fn may_enter(
        &mut self,
        floor: &mut Floor<'_>,
        station: StationId,
        line: LineIx,
        at: usize,
    ) -> bool {
        let enters = match self.plan.stations[station].tank {
            Some(tank) => self.may_charge(floor, tank, line, at),
            None => true,
        };
        let entry = self.lines[line].0[at];
        let has_place = |d: &mut Self, floor: &mut Floor<'_>| {
            let foreseen = d.bath_foreseen(floor, &entry);
            d.has_place_behind(floor, station, (&entry, foreseen))
                && !d.is_early(floor, station, (&entry, foreseen))
                && d.keeps_clear(floor, station, &entry)
        };
        enters && (floor.flow.is_pinned(&entry) || has_place(self, floor))
    }

    /// So many loads of a line are looked at: all of them by a plan.
    #[inline]
    pub(super) fn tries(&self) -> usize {
        if self.follow.is_some() { usize::MAX } else { TRIES }
    }

    #[inline]
    pub(super) fn place_of(&self, floor: &Floor<'_>, pick: Pick) -> Option<StationId> {
        match pick {
            Pick::Start { station, .. } => Some(station),
            Pick::TakeOut(i) => self.done.get(i).map(|&l| floor.flow[l].station),
            _ => None,
        }
    }

    pub(crate) fn first_alone(
        &mut self,
        floor: &mut Floor<'_>,
        station: StationId,
        line: LineIx,
    ) -> Option<usize> {
        self.drop_stale(floor, line);
        let mut tries = self.tries();
        for at in 0..self.lines[line].0.len() {
            let entry = self.lines[line].0[at];
            if entry.hold > floor.day.now() || self.never_takes(floor, station, &entry) {
                continue;
            }
            if tries == 0 && !self.lies_bare(floor, &entry) {
                continue;
            }
            tries = tries.saturating_sub(1);
            if floor.flow.fresh(&entry)
                && !floor.flow.plan_of(&entry).starts_with_hands()
                && self.turn_to_start(floor, &entry, station)
                && self.may_enter(floor, station, line, at)
            {
                return Some(at);
            }
        }
        None
    }

    /// Where a load that waits since then stands in its line: by the plan, or by the rules.
    fn key(&self, floor: &Floor<'_>, load: LoadIx, step: StepIx, since: Moment) -> i64 {
        let l = &floor.flow[load];
        let plan = &self.plan.routes[l.route].steps[step];
        let by_rules = || match self.plan.rules.next {
            NextLoad::ArrivedFirst => since.in_micros(),
            NextLoad::DueFirst | NextLoad::SameRouteTogether => l.due.in_micros(),
            NextLoad::LongestDwellFirst if plan.bath.is_some() => {
                -(plan.expected.flat.times(l.cargo.slower)).in_micros()
            }
            NextLoad::LongestDwellFirst => l.due.in_micros(),
        };
        self.planned_key(floor, load, step).unwrap_or_else(by_rules)
    }

    /// Stands in line for a step.
    pub(crate) fn join_line(&mut self, floor: &mut Floor<'_>, load: LoadIx, step: StepIx) {
        let l = &floor.flow[load];
        let plan = &self.plan.routes[l.route].steps[step];
        let line = plan.line;
        let latest = plan.within.map_or(Moment::NEVER, |w| plan.waits_from(l) + w);
        let key = self.key(floor, load, step, floor.day.now());
        let entry = Waiting {
            load,
            generation: l.generation,
            step,
            key,
            since: floor.day.now(),
            latest,
            hold: self.held_until(floor, load, step),
        };
        let no = l.no;
        let step_ref = StepRef { route: l.route, step };
        self.planned_wait(floor, load, step);
        self.lines[line].join(entry);
        floor.day.note(|| LogEntry::Waits {
            load: no,
            step: step_ref,
        });
        for i in 0..self.plan.lines[line].len() {
            let station = self.plan.lines[line][i];
            floor.day.mark(station);
        }
    }

    /// The load at a place of a line.
    #[inline]
    pub(crate) fn waiting(&self, line: LineIx, at: usize) -> &Waiting {
        &self.lines[line].0[at]
    }

    /// The load at a place of a line leaves it.
    #[inline]
    pub(crate) fn take(&mut self, line: LineIx, at: usize) -> Option<Waiting> {
        self.lines[line].take(at)
    }

    /// The next load of a line that may work together with the first of a group leaves it; what waits no longer is
    /// dropped on the way.
    pub(crate) fn next_of_group(
        &mut self,
        floor: &Floor<'_>,
        first: &Waiting,
        line: LineIx,
        at: &mut usize,
    ) -> Option<Waiting> {
        while let Some(entry) = self.lines[line].0.get(*at).copied() {
            if !floor.flow.fresh(&entry) {
                self.take(line, *at);
            } else if !floor.flow.same_step(first, &entry) {
                *at += 1;
            } else {
                return self.take(line, *at);
            }
        }
        None
    }

    /// Whether nothing stands at a station.
    #[inline]
    pub(crate) fn is_empty(&self, station: StationId) -> bool {
        self.stations[station].used == 0
    }

    /// A load of a route is set in at a station, and holds a place of its own or shares one.
    #[inline]
    pub(crate) fn place_taken(&mut self, station: StationId, route: RouteId, held: bool) {
        let s = &mut self.stations[station];
        s.used += u32::from(held);
        s.last_route = route;
    }

    /// A place at a station is free again.
    #[inline]
    pub(crate) fn place_given_back(&mut self, floor: &mut Floor<'_>, station: StationId) {
        let s = &mut self.stations[station];
        s.used -= 1;
        s.free_since = floor.day.now();
        floor.day.mark(station);
        self.wake_kept(floor);
    }

    /// Somebody must take this load out before a certain time.
    #[inline]
    pub(crate) fn watch(&mut self, load: LoadIx) {
        self.watched.push(load);
    }

    /// A load is taken out, or needs nobody for that.
    #[inline]
    pub(crate) fn watches_no_more(&mut self, load: LoadIx) {
        if let Some(i) = self.watched.iter().position(|&w| w == load) {
            self.watched.swap_remove(i);
        }
    }

    /// A load is done and waits to be taken out.
    #[inline]
    pub(crate) fn is_done(&mut self, load: LoadIx) {
        self.done.push_back(load);
    }

    /// Hands take out the load at this place among those that are done.
    #[inline]
    pub(crate) fn take_done(&mut self, at: usize) -> Option<LoadIx> {
        self.done.remove(at)
    }

    /// Hands take up the work at this place among those laid down.
    #[inline]
    pub(crate) fn take_paused(&mut self, at: usize) -> LoadIx {
        self.paused.swap_remove(at)
    }

    /// What free hands turn to next, or hands that may lay their work down.
    pub(crate) fn next_for_hands(&mut self, floor: &mut Floor<'_>) -> Option<(Pick, Rank)> {
        if !self.any_free() && !self.may_interrupt(floor) {
            return None;
        }
        let next = self.next_pick(floor);
        if next.is_none() && self.settle_put_off(floor) {
            return self.next_pick(floor);
        }
        next
    }

    fn next_pick(&mut self, floor: &mut Floor<'_>) -> Option<(Pick, Rank)> {
        match self.plan.rules.hands {
            HandsFirst::InOrderAsked if self.follow.is_none() => self.first_asked(floor),
            _ => self.most_urgent(floor),
        }
    }
}
