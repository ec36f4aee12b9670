//! What a coated surface does to a bath: the mass balance of one load.

use super::species::{Dissolved, Elements, HUREAULITE, IRON, MANGANESE, PHOSPHORIC_ACID, Sludge, gas_volume};
use crate::shop::Recipe;
use crate::units::{Amount, Area, CoatWeight, Mass, Volume};

/// What a coated surface takes from a bath and gives it, drag-out left aside.
///
/// With w the coating, r the attack ratio, x the iron in its metal, phi the share oxidised, h the share hydrolysed:
///
/// ```text
/// metal dissolved  L  = w / r
/// iron in coating     = 5 x w / M(hureaulite)                                mol
/// iron oxidised       = phi (L / M(Fe) - iron in coating), not below nothing  mol
/// free acid deficit D = 2 L / M(Fe) - 6 w / M(hureaulite) - iron oxidised     mol
/// hydrolysed          = h D, not below nothing                                mol of acid given back
/// ```
///
/// The sign of D is that of r against 4.35: below it the free acid falls, above it the free acid rises.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Turnover {
    /// Coating formed, by its formula unit.
    pub(super) coat: Amount,
    /// Iron dissolved from the work.
    pub(super) dissolved: Amount,
    /// Iron in the coating.
    pub(super) iron_in_coat: Amount,
    /// Iron gone over into yellow sludge.
    pub(super) oxidised: Amount,
    /// Free acid given back by hydrolysis.
    pub(super) hydrolysed: Amount,
}

impl Turnover {
    /// Of a coating on a surface.
    #[must_use]
    pub fn of(recipe: &Recipe, weight: CoatWeight, area: Area) -> Self {
        let coating = (weight * area).max(Mass::ZERO);
        let coat = coating / HUREAULITE;
        let dissolved = coating / recipe.attack_ratio / IRON;
        let iron_in_coat = coat * (5.0 * recipe.iron_in_coat.in_fraction());
        let net = (dissolved - iron_in_coat).max(Amount::ZERO);
        let oxidised = net * recipe.oxidised_by_load();
        let turnover = Self {
            coat,
            dissolved,
            iron_in_coat,
            oxidised,
            hydrolysed: Amount::ZERO,
        };
        let made_good = turnover.deficit() * recipe.hydrolysed.in_fraction();
        Self {
            hydrolysed: made_good.max(Amount::ZERO),
            ..turnover
        }
    }

    /// Of metal that dissolves without a coating: steel wool, scrap, work that stays too long.
    #[must_use]
    pub fn of_metal(recipe: &Recipe, metal: Mass) -> Self {
        let dissolved = metal.max(Mass::ZERO) / IRON;
        Self {
            coat: Amount::ZERO,
            dissolved,
            iron_in_coat: Amount::ZERO,
            oxidised: Amount::ZERO,
            hydrolysed: dissolved * (2.0 * recipe.hydrolysed.in_fraction()),
        }
    }

    /// Free acid used up less free acid set free, before hydrolysis; negative where the bath gains.
    #[must_use]
    pub fn deficit(&self) -> Amount {
        self.dissolved * 2.0 - self.coat * 6.0 - self.oxidised
    }

    /// What is dissolved afterwards, less what was before.
    #[must_use]
    pub fn change(&self) -> Dissolved {
        Dissolved {
            acid: self.hydrolysed - self.deficit(),
            iron: self.dissolved - self.iron_in_coat - self.oxidised,
            manganese: Amount::ZERO - (self.coat * 5.0 - self.iron_in_coat) - self.hydrolysed * (5.0 / 6.0),
            sodium: Amount::ZERO,
        }
    }

    /// New sludge.
    #[must_use]
    pub fn sludge(&self) -> Sludge {
        Sludge {
            ferric: self.oxidised,
            manganese: self.hydrolysed / 6.0,
            other: Mass::ZERO,
        }
    }

    /// The elements in the coating.
    #[must_use]
    pub fn in_coating(&self) -> Elements {
        Elements {
            iron: self.iron_in_coat,
            manganese: self.coat * 5.0 - self.iron_in_coat,
            phosphorus: self.coat * 4.0,
        }
    }

    /// Mass of the coating.
    #[must_use]
    pub fn coating(&self) -> Mass {
        self.coat * HUREAULITE
    }

    /// Metal dissolved from the work.
    #[must_use]
    pub fn metal(&self) -> Mass {
        self.dissolved * IRON
    }

    /// Manganese in the coating.
    #[must_use]
    pub fn manganese_in_coating(&self) -> Mass {
        self.in_coating().manganese * MANGANESE
    }

    /// Hydrogen set free, at 20 °C.
    #[must_use]
    pub fn hydrogen(&self) -> Volume {
        gas_volume(self.dissolved)
    }

    /// Phosphoric acid used by the attack alone.
    #[must_use]
    pub fn acid_attacked(&self) -> Mass {
        self.dissolved * 2.0 * PHOSPHORIC_ACID
    }
}
