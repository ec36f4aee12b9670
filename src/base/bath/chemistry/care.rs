//! What is done to a bath to keep it: topping up, replenishing, trimming, clearing, renewing.

use super::species::{
    Dissolved, Elements, HYDROGEN_PEROXIDE, IRON, MANGANESE_CARBONATE, PHOSPHORIC_ACID, SODA_ASH, Sludge,
};
use super::state::{Chemistry, Exhausted};
use crate::shop::Recipe;
use crate::units::{Amount, Area, Concentration, Mass, Share, Span, Strength, Volume};

/// What moves the free acid.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Trim {
    /// Down: MnCO3 + 2 H3PO4 -> Mn(H2PO4)2 + H2O + CO2.
    ManganeseCarbonate,
    /// Down: Na2CO3 + 2 H3PO4 -> 2 NaH2PO4 + H2O + CO2.
    SodaAsh,
    /// Up, by phosphoric acid.
    PhosphoricAcid,
}

impl Chemistry {
    /// Adds deionised or distilled water; no amount changes.
    pub fn top_up(&mut self, water: Volume) {
        let water = water.max(Volume::ZERO);
        self.volume += water;
        self.account.water_added += water;
    }

    /// Concentrate that raises the total acid to a strength, its own volume left aside:
    /// points short x volume x share by point.
    #[must_use]
    pub fn concentrate_for(&self, recipe: &Recipe, total_acid: Strength) -> Volume {
        let points = (total_acid - self.total_acid()).max(Strength::ZERO).in_points();
        self.volume * (points * recipe.concentrate_per_point.in_fraction())
    }

    /// Adds concentrate. It holds manganese primary phosphate and free acid in the recipe's ratio, no iron.
    pub fn replenish(&mut self, recipe: &Recipe, concentrate: Volume) {
        let concentrate = concentrate.max(Volume::ZERO);
        let added = concentrate_holds(recipe, concentrate);
        self.volume += concentrate;
        self.dissolved += added;
        self.account.concentrate_added += concentrate;
        self.account.added += added.elements();
    }

    /// Brings the free acid to a strength as far as the means can: carbonate and soda ash bring it down,
    /// phosphoric acid up. Says how much of the means that took, as pure substance.
    pub fn trim(&mut self, means: Trim, free_acid: Strength) -> Mass {
        let wanted = free_acid.max(Strength::ZERO) * self.volume - self.dissolved.acid;
        let down = (Amount::ZERO - wanted).max(Amount::ZERO);
        let mut change = Dissolved::default();
        let mass = match means {
            Trim::ManganeseCarbonate => {
                change.manganese = down / 2.0;
                let mass = down / 2.0 * MANGANESE_CARBONATE;
                self.account.carbonate += mass;
                mass
            }
            Trim::SodaAsh => {
                change.sodium = down;
                let mass = down / 2.0 * SODA_ASH;
                self.account.soda_ash += mass;
                mass
            }
            Trim::PhosphoricAcid => {
                change.acid = wanted.max(Amount::ZERO);
                let mass = change.acid * PHOSPHORIC_ACID;
                self.account.phosphoric_acid += mass;
                mass
            }
        };
        if means != Trim::PhosphoricAcid {
            change.acid = Amount::ZERO - down;
        }
        self.dissolved += change;
        self.account.added += change.elements();
        mass
    }

    /// Oxidises iron out with peroxide down to a concentration: 2 Fe by H2O2. Says how much peroxide, pure, that
    /// took. Heat and foam; only by the supplier's instruction.
    pub fn oxidise_out(&mut self, recipe: &Recipe, down_to: Concentration) -> Mass {
        let keep = down_to.max(Concentration::ZERO) * self.volume / IRON;
        let iron = (self.dissolved.iron - keep).max(Amount::ZERO);
        self.oxidise(recipe, iron);
        let peroxide = iron / 2.0 * HYDROGEN_PEROXIDE;
        self.account.peroxide += peroxide;
        peroxide
    }

