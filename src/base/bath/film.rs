//! Natural convection as dimensionless numbers: Nusselt from Rayleigh and Prandtl.

use libm::pow;

/// Hot plate facing up, length area by perimeter: the larger of 0.54 Ra^(1/4) and 0.15 Ra^(1/3), which meet at
/// Ra 4.7e6 (Lloyd and Moran 1974).
#[must_use]
pub fn plate_up(rayleigh: f64) -> f64 {
    let root = rayleigh.max(0.0).sqrt();
    (0.54 * root.sqrt()).max(0.15 * libm::cbrt(rayleigh.max(0.0)))
}

/// Vertical plate, length its height (Churchill and Chu 1975, as in Incropera, Fundamentals of Heat and Mass
/// Transfer).
#[must_use]
pub fn vertical_plate(rayleigh: f64, prandtl: f64) -> f64 {
    let x = 0.825 + 0.387 * sixth_root(rayleigh) / blend(0.492, prandtl);
    x * x
}

/// Horizontal cylinder, length its diameter (Churchill and Chu 1975).
#[must_use]
pub fn horizontal_cylinder(rayleigh: f64, prandtl: f64) -> f64 {
    let x = 0.60 + 0.387 * sixth_root(rayleigh) / blend(0.559, prandtl);
    x * x
}

/// Sphere, length its diameter (Churchill 1983, laminar and turbulent together).
#[must_use]
pub fn sphere(rayleigh: f64, prandtl: f64) -> f64 {
    let rayleigh = rayleigh.max(0.0);
    let shape = pow(1.0 + pow(0.469 / prandtl, 9.0 / 16.0), 4.0 / 9.0);
    let square = shape * shape;
    let turbulent = pow(1.0 + 7.44e-8 * rayleigh / (square * square), 1.0 / 12.0);
    2.0 + 0.589 * rayleigh.sqrt().sqrt() / shape * turbulent
}

fn sixth_root(x: f64) -> f64 {
    libm::cbrt(x.max(0.0)).sqrt()
}

fn blend(constant: f64, prandtl: f64) -> f64 {
    pow(1.0 + pow(constant / prandtl, 9.0 / 16.0), 8.0 / 27.0)
}
