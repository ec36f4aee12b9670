//! Plans that take over from each other: loads that are under way go on by the new one.

use super::engine::Engine;
use super::plan::Plan;
use tankday_base::shop::Keeping;

impl Plan {
    /// The tasks that have begun on a day under way: what is past, and what began as noted.
    pub(super) fn begun(&self) -> Vec<u32> {
        let past = (0..).zip(&self.lots).flat_map(|(i, lot)| {
            let steps = (0..lot.steps).filter(|s| lot.past & (1 << s) != 0);
            steps.flat_map(move |step| {
                let task = self.task(i, step);
                [task, task + 1]
            })
        });
        let pinned = (0..self.pinned.len() as u32).filter(|t| self.pinned[*t as usize]);
        past.chain(pinned).collect()
    }

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
        let now = self.floor.day.now();
        let due = self.later.iter().take_while(|(at, _)| *at <= now).count();
        let (over, later) = self.later.split_at(due);
        if let Some((_, plan)) = over.last() {
            self.later = later;
            self.follow_from_now(plan);
        }
    }

    fn follow_from_now(&mut self, plan: &'a Plan) {
        let written = (plan.keeping != Keeping::OwnRules).then_some(plan);
        self.floor.flow.follow_from_now(plan, written);
        self.floor.baths.follow_from_now(written);
        self.dispatch.follow_from_now(&mut self.floor, written);
    }
}
