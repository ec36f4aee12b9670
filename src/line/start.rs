//! What becomes possible, starts: first what needs no hands, then what free hands turn to.

use super::engine::{Due, Engine};
use super::state::{NONE, Phase, Place, Waiting};
use crate::record::{Breach, Event, Task, TaskKind, Watcher};
use crate::shop::{AtBreak, Hands, HandsFirst, NextLoad, RouteId, StationId, StepIx, StepRef};
use crate::units::{Moment, Span};

/// So many loads of one line are looked at before the line is passed over.
const TRIES: usize = 12;

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
}

/// How pressing it is: class, then key, then when it was asked for. The least goes first.
pub(super) type Rank = (u8, i64, i64);

/// Must not wait.
pub(super) const MUST: u8 = 0;
/// Feeds a tank.
pub(super) const FEED: u8 = 1;
/// All else.
pub(super) const REST: u8 = 2;

impl<W: Watcher> Engine<'_, W> {
    /// Phase 3: starts everything that has become possible.
    pub(super) fn settle(&mut self) {
        loop {
            while let Some(station) = self.dirty.pop() {
                self.stations[station as usize].dirty = false;
                self.start_alone(station);
            }
            if !self.hands_turn() && self.dirty.is_empty() {
                return;
            }
        }
    }

    #[inline]
    pub(super) fn has_place(&self, station: u32) -> bool {
        self.stations[station as usize].used < self.plan.stations[station as usize].places
    }

    /// Starts what needs no hands at a station while there is room.
    fn start_alone(&mut self, station: u32) {
        let plan = self.plan;
        while self.has_place(station) {
            let mut best: Option<(i64, u32, usize)> = None;
            for &line in &plan.stations[station as usize].lines {
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
        for at in 0..self.lines[line as usize].0.len().min(TRIES) {
            let entry = self.lines[line as usize].0[at];
            let step = self.plan_of(&entry);
            if !step.starts_with_hands() && self.fresh(&entry) && self.may_enter(station, line, at) {
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

    fn may_enter(&mut self, station: u32, line: u32, at: usize) -> bool {
        match self.plan.stations[station as usize].tank {
            Some(tank) => self.may_charge(tank, station, line, at),
            None => true,
        }
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
        let mut at = 0;
        while members < together && at < self.lines[line as usize].0.len() {
            let entry = self.lines[line as usize].0[at];
            if !self.fresh(&entry) {
                self.lines[line as usize].take(at);
            } else if self.plan_of(&entry).starts_with_hands() {
                at += 1;
            } else {
                self.lines[line as usize].take(at);
                self.loads[last].place = Place::Shared;
                self.enter(entry.load, entry.step, station, Place::Shared);
                self.loads[entry.load].place = Place::Held;
                self.loads[last].next_in_group = entry.load;
                last = entry.load;
                members += 1;
            }
        }
        self.work_begins(first.load);
        self.group_begins(first.load);
    }

    /// The rest of a group begins with its leader and has its times.
    fn group_begins(&mut self, leader: u32) {
        let (planned, until) = (self.loads[leader].planned, self.loads[leader].until);
        let mut load = self.loads[leader].next_in_group;
        while load != NONE {
            let most = self.step_of(load).most;
            let now = self.now;
            let l = &mut self.loads[load];
            l.phase = Phase::Working;
            l.begun = now;
            l.planned = planned;
            l.until = until;
            l.latest = most.map_or(Moment::NEVER, |m| now + m);
            let (no, station, next) = (l.no, StationId(l.station), l.next_in_group);
            if W::WATCHES {
                let step = self.step_ref(load);
                self.note(|| Event::WorkBegins {
                    load: no,
                    step,
                    station,
                    planned,
                    most,
                });
            }
            load = next;
        }
    }

    /// A load takes a place at a station.
    fn enter(&mut self, load: u32, step: u32, station: u32, place: Place) {
        let now = self.now;
        let l = &mut self.loads[load];
        l.stamp += 1;
        l.step = step;
        l.station = station;
        l.place = place;
        let (no, route, ended) = (l.no, l.route, l.ended);
        let s = &mut self.stations[station as usize];
        if place == Place::Held {
            s.used += 1;
        }
        s.last_route = route;
        let step_ref = StepRef {
            route: RouteId(route),
            step: StepIx(step),
        };
        self.note(|| Event::SetIn {
            load: no,
            step: step_ref,
            station: StationId(station),
        });
        let within = self.step_of(load).within;
        if let Some(by) = within.map(|w| now - (ended + w)).filter(|by| *by > Span::ZERO) {
            self.note(|| Event::Breaks {
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
                self.take_hand(hand, load, TaskKind::Work, self.now + expected);
                self.work_begins(load);
                self.hands[hand as usize].until = self.now + expected;
            }
            (Hands::Ends, Some(hand)) => {
                let until = self.now + put_in;
                self.take_hand(hand, load, TaskKind::PutIn, until);
                self.loads[load].phase = Phase::PuttingIn;
                self.loads[load].until = until;
                self.move_at(until, Due::PutIn(load));
            }
            _ => self.work_begins(load),
        }
    }

    fn watch(&mut self, load: u32) {
        self.watched.push(load);
        let (put_in, most) = (self.step_of(load).put_in, self.step_of(load).most);
        let begins = self.now + put_in;
        self.loads[load].latest = most.map_or(Moment::NEVER, |m| begins + m);
        self.loads[load].until = begins;
    }

    /// Free hands turn to the most pressing thing that they may do now. False if there is none.
    fn hands_turn(&mut self) -> bool {
        if self.free_hands == 0 && !self.may_interrupt() {
            return false;
        }
        let pick = match self.plan.rules.hands {
            HandsFirst::InOrderAsked => self.first_asked(),
            HandsFirst::Urgent => self.most_urgent(),
        };
        let Some((pick, rank)) = pick else { return false };
        let Some(hand) = self.hand_for(rank) else {
            return false;
        };
        self.carry_out(pick, hand);
        true
    }

    fn carry_out(&mut self, pick: Pick, hand: u32) {
        match pick {
            Pick::TakeOut(i) => {
                if let Some(load) = self.done.remove(i) {
                    let until = self.now + self.step_of(load).take_out;
                    self.take_hand(hand, load, TaskKind::TakeOut, until);
                    self.lift(load);
                    self.move_at(until, Due::TakenOut(load));
                }
            }
            Pick::Start { station, line, at } => self.start(station, line, at, Some(hand)),
            Pick::Resume(i) => {
                let load = self.paused.swap_remove(i);
                self.resume(load, hand);
            }
            Pick::TopUp(tank) => {
                let until = self.now + self.plan.rules.top_up.takes;
                let task = Task {
                    kind: TaskKind::TopUp,
                    station: self.plan.tanks[tank as usize],
                    load: None,
                };
                self.take_hand_for(hand, task, until, NONE);
                self.tanks[tank as usize].topping = Some(hand);
                self.move_at(until, Due::ToppedUp(tank));
            }
        }
    }

    /// Hands in the order in which they were asked for.
    fn first_asked(&mut self) -> Option<(Pick, Rank)> {
        if !self.on_duty {
            return None;
        }
        let mut best: Option<(Pick, Rank)> = None;
        if let Some(&load) = self.done.front() {
            best = Some((Pick::TakeOut(0), (REST, self.loads[load].asked.in_micros(), 0)));
        }
        for (i, &load) in self.paused.iter().enumerate() {
            better(
                &mut best,
                Pick::Resume(i),
                (REST, self.loads[load].asked.in_micros(), 0),
            );
        }
        for station in 0..self.plan.stations.len() as u32 {
            if !self.plan.stations[station as usize].with_hands || !self.has_place(station) {
                continue;
            }
            if let Some((line, at, _)) = self.best_of_station(station) {
                let since = self.lines[line as usize].0[at].since;
                let asked = since.max(self.stations[station as usize].free_since).in_micros();
                better(&mut best, Pick::Start { station, line, at }, (REST, asked, 1));
            }
        }
        self.offer_top_ups(&mut best);
        best
    }

    /// The best of everything that hands may turn to.
    fn most_urgent(&mut self) -> Option<(Pick, Rank)> {
        let mut best: Option<(Pick, Rank)> = None;
        for i in 0..self.done.len() {
            let load = self.done[i];
            let latest = self.loads[load].latest;
            let class = if latest < Moment::NEVER { MUST } else { REST };
            let key = if class == MUST {
                latest
            } else {
                self.loads[load].due
            };
            let rank = (class, key.in_micros(), self.loads[load].asked.in_micros());
            if self.allowed(class, latest)
                && (class == MUST || self.leaves_time(self.step_of(load).chain, false, None))
            {
                better(&mut best, Pick::TakeOut(i), rank);
            }
        }
        if self.on_duty {
            for i in 0..self.paused.len() {
                let asked = self.loads[self.paused[i]].asked.in_micros();
                better(&mut best, Pick::Resume(i), (REST, i64::MIN, asked));
            }
            self.offer_top_ups(&mut best);
        }
        for station in 0..self.plan.stations.len() as u32 {
            if !self.plan.stations[station as usize].with_hands || !self.has_place(station) {
                continue;
            }
            if let Some((line, at, rank)) = self.best_of_station(station) {
                better(&mut best, Pick::Start { station, line, at }, rank);
            }
        }
        best
    }

    /// The load that would start next at a station under hands.
    fn best_of_station(&mut self, station: u32) -> Option<(u32, usize, Rank)> {
        let plan = self.plan;
        let mut best: Option<(u32, usize, Rank)> = None;
        for &line in &plan.stations[station as usize].lines {
            self.drop_stale(line);
            for at in 0..self.lines[line as usize].0.len().min(TRIES) {
                let entry = self.lines[line as usize].0[at];
                if !self.fresh(&entry) || !self.plan_of(&entry).starts_with_hands() {
                    continue;
                }
                let rank = self.rank(&entry, station);
                if best.is_none_or(|b| rank < b.2) && self.may_start(&entry, rank, station, line, at) {
                    best = Some((line, at, rank));
                }
            }
        }
        best
    }

    fn rank(&self, entry: &Waiting, station: u32) -> Rank {
        let step = self.plan_of(entry);
        let since = entry.since.in_micros();
        if self.plan.rules.hands == HandsFirst::InOrderAsked {
            return (REST, entry.key, since);
        }
        if step.wet() && step.bath.is_none() {
            return (MUST, entry.latest.in_micros(), since);
        }
        let strange = self.plan.rules.next == NextLoad::SameRouteTogether
            && self.stations[station as usize].last_route != self.loads[entry.load].route;
        let key = if strange {
            entry.key.saturating_add(i64::MAX / 4)
        } else {
            entry.key
        };
        (if step.bath.is_some() { FEED } else { REST }, key, since)
    }

    fn may_start(&mut self, entry: &Waiting, rank: Rank, station: u32, line: u32, at: usize) -> bool {
        if !self.allowed(rank.0, entry.latest) || !self.may_enter(station, line, at) {
            return false;
        }
        if rank.0 == MUST || self.plan.rules.hands == HandsFirst::InOrderAsked {
            return true;
        }
        let step = self.plan_of(entry);
        let pausable = step.hands == Hands::Throughout && step.at_break == AtBreak::Pause;
        let (time, put_in) = (step.hands_at_start(), step.put_in);
        let promise = self.promise_of(entry, put_in, station);
        self.before_closing(time, pausable, promise) && self.leaves_time(time, pausable, promise)
    }

    fn offer_top_ups(&mut self, best: &mut Option<(Pick, Rank)>) {
        for tank in 0..self.tanks.len() as u32 {
            if self.wants_water(tank) && self.leaves_time(self.plan.rules.top_up.takes, false, None) {
                better(best, Pick::TopUp(tank), (FEED, i64::MIN, i64::from(tank)));
            }
        }
    }
}

fn better(best: &mut Option<(Pick, Rank)>, pick: Pick, rank: Rank) {
    if best.as_ref().is_none_or(|b| rank < b.1) {
        *best = Some((pick, rank));
    }
}
