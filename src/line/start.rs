//! What becomes possible, starts: first what needs no hands, then what free hands turn to.
//!
//! # Known and left
//!
//! - A line is searched 12 entries deep for one that may start (`TRIES`); the audit does not judge what stands
//!   further back at the end.

use super::engine::{Due, Engine};
use super::state::{NONE, Phase, Place, Waiting};
use tankday_base::shop::{Hands, HandsFirst, RouteId, StationId, StepIx, StepRef, VesselId};
use tankday_base::units::{Moment, Span};
use tankday_record::{Breach, Event, Task, TaskKind};

/// So many loads of one line are looked at before the line is passed over.
pub(super) const TRIES: usize = 12;

/// What free hands could turn to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Pick {
    /// Take out the load at this place among those that are done.
    TakeOut(usize),
    /// Take up the work at this place among those laid down.
    Resume(usize),
    /// Start the load at this place of this line, at this station.
    Start { station: u32, line: u32, at: usize },
    /// Top up this tank.
    TopUp(u32),
    /// Renew the water of this rinse.
    Renew(u32),
    /// Go on with the care of this tank.
    Care(u32),
    /// Go on with what settles or is filtered in this vessel.
    Vessel(u32),
}

/// How pressing it is: class, then key, then when it was asked for. The least goes first.
pub(super) type Rank = (u8, i64, i64);

/// Must not wait.
pub(super) const MUST: u8 = 0;
/// Feeds a tank.
pub(super) const FEED: u8 = 1;
/// All else.
pub(super) const REST: u8 = 2;

