//! Days, opening hours, breaks.

use crate::units::Moment;
use jiff::civil::Date;

/// A break within the hours of a day.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Break {
    /// Its first moment.
    pub from: Moment,
    /// The first moment after it.
    pub until: Moment,
    /// Whether somebody stays in sight of the tanks. If not, loads are out, heaters off and lids on from its first moment.
    pub stays: bool,
}

impl Break {
    /// Whether a moment lies in it.
    #[must_use]
    pub fn holds(&self, at: Moment) -> bool {
        self.from <= at && at < self.until
    }
}

/// One day that the shop opens.
#[derive(Debug, Clone, PartialEq)]
pub struct Day {
    /// Opening.
    pub open: Moment,
    /// Closing: no hands work after it but for what must not wait. [`Moment::NEVER`] in a shop that never closes.
    pub close: Moment,
    /// Breaks within the hours, in order, not touching.
    pub breaks: Vec<Break>,
    /// Whether somebody stays in sight of the tanks after closing, until the shop opens again.
    pub stays: bool,
}

/// How many pairs of hands there are from a moment on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Crew {
    /// The first moment: an opening, or the end of a break.
    pub from: Moment,
    /// Pairs of hands, at most those of the shop.
    pub hands: u32,
}

/// The days in order. [`Moment::ZERO`] is midnight before the first.
#[derive(Debug, Clone, PartialEq)]
pub struct Calendar {
    /// Date of the first midnight.
    pub first: Date,
    /// Opening days, in order.
    pub days: Vec<Day>,
    /// Every change in how many pairs of hands there are, in order; none where there are always all of the shop's.
    pub crews: Vec<Crew>,
}

impl Day {
    /// The stretches of its hours between its breaks, in order.
    pub fn stretches(&self) -> impl Iterator<Item = (Moment, Moment)> + '_ {
        let from = std::iter::once(self.open).chain(self.breaks.iter().map(|b| b.until));
        let until = self
            .breaks
            .iter()
            .map(|b| b.from)
            .chain(std::iter::once(self.close));
        from.zip(until).filter(|(from, until)| from < until)
    }
}

impl Calendar {
    /// The date on which a moment lies.
    #[must_use]
    pub fn date(&self, at: Moment) -> Date {
        let (day, _) = at.day_and_time();
        self.first
            .saturating_add(jiff::Span::new().try_days(day).unwrap_or_default())
    }

    /// Local time without offset, RFC 3339 in all else; as many decimals of a second as needed.
    #[must_use]
    pub fn local_time(&self, at: Moment) -> String {
        let micros = at.day_and_time().1.in_micros();
        let (s, rest) = (micros / 1_000_000, micros % 1_000_000);
        let (hours, minutes, seconds) = (s / 3_600, s / 60 % 60, s % 60);
        let whole = format!("{}T{hours:02}:{minutes:02}:{seconds:02}", self.date(at));
        match rest {
            0 => whole,
            _ => format!("{whole}.{}", format!("{rest:06}").trim_end_matches('0')),
        }
    }
}
