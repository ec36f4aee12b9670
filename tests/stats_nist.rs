//! S1 of the check values: the univariate Statistical Reference Datasets of NIST, with their certified values.
//!
//! The data under `tests/nist` are NIST's own, in the public domain, one value a line; NumAcc1 to 4 are made here.
//! PiDigits is absent: its data are not at hand, and the first 5,000 digits of pi have the mean 4.5358, not 4.5348 as
//! certified, so they are not that set.
//!
//! Tolerances: 1e-12 relative where the data are short decimals. The inputs of NumAcc3 and NumAcc4 cannot be
//! represented, so their standard deviations hold to 1e-9 and 1e-8 absolute.

use tankday::stats::{autocorrelation, mean, standard_deviation};

struct Certified {
    mean: f64,
    deviation: f64,
    lag_one: f64,
    /// Absolute tolerance of the standard deviation.
    tolerance: f64,
    /// Absolute tolerance of the lag-1 autocorrelation.
    lag_tolerance: f64,
}

fn check(data: &[f64], count: usize, certified: &Certified) {
    assert_eq!(data.len(), count);
    let (found, deviation) = (mean(data).unwrap(), standard_deviation(data).unwrap());
    assert!((found / certified.mean - 1.0).abs() < 1e-13, "mean {found}");
    assert!(
        (deviation - certified.deviation).abs() < certified.tolerance,
        "deviation {deviation}"
    );
    let lag = autocorrelation(data, 1).unwrap();
    assert!(
        (lag - certified.lag_one).abs() < certified.lag_tolerance,
        "lag-1 {lag}"
    );
}

/// Certified values that hold to 1e-12 relative.
fn short(mean: f64, deviation: f64, lag_one: f64) -> Certified {
    Certified {
        mean,
        deviation,
        lag_one,
        tolerance: 1e-12 * deviation,
        lag_tolerance: 1e-12,
    }
}

fn read(text: &str) -> Vec<f64> {
    text.lines().map(|line| line.trim().parse().unwrap()).collect()
}

/// The first value, then 500 pairs.
fn pairs(first: f64, low: f64, high: f64) -> Vec<f64> {
    std::iter::once(first)
        .chain([low, high].into_iter().cycle().take(1_000))
        .collect()
}

#[test]
fn num_acc_1() {
    check(
        &[10_000_001.0, 10_000_003.0, 10_000_002.0],
        3,
        &short(10_000_002.0, 1.0, -0.5),
    );
}

#[test]
fn num_acc_2() {
    check(&pairs(1.2, 1.1, 1.3), 1_001, &short(1.2, 0.1, -0.999));
}

#[test]
fn num_acc_3() {
    let certified = Certified {
        tolerance: 1e-9,
        lag_tolerance: 1e-8,
        ..short(1_000_000.2, 0.1, -0.999)
    };
    check(&pairs(1_000_000.2, 1_000_000.1, 1_000_000.3), 1_001, &certified);
}

#[test]
fn num_acc_4() {
    let certified = Certified {
        tolerance: 1e-8,
        lag_tolerance: 1e-7,
        ..short(10_000_000.2, 0.1, -0.999)
    };
    check(
        &pairs(10_000_000.2, 10_000_000.1, 10_000_000.3),
        1_001,
        &certified,
    );
}

#[test]
fn michelson_speed_of_light() {
    let data = read(include_str!("nist/michelso.txt"));
    let certified = short(299.852_4, 0.079_010_547_819_051_8, 0.535_199_668_621_283);
    check(&data, 100, &certified);
}

#[test]
fn lew_beam_deflections() {
    let data = read(include_str!("nist/lew.txt"));
    check(
        &data,
        200,
        &short(-177.435, 277.332_168_044_316, -0.307_304_800_605_679),
    );
}

#[test]
fn mavro_filter_transmittance() {
    let data = read(include_str!("nist/mavro.txt"));
    check(
        &data,
        50,
        &short(2.001_856, 0.000_429_123_454_003_053, 0.937_989_183_438_248),
    );
}

#[test]
fn lottery() {
    let data = read(include_str!("nist/lottery.txt"));
    check(
        &data,
        218,
        &short(518.958_715_596_330, 291.699_727_470_969, -0.120_948_622_967_393),
    );
}
