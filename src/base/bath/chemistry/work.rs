//! What working does to a bath's chemistry: loads, drag-out, hot and idle hours, conditioning.

use super::balance::Turnover;
use super::species::{Dissolved, Elements, Sludge};
use super::state::{Chemistry, Exhausted};
use crate::shop::Recipe;
use crate::units::{Amount, Area, CoatWeight, Mass, Span, Volume};

impl Chemistry {
    /// Coats a surface and books one use. The free acid does not fall below nothing: hydrolysis then gives back
    /// what is short. Iron that the coating wants and neither work nor bath has stays out of the coating.
    ///
    /// # Errors
    /// When the manganese does not last; the bath is then as before.
    pub fn coat(&mut self, recipe: &Recipe, weight: CoatWeight, area: Area) -> Result<Turnover, Exhausted> {
        let made = self.settle_shortage(Turnover::of(recipe, weight, area))?;
        self.react(recipe, &made);
        self.account.from_work += made.dissolved;
        self.area += area.max(Area::ZERO);
        self.uses = self.uses.saturating_add(1);
        Ok(made)
    }

    /// Metal that goes on dissolving under finished coatings when work stays on after [`Recipe::finished_after`].
    ///
    /// # Errors
    /// When the free acid does not last.
    pub fn overstay(&mut self, recipe: &Recipe, stay: Span, area: Area) -> Result<Turnover, Exhausted> {
        let over = (stay - recipe.finished_after).max(Span::ZERO);
        let metal = (recipe.residual_attack * over) * area;
        let made = self.settle_shortage(Turnover::of_metal(recipe, metal))?;
        self.react(recipe, &made);
        self.account.from_work += made.dissolved;
        Ok(made)
    }

    /// Dissolves steel wool or scrap in it.
    ///
    /// # Errors
    /// When the free acid does not last.
    pub fn condition(&mut self, recipe: &Recipe, metal: Mass) -> Result<Turnover, Exhausted> {
        let made = self.settle_shortage(Turnover::of_metal(recipe, metal))?;
        self.react(recipe, &made);
        self.account.from_wool += made.dissolved;
        self.conditioned = true;
        Ok(made)
    }

    /// Takes bath away on work; concentrations stay as they are, and stirred-up sludge goes with it.
    ///
    /// # Errors
    /// When there is not so much.
    pub fn drag_out(&mut self, volume: Volume) -> Result<(), Exhausted> {
        let (gone, sludge) = self.pour(volume)?;
        self.account.dragged_out += gone;
        self.account.sludge_discarded += sludge;
        self.account.volume_dragged_out += volume;
        Ok(())
    }

    /// A time hot, in which so much water evaporated. Convection keeps the sludge as it is.
    ///
    /// # Errors
    /// When there is not so much water.
    pub fn hot_for(&mut self, recipe: &Recipe, time: Span, evaporated: Volume) -> Result<(), Exhausted> {
        self.evaporate(evaporated)?;
        self.hot += time;
        self.oxidise_share(recipe, recipe.oxidised_by_hour().0, time);
        Ok(())
    }

    /// A time idle and cold: the stirred-up sludge settles, iron oxidises slowly.
    pub fn idle_for(&mut self, recipe: &Recipe, time: Span) {
        self.oxidise_share(recipe, recipe.oxidised_by_hour().1, time);
        let halves = time.in_hours() / recipe.settling_half.in_hours();
        self.settle(-libm::expm1(-core::f64::consts::LN_2 * halves.max(0.0)));
    }

    /// Water evaporates; no amount changes.
    ///
    /// # Errors
    /// When there is not so much.
    pub fn evaporate(&mut self, water: Volume) -> Result<(), Exhausted> {
        let water = water.max(Volume::ZERO);
        if water >= self.volume {
            return Err(Exhausted::Volume);
        }
        self.volume -= water;
        self.account.evaporated += water;
        Ok(())
    }

    /// A share of the stirred-up sludge goes to the bottom.
    pub(super) fn settle(&mut self, share: f64) {
        let down = self.suspended * share.clamp(0.0, 1.0);
        self.suspended -= down;
        self.settled += down;
    }

    /// Bath of its mean make, without what lies on the bottom. Says what elements and how much dry sludge it held.
    pub(super) fn pour(&mut self, volume: Volume) -> Result<(Elements, Mass), Exhausted> {
        let volume = volume.max(Volume::ZERO);
        if volume >= self.volume {
            return Err(Exhausted::Volume);
        }
        let share = volume / self.volume;
        let (gone, stirred) = (self.dissolved * share, self.suspended * share);
        self.volume -= volume;
        self.dissolved -= gone;
        self.suspended -= stirred;
        Ok((gone.elements() + stirred.elements(), stirred.mass()))
    }

    /// Ferrous iron goes over into yellow sludge and sets its acid free.
    pub(super) fn oxidise(&mut self, recipe: &Recipe, iron: Amount) {
        let iron = iron.max(Amount::ZERO).min(self.dissolved.iron);
        self.dissolved.iron -= iron;
        self.dissolved.acid += iron;
        self.fall_out(
            recipe,
            Sludge {
                ferric: iron,
                ..Sludge::default()
            },
        );
    }

    fn oxidise_share(&mut self, recipe: &Recipe, by_hour: f64, time: Span) {
        if by_hour > 0.0 {
            let kept = libm::pow((1.0 - by_hour).max(0.0), time.in_hours().max(0.0));
            self.oxidise(recipe, self.dissolved.iron * (1.0 - kept));
        }
    }

    fn fall_out(&mut self, recipe: &Recipe, sludge: Sludge) {
        let stirred = sludge * recipe.suspended.in_fraction().clamp(0.0, 1.0);
        self.suspended += stirred;
        self.settled += sludge - stirred;
        self.account.sludge += sludge.mass();
    }

    fn react(&mut self, recipe: &Recipe, made: &Turnover) {
        self.dissolved += made.change();
        self.fall_out(recipe, made.sludge());
        self.account.coated += made.in_coating();
        self.account.coating += made.coating();
        self.account.hydrogen += made.hydrogen();
    }

    /// A turnover that the bath can afford, or why it cannot.
    fn settle_shortage(&self, mut made: Turnover) -> Result<Turnover, Exhausted> {
        let short_iron = Amount::ZERO - (self.dissolved.iron + made.change().iron);
        if short_iron > Amount::ZERO {
            made.iron_in_coat = (made.iron_in_coat - short_iron).max(Amount::ZERO);
        }
        let short_acid = Amount::ZERO - (self.dissolved.acid + made.change().acid);
        if short_acid > Amount::ZERO {
            made.hydrolysed += short_acid;
        }
        let Dissolved { iron, manganese, .. } = self.dissolved + made.change();
        match () {
            () if manganese < Amount::ZERO && short_acid > Amount::ZERO => Err(Exhausted::FreeAcid),
            () if manganese < Amount::ZERO => Err(Exhausted::Manganese),
            // Rounding of the correction above leaves at most this.
            () if iron.in_moles() < -1e-12 => Err(Exhausted::Iron),
            () => Ok(made),
        }
    }
}