impl Engine<'_> {
    /// Phase 3: starts everything that has become possible.
    pub(super) fn settle(&mut self) {
        self.baths.share_supply(&mut self.day);
        let stations = &self.stations;
        self.baths
            .care_begins(&mut self.day, |station| stations[station.index()].used == 0);
        loop {
            while let Some(station) = self.day.take_marked() {
                self.start_alone(station);
            }
            if !self.hands_turn() && !self.day.any_marked() {
                return self.baths.share_supply(&mut self.day);
            }
        }
    }

    #[inline]
    pub(super) fn has_place(&self, station: u32) -> bool {
        self.stations[station as usize].used < self.plan.stations[station as usize].places
            && !self.baths.is_renewed(station)
    }

    /// Starts what needs no hands at a station while there is room.
    fn start_alone(&mut self, station: u32) {
        let plan = self.plan;
        while self.has_place(station) {
            let mut best: Option<(i64, u32, usize)> = None;
            for &line in &plan.stations[station as usize].lines {
                if plan.line_hands[line as usize] {
                    continue;
                }
                if let Some(at) = self.first_alone(station, line) {
                    let key = self.lines[line as usize].0[at].key;
                    if best.is_none_or(|b| key < b.0) {
                        best = Some((key, line, at));
                    }
                }
            }
            let Some((_, line, at)) = best else { return };
            self.start(station, line, at, None);
        }
    }

    fn first_alone(&mut self, station: u32, line: u32) -> Option<usize> {
        self.drop_stale(line);
        let mut tries = self.tries();
        for at in 0..self.lines[line as usize].0.len() {
            let entry = self.lines[line as usize].0[at];
            if self.never_takes(station, &entry) {
                continue;
            }
            if tries == 0 {
                return None;
            }
            tries -= 1;
            if self.fresh(&entry)
                && !self.plan_of(&entry).starts_with_hands()
                && self.turn_to_start(&entry, station)
                && self.may_enter(station, line, at)
            {
                return Some(at);
            }
        }
        None
    }

    /// Whether the entry still stands for its load: a load in several lines leaves all when it starts in one.
    #[inline]
    pub(super) fn fresh(&self, entry: &Waiting) -> bool {
        let l = &self.loads[entry.load];
        l.stamp == entry.stamp && l.phase == Phase::Waiting
    }

    /// Whether the station is a tank into which the load never goes: it is passed over and uses up no try.
    #[inline]
    pub(super) fn never_takes(&self, station: u32, entry: &Waiting) -> bool {
        let tank = self.plan.stations[station as usize].tank;
        tank.is_some_and(|t| !self.admits(t, entry.load)) && !self.is_pinned(entry)
    }

    pub(super) fn drop_stale(&mut self, line: u32) {
        while let Some(front) = self.lines[line as usize].0.front().copied() {
            if self.fresh(&front) {
                return;
            }
            self.lines[line as usize].0.pop_front();
        }
    }

    #[inline]
    pub(super) fn plan_of(&self, entry: &Waiting) -> &super::compile::StepPlan {
        &self.plan.routes[self.loads[entry.load].route as usize].steps[entry.step as usize]
    }

    pub(super) fn may_enter(&mut self, station: u32, line: u32, at: usize) -> bool {
        let enters = match self.plan.stations[station as usize].tank {
            Some(tank) => self.may_charge(tank, line, at),
            None => true,
        };
        let entry = self.lines[line as usize].0[at];
        enters && (self.is_pinned(&entry) || self.has_place_behind(station, &entry))
    }

    /// A load leaves its line and goes in, with its company.
    pub(super) fn start(&mut self, station: u32, line: u32, at: usize, hand: Option<u32>) {
        let Some(entry) = self.lines[line as usize].take(at) else {
            return;
        };
        if self.plan.stations[station as usize].tank.is_some() {
            self.join_company(station, line, &entry);
        }
        let together = self.plan.stations[station as usize].together;
        if together <= 1 || hand.is_some() {
            self.set_in(entry.load, entry.step, station, hand);
            return;
        }
        self.start_group(entry, station, line, together);
    }

    /// Up to `together` waiting loads start as one group; the time is drawn for the first.
    fn start_group(&mut self, first: Waiting, station: u32, line: u32, together: u32) {
        let mut members = 1;
        let mut last = first.load;
        self.enter(first.load, first.step, station, Place::Held);
        let group = self.loads[first.load].stamp;
        self.loads[first.load].group = group;
        let mut at = 0;
        while members < together && at < self.lines[line as usize].0.len() {
            let entry = self.lines[line as usize].0[at];
            if !self.fresh(&entry) {
                self.lines[line as usize].take(at);
            } else if !self.same_step(&first, &entry) {
                at += 1;
            } else {
                self.lines[line as usize].take(at);
                self.loads[last].place = Place::Shared;
                self.shared.push(last);
                self.enter(entry.load, entry.step, station, Place::Shared);
                self.loads[entry.load].place = Place::Held;
                self.loads[entry.load].group = group;
                self.loads[last].next_in_group = entry.load;
                last = entry.load;
                members += 1;
            }
        }
        self.work_begins(first.load);
        self.group_begins(first.load);
    }

    /// Whether two loads wait for the same step of the same route, so that they may work together.
    fn same_step(&self, a: &Waiting, b: &Waiting) -> bool {
        a.step == b.step && self.loads[a.load].route == self.loads[b.load].route
    }

    /// The rest of a group begins with its leader and has its times.
    fn group_begins(&mut self, leader: u32) {
        let (planned, until) = (self.loads[leader].planned, self.loads[leader].until);
        let mut load = self.loads[leader].next_in_group;
        while load != NONE {
            let most = self.most_stay(load, self.loads[load].step);
            let now = self.day.now();
            let l = &mut self.loads[load];
            l.phase = Phase::Working;
            l.begun = now;
            l.planned = planned;
            l.until = until;
            l.latest = most.map_or(Moment::NEVER, |m| now + m);
            let (no, station, next) = (l.no, StationId(l.station), l.next_in_group);
            if self.day.is_told() {
                let step = self.step_ref(load);
                self.day.note(|| Event::WorkBegins {
                    load: no,
                    step,
                    station,
                    planned,
                    most,
                });
            }
            self.dips(load);
            load = next;
        }
    }

    /// A load takes a place at a station.
    fn enter(&mut self, load: u32, step: u32, station: u32, place: Place) {
        let now = self.day.now();
        let stamp = self.next_stamp();
        let l = &mut self.loads[load];
        l.stamp = stamp;
        l.step = step;
        l.station = station;
        l.place = place;
        let (no, route) = (l.no, l.route);
        let s = &mut self.stations[station as usize];
        if place == Place::Held {
            s.used += 1;
        }
        s.last_route = route;
        self.planned_start(load, step, 0);
        let step_ref = StepRef {
            route: RouteId(route),
            step: StepIx(step),
        };
        self.day.note(|| Event::SetIn {
            load: no,
            step: step_ref,
            station: StationId(station),
        });
        let within = self.step_of(load).within;
        let ended = self.step_of(load).waits_from(&self.loads[load]);
        if let Some(by) = within.map(|w| now - (ended + w)).filter(|by| *by > Span::ZERO) {
            self.waited(load, step);
            self.day.note(|| Event::Breaks {
                load: no,
                step: step_ref,
                what: Breach::WaitedTooLong { by },
            });
        }
    }

    /// A load goes in at a station, alone or with its company joined to it; `hand` does it where hands are needed.
    pub(super) fn set_in(&mut self, load: u32, step: u32, station: u32, hand: Option<u32>) {
        self.enter(load, step, station, Place::Held);
        let plan = self.step_of(load);
        let (hands, put_in, expected) = (plan.hands, plan.put_in, plan.expected);
        let must_watch = hands == Hands::Ends && plan.most.is_some() && !plan.overnight;
        if must_watch {
            self.watch(load);
        }
        match (hands, hand) {
            (Hands::Throughout, Some(hand)) => {
                self.take_hand(hand, load, TaskKind::Work, self.day.now() + expected);
                self.work_begins(load);
                self.hands[hand as usize].until = self.day.now() + expected;
            }
            (Hands::Ends, Some(hand)) => {
                let until = self.day.now() + put_in;
                self.take_hand(hand, load, TaskKind::PutIn, until);
                if let Some(tank) = self.plan.stations[station as usize].tank {
                    self.baths.putting_in(tank, true);
                }
                self.loads[load].phase = Phase::PuttingIn;
                self.loads[load].until = until;
                self.day.move_at(until, Due::PutIn(load));
            }
            _ => self.work_begins(load),
        }
    }

    fn watch(&mut self, load: u32) {
        self.watched.push(load);
        let put_in = self.step_of(load).put_in;
        let most = self.most_stay(load, self.loads[load].step);
        let begins = self.day.now() + put_in;
        let latest = most.map_or(Moment::NEVER, |m| begins + m);
        self.loads[load].latest = match self.plan.stations[self.loads[load].station as usize].tank {
            Some(tank) => {
                let over = begins + self.baths.expected_dwell(tank, &self.loads[load].cargo);
                self.day.lifted_by(over, latest, self.step_of(load).take_out)
            }
            None => latest,
        };
        self.loads[load].until = begins;
    }

    /// Free hands turn to the most pressing thing that they may do now. False if there is none.
    pub(super) fn hands_turn(&mut self) -> bool {
        if self.free_hands == 0 && !self.may_interrupt() {
            return false;
        }
        let pick = match self.plan.rules.hands {
            HandsFirst::InOrderAsked if self.follow.is_none() => self.first_asked(),
            _ => self.most_urgent(),
        };
        let Some((pick, rank)) = pick else { return false };
        let walks = !self.shop.walks.is_none();
        let near = if walks {
            self.place_of(pick).and_then(|s| self.nearest_hand(s))
        } else {
            None
        };
        let Some(hand) = near.or_else(|| self.hand_for(rank)) else {
            return false;
        };
        self.carry_out(pick, hand);
        true
    }

    /// So many loads of a line are looked at: all of them by a plan.
    pub(super) fn tries(&self) -> usize {
        if self.follow.is_some() { usize::MAX } else { TRIES }
    }

    fn place_of(&self, pick: Pick) -> Option<u32> {
        match pick {
            Pick::Start { station, .. } => Some(station),
            Pick::TakeOut(i) => self.done.get(i).map(|&l| self.loads[l].station),
            _ => None,
        }
    }

    fn carry_out(&mut self, pick: Pick, hand: u32) {
        match pick {
            Pick::TakeOut(i) => {
                if let Some(load) = self.done.remove(i) {
                    let until = self.day.now() + self.step_of(load).take_out;
                    self.planned_start(load, self.loads[load].step, 1);
                    self.take_hand(hand, load, TaskKind::TakeOut, until);
                    self.lift(load);
                    self.day.move_at(until, Due::TakenOut(load));
                }
            }
            Pick::Start { station, line, at } => self.start(station, line, at, Some(hand)),
            Pick::Resume(i) => {
                let load = self.paused.swap_remove(i);
                self.resume(load, hand);
            }
            Pick::Renew(station) => {
                if let Some(takes) = self.baths.renew_rinse(&self.day, station) {
                    let task = at_station(TaskKind::Renew, StationId(station));
                    self.tend(hand, task, self.day.now() + takes, Due::Renewed(station, hand));
                }
            }
            Pick::Care(tank) => {
                if let Some((kind, until)) = self.baths.take_care(&mut self.day, tank) {
                    let task = at_station(kind, self.plan.tanks[tank as usize]);
                    self.tend(hand, task, until, Due::Tended(tank, hand));
                }
            }
            Pick::Vessel(vessel) => {
                if let Some((kind, station, until)) = self.baths.take_vessel(&self.day, vessel) {
                    let task = Task {
                        vessel: Some(VesselId(vessel)),
                        ..at_station(kind, station)
                    };
                    self.tend(hand, task, until, Due::VesselTended(vessel, hand));
                }
            }
            Pick::TopUp(tank) => {
                let until = self.day.now() + self.plan.rules.top_up.takes;
                let task = at_station(TaskKind::TopUp, self.plan.tanks[tank as usize]);
                self.tend(hand, task, until, Due::ToppedUp(tank, hand));
                self.baths.top_up(tank);
            }
        }
    }

    /// Hands turn to a bath, a vessel or a rinse.
    fn tend(&mut self, hand: u32, task: Task, until: Moment, over: Due) {
        self.take_hand_for(hand, task, until, NONE);
        self.day.move_at(until, over);
    }
}

/// A task at a station that concerns no load.
fn at_station(kind: TaskKind, station: StationId) -> Task {
    Task {
        kind,
        station,
        load: None,
        vessel: None,
    }
}
