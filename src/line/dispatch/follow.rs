//! Following a plan: what may start now, and what must wait for its turn.

use super::Dispatch;
use crate::day::Event;
use crate::floor::Floor;
use crate::ids::{HandIx, LineIx, LoadIx};
use crate::plan::Plan;
use crate::state::{NONE, Waiting};
use tankday_base::shop::{Keeping, StationId, StepIx};
use tankday_base::units::Moment;

/// How far a plan has been followed.
#[derive(Debug)]
pub(super) struct PlanDispatcher<'a> {
    pub(super) plan: &'a Plan,
    pub(super) started: Vec<bool>,
    /// For each queue, how many of its tasks have started without a gap.
    cursor: Vec<u32>,
    /// For each head, how many lots of the load stand before the tank.
    gathered: Vec<u32>,
    /// Whether the sequence is kept strictly and leaves nothing out.
    in_sequence: bool,
    /// Whether a task that has started may start once more: an inspection failed, or lots of one load go apart.
    pub(super) again: bool,
}

/// What hands may start by a plan.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Choice {
    /// Whatever waits.
    All,
    /// Only what waits in this line.
    Line(LineIx),
    /// Nothing.
    Nothing,
}

impl<'a> PlanDispatcher<'a> {
    pub(super) fn new(plan: &'a Plan) -> Self {
        Self {
            plan,
            started: vec![false; plan.rank.len()],
            cursor: vec![0; plan.queue_count()],
            gathered: vec![0; plan.lots.len()],
            in_sequence: plan.keeping == Keeping::Strictly && plan.covers_all(),
            again: false,
        }
    }

    /// The same for a day under way: what the plan knows as past or begun has begun.
    fn under_way(plan: &'a Plan) -> Self {
        let mut follow = Self::new(plan);
        for task in plan.begun() {
            follow.start(task);
        }
        follow
    }

    /// What hands may start now: in a sequence that is kept strictly and leaves nothing out only their next task, as long
    /// as nothing is done again.
    pub(super) fn choice(&self) -> Choice {
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
    }
}

impl<'a> Dispatch<'a> {
    /// From here on this plan is followed, or none: what waits stands in its order, and what is to be done is marked anew.
    pub(crate) fn follow_from_now(&mut self, floor: &mut Floor<'_>, written: Option<&'a Plan>) {
        self.follow = written.map(PlanDispatcher::under_way);
        let lines: Vec<LineIx> = self.lines.ids().collect();
        for line in lines {
            self.line_up(floor, line);
        }
        for at in 0..self.done.len() {
            self.planned_done(floor, self.done[at]);
        }
        for station in self.stations.ids() {
            floor.day.mark(station);
        }
    }

    /// Those who wait in a line stand in the order of the plan now, and are held back by it.
    fn line_up(&mut self, floor: &mut Floor<'_>, line: LineIx) {
        let waiting: Vec<Waiting> = self.lines[line].0.drain(..).collect();
        for entry in waiting
            .into_iter()
            .filter(|e| floor.flow.fresh(e))
            .collect::<Vec<_>>()
        {
            let key = self.key(floor, entry.load, entry.step, entry.since);
            let hold = self.held_until(floor, entry.load, entry.step);
            self.lines[line].join(Waiting { key, hold, ..entry });
            self.planned_wait(floor, entry.load, entry.step);
        }
    }
}

