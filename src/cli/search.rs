//! What every search shows and hears: how far it is, on standard error, and Ctrl-C, which keeps the best so far.

use super::progress::Progress;
use super::settings::Saying;
use super::{files, terminal};
use std::sync::atomic::AtomicBool;

/// Steps of the bar.
const STEPS: u64 = 1_000;

/// A search under way.
pub(super) struct Searching {
    progress: Progress,
    stop: &'static AtomicBool,
    quiet: bool,
}

impl Searching {
    /// From here on the first Ctrl-C stops the search, which keeps the best so far; the second ends the program.
    pub(super) fn begin(saying: Saying) -> Self {
        let quiet = saying == Saying::Little;
        Self {
            progress: Progress::new(STEPS, quiet),
            stop: files::interruptions_stop_a_search(),
            quiet,
        }
    }

    /// Set when the search is to end.
    pub(super) fn stop(&self) -> &AtomicBool {
        self.stop
    }

    /// How far it is, from 0 to 1.
    pub(super) fn told(&self, done: f64) {
        self.progress.to((done.clamp(0.0, 1.0) * STEPS as f64) as u64);
    }
}

impl Drop for Searching {
    fn drop(&mut self) {
        if files::a_search_was_stopped() && !self.quiet {
            terminal::tell("stopped; the best so far is kept");
        }
    }
}
