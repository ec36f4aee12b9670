//! What was noted of a day under way: what was done before, what began when.

use super::engine::{Due, Engine};
use super::state::Waiting;
use tankday_base::units::{Moment, Span};

impl Engine<'_> {
    /// Whether a waiting load began as noted: then nothing keeps it.
    pub(super) fn is_pinned(&self, entry: &Waiting) -> bool {
        let Some(follow) = &self.follow else { return false };
        self.task_of(entry.load, entry.step)
            .is_some_and(|task| follow.plan.pinned[task as usize])
    }

    /// Whether a load with everything behind it was ready only later, as noted; it is so then.
    pub(super) fn is_ready_later(&mut self, load: u32) -> bool {
        let lot = self.loads[load].lot as usize;
        let lots = self.follow.as_ref().map(|f| f.plan.lots.as_slice());
        let noted = lots
            .and_then(|l| l.get(lot))
            .map_or(Moment::NEVER, |l| l.past_until);
        let later = noted < Moment::NEVER && noted > self.day.now();
        if later {
            self.day.move_at(noted, Due::Ready(load));
        }
        later
    }

    /// How long the work that begins now goes on, if it was noted when it was over.
    pub(super) fn noted_time(&self, load: u32) -> Option<Span> {
        let follow = self.follow.as_ref()?;
        let task = self.task_of(load, self.loads[load].step)?;
        let over = follow.plan.over[task as usize / 2];
        (over < Moment::NEVER).then(|| (over - self.day.now()).max(Span::ZERO))
    }
}
