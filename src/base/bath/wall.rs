//! Walls and lids: natural convection and radiation from the outer face, insulation in series.
//!
//! The inner face is taken as warm as the bath; the water's own film and the metal cost under 1 %.

use super::air::{GAS_CONSTANT, GRAVITY, MOLAR_MASS_AIR, PRANDTL};
use super::surface::radiation;
use super::{air, film};
use crate::shop::{Air, Insulation, WallMaterial};
use crate::units::{HeatFlux, HeatTransfer, Length, Quantity, Share, Temperature};

/// The outer side of a wall or lid.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Face {
    /// Emissivity of what is seen from outside.
    pub emissivity: Share,
    /// Layer between the bath and the outer face.
    pub insulation: Insulation,
}

/// Emissivity of a wall: 0.3 stainless, 0.9 painted, oxidised or plastic (common practice, no source).
#[must_use]
pub const fn emissivity(material: WallMaterial) -> Share {
    match material {
        WallMaterial::Stainless => Share::fraction(0.3),
        WallMaterial::Dull => Share::fraction(0.9),
    }
}

/// Heat through an upright wall of a wetted height; nothing when the bath is no warmer than the air.
#[must_use]
pub fn wall_loss(bath: Temperature, air: &Air, height: Length, face: &Face) -> HeatFlux {
    through(bath, air, face, |outer| {
        film::vertical_plate(rayleigh(outer, air, height), PRANDTL) * air_film(outer, air, height)
    })
}

/// Heat through a lid over the bath, which is taken as warm as the bath; `length` is area by perimeter. This
/// overstates by perhaps 8 % (estimate).
#[must_use]
pub fn lid_loss(bath: Temperature, air: &Air, length: Length, face: &Face) -> HeatFlux {
    through(bath, air, face, |outer| {
        film::plate_up(rayleigh(outer, air, length)) * air_film(outer, air, length)
    })
}

fn through(bath: Temperature, air: &Air, face: &Face, film: impl Fn(Temperature) -> f64) -> HeatFlux {
    if bath <= air.temperature {
        return HeatFlux::ZERO;
    }
    let outer_loss = |outer: Temperature| {
        HeatTransfer::watts_per_square_metre_kelvin(film(outer)) * (outer - air.temperature)
            + radiation(outer, air.temperature, face.emissivity)
    };
    let thickness = face.insulation.thickness.in_metres();
    if thickness <= 0.0 {
        return outer_loss(bath);
    }
    let layer = HeatTransfer::watts_per_square_metre_kelvin(face.insulation.conductivity.base() / thickness);
    let arriving = |outer: f64| layer * (bath - Temperature::celsius(outer));
    let outer = super::root::falling_root(air.temperature.in_celsius(), bath.in_celsius(), |outer| {
        (arriving(outer) - outer_loss(Temperature::celsius(outer))).base()
    });
    arriving(outer)
}

fn between(outer: Temperature, air: &Air) -> Temperature {
    air.temperature + (outer - air.temperature) * 0.5
}

/// Rayleigh number of dry air along a warm face.
fn rayleigh(outer: Temperature, air: &Air, length: Length) -> f64 {
    let film = between(outer, air);
    let density = air.pressure.base() * MOLAR_MASS_AIR / (GAS_CONSTANT * film.in_kelvin());
    let nu = air::viscosity(film).base() / density;
    let l = length.in_metres();
    let warmer = (outer - air.temperature).in_kelvin().abs();
    GRAVITY * warmer / film.in_kelvin() * l * l * l / (nu * nu) * PRANDTL
}

/// Conductivity by length, which a Nusselt number turns into a heat transfer coefficient in W/(m2 K).
fn air_film(outer: Temperature, air: &Air, length: Length) -> f64 {
    air::conductivity(between(outer, air)).base() / length.in_metres()
}
