//! Quantiles of the normal and the gamma distribution against values of 40-digit arithmetic.

#![allow(
    clippy::excessive_precision,
    clippy::approx_constant,
    reason = "values stand as they were computed"
)]

use tankday::random::{
    gamma_distribution, gamma_quantile, normal_density, normal_distribution, normal_quantile,
};

/// (p, quantile), computed for this file with 40 digits by solving erfc(-x/sqrt 2)/2 = p for the double nearest to p.
const NORMAL: [(f64, f64); 13] = [
    (1e-300, -37.047096299361199),
    (1e-16, -8.2220822161304356),
    (1e-9, -5.9978070150076869),
    (0.0001, -3.7190164854556806),
    (0.02, -2.053748910631823),
    (0.074, -1.4466320671589785),
    (0.076, -1.4325027208258116),
    (0.3, -0.52440051270804082),
    (0.5, 0.0),
    (0.8, 0.84162123357291436),
    (0.95, 1.6448536269514723),
    (0.975, 1.9599639845400539),
    (0.999999, 4.7534243088170878),
];

/// (shape, p, quantile), computed for this file with 40 digits by halving an interval on the regularised incomplete
/// gamma function.
const GAMMA: [(f64, f64, f64); 53] = [
    (0.05, 0.01, 5.844632057286532e-41),
    (0.05, 0.3, 2.037897188732664e-11),
    (0.05, 0.5, 5.573878440746248e-7),
    (0.05, 0.9, 0.0763171139091885),
    (0.05, 0.999999, 8.696862667893744),
    (0.25, 1e-09, 6.749697893111732e-37),
    (0.25, 0.01, 6.749697929558468e-9),
    (0.25, 0.3, 0.005491302474275483),
    (0.25, 0.5, 0.04367380235287341),
    (0.25, 0.9, 0.7503928722368357),
    (0.25, 0.999999, 10.68781757641098),
    (0.5, 1e-09, 7.853981633974484e-19),
    (0.5, 0.01, 7.854392895485099e-5),
    (0.5, 0.3, 0.07423593091627272),
    (0.5, 0.5, 0.2274682115597864),
    (0.5, 0.9, 1.352771727047707),
    (0.5, 0.999999, 11.96406348843973),
    (1.0, 1e-09, 1.0000000005e-9),
    (1.0, 0.01, 0.01005033585350144),
    (1.0, 0.3, 0.3566749439387324),
    (1.0, 0.5, 0.6931471805599453),
    (1.0, 0.9, 2.302585092994046),
    (1.0, 0.999999, 13.81551055793552),
    (2.5, 1e-09, 0.000406144782832827),
    (2.5, 0.01, 0.2771490383641386),
    (2.5, 0.3, 1.499954066379953),
    (2.5, 0.5, 2.175730095547764),
    (2.5, 0.9, 4.61817844989056),
    (2.5, 0.999999, 17.94409343980521),
    (9.0, 1e-09, 0.4330320587863233),
    (9.0, 0.01, 3.50745545058629),
    (9.0, 0.3, 7.219931171130278),
    (9.0, 0.5, 8.668951184370372),
    (9.0, 0.9, 12.99471154131861),
    (9.0, 0.999999, 30.95711335808965),
    (25.0, 1e-09, 5.479597546624589),
    (25.0, 0.01, 14.85334134942064),
    (25.0, 0.3, 22.156653488662),
    (25.0, 0.5, 24.66746836698842),
    (25.0, 0.9, 31.58356050286316),
    (25.0, 0.999999, 56.30404624943174),
    (100.0, 1e-09, 51.14330222883742),
    (100.0, 0.01, 78.21598305379583),
    (100.0, 0.3, 94.52429935888072),
    (100.0, 0.5, 99.66686491931549),
    (100.0, 0.9, 113.0105238598445),
    (100.0, 0.999999, 154.9190459949616),
    (1000.0, 1e-09, 821.8327535831708),
    (1000.0, 0.01, 927.9081597966425),
    (1000.0, 0.3, 983.1784467578987),
    (1000.0, 0.5, 999.6666864269652),
    (1000.0, 0.9, 1040.73430801369),
    (1000.0, 0.999999, 1157.577911008724),
];

#[test]
fn normal_quantile_has_full_accuracy() {
    for (p, exact) in NORMAL {
        let found = normal_quantile(p);
        assert!(
            (found - exact).abs() <= 1e-15 * exact.abs(),
            "{found} at {p}, not {exact}"
        );
    }
}

#[test]
fn normal_quantile_inverts_the_distribution() {
    for k in -60..=60 {
        let x = f64::from(k) / 10.0;
        let p = normal_distribution(x);
        let width = 4e-16 / normal_density(x) + 1e-14;
        assert!((normal_quantile(p) - x).abs() < width, "at {x}");
    }
}

#[test]
fn the_ends_of_the_normal_distribution() {
    assert_eq!(normal_quantile(0.0), f64::NEG_INFINITY);
    assert_eq!(normal_quantile(1.0), f64::INFINITY);
    assert!(normal_quantile(f64::NAN).is_nan());
    assert_eq!(normal_distribution(0.0), 0.5);
}

#[test]
fn gamma_quantile_is_accurate() {
    for (a, p, exact) in GAMMA {
        let found = gamma_quantile(a, p);
        assert!(
            (found / exact - 1.0).abs() < 1e-11,
            "{found} at {a}, {p}, not {exact}"
        );
    }
}

/// The series of large shapes and the iteration below must meet; both must invert the distribution.
#[test]
fn gamma_quantile_of_large_shapes() {
    for a in [3_000.0, 40_000.0, 99_999.0, 100_001.0, 250_000.0] {
        for p in [1e-6, 0.01, 0.3, 0.9, 0.999_999] {
            let x = gamma_quantile(a, p);
            let (lower, upper) = gamma_distribution(a, x);
            assert!(
                (lower - p).abs() < 1e-9 && (upper - (1.0 - p)).abs() < 1e-9,
                "{lower} at {a}, {p}"
            );
        }
    }
    let (below, above) = (
        gamma_quantile(99_999.999, 0.99),
        gamma_quantile(100_000.001, 0.99),
    );
    assert!((above - below - 0.002).abs() < 1e-5, "{below} {above}");
}

#[test]
fn gamma_quantile_bears_any_argument() {
    assert_eq!(gamma_quantile(2.0, 0.0), 0.0);
    assert_eq!(gamma_quantile(2.0, 1.0), f64::INFINITY);
    assert_eq!(gamma_quantile(-1.0, 0.5), 0.0);
    assert_eq!(gamma_quantile(f64::NAN, 0.5), 0.0);
    for a in [1e-12, 1e-3, 1e15, f64::MAX] {
        for p in [1e-300, 1e-16, 0.5, 1.0 - 1e-16] {
            let x = gamma_quantile(a, p);
            assert!(x >= 0.0 && !x.is_nan(), "{x} at {a}, {p}");
        }
    }
}
