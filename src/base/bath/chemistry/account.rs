//! What went into a bath's chemistry and what left it, summed from its start.

use super::species::Elements;
use super::state::Chemistry;
use crate::units::{Amount, Mass, Volume};

/// Sums since the start.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Account {
    /// Elements at the start, in solution and sludge.
    pub at_start: Elements,
    /// Iron dissolved from work.
    pub from_work: Amount,
    /// Iron dissolved from steel wool and scrap.
    pub from_wool: Amount,
    /// Elements in concentrate and chemicals added.
    pub added: Elements,
    /// Elements in coatings.
    pub coated: Elements,
    /// Elements dragged out on work.
    pub dragged_out: Elements,
    /// Elements in bath and sludge thrown away.
    pub discarded: Elements,
    /// Volume at the start.
    pub volume_at_start: Volume,
    /// Water added.
    pub water_added: Volume,
    /// Volume of concentrate and chemicals added.
    pub concentrate_added: Volume,
    /// Water evaporated.
    pub evaporated: Volume,
    /// Bath dragged out on work.
    pub volume_dragged_out: Volume,
    /// Bath thrown away or lost in care.
    pub volume_discarded: Volume,
    /// Hydrogen set free, at 20 °C.
    pub hydrogen: Volume,
    /// Coating formed.
    pub coating: Mass,
    /// Sludge formed, dry.
    pub sludge: Mass,
    /// Sludge thrown away, dry.
    pub sludge_discarded: Mass,
    /// Manganese carbonate added.
    pub carbonate: Mass,
    /// Soda ash added.
    pub soda_ash: Mass,
    /// Phosphoric acid added, as H3PO4.
    pub phosphoric_acid: Mass,
    /// Peroxide used, as H2O2.
    pub peroxide: Mass,
}

/// What a bath holds less what its account says.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Residuals {
    /// Iron, manganese, phosphorus.
    pub elements: Elements,
    /// Water, counted as volume.
    pub volume: Volume,
}

impl Residuals {
    /// The largest of them, each as a share of all that ever went in.
    #[must_use]
    pub fn largest(&self, account: &Account) -> f64 {
        let went_in = account.went_in();
        let share = |x: Amount, of: Amount| (x.in_moles() / of.in_moles().max(f64::MIN_POSITIVE)).abs();
        let litres = self.volume
            / account
                .volume_went_in()
                .max(Volume::cubic_metres(f64::MIN_POSITIVE));
        share(self.elements.iron, went_in.iron)
            .max(share(self.elements.manganese, went_in.manganese))
            .max(share(self.elements.phosphorus, went_in.phosphorus))
            .max(litres.abs())
    }
}

impl Account {
    /// A new account of a bath as it is.
    pub(super) fn open(bath: &Chemistry) -> Self {
        Self {
            at_start: bath.elements(),
            volume_at_start: bath.volume(),
            ..Self::default()
        }
    }

    /// All the elements that ever went in.
    #[must_use]
    pub fn went_in(&self) -> Elements {
        let metal = Elements {
            iron: self.from_work + self.from_wool,
            ..Elements::default()
        };
        self.at_start + self.added + metal
    }

    /// All the volume that ever went in.
    #[must_use]
    pub fn volume_went_in(&self) -> Volume {
        self.volume_at_start + self.water_added + self.concentrate_added
    }

    pub(super) fn residuals(&self, bath: &Chemistry) -> Residuals {
        let left = self.went_in() - self.coated - self.dragged_out - self.discarded;
        let volume =
            self.volume_went_in() - self.evaporated - self.volume_dragged_out - self.volume_discarded;
        Residuals {
            elements: bath.elements() - left,
            volume: bath.volume() - volume,
        }
    }
}
