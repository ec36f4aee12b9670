//! Many days of the same shop under different luck: how sure each order is, and how much each figure varies.
//!
//! # Known and left
//!
//! - `--precision` judges the means of the alternatives, not their differences; `--part` goes with a fixed number of
//!   replications.
//! - `run --steady` cuts all its figures where the time in the shop says that the warm-up ends; power and water are
//!   not among them.

pub mod compare;
pub mod quote;
pub mod shard;
pub mod sweep;
pub mod what_if;

mod measure;
mod precision;
mod sample;
mod steady;
mod sure;

pub use measure::{Better, Measure, Reading};
pub use precision::{FIRST, Precision};
pub use sample::{Days, Follows, Readings, sample};
pub use steady::{BATCHES, LongRunFigures, Steady};
pub use sure::Sure;

use rayon::prelude::*;
use std::collections::{BTreeMap, BTreeSet};
use tankday_base::random::Streams;
use tankday_base::shop::{OrderId, Shop};
use tankday_base::stats::{QuantileRule, quantile_of_sorted};
use tankday_base::units::{Moment, Span};
use tankday_record::{
    Analysis, BathFigure, Cost, Figures, Finished, OrderFigure, Record, TankFigure, WarningKind, finished,
};

/// An order across all days: as written in the scenario, and which of its stream.
pub type OrderKey = (OrderId, u32);

/// What is kept of one replication.
#[derive(Debug, Clone, PartialEq)]
pub struct StudyDay {
    /// Orders: when ready, when promised.
    pub orders: BTreeMap<OrderKey, (Option<Moment>, Option<Moment>)>,
    /// Orders of which parts lay bare longer than they may.
    pub bare: BTreeSet<OrderKey>,
    /// Orders of which parts took no coat.
    pub uncoated: BTreeSet<OrderKey>,
    /// Kinds of warning that the day gives.
    pub warned: BTreeSet<WarningKind>,
    /// End of the last work under hands.
    pub finish: Option<Moment>,
    /// When the last load was ready.
    pub end: Option<Moment>,
    /// Work finished, summed up.
    pub finished: Vec<Finished>,
    /// Costs.
    pub cost: Cost,
    /// Tanks.
    pub tanks: Vec<TankFigure>,
    /// Baths.
    pub baths: Vec<BathFigure>,
}

/// How sure an order is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Chance {
    /// Ready by then on half of the days; none if it is not.
    pub usual: Option<Moment>,
    /// Ready by then on nine days in ten; none if it is not.
    pub nine_in_ten: Option<Moment>,
    /// Days on which it is on time: see [`OrderFigure::on_time`].
    pub on_time: u32,
    /// Days on which it is ready when promised, but harmed: parts of it lie bare longer than they may, or took no coat.
    pub harmed: u32,
    /// Days on which it comes: all of them, but for one that comes by chance.
    pub of: u32,
}

/// Replications of one shop.
#[derive(Debug, Clone, PartialEq)]
pub struct Study {
    /// Every replication.
    pub days: Vec<StudyDay>,
    /// The one nearest the medians of all ready times: which, its record, its figures.
    pub drawn: usize,
    /// Its record.
    pub record: Record,
    /// Its figures.
    pub figures: Figures,
}

impl Study {
    /// Runs so many replications, at least one, on as many threads as the pool has. The result does not depend on
    /// the number of threads.
    pub fn of(shop: &Shop, seed: u64, replications: u32, run: impl Fn(Streams) -> Record + Sync) -> Self {
        let one = |replication: u32| run(Streams::new(seed, u64::from(replication)));
        let day = |replication: u32| {
            let record = one(replication);
            let read = Analysis::of(shop, &record);
            StudyDay::of(&Figures::from(&read), finished(&read))
        };
        let days: Vec<StudyDay> = (0..replications.max(1)).into_par_iter().map(day).collect();
        let drawn = nearest_the_middle(&days);
        let record = one(u32::try_from(drawn).unwrap_or(0));
        let figures = Figures::of(shop, &record);
        Self {
            days,
            drawn,
            record,
            figures,
        }
    }

    /// On how many days something is so.
    #[must_use]
    pub fn days_on_which(&self, so: impl Fn(&StudyDay) -> bool) -> usize {
        self.days.iter().filter(|day| so(day)).count()
    }

    /// How sure an order is.
    #[must_use]
    pub fn chance(&self, order: OrderKey) -> Chance {
        let ready = ready_times(&self.days, order);
        let in_time = || self.days.iter().filter(|d| d.in_time(order));
        let harmed = in_time().filter(|d| d.is_harmed(order)).count();
        let on_time = in_time().count() - harmed;
        Chance {
            usual: at_share(&ready, 0.5),
            nine_in_ten: at_share(&ready, 0.9),
            on_time: u32::try_from(on_time).unwrap_or(u32::MAX),
            harmed: u32::try_from(harmed).unwrap_or(u32::MAX),
            of: u32::try_from(self.days.iter().filter(|d| d.orders.contains_key(&order)).count())
                .unwrap_or(u32::MAX),
        }
    }

