//! Constants for selecting the best, S13 to S15.

use tankday::stats::{dudewicz_dalal_h1, kim_nelson, replications_for_variance, rinott_h};

/// S13. A. M. Law, Simulation Modeling and Analysis, chapter 10, table of h1; its printed figures have three decimals,
/// these four come from a separate integration in 30 digits.
#[test]
fn h1_of_dudewicz_and_dalal() {
    let table: [(f64, u32, [f64; 9]); 4] = [
        (
            0.90,
            20,
            [
                1.8957, 2.3423, 2.5834, 2.7471, 2.8704, 2.9690, 3.0509, 3.1209, 3.1820,
            ],
        ),
        (
            0.90,
            40,
            [
                1.8519, 2.2831, 2.5136, 2.6689, 2.7851, 2.8775, 2.9540, 3.0190, 3.0756,
            ],
        ),
        (
            0.95,
            20,
            [
                2.4525, 2.8716, 3.1011, 3.2580, 3.3768, 3.4720, 3.5514, 3.6194, 3.6788,
            ],
        ),
        (
            0.95,
            40,
            [
                2.3856, 2.7858, 3.0026, 3.1497, 3.2603, 3.3486, 3.4218, 3.4842, 3.5386,
            ],
        ),
    ];
    for (p, first, row) in table {
        for (k, expected) in (2..).zip(row) {
            let found = dudewicz_dalal_h1(k, first, p).unwrap();
            assert!(
                (found - expected).abs() < 6e-5,
                "{p} {first} {k}: {found} for {expected}"
            );
        }
    }
}

/// S13, five inventory policies of the same chapter: 110, 61, 72, 63 and 47 replications.
#[test]
fn replications_of_five_policies() {
    let h1 = dudewicz_dalal_h1(5, 20, 0.90).unwrap();
    let found = [14.52, 7.96, 9.45, 8.25, 6.20].map(|v| replications_for_variance(v, 20, h1, 1.0).unwrap());
    assert_eq!(found, [110, 61, 72, 63, 47]);
}

/// S14, by a separate numerical integration to 1e-5.
#[test]
fn h_of_rinott() {
    for (k, expected) in [(2, 2.614_12), (3, 3.165_73), (5, 3.692_62), (10, 4.289_55)] {
        let found = rinott_h(k, 10, 0.95).unwrap();
        assert!((found - expected).abs() < 2e-5, "{k}: {found} for {expected}");
    }
}

/// S15, from the formula of S.-H. Kim and B. L. Nelson, ACM TOMACS 11 (2001).
#[test]
fn constants_of_kim_and_nelson() {
    for (k, first, eta, square) in [
        (2, 10, 0.334_050_268_6, 6.012_904_834_8),
        (3, 10, 0.472_943_858_8, 8.512_989_458_2),
        (5, 20, 0.237_238_315_5, 9.015_055_990_3),
    ] {
        let found = kim_nelson(k, first, 0.05).unwrap();
        assert!(
            (found.0 - eta).abs() < 1e-9 && (found.1 - square).abs() < 1e-9,
            "{found:?}"
        );
    }
}

#[test]
fn senseless_questions_have_no_answer() {
    assert!(dudewicz_dalal_h1(1, 20, 0.9).is_none() && dudewicz_dalal_h1(2, 20, 0.5).is_none());
    assert!(rinott_h(2, 2, 0.9).is_none() && rinott_h(2, 10, 1.0).is_none());
    assert!(kim_nelson(2, 1, 0.05).is_none() && kim_nelson(2, 10, f64::NAN).is_none());
    assert!(replications_for_variance(1.0, 20, 2.0, 0.0).is_none());
}
