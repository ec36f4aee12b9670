//! Hours and breaks: who is there, when somebody is there again, and times when nobody is in sight of the tanks.

use crate::kernel::{Hours, Interval};
use tankday_base::shop::{Calendar, STAYS};
use tankday_base::units::{Moment, Span};
use tankday_record::LogEntry;

/// A point in the shop's hours.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum ShiftBoundary {
    Opens,
    BreakBegins,
    BreakEnds,
    Closes,
}

impl ShiftBoundary {
    #[inline]
    pub(super) fn event(self) -> LogEntry {
        match self {
            Self::Opens => LogEntry::Opens,
            Self::BreakBegins => LogEntry::BreakBegins,
            Self::BreakEnds => LogEntry::BreakEnds,
            Self::Closes => LogEntry::Closes,
        }
    }
}

/// From a moment until another nobody is there.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Away {
    pub(super) from: Moment,
    pub(super) until: Moment,
    /// In a break; else between closing and opening.
    pub(super) in_break: bool,
}

/// The hours of all days, made once.
#[derive(Debug, Clone)]
pub(super) struct Roster {
    /// When somebody works.
    hours: Hours,
    /// Every opening, break and closing, in order.
    marks: Vec<(Moment, ShiftBoundary)>,
    /// Times when nobody is there, in order.
    aways: Vec<Away>,
}

impl Roster {
    pub(super) fn new(calendar: &Calendar) -> Self {
        let open: Vec<_> = calendar
            .days
            .iter()
            .map(|d| Interval::new(d.open, d.close))
            .collect();
        let breaks = calendar.days.iter().flat_map(|d| &d.breaks);
        let breaks: Vec<_> = breaks.map(|b| Interval::new(b.from, b.until)).collect();
        Self {
            hours: Hours::new(&open, &breaks),
            marks: marks(calendar),
            aways: aways(calendar),
        }
    }
}

fn marks(calendar: &Calendar) -> Vec<(Moment, ShiftBoundary)> {
    let mut marks = Vec::new();
    for day in &calendar.days {
        marks.push((day.open, ShiftBoundary::Opens));
        for pause in &day.breaks {
            marks.push((pause.from, ShiftBoundary::BreakBegins));
            marks.push((pause.until, ShiftBoundary::BreakEnds));
        }
        marks.push((day.close, ShiftBoundary::Closes));
    }
    marks
}

fn aways(calendar: &Calendar) -> Vec<Away> {
    let mut all = Vec::new();
    let opens = calendar.days.iter().skip(1).map(|d| d.open);
    if let Some(first) = calendar.days.first().filter(|d| !d.stays) {
        all.push(Away {
            from: Moment::ZERO - Span::hours(24.0),
            until: first.open,
            in_break: false,
        });
    }
    for (day, next) in calendar.days.iter().zip(opens.chain([Moment::NEVER])) {
        let alone = day.breaks.iter().filter(|b| !b.stays);
        all.extend(alone.map(|b| Away {
            from: b.from,
            until: b.until,
            in_break: true,
        }));
        if !day.stays {
            all.push(Away {
                from: day.close,
                until: next,
                in_break: false,
            });
        }
    }
    all.retain(|a| a.from < a.until);
    all
}

/// The hours as far as they have passed.
#[derive(Debug)]
pub(super) struct Shifts<'a> {
    roster: &'a Roster,
    next_mark: usize,
    /// The first time with nobody there that is not over.
    next_away: usize,
    on_duty: bool,
    /// When the shop closed last; never, while it is open.
    last_close: Moment,
}

impl<'a> Shifts<'a> {
    pub(super) fn new(roster: &'a Roster) -> Self {
        Self {
            roster,
            next_mark: 0,
            next_away: 0,
            on_duty: false,
            last_close: Moment::NEVER,
        }
    }

    /// The next mark is passed now.
    pub(super) fn pass(&mut self, now: Moment) -> Option<ShiftBoundary> {
        let &(_, mark) = self.roster.marks.get(self.next_mark)?;
        self.next_mark += 1;
        let later = self.roster.aways.iter().skip(self.next_away);
        self.next_away += later.take_while(|a| a.until <= now).count();
        self.on_duty = matches!(mark, ShiftBoundary::Opens | ShiftBoundary::BreakEnds);
        match mark {
            ShiftBoundary::Opens => self.last_close = Moment::NEVER,
            ShiftBoundary::Closes => self.last_close = now,
            ShiftBoundary::BreakBegins | ShiftBoundary::BreakEnds => {}
        }
        Some(mark)
    }

