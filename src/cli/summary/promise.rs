//! How sure each order is, in one place for all who tell it.

use super::Results;
use crate::record::OrderFigure;
use crate::study::Chance;
use crate::units::Moment;

/// How sure. In order: the worst first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(in crate::cli) enum Sure {
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

/// An order and how sure it is.
#[derive(Debug, Clone)]
pub(in crate::cli) struct Promise<'a> {
    /// The order on the day drawn.
    pub order: &'a OrderFigure,
    /// Its chances over the days, if there are many.
    pub chance: Option<Chance>,
    /// How sure.
    pub sure: Sure,
}

impl Promise<'_> {
    /// When it is usually ready.
    #[must_use]
    pub(in crate::cli) fn usual(&self) -> Option<Moment> {
        self.chance.map_or(self.order.ready, |c| c.usual)
    }

    /// What can be promised: ready by then on nine days in ten, or on the one day.
    #[must_use]
    pub(in crate::cli) fn instead(&self) -> Option<Moment> {
        self.chance.map_or(self.order.ready, |c| c.nine_in_ten)
    }

    /// Whether it counts as on time.
    #[must_use]
    pub(in crate::cli) fn on_time(&self) -> bool {
        self.sure >= Sure::Tight
    }
}

/// All orders of the day drawn, in order of arrival.
#[must_use]
pub(in crate::cli) fn promises<'a>(results: &Results<'a>) -> Vec<Promise<'a>> {
    let one = |order: &'a OrderFigure| {
        let chance = results.study.map(|s| s.chance((order.source, order.nth)));
        let sure = match chance {
            Some(chance) => of_days(&chance),
            None if order.ready.is_none() => Sure::Cannot,
            None if order.on_time() => Sure::Safe,
            None => Sure::Late,
        };
        Promise { order, chance, sure }
    };
    results.figures.orders.iter().map(one).collect()
}

fn of_days(chance: &Chance) -> Sure {
    let of_100 = 100 * u64::from(chance.on_time);
    let days = u64::from(chance.of);
    if chance.usual.is_none() && chance.on_time == 0 {
        Sure::Cannot
    } else if chance.on_time == chance.of {
        Sure::Certain
    } else if of_100 >= 95 * days {
        Sure::Safe
    } else if of_100 >= 50 * days {
        Sure::Tight
    } else {
        Sure::Late
    }
}

#[cfg(test)]
mod tests {
    use super::{Chance, Sure, of_days};
    use crate::units::Moment;

    #[test]
    fn how_sure_is_said_by_the_days_counted() {
        let sure = |on_time, of| {
            of_days(&Chance {
                usual: Some(Moment::ZERO),
                nine_in_ten: None,
                on_time,
                of,
            })
        };
        assert_eq!(sure(200, 200), Sure::Certain);
        assert_eq!(sure(190, 200), Sure::Safe);
        assert_eq!(sure(189, 200), Sure::Tight);
        assert_eq!(sure(100, 200), Sure::Tight);
        assert_eq!(sure(99, 200), Sure::Late);
        let never = Chance {
            usual: None,
            nine_in_ten: None,
            on_time: 0,
            of: 200,
        };
        assert_eq!(of_days(&never), Sure::Cannot);
    }
}
