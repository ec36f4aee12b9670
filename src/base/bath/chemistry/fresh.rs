//! A fresh bath: making it up, ageing it with iron, and the room its foam needs.

use super::balance::Turnover;
use super::state::{Chemistry, Contradiction, Readings};
use crate::shop::Recipe;
use crate::units::{Concentration, Length, Mass, Quantity, Share, Volume};

/// Concentrate for a fresh bath of a volume: points x volume x share by point. With the defaults 17.1 % by volume.
#[must_use]
pub fn concentrate(recipe: &Recipe, volume: Volume) -> Volume {
    let share = recipe.make_up.in_points() * recipe.concentrate_per_point.in_fraction();
    volume.max(Volume::ZERO) * share.clamp(0.0, 1.0)
}

/// A fresh bath of a volume, without iron. Its account starts here.
///
/// # Errors
/// When the recipe makes no bath.
pub fn make_up(recipe: &Recipe, volume: Volume) -> Result<Chemistry, Contradiction> {
    let now = Readings {
        volume,
        total_acid: recipe.make_up,
        free_acid: recipe.make_up / recipe.concentrate_ratio,
        iron: Concentration::ZERO,
        sludge: Concentration::ZERO,
    };
    Chemistry::new(recipe, &now)
}

/// What ageing a bath with steel wool to an iron content takes and gives.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Conditioning {
    /// Metal that dissolves.
    pub wool: Mass,
    /// Reaction, hydrogen, acid used.
    pub turnover: Turnover,
    /// Whether the bath holds the free acid for it before hydrolysis gives any back.
    pub acid_lasts: bool,
}

/// Ageing to an iron content; 0.5 to 1.5 g/L, 1.0 by default (assumed: all the wool of a supplier's instruction,
/// 250 to 300 g for 100 L, would use more free acid than the bath holds).
#[must_use]
pub fn conditioning(recipe: &Recipe, bath: &Chemistry, to: Concentration) -> Conditioning {
    let short = (to - bath.iron()).max(Concentration::ZERO);
    let wool = short * bath.volume();
    let turnover = Turnover::of_metal(recipe, wool);
    Conditioning {
        wool,
        turnover,
        acid_lasts: turnover.deficit() <= bath.dissolved.free_acid(),
    }
}

/// Free height over a bath while steel wool dissolves or fresh steel goes in: a hand's breadth. Common practice,
/// no source.
pub const FOAM_ROOM: Length = Length::millimetres(100.0);

/// Whether the free height over a bath leaves its foam room.
#[must_use]
pub fn has_foam_room(free_height: Length) -> bool {
    free_height.base() >= FOAM_ROOM.base()
}

/// Volume of a closed space in which so much hydrogen reaches a share of its air: 1 % is a quarter of the lower
/// flammable limit of 4 % (the limit from memory; the quarter is 29 CFR 1910.124(b)(1)).
#[must_use]
pub fn space_for(hydrogen: Volume, at_most: Share) -> Volume {
    hydrogen / at_most.in_fraction()
}
