//! Replications until the figures are known closely enough.

use super::measure::{Measure, Reading};
use tankday_base::stats::{MeanInterval, interval_of_mean, replications_for_half_width};
use tankday_base::units::Span;

/// How closely the headline figures are to be known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Precision {
    /// Half the interval of every headline figure that is a time is at most this.
    Time(Span),
    /// Half the interval of every headline figure is at most this share of its mean.
    Share(f64),
}

/// The level of the intervals that are judged.
const LEVEL: f64 = 0.95;
/// Fewer replications than this say too little about the spread.
pub const FIRST: u32 = 50;

impl Precision {
    /// The half-width wanted of a figure with this mean; none if the figure is not judged.
    fn wanted(self, measure: Measure, mean: f64) -> Option<f64> {
        match self {
            _ if !measure.is_headline() => None,
            Self::Time(span) => (measure.unit() == "min").then(|| span.in_minutes()),
            Self::Share(share) => Some(share * mean.abs()),
        }
    }

    /// The headline figures that are not known closely enough, each with its interval.
    #[must_use]
    pub fn missed(self, readings: &[Reading]) -> Vec<(Measure, MeanInterval)> {
        let judged = |measure: &Measure| {
            let column = column(readings, *measure)?;
            let interval = interval_of_mean(&column, LEVEL)?;
            let wanted = self.wanted(*measure, interval.mean)?;
            (interval.half_width > wanted).then_some((*measure, interval))
        };
        Measure::ALL.iter().filter_map(judged).collect()
    }

    /// How many replications to have next: what the spread so far asks for, at least a fifth more than now, at most
    /// four times as many, as the spread itself is an estimate.
    #[must_use]
    pub fn next(self, alternatives: &[&[Reading]], now: u32, most: u32) -> u32 {
        let asked = |readings: &&[Reading]| -> u64 {
            let need = |(measure, interval): &(Measure, MeanInterval)| {
                let wanted = self.wanted(*measure, interval.mean)?;
                replications_for_half_width(&column(readings, *measure)?, LEVEL, wanted)
            };
            let missed = self.missed(readings);
            let needs = missed.iter().map(|m| need(m).unwrap_or(u64::MAX));
            needs.max().unwrap_or(0)
        };
        let need = alternatives.iter().map(asked).max().unwrap_or(0);
        let need = u32::try_from(need).unwrap_or(u32::MAX);
        need.clamp(now.saturating_add(now.div_ceil(5)), now.saturating_mul(4))
            .min(most)
    }
}

fn column(readings: &[Reading], measure: Measure) -> Option<Vec<f64>> {
    let values: Vec<f64> = readings.iter().map(|r| r.get(measure)).collect();
    values.iter().all(|v| v.is_finite()).then_some(values)
}
