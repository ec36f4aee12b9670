//! How long it takes until an outlay has come back.

use super::{Comparison, Difference};
use crate::Measure;

/// Working days until the outlay of an alternative, over that of another, has come back through lower daily costs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Payback {
    /// Which alternative.
    pub alternative: usize,
    /// The one with the lesser outlay.
    pub against: usize,
    /// Outlay over that of the other.
    pub outlay: f64,
    /// At the mean saving; none if nothing is saved.
    pub days: Option<f64>,
    /// At the largest saving of its interval; none if even then nothing is saved.
    pub soonest: Option<f64>,
    /// At the least saving of its interval; none if it may be that nothing is saved.
    pub latest: Option<f64>,
}

/// The payback of the dearer of two alternatives, whichever of them is named first; none if no outlay is stated for it, both
/// cost the same to set up, or nothing costs anything. The ends of its interval are those of the daily saving, as the outlay
/// is known.
#[must_use]
pub fn payback(comparison: &Comparison, one: usize, other: usize) -> Option<Payback> {
    let outlay_of = |i: usize| {
        comparison
            .alternatives
            .get(i)
            .and_then(|a| a.outlay)
            .unwrap_or(0.0)
    };
    let more = outlay_of(one) - outlay_of(other);
    if more < 0.0 {
        return payback(comparison, other, one);
    }
    if more == 0.0 {
        return None;
    }
    let cost = Difference::of(&comparison.alternatives, one, other, Measure::Cost)?.interval;
    let days = |saving: f64| (saving > 0.0).then(|| more / saving);
    Some(Payback {
        alternative: one,
        against: other,
        outlay: more,
        days: days(-cost.mean),
        soonest: days(-cost.low()),
        latest: days(-cost.high()),
    })
}

/// What an outlay is held against: the first alternative, or where others cost less to set up, the first that costs least.
#[must_use]
pub fn least_outlay(comparison: &Comparison) -> usize {
    let outlays = comparison.alternatives.iter().map(|a| a.outlay.unwrap_or(0.0));
    let least = outlays.enumerate().min_by(|a, b| a.1.total_cmp(&b.1));
    least.map_or(0, |(i, _)| i)
}
