//! Moist air over a bath, and the pressure of air at a height.

use crate::shop::Air;
use crate::units::{Conductivity, Density, Diffusivity, Length, Pressure, Temperature, Viscosity};
use libm::pow;

/// Gas constant, J/(mol K), exact in the SI.
pub const GAS_CONSTANT: f64 = 8.314_462_618;
/// Molar mass of water, kg/mol.
pub const MOLAR_MASS_WATER: f64 = 0.018_015_268;
/// Molar mass of dry air, kg/mol.
pub const MOLAR_MASS_AIR: f64 = 0.028_965_2;
/// Standard acceleration of gravity, m/s2, exact by definition.
pub const GRAVITY: f64 = 9.806_65;
/// Stefan-Boltzmann constant, W/(m2 K4).
pub const STEFAN_BOLTZMANN: f64 = 5.670_374_419e-8;
/// Prandtl number of air.
pub const PRANDTL: f64 = 0.705;

const STANDARD_PASCALS: f64 = 101_325.0;

/// Standard pressure at sea level.
#[must_use]
pub const fn standard_pressure() -> Pressure {
    Pressure::pascals(STANDARD_PASCALS)
}

const SEA_KELVIN: f64 = 288.15;
const LAPSE: f64 = 0.006_5;
/// Exponent of the barometric formula, with the molar mass and gas constant that the standard uses.
const BAROMETRIC: f64 = GRAVITY * 0.028_964_4 / (8.314_32 * LAPSE);

/// Pressure of the standard atmosphere at a height above the sea, up to 11 km: U.S. Standard Atmosphere 1976
/// (the same as ISO 2533:1975) with 288.15 K at sea level and 6.5 K less for each kilometre. The constants are
/// from memory.
#[must_use]
pub fn pressure_at(height: Length) -> Pressure {
    let height = height.in_metres().clamp(-1_000.0, 11_000.0);
    let ratio = 1.0 - LAPSE * height / SEA_KELVIN;
    Pressure::pascals(STANDARD_PASCALS * pow(ratio, BAROMETRIC))
}

/// Height above the sea at which the standard atmosphere has a pressure: [`pressure_at`] inverted.
#[must_use]
pub fn height_of(pressure: Pressure) -> Length {
    let ratio = pow(
        (pressure.in_pascals() / STANDARD_PASCALS).max(0.0),
        1.0 / BAROMETRIC,
    );
    Length::metres((SEA_KELVIN / LAPSE * (1.0 - ratio)).clamp(-1_000.0, 11_000.0))
}

/// Partial pressure of the vapour in a room's air.
#[must_use]
pub fn vapour_pressure(air: &Air) -> Pressure {
    super::water::saturation_pressure(air.temperature) * air.humidity.in_fraction().clamp(0.0, 1.0)
}

/// Density of air that holds vapour, as a mixture of ideal gases.
#[must_use]
pub fn moist_density(at: Temperature, vapour: Pressure, total: Pressure) -> Density {
    let (p, all) = (vapour.in_pascals(), total.in_pascals());
    let mass = p * MOLAR_MASS_WATER + (all - p) * MOLAR_MASS_AIR;
    Density::kilograms_per_cubic_metre(mass / (GAS_CONSTANT * at.in_kelvin()))
}

/// Dynamic viscosity of air (Sutherland).
#[must_use]
pub fn viscosity(at: Temperature) -> Viscosity {
    let x = at.in_kelvin() / 273.15;
    Viscosity::pascal_seconds(1.716e-5 * x * x.sqrt() * (273.15 + 110.4) / (at.in_kelvin() + 110.4))
}

/// Heat conductivity of air.
#[must_use]
pub fn conductivity(at: Temperature) -> Conductivity {
    Conductivity::watts_per_metre_kelvin(0.0241 * pow(at.in_kelvin() / 273.15, 0.9))
}

/// Diffusivity of vapour in air (Marrero and Mason, as in Cengel, Heat and Mass Transfer, ch. 14).
#[must_use]
pub fn vapour_diffusivity(at: Temperature, total: Pressure) -> Diffusivity {
    let atmospheres = total.in_pascals() / STANDARD_PASCALS;
    Diffusivity::square_metres_per_second(1.87e-10 * pow(at.in_kelvin(), 2.072) / atmospheres)
}
