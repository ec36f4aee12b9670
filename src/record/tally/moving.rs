//! What a tally knows of a load that is on its way.

use super::place::Held;
use tankday_base::shop::StepRef;
use tankday_base::units::Moment;

/// A load on its way.
#[derive(Debug, Clone)]
pub(super) struct Moving {
    pub(super) counts: bool,
    /// Steps it waits for and since when; the first without allocation, since most loads wait for one.
    pub(super) waits: Option<(StepRef, Moment)>,
    pub(super) more_waits: Vec<(StepRef, Moment)>,
    pub(super) place: Option<Held>,
}

impl Moving {
    /// Since when it waits for a step, which it does no more.
    pub(super) fn take_wait(&mut self, step: StepRef) -> Option<Moment> {
        if let Some((waiting, since)) = self.waits
            && waiting == step
        {
            self.waits = self.more_waits.pop();
            return Some(since);
        }
        let at = self.more_waits.iter().position(|(waiting, _)| *waiting == step)?;
        Some(self.more_waits.swap_remove(at).1)
    }

    /// For every other step that is open it waits from now on: it could not start while it was elsewhere.
    pub(super) fn wait_from(&mut self, at: Moment) {
        for (_, since) in self.waits.iter_mut().chain(&mut self.more_waits) {
            *since = at;
        }
    }
}
