//! How sure each order is, in one place for all who tell it.

use super::Results;
use tankday_base::print::{Replication, how_long};
use tankday_base::units::{Moment, Span};
use tankday_record::OrderFigure;
use tankday_study::Chance;
pub use tankday_study::Sure;

/// An order and how sure it is.
#[derive(Debug, Clone)]
pub struct Promise<'a> {
    /// The order on the day drawn.
    pub order: &'a OrderFigure,
    /// When it is due; none where nothing is promised, or where it comes by chance and is due at other times on other days.
    pub due: Option<Moment>,
    /// Whether it is due at other times on other days.
    pub due_varies: bool,
    /// Its chances over the days, if there are many.
    pub chance: Option<Chance>,
    /// What the days are over which its chances are counted.
    pub each: Replication,
    /// How sure.
    pub sure: Sure,
    /// What harms it, on any of the days.
    pub harm: Harm,
}

/// What keeps an order that is ready from counting as on time.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Harm {
    /// Some of it lies bare longer than it may.
    pub bare: bool,
    /// Some of it takes no coat.
    pub uncoated: bool,
}

impl Harm {
    /// Its codes, as in the data.
    #[must_use]
    pub fn codes(self) -> Vec<&'static str> {
        let bare = self.bare.then_some("lies-bare");
        let uncoated = self.uncoated.then_some("no-coat");
        bare.into_iter().chain(uncoated).collect()
    }

    /// `lies bare too long`, of so many orders; none where nothing harms.
    #[must_use]
    pub fn words(self, orders: usize) -> String {
        let (lie, take) = if orders == 1 {
            ("lies", "takes")
        } else {
            ("lie", "take")
        };
        let bare = self.bare.then(|| format!("{lie} bare too long"));
        let uncoated = self.uncoated.then(|| format!("{take} no coat"));
        let all: Vec<String> = bare.into_iter().chain(uncoated).collect();
        all.join(" or ")
    }
}

impl Promise<'_> {
    /// When it is usually ready.
    #[must_use]
    pub fn usual(&self) -> Option<Moment> {
        self.chance.map_or(self.order.ready, |c| c.usual)
    }

    /// What can be promised: ready by then on nine days in ten, or on the one day.
    #[must_use]
    pub fn instead(&self) -> Option<Moment> {
        self.chance.map_or(self.order.ready, |c| c.nine_in_ten)
    }

    /// Whether it counts as on time.
    #[must_use]
    pub fn on_time(&self) -> bool {
        self.sure >= Sure::Tight
    }

    /// Whether it is ready when it should be, harmed or not.
    #[must_use]
    pub fn in_time(&self) -> bool {
        match self.chance {
            Some(chance) => chance.sure_of_time() >= Sure::Tight,
            None => self.order.in_time(),
        }
    }

    /// How sure it is, in a few words: `40 of 100 days`, or how early or late on the one day; first of all what harms it on
    /// the day that is told, where it is not on time for that.
    #[must_use]
    pub fn words(&self) -> String {
        let order = self.order;
        let told = self.chance.is_none() || !self.on_time();
        if told && order.ready.is_some() && order.uncoated {
            return "no coat".to_owned();
        }
        if told && order.bare > Span::ZERO {
            return format!("bare {}", how_long(order.bare));
        }
        match (self.chance, self.sure) {
            (_, Sure::Cannot) => "won't be finished".to_owned(),
            (Some(chance), _) if chance.of > 1 => chance.words(self.each),
            _ => match (order.ready, order.due) {
                (Some(ready), Some(due)) if ready > due => format!("{} late", how_long(ready - due)),
                (Some(ready), Some(due)) => format!("{} early", how_long(due - ready)),
                _ => "ready".to_owned(),
            },
        }
    }
}

impl Promise<'_> {
    /// What its words are sorted by, the worst first: what cannot be done, then days on which it is on time, or minutes that it
    /// is early.
    #[must_use]
    pub fn worth(&self) -> f64 {
        match (self.chance, self.sure, self.order.ready, self.order.due) {
            (_, Sure::Cannot, ..) => -1e9,
            (Some(chance), ..) if chance.of > 1 => f64::from(chance.on_time) / f64::from(chance.of),
            (_, _, Some(ready), Some(due)) => (due - ready).in_minutes(),
            // Ready, and nothing was promised.
            _ => 1e9,
        }
    }
}

/// All orders of the day drawn, in order of arrival.
#[must_use]
pub fn promises<'a>(results: &Results<'a>) -> Vec<Promise<'a>> {
    let one = |order: &'a OrderFigure| {
        let key = (order.source, order.nth);
        let chance = results.many().map(|s| s.chance(key));
        let sure = match chance {
            Some(chance) => chance.sure(),
            None if order.ready.is_none() => Sure::Cannot,
            None if order.on_time() => Sure::Safe,
            None => Sure::Late,
        };
        let harm = match results.many() {
            Some(study) => Harm {
                bare: study.days_on_which(|d| d.bare.contains(&key)) > 0,
                uncoated: study.days_on_which(|d| d.uncoated.contains(&key)) > 0,
            },
            None => Harm {
                bare: order.bare > Span::ZERO,
                uncoated: order.uncoated,
            },
        };
        let due_varies = results.many().is_some_and(|s| s.due_varies(key));
        Promise {
            order,
            due: order.due.filter(|_| !due_varies),
            due_varies,
            chance,
            sure,
            each: results.each(),
            harm,
        }
    };
    results.figures.orders.iter().map(one).collect()
}
