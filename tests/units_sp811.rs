//! Conversions against NIST Special Publication 811 (2008), appendix B, to the digits printed there.

use crate::bath_tanks::near;
use tankday::units::{
    Area, AreaPerVolume, Concentration, Energy, Length, Mass, MassPerVolume, Power, Pressure, Quantity,
    TempDiff, Temperature, Volume, read_quantity,
};

/// Seven digits are printed; half a unit of the last is at most 5e-7 of the value.
const PRINTED: f64 = 5e-7;

fn one<Q: Quantity>(unit: &str, factor: f64) {
    let got = read_quantity::<Q>(&format!("1 {unit}")).unwrap().base();
    near(got, factor, PRINTED, unit);
}

#[test]
fn lengths_and_areas() {
    one::<Length>("in", 2.54e-2);
    one::<Length>("ft", 3.048e-1);
    one::<Area>("in2", 6.4516e-4);
    one::<Area>("ft2", 9.290304e-2);
}

#[test]
fn volumes() {
    one::<Volume>("gal", 3.785412e-3);
    one::<Volume>("qt", 9.463529e-4);
    one::<Volume>("fl oz", 2.957353e-5);
    one::<Volume>("L", 1e-3);
}

#[test]
fn masses() {
    one::<Mass>("lb", 4.535924e-1);
    one::<Mass>("oz", 2.834952e-2);
}

#[test]
fn energy_power_and_pressure() {
    one::<Energy>("Btu", 1.055056e3);
    one::<Energy>("kWh", 3.6e6);
    one::<Power>("Btu/h", 2.930711e-1);
    one::<Pressure>("psi", 6.894757e3);
    one::<Pressure>("inHg", 3.386389e3);
    one::<Pressure>("mbar", 1e2);
}

/// Printed as kilogram per cubic metre.
#[test]
fn mass_by_volume() {
    one::<Concentration>("oz/gal", 7.489152);
    one::<MassPerVolume>("lb/gal", 1.198264e2);
}

/// Not printed itself: the quotient of the printed square foot and gallon, seven digits each.
#[test]
fn area_by_volume() {
    let got = read_quantity::<AreaPerVolume>("1 ft2/gal").unwrap().base();
    near(got, 9.290304e-2 / 3.785412e-3, 2.0 * PRINTED, "ft2/gal");
}

/// t/°C = (t/°F - 32)/1.8 and a degree Fahrenheit is 5.555556E-01 K.
#[test]
fn temperatures() {
    for (f, c) in [
        (32.0, 0.0),
        (212.0, 100.0),
        (-40.0, -40.0),
        (98.6, 37.0),
        (200.0, 93.333_333_333),
    ] {
        let read = Temperature::read(&format!("{f} °F")).unwrap().in_celsius();
        assert!((read - c).abs() < 1e-9, "{f} °F read as {read} °C");
        assert!((Temperature::celsius(c).in_fahrenheit() - f).abs() < 1e-8);
    }
    near(
        TempDiff::read("1 °F").unwrap().in_kelvin(),
        5.555_556e-1,
        PRINTED,
        "degree Fahrenheit",
    );
    near(Temperature::celsius(0.0).in_kelvin(), 273.15, 1e-15, "0 °C");
}
