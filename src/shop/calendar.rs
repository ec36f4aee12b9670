//! Days, opening hours, breaks.

use crate::units::Moment;
use jiff::civil::Date;

/// One day that the shop opens.
#[derive(Debug, Clone, PartialEq)]
pub struct Day {
    /// Opening.
    pub open: Moment,
    /// Closing: no hands work after it but for what must not wait. [`Moment::NEVER`] in a shop that never closes.
    pub close: Moment,
    /// Breaks within the hours, in order, not touching.
    pub breaks: Vec<(Moment, Moment)>,
}

/// The days in order. [`Moment::ZERO`] is midnight before the first.
#[derive(Debug, Clone, PartialEq)]
pub struct Calendar {
    /// Date of the first midnight.
    pub first: Date,
    /// Opening days, in order.
    pub days: Vec<Day>,
}

impl Calendar {
    /// The date on which a moment lies.
    #[must_use]
    pub fn date(&self, at: Moment) -> Date {
        let (day, _) = at.day_and_time();
        self.first
            .saturating_add(jiff::Span::new().try_days(day).unwrap_or_default())
    }
}
