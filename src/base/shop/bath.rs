//! What a bath is made of and what it may do.

use super::growth::Growth;
use super::limits::Limits;
use super::recipe::Recipe;
use crate::random::Spread;
use crate::units::{AreaPerVolume, CoatWeight, Concentration, MassPerVolume, Span, Strength, Temperature};

/// The temperatures between which a bath may work.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Band {
    /// No load goes in below it.
    pub least: Temperature,
    /// What the thermostat holds.
    pub hold: Temperature,
    /// Not to be passed.
    pub most: Temperature,
}

/// What one load may bring, for each litre of bath.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Room {
    /// Surface.
    pub area: AreaPerVolume,
    /// Mass.
    pub mass: MassPerVolume,
}

impl Room {
    /// More than this in one load is warned of and comes out blotchy more often: assumptions, from a barrel line in a
    /// handbook chapter on phosphate coatings, 193 kg in 760 L of threaded pieces.
    pub const MUCH: Self = Self {
        area: AreaPerVolume::square_decimetres_per_litre(2.0),
        mass: MassPerVolume::kilograms_per_litre(0.255),
    };
}

/// What decides how long a load stays.
#[derive(Debug, Clone, PartialEq)]
pub enum CoatRule {
    /// The time that the growth law needs to reach this weight at the bath's temperature.
    Target(CoatWeight),
    /// A time, fixed or spread.
    Time(Spread),
}

/// What has got into a bath that must not be in it. Aluminium is called a bath poison in a patent application on zinc
/// baths; plated work that loses its zinc comes out grey (a workshop's account); that copper plates on steel and oil leaves
/// blotches is common practice, no source.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Contaminants {
    /// Oil.
    pub oil: bool,
    /// Zinc.
    pub zinc: bool,
    /// Aluminium, a bath poison.
    pub aluminium: bool,
    /// Copper, which plates on steel.
    pub copper: bool,
}

impl Contaminants {
    /// Whether there is any.
    #[must_use]
    pub fn any(self) -> bool {
        self.oil || self.zinc || self.aluminium || self.copper
    }

    /// Those of both.
    #[must_use]
    pub fn with(self, other: Self) -> Self {
        Self {
            oil: self.oil || other.oil,
            zinc: self.zinc || other.zinc,
            aluminium: self.aluminium || other.aluminium,
            copper: self.copper || other.copper,
        }
    }

    /// Each that is in it, by its name.
    pub fn names(self) -> impl Iterator<Item = &'static str> {
        [
            (self.oil, "oil"),
            (self.zinc, "zinc"),
            (self.aluminium, "aluminium"),
            (self.copper, "copper"),
        ]
        .into_iter()
        .filter_map(|(is_in, name)| is_in.then_some(name))
    }
}

/// The readings of a bath at the start.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BathState {
    /// Total acid.
    pub total_acid: Strength,
    /// Free acid.
    pub free_acid: Strength,
    /// Ferrous iron.
    pub iron: Concentration,
    /// Sludge, stirred up and settled together.
    pub sludge: Concentration,
    /// Loads worked since it was made up.
    pub uses: u32,
    /// Surface coated since it was made up, for each litre.
    pub area: AreaPerVolume,
    /// What is in it that must not be: no load goes in until all of it is renewed.
    pub contaminants: Contaminants,
}

/// A bath by recipe.
#[derive(Debug, Clone, PartialEq)]
pub struct BathRecipe {
    /// Its name.
    pub name: String,
    /// Working temperatures.
    pub band: Band,
    /// What one load may bring.
    pub room: Room,
    /// What decides the dwell.
    pub coat: CoatRule,
    /// Shortest dwell.
    pub least: Span,
    /// Longest dwell.
    pub most: Span,
    /// Readings at the start.
    pub now: BathState,
    /// How its coating grows, at make-up strength and well aged.
    pub growth: Growth,
    /// The constants of its chemistry.
    pub chemistry: Recipe,
    /// Where it warns and where it stops.
    pub limits: Limits,
    /// Whether work changes it; where not, its readings stay as they are.
    pub wears: bool,
}
