//! The chemistry of one bath: what is in it, what it has seen, and how it reads by titration.

use super::account::{Account, Residuals};
use super::species::{Dissolved, Elements, IRON, Sludge};
use crate::shop::{Contaminants, Recipe};
use crate::units::{Amount, Area, AreaPerVolume, Concentration, Mass, Share, Span, Strength, Volume};

/// How a bath reads.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Readings {
    /// Volume, counted cold.
    pub volume: Volume,
    /// Total acid.
    pub total_acid: Strength,
    /// Free acid.
    pub free_acid: Strength,
    /// Ferrous iron.
    pub iron: Concentration,
    /// Sludge, stirred up and settled together.
    pub sludge: Concentration,
}

/// Readings that no bath can have.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum Contradiction {
    /// Something is negative or no number.
    #[error("a bath needs a volume above zero, and no reading of it can be below zero")]
    Negative,
    /// Free acid counts twice in the total acid.
    #[error("free acid {free:.1} points needs a total acid of at least {least:.1} points, and it is {total:.1}", free = .free.in_points(), least = 2.0 * .free.in_points(), total = .total.in_points())]
    TooMuchFreeAcid {
        /// Free acid.
        free: Strength,
        /// Total acid.
        total: Strength,
    },
    /// Iron is a part of the metal that the total acid counts.
    #[error("{iron:.1} g/L iron is more than total acid leaves room for: {most:.1} g/L", iron = .iron.in_grams_per_litre(), most = .most.in_grams_per_litre())]
    TooMuchIron {
        /// Iron.
        iron: Concentration,
        /// Most that the readings leave room for.
        most: Concentration,
    },
}

/// The bath is too weak for what is asked of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum Exhausted {
    /// The free acid, with all that hydrolysis can give back, does not last.
    #[error("the free acid does not last")]
    FreeAcid,
    /// The manganese does not last.
    #[error("the manganese does not last")]
    Manganese,
    /// The iron does not last.
    #[error("the iron does not last")]
    Iron,
    /// The volume does not last.
    #[error("there is not enough of the bath")]
    Volume,
}

/// The chemistry of one bath.
///
/// Amounts are held, not concentrations, so evaporation and topping up change no amount. Total and free acid
/// follow from what is dissolved.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Chemistry {
    pub(super) volume: Volume,
    pub(super) dissolved: Dissolved,
    pub(super) metal_counts: f64,
    pub(super) suspended: Sludge,
    pub(super) settled: Sludge,
    pub(super) area: Area,
    pub(super) uses: u32,
    pub(super) hot: Span,
    pub(super) conditioned: bool,
    /// What must not be in it.
    pub contaminants: Contaminants,
    pub(super) account: Account,
}

impl Chemistry {
    /// A bath as it reads. Its sludge lies settled, of unknown make; it counts as conditioned when it holds
    /// enough iron (see [`super::IronGrade`]).
    ///
    /// # Errors
    /// When no bath can read so.
    pub fn new(recipe: &Recipe, now: &Readings) -> Result<Self, Contradiction> {
        let dissolved = dissolved(recipe, now)?;
        let mut chemistry = Self {
            volume: now.volume,
            dissolved,
            metal_counts: recipe.metal_counts,
            suspended: Sludge::default(),
            settled: Sludge {
                other: now.sludge * now.volume,
                ..Sludge::default()
            },
            area: Area::ZERO,
            uses: 0,
            hot: Span::ZERO,
            conditioned: super::IronGrade::of(now.iron).is_workable(),
            contaminants: Contaminants::default(),
            account: Account::default(),
        };
        chemistry.account = Account::open(&chemistry);
        Ok(chemistry)
    }

    /// Marks what it has seen before the start.
    #[must_use]
    pub fn with_history(mut self, area: Area, uses: u32, hot: Span) -> Self {
        (self.area, self.uses, self.hot) = (area, uses, hot);
        self
    }

    /// How it reads now.
    #[must_use]
    pub fn readings(&self) -> Readings {
        Readings {
            volume: self.volume,
            total_acid: self.total_acid(),
            free_acid: self.free_acid(),
            iron: self.iron(),
            sludge: self.sludge(),
        }
    }

