//! What holds in the long run, from one long run: the warm-up is cut off after MSER-5, the rest goes into batches.

use crate::stats::{
    MeanInterval, autocorrelation, batch_means, interval_by_batches, mser5, von_neumann_ratio,
};
use crate::units::Span;

/// Batches of the rest.
pub const BATCHES: usize = 20;
const LEVEL: f64 = 0.95;

/// The time of an order in the shop, in the long run.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Steady {
    /// Orders of the whole run.
    pub orders: usize,
    /// So many at its beginning belong to the warm-up.
    pub cut: usize,
    /// The run is too short to tell: the best cut lies at half of it.
    pub too_short: bool,
    /// Mean minutes with their 95 % interval, from the means of [`BATCHES`] batches.
    pub minutes: MeanInterval,
    /// The mean with the warm-up left in, minutes.
    pub uncut: f64,
    /// Correlation of neighbouring batches; the interval is too narrow where it is well above zero.
    pub neighbours: Option<f64>,
    /// The von Neumann ratio of the batches, 2 where they are uncorrelated.
    pub ratio: Option<f64>,
}

impl Steady {
    /// Of the times of all orders in order of arrival; none of fewer than 40, which fill no batches.
    #[must_use]
    pub fn of(times: &[Span]) -> Option<Self> {
        let minutes: Vec<f64> = times.iter().map(|t| t.in_minutes()).collect();
        let warmup = mser5(&minutes)?;
        let rest = minutes.get(warmup.cut..)?;
        if rest.len() < BATCHES {
            return None;
        }
        let batches = batch_means(rest, BATCHES)?;
        Some(Self {
            orders: minutes.len(),
            cut: warmup.cut,
            too_short: warmup.too_short,
            minutes: interval_by_batches(rest, BATCHES, LEVEL)?,
            uncut: crate::stats::mean(&minutes)?,
            neighbours: autocorrelation(&batches, 1),
            ratio: von_neumann_ratio(&batches),
        })
    }
}
