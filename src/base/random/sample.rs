//! Draws from a [`Spread`] by inversion: one word in, one time out, with no memory.
//!
//! Every draw uses exactly one word and rises with it, so two spreads drawn with the same words move together
//! as closely as they can. All functions come from `libm`: the same word gives the same time on any machine.

use super::gamma::gamma_quantile;
use super::normal::{normal_density, normal_distribution, normal_quantile};
use super::spread::Spread;
use super::streams::unit;
use crate::units::Span;

impl Spread {
    /// A lognormal spread by its median and the factor that one standard deviation of its logarithm multiplies by:
    /// two times in three lie between median / factor and median times factor.
    #[must_use]
    pub fn lognormal_about(median: Span, factor: f64) -> Self {
        let sigma = libm::log(factor.max(1.0));
        let middle = micros(median);
        let mean = middle * libm::exp(0.5 * sigma * sigma);
        Self::Lognormal {
            mean: span(mean),
            sd: span(mean * libm::expm1(sigma * sigma).sqrt()),
        }
    }

    /// The time that a word stands for; never negative.
    #[inline]
    #[must_use]
    pub fn draw(&self, word: u64) -> Span {
        match self {
            Self::Fixed(time) => (*time).max(Span::ZERO),
            Self::Uniform { least, most } => {
                let (a, b) = (micros(*least), micros(*most));
                span(a + (b - a) * unit(word))
            }
            Self::Triangular { least, mostly, most } => span(triangular(
                micros(*least),
                micros(*mostly),
                micros(*most),
                unit(word),
            )),
            Self::Exponential { mean } => span(-micros(*mean) * libm::log(1.0 - unit(word))),
            Self::Normal { mean, sd } => span(cut_normal(micros(*mean), micros(*sd), unit(word))),
            Self::Lognormal { mean, sd } => span(lognormal(micros(*mean), micros(*sd), unit(word))),
            Self::Gamma { mean, sd } => span(gamma(micros(*mean), micros(*sd), unit(word))),
            Self::Readings(readings) => reading(readings, word),
        }
    }

    /// The mean of what is drawn, to the nearest microsecond. For a cut normal it is the mean after the cut, a little
    /// more than the mean before.
    #[must_use]
    pub fn mean(&self) -> Span {
        match self {
            Self::Fixed(time) => (*time).max(Span::ZERO),
            Self::Uniform { least, most } => span(0.5 * (micros(*least) + micros(*most))),
            Self::Triangular { least, mostly, most } => {
                span((micros(*least) + micros(*mostly) + micros(*most)) / 3.0)
            }
            Self::Normal { mean, sd } => span(cut_normal_mean(micros(*mean), micros(*sd))),
            Self::Exponential { mean } | Self::Lognormal { mean, .. } | Self::Gamma { mean, .. } => {
                (*mean).max(Span::ZERO)
            }
            Self::Readings(readings) if readings.is_empty() => Span::ZERO,
            Self::Readings(readings) => {
                span(readings.iter().map(|&r| micros(r)).sum::<f64>() / readings.len() as f64)
            }
        }
    }

    /// The shortest time that can be drawn.
    #[must_use]
    pub fn least(&self) -> Span {
        match self {
            Self::Fixed(time) => (*time).max(Span::ZERO),
            Self::Uniform { least, .. } | Self::Triangular { least, .. } => (*least).max(Span::ZERO),
            Self::Normal { mean, sd } | Self::Lognormal { mean, sd } | Self::Gamma { mean, sd }
                if *sd <= Span::ZERO =>
            {
                (*mean).max(Span::ZERO)
            }
            Self::Readings(readings) => readings.iter().copied().min().unwrap_or_default().max(Span::ZERO),
            Self::Normal { .. } | Self::Exponential { .. } | Self::Lognormal { .. } | Self::Gamma { .. } => {
                Span::ZERO
            }
        }
    }

    /// The longest time that can be drawn, [`Span::FOREVER`] for those that know no bound.
    #[must_use]
    pub fn most(&self) -> Span {
        match self {
            Self::Fixed(time) => (*time).max(Span::ZERO),
            Self::Uniform { most, .. } | Self::Triangular { most, .. } => (*most).max(Span::ZERO),
            Self::Normal { mean, sd } | Self::Lognormal { mean, sd } | Self::Gamma { mean, sd }
                if *sd <= Span::ZERO =>
            {
                (*mean).max(Span::ZERO)
            }
            Self::Readings(readings) => readings.iter().copied().max().unwrap_or_default().max(Span::ZERO),
            Self::Normal { .. } | Self::Exponential { .. } | Self::Lognormal { .. } | Self::Gamma { .. } => {
                Span::FOREVER
            }
        }
    }
}

#[inline]
fn micros(span: Span) -> f64 {
    span.in_micros() as f64
}

/// To the nearest microsecond, within zero and [`Span::FOREVER`]; what is not a number becomes zero.
#[inline]
fn span(micros: f64) -> Span {
    Span::micros((micros + 0.5) as i64).clamp(Span::ZERO, Span::FOREVER)
}

/// The quantile of the triangular distribution from `a` over its peak `c` to `b`.
#[inline]
fn triangular(a: f64, c: f64, b: f64, u: f64) -> f64 {
    let rising = u * (b - a) < c - a;
    let (end, side, share) = if rising {
        (a, c - a, u)
    } else {
        (b, c - b, 1.0 - u)
    };
    let distance = (share * (b - a) * side.abs()).sqrt();
    end + distance.copysign(side)
}

/// The quantile of a normal distribution cut at zero: of the part above zero, counted from above, where `u` near 1
/// keeps its digits.
fn cut_normal(mean: f64, sd: f64, u: f64) -> f64 {
    if sd <= 0.0 {
        return mean;
    }
    let kept = normal_distribution(mean / sd);
    mean - sd * normal_quantile((1.0 - u) * kept)
}

/// The mean of a normal distribution cut at zero: mean + sd phi(a) / Phi(a) with a = mean / sd.
///
/// N. L. Johnson, S. Kotz, N. Balakrishnan, Continuous Univariate Distributions 1, chapter 13.
fn cut_normal_mean(mean: f64, sd: f64) -> f64 {
    if sd <= 0.0 {
        return mean;
    }
    let a = mean / sd;
    mean + sd * normal_density(a) / normal_distribution(a)
}

/// The quantile of a lognormal distribution by its own mean and standard deviation.
fn lognormal(mean: f64, sd: f64, u: f64) -> f64 {
    if sd <= 0.0 || mean <= 0.0 {
        return mean;
    }
    let ratio = sd / mean;
    let variance = libm::log1p(ratio * ratio);
    mean * libm::exp(variance.sqrt() * normal_quantile(u) - 0.5 * variance)
}

/// The quantile of a gamma distribution by its mean and standard deviation.
fn gamma(mean: f64, sd: f64, u: f64) -> f64 {
    if sd <= 0.0 || mean <= 0.0 {
        return mean;
    }
    let ratio = mean / sd;
    mean * gamma_quantile(ratio * ratio, u) / (ratio * ratio)
}

/// The reading that a word picks, each as likely as the next; zero from an empty list.
#[inline]
fn reading(readings: &[Span], word: u64) -> Span {
    let place = (u128::from(word) * readings.len() as u128) >> 64;
    readings
        .get(place as usize)
        .copied()
        .unwrap_or_default()
        .max(Span::ZERO)
}
