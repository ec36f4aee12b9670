//! Mean, standard deviation and correlation of readings.

/// The sum with the lost digits kept aside, after A. Neumaier, Z. angew. Math. Mech. 54 (1974) 39-51.
fn exact_sum(values: impl Iterator<Item = f64>) -> f64 {
    let (mut sum, mut lost) = (0.0f64, 0.0);
    for value in values {
        let next = sum + value;
        lost += if sum.abs() >= value.abs() {
            (sum - next) + value
        } else {
            (value - next) + sum
        };
        sum = next;
    }
    sum + lost
}

/// The mean; `None` of no readings.
#[must_use]
pub fn mean(values: &[f64]) -> Option<f64> {
    if values.is_empty() {
        return None;
    }
    Some(exact_sum(values.iter().copied()) / values.len() as f64)
}

/// The sample variance, divisor n - 1; `None` of fewer than two readings.
///
/// Two passes, the second corrected for the rounding of the mean (T. F. Chan, G. H. Golub, R. J. LeVeque, The American
/// Statistician 37 (1983) 242-247).
#[must_use]
pub fn variance(values: &[f64]) -> Option<f64> {
    if values.len() < 2 {
        return None;
    }
    let (n, middle) = (values.len() as f64, mean(values)?);
    let off = exact_sum(values.iter().map(|x| x - middle));
    let squares = exact_sum(values.iter().map(|x| (x - middle) * (x - middle)));
    Some(((squares - off * off / n) / (n - 1.0)).max(0.0))
}

/// The sample standard deviation, divisor n - 1; `None` of fewer than two readings.
#[must_use]
pub fn standard_deviation(values: &[f64]) -> Option<f64> {
    variance(values).map(f64::sqrt)
}

/// Pearson's correlation of pairs; `None` of fewer than two, of unequal lengths, or when one side does not vary.
#[must_use]
pub fn correlation(one: &[f64], two: &[f64]) -> Option<f64> {
    if one.len() != two.len() || one.len() < 2 {
        return None;
    }
    let (mean_one, mean_two) = (mean(one)?, mean(two)?);
    let products = exact_sum(one.iter().zip(two).map(|(a, b)| (a - mean_one) * (b - mean_two)));
    let scale = (variance(one)? * variance(two)?).sqrt() * (one.len() - 1) as f64;
    (scale > 0.0).then(|| (products / scale).clamp(-1.0, 1.0))
}
