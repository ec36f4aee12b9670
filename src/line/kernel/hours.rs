//! Opening hours: when somebody works, and when a job ends that meets a break.

use tankday_base::units::{Moment, Span};

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

    /// How long it is; zero when empty.
    #[must_use]
    pub fn length(self) -> Span {
        (self.until - self.from).max(Span::ZERO)
    }

    fn is_empty(self) -> bool {
        self.until <= self.from
    }
}

/// What happens to a job that is not done when a break or the end of the day comes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BreakRule {
    /// The break waits until the job is done.
    FinishFirst,
    /// The job rests and goes on after the break.
    Pause,
    /// What was done is lost: the job begins again after the break.
    StartAgain,
}

/// The hours during which somebody works: intervals in order that neither touch nor overlap.
///
/// ```
/// use tankday_line::kernel::{BreakRule, Hours, Interval};
/// use tankday_base::units::{Moment, Span};
///
/// let clock = |h: i64, m: i64| Moment::ZERO + Span::whole_minutes(60 * h + m);
/// let day = [Interval::new(clock(7, 0), clock(16, 0))];
/// let noon = [Interval::new(clock(12, 0), clock(12, 30))];
/// let hours = Hours::new(&day, &noon);
/// let half_hour = Span::whole_minutes(30);
/// assert_eq!(hours.end_of_job(clock(11, 45), half_hour, BreakRule::Pause), Some(clock(12, 45)));
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

    /// Open without end.
    #[must_use]
    pub fn always() -> Self {
        let start = Moment::ZERO - (Moment::NEVER - Moment::ZERO);
        Self {
            open: vec![Interval::new(start, Moment::NEVER)],
        }
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

    /// The first closing, or start of a break, after `at`.
    #[must_use]
    pub fn next_closing(&self, at: Moment) -> Option<Moment> {
        self.not_over(at).first().map(|next| next.until)
    }

    /// The open time between two moments; zero when the second is not later.
    #[must_use]
    pub fn working_time(&self, from: Moment, until: Moment) -> Span {
        self.not_over(from)
            .iter()
            .take_while(|open| open.from < until)
            .map(|open| Interval::new(open.from.max(from), open.until.min(until)).length())
            .sum()
    }

    /// When a job that takes `work` ends, if it may start from `start` on. Closed hours delay its start in any case;
    /// what a break does to it later is for the rule to say. A job that ends at the very start of a break is done.
    /// `None` when it never ends within the hours.
    #[must_use]
    pub fn end_of_job(&self, start: Moment, work: Span, rule: BreakRule) -> Option<Moment> {
        let begin = self.next_opening(start)?;
        let stretches = self
            .not_over(begin)
            .iter()
            .map(|open| Interval::new(open.from.max(begin), open.until));
        match rule {
            BreakRule::FinishFirst => Some(begin + work),
            BreakRule::Pause => paused_end(stretches, work),
            BreakRule::StartAgain => stretches
                .into_iter()
                .find(|open| open.length() >= work)
                .map(|open| open.from + work),
        }
    }

    /// The intervals that end after `at`.
    fn not_over(&self, at: Moment) -> &[Interval] {
        let past = self.open.partition_point(|interval| interval.until <= at);
        self.open.get(past..).unwrap_or_default()
    }
}

/// The end of a job that rests between the stretches.
fn paused_end(stretches: impl Iterator<Item = Interval>, work: Span) -> Option<Moment> {
    let mut left = work;
    for open in stretches {
        if open.length() >= left {
            return Some(open.from + left);
        }
        left -= open.length();
    }
    None
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
        assert_eq!(hours.next_closing(at(12, 0)), Some(at(16, 0)));
        assert_eq!(hours.next_closing(at(15, 0)), Some(at(16, 0)));
        assert_eq!(
            (hours.next_opening(at(40, 0)), hours.next_closing(at(40, 0))),
            (None, None)
        );
    }

    #[test]
    fn working_time_leaves_out_breaks_and_nights() {
        let hours = two_days();
        assert_eq!(
            hours.working_time(at(8, 30), at(12, 45)),
            Span::whole_minutes(30 + 165 + 15)
        );
        assert_eq!(hours.working_time(at(15, 0), at(32, 0)), Span::whole_minutes(120));
        assert_eq!(hours.working_time(at(12, 0), at(12, 30)), Span::ZERO);
        assert_eq!(hours.working_time(at(12, 0), at(8, 0)), Span::ZERO);
    }

    #[test]
    fn jobs_across_the_night() {
        let hours = two_days();
        let two_hours = Span::whole_minutes(120);
        assert_eq!(
            hours.end_of_job(at(15, 0), two_hours, BreakRule::FinishFirst),
            Some(at(17, 0))
        );
        assert_eq!(
            hours.end_of_job(at(15, 0), two_hours, BreakRule::Pause),
            Some(at(32, 0))
        );
        assert_eq!(
            hours.end_of_job(at(15, 0), two_hours, BreakRule::StartAgain),
            Some(at(33, 0))
        );
        assert_eq!(
            hours.end_of_job(at(20, 0), two_hours, BreakRule::FinishFirst),
            Some(at(33, 0))
        );
        assert_eq!(hours.end_of_job(at(39, 0), two_hours, BreakRule::Pause), None);
        assert_eq!(
            hours.end_of_job(at(31, 0), Span::whole_minutes(541), BreakRule::StartAgain),
            None
        );
        assert_eq!(
            hours.end_of_job(at(11, 30), Span::whole_minutes(30), BreakRule::Pause),
            Some(at(12, 0))
        );
    }

    #[test]
    fn always_open() {
        let hours = Hours::always();
        assert!(hours.is_open(at(-5, 0)) && hours.is_open(at(9_999, 0)));
        assert_eq!(
            hours.end_of_job(at(3, 0), Span::whole_minutes(5), BreakRule::Pause),
            Some(at(3, 5))
        );
    }
}
