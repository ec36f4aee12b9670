//! Where nothing grows, and growth without jumps.
//!
//! Sources: steel takes no coating at 82 °C and below (Callais C., "Controlling Zinc and Manganese Phosphate Baths",
//! Products Finishing, 2023: about 180 °F); cast iron is coated from 70 to 95 °C (handbook chapter on phosphate coatings).
//! Fixed once: a load was credited with 5 g/m2 in ten minutes at 70 °C, and a dwell jumped from 8.79 to 6.92 min between
//! 0.499 and 0.500 g/L of iron.

use crate::bath_tanks::{air_of, geometry, tank_of};
use crate::chem_growth::bath;
use crate::made_days::{two_loads, two_orders};
use crate::practice_rules::{read, run, text};
use tankday::bath::chemistry::{BLASTED, CAST_IRON, CoatsFrom, dwell, gassing_down_to, pace};
use tankday::bath::chemistry::{Stay, Unreachable, Wanted};
use tankday::bath::{Bath, Growth, Lid, Substrate, TankHeat};
use tankday::record::{Figures, Reading, WarningKind};
use tankday::scenario;
use tankday::shop::{Recipe, built_in_materials};
use tankday::units::{CoatWeight, Span, Temperature};

const LAW: Growth = Growth::DEFAULT;

fn celsius(t: f64) -> Temperature {
    Temperature::celsius(t)
}

fn after_ten(from: CoatsFrom, at: f64) -> f64 {
    let x = LAW.conversion_on(from, celsius(at), Span::minutes(10.0));
    LAW.weight(x, BLASTED).in_grams_per_square_metre()
}

/// No growth at the limit and below, the law as published from 3 K above it on, and no step on the way.
#[test]
fn growth_ends_at_the_limit_of_the_material() {
    for (from, limit) in [(CoatsFrom::Steel, 82.0), (CoatsFrom::CastIron, 70.0)] {
        assert_eq!(from.limit(), celsius(limit));
        let mut last = 0.0;
        for step in 0..=9_000 {
            let at = 10.0 + 0.01 * f64::from(step);
            let weight = after_ten(from, at);
            if at <= limit {
                assert_eq!(weight, 0.0, "{from:?} at {at} °C");
            } else {
                assert!(
                    weight > last && weight - last < 0.06,
                    "{from:?} at {at} °C: {weight}"
                );
            }
            if at >= limit + 3.0 {
                // w = 18 (1 - exp(-t / tau)), tau = 4.5 min x 2^((95 - T) / 10), by hand.
                let tau = 4.5 * libm::exp2((95.0 - at) / 10.0);
                let law = 18.0 * (1.0 - libm::exp(-10.0 / tau));
                assert!(
                    (weight - law).abs() < 1e-6,
                    "{from:?} at {at} °C: {weight}, {law}"
                );
            }
            last = weight;
        }
        assert!(LAW.tau_on(from, celsius(limit)) >= Span::FOREVER);
        let on = Substrate { from, ..BLASTED };
        assert!(gassing_down_to(&LAW, on, celsius(limit), 0.05) >= Span::FOREVER);
    }
    for material in built_in_materials() {
        let iron = material.name.contains("iron");
        assert_eq!(material.from == CoatsFrom::CastIron, iron, "{}", material.name);
    }
}

/// What is too cold for steel is not for cast iron.
#[test]
fn each_material_has_its_own_limit() {
    let stay = Stay {
        least: Span::minutes(5.0),
        most: Span::minutes(120.0),
    };
    let at = celsius(78.0);
    let wanted = |on| Wanted {
        target: CoatWeight::grams_per_square_metre(10.0),
        on,
    };
    assert!(dwell(&LAW, &[wanted(CAST_IRON)], at, stay).is_ok());
    let both = dwell(&LAW, &[wanted(CAST_IRON), wanted(BLASTED)], at, stay).unwrap_err();
    assert_eq!(both, Unreachable::TooCold(at));
    assert!(
        both.to_string().contains("82") && both.to_string().contains("70"),
        "{both}"
    );
}

/// A bath that cools from 95 °C gathers nothing for steel below 82 °C, and still something for cast iron.
#[test]
fn a_cooling_bath_stops_coating() {
    let g = geometry("S4");
    let tank = tank_of(&g);
    let heat = TankHeat::new(&tank, &air_of(&g));
    let mut bath = Bath::new(&heat, tank.fill, celsius(95.0));
    bath.set_growth(Some(&LAW));
    bath.set_lid(Lid::Off);
    let until = bath.time_until_temperature(&heat, celsius(82.0)).unwrap();
    bath.advance(&heat, until);
    let (steel, iron) = (bath.conversion(), bath.conversion_on(CoatsFrom::CastIron));
    assert!(steel > 0.0 && iron > steel);
    // What is left is met by cast iron and never by steel.
    assert_eq!(bath.time_until_conversion(&heat, 1e-3), None);
    let more = bath
        .time_until_conversion_on(CoatsFrom::CastIron, &heat, 0.01)
        .unwrap();
    let mut later = bath;
    later.advance(&heat, more);
    let gained = later.conversion_on(CoatsFrom::CastIron) - iron;
    assert!((gained - 0.01).abs() < 1e-4, "{gained}");
    bath.advance(&heat, Span::hours(20.0));
    assert!((bath.conversion() - steel).abs() < 1e-4);
    assert!(bath.conversion_on(CoatsFrom::CastIron) > iron + 0.01);
}

