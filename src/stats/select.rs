//! Selecting the best of several: how many replications each needs, so that the best is chosen with a stated chance.
//!
//! The procedures of E. J. Dudewicz and S. R. Dalal (Sankhya B 37 (1975) 28-78) and of Y. Rinott (Communications in
//! Statistics A7 (1978) 799-811) want independent replications; that of S.-H. Kim and B. L. Nelson (ACM TOMACS 11
//! (2001) 251-273) gains from common luck.

use super::mean::variance;
use super::student::student_tail;
use crate::luck::normal_distribution;

/// Points of the numerical integrals; even.
const POINTS: usize = 240;

/// The integral of a function over [a, b], by Simpson's rule.
fn integral(a: f64, b: f64, of: impl Fn(f64) -> f64) -> f64 {
    let step = (b - a) / POINTS as f64;
    let weight = |i: usize| match i {
        0 | POINTS => 1.0,
        i if i % 2 == 1 => 4.0,
        _ => 2.0,
    };
    let sum: f64 = (0..=POINTS).map(|i| weight(i) * of(a + step * i as f64)).sum();
    sum * step / 3.0
}

/// The h above 0 at which a rising function reaches `p`, to about 1e-9.
fn rising_to(p: f64, of: impl Fn(f64) -> f64) -> Option<f64> {
    let (mut low, mut high) = (0.0, 1.0);
    while of(high) < p {
        (low, high) = (high, 2.0 * high);
        if high > 1e3 {
            return None;
        }
    }
    // Regula falsi after Illinois: the end that stays counts half.
    let (mut at_low, mut at_high) = (of(low) - p, of(high) - p);
    for _ in 0..60 {
        let next = high - at_high * (high - low) / (at_high - at_low);
        let at = of(next) - p;
        if at.abs() < 1e-12 || (high - low) < 1e-10 {
            return Some(next);
        }
        if at > 0.0 {
            (high, at_high) = (next, at);
            at_low *= 0.5;
        } else {
            (low, at_low) = (next, at);
            at_high *= 0.5;
        }
    }
    Some(0.5 * (low + high))
}

fn sensible(k: u32, first: u32, p: f64) -> bool {
    k >= 2 && first >= 3 && p > 1.0 / f64::from(k) && p < 1.0
}

/// The constant h1 of Dudewicz and Dalal for the best of `k`, `first` replications of each in the first stage, chance `p`
/// of the right choice: the h with integral of F(x + h)^(k-1) f(x) = p, F and f those of Student's t with `first` - 1
/// degrees. `None` for fewer than two alternatives, fewer than three replications, or a chance that needs no choice.
#[must_use]
pub fn dudewicz_dalal_h1(k: u32, first: u32, p: f64) -> Option<f64> {
    if !sensible(k, first, p) {
        return None;
    }
    let df = f64::from(first - 1);
    let front = libm::exp(libm::lgamma(0.5 * (df + 1.0)) - libm::lgamma(0.5 * df))
        / (df * std::f64::consts::PI).sqrt();
    let density = |x: f64| front * libm::pow(1.0 + x * x / df, -0.5 * (df + 1.0));
    // Far out both ends of t hold less than 1e-9 within 40 for 19 degrees and more; for fewer the ends reach further.
    let end = if df >= 15.0 { 12.0 } else { 60.0 };
    rising_to(p, |h| {
        integral(-end, end, |x| {
            libm::pow(1.0 - student_tail(x + h, df), f64::from(k - 1)) * density(x)
        })
    })
}

/// Rinott's constant h: the h with E[(E[Phi(h / sqrt((n - 1)(1/X + 1/Y))) | Y])^(k-1)] = p, X and Y chi-squared with n - 1
/// degrees, n = `first`. `None` as for [`dudewicz_dalal_h1`].
#[must_use]
pub fn rinott_h(k: u32, first: u32, p: f64) -> Option<f64> {
    if !sensible(k, first, p) {
        return None;
    }
    let df = f64::from(first - 1);
    let log_front = -0.5 * df * std::f64::consts::LN_2 - libm::lgamma(0.5 * df);
    // Over the logarithm of chi-squared, which spreads it evenly.
    let density = |s: f64| libm::exp(log_front + 0.5 * df * s - 0.5 * libm::exp(s));
    let spread = 9.0 * (2.0 / df).sqrt();
    let (a, b) = (libm::log(df) - spread, libm::log(df) + spread);
    rising_to(p, |h| {
        integral(a, b, |s| {
            let inner = integral(a, b, |t| {
                let apart = df * (libm::exp(-s) + libm::exp(-t));
                normal_distribution(h / apart.sqrt()) * density(t)
            });
            libm::pow(inner, f64::from(k - 1)) * density(s)
        })
    })
}

/// The constants eta and h^2 of Kim and Nelson for `k` alternatives, `first` replications in the first stage, and the
/// chance `alpha` of a wrong choice. `None` for fewer than two of either, or a chance not between 0 and 1.
#[must_use]
pub fn kim_nelson(k: u32, first: u32, alpha: f64) -> Option<(f64, f64)> {
    if k < 2 || first < 2 || alpha.is_nan() || alpha <= 0.0 || alpha >= 1.0 {
        return None;
    }
    let df = f64::from(first - 1);
    let eta = 0.5 * (libm::pow(2.0 * alpha / f64::from(k - 1), -2.0 / df) - 1.0);
    Some((eta, 2.0 * eta * df))
}

/// Replications in all for one alternative, after Dudewicz and Dalal: what its first stage of readings and the
/// constant ask for, so that differences of `matters` are told; at least one more than the first stage. `None` for fewer
/// than two readings, or where nothing matters.
#[must_use]
pub fn replications_to_select(first_stage: &[f64], h1: f64, matters: f64) -> Option<u64> {
    let spread = variance(first_stage)?;
    replications_for_variance(spread, first_stage.len() as u64, h1, matters)
}

/// The same from the variance of a first stage of `first` readings.
#[must_use]
pub fn replications_for_variance(variance: f64, first: u64, h1: f64, matters: f64) -> Option<u64> {
    let asked = h1 * h1 * variance / (matters * matters);
    (matters > 0.0 && asked.is_finite() && asked < 1e15).then(|| (first + 1).max(asked.ceil() as u64))
}
