//! How long a day takes to search, against a common one: so much less is tried.

use super::effort::Effort;
use super::model::SearchContext;

/// Tasks of a day of forty orders, about; days that take no longer than one.
const COMMON: u64 = 600;
const COMMON_DAYS: u64 = 3;
/// Tasks of a day with care of baths that takes no longer to simulate than is reckoned with.
const CARED: u64 = 120;

/// Tasks of a day of thirty orders, about: of more a timetable takes longer than for each of them.
const MANY: u64 = 180;

impl SearchContext<'_> {
    /// About how many tasks a day has: those before the bath, and two more for each lot.
    pub(super) fn tasks(&self) -> u64 {
        self.before.iter().map(|b| b.len() as u64 + 2).sum()
    }

    /// The length of the calendar, in common ones.
    fn days_weight(&self) -> u64 {
        let days = self.shop.calendar.days.len() as u64;
        days.div_ceil(COMMON_DAYS).max(1)
    }

    /// So many days stand for one of a common size: a long one takes that much longer to simulate.
    pub(super) fn weight(&self) -> u64 {
        self.tasks().div_ceil(COMMON).max(self.days_weight())
    }

    /// So many days in a timetable, for this shop: of many tasks each is looked past more often.
    pub(super) fn dispatched(&self, effort: Effort) -> u64 {
        let (tasks, days) = (self.tasks(), effort.dispatched(self.tasks()));
        if tasks > COMMON {
            return self.of_length(days);
        }
        self.of_length(days) * MANY / tasks.max(MANY)
    }

    /// So many days of one day's length, in days of this calendar: each further one takes a quarter as long as the first,
    /// since the same tasks are spread over them. Where there are many more tasks, most of them are planned day by day.
    pub(super) fn of_length(&self, days: u64) -> u64 {
        if self.tasks() > COMMON {
            return days / self.days_weight();
        }
        4 * days / (self.shop.calendar.days.len().max(1) as u64 + 3)
    }

    /// So many simulated days, in days with care of baths: these take longer the more tasks each has.
    pub(super) fn cared(&self, days: u64) -> u64 {
        if self.tasks() > COMMON {
            return days / self.weight();
        }
        self.of_length(days) * CARED / self.tasks().max(CARED)
    }
}