/// On the line: steel in a bath at 78 °C comes out bare and is warned of, before the day and after it; grey iron is coated.
#[test]
fn a_load_that_goes_in_cold_is_warned_of() {
    let shop = |material: &str| {
        let band = ", band: {least: 76 °C, hold: 78 °C, most: 95 °C}, coat: {target: 8 g/m2}";
        text(40.0, 4, band, &format!(", material: {material}"), "", "")
    };
    for (material, coats) in [("plain steel", false), ("grey iron", true)] {
        let text = shop(material);
        let (_, figures) = run(&read(&text));
        let weight = figures.loads[0].coats[0].1.in_grams_per_square_metre();
        let warned = figures
            .warnings
            .iter()
            .any(|w| w.kind == WarningKind::TooColdToCoat);
        let found = scenario::read("shop", &text).unwrap().warnings;
        let said = found
            .list
            .iter()
            .filter(|f| f.message.contains("nothing grows"))
            .count();
        if coats {
            assert!(weight > 7.9, "{material}: {weight}");
        } else {
            assert_eq!(weight, 0.0, "{material}");
        }
        assert_eq!((warned, said), (!coats, usize::from(!coats)), "{material}");
    }
}

/// Iron slows a bath to 1.3 times at 0.4 g/L and below, not at all from 0.6 g/L on, and between without a jump.
#[test]
fn iron_fades_in() {
    let at = |iron: f64| pace(&Recipe::DEFAULT, &bath(36.0, 6.0, iron, 20.0));
    for (iron, want) in [(0.0, 1.3), (0.4, 1.3), (0.5, 1.15), (0.6, 1.0), (3.0, 1.0)] {
        assert!((at(iron) - want).abs() < 1e-9, "{iron} g/L: {}", at(iron));
    }
}

/// No reading of a bath moves the pace of its growth by a step: each is walked finely through its limits and beyond.
#[test]
fn no_reading_makes_growth_jump() {
    let recipe = Recipe::DEFAULT;
    let fine = |from: f64, to: f64, pace_at: &dyn Fn(f64) -> f64| {
        let n = 4_000;
        let mut last = pace_at(from);
        for i in 1..=n {
            let x = from + (to - from) * f64::from(i) / f64::from(n);
            let now = pace_at(x);
            assert!((now - last).abs() < 2e-3, "a step of {} at {x}", now - last);
            last = now;
        }
    };
    fine(0.0, 5.0, &|iron| pace(&recipe, &bath(40.0, 6.0, iron, 20.0)));
    fine(15.0, 70.0, &|ta| pace(&recipe, &bath(ta, 4.0, 1.0, 20.0)));
    // The ratio has no say, whatever it is: so say the table of defaults and the page.
    let of_ratio = |ratio: f64| pace(&recipe, &bath(36.0, 36.0 / ratio, 1.0, 20.0));
    fine(3.0, 12.0, &of_ratio);
    assert!((of_ratio(4.0) - of_ratio(9.0)).abs() < 1e-12);
    let told = tankday::scenario::fixed();
    let ratio = told.iter().find(|f| f.what.contains("acid ratio")).unwrap();
    assert!(ratio.value.starts_with("1 times"), "{}", ratio.value);
    // Time to a weight by temperature.
    let time = |at: f64| {
        let target = CoatWeight::grams_per_square_metre(16.0);
        1.0 / LAW.time_for(target, BLASTED, celsius(at)).unwrap().in_minutes()
    };
    fine(60.0, 99.0, &time);
}

/// The dwell on the line follows each reading without a jump, over the marks where limits warn.
#[test]
fn no_reading_makes_a_dwell_jump() {
    let dwell_at = |now: &str| {
        let rules = ", care: {replenish: never, raise ratio: never, lower ratio: never}";
        let bath = format!(", dwell: 1 to 45 min, now: {{{now}}}");
        let (_, figures) = run(&read(&text(40.0, 4, &bath, "", "", rules)));
        figures.loads.first().map(|l| l.dwell().unwrap().in_minutes())
    };
    let walk = |marks: &[f64], now: &dyn Fn(f64) -> String| {
        let mut coated = 0;
        for mark in marks {
            let (below, above) = (dwell_at(&now(mark * 0.9999)), dwell_at(&now(mark * 1.0001)));
            if let (Some(below), Some(above)) = (below, above) {
                assert!(
                    (below - above).abs() < 0.02,
                    "{below} and {above} min about {mark}"
                );
                coated += 1;
            }
        }
        // At most a first and a last mark stop the bath.
        assert!(coated + 2 >= marks.len(), "{coated} of {marks:?}");
    };
    walk(&[0.2, 0.4, 0.5, 0.6, 1.0, 3.0], &|iron| {
        format!("total acid: 36 points, free acid: 6 points, iron: {iron} g/L")
    });
    walk(&[30.0, 31.0, 36.0, 50.0], &|ta| {
        format!(
            "total acid: {ta} points, free acid: {} points, iron: 1 g/L",
            ta / 6.0
        )
    });
    walk(&[5.5, 5.7, 6.0, 6.8, 7.0], &|ratio| {
        format!(
            "total acid: 36 points, free acid: {} points, iron: 1 g/L",
            36.0 / ratio
        )
    });
}

/// The moment at which a cold load goes in counts, when the bath is coldest: 93.5 °C at 08:22 of the day by hand.
#[test]
fn a_bath_is_coldest_as_its_load_goes_in() {
    let mut shop = two_orders();
    shop.baths[0].band.least = celsius(95.0);
    let figures = Figures::of(&shop, &two_loads());
    let cold = figures.warnings.iter().find(|w| w.kind == WarningKind::ColdBath);
    let first = cold.unwrap().at[0].reading;
    assert_eq!(first, Some(Reading::Temperature(celsius(93.5))));
}
