//! How long it takes until an outlay has come back.

use super::Comparison;
use crate::Measure;

/// Working days until the outlay of an alternative, over that of the first, has come back through lower daily costs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Payback {
    /// Which alternative.
    pub alternative: usize,
    /// Outlay over that of the first.
    pub outlay: f64,
    /// At the mean saving; none if nothing is saved.
    pub days: Option<f64>,
    /// At the largest saving of its interval; none if even then nothing is saved.
    pub soonest: Option<f64>,
    /// At the least saving of its interval; none if it may be that nothing is saved.
    pub latest: Option<f64>,
}

/// The payback of one alternative; none if no outlay is stated for it, it is no more than that of the first, or
/// nothing costs anything. The ends of its interval are those of the daily saving, as the outlay is known.
#[must_use]
pub fn payback(comparison: &Comparison, alternative: usize) -> Option<Payback> {
    let outlay_of = |i: usize| comparison.alternatives.get(i).and_then(|a| a.outlay);
    let outlay = outlay_of(alternative)? - outlay_of(0).unwrap_or(0.0);
    if outlay <= 0.0 {
        return None;
    }
    let cost = comparison.difference(alternative, Measure::Cost)?.interval;
    let days = |saving: f64| (saving > 0.0).then(|| outlay / saving);
    Some(Payback {
        alternative,
        outlay,
        days: days(-cost.mean),
        soonest: days(-cost.low()),
        latest: days(-cost.high()),
    })
}
