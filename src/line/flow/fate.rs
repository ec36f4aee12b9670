//! What happens to a load by luck and on its way: what it carries along, what inspection finds.

use super::Flow;
use crate::cargo::Wet;
use crate::day::Day;
use crate::ids::{LoadIx, bit};
use tankday_base::random::Spread;
use tankday_base::shop::{Mishap, StepIx};
use tankday_base::units::{Quantity, Share, Span, Strength, Volume};
use tankday_record::LogEntry;

impl Flow<'_> {
    /// How long a load takes for its present step, by luck.
    pub(crate) fn time(&self, load: LoadIx, spread: &Spread) -> Span {
        let l = &self.loads[load];
        self.chance
            .time(spread, l.route, l.step, l.fate.luck, l.fate.tries)
    }

    /// Liquid that leaves the bath with a load at its present step, by the surfaces of its pieces, how they drain and
    /// how long they drip.
    pub(crate) fn drag_out(&self, load: LoadIx) -> Volume {
        Volume::from_base(self.loads[load].cargo.drags * self.step_of(load).drips)
    }

    /// A load has left a bath: it drips, and carries the rest along.
    pub(crate) fn wetted(&mut self, load: LoadIx, bath: Strength) {
        let volume = self.drag_out(load);
        self.loads[load].fate.wet = Wet {
            volume,
            strength: bath,
            bath,
        };
    }

    /// A wet load waited longer than it should.
    pub(crate) fn waited(&mut self, load: LoadIx, step: StepIx) {
        let route = &self.plan.routes[self.loads[load].route];
        let here = &route.steps[step];
        let coated = self.loads[load].done & route.coats;
        if route.coats & bit(step) != 0 {
            return;
        }
        if coated & here.after != 0 {
            self.loads[load].fate.mishaps.add(Mishap::DriedOn);
        } else if coated & here.before != 0 {
            self.loads[load].fate.mishaps.add(Mishap::Waited);
        }
    }

    /// Whether inspection fails a load, and what it finds.
    pub(crate) fn fails_inspection(&mut self, day: &mut Day<'_>, load: LoadIx) -> bool {
        let Some(retry) = self.step_of(load).retry else {
            return false;
        };
        let Some(odds) = retry.odds else {
            return self.fails(load, retry.share);
        };
        let happened = self.loads[load].fate.mishaps;
        let chance = odds.chance(Share::fraction(retry.share), happened);
        if !self.fails(load, chance.in_fraction()) {
            return false;
        }
        let (no, step) = (self.loads[load].no, self.step_ref(load));
        day.note(|| LogEntry::Found {
            load: no,
            step,
            defect: odds.defect(happened),
            chance,
        });
        true
    }

    fn fails(&mut self, load: LoadIx, share: f64) -> bool {
        let l = &mut self.loads[load];
        let tries = l.fate.tries;
        let failed = self.chance.fails(share, l.route, l.step, l.fate.luck, tries);
        if failed {
            l.fate.tries += 1;
        }
        failed
    }
}
