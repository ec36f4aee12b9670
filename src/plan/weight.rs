//! How long a day takes to search, against a common one: so much less is tried.

use super::model::World;

/// Tasks of a day of forty orders, about; days that take no longer than one.
const COMMON: u64 = 600;
const COMMON_DAYS: u64 = 3;

impl World<'_> {
    /// About how many tasks a day has: those before the bath, and two more for each lot.
    pub(super) fn tasks(&self) -> u64 {
        self.before.iter().map(|b| b.len() as u64 + 2).sum()
    }

    /// The length of the calendar, in common ones.
    pub(super) fn days_weight(&self) -> u64 {
        let days = self.shop.calendar.days.len() as u64;
        days.div_ceil(COMMON_DAYS).max(1)
    }

    /// So many days stand for one of a common size: a long one takes that much longer to simulate.
    pub(super) fn weight(&self) -> u64 {
        self.tasks().div_ceil(COMMON).max(self.days_weight())
    }
}
