//! How sure a promise is, in one place for all who tell it.

use super::Chance;
use tankday_base::print::Replication;

/// How sure. In order: the worst first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Sure {
    /// Never ready.
    Cannot,
    /// On time on fewer than 50 of 100 days, or late on the one day.
    Late,
    /// 50 to 94 of 100.
    Tight,
    /// 95 or more, or on time on the one day.
    Safe,
    /// On all days.
    Certain,
}

impl Chance {
    /// How sure it is.
    #[must_use]
    pub fn sure(&self) -> Sure {
        let of_100 = 100 * u64::from(self.on_time);
        let days = u64::from(self.of);
        if self.usual.is_none() && self.on_time == 0 {
            Sure::Cannot
        } else if self.on_time == self.of {
            Sure::Certain
        } else if of_100 >= 95 * days {
            Sure::Safe
        } else if of_100 >= 50 * days {
            Sure::Tight
        } else {
            Sure::Late
        }
    }

    /// How sure its times are, whether it is harmed or not.
    #[must_use]
    pub fn sure_of_time(&self) -> Sure {
        let on_time = self.on_time + self.harmed;
        Self { on_time, ..*self }.sure()
    }

    /// In words: `all 200 days`, `40 of 100 days`, `3 of 20 runs`. Rounded down: what is not sure is not called so.
    #[must_use]
    pub fn words(&self, each: Replication) -> String {
        let (one, many) = (each.one(), each.many());
        match self.of {
            of if of > 1 && self.on_time == of => format!("all {of} {many}"),
            of if of >= 100 => {
                let of_100 = 100 * u64::from(self.on_time) / u64::from(of);
                format!("{of_100} of 100 {many}")
            }
            1 if self.on_time == 1 => format!("the one {one} it comes"),
            1 => format!("not on the one {one} it comes"),
            of => format!("{} of {of} {many}", self.on_time),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{Chance, Replication, Sure};
    use tankday_base::units::Moment;

    fn chance(on_time: u32, of: u32) -> Chance {
        Chance {
            usual: Some(Moment::ZERO),
            nine_in_ten: None,
            on_time,
            harmed: 0,
            of,
        }
    }

    #[test]
    fn how_sure_is_said_by_the_days_counted() {
        let sure = |on_time, of| chance(on_time, of).sure();
        assert_eq!(sure(200, 200), Sure::Certain);
        assert_eq!(sure(190, 200), Sure::Safe);
        assert_eq!(sure(189, 200), Sure::Tight);
        assert_eq!(sure(100, 200), Sure::Tight);
        assert_eq!(sure(99, 200), Sure::Late);
        let never = Chance {
            usual: None,
            ..chance(0, 200)
        };
        assert_eq!(never.sure(), Sure::Cannot);
    }

    #[test]
    fn all_days_are_said_of_all_days_only() {
        let day = Replication::Day;
        assert_eq!(chance(200, 200).words(day), "all 200 days");
        assert_eq!(chance(199, 200).words(day), "99 of 100 days");
        assert_eq!(chance(19, 20).words(day), "19 of 20 days");
        assert_eq!(chance(20, 20).words(Replication::Run(5)), "all 20 runs");
        assert_eq!(chance(19, 20).words(Replication::Run(5)), "19 of 20 runs");
    }
}