    /// When an order is due; none where it is not, or where it comes by chance and is due at other times on other days.
    #[must_use]
    pub fn due(&self, order: OrderKey) -> Option<Moment> {
        self.dues(order)
            .next()
            .filter(|_| !self.due_varies(order))
            .flatten()
    }

    /// Whether an order that comes by chance is due at other times on other days.
    #[must_use]
    pub fn due_varies(&self, order: OrderKey) -> bool {
        let first = self.dues(order).next();
        self.dues(order).any(|due| Some(due) != first)
    }

    fn dues(&self, order: OrderKey) -> impl Iterator<Item = Option<Moment>> {
        let days = self.days.iter();
        days.filter_map(move |d| d.orders.get(&order).map(|(_, due)| *due))
    }

    /// The end of the day: usual, and on nine days in ten.
    #[must_use]
    pub fn end(&self) -> (Option<Moment>, Option<Moment>) {
        let ends = sorted(self.working().map(|d| d.end.unwrap_or(Moment::NEVER)));
        (at_share(&ends, 0.5), at_share(&ends, 0.9))
    }

    /// The end of the last work under hands: usual, and on nine days in ten.
    #[must_use]
    pub fn finish(&self) -> (Option<Moment>, Option<Moment>) {
        let ends = sorted(self.working().map(|d| d.finish.unwrap_or(Moment::NEVER)));
        (at_share(&ends, 0.5), at_share(&ends, 0.9))
    }

    /// The days on which any order comes: the others have no end.
    fn working(&self) -> impl Iterator<Item = &StudyDay> {
        self.days.iter().filter(|d| !d.orders.is_empty())
    }
}

impl StudyDay {
    /// Of one run's figures, and of the work that it finished.
    #[must_use]
    pub fn of(figures: &Figures, finished: Vec<Finished>) -> Self {
        let nth = |o: &OrderFigure| ((o.source, o.nth), (o.ready, o.due));
        let which = |harmed: fn(&OrderFigure) -> bool| {
            let orders = figures.orders.iter().filter(|o| harmed(o));
            orders.map(|o| (o.source, o.nth)).collect()
        };
        Self {
            orders: figures.orders.iter().map(nth).collect(),
            bare: which(|o| o.bare > Span::ZERO),
            uncoated: which(|o| o.uncoated),
            warned: figures.warnings.iter().map(|w| w.kind).collect(),
            finish: figures.finish,
            end: figures.end,
            finished,
            cost: figures.cost.clone(),
            tanks: figures.tanks.clone(),
            baths: figures.baths.clone(),
        }
    }

    /// Whether parts of it lay bare too long or took no coat.
    #[must_use]
    pub fn is_harmed(&self, order: OrderKey) -> bool {
        self.bare.contains(&order) || self.uncoated.contains(&order)
    }

    /// Whether it is ready when promised, harmed or not.
    fn in_time(&self, order: OrderKey) -> bool {
        match self.orders.get(&order) {
            Some((Some(ready), due)) => due.is_none_or(|due| *ready <= due),
            _ => false,
        }
    }
}

fn sorted(times: impl Iterator<Item = Moment>) -> Vec<Moment> {
    let mut times: Vec<Moment> = times.collect();
    times.sort_unstable();
    times
}

/// When an order is ready, over the days on which it comes; never on days when it is left over.
fn ready_times(days: &[StudyDay], order: OrderKey) -> Vec<Moment> {
    sorted(
        days.iter()
            .filter_map(|d| d.orders.get(&order))
            .map(|(ready, _)| ready.unwrap_or(Moment::NEVER)),
    )
}

/// The smallest of the times by which at least this share of them has passed.
fn at_share(sorted: &[Moment], share: f64) -> Option<Moment> {
    let places: Vec<f64> = (0..sorted.len()).map(|i| i as f64).collect();
    let place = quantile_of_sorted(&places, share, QuantileRule::Smallest)?;
    sorted
        .get(place as usize)
        .copied()
        .filter(|at| *at != Moment::NEVER)
}

/// The day whose ready times differ least, in sum, from the medians.
fn nearest_the_middle(days: &[StudyDay]) -> usize {
    let mut medians: BTreeMap<OrderKey, Moment> = BTreeMap::new();
    for key in days.iter().flat_map(|d| d.orders.keys()) {
        medians
            .entry(*key)
            .or_insert_with(|| at_share(&ready_times(days, *key), 0.5).unwrap_or(Moment::NEVER));
    }
    let off = |day: &StudyDay| -> i128 {
        let ready = |key| {
            day.orders
                .get(key)
                .and_then(|(ready, _)| *ready)
                .unwrap_or(Moment::NEVER)
        };
        medians
            .iter()
            .map(|(key, at)| i128::from((ready(key) - *at).in_micros().abs()))
            .sum()
    };
    days.iter()
        .enumerate()
        .min_by_key(|(i, day)| (off(day), *i))
        .map_or(0, |(i, _)| i)
}

#[cfg(test)]
mod tests;
