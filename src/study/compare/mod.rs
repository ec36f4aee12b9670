//! Alternatives under the same luck: how each does, how each differs from the first, and which is best.
//!
//! # Known and left
//!
//! - `compare` with more than two names the best by intervals that hold together after Bonferroni; where these leave
//!   it open, by the selection of Kim and Nelson, which asks for normal replications. `run --precision` runs its days
//!   twice: once for the figures that it judges, once for what it tells.

mod assumed;
mod beside;
mod best;
mod payback;
mod rank;
mod verdict;

pub use assumed::{Assumption, Leaning, telling};
pub use beside::identical;
pub use best::{Choice, Place, Standing, choice, places};
pub use payback::{Payback, least_outlay, payback};
pub use rank::{Left, Ranking, ranking};
pub use verdict::{leaning, verdict};

use crate::{Measure, Reading};
use tankday_base::print::Replication;
use tankday_base::stats::{MeanInterval, interval_of_mean, paired_difference};

/// The level of all intervals.
pub const LEVEL: f64 = 0.95;

/// One alternative: what it is called, what it costs to set up, and its replications.
#[derive(Debug, Clone, PartialEq)]
pub struct Alternative {
    /// How it is called in print.
    pub name: String,
    /// What it costs to buy and set up, in the shop's currency.
    pub outlay: Option<f64>,
    /// Its replications, in order.
    pub readings: Vec<Reading>,
}

impl Alternative {
    /// One figure over all replications; none if a replication does not have it.
    #[must_use]
    pub fn column(&self, measure: Measure) -> Option<Vec<f64>> {
        let values: Vec<f64> = self.readings.iter().map(|r| r.get(measure)).collect();
        (!values.is_empty() && values.iter().all(|v| v.is_finite())).then_some(values)
    }

    /// The mean of one figure with its interval. Where every replication has the same value the interval has no width.
    #[must_use]
    pub fn mean(&self, measure: Measure) -> Option<MeanInterval> {
        interval(&self.column(measure)?)
    }
}

/// The interval for a mean; of one replication nothing is known about its spread, and it is not told.
fn interval(values: &[f64]) -> Option<MeanInterval> {
    interval_of_mean(values, LEVEL)
}

/// What a difference amounts to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Finding {
    /// Zero on every single day.
    Identical,
    /// Its interval holds zero: this may be noise.
    Noise,
    /// It is there, and too small to matter.
    Small,
    /// It is lower than in the other.
    Lower,
    /// It is higher than in the other.
    Higher,
}

/// The difference of one figure: this alternative less the other, day by day under the same luck.
#[derive(Debug, Clone, PartialEq)]
pub struct Difference {
    /// Which figure.
    pub measure: Measure,
    /// This alternative, counted from 0.
    pub alternative: usize,
    /// The other one.
    pub against: usize,
    /// The mean difference with its interval.
    pub interval: MeanInterval,
    /// The mean of the other one.
    pub other: f64,
    /// Every day's difference.
    pub days: Vec<f64>,
    /// How closely the two move together; none where one of them does not vary. When it is not positive, the same luck
    /// does not sharpen the comparison.
    pub correlation: Option<f64>,
}

impl Difference {
    /// Of two alternatives; none where one lacks the figure or there are fewer than two days.
    #[must_use]
    pub fn of(all: &[Alternative], alternative: usize, against: usize, measure: Measure) -> Option<Self> {
        let one = all.get(alternative)?.column(measure)?;
        let two = all.get(against)?.column(measure)?;
        let paired = paired_difference(&one, &two, LEVEL)?;
        Some(Self {
            measure,
            alternative,
            against,
            interval: paired.interval,
            other: tankday_base::stats::mean(&two)?,
            days: one.iter().zip(&two).map(|(a, b)| a - b).collect(),
            correlation: paired.correlation,
        })
    }

    /// Share of the days on which this alternative has the lower figure.
    #[must_use]
    pub fn chance_lower(&self) -> f64 {
        self.share(|d| d < 0.0)
    }

    /// Share of the days on which it has the higher one.
    #[must_use]
    pub fn chance_higher(&self) -> f64 {
        self.share(|d| d > 0.0)
    }

    fn share(&self, is: impl Fn(f64) -> bool) -> f64 {
        let count = self.days.iter().filter(|d| is(**d)).count();
        count as f64 / self.days.len().max(1) as f64
    }

    /// What it amounts to.
    #[must_use]
    pub fn finding(&self) -> Finding {
        let mean = self.interval.mean;
        if self.days.iter().all(|d| *d == 0.0) {
            return Finding::Identical;
        }
        if self.interval.contains(0.0) {
            return Finding::Noise;
        }
        // Of the mean of both, so that it is the same whichever is held against the other.
        let least = trifle(self.measure, self.other + 0.5 * mean);
        match (mean.abs() < least, mean < 0.0) {
            (true, _) => Finding::Small,
            (_, true) => Finding::Lower,
            _ => Finding::Higher,
        }
    }
}

/// What is too small to matter beside a mean: what lies under 2 % of it; of times also what lies under 5 minutes, whichever
/// is less.
fn trifle(measure: Measure, mean: f64) -> f64 {
    const MINUTES: f64 = 5.0;
    const SHARE: f64 = 0.02;
    let share = SHARE * mean.abs();
    if measure.unit() == "min" {
        share.min(MINUTES)
    } else {
        share
    }
}

/// All alternatives against the first.
#[derive(Debug, Clone, PartialEq)]
pub struct Comparison {
    /// The alternatives; the first is what all others are held against.
    pub alternatives: Vec<Alternative>,
    /// Their differences, alternative by alternative.
    pub differences: Vec<Difference>,
    /// What one replication is.
    pub each: Replication,
}

impl Comparison {
    /// Compares them.
    #[must_use]
    pub fn of(alternatives: Vec<Alternative>) -> Self {
        let differences = (1..alternatives.len())
            .flat_map(|i| Measure::ALL.iter().map(move |m| (i, *m)))
            .filter_map(|(i, m)| Difference::of(&alternatives, i, 0, m))
            .collect();
        Self {
            alternatives,
            differences,
            each: Replication::Day,
        }
    }

    /// The same, each replication being so many days in a row.
    #[must_use]
    pub fn with_each(self, each: Replication) -> Self {
        Self { each, ..self }
    }

    /// The differences of one alternative to the first.
    pub fn of_alternative(&self, alternative: usize) -> impl Iterator<Item = &Difference> {
        self.differences
            .iter()
            .filter(move |d| d.alternative == alternative)
    }

    /// One difference to the first.
    #[must_use]
    pub fn difference(&self, alternative: usize, measure: Measure) -> Option<&Difference> {
        self.of_alternative(alternative).find(|d| d.measure == measure)
    }

    /// Figures that every alternative has.
    pub fn measures(&self) -> impl Iterator<Item = Measure> + '_ {
        let told = |m: &Measure| self.alternatives.iter().all(|a| a.column(*m).is_some());
        Measure::ALL.iter().copied().filter(told)
    }

    /// Replications.
    #[must_use]
    pub fn replications(&self) -> usize {
        self.alternatives.first().map_or(0, |a| a.readings.len())
    }
}
