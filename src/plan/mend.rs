//! Mends a plan that breaks limits: what came too early for what follows is held back.

use super::judge::CostObserver;
use super::model::SearchContext;
use tankday_base::units::{Moment, Span};
use tankday_record::Breach;

impl SearchContext<'_> {
    /// What to hold back until when, so that the limits that were broken are kept.
    pub(super) fn mended(&self, judge: &CostObserver<'_>) -> Vec<(u32, Moment)> {
        let mut holds = Vec::new();
        for broken in &judge.broken {
            let (by, mut task) = match broken.what {
                Breach::StayedTooLong { by } => (by, broken.task),
                // It goes in when somebody is there again.
                Breach::InAtBreak { .. } => {
                    let begun = judge.begun[broken.task as usize];
                    let days = self.shop.calendar.days.iter();
                    let mut alone = days.flat_map(|d| &d.breaks).filter(|b| !b.stays);
                    match alone.find(|b| b.from > begun) {
                        Some(pause) => (pause.until - begun, broken.task),
                        None => continue,
                    }
                }
                // Of lots that go in together each has come its own way to the bath.
                Breach::WaitedTooLong { by } => match self.step_before(broken.lot, broken.task) {
                    Some(before) => (by, before + 1),
                    None => continue,
                },
            };
            let mut by = by;
            while let Some((at, more)) = self.hold_back(judge, task, by) {
                // What has begun cannot be held back any more.
                if self.blank.pinned[at.0 as usize] {
                    break;
                }
                holds.push((at.0, at.1));
                match more {
                    Some((next, left)) => (task, by) = (next, left),
                    None => break,
                }
            }
        }
        holds
    }

    /// Holds a task back by so much. If the load would stay too long at the station before, that is held back too.
    #[allow(clippy::type_complexity)]
    fn hold_back(
        &self,
        judge: &CostObserver<'_>,
        task: u32,
        by: Span,
    ) -> Option<((u32, Moment), Option<(u32, Span)>)> {
        let (lot, step) = *self.owner.get(task as usize)?;
        let start = task & !1;
        let handed = |t: u32| self.blank.by_hand(t);
        if task & 1 == 1 {
            if !handed(task) {
                return self.hold_back(judge, start, by);
            }
            let over = self.longest(lot, step).map(|m| {
                let begun = judge.begun[start as usize] + self.put_in(lot, step);
                judge.begun[task as usize] + by - begun - m
            });
            let more = over.filter(|o| *o > Span::ZERO).map(|o| (start, o));
            return Some(((task, judge.begun[task as usize] + by), more));
        }
        match self.step_before(lot, start) {
            // What goes in by itself, or at once, goes in when it is lifted from the step before.
            Some(before) if (!handed(start) || self.step(lot, step).at_once) && handed(before + 1) => {
                self.hold_back(judge, before + 1, by)
            }
            _ => Some(((start, judge.begun[start as usize] + by), None)),
        }
    }

    /// The start task of the step that comes before on the route of a lot; in a load that of the load.
    fn step_before(&self, lot: u32, task: u32) -> Option<u32> {
        let (head, step) = *self.owner.get(task as usize)?;
        let planned = self.blank.lots.get(lot as usize)?;
        let before = (0..step).rev().find(|s| planned.passes(*s))?;
        let together = planned.bath_step.is_some_and(|b| before >= b);
        Some(self.blank.task(if together { head } else { lot }, before))
    }
}
