//! How many replications a wanted precision needs.

use super::interval::two_sided;
use super::mean::{mean, variance};

/// More replications than this are not planned.
pub const MOST_REPLICATIONS: u64 = 1_000_000_000;

/// The number of replications, at least as many as were made, for a half-width of at most `half_width` (in the unit of
/// the readings) at `level`, if the variance stays as it is. `None` of fewer than two readings, for a senseless
/// level or width, or beyond [`MOST_REPLICATIONS`].
///
/// A. M. Law, Simulation Modeling and Analysis, chapter 9: the smallest i with t(i - 1) sqrt(S^2 / i) <= half-width.
#[must_use]
pub fn replications_for_half_width(pilot: &[f64], level: f64, half_width: f64) -> Option<u64> {
    let spread = variance(pilot)?;
    smallest(pilot.len() as u64, |i| {
        let t = two_sided(level, (i - 1) as f64)?;
        Some(half_width > 0.0 && t * (spread / i as f64).sqrt() <= half_width)
    })
}

/// The number of replications, at least as many as were made, for a relative error of at most `error` (0.1 for 10 %) at
/// `level`. The half-width is held to `error / (1 + error)` of the mean found, as the true mean may be the smaller.
/// `None` as for [`replications_for_half_width`], or for a mean of 0.
#[must_use]
pub fn replications_for_relative_error(pilot: &[f64], level: f64, error: f64) -> Option<u64> {
    let width = mean(pilot)?.abs() * error / (1.0 + error);
    replications_for_half_width(pilot, level, width)
}

/// The smallest i from `from` on that is enough; what is enough once is enough from there on.
fn smallest(from: u64, enough: impl Fn(u64) -> Option<bool>) -> Option<u64> {
    let (mut below, mut above) = (from.saturating_sub(1), from);
    while !enough(above)? {
        below = above;
        above = above.saturating_mul(2);
        if above > MOST_REPLICATIONS {
            return None;
        }
    }
    while above - below > 1 {
        let middle = below + (above - below) / 2;
        if enough(middle)? {
            above = middle;
        } else {
            below = middle;
        }
    }
    Some(above)
}
