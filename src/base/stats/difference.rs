//! The difference between two alternatives.

use super::interval::{MeanInterval, interval_from, interval_of_mean};
use super::mean::{correlation, mean, variance};

/// The mean difference of pairs, and how closely the pairs move together.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PairedDifference {
    /// The interval for the mean of first minus second.
    pub interval: MeanInterval,
    /// The correlation of the pairs; `None` when one side does not vary. When it is not positive, pairing does not help
    /// and may widen the interval: say so beside the figure.
    pub correlation: Option<f64>,
}

/// The paired t interval for the mean of `one` minus `two`, replication by replication. `None` of unequal lengths, of
/// fewer than two pairs, or for a senseless level.
#[must_use]
pub fn paired_difference(one: &[f64], two: &[f64], level: f64) -> Option<PairedDifference> {
    if one.len() != two.len() {
        return None;
    }
    let differences: Vec<f64> = one.iter().zip(two).map(|(a, b)| a - b).collect();
    Some(PairedDifference {
        interval: interval_of_mean(&differences, level)?,
        correlation: correlation(one, two),
    })
}

/// The interval for the difference of the means of two independent groups, `one` minus `two`, whose variances may differ.
/// `None` when a group has fewer than two readings, or for a senseless level.
///
/// B. L. Welch, Biometrika 34 (1947) 28-35, with the degrees of freedom of F. E. Satterthwaite, Biometrics Bull. 2
/// (1946) 110-114.
#[must_use]
pub fn welch_difference(one: &[f64], two: &[f64], level: f64) -> Option<MeanInterval> {
    let (n, m) = (one.len() as f64, two.len() as f64);
    let (a, b) = (variance(one)? / n, variance(two)? / m);
    let apart = mean(one)? - mean(two)?;
    let degrees = if a + b > 0.0 {
        (a + b) * (a + b) / (a * a / (n - 1.0) + b * b / (m - 1.0))
    } else {
        n + m - 2.0
    };
    interval_from(apart, a + b, degrees, level)
}