    /// Volume, counted cold.
    #[must_use]
    pub fn volume(&self) -> Volume {
        self.volume
    }

    /// Total acid.
    #[must_use]
    pub fn total_acid(&self) -> Strength {
        self.dissolved.total_acid(self.metal_counts) / self.volume
    }

    /// Free acid.
    #[must_use]
    pub fn free_acid(&self) -> Strength {
        self.dissolved.free_acid() / self.volume
    }

    /// Total by free acid; infinite where no free acid is left.
    #[must_use]
    pub fn ratio(&self) -> f64 {
        self.total_acid() / self.free_acid()
    }

    /// Ferrous iron.
    #[must_use]
    pub fn iron(&self) -> Concentration {
        self.dissolved.iron * IRON / self.volume
    }

    /// Sludge, stirred up and settled together, dry.
    #[must_use]
    pub fn sludge(&self) -> Concentration {
        (self.suspended.mass() + self.settled.mass()) / self.volume
    }

    /// Sludge that is stirred up, dry.
    #[must_use]
    pub fn suspended(&self) -> Mass {
        self.suspended.mass()
    }

    /// Sludge on the bottom, dry.
    #[must_use]
    pub fn settled(&self) -> Mass {
        self.settled.mass()
    }

    /// Share of the bath's volume that its sludge takes once settled.
    #[must_use]
    pub fn sludge_volume(&self, recipe: &Recipe) -> Share {
        Share::fraction(self.sludge() / recipe.sludge_bed)
    }

    /// Surface coated since it was made up.
    #[must_use]
    pub fn area(&self) -> Area {
        self.area
    }

    /// Surface coated since it was made up, for each litre it holds now.
    #[must_use]
    pub fn area_by_volume(&self) -> AreaPerVolume {
        self.area / self.volume
    }

    /// Loads worked since it was made up.
    #[must_use]
    pub fn uses(&self) -> u32 {
        self.uses
    }

    /// Time spent hot since it was made up.
    #[must_use]
    pub fn hot(&self) -> Span {
        self.hot
    }

    /// Whether it has been aged with iron.
    #[must_use]
    pub fn is_conditioned(&self) -> bool {
        self.conditioned
    }

    /// What went in and out since the start.
    #[must_use]
    pub fn account(&self) -> &Account {
        &self.account
    }

    /// What it holds less what its account says: rounding only.
    #[must_use]
    pub fn residuals(&self) -> Residuals {
        self.account.residuals(self)
    }

    /// The elements in solution and sludge.
    #[must_use]
    pub fn elements(&self) -> Elements {
        self.dissolved.elements() + self.suspended.elements() + self.settled.elements()
    }
}

/// What must be dissolved in a bath that reads so.
fn dissolved(recipe: &Recipe, now: &Readings) -> Result<Dissolved, Contradiction> {
    let all_fine = [
        now.total_acid.in_points(),
        now.free_acid.in_points(),
        now.iron.in_grams_per_litre(),
        now.sludge.in_grams_per_litre(),
    ]
    .iter()
    .all(|x| x.is_finite() && *x >= 0.0);
    let volume = now.volume.in_litres();
    if !all_fine || !volume.is_finite() || volume <= 0.0 || recipe.metal_counts <= 0.0 {
        return Err(Contradiction::Negative);
    }
    let acid = now.free_acid * now.volume;
    let metal = (now.total_acid * now.volume - acid * 2.0) / recipe.metal_counts;
    if metal < Amount::ZERO {
        return Err(Contradiction::TooMuchFreeAcid {
            free: now.free_acid,
            total: now.total_acid,
        });
    }
    let iron = now.iron * now.volume / IRON;
    if iron > metal {
        return Err(Contradiction::TooMuchIron {
            iron: now.iron,
            most: metal * IRON / now.volume,
        });
    }
    Ok(Dissolved {
        acid,
        iron,
        manganese: metal - iron,
        sodium: Amount::ZERO,
    })
}
