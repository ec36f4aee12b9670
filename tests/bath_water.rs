//! Properties of water and air.
//!
//! `data/bath/water.csv`: IAPWS-95 through CoolProp 8.0.0 and IAPWS-IF97 through iapws 1.5.5.

use crate::bath_tanks::near;
use tankday::bath::{air, water};
use tankday::units::{Length, Pressure, Quantity, Temperature};

fn rows() -> Vec<(String, Vec<f64>)> {
    include_str!("data/bath/water.csv")
        .lines()
        .skip(2)
        .map(|line| {
            let (source, rest) = line.split_once(',').unwrap();
            (
                source.to_owned(),
                rest.split(',').map(|x| x.parse().unwrap()).collect(),
            )
        })
        .collect()
}

/// T1 to T6: every row of both formulations.
#[test]
fn water_against_both_formulations() {
    let rows = rows();
    assert!(rows.len() >= 30);
    for (source, row) in rows {
        let t = Temperature::celsius(row[0]);
        let got = [
            (water::saturation_pressure(t).base(), 1e-3),
            (water::density(t).base(), 1e-4),
            (water::heat_capacity(t).base(), 6e-4),
            (water::viscosity(t).base(), 1.1e-3),
            (water::conductivity(t).base(), 7e-4),
            (water::expansion(t).base(), 0.014),
            (water::latent_heat(t).base(), 1e-4),
        ];
        for ((value, share), want) in got.iter().zip(&row[1..]) {
            near(*value, *want, *share, &format!("{source} at {} C", row[0]));
        }
    }
}

/// T2 to T4: Perry's Chemical Engineers' Handbook, 9th ed., Table 2-135 (saturated, p. 2-262).
#[test]
fn water_against_perry() {
    for (kelvin, pascals, density, capacity, viscosity) in [
        (300.0, 3_537.0, 996.51, 4_180.9, 853.84e-6),
        (350.0, 41_682.0, 973.70, 4_194.6, 368.77e-6),
        (370.0, 90_535.0, 960.58, 4_212.1, 291.36e-6),
    ] {
        let t = Temperature::celsius(kelvin - 273.15);
        near(water::saturation_pressure(t).base(), pascals, 1e-3, "pressure");
        near(water::density(t).base(), density, 5e-4, "density");
        near(water::heat_capacity(t).base(), capacity, 1e-3, "heat capacity");
        near(water::viscosity(t).base(), viscosity, 5e-3, "viscosity");
    }
}

/// T5: latent heat; the ASHRAE Handbook, HVAC Applications 1999, p. 29.11 prints 2257 kJ/kg at 100 °C.
#[test]
fn latent_heat() {
    for (t, kilojoules) in [(50.0, 2382.0), (90.0, 2282.5), (100.0, 2257.0)] {
        let got = water::latent_heat(Temperature::celsius(t)).in_joules_per_kilogram();
        near(got, kilojoules * 1e3, 1e-3, "latent heat");
    }
}

/// The heat content is the integral of the heat capacity (Simpson over 1 K strips).
#[test]
fn heat_content_is_the_integral_of_heat_capacity() {
    let cp = |t: f64| water::heat_capacity(Temperature::celsius(t)).base();
    let mut sum = 0.0;
    for i in 20..93 {
        let t = f64::from(i);
        sum += (cp(t) + 4.0 * cp(t + 0.5) + cp(t + 1.0)) / 6.0;
    }
    let at = |t: f64| water::heat_content(Temperature::celsius(t)).base();
    near(at(93.0) - at(20.0), sum, 1e-10, "heat content");
}

/// Boiling undoes the saturation pressure; 100 °C at 101 325 Pa is off by 0.03 K on the ITS-90 scale
/// (99.974 °C, IAPWS).
#[test]
fn boiling() {
    for t in [60.0, 85.0, 94.5, 99.0] {
        let there = water::saturation_pressure(Temperature::celsius(t));
        let back = water::boiling_point(there).in_celsius();
        assert!((back - t).abs() < 1e-7, "{t} came back as {back}");
    }
    let sea = water::boiling_point(air::standard_pressure()).in_celsius();
    assert!((sea - 99.974).abs() < 0.01, "{sea}");
    assert!(water::boiling_point(Pressure::pascals(83_400.0)).in_celsius() < 95.0);
}

/// U.S. Standard Atmosphere 1976, geopotential heights; values from memory, except 83.4 kPa at 1600 m, which the
/// list of checks for heat losses uses.
#[test]
fn pressure_of_the_standard_atmosphere() {
    for (metres, pascals, share) in [
        (0.0, 101_325.0, 1e-9),
        (1_000.0, 89_875.0, 5e-5),
        (1_600.0, 83_400.0, 2e-3),
        (3_000.0, 70_109.0, 5e-5),
    ] {
        near(
            air::pressure_at(Length::metres(metres)).base(),
            pascals,
            share,
            "pressure",
        );
    }
}