impl Dispatch<'_> {
    /// Whether no load behind this one in its line can start either. Lines stand in the order of the sequence, and what
    /// has started before stands in front of what has not: where it is not this one's turn, what is next is not behind it.
    pub(super) fn ends_the_turns(&self, floor: &Floor<'_>, entry: &Waiting) -> bool {
        let Some(follow) = self.follow.as_ref().filter(|f| f.in_sequence) else {
            return false;
        };
        floor
            .flow
            .task_of(entry.load, entry.step)
            .is_some_and(|task| !follow.is_next(task))
    }

    /// The place in the sequence, for the waiting line.
    pub(super) fn planned_key(&self, floor: &Floor<'_>, load: LoadIx, step: StepIx) -> Option<i64> {
        let task = floor.flow.task_of(load, step)?;
        let rank = self.follow.as_ref()?.plan.rank[task as usize];
        (rank != NONE).then_some(i64::from(rank))
    }

    /// Before this a load does not start a step, by the plan.
    pub(super) fn held_until(&self, floor: &Floor<'_>, load: LoadIx, step: StepIx) -> Moment {
        let task = floor.flow.task_of(load, step);
        let hold = task.and_then(|t| self.follow.as_ref()?.plan.hold.get(t as usize));
        hold.copied().unwrap_or(Moment::ZERO)
    }

    /// A load stands in line for a step: it may be held back, or be one of several that go in together.
    pub(super) fn planned_wait(&mut self, floor: &mut Floor<'_>, load: LoadIx, step: StepIx) {
        let Some(task) = floor.flow.task_of(load, step) else {
            return;
        };
        let here = floor.flow.step_plan(&floor.flow[load], step);
        let (coats, line) = (here.bath.is_some(), here.line);
        let lot = floor.flow[load].of.lot;
        let apart = !coats && floor.flow.is_apart(load, step);
        let mut hold = Moment::ZERO;
        if let Some(follow) = self.follow.as_mut() {
            if apart || follow.started[task as usize] {
                follow.again = true;
                floor.baths.starts_again();
            }
            if coats {
                follow.gathered[follow.plan.head[lot as usize] as usize] += 1;
            }
            hold = follow.plan.hold[task as usize];
        }
        if hold > floor.day.now() {
            floor.day.move_at(hold, Event::Hold(Some(line)));
        }
    }

    /// What hands may start now.
    pub(super) fn choice(&self) -> Choice {
        self.follow.as_ref().map_or(Choice::All, PlanDispatcher::choice)
    }

    /// A load is done and waits to be taken out: it may be held back.
    pub(crate) fn planned_done(&mut self, floor: &mut Floor<'_>, load: LoadIx) {
        let (step, station) = (floor.flow[load].step, floor.flow[load].station);
        let task = floor.flow.task_of(load, step);
        let hold = task.and_then(|t| self.follow.as_ref().map(|f| f.plan.hold[t as usize + 1]));
        if let Some(hold) = hold.filter(|h| *h > floor.day.now()) {
            let line = self.plan.stations[station].lines.first().copied();
            floor.day.move_at(hold, Event::Hold(line));
        }
    }

    /// Whether the plan lets a waiting load start at a station now.
    pub(super) fn turn_to_start(
        &mut self,
        floor: &mut Floor<'_>,
        entry: &Waiting,
        station: StationId,
    ) -> bool {
        if self.follow.is_none() && self.shop.walks.is_none() {
            return true;
        }
        let turn = match (floor.flow.task_of(entry.load, entry.step), &self.follow) {
            (Some(task), Some(follow)) => {
                follow.plan.hold[task as usize] <= floor.day.now()
                    && follow.is_next(task)
                    && self.whole(floor, entry, station)
            }
            _ => true,
        };
        turn && (!floor.flow.plan_of(entry).starts_with_hands() || self.hands_there(floor, station))
    }

    /// Whether the hands may take a load out now.
    pub(super) fn turn_to_take_out(&mut self, floor: &mut Floor<'_>, load: LoadIx) -> bool {
        if self.follow.is_none() && self.shop.walks.is_none() {
            return true;
        }
        let (step, station) = (floor.flow[load].step, floor.flow[load].station);
        let must = floor.day.away().is_some() && self.plan.stations[station].tank.is_some();
        let turn = match (floor.flow.task_of(load, step), &self.follow) {
            (Some(task), Some(follow)) if !must => {
                follow.plan.hold[task as usize + 1] <= floor.day.now() && follow.is_next(task + 1)
            }
            _ => true,
        };
        turn && self.hands_there(floor, station)
    }

    /// Whether all of a load stand before the tank that it is meant for.
    fn whole(&self, floor: &Floor<'_>, entry: &Waiting, station: StationId) -> bool {
        let Some(follow) = &self.follow else { return true };
        if floor.flow.plan_of(entry).bath.is_none() {
            return true;
        }
        let lot = floor.flow[entry.load].of.lot;
        let tank = follow.plan.tank_of(lot);
        (tank == NONE || StationId(tank) == station)
            && (floor.flow[entry.load].of.next_lot != LoadIx::NONE
                || follow.gathered[follow.plan.head[lot as usize] as usize] >= follow.plan.load_size(lot))
    }

    pub(super) fn follows_strictly(&self) -> bool {
        self.follow
            .as_ref()
            .is_some_and(|f| f.plan.keeping == Keeping::Strictly)
    }

    /// A task has begun.
    pub(crate) fn planned_start(&mut self, floor: &mut Floor<'_>, load: LoadIx, step: StepIx, out: u32) {
        let Some(task) = floor.flow.task_of(load, step) else {
            return;
        };
        let apart = floor.flow.is_apart(load, step);
        if let Some(follow) = self.follow.as_mut() {
            if apart {
                follow.again = true;
                floor.baths.starts_again();
            }
            follow.start(task + out);
            floor.baths.task_starts(task + out);
        }
    }

    /// Whether free hands can stand at a station by now; if not, looks again when they can.
    fn hands_there(&mut self, floor: &mut Floor<'_>, station: StationId) -> bool {
        if self.shop.walks.is_none() {
            return true;
        }
        let walks = &self.shop.walks;
        let free = self
            .hands_here()
            .map(|h| &self.hands[h])
            .filter(|h| h.task.is_none());
        let there = free.map(|h| h.free_since + walks.between(h.at, station)).min();
        match there {
            Some(at) if at <= floor.day.now() => true,
            Some(at) => {
                if self.walking != at {
                    self.walking = at;
                    floor.day.move_at(at, Event::Hold(None));
                }
                false
            }
            None => false,
        }
    }

    /// The free hands that stand at a station, or the first.
    pub(super) fn nearest_hand(&self, floor: &Floor<'_>, station: StationId) -> Option<HandIx> {
        let walks = &self.shop.walks;
        let there = |h: &crate::state::Hand| h.free_since + walks.between(h.at, station) <= floor.day.now();
        self.hands_here()
            .find(|&h| self.hands[h].task.is_none() && there(&self.hands[h]))
    }
}
