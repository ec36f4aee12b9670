//! Following a plan: what may start now, and what must wait for its turn.

use super::compile::Compiled;
use super::engine::{Due, Engine};
use super::plan::Plan;
use super::planned_loads::{self, Planned};
use super::state::{NONE, Waiting};
use crate::kernel::STARTS;
use tankday_base::shop::{Keeping, StationId};
use tankday_base::units::Moment;
use tankday_record::CareKind;

/// How far a plan has been followed.
#[derive(Debug)]
pub(super) struct Following<'a> {
    pub(super) plan: &'a Plan,
    pub(super) started: Vec<bool>,
    /// For each queue, how many of its tasks have started without a gap.
    cursor: Vec<u32>,
    /// For each head, how many lots of the load stand before the tank.
    gathered: Vec<u32>,
    /// For each care of the plan whether it has begun.
    cared: Vec<bool>,
    /// And whether it was asked for before its time.
    asked: Vec<bool>,
    /// Whether the sequence is kept strictly and leaves nothing out.
    in_sequence: bool,
    /// Whether a task that has started may start once more: an inspection failed, or lots of one load go apart.
    pub(super) again: bool,
    /// For each tank the loads that the plan has for it, in the order of their times; none where others may come.
    pub(super) baths: Option<Vec<Planned>>,
}

/// What hands may start by a plan.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Choice {
    /// Whatever waits.
    All,
    /// Only what waits in this line.
    Line(u32),
    /// Nothing.
    Nothing,
}

impl<'a> Following<'a> {
    pub(super) fn new(plan: &'a Plan, line: &Compiled) -> Self {
        Self {
            plan,
            baths: planned_loads::of(plan, line),
            started: vec![false; plan.rank.len()],
            cursor: vec![0; plan.queue_count()],
            gathered: vec![0; plan.lots.len()],
            cared: vec![false; plan.care.len()],
            asked: vec![false; plan.care.len()],
            in_sequence: plan.keeping == Keeping::Strictly && plan.covers_all(),
            again: false,
        }
    }

    /// The same for a day under way: what the plan knows as past or begun has begun.
    pub(super) fn under_way(plan: &'a Plan, line: &Compiled) -> Self {
        let mut follow = Self::new(plan, line);
        for (i, lot) in (0..).zip(&plan.lots) {
            for step in (0..lot.steps).filter(|s| lot.past & (1 << s) != 0) {
                let task = plan.task(i, step);
                follow.start(task);
                follow.start(task + 1);
            }
        }
        for task in (0..plan.pinned.len() as u32).filter(|t| plan.pinned[*t as usize]) {
            follow.start(task);
        }
        follow
    }

    /// What hands may start now: in a sequence that is kept strictly and leaves nothing out only their next task, as long
    /// as nothing is done again.
    fn choice(&self) -> Choice {
        if !self.in_sequence || self.again {
            return Choice::All;
        }
        let hands = self.plan.queue_count() - 1;
        match self.plan.queue(hands).get(self.cursor[hands] as usize) {
            Some(&task) if task & 1 == 0 => Choice::Line(self.plan.line_of(task)),
            _ => Choice::Nothing,
        }
    }

    /// Whether it is the turn of a task; one that was started before may always be started again.
    fn is_next(&self, task: u32) -> bool {
        if self.plan.keeping != Keeping::Strictly
            || self.plan.rank[task as usize] == NONE
            || self.started[task as usize]
        {
            return true;
        }
        self.plan.queues_of(task).into_iter().flatten().all(|q| {
            let next = self.plan.queue(q).get(self.cursor[q] as usize);
            next.is_none_or(|&t| t == task)
        })
    }

    /// The next care of a kind at a tank that has not begun.
    fn next_care(&self, station: StationId, kind: CareKind) -> Option<usize> {
        let all = self.plan.care.iter().zip(&self.cared);
        all.enumerate()
            .find(|(_, (c, done))| !**done && c.0 == station && c.1 == kind)
            .map(|(i, _)| i)
    }

    fn start(&mut self, task: u32) {
        self.started[task as usize] = true;
        for q in self.plan.queues_of(task).into_iter().flatten() {
            let queue = self.plan.queue(q);
            let mut at = self.cursor[q] as usize;
            while queue.get(at).is_some_and(|&t| self.started[t as usize]) {
                at += 1;
            }
            self.cursor[q] = at as u32;
        }
        for bath in self.baths.iter_mut().flatten() {
            bath.pass(&self.started);
        }
    }
}

