//! A bar on standard error while long work goes on, with the time left. None where standard error is no terminal.

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};
use std::sync::Once;
use std::time::{Duration, Instant};

/// Drawings a second.
const A_SECOND: u8 = 5;
/// Nothing is shown for work shorter than this.
const PATIENCE: Duration = Duration::from_millis(700);
/// The bar, and what stands behind it.
const LOOK: &str = "[{bar:30}] {pos} of {len}, {eta} left";

/// Counts what is done.
pub(super) struct Progress {
    quiet: bool,
    bar: ProgressBar,
    begun: Instant,
    shown: Once,
}

impl Progress {
    /// Of so many things.
    pub(super) fn new(of: u64, quiet: bool) -> Self {
        let bar = ProgressBar::with_draw_target(Some(of), ProgressDrawTarget::hidden());
        if let Ok(style) = ProgressStyle::with_template(LOOK) {
            bar.set_style(style.progress_chars("==."));
        }
        Self {
            quiet,
            bar,
            begun: Instant::now(),
            shown: Once::new(),
        }
    }

    /// So many more are to be done than was known.
    pub(super) fn more(&self, many: u64) {
        self.bar.inc_length(many);
    }

    /// One more is done.
    pub(super) fn step(&self) {
        self.show();
        self.bar.inc(1);
    }

    /// So many are done.
    pub(super) fn to(&self, done: u64) {
        self.show();
        self.bar.set_position(done);
    }

    fn show(&self) {
        if !self.quiet && self.begun.elapsed() >= PATIENCE {
            let target = || ProgressDrawTarget::stderr_with_hz(A_SECOND);
            self.shown.call_once(|| self.bar.set_draw_target(target()));
        }
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        self.bar.finish_and_clear();
    }
}
