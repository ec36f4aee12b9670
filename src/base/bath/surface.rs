//! The open surface of a hot bath: two films in series.
//!
//! Air side: natural convection over a hot plate facing up, heat and mass by analogy, with the Stefan factor
//! and the buoyancy of the vapour itself. Water side: natural convection under the cooled skin. The skin takes
//! the temperature at which both carry the same heat. Taking the skin as warm as the bulk would double the loss
//! near boiling. Valid for still air, a bulk of 35 to 98.5 °C and an area by perimeter of 0.03 to 0.5 m; against
//! published tables it lies within about 15 to 20 %, as they lie among themselves.

use super::air::{self, GAS_CONSTANT, GRAVITY, MOLAR_MASS_WATER, PRANDTL, STEFAN_BOLTZMANN};
use super::{film, water};
use crate::shop::Air;
use crate::units::{HeatFlux, Length, MassFlux, Quantity, Share, Temperature};

/// Water activity of a bath: pure water's. Salts lower the vapour pressure in this proportion.
pub const ACTIVITY: Share = Share::percent(100.0);
/// Emissivity of an open surface of water (common practice, no source).
pub const WATER_EMISSIVITY: Share = Share::percent(95.0);

/// The water below an open surface.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bulk {
    /// Factor on the convection in the water: 1 still, 2 stirred, 10 rolling (common practice, no source).
    pub stirring: f64,
    /// Water activity: salts lower the vapour pressure in this proportion.
    pub activity: Share,
    /// Emissivity of the surface.
    pub emissivity: Share,
}

impl Default for Bulk {
    /// Still, pure water.
    fn default() -> Self {
        Self {
            stirring: 1.0,
            activity: ACTIVITY,
            emissivity: WATER_EMISSIVITY,
        }
    }
}

/// What leaves a square metre of open surface.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct SurfaceLoss {
    /// Temperature of the skin.
    pub skin: Temperature,
    /// Water evaporated.
    pub evaporation: MassFlux,
    /// Heat carried by the vapour.
    pub latent: HeatFlux,
    /// Heat to the air.
    pub convection: HeatFlux,
    /// Heat radiated to surroundings that are as warm as the air.
    pub radiation: HeatFlux,
}

impl SurfaceLoss {
    /// All the heat.
    #[must_use]
    pub fn heat(&self) -> HeatFlux {
        self.latent + self.convection + self.radiation
    }
}

/// What the open surface of a bath loses to the room; nothing when the bath is no warmer than the air.
///
/// `length` is area by perimeter of the opening.
#[must_use]
pub fn open_surface(bath: Temperature, air: &Air, length: Length, bulk: &Bulk) -> SurfaceLoss {
    if bath <= air.temperature {
        return SurfaceLoss {
            skin: bath,
            ..SurfaceLoss::default()
        };
    }
    let surplus = |skin: f64| {
        let skin = Temperature::celsius(skin);
        let up = through_air(skin, air, length, bulk).heat();
        (through_water(bath, skin, bulk.stirring) - up).in_watts_per_square_metre()
    };
    // A bath barely warmer than dry air has a skin colder than the air: look below it, down to 25 K.
    let mut low = air.temperature.in_celsius();
    for _ in 0..25 {
        if surplus(low) >= 0.0 {
            break;
        }
        low -= 1.0;
    }
    let skin = super::root::falling_root(low, bath.in_celsius(), surplus);
    through_air(Temperature::celsius(skin), air, length, bulk)
}

/// What a wet surface at a given skin temperature gives to the air.
#[must_use]
pub fn through_air(skin: Temperature, air: &Air, length: Length, bulk: &Bulk) -> SurfaceLoss {
    let total = air.pressure;
    let at_skin = water::saturation_pressure(skin) * bulk.activity.in_fraction();
    let in_room = air::vapour_pressure(air);
    let light = air::moist_density(skin, at_skin, total).base();
    let heavy = air::moist_density(air.temperature, in_room, total).base();
    let mean = 0.5 * (light + heavy);
    let between = air.temperature + (skin - air.temperature) * 0.5;
    let l = length.in_metres();
    let nu = air::viscosity(between).base() / mean;
    let diffusivity = air::vapour_diffusivity(between, total).base();
    let grashof = (GRAVITY * (heavy - light) * l * l * l / (mean * nu * nu)).max(0.0);
    let sherwood = film::plate_up(grashof * nu / diffusivity);
    let nusselt = film::plate_up(grashof * PRANDTL);
    let dry = |vapour: f64| (1.0 - vapour / total.in_pascals()).max(1e-9);
    let stefan = libm::log(dry(in_room.base()) / dry(at_skin.base()));
    let moles = total.in_pascals() / (GAS_CONSTANT * between.in_kelvin());
    let flux = MOLAR_MASS_WATER * moles * sherwood * diffusivity / l * stefan;
    let evaporation = MassFlux::kilograms_per_square_metre_second(flux);
    let film = nusselt * air::conductivity(between).base() / l;
    SurfaceLoss {
        skin,
        evaporation,
        latent: evaporation * water::latent_heat(skin),
        convection: HeatFlux::from_base(film * (skin - air.temperature).in_kelvin()),
        radiation: radiation(skin, air.temperature, bulk.emissivity),
    }
}

/// Heat that convection in the water brings up to a skin colder than the bulk.
#[must_use]
pub fn through_water(bath: Temperature, skin: Temperature, stirring: f64) -> HeatFlux {
    let drop = (bath - skin).in_kelvin().max(0.0);
    let between = skin + (bath - skin) * 0.5;
    let density = water::density(between).base();
    let conductivity = water::conductivity(between).base();
    let nu = water::viscosity(between).base() / density;
    let alpha = conductivity / (density * water::heat_capacity(between).base());
    let buoyancy = GRAVITY * water::expansion(between).base().max(0.0) / (nu * alpha);
    let film = 0.15 * conductivity * libm::cbrt(buoyancy * drop);
    HeatFlux::watts_per_square_metre(stirring * film * drop)
}

/// Heat radiated by a grey face to surroundings that see all of it.
#[must_use]
pub fn radiation(face: Temperature, around: Temperature, emissivity: Share) -> HeatFlux {
    let fourth = |t: Temperature| {
        let square = t.in_kelvin() * t.in_kelvin();
        square * square
    };
    HeatFlux::watts_per_square_metre(
        emissivity.in_fraction() * STEFAN_BOLTZMANN * (fourth(face) - fourth(around)),
    )
}
