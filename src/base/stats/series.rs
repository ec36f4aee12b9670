//! A series of readings in their order: autocorrelation, batch means, the von Neumann ratio.

use super::interval::{MeanInterval, interval_of_mean};
use super::mean::mean;

/// The autocorrelation at a lag: sum (x_i - m)(x_(i+lag) - m) / sum (x_i - m)^2. `None` when the series is not longer
/// than the lag or does not vary.
#[must_use]
pub fn autocorrelation(values: &[f64], lag: usize) -> Option<f64> {
    let middle = mean(values)?;
    let later = values.get(lag..).filter(|rest| !rest.is_empty())?;
    let products: f64 = values
        .iter()
        .zip(later)
        .map(|(a, b)| (a - middle) * (b - middle))
        .sum();
    let squares: f64 = values.iter().map(|a| (a - middle) * (a - middle)).sum();
    (squares > 0.0).then(|| products / squares)
}

/// The von Neumann ratio: sum (x_(i+1) - x_i)^2 / sum (x_i - m)^2. It is near 2 when neighbours are uncorrelated and
/// less when they move together. `None` of fewer than two, or when the series does not vary.
#[must_use]
pub fn von_neumann_ratio(values: &[f64]) -> Option<f64> {
    let middle = mean(values).filter(|_| values.len() > 1)?;
    let steps: f64 = values
        .iter()
        .zip(values.iter().skip(1))
        .map(|(a, b)| (b - a) * (b - a))
        .sum();
    let squares: f64 = values.iter().map(|a| (a - middle) * (a - middle)).sum();
    (squares > 0.0).then(|| steps / squares)
}

/// The means of `batches` equal stretches of the series; readings left over at the end are not used. `None` when there
/// are no batches or fewer readings than batches.
#[must_use]
pub fn batch_means(values: &[f64], batches: usize) -> Option<Vec<f64>> {
    let size = values.len().checked_div(batches)?;
    if size == 0 {
        return None;
    }
    values.chunks_exact(size).take(batches).map(mean).collect()
}

/// The interval for the long-run mean of one run, from the means of `batches` stretches; degrees of freedom are one
/// less than batches. `None` of fewer than two batches or too few readings.
#[must_use]
pub fn interval_by_batches(values: &[f64], batches: usize, level: f64) -> Option<MeanInterval> {
    interval_of_mean(&batch_means(values, batches)?, level)
}