    /// Throws bath away. `with_bottom` says what goes of the settled sludge: the half that is scooped from the
    /// bottom takes all of it.
    ///
    /// # Errors
    /// When there is not more than that; see [`Chemistry::renew`] for all of it.
    pub fn discard(&mut self, volume: Volume, with_bottom: Share) -> Result<(), Exhausted> {
        let (gone, stirred) = self.pour(volume)?;
        self.account.discarded += gone;
        self.account.sludge_discarded += stirred;
        self.account.volume_discarded += volume.max(Volume::ZERO);
        self.take_sludge(Share::ZERO, with_bottom);
        Ok(())
    }

    /// Lets it settle so long that this share of the stirred-up sludge lies on the bottom, decants, and throws the
    /// heel away.
    ///
    /// # Errors
    /// When the heel is all there is.
    pub fn settle_and_decant(&mut self, settled: Share, heel: Volume) -> Result<(), Exhausted> {
        if heel >= self.volume {
            return Err(Exhausted::Volume);
        }
        self.settle(settled.in_fraction());
        self.discard(heel, Share::fraction(1.0))
    }

    /// Filters it: so much of its sludge, stirred up and settled, stays in the filter, with so much bath.
    ///
    /// # Errors
    /// When the loss is all there is.
    pub fn filter(&mut self, kept_back: Share, loss: Volume) -> Result<(), Exhausted> {
        if loss >= self.volume {
            return Err(Exhausted::Volume);
        }
        self.take_sludge(kept_back, kept_back);
        self.discard(loss, Share::ZERO)
    }

    /// Decants it from its settled sludge and filters the heel, a share of its volume: all that had settled and what
    /// was stirred up in the heel stays in the filter, with so much bath.
    ///
    /// # Errors
    /// When the loss is all there is.
    pub fn filter_heel(&mut self, heel: Share, loss: Volume) -> Result<(), Exhausted> {
        if loss >= self.volume {
            return Err(Exhausted::Volume);
        }
        self.take_sludge(heel, Share::fraction(1.0));
        self.discard(loss, Share::ZERO)
    }

    /// Concentrate that brings it to a strength when it is then filled to a volume with water.
    #[must_use]
    pub fn concentrate_to(&self, recipe: &Recipe, total_acid: Strength, full: Volume) -> Volume {
        let short = (total_acid * full - self.total_acid() * self.volume).max(Amount::ZERO);
        let per_litre = Amount::point_litres(1.0 / recipe.concentrate_per_point.in_fraction());
        Volume::litres(short / per_litre)
    }

    /// Stirs up a share of what lies on the bottom.
    pub fn stir_up(&mut self, share: Share) {
        let up = self.settled * share.in_fraction().clamp(0.0, 1.0);
        self.settled -= up;
        self.suspended += up;
    }

    /// Throws all of it away and makes it up anew from water and concentrate; its history starts again, its
    /// account goes on.
    pub fn renew(&mut self, recipe: &Recipe, volume: Volume) {
        self.account.discarded += self.elements();
        self.account.sludge_discarded += self.suspended() + self.settled();
        self.account.volume_discarded += self.volume;
        self.volume = Volume::ZERO;
        (self.dissolved, self.suspended, self.settled) =
            (Dissolved::default(), Sludge::default(), Sludge::default());
        let concentrate = super::fresh::concentrate(recipe, volume);
        self.replenish(recipe, concentrate);
        self.top_up(volume - concentrate);
        (self.area, self.uses, self.hot) = (Area::ZERO, 0, Span::ZERO);
        self.conditioned = false;
        self.contaminants = super::Contaminants::default();
    }

    fn take_sludge(&mut self, stirred: Share, settled: Share) {
        let up = self.suspended * stirred.in_fraction().clamp(0.0, 1.0);
        let down = self.settled * settled.in_fraction().clamp(0.0, 1.0);
        self.suspended -= up;
        self.settled -= down;
        let gone: Elements = up.elements() + down.elements();
        self.account.discarded += gone;
        self.account.sludge_discarded += up.mass() + down.mass();
    }
}

/// What a volume of concentrate holds.
pub(super) fn concentrate_holds(recipe: &Recipe, concentrate: Volume) -> Dissolved {
    let point_litres = concentrate.in_litres() / recipe.concentrate_per_point.in_fraction();
    let total = Amount::point_litres(point_litres);
    let acid = total / recipe.concentrate_ratio.max(2.0);
    Dissolved {
        acid,
        manganese: (total - acid * 2.0) / recipe.metal_counts,
        ..Dissolved::default()
    }
}
