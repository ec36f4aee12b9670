//! Plans that take over from each other: loads that are under way go on by the new one.

use super::engine::Engine;
use super::follow::Following;
use super::plan::Plan;
use super::state::{Phase, Waiting};
use tankday_base::shop::Keeping;

impl Plan {
    /// Tells a plan in the numbers of the shop that has so many orders: those behind them are orders of streams that have
    /// come, in that order, each with its source and its number there.
    pub fn came(&mut self, orders: usize, came: &[(u32, u32)]) {
        let known = self.first_lot.len().min(orders);
        for (first, &(source, nth)) in self.first_lot.split_off(known).into_iter().zip(came) {
            self.came.insert((source, nth), first);
        }
        for lot in &mut self.lots {
            if let Some(&(source, _)) = (lot.order as usize).checked_sub(orders).and_then(|i| came.get(i)) {
                lot.order = source;
            }
        }
    }
}

impl<'a> Engine<'a> {
    /// From here on the line follows the plan whose moment has come, if there is one.
    pub(super) fn take_over(&mut self) {
        let due = self.later.iter().take_while(|(at, _)| *at <= self.now).count();
        let (over, later) = self.later.split_at(due);
        if let Some((_, plan)) = over.last() {
            self.later = later;
            self.follow_from_now(plan);
        }
    }

    fn follow_from_now(&mut self, plan: &'a Plan) {
        self.follow = (plan.keeping != Keeping::OwnRules).then(|| Following::under_way(plan, self.plan));
        let all: Vec<(u32, u32)> = self
            .loads
            .all()
            .map(|(i, l)| (i, plan.lot_of(l.source, l.nth.0, l.nth.1)))
            .collect();
        for (load, lot) in all {
            self.loads[load].lot = lot;
        }
        for line in 0..self.lines.len() {
            self.line_up(line as u32);
        }
        for at in 0..self.done.len() {
            self.planned_done(self.done[at]);
        }
        for station in 0..self.stations.len() as u32 {
            self.mark(station);
        }
    }

    /// Those who wait in a line stand in the order of the plan now, and are held back by it.
    fn line_up(&mut self, line: u32) {
        let waiting: Vec<Waiting> = self.lines[line as usize].0.drain(..).collect();
        for entry in waiting {
            if !self.fresh(&entry) || self.loads[entry.load].phase != Phase::Waiting {
                continue;
            }
            let key = self.key(entry.load, entry.step, entry.since);
            self.lines[line as usize].join(Waiting { key, ..entry });
            self.planned_wait(entry.load, entry.step);
        }
    }
}
