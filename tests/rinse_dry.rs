//! Drag-out, rinses, drying against published examples and frozen values.
//!
//! Sources, by the number of their check: T58 "10 Minutes to Better Rinsing", T59 "Rinsing with Less Water"
//! (poly-products.com); T60 "Counterflow (Cascade) Rinsing" (remco.com); T61 to T64 and T66 derived,
//! `data/rinse_area.json` (numpy 2.4.6, scipy 1.17.1); T65 T. Mooney, "20 Ways to Cut Water Usage in Plating Shops",
//! item 2; T67 "Drying Parts, Part 1", Products Finishing.

use crate::bath_tanks::{near, number, still_air};
use serde_json::Value;
use tankday::bath::dry::{Draught, flash_dry_thickness, vapour_at_dew_point};
use tankday::bath::rinse::{
    Drains, Drip, Hangs, RENEW_AT, Rinse, after_loads, carrying_flow, cascade_dilution, cascade_flow,
    drag_out, draining_film, loads_until, running_flow, through,
};
use tankday::bath::settle::Liquid;
use tankday::bath::{SolidHeat, Tubs, water};
use tankday::units::{
    Area, CoatWeight, Concentration, Density, Length, Mass, MassFlow, Quantity, Share, Span, Speed, Strength,
    Temperature, Volume, VolumeFlow, VolumePerArea, read_quantity,
};

fn data() -> Value {
    serde_json::from_str(include_str!("data/rinse_area.json")).unwrap()
}

fn rows(group: &str, key: &str) -> Vec<Value> {
    data()[group][key].as_array().unwrap().clone()
}

fn litres(v: f64) -> Volume {
    Volume::litres(v)
}

#[test]
fn t58_t59_one_running_rinse() {
    near(cascade_dilution(99.0, 1), 100.0, 1e-12, "T58");
    near(cascade_dilution(2_000.0, 1), 2_001.0, 1e-12, "T59");
    near(10.0 / cascade_dilution(2_000.0, 1), 0.005, 0.001, "oz/gal");
    let flow = running_flow(VolumeFlow::litres_per_minute(1.0), 100.0);
    near(flow.in_litres_per_minute(), 99.0, 1e-12, "flow");
}

/// 100 boards an hour of 6 ft2, 20 mL/ft2, 250 g/L: 3 kg/h, which 1000, 500, 250 L/min carry off.
#[test]
fn t60_boards() {
    let foot: Area = read_quantity("1 ft2").unwrap();
    let board: Area = read_quantity("6 ft2").unwrap();
    let film: VolumePerArea = Volume::millilitres(20.0) / foot;
    let hourly: Mass = Concentration::grams_per_litre(250.0) * (film * (board * 100.0));
    near(hourly.in_grams(), 3_000.0, 1e-12, "g in an hour");
    let mass = MassFlow::kilograms_per_hour(hourly.in_kilograms());
    for (mg, flow) in [(50.0, 1_000.0), (100.0, 500.0), (200.0, 250.0)] {
        let at = Concentration::grams_per_litre(mg * 1e-3);
        near(
            carrying_flow(mass, at).in_litres_per_minute(),
            flow,
            1e-12,
            "L/min",
        );
    }
}

#[test]
fn t61_t62_cascades() {
    for row in rows("rinse", "counterflow") {
        let n = number(&row["n"]) as u32;
        near(
            cascade_dilution(number(&row["r"]), n),
            number(&row["dilution"]),
            1e-9,
            "dilution",
        );
    }
    for row in rows("rinse", "flow_needed") {
        let n = number(&row["n"]) as u32;
        let r = cascade_flow(number(&row["dilution"]), n).unwrap();
        near(r, number(&row["r_exact"]), 1e-6, "flow");
    }
    assert_eq!(
        (
            cascade_flow(100.0, 0),
            cascade_flow(0.5, 2),
            cascade_flow(f64::NAN, 1)
        ),
        (None, None, None)
    );
}

#[test]
fn t63_still_rinses() {
    for row in rows("rinse", "static_rinse") {
        let (v, d) = (litres(number(&row["V_L"])), litres(number(&row["D_L_per_load"])));
        let loads = number(&row["loads"]) as u32;
        let want = number(&row["C_over_C0"]);
        near(after_loads(v, d, loads).in_fraction(), want, 1e-4, "closed form");
        let mut one = [Rinse::clean(v)];
        for _ in 0..loads {
            through(&mut one, d);
        }
        near(one[0].strength.in_fraction(), want, 1e-4, "load by load");
    }
    // ln(1/0.97) / ln(1.001) = 30.47: the 31st load carries it over the limit.
    assert_eq!(loads_until(litres(20.0), litres(0.02), RENEW_AT), Some(31));
    let mut rinse = Rinse::clean(litres(20.0));
    let full = Share::fraction(1.0);
    let spent_after = (1..100).find(|_| {
        rinse.dip(litres(0.02), full);
        rinse.is_spent(RENEW_AT)
    });
    assert_eq!(spent_after, Some(31));
    assert_eq!(loads_until(litres(20.0), Volume::ZERO, RENEW_AT), None);
}

