//! What a bath is made of and what it may do.

use super::growth::Growth;
use super::limits::Limits;
use super::recipe::Recipe;
use crate::luck::Spread;
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

/// What decides how long a load stays.
#[derive(Debug, Clone, PartialEq)]
pub enum CoatRule {
    /// The time that the growth law needs to reach this weight at the bath's temperature.
    Target(CoatWeight),
    /// A time, fixed or spread.
    Time(Spread),
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
