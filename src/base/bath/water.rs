//! Water on its saturation line, 10 to 98 °C.
//!
//! The saturation pressure is the equation of IAPWS SR1-86(1992); the rest are polynomials in °C fitted to
//! IAPWS-95 between 10 and 99 °C, with worst errors of 0.002 % (density), 0.014 % (heat capacity), 0.10 %
//! (viscosity), 0.06 % (conductivity), 1.3 % (expansion) and 0.001 % (latent heat). A phosphating bath is dilute
//! enough to be taken as water.

use crate::units::{
    Conductivity, Density, Expansion, HeatCapacity, Pressure, SpecificHeat, Temperature, Viscosity,
};

/// Coefficients of heat capacity in J/(kg K), rising powers of °C.
pub(super) const HEAT_CAPACITY: [f64; 5] = [4_213.357, -2.327_239, 0.053_586_59, -4.912_701e-4, 1.909_425e-6];
const DENSITY: [f64; 5] = [
    999.998_7,
    0.033_465_16,
    -0.006_931_186,
    3.417_129e-5,
    -9.872_621e-8,
];
const LOG_VISCOSITY: [f64; 5] = [
    -6.334_973,
    -0.033_111_04,
    2.583_165e-4,
    -1.566_456e-6,
    4.551_81e-9,
];
const CONDUCTIVITY: [f64; 4] = [0.557_690_9, 0.002_267_684, -1.361_953e-5, 2.916_799e-8];
const EXPANSION: [f64; 5] = [
    -5.501_134e-5,
    1.593_854e-5,
    -1.682_765e-7,
    1.293_093e-9,
    -3.994_776e-12,
];
const LATENT_HEAT: [f64; 4] = [2_500_873.0, -2_372.374, 0.476_942_7, -0.011_985_2];

/// Temperature in °C at which a litre of water is weighed: marks on a tank are read cold.
const MEASURING: Temperature = Temperature::celsius(20.0);

fn polynomial(coefficients: &[f64], t: f64) -> f64 {
    coefficients.iter().rev().fold(0.0, |sum, c| sum * t + c)
}

/// Saturation pressure: the pressure of vapour over water.
#[must_use]
pub fn saturation_pressure(at: Temperature) -> Pressure {
    const CRITICAL_KELVIN: f64 = 647.096;
    const CRITICAL_PASCALS: f64 = 22.064e6;
    let kelvin = at.in_kelvin().max(1.0);
    let x = (1.0 - kelvin / CRITICAL_KELVIN).max(0.0);
    let root = x.sqrt();
    let (x2, x3) = (x * x, x * x * x);
    let sum = -7.859_517_83 * x + 1.844_082_59 * x * root - 11.786_649_7 * x3 + 22.680_741_1 * x3 * root
        - 15.961_871_9 * x2 * x2
        + 1.801_225_02 * x3 * x3 * x * root;
    Pressure::pascals(CRITICAL_PASCALS * libm::exp(CRITICAL_KELVIN / kelvin * sum))
}

/// Temperature at which water boils under a pressure: the saturation equation inverted, between 0 and 200 °C.
#[must_use]
pub fn boiling_point(under: Pressure) -> Temperature {
    let short = |t: f64| under.in_pascals() - saturation_pressure(Temperature::celsius(t)).in_pascals();
    Temperature::celsius(super::root::falling_root(0.0, 200.0, short))
}

/// Density.
#[must_use]
pub fn density(at: Temperature) -> Density {
    Density::kilograms_per_cubic_metre(polynomial(&DENSITY, at.in_celsius()))
}

/// Density of the water that a tank's mark is meant for: a litre is counted cold, so heating alone leaves the
/// level as it is.
#[must_use]
pub fn measuring_density() -> Density {
    density(MEASURING)
}

/// Heat capacity at constant pressure.
#[must_use]
pub fn heat_capacity(at: Temperature) -> HeatCapacity {
    HeatCapacity::joules_per_kilogram_kelvin(polynomial(&HEAT_CAPACITY, at.in_celsius()))
}

/// Dynamic viscosity.
#[must_use]
pub fn viscosity(at: Temperature) -> Viscosity {
    Viscosity::pascal_seconds(libm::exp(polynomial(&LOG_VISCOSITY, at.in_celsius())))
}

/// Heat conductivity.
#[must_use]
pub fn conductivity(at: Temperature) -> Conductivity {
    Conductivity::watts_per_metre_kelvin(polynomial(&CONDUCTIVITY, at.in_celsius()))
}

/// Thermal expansion by volume.
#[must_use]
pub fn expansion(at: Temperature) -> Expansion {
    Expansion::per_kelvin(polynomial(&EXPANSION, at.in_celsius()))
}

/// Latent heat of evaporation.
#[must_use]
pub fn latent_heat(at: Temperature) -> SpecificHeat {
    SpecificHeat::joules_per_kilogram(polynomial(&LATENT_HEAT, at.in_celsius()))
}

/// Heat content of liquid water, counted from 0 °C: the integral of its heat capacity.
#[must_use]
pub fn heat_content(at: Temperature) -> SpecificHeat {
    let [a, b, c, d, e] = HEAT_CAPACITY;
    let t = at.in_celsius();
    let sum = (((e / 5.0 * t + d / 4.0) * t + c / 3.0) * t + b / 2.0) * t + a;
    SpecificHeat::joules_per_kilogram(sum * t)
}