impl Engine<'_> {
    /// The task that starts a step for a load, if it is planned.
    pub(super) fn task_of(&self, load: u32, step: u32) -> Option<u32> {
        let follow = self.follow.as_ref()?;
        let lot = self.loads[load].lot;
        if lot == NONE {
            return None;
        }
        let planned = &follow.plan.lots[lot as usize];
        let with_load = planned.bath_step.is_some_and(|b| step >= b);
        let head = if with_load {
            follow.plan.head[lot as usize]
        } else {
            lot
        };
        Some(follow.plan.task(head, step))
    }

    /// Whether no load behind this one in its line can start either. Lines stand in the order of the sequence, and what
    /// has started before stands in front of what has not: where it is not this one's turn, what is next is not behind it.
    pub(super) fn ends_the_turns(&self, entry: &Waiting) -> bool {
        let Some(follow) = self.follow.as_ref().filter(|f| f.in_sequence) else {
            return false;
        };
        self.task_of(entry.load, entry.step)
            .is_some_and(|task| !follow.is_next(task))
    }

    /// The place in the sequence, for the waiting line.
    pub(super) fn planned_key(&self, load: u32, step: u32) -> Option<i64> {
        let task = self.task_of(load, step)?;
        let rank = self.follow.as_ref()?.plan.rank[task as usize];
        (rank != NONE).then_some(i64::from(rank))
    }

    /// A load stands in line for a step: it may be held back, or be one of several that go in together.
    pub(super) fn planned_wait(&mut self, load: u32, step: u32) {
        let Some(task) = self.task_of(load, step) else {
            return;
        };
        let coats = self.step_at(load, step).bath.is_some();
        let line = self.step_at(load, step).line;
        let lot = self.loads[load].lot;
        let apart = !coats && self.is_apart(load, step);
        let mut hold = Moment::ZERO;
        if let Some(follow) = self.follow.as_mut() {
            follow.again |= apart || follow.started[task as usize];
            if coats {
                follow.gathered[follow.plan.head[lot as usize] as usize] += 1;
            }
            hold = follow.plan.hold[task as usize];
        }
        if hold > self.now {
            self.move_at(hold, Due::Hold(line));
        }
    }

    /// Whether a load is only a part of the planned one from whose bath on it has no tasks of its own.
    fn is_apart(&self, load: u32, step: u32) -> bool {
        let Some(follow) = &self.follow else { return false };
        let l = &self.loads[load];
        let with_load = follow.plan.lots[l.lot as usize]
            .bath_step
            .is_some_and(|b| step >= b);
        with_load && l.lots < follow.plan.load_size(l.lot)
    }

    /// What hands may start now.
    pub(super) fn choice(&self) -> Choice {
        self.follow.as_ref().map_or(Choice::All, Following::choice)
    }

    /// A load is done and waits to be taken out: it may be held back.
    pub(super) fn planned_done(&mut self, load: u32) {
        let (step, station) = (self.loads[load].step, self.loads[load].station);
        let task = self.task_of(load, step);
        let hold = task.and_then(|t| self.follow.as_ref().map(|f| f.plan.hold[t as usize + 1]));
        if let Some(hold) = hold.filter(|h| *h > self.now) {
            let line = self.plan.stations[station as usize].lines.first().copied();
            self.move_at(hold, Due::Hold(line.unwrap_or(NONE)));
        }
    }

    fn step_at(&self, load: u32, step: u32) -> &super::compile::StepPlan {
        &self.plan.routes[self.loads[load].route as usize].steps[step as usize]
    }

    /// Whether the plan lets a waiting load start at a station now.
    pub(super) fn turn_to_start(&mut self, entry: &Waiting, station: u32) -> bool {
        if self.follow.is_none() && self.shop.walks.is_none() {
            return true;
        }
        let turn = match (self.task_of(entry.load, entry.step), &self.follow) {
            (Some(task), Some(follow)) => {
                follow.plan.hold[task as usize] <= self.now
                    && follow.is_next(task)
                    && self.whole(entry, station)
            }
            _ => true,
        };
        turn && (!self.plan_of(entry).starts_with_hands() || self.hands_there(StationId(station)))
    }

    /// Whether the hands may take a load out now.
    pub(super) fn turn_to_take_out(&mut self, load: u32) -> bool {
        if self.follow.is_none() && self.shop.walks.is_none() {
            return true;
        }
        let (step, station) = (self.loads[load].step, self.loads[load].station);
        let must = self.away().is_some() && self.plan.stations[station as usize].tank.is_some();
        let turn = match (self.task_of(load, step), &self.follow) {
            (Some(task), Some(follow)) if !must => {
                follow.plan.hold[task as usize + 1] <= self.now && follow.is_next(task + 1)
            }
            _ => true,
        };
        turn && self.hands_there(StationId(station))
    }

    /// Whether all of a load stand before the tank that it is meant for.
    fn whole(&self, entry: &Waiting, station: u32) -> bool {
        let Some(follow) = &self.follow else { return true };
        if self.plan_of(entry).bath.is_none() {
            return true;
        }
        let lot = self.loads[entry.load].lot;
        let tank = follow.plan.tank_of(lot);
        (tank == NONE || tank == station)
            && (self.loads[entry.load].next_lot != NONE
                || follow.gathered[follow.plan.head[lot as usize] as usize] >= follow.plan.load_size(lot))
    }

    /// Whether two lots are to go in together; none if the plan does not say.
    pub(super) fn planned_together(&self, a: u32, b: u32) -> Option<bool> {
        let follow = self.follow.as_ref()?;
        let (a, b) = (self.loads[a].lot, self.loads[b].lot);
        if a == NONE && b == NONE {
            return None;
        }
        Some(a != NONE && b != NONE && follow.plan.head[a as usize] == follow.plan.head[b as usize])
    }

    /// Whether a plan says when this load goes into its tank.
    pub(super) fn is_planned(&self, load: u32) -> bool {
        self.follow.is_some() && self.loads[load].lot != NONE
    }

    pub(super) fn follows_strictly(&self) -> bool {
        self.follow
            .as_ref()
            .is_some_and(|f| f.plan.keeping == Keeping::Strictly)
    }

    /// Whether care may begin at a tank now; if it is held back, looks again at its time.
    pub(super) fn care_may_begin(&mut self, station: StationId, kind: CareKind) -> bool {
        let now = self.now;
        let Some(follow) = &mut self.follow else {
            return true;
        };
        let Some(i) = follow.next_care(station, kind) else {
            return true;
        };
        let hold = follow.plan.care[i].2;
        if hold <= now {
            return true;
        }
        if !std::mem::replace(&mut follow.asked[i], true) {
            self.agenda.schedule(hold, STARTS, Due::Look(station.0));
        }
        false
    }

    /// Care has begun.
    pub(super) fn planned_care(&mut self, station: StationId, kind: CareKind) {
        if let Some(follow) = &mut self.follow
            && let Some(i) = follow.next_care(station, kind)
        {
            follow.cared[i] = true;
        }
    }

    /// A task has begun.
    pub(super) fn planned_start(&mut self, load: u32, step: u32, out: u32) {
        let Some(task) = self.task_of(load, step) else {
            return;
        };
        let apart = self.is_apart(load, step);
        if let Some(follow) = self.follow.as_mut() {
            follow.again |= apart;
            follow.start(task + out);
        }
    }

    /// Whether free hands can stand at a station by now; if not, looks again when they can.
    fn hands_there(&mut self, station: StationId) -> bool {
        if self.shop.walks.is_none() {
            return true;
        }
        let walks = &self.shop.walks;
        let free = self.hands.iter().filter(|h| h.task.is_none());
        let there = free.map(|h| h.free_since + walks.between(h.at, station)).min();
        match there {
            Some(at) if at <= self.now => true,
            Some(at) => {
                if self.walking != at {
                    self.walking = at;
                    self.move_at(at, Due::Hold(NONE));
                }
                false
            }
            None => false,
        }
    }

    /// The free hands that stand at a station, or the first.
    pub(super) fn nearest_hand(&self, station: u32) -> Option<u32> {
        let walks = &self.shop.walks;
        let there =
            |h: &super::state::Hand| h.free_since + walks.between(h.at, StationId(station)) <= self.now;
        self.hands
            .iter()
            .position(|h| h.task.is_none() && there(h))
            .map(|h| h as u32)
    }

    /// Where hands stand after a task with a load: taking out carries it to the next station.
    pub(super) fn stands_at(&self, load: u32, taken_out: bool) -> StationId {
        let l = &self.loads[load];
        let route = &self.plan.routes[l.route as usize];
        let here = StationId(l.station);
        if !taken_out {
            return here;
        }
        let done = l.done | 1 << l.step;
        let next =
            (0..route.steps.len()).find(|&s| done & (1 << s) == 0 && route.steps[s].before & !done == 0);
        next.and_then(|s| self.plan.lines[route.steps[s].line as usize].first().copied())
            .unwrap_or(here)
    }
}
