//! What happened to a load that inspection may find.
//!
//! # Known and left
//!
//! - A load fails oftener by what the line knows of it. What it cannot know a part says: `greasy`, `pickled`, `holes
//!   down`, `crevices`. Pickling on the route is not taken for `pickled`.

use super::engine::Engine;
use tankday_base::shop::Mishap;
use tankday_base::units::Share;
use tankday_record::Event;

impl Engine<'_> {
    /// A load has gone into a bath: what it meets there. All that happened before is forgotten, but for what its parts
    /// bring with them.
    pub(super) fn meets_bath(&mut self, tank: u32, load: u32) {
        if self.plan.inspects {
            let l = &mut self.loads[load];
            l.mishaps = self.baths.meets(tank, &l.cargo, l.brings);
        }
    }

    /// A load has left a bath.
    pub(super) fn left_bath(&mut self, tank: u32, load: u32) {
        if self.plan.inspects {
            let l = &mut self.loads[load];
            let stayed = self.day.now() - l.begun;
            self.baths
                .judge_stay(tank, &l.cargo, stayed, l.planned, &mut l.mishaps);
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
