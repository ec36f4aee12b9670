//! Cold work in a hot bath: its heat, and how its own temperature follows.

use super::{film, water};
use crate::units::{
    Area, Conductivity, Density, HeatCapacity, HeatTransfer, Length, Mass, Quantity, Span, SpecificHeat,
    TempDiff, Temperature, Volume,
};

/// Heat capacity of a solid as a cubic in °C.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SolidHeat {
    pub(super) coefficients: [f64; 4],
}

impl SolidHeat {
    /// Carbon steel, 20 to 600 °C (EN 1993-1-2:2005, 3.4.1.2).
    pub const STEEL: Self = Self {
        coefficients: [425.0, 0.773, -1.69e-3, 2.22e-6],
    };

    /// The same at every temperature.
    #[must_use]
    pub const fn constant(capacity: HeatCapacity) -> Self {
        Self {
            coefficients: [capacity.in_joules_per_kilogram_kelvin(), 0.0, 0.0, 0.0],
        }
    }

    /// Heat capacity at a temperature.
    #[must_use]
    pub fn capacity(&self, at: Temperature) -> HeatCapacity {
        let [a, b, c, d] = self.coefficients;
        let t = at.in_celsius();
        HeatCapacity::joules_per_kilogram_kelvin(((d * t + c) * t + b) * t + a)
    }

    /// Heat content counted from 0 °C: the integral of the heat capacity.
    #[must_use]
    pub fn heat_content(&self, at: Temperature) -> SpecificHeat {
        let [a, b, c, d] = self.coefficients;
        let t = at.in_celsius();
        SpecificHeat::joules_per_kilogram((((d / 4.0 * t + c / 3.0) * t + b / 2.0) * t + a) * t)
    }
}

/// Work that goes into a bath.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Load {
    /// Its mass, basket included.
    pub mass: Mass,
    /// What a kilogram of it takes.
    pub heat: SolidHeat,
}

/// Heat conductivity of carbon steel, 20 to 800 °C (EN 1993-1-2:2005, 3.4.1.3).
#[must_use]
pub fn steel_conductivity(at: Temperature) -> Conductivity {
    Conductivity::watts_per_metre_kelvin(54.0 - 0.0333 * at.in_celsius())
}

/// Shape of one piece, for the convection around it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Piece {
    /// A lying rod or screw of a diameter.
    Rod(Length),
    /// A standing plate of a height and a thickness, wetted on both sides.
    Plate {
        /// Height.
        height: Length,
        /// Thickness.
        thickness: Length,
    },
    /// A ball of a diameter.
    Ball(Length),
}

impl Piece {
    /// Volume by surface.
    #[must_use]
    pub fn volume_by_surface(self) -> Length {
        match self {
            Self::Rod(d) => d / 4.0,
            Self::Plate { thickness, .. } => thickness / 2.0,
            Self::Ball(d) => d / 6.0,
        }
    }

    /// Coefficient of natural convection around it in still water.
    #[must_use]
    pub fn still_water(self, piece: Temperature, bath: Temperature) -> HeatTransfer {
        let between = piece + (bath - piece) * 0.5;
        let k = water::conductivity(between).base();
        let density = water::density(between).base();
        let nu = water::viscosity(between).base() / density;
        let alpha = k / (density * water::heat_capacity(between).base());
        let l = match self {
            Self::Rod(d) | Self::Ball(d) => d.in_metres(),
            Self::Plate { height, .. } => height.in_metres(),
        };
        let warmer = (bath - piece).in_kelvin().abs();
        let expansion = water::expansion(between).base().max(0.0);
        let rayleigh = super::air::GRAVITY * expansion * warmer * l * l * l / (nu * alpha);
        let nusselt = match self {
            Self::Rod(_) => film::horizontal_cylinder(rayleigh, nu / alpha),
            Self::Plate { .. } => film::vertical_plate(rayleigh, nu / alpha),
            Self::Ball(_) => film::sphere(rayleigh, nu / alpha),
        };
        HeatTransfer::watts_per_square_metre_kelvin(nusselt * k / l)
    }
}

/// A piece as one lump: good while h (V/A) / k stays under 0.1, a few per cent off up to 0.2.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lump {
    /// Density.
    pub density: Density,
    /// Heat capacity.
    pub heat: SolidHeat,
    /// Volume by surface.
    pub thickness: Length,
}

impl Lump {
    /// A piece by its volume and surface.
    #[must_use]
    pub fn new(density: Density, heat: SolidHeat, volume: Volume, surface: Area) -> Self {
        Self {
            density,
            heat,
            thickness: Length::metres(volume.base() / surface.base()),
        }
    }

    /// Seconds in which its distance from the bath falls to 1/e.
    #[must_use]
    pub fn time_constant(&self, at: Temperature, film: HeatTransfer) -> Span {
        Span::seconds(self.seconds(at, film))
    }

    fn seconds(&self, at: Temperature, film: HeatTransfer) -> f64 {
        self.density.base() * self.heat.capacity(at).base() * self.thickness.base() / film.base()
    }

    /// Time until it is within a difference of a bath that stays as it is; zero when it already is.
    ///
    /// Integrates the time constant over the logarithm of the difference (Simpson, 64 strips), with a film
    /// coefficient that may depend on the temperature of the piece.
    #[must_use]
    pub fn time_to_follow(
        &self,
        from: Temperature,
        bath: Temperature,
        within: TempDiff,
        film: impl Fn(Temperature) -> HeatTransfer,
    ) -> Span {
        const STRIPS: u32 = 64;
        let start = (bath - from).in_kelvin();
        let ratio = start.abs() / within.in_kelvin();
        if ratio.is_nan() || ratio <= 1.0 {
            return Span::ZERO;
        }
        let log = libm::log(ratio);
        let sum: f64 = (0..=STRIPS)
            .map(|i| {
                let apart = start * libm::exp(-log * f64::from(i) / f64::from(STRIPS));
                let piece = bath - TempDiff::kelvin(apart);
                let weight = match i {
                    0 | STRIPS => 1.0,
                    i if i % 2 == 1 => 4.0,
                    _ => 2.0,
                };
                weight * self.seconds(piece, film(piece))
            })
            .sum();
        Span::seconds(sum * log / (3.0 * f64::from(STRIPS)))
    }
}

/// How many times slower the pieces in the middle of a packed basket follow (common practice, no source).
pub const PACKED_BASKET: f64 = 3.0;
