//! The growth law of the coating. P18 to P25 of the list of checks; the points of the table were computed apart
//! from the equations with w 18 g/m2, tau 4.5 min at 95 °C and a factor 2 for 10 K.

use crate::bath_tanks::{air_of, geometry, near, tank_of};
use tankday::bath::{Bath, Growth, Heater, Lid, Load, SolidHeat, Substrate, TankHeat};
use tankday::units::{CoatWeight, Mass, Quantity, Span, Temperature};

const LAW: Growth = Growth::DEFAULT;

fn grams(value: f64) -> CoatWeight {
    CoatWeight::grams_per_square_metre(value)
}

/// P20, P21 and the table: weight after a time, and tau.
#[test]
fn weight_and_time_constant() {
    let weights = [
        (88.0, 2.0, 4.308),
        (88.0, 15.0, 15.687),
        (90.0, 10.0, 14.26),
        (92.0, 5.0, 10.7),
        (92.0, 45.0, 17.995),
        (95.0, 2.0, 6.459),
        (95.0, 15.0, 17.358),
        (98.0, 10.0, 16.833),
        (98.0, 30.0, 17.995),
    ];
    for (celsius, minutes, want) in weights {
        let x = LAW.conversion(Temperature::celsius(celsius), Span::minutes(minutes));
        let got = LAW.weight(x, Substrate::PLAIN).in_grams_per_square_metre();
        assert!((got - want).abs() < 0.001, "{celsius} C, {minutes} min: {got}");
    }
    for (celsius, minutes) in [
        (85.0, 9.0),
        (88.0, 7.3103),
        (92.0, 5.5401),
        (95.0, 4.5),
        (98.0, 3.6551),
    ] {
        near(
            LAW.tau(Temperature::celsius(celsius)).in_minutes(),
            minutes,
            1e-5,
            "tau",
        );
    }
    let ratio = LAW.tau(Temperature::celsius(88.0)).in_seconds() / LAW.tau95.in_seconds();
    assert!((ratio - 1.625).abs() < 0.001);
}

/// P22: time to 16 g/m2.
#[test]
fn time_to_a_weight() {
    for (celsius, minutes) in [(88.0, 16.062), (92.0, 12.173), (95.0, 9.888), (98.0, 8.031)] {
        let got = LAW
            .time_for(grams(16.0), Substrate::PLAIN, Temperature::celsius(celsius))
            .unwrap();
        assert!((got.in_minutes() - minutes).abs() < 0.001, "{celsius} C: {got:?}");
    }
}

/// P25: a target at or above the full weight is never reached.
#[test]
fn targets_that_cannot_be_reached() {
    for target in [18.0, 18.1, 40.0] {
        let refused = LAW.conversion_for(grams(target), Substrate::PLAIN).unwrap_err();
        assert_eq!(refused.full, grams(18.0));
    }
    let ground = Substrate {
        slower: 1.3,
        heavier: 0.8,
        ..Substrate::PLAIN
    };
    assert!(LAW.conversion_for(grams(15.0), ground).is_err());
    let x = LAW.conversion_for(grams(12.0), ground).unwrap();
    near(LAW.weight(x, ground).base(), 12.0, 1e-12, "there and back");
    assert!(x > LAW.conversion_for(grams(12.0), Substrate::PLAIN).unwrap());
}

/// The dwell that reaches a weight while the bath recovers from the load's chill, against a sum over half-second
/// steps of the temperature, and longer than at the set point.
#[test]
fn dwell_under_a_recovering_bath() {
    let g = geometry("S4");
    let tank = tank_of(&g);
    let heat = TankHeat::new(&tank, &air_of(&g));
    let set = Temperature::celsius(93.0);
    let mut bath = Bath::new(&heat, tank.fill, set);
    bath.set_growth(Some(&LAW));
    bath.set_lid(Lid::On);
    bath.switch(Heater::Keep(set));
    bath.add_load(
        &Load {
            mass: Mass::kilograms(5.0),
            heat: SolidHeat::STEEL,
        },
        Temperature::celsius(20.0),
    );
    let need = LAW.conversion_for(grams(14.0), Substrate::PLAIN).unwrap();
    let dwell = bath.time_until_conversion(&heat, need).unwrap();
    assert!(dwell > LAW.time_for(grams(14.0), Substrate::PLAIN, set).unwrap());

    let (mut sum, mut seconds, mut walker) = (0.0, 0.0, bath);
    while sum < need {
        let middle = {
            walker.advance(&heat, Span::seconds(0.25));
            walker.temperature()
        };
        walker.advance(&heat, Span::seconds(0.25));
        sum += LAW.conversion(middle, Span::seconds(0.5));
        seconds += 0.5;
    }
    assert!(
        (dwell.in_seconds() - seconds).abs() < 0.6,
        "{dwell:?} against {seconds} s"
    );
    bath.advance(&heat, dwell);
    near(bath.conversion(), need, 1e-4, "conversion gathered");
    assert_eq!(bath.time_until_conversion(&heat, 0.0), Some(Span::ZERO));
    bath.set_growth(None);
    assert_eq!(bath.time_until_conversion(&heat, 1.0), None);
}
