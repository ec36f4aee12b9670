//! What a load meets in a bath that may spoil its coating.

use super::Baths;
use crate::cargo::Cargo;
use crate::ids::TankIx;
use tankday_base::bath::chemistry::NO_GROWTH_BEYOND;
use tankday_base::shop::{CoatRule, HeaterKind, Mishap, Mishaps, Room};
use tankday_base::units::{Concentration, Quantity, Share, Span};

impl Baths<'_> {
    /// Iron and, as a share of the volume, sludge of the bath in a tank.
    pub(super) fn readings(&self, tank: TankIx) -> (Concentration, Share) {
        let t = &self.tanks[tank];
        let recipe = &self.shop.baths[t.bath.index()];
        if let Some(chemistry) = &t.chemistry {
            return (chemistry.iron(), chemistry.sludge_volume(&recipe.chemistry));
        }
        let sludge = Share::fraction(recipe.now.sludge / recipe.chemistry.sludge_bed);
        (recipe.now.iron, sludge)
    }

    /// What a load meets that has gone in, on top of what its parts bring.
    pub(crate) fn meets(&self, tank: TankIx, cargo: &Cargo, brings: Mishaps) -> Mishaps {
        let t = &self.tanks[tank];
        let recipe = &self.shop.baths[t.bath.index()];
        let (iron, sludge) = self.readings(tank);
        let heater = self.shop.stations[t.station.index()]
            .tank
            .map(|tank| tank.heater.kind);
        let mut met = brings;
        let mut if_so = |so: bool, mishap| {
            if so {
                met.add(mishap);
            }
        };
        let area_by_volume = cargo.bulk[0] / self.full(tank).base();
        if_so(area_by_volume > Room::MUCH.area.base(), Mishap::Overloaded);
        if_so(
            heater.is_some_and(|k| k != HeaterKind::Immersion),
            Mishap::Underfired,
        );
        if_so(iron < recipe.limits.iron.warn_below, Mishap::WithoutIron);
        if_so(iron > recipe.limits.iron.warn_above, Mishap::MuchIron);
        if_so(sludge > recipe.limits.sludge.warn_above, Mishap::Sludge);
        met
    }

    /// A load has left: how hot the bath is now, and whether the load stayed as long as it should. One that was to stay for
    /// the longest dwell did not reach its weight.
    pub(crate) fn judge_stay(
        &self,
        tank: TankIx,
        cargo: &Cargo,
        stayed: Span,
        planned: Span,
        mishaps: &mut Mishaps,
    ) {
        let recipe = self.recipe(tank);
        let now = self.tanks[tank].heat.temperature();
        if cargo.surfaces().any(|(on, _)| now <= on.from.limit()) {
            mishaps.add(Mishap::TooCold);
        }
        if now > recipe.band.most {
            mishaps.add(Mishap::TooHot);
        }
        if matches!(recipe.coat, CoatRule::Target(_)) && planned >= recipe.most {
            mishaps.add(Mishap::TooShort);
        }
        if stayed > recipe.most || stayed > NO_GROWTH_BEYOND {
            mishaps.add(Mishap::TooLong);
        }
    }
}
