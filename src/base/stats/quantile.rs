//! Quantiles of readings.

/// How a quantile is read from a sample. The numbers are those of R. J. Hyndman and Y. Fan, The American Statistician 50
/// (1996) 361-365.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum QuantileRule {
    /// The smallest reading x with F(x) >= p (type 1).
    Smallest,
    /// Linear between readings, reading k of n standing at k / (n + 1) (type 6).
    Weibull,
    /// Linear between readings, reading k of n standing at (k - 1) / (n - 1) (type 7).
    Linear,
}

/// The quantile at `p` of readings in rising order. `None` of no readings or when `p` does not lie from 0 to 1.
#[must_use]
pub fn quantile_of_sorted(sorted: &[f64], p: f64, rule: QuantileRule) -> Option<f64> {
    if !(0.0..=1.0).contains(&p) {
        return None;
    }
    let n = sorted.len() as f64;
    let place = match rule {
        QuantileRule::Smallest => whole_step_up(n * p),
        QuantileRule::Weibull => (n + 1.0) * p,
        QuantileRule::Linear => 1.0 + (n - 1.0) * p,
    }
    .clamp(1.0, n.max(1.0));
    let (whole, part) = (place.floor(), place.fract());
    let below = *sorted.get(whole as usize - 1)?;
    let above = sorted.get(whole as usize).copied().unwrap_or(below);
    Some(below + part * (above - below))
}

/// The quantile at `p` of readings in any order, which are copied and sorted.
#[must_use]
pub fn quantile(values: &[f64], p: f64, rule: QuantileRule) -> Option<f64> {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    quantile_of_sorted(&sorted, p, rule)
}

/// Up to the next whole number, unless the value is a whole number but for rounding (0.9 of 10 is 9, not 10).
fn whole_step_up(value: f64) -> f64 {
    let near = value.round();
    if (value - near).abs() < 1e-9 * value.abs().max(1.0) {
        near
    } else {
        value.ceil()
    }
}
