//! Drying: by the heat of the work itself, or by air.

use super::load::SolidHeat;
use super::root::falling_root;
use super::water;
use crate::shop::Air;
use crate::units::{
    CoatWeight, Density, Length, MassFlux, Pressure, Quantity, Span, SpecificHeat, Speed, Temperature,
    VolumePerArea,
};

/// Temperature of the work below which its own heat dries nothing more.
pub const FLASH_ENDS: Temperature = Temperature::celsius(40.0);

/// Least thickness of a sheet, wet on both sides, whose own heat evaporates its film between leaving the rinse and
/// [`FLASH_ENDS`]: film x latent heat = density x heat content x half the thickness. Never below [`FLASH_ENDS`].
#[must_use]
pub fn flash_dry_thickness(
    film: VolumePerArea,
    rinse: Temperature,
    heat: &SolidHeat,
    density: Density,
) -> Option<Length> {
    let held = (heat.heat_content(rinse) - heat.heat_content(FLASH_ENDS)).base();
    let between = Temperature::celsius(0.5 * (rinse.in_celsius() + FLASH_ENDS.in_celsius()));
    let water = film.base() * water::density(rinse).base();
    let needs = water * water::latent_heat(between).base();
    let thickness = 2.0 * needs / (density.base() * held);
    (held > 0.0 && thickness.is_finite()).then(|| Length::metres(thickness.max(0.0)))
}

/// Air that dries.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Draught {
    /// Pressure of the vapour in it.
    pub vapour: Pressure,
    /// Its speed.
    pub speed: Speed,
}

impl Draught {
    /// Of the air of a room.
    #[must_use]
    pub fn of(air: &Air, speed: Speed) -> Self {
        Self {
            vapour: super::air::vapour_pressure(air),
            speed,
        }
    }

    /// How fast a film of a temperature dries: (0.089 + 0.0782 v)(p(t) - p(air)) / Y, the pool equation of ASHRAE in
    /// SI units. Nothing at or below the dew point. The film is colder than the air; where the work brings no heat,
    /// its temperature is the wet bulb's.
    #[must_use]
    pub fn flux(&self, film: Temperature) -> MassFlux {
        let short = (water::saturation_pressure(film) - self.vapour).max(Pressure::ZERO);
        let by_speed = 0.089 + 0.0782 * self.speed.in_metres_per_second().max(0.0);
        let latent: SpecificHeat = water::latent_heat(film);
        MassFlux::kilograms_per_square_metre_second(by_speed * short.base() / latent.base())
    }

    /// How long a film takes at one temperature; for ever where it does not dry.
    #[must_use]
    pub fn time_for(&self, film: CoatWeight, at: Temperature) -> Span {
        let flux = self.flux(at);
        if flux.base() <= 0.0 {
            return Span::FOREVER;
        }
        film / flux
    }

    /// Temperature below which the air's vapour condenses on work.
    #[must_use]
    pub fn dew_point(&self) -> Temperature {
        water::boiling_point(self.vapour)
    }

    /// Whether work of a temperature dries at all: it must be warmer than the dew point.
    #[must_use]
    pub fn dries(&self, work: Temperature) -> bool {
        work > self.dew_point()
    }
}

/// By how much the vapour pressure at a ventilated wet bulb falls short of saturation, for each kelvin that it is colder
/// than the air and each pascal of its pressure (Sprung's psychrometer formula, from memory).
const PSYCHROMETER: f64 = 6.62e-4;

/// Temperature that a wet surface takes in air when nothing but the air warms it: e = es(tw) - A p (t - tw). Not
/// below freezing.
#[must_use]
pub fn wet_bulb(air: &Air) -> Temperature {
    let (t, e) = (
        air.temperature.in_celsius(),
        super::air::vapour_pressure(air).base(),
    );
    if t <= 0.0 {
        return air.temperature;
    }
    let short = |tw: f64| {
        let at_bulb = water::saturation_pressure(Temperature::celsius(tw)).base();
        e - at_bulb + PSYCHROMETER * air.pressure.base() * (t - tw)
    };
    Temperature::celsius(falling_root(0.0, t, short))
}

/// How long work dries in the air of a room that passes at a speed, when it brings no heat of its own: its film has
/// the temperature of the wet bulb. For ever in air that is full of vapour.
#[must_use]
pub fn in_air(film: VolumePerArea, air: &Air, speed: Speed) -> Span {
    let bulb = wet_bulb(air);
    Draught::of(air, speed).time_for(water::density(bulb) * film, bulb)
}

/// Air of a dew point.
#[must_use]
pub fn vapour_at_dew_point(dew_point: Temperature) -> Pressure {
    water::saturation_pressure(dew_point)
}