    /// When the next mark comes; none after the last, never where the shop does not close.
    #[inline]
    pub(super) fn next(&self) -> Option<Moment> {
        self.roster.marks.get(self.next_mark).map(|m| m.0)
    }

    #[inline]
    pub(super) fn on_duty(&self) -> bool {
        self.on_duty
    }

    /// Whether the shop is closed for the day.
    #[inline]
    pub(super) fn is_over(&self, now: Moment) -> bool {
        now >= self.last_close
    }

    /// When the present day closes.
    #[inline]
    pub(super) fn closes(&self) -> Moment {
        let later = self.roster.marks.get(self.next_mark..).unwrap_or_default();
        later
            .iter()
            .find(|m| m.1 == ShiftBoundary::Closes)
            .map_or(Moment::NEVER, |m| m.0)
    }

    /// Whether the shop has closed since then.
    #[inline]
    pub(super) fn closed_since(&self, then: Moment) -> bool {
        self.passed_since(then, ShiftBoundary::Closes)
    }

    /// Whether the shop has opened since then: a night lies between.
    #[inline]
    pub(super) fn opened_since(&self, then: Moment) -> bool {
        self.passed_since(then, ShiftBoundary::Opens)
    }

    fn passed_since(&self, then: Moment, boundary: ShiftBoundary) -> bool {
        let past = self.roster.marks.get(..self.next_mark).unwrap_or_default();
        let mut since = past.iter().rev().take_while(|m| m.0 > then);
        since.any(|m| m.1 == boundary)
    }

    /// Whether the mark passed before the last one was an opening.
    #[inline]
    pub(super) fn opened_before(&self) -> bool {
        let before = self.next_mark.checked_sub(2);
        before
            .and_then(|i| self.roster.marks.get(i))
            .is_some_and(|m| m.1 == ShiftBoundary::Opens)
    }

    /// The first moment from one on at which somebody works.
    #[inline]
    pub(super) fn next_opening(&self, at: Moment) -> Option<Moment> {
        self.roster.hours.next_opening(at)
    }

    /// The last moment up to one at which somebody works.
    #[inline]
    pub(super) fn works_until(&self, at: Moment) -> Moment {
        if self.next_opening(at) == Some(at) {
            return at;
        }
        let stops =
            |m: &&(Moment, ShiftBoundary)| matches!(m.1, ShiftBoundary::BreakBegins | ShiftBoundary::Closes);
        let before = self.roster.marks.partition_point(|m| m.0 <= at);
        let past = self.roster.marks.get(..before).unwrap_or_default();
        past.iter().rev().find(stops).map_or(at, |m| m.0)
    }

    /// In a break, and for a while after closing; before the first opening nobody has come.
    #[inline]
    pub(super) fn somebody_stays(&self, now: Moment) -> bool {
        match self.last_close {
            Moment::NEVER => self.next_mark > 0,
            closed => now - closed <= STAYS,
        }
    }

    /// The time without anybody that is now, or comes next.
    #[inline]
    pub(super) fn coming_away(&self, now: Moment) -> Option<Away> {
        let later = self.roster.aways.get(self.next_away..)?;
        later.iter().find(|a| a.until > now).copied()
    }

    /// Whether somebody is there now, as far as the hours have passed.
    #[inline]
    pub(super) fn stays(&self, now: Moment) -> bool {
        let next = self.roster.aways.get(self.next_away);
        next.is_none_or(|a| a.from > now)
    }

    /// Breaks that nobody stays for, in order.
    #[inline]
    pub(super) fn alone_in_breaks(&self) -> impl Iterator<Item = &'a Away> + Clone {
        self.roster.aways.iter().filter(|a| a.in_break)
    }

    /// The first break that began in a stretch and that nobody stayed for.
    #[inline]
    pub(super) fn first_break_within(&self, from: Moment, until: Moment) -> Option<&'a Away> {
        let aways = self.roster.aways.as_slice();
        let seen = aways.get(..=self.next_away).unwrap_or(aways);
        let last = seen.iter().rev().take_while(|a| a.from > from);
        last.filter(|a| a.in_break && a.from < until).last()
    }
}
