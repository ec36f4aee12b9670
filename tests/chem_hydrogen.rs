//! Rules on hydrogen: P58 to P60d of the shop practice figures.
//!
//! Sources: DOD-P-16232F, 3.3 (P58); MIL-DTL-16232G, 3.2 and 6.1.1 (P59, P60); P60a from memory; ASTM B850-98 (2009)
//! as quoted by a plating shop, `data/chem/hydrogen-relief-bake.csv` (P60b); ISO 9717 clause 4 and SAE AMS2759/9D,
//! a scan partly misread (P60c).

use crate::bath_tanks::near;
use tankday::bath::hydrogen::{
    Bake, COATING_NOT_ABOVE, Hardness, PLATED, PLATED_BETWEEN, RELIEF, RELIEF_AT_REST, Refused, Steel,
    coated_part_may_bake, relieves, risk_rank,
};
use tankday::units::{Length, Pressure, Quantity, Share, Span, Temperature};

fn hard(hrc: f64) -> Steel {
    Steel {
        hardness: Some(Hardness::hrc(hrc)),
        ..Steel::default()
    }
}

fn inches(n: f64) -> Length {
    Length::millimetres(25.4 * n)
}

/// P58.
#[test]
fn stress_relief() {
    let worked = |hrc: f64| Steel {
        worked_cold: true,
        ..hard(hrc)
    };
    assert_eq!(worked(38.9).needs(inches(1.0)).stress_relief, None);
    assert_eq!(
        hard(45.0).needs(inches(1.0)).stress_relief,
        None,
        "not ground, formed or straightened"
    );
    for (thick, hours) in [(0.1, 0.5), (0.5, 0.5), (1.0, 1.0), (2.5, 2.5)] {
        let bake = worked(39.0).needs(inches(thick)).stress_relief.unwrap();
        near(bake.time.in_hours(), hours, 1e-9, "time");
        assert_eq!((bake.least.in_celsius(), bake.most.in_celsius()), (177.0, 204.0));
        // P59: it belongs before coating, since no coating stands it.
        assert_eq!(
            coated_part_may_bake(&bake),
            Err(Refused::CoatingTooHot(bake.most))
        );
    }
    let carburised = Steel {
        case_hardened: true,
        worked_cold: true,
        ..Steel::default()
    };
    assert!(carburised.needs(inches(1.0)).stress_relief.is_some());
}

/// P60a: 98 to 107 °C for 8 h, or 120 h at rest.
#[test]
fn relief() {
    assert_eq!(relieves(&RELIEF), Ok(()));
    let short = Bake {
        time: Span::hours(7.9),
        ..RELIEF
    };
    let cool = Bake {
        least: Temperature::celsius(90.0),
        ..RELIEF
    };
    assert_eq!(
        (relieves(&short), relieves(&cool)),
        (Err(Refused::TooLittle), Err(Refused::TooLittle))
    );
    near(RELIEF_AT_REST.in_hours(), 120.0, 1e-12, "at rest");
    for needy in [
        hard(39.0),
        Steel {
            spring: true,
            ..Steel::default()
        },
        Steel {
            case_hardened: true,
            ..hard(30.0)
        },
    ] {
        let needs = needy.needs(inches(0.5));
        assert!(needs.relief && needs.no_pickle && needs.release, "{needy:?}");
    }
    let soft = hard(25.0).needs(inches(0.5));
    assert!(!soft.relief && !soft.no_pickle && !soft.release);
}

/// P60, P60b: every bake of the electroplaters' table is refused for a coated part, and the rows are as quoted.
#[test]
fn the_platers_table_is_refused() {
    near(COATING_NOT_ABOVE.in_fahrenheit(), 250.0, 0.001, "250 °F");
    let (least, most) = PLATED_BETWEEN;
    let text = include_str!("data/chem/hydrogen-relief-bake.csv");
    let rows: Vec<Vec<f64>> = text
        .lines()
        .filter(|l| l.starts_with(|c: char| c.is_ascii_digit()))
        .map(|l| l.split(',').map(|x| x.parse().unwrap()).collect())
        .collect();
    assert_eq!(rows.len(), PLATED.len());
    for (row, ours) in rows.iter().zip(PLATED) {
        assert_eq!(ours.up_to, Pressure::pascals(row[1] * 1e6));
        assert_eq!(
            (ours.hardness.0.in_hrc(), ours.hardness.1.in_hrc()),
            (row[2], row[3])
        );
        near(ours.time.in_hours(), row[4], 1e-12, "hours");
        let bake = Bake {
            least,
            most,
            time: ours.time,
        };
        assert_eq!(relieves(&bake), Err(Refused::CoatingTooHot(most)));
    }
    let said = Refused::CoatingTooHot(most).to_string();
    assert!(said.contains("220") && said.contains("121"), "{said}");
}

/// P60c: thresholds of concern.
#[test]
fn who_is_of_concern() {
    let strong = |mpa: f64, fastener: bool| Steel {
        strength: Some(Pressure::pascals(mpa * 1e6)),
        fastener,
        ..Steel::default()
    };
    assert!(strong(1_000.0, false).is_of_concern() && !strong(999.0, false).is_of_concern());
    assert!(strong(1_034.0, true).is_of_concern() && !strong(800.0, true).is_of_concern());
    let screw = |hrc: f64| Steel {
        fastener: true,
        ..hard(hrc)
    };
    assert!(screw(34.0).is_of_concern() && !screw(33.0).is_of_concern() && !hard(34.0).is_of_concern());
    assert_eq!(risk_rank(Pressure::pascals(900e6)), Share::ZERO);
    let ranks: Vec<f64> = [1_050.0, 1_250.0, 1_750.0, 2_500.0]
        .map(|m| risk_rank(Pressure::pascals(m * 1e6)).base())
        .to_vec();
    assert_eq!(ranks, [0.125, 0.375, 1.0, 1.0]);
}