#[test]
fn t64_two_in_series() {
    let mut two = [Rinse::clean(litres(20.0)); 2];
    let mut left_with = Share::ZERO;
    (0..50).for_each(|_| left_with = through(&mut two, litres(0.02)));
    near(two[0].strength.in_fraction(), 0.048747, 1e-4, "first");
    near(two[1].strength.in_fraction(), 0.001_231_7, 1e-4, "second");
    assert_eq!(left_with, two[1].strength);
}

/// The same numbers by the tubs that the line uses, in points of a bath of 36.
#[test]
fn t63_t64_by_tubs() {
    let bath = Strength::points(36.0);
    let mut one = Tubs::clean(litres(20.0), 1);
    let mut two = Tubs::clean(litres(20.0), 2);
    for load in 1..=500 {
        let left_with = one.dip(litres(0.02), bath);
        assert_eq!(left_with, one.last());
        two.dip(litres(0.02), bath);
        let want = [(1, 0.000_999), (10, 0.009_945), (50, 0.048_747), (500, 0.393_32)];
        if let Some((_, share)) = want.iter().find(|(n, _)| *n == load) {
            near(one.last() / bath, *share, 1e-4, "one tub");
        }
        if load == 50 {
            near(two.first() / bath, 0.048_747, 1e-4, "first of two");
            near(two.last() / bath, 0.001_231_7, 1e-4, "second of two");
        }
    }
    two.renew();
    assert_eq!((two.first(), two.last()), (Strength::ZERO, Strength::ZERO));
    near(two.water().in_litres(), 40.0, 1e-12, "water");
}

/// Loads that come often and small into running tubs settle at the dilution of a cascade, 1 + r + ... + r^n: T61.
#[test]
fn t61_by_running_tubs() {
    for (r, tubs, dilution) in [(10.0, 3, 1_111.0), (31.6, 2, 1_031.0)] {
        let bath = Strength::points(36.0);
        let mut cascade = Tubs::clean(litres(20.0), tubs);
        let (brought, flow) = (litres(0.002), VolumeFlow::litres_per_minute(r * 0.002));
        for _ in 0..200_000 {
            cascade.run(flow, Span::whole_minutes(1));
            cascade.dip(brought, bath);
        }
        near(bath / cascade.last(), dilution, 0.02, "cascade");
    }
}

/// Running water follows V dc/dt = Q (c of the next - c): against Euler steps of a thousandth of a turn, and acid
/// that runs over the rim is what the tubs lose.
#[test]
fn running_water_follows_its_equation() {
    let mut tubs = Tubs::clean(litres(10.0), 3);
    tubs.dip(litres(5.0), Strength::points(30.0));
    let before = tubs.acid();
    let mut own = [tubs.first().in_points(), 0.0, tubs.last().in_points()];
    // The middle one from the sum.
    own[1] = before.in_point_litres() / 10.0 - own[0] - own[2];
    let mut over = 0.0;
    for _ in 0..200_000 {
        let h = 1e-5;
        over += own[0] * h * 10.0;
        own = [
            own[0] + h * (own[1] - own[0]),
            own[1] + h * (own[2] - own[1]),
            own[2] * (1.0 - h),
        ];
    }
    tubs.run(VolumeFlow::litres_per_minute(20.0), Span::whole_minutes(1));
    near(tubs.first().in_points(), own[0], 1e-4, "first");
    near(tubs.last().in_points(), own[2], 1e-4, "last");
    let lost = before.in_point_litres() - tubs.acid().in_point_litres();
    near(lost, over, 1e-4, "over the rim");
    tubs.run(VolumeFlow::litres_per_minute(0.0), Span::whole_minutes(60));
    near(
        tubs.first().in_points(),
        own[0],
        1e-4,
        "still water keeps what it has",
    );
}

#[test]
fn t65_reclaim_tank_before_and_after() {
    let mut tank = Rinse::clean(litres(20.0));
    for _ in 0..20_000 {
        tank.dip(litres(0.05), Share::ZERO);
        tank.dip(litres(0.05), Share::fraction(1.0));
    }
    near(tank.strength.in_fraction(), 0.5, 0.005, "strength");
}

