//! What a plan and the notes of a day say of a load.

use super::Flow;
use crate::day::{Day, Event};
use crate::ids::LoadIx;
use crate::state::{NONE, Waiting};
use tankday_base::shop::{OrderId, StepIx};
use tankday_base::units::{Moment, Span};

impl Flow<'_> {
    /// The task that starts a step for a load, if it is planned.
    pub(crate) fn task_of(&self, load: LoadIx, step: StepIx) -> Option<u32> {
        let plan = self.written?;
        let lot = self.loads[load].of.lot;
        if lot == NONE {
            return None;
        }
        let with_load = plan.lots[lot as usize].bath_step.is_some_and(|b| step.0 >= b);
        let head = if with_load { plan.head[lot as usize] } else { lot };
        Some(plan.task(head, step.0))
    }

    /// Pieces of each lot of an order that is planned; nothing for one that is not.
    #[inline]
    pub(crate) fn planned_lots(&self, source: OrderId, nth: u32) -> Vec<(u32, u32)> {
        self.written
            .map_or_else(Vec::new, |p| p.pieces_of(source.0, nth).collect())
    }

    /// Whether a load is only a part of the planned one from whose bath on it has no tasks of its own.
    #[inline]
    pub(crate) fn is_apart(&self, load: LoadIx, step: StepIx) -> bool {
        let Some(plan) = self.written else { return false };
        let l = &self.loads[load];
        let with_load = plan.lots[l.of.lot as usize]
            .bath_step
            .is_some_and(|b| step.0 >= b);
        with_load && l.of.lots < plan.load_size(l.of.lot)
    }

    /// Whether a plan says when this load goes into its tank.
    #[inline]
    pub(crate) fn is_planned(&self, load: LoadIx) -> bool {
        self.written.is_some() && self.loads[load].of.lot != NONE
    }

    /// Whether two lots are to go in together; none if the plan does not say.
    #[inline]
    pub(crate) fn planned_together(&self, a: LoadIx, b: LoadIx) -> Option<bool> {
        let plan = self.written?;
        let (a, b) = (self.loads[a].of.lot, self.loads[b].of.lot);
        if a == NONE && b == NONE {
            return None;
        }
        Some(a != NONE && b != NONE && plan.head[a as usize] == plan.head[b as usize])
    }

    /// Whether a waiting load began as noted: then nothing keeps it.
    #[inline]
    pub(crate) fn is_pinned(&self, entry: &Waiting) -> bool {
        let Some(plan) = self.written else { return false };
        self.task_of(entry.load, entry.step)
            .is_some_and(|task| plan.pinned[task as usize])
    }

    /// Whether a load with everything behind it was ready only later, as noted; it is so then.
    pub(crate) fn is_ready_later(&self, day: &mut Day<'_>, load: LoadIx) -> bool {
        let lot = self.loads[load].of.lot as usize;
        let lots = self.written.map(|p| p.lots.as_slice());
        let noted = lots
            .and_then(|l| l.get(lot))
            .map_or(Moment::NEVER, |l| l.past_until);
        let later = noted < Moment::NEVER && noted > day.now();
        if later {
            day.move_at(noted, Event::Ready(load));
        }
        later
    }

    /// How long the work that begins now goes on, if it was noted when it was over.
    #[inline]
    pub(crate) fn noted_time(&self, day: &Day<'_>, load: LoadIx) -> Option<Span> {
        let plan = self.written?;
        let task = self.task_of(load, self.loads[load].step)?;
        let over = plan.over[task as usize / 2];
        (over < Moment::NEVER).then(|| (over - day.now()).max(Span::ZERO))
    }
}
