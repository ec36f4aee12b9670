//! The interval for a mean.

use super::mean::{mean, variance};
use super::student::student_quantile;

/// A mean with its interval: the true mean lies within in about `level` of all cases, if the readings are independent.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MeanInterval {
    /// The mean of the readings.
    pub mean: f64,
    /// Half the width of the interval, in the unit of the readings.
    pub half_width: f64,
    /// How sure it is meant to be, between 0 and 1.
    pub level: f64,
    /// Degrees of freedom of the t quantile in it.
    pub degrees: f64,
}

impl MeanInterval {
    /// Its lower end.
    #[must_use]
    pub fn low(&self) -> f64 {
        self.mean - self.half_width
    }

    /// Its upper end.
    #[must_use]
    pub fn high(&self) -> f64 {
        self.mean + self.half_width
    }

    /// Whether `value` lies within.
    #[must_use]
    pub fn contains(&self, value: f64) -> bool {
        (value - self.mean).abs() <= self.half_width
    }
}

/// The t interval at `level` (0.90 for 90 %) for the mean of independent readings, symmetric about their mean.
/// `None` of fewer than two readings, or when `level` does not lie between 0 and 1.
#[must_use]
pub fn interval_of_mean(values: &[f64], level: f64) -> Option<MeanInterval> {
    let spread = variance(values)?;
    let n = values.len() as f64;
    interval_from(mean(values)?, spread / n, n - 1.0, level)
}

/// The t interval of a mean whose own variance is `of_mean`, with `degrees` of freedom.
pub(super) fn interval_from(mean: f64, of_mean: f64, degrees: f64, level: f64) -> Option<MeanInterval> {
    let half_width = two_sided(level, degrees)? * of_mean.sqrt();
    Some(MeanInterval {
        mean,
        half_width,
        level,
        degrees,
    })
}

/// The t quantile that leaves (1 - level)/2 on either side.
pub(super) fn two_sided(level: f64, degrees: f64) -> Option<f64> {
    (level > 0.0 && level < 1.0).then(|| student_quantile(0.5 + 0.5 * level, degrees))
}
