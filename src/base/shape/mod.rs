//! Surface and mass of parts, where nobody has measured them: screws, sheet, bar, tube, rings, springs, cast walls.
//!
//! Surface decides what a load takes from a bath, mass what it takes from its heat. Each figure says how sure it is.

mod plain;
mod screw;

pub use plain::{Solid, bar, cast_wall, ring, sheet, spring, tube};
pub use screw::{Coarse, Head, Screw, thread_factor};

use crate::units::{Area, Density, Mass, Share};

/// Carbon steel.
pub const STEEL: Density = Density::kilograms_per_cubic_metre(7_850.0);
/// Grey cast iron.
pub const CAST_IRON: Density = Density::kilograms_per_cubic_metre(7_200.0);

/// How rough a face is against a smooth one: how many times larger its true surface. No source was found; the
/// figures are common practice.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Face {
    /// Machined, drawn or rolled: 1.
    Smooth,
    /// Blasted: 1.2.
    Blasted,
    /// As cast: 1.5.
    AsCast,
}

impl Face {
    /// How many times larger its true surface is, and the range it may lie in.
    #[must_use]
    pub const fn factor(self) -> (f64, f64, f64) {
        match self {
            Self::Smooth => (1.0, 1.0, 1.1),
            Self::Blasted => (1.2, 1.0, 2.0),
            Self::AsCast => (1.5, 1.2, 2.0),
        }
    }
}

/// Surface and mass by shape, and how far off they may be.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Estimate {
    /// Surface of one piece.
    pub area: Area,
    /// Least and most that it may be.
    pub area_between: (Area, Area),
    /// Mass of one piece.
    pub mass: Mass,
    /// How far off the mass may be, either way.
    pub mass_within: Share,
}

impl Estimate {
    /// Of a solid of a material with such a face.
    #[must_use]
    pub fn new(solid: &Solid, density: Density, face: Face) -> Self {
        let (usual, least, most) = face.factor();
        let within = solid.area_within.in_fraction();
        Self {
            area: solid.area * usual,
            area_between: (
                solid.area * (least * (1.0 - within)),
                solid.area * (most * (1.0 + within)),
            ),
            mass: density * solid.volume,
            mass_within: solid.volume_within,
        }
    }

    /// Surface by mass, in square metres of a kilogram.
    #[must_use]
    pub fn square_metres_per_kilogram(&self) -> f64 {
        self.area.in_square_metres() / self.mass.in_kilograms()
    }
}