/// The table of section 8, as printed, in mL/m2; from memory there, so only its arithmetic is checked.
#[test]
fn drag_out_rows() {
    for (hangs, drains, least, most) in [
        (Hangs::Upright, Drains::Well, 16.0, 16.0),
        (Hangs::Upright, Drains::Poorly, 81.0, 81.0),
        (Hangs::Upright, Drains::VeryPoorly, 163.0, 163.0),
        (Hangs::Flat, Drains::Well, 33.0, 33.0),
        (Hangs::Flat, Drains::VeryPoorly, 407.0, 407.0),
        (Hangs::Cup, Drains::VeryPoorly, 326.0, 978.0),
    ] {
        let (a, b) = drag_out(hangs, drains).unwrap();
        assert!((a.in_millilitres_per_square_metre() - least).abs() < 0.6, "{a:?}");
        assert!((b.in_millilitres_per_square_metre() - most).abs() < 0.6, "{b:?}");
    }
    assert_eq!(drag_out(Hangs::Flat, Drains::Poorly), None);
}

#[test]
fn films_that_drain() {
    let films = data()["drag_out_film"].as_array().unwrap().clone();
    for row in &films {
        let water = Liquid::water(Temperature::celsius(number(&row["t_C"])));
        let drained = Span::seconds(number(&row["drain_s"]));
        let film = draining_film(&water, Length::metres(number(&row["H_m"])), drained);
        let um = film.in_millilitres_per_square_metre();
        near(um, number(&row["mean_film_um"]), 0.002, "film");
    }
    assert_eq!(films.len(), 16);
    let drip = Drip {
        runs_off: VolumePerArea::millilitres_per_square_metre(100.0),
        stays: VolumePerArea::millilitres_per_square_metre(16.0),
        time: Span::seconds(10.0),
    };
    near(
        drip.after(Span::ZERO).in_millilitres_per_square_metre(),
        116.0,
        1e-12,
        "at once",
    );
    near(
        drip.after(Span::seconds(40.0)).in_millilitres_per_square_metre(),
        17.83,
        1e-3,
        "after 40 s",
    );
}

#[test]
fn t66_flash_drying() {
    let steel = Density::kilograms_per_cubic_metre(7_850.0);
    for row in rows("drying", "flash_dry_sheet") {
        let film = VolumePerArea::millilitres_per_square_metre(number(&row["film_mL_m2"]));
        let rinse = Temperature::celsius(number(&row["rinse_C"]));
        let least = flash_dry_thickness(film, rinse, &SolidHeat::STEEL, steel).unwrap();
        near(
            least.in_millimetres(),
            number(&row["min_sheet_thickness_mm_for_flash_dry"]),
            0.01,
            "thickness",
        );
    }
    let film = VolumePerArea::millilitres_per_square_metre(16.0);
    for cold in [20.0, 40.0] {
        assert_eq!(
            flash_dry_thickness(film, Temperature::celsius(cold), &SolidHeat::STEEL, steel),
            None
        );
    }
}

/// Section 9: flux of a film and time for 30 g/m2.
#[test]
fn films_that_dry_in_air() {
    for row in rows("drying", "film_evaporation_pool_equation") {
        let air = Draught::of(
            &still_air(20.0, 0.5),
            Speed::metres_per_second(number(&row["v_m_s"])),
        );
        let film = Temperature::celsius(number(&row["film_t_C"]));
        let flux = air.flux(film).in_kilograms_per_square_metre_hour();
        near(flux, number(&row["kg_m2h"]), 0.005, "flux");
        let time = air.time_for(CoatWeight::grams_per_square_metre(30.0), film);
        near(time.in_seconds(), number(&row["s_for_30_g_m2"]), 0.005, "time");
    }
}

/// A part at 66 °F in air of dew point 74 °F is wetted, in air of dew point 62 °F dries.
#[test]
fn t67_dew_point() {
    let part = Temperature::fahrenheit(66.0);
    let draught = |dew: f64| Draught {
        vapour: vapour_at_dew_point(Temperature::fahrenheit(dew)),
        speed: Speed::metres_per_second(1.0),
    };
    let (damp, dry) = (draught(74.0), draught(62.0));
    near(damp.dew_point().in_fahrenheit(), 74.0, 1e-6, "dew point");
    assert!(!damp.dries(part) && damp.flux(part).base() == 0.0);
    let film = CoatWeight::grams_per_square_metre(30.0);
    assert_eq!(damp.time_for(film, part), Span::FOREVER);
    assert!(dry.dries(part) && dry.time_for(film, part) < Span::hours(1.0));
    assert!(water::saturation_pressure(part) > dry.vapour);
}
