//! Student's t distribution: its upper tail and its quantile, for any degrees of freedom.

use crate::random::normal_quantile;

/// From so many degrees of freedom on the quantile comes from its series.
const MANY: f64 = 1_000.0;

/// The value below which Student's t with `df` degrees of freedom, whole or not, lies with probability `p`: minus
/// infinity at `p <= 0`, infinity at `p >= 1`, not a number for `df <= 0`.
///
/// Below 1,000 degrees the upper tail is inverted by Newton's method; above, the quantile is a series in 1/df about the
/// normal one (M. Abramowitz, I. A. Stegun, Handbook of Mathematical Functions, 26.7.5). Right to about 1e-12.
#[must_use]
pub fn student_quantile(p: f64, df: f64) -> f64 {
    if p.is_nan() || df.is_nan() || df <= 0.0 {
        return f64::NAN;
    }
    if p <= 0.0 || p >= 1.0 || df >= MANY {
        return near_normal(normal_quantile(p), df);
    }
    let tail = p.min(1.0 - p);
    let size = if tail < 0.1 {
        far_out(tail, df)
    } else {
        near_middle(tail, df)
    };
    if p < 0.5 { -size } else { size }
}

/// The series of Abramowitz and Stegun, 26.7.5, to the fourth power of 1/df.
fn near_normal(z: f64, df: f64) -> f64 {
    if z.is_infinite() {
        return z;
    }
    let z2 = z * z;
    let g1 = (z2 + 1.0) / 4.0;
    let g2 = ((5.0 * z2 + 16.0) * z2 + 3.0) / 96.0;
    let g3 = (((3.0 * z2 + 19.0) * z2 + 17.0) * z2 - 15.0) / 384.0;
    let g4 = ((((79.0 * z2 + 776.0) * z2 + 1_482.0) * z2 - 1_920.0) * z2 - 945.0) / 92_160.0;
    z * (1.0 + (g1 + (g2 + (g3 + g4 / df) / df) / df) / df)
}

/// The point above which lies `tail`, by Newton's method from 0. The tail is convex and falls, so no step goes too far.
fn near_middle(tail: f64, df: f64) -> f64 {
    let mut t = 0.0f64;
    for _ in 0..100 {
        let step = (student_tail(t, df) - tail) / student_density(t, df);
        t += step;
        if step.abs() <= 1e-15 * t.max(1e-3) {
            break;
        }
    }
    t
}

/// The point above which lies a small `tail`, by Newton's method on logarithms of both. There the tail is concave, so
/// that from the second step on no step goes too far; with heavy tails it is nearly a straight line.
fn far_out(tail: f64, df: f64) -> f64 {
    let wanted = libm::log(tail);
    let mut log_t = libm::log(near_normal(normal_quantile(1.0 - tail), df.max(3.0)));
    for _ in 0..200 {
        let t = libm::exp(log_t);
        let above = student_tail(t, df);
        let slope = -t * student_density(t, df) / above;
        let step = (libm::log(above) - wanted) / slope;
        if !step.is_finite() {
            break;
        }
        log_t -= step;
        if step.abs() < 1e-15 {
            break;
        }
    }
    libm::exp(log_t)
}

/// The density of Student's t at `t`.
fn student_density(t: f64, df: f64) -> f64 {
    let half = 0.5 * df;
    let front = libm::lgamma(half + 0.5) - libm::lgamma(half) - 0.5 * libm::log(df * std::f64::consts::PI);
    libm::exp(front - (half + 0.5) * libm::log1p(t * t / df))
}

/// The probability that Student's t with `df` degrees of freedom lies above `t`.
///
/// Half the incomplete beta function I_x(df/2, 1/2) at x = df / (df + t^2) for `t >= 0` (Abramowitz and Stegun,
/// 26.7.1 with 26.5.27).
#[must_use]
pub fn student_tail(t: f64, df: f64) -> f64 {
    let square = t * t;
    let (x, rest) = (df / (df + square), square / (df + square));
    let above = 0.5 * incomplete_beta(0.5 * df, 0.5, x, rest);
    if t < 0.0 { 1.0 - above } else { above }
}

/// The regularised incomplete beta function I_x(a, b), with `rest` = 1 - x given apart so that it keeps its digits.
///
/// The continued fraction of the NIST Digital Library of Mathematical Functions, 8.17.22, by W. J. Lentz's method.
fn incomplete_beta(a: f64, b: f64, x: f64, rest: f64) -> f64 {
    if x <= 0.0 || rest <= 0.0 {
        return if x <= 0.0 { 0.0 } else { 1.0 };
    }
    let log_beta = libm::lgamma(a) + libm::lgamma(b) - libm::lgamma(a + b);
    let front = libm::exp(a * libm::log(x) + b * libm::log(rest) - log_beta);
    if x * (a + b + 2.0) <= a + 1.0 {
        front / a * beta_fraction(a, b, x)
    } else {
        1.0 - front / b * beta_fraction(b, a, rest)
    }
}

fn beta_fraction(a: f64, b: f64, x: f64) -> f64 {
    const TINY: f64 = 1e-300;
    let not_zero = |v: f64| if v.abs() < TINY { TINY } else { v };
    let (mut c, mut d) = (1.0, 1.0 / not_zero(1.0 - (a + b) * x / (a + 1.0)));
    let mut whole = d;
    for m in 1..5_000 {
        let m = f64::from(m);
        let even = m * (b - m) * x / ((a + 2.0 * m - 1.0) * (a + 2.0 * m));
        let odd = -(a + m) * (a + b + m) * x / ((a + 2.0 * m) * (a + 2.0 * m + 1.0));
        for term in [even, odd] {
            d = 1.0 / not_zero(1.0 + term * d);
            c = not_zero(1.0 + term / c);
            whole *= c * d;
        }
        if (c * d - 1.0).abs() < 1e-16 {
            break;
        }
    }
    whole
}
