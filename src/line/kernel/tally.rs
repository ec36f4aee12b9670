//! Tallies: a level over time, lengths of time, and single readings.

use tankday_base::units::{Moment, Span};

/// A whole number that changes now and then (how many wait, how many are busy), weighted by time.
///
/// Its area is kept in whole item-microseconds, so a balance over a run closes exactly.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct LevelTally {
    start: Moment,
    since: Moment,
    level: i64,
    most: i64,
    area: i128,
}

impl LevelTally {
    /// A level of 0 from `start` on.
    #[must_use]
    pub const fn new(start: Moment) -> Self {
        Self {
            start,
            since: start,
            level: 0,
            most: 0,
            area: 0,
        }
    }

    /// The level changes by `change` at `now`.
    #[inline]
    pub fn change(&mut self, change: i64, now: Moment) {
        self.set(self.level.saturating_add(change), now);
    }

    /// The level becomes `level` at `now`.
    #[inline]
    pub fn set(&mut self, level: i64, now: Moment) {
        self.area += i128::from(self.level) * i128::from((now - self.since).in_micros());
        self.since = now;
        self.level = level;
        self.most = self.most.max(level);
    }

    /// Forgets what was, as at the end of a warm-up; the level itself stays.
    pub fn restart(&mut self, now: Moment) {
        *self = Self {
            start: now,
            since: now,
            level: self.level,
            most: self.level,
            area: 0,
        };
    }

    /// The level now.
    #[inline]
    #[must_use]
    pub const fn level(&self) -> i64 {
        self.level
    }

    /// The greatest level so far.
    #[must_use]
    pub const fn most(&self) -> i64 {
        self.most
    }

    /// The area under the level until `until`, in item-microseconds.
    #[must_use]
    pub fn area(&self, until: Moment) -> i128 {
        self.area + i128::from(self.level) * i128::from((until - self.since).in_micros())
    }

    /// The mean level from the start until `until`; 0 when no time has passed.
    #[must_use]
    pub fn mean(&self, until: Moment) -> f64 {
        let passed = (until - self.start).in_micros();
        if passed <= 0 {
            return 0.0;
        }
        self.area(until) as f64 / passed as f64
    }
}

/// How long a level stood at each of 0, 1, 2, ... ; levels beyond the last kept one count there.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LevelTimes {
    since: Moment,
    level: usize,
    times: Vec<Span>,
}

impl LevelTimes {
    /// A level of 0 from `start` on, with times kept for levels 0 to `last`.
    #[must_use]
    pub fn new(start: Moment, last: usize) -> Self {
        Self {
            since: start,
            level: 0,
            times: vec![Span::ZERO; last.saturating_add(1)],
        }
    }

    /// The level becomes `level` at `now`.
    #[inline]
    pub fn set(&mut self, level: usize, now: Moment) {
        let place = self.level.min(self.times.len() - 1);
        if let Some(time) = self.times.get_mut(place) {
            *time += now - self.since;
        }
        self.since = now;
        self.level = level;
    }

    /// The share of the time up to the last change during which the level was at least `level`; 0 before any time
    /// has passed.
    #[must_use]
    pub fn share_at_least(&self, level: usize) -> f64 {
        let whole: Span = self.times.iter().copied().sum();
        let above: Span = self.times.iter().skip(level).copied().sum();
        if whole <= Span::ZERO {
            return 0.0;
        }
        above.in_micros() as f64 / whole.in_micros() as f64
    }
}

/// Lengths of time (waits, times in system): how many, their exact sum, the longest.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct SpanTally {
    count: u64,
    sum: i128,
    longest: Span,
}

impl SpanTally {
    /// Counts one.
    #[inline]
    pub fn record(&mut self, span: Span) {
        self.count += 1;
        self.sum += i128::from(span.in_micros());
        self.longest = self.longest.max(span);
    }

    /// How many.
    #[must_use]
    pub const fn count(&self) -> u64 {
        self.count
    }

    /// Their sum in microseconds.
    #[must_use]
    pub const fn sum_micros(&self) -> i128 {
        self.sum
    }

    /// Their mean to the nearest microsecond; zero when there are none.
    #[must_use]
    pub fn mean(&self) -> Span {
        Span::micros(self.mean_micros().round() as i64)
    }

    /// The longest; zero when there are none.
    #[must_use]
    pub const fn longest(&self) -> Span {
        self.longest
    }

    /// Their mean in microseconds and fractions of one; 0 when there are none.
    #[must_use]
    pub fn mean_micros(&self) -> f64 {
        if self.count == 0 {
            return 0.0;
        }
        self.sum as f64 / self.count as f64
    }
}

/// Single readings: count, mean and variance in one pass.
///
/// The update is that of B. P. Welford, Technometrics 4 (1962) 419-420; it does not lose digits as sums of squares do.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Tally {
    count: u64,
    mean: f64,
    squares: f64,
}

impl Tally {
    /// Counts one reading.
    #[inline]
    pub fn record(&mut self, value: f64) {
        self.count += 1;
        let off = value - self.mean;
        self.mean += off / self.count as f64;
        self.squares += off * (value - self.mean);
    }

    /// How many.
    #[must_use]
    pub const fn count(&self) -> u64 {
        self.count
    }

    /// Their mean; 0 when there are none.
    #[must_use]
    pub const fn mean(&self) -> f64 {
        self.mean
    }

    /// Their sample variance, divisor n - 1; 0 for fewer than two.
    #[must_use]
    pub fn variance(&self) -> f64 {
        if self.count < 2 {
            return 0.0;
        }
        self.squares / (self.count - 1) as f64
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_level_is_weighted_by_time() {
        let mut level = LevelTally::new(Moment::micros(10));
        level.change(2, Moment::micros(20));
        level.change(1, Moment::micros(25));
        level.change(-3, Moment::micros(30));
        assert_eq!(level.area(Moment::micros(50)), 2 * 5 + 3 * 5);
        assert_eq!(level.mean(Moment::micros(50)), 25.0 / 40.0);
        assert_eq!((level.most(), level.level()), (3, 0));
        level.restart(Moment::micros(50));
        assert_eq!((level.area(Moment::micros(60)), level.most()), (0, 0));
    }

    #[test]
    fn times_at_a_level_add_up() {
        let mut times = LevelTimes::new(Moment::ZERO, 2);
        times.set(1, Moment::micros(4));
        times.set(7, Moment::micros(6));
        times.set(0, Moment::micros(8));
        assert_eq!(times.share_at_least(0), 1.0);
        assert_eq!(times.share_at_least(1), 0.5);
        assert_eq!(times.share_at_least(2), 0.25);
    }

    #[test]
    fn spans_and_readings() {
        let mut spans = SpanTally::default();
        assert_eq!(spans.mean(), Span::ZERO);
        let mut readings = Tally::default();
        for micros in [4, 6, 11] {
            spans.record(Span::micros(micros));
            readings.record(micros as f64);
        }
        assert_eq!(
            (spans.count(), spans.sum_micros(), spans.mean()),
            (3, 21, Span::micros(7))
        );
        assert_eq!(spans.longest(), Span::micros(11));
        assert_eq!((readings.mean(), readings.variance()), (7.0, 13.0));
    }
}
