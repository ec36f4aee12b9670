//! Opening hours: when somebody works.

use tankday_base::units::Moment;

/// From a moment until just before another.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Interval {
    /// Its first moment.
    pub from: Moment,
    /// The first moment after it.
    pub until: Moment,
}

impl Interval {
    /// From `from` until just before `until`; empty when `until` is not later.
    #[must_use]
    pub const fn new(from: Moment, until: Moment) -> Self {
        Self { from, until }
    }

    fn is_empty(self) -> bool {
        self.until <= self.from
    }
}

/// The hours during which somebody works: intervals in order that neither touch nor overlap.
///
/// ```
/// use tankday_line::kernel::{Hours, Interval};
/// use tankday_base::units::{Moment, Span};
///
/// let clock = |h: i64, m: i64| Moment::ZERO + Span::whole_minutes(60 * h + m);
/// let day = [Interval::new(clock(7, 0), clock(16, 0))];
/// let noon = [Interval::new(clock(12, 0), clock(12, 30))];
/// let hours = Hours::new(&day, &noon);
/// assert_eq!(hours.next_opening(clock(12, 10)), Some(clock(12, 30)));
/// ```
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Hours {
    open: Vec<Interval>,
}

impl Hours {
    /// Open during `open` but not during `breaks`. Both may be in any order and may overlap.
    #[must_use]
    pub fn new(open: &[Interval], breaks: &[Interval]) -> Self {
        let breaks = merged(breaks);
        let mut left = Vec::new();
        for whole in merged(open) {
            let mut from = whole.from;
            for pause in breaks
                .iter()
                .filter(|b| b.until > whole.from && b.from < whole.until)
            {
                left.push(Interval::new(from, pause.from));
                from = pause.until;
            }
            left.push(Interval::new(from, whole.until));
        }
        left.retain(|interval| !interval.is_empty());
        Self { open: left }
    }

    /// The open intervals, in order.
    #[must_use]
    pub fn intervals(&self) -> &[Interval] {
        &self.open
    }

    /// Whether it is open at `at`. At a closing time it is closed.
    #[must_use]
    pub fn is_open(&self, at: Moment) -> bool {
        self.not_over(at).first().is_some_and(|now| now.from <= at)
    }

    /// The first moment from `at` on at which it is open: `at` itself when it is open then.
    #[must_use]
    pub fn next_opening(&self, at: Moment) -> Option<Moment> {
        self.not_over(at).first().map(|next| next.from.max(at))
    }

    /// The intervals that end after `at`.
    fn not_over(&self, at: Moment) -> &[Interval] {
        let past = self.open.partition_point(|interval| interval.until <= at);
        self.open.get(past..).unwrap_or_default()
    }
}

/// The same moments as intervals in order that neither touch nor overlap.
fn merged(intervals: &[Interval]) -> Vec<Interval> {
    let mut sorted: Vec<Interval> = intervals.iter().copied().filter(|i| !i.is_empty()).collect();
    sorted.sort_by_key(|i| (i.from, i.until));
    let mut whole: Vec<Interval> = Vec::with_capacity(sorted.len());
    for next in sorted {
        match whole.last_mut() {
            Some(last) if next.from <= last.until => last.until = last.until.max(next.until),
            _ => whole.push(next),
        }
    }
    whole
}

#[cfg(test)]
mod tests {
    use super::*;
    use tankday_base::units::Span;

    fn at(hour: i64, minute: i64) -> Moment {
        Moment::ZERO + Span::whole_minutes(60 * hour + minute)
    }

    fn between(from: (i64, i64), until: (i64, i64)) -> Interval {
        Interval::new(at(from.0, from.1), at(until.0, until.1))
    }

    /// 07:00 to 16:00 with breaks 09:00 to 09:15 and 12:00 to 12:30, then 31:00 to 40:00, the next day.
    fn two_days() -> Hours {
        Hours::new(
            &[between((31, 0), (40, 0)), between((7, 0), (16, 0))],
            &[between((12, 0), (12, 30)), between((9, 0), (9, 15))],
        )
    }

    #[test]
    fn breaks_are_cut_out() {
        let expected = [
            between((7, 0), (9, 0)),
            between((9, 15), (12, 0)),
            between((12, 30), (16, 0)),
            between((31, 0), (40, 0)),
        ];
        assert_eq!(two_days().intervals(), expected);
    }

    #[test]
    fn overlapping_and_empty_intervals_are_merged() {
        let hours = Hours::new(
            &[
                between((8, 0), (10, 0)),
                between((7, 0), (9, 0)),
                between((5, 0), (5, 0)),
                between((10, 0), (11, 0)),
            ],
            &[between((6, 0), (7, 30)), between((10, 30), (12, 0))],
        );
        assert_eq!(hours.intervals(), [between((7, 30), (10, 30))]);
    }

    #[test]
    fn open_closed_and_what_comes_next() {
        let hours = two_days();
        assert!(!hours.is_open(at(6, 59)) && hours.is_open(at(7, 0)) && !hours.is_open(at(12, 0)));
        assert_eq!(hours.next_opening(at(8, 0)), Some(at(8, 0)));
        assert_eq!(hours.next_opening(at(12, 0)), Some(at(12, 30)));
        assert_eq!(hours.next_opening(at(40, 0)), None);
    }
}
