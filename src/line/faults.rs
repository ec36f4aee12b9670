//! What happened to a load that inspection may find.
//!
//! # Known and left
//!
//! - A load fails oftener by what the line knows of it. What it cannot know a part says: `greasy`, `pickled`, `holes
//!   down`, `crevices`. Pickling on the route is not taken for `pickled`.

use super::engine::Engine;
use tankday_base::bath::chemistry::NO_GROWTH_BEYOND;
use tankday_base::shop::{CoatRule, HeaterKind, Mishap, Room};
use tankday_base::units::{Concentration, Quantity, Share};
use tankday_record::Event;

impl Engine<'_> {
    /// Iron and, as a share of the volume, sludge of the bath in a tank.
    fn readings(&self, tank: u32) -> (Concentration, Share) {
        let t = &self.tanks[tank as usize];
        let recipe = &self.shop.baths[t.bath.index()];
        if let Some(chemistry) = &t.chemistry {
            return (chemistry.iron(), chemistry.sludge_volume(&recipe.chemistry));
        }
        let sludge = Share::fraction(recipe.now.sludge / recipe.chemistry.sludge_bed);
        (recipe.now.iron, sludge)
    }

    /// A load has gone into a bath: what it meets there. All that happened before is forgotten, but for
    /// what its parts bring with them.
    pub(super) fn meets_bath(&mut self, tank: u32, load: u32) {
        if !self.plan.inspects {
            return;
        }
        let t = &self.tanks[tank as usize];
        let recipe = &self.shop.baths[t.bath.index()];
        let (iron, sludge) = self.readings(tank);
        let heater = self.shop.stations[t.station.index()]
            .tank
            .map(|tank| tank.heater.kind);
        let mut met = self.loads[load].brings;
        let mut if_so = |so: bool, mishap| {
            if so {
                met.add(mishap);
            }
        };
        let area_by_volume = self.loads[load].bulk[0] / self.full(tank).base();
        if_so(area_by_volume > Room::MUCH.area.base(), Mishap::Overloaded);
        if_so(
            heater.is_some_and(|k| k != HeaterKind::Immersion),
            Mishap::Underfired,
        );
        if_so(iron < recipe.limits.iron.warn_below, Mishap::WithoutIron);
        if_so(iron > recipe.limits.iron.warn_above, Mishap::MuchIron);
        if_so(sludge > recipe.limits.sludge.warn_above, Mishap::Sludge);
        self.loads[load].mishaps = met;
    }

    /// A load has left a bath: how hot that is now, and whether it stayed as long as it should. One that was to stay
    /// for the longest dwell did not reach its weight.
    pub(super) fn left_bath(&mut self, tank: u32, load: u32) {
        if !self.plan.inspects {
            return;
        }
        let t = &self.tanks[tank as usize];
        let recipe = &self.shop.baths[t.bath.index()];
        let now = t.heat.temperature();
        let cold = self.surfaces(load).any(|(on, _)| now <= on.from.limit());
        let hot = now > recipe.band.most;
        let to_weight = matches!(recipe.coat, CoatRule::Target(_));
        let most = recipe.most;
        let stayed = self.day.now() - self.loads[load].begun;
        let l = &mut self.loads[load];
        if cold {
            l.mishaps.add(Mishap::TooCold);
        }
        if hot {
            l.mishaps.add(Mishap::TooHot);
        }
        if to_weight && l.planned >= most {
            l.mishaps.add(Mishap::TooShort);
        }
        if stayed > most || stayed > NO_GROWTH_BEYOND {
            l.mishaps.add(Mishap::TooLong);
        }
    }

    /// A wet load waited longer than it should.
    pub(super) fn waited(&mut self, load: u32, step: u32) {
        let route = &self.plan.routes[self.loads[load].route as usize];
        let here = &route.steps[step as usize];
        let coated = self.loads[load].done & route.coats;
        if route.coats & (1 << step) != 0 {
            return;
        }
        if coated & here.after != 0 {
            self.loads[load].mishaps.add(Mishap::DriedOn);
        } else if coated & here.before != 0 {
            self.loads[load].mishaps.add(Mishap::Waited);
        }
    }

    /// Whether inspection fails a load, and what it finds.
    pub(super) fn fails_inspection(&mut self, load: u32) -> bool {
        let Some(retry) = self.step_of(load).retry else {
            return false;
        };
        let Some(odds) = retry.odds else {
            return self.fails(load, retry.share);
        };
        let happened = self.loads[load].mishaps;
        let chance = odds.chance(Share::fraction(retry.share), happened);
        if !self.fails(load, chance.in_fraction()) {
            return false;
        }
        let (no, step) = (self.loads[load].no, self.step_ref(load));
        self.day.note(|| Event::Found {
            load: no,
            step,
            defect: odds.defect(happened),
            chance,
        });
        true
    }
}
