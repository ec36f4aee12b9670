//! A bar on standard error while long work goes on, with the time left. None where standard error is no terminal.

use std::io::{IsTerminal, Write};
use std::sync::Mutex;
use std::sync::atomic::{AtomicU64, Ordering};
use std::time::{Duration, Instant};

/// The time from one drawing to the next.
const BETWEEN: Duration = Duration::from_millis(200);
/// Nothing is shown for work shorter than this.
const PATIENCE: Duration = Duration::from_millis(700);
/// Signs of the bar.
const SIGNS: u64 = 30;

/// Counts what is done.
pub(super) struct Progress {
    shown: bool,
    of: AtomicU64,
    done: AtomicU64,
    begun: Instant,
    last: Mutex<Option<Instant>>,
}

impl Progress {
    /// Of so many things.
    pub(super) fn new(of: u64, quiet: bool) -> Self {
        Self {
            shown: !quiet && std::io::stderr().is_terminal(),
            of: AtomicU64::new(of),
            done: AtomicU64::new(0),
            begun: Instant::now(),
            last: Mutex::new(None),
        }
    }

    /// So many more are to be done than was known.
    pub(super) fn more(&self, many: u64) {
        self.of.fetch_add(many, Ordering::Relaxed);
    }

    /// One more is done.
    pub(super) fn step(&self) {
        self.show(self.done.fetch_add(1, Ordering::Relaxed) + 1);
    }

    /// So many are done.
    pub(super) fn to(&self, done: u64) {
        self.show(self.done.fetch_max(done, Ordering::Relaxed).max(done));
    }

    fn show(&self, done: u64) {
        if !self.shown || self.begun.elapsed() < PATIENCE {
            return;
        }
        // Whoever finds another drawing leaves it to the other.
        if let Ok(mut last) = self.last.try_lock()
            && last.is_none_or(|l| l.elapsed() >= BETWEEN)
        {
            *last = Some(Instant::now());
            let words = bar(done, self.of.load(Ordering::Relaxed), self.begun.elapsed());
            let _ = write!(std::io::stderr().lock(), "\r{words}");
        }
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        if self.shown && self.last.lock().is_ok_and(|l| l.is_some()) {
            let _ = write!(std::io::stderr().lock(), "\r{:78}\r", "");
        }
    }
}

/// `[=====.....] 1200 of 4000, 12 s left`.
fn bar(done: u64, of: u64, spent: Duration) -> String {
    let of = of.max(done).max(1);
    let full = (SIGNS * done / of) as usize;
    let left = spent.as_secs_f64() * (of - done) as f64 / done.max(1) as f64;
    let left = left.ceil() as u64;
    let left = match left {
        0..=90 => format!("{left} s left"),
        91..=5400 => format!("{} min left", left.div_ceil(60)),
        _ => format!("{} h left", left.div_ceil(3_600)),
    };
    let words = format!(
        "[{}{}] {done} of {of}, {left}",
        "=".repeat(full),
        ".".repeat(SIGNS as usize - full)
    );
    format!("{words:<78}")
}

#[cfg(test)]
mod tests {
    use super::bar;
    use std::time::Duration;

    #[test]
    fn tells_the_time_left() {
        let words = bar(1_000, 4_000, Duration::from_secs(4));
        assert!(words.contains("1000 of 4000, 12 s left"), "{words}");
        assert_eq!(words.matches('=').count(), 7);
        assert!(bar(1, 1_000, Duration::from_secs(1)).contains("17 min left"));
        assert!(bar(5, 4, Duration::from_secs(1)).contains("5 of 5, 0 s left"));
    }
}
