//! When care of a bath is due.

use super::Baths;
use crate::day::{Day, Event};
use crate::ids::TankIx;
use crate::kernel::ENDS;
use tankday_base::shop::{BathId, Care, Chore, Reads, Shop, Trigger};
use tankday_base::units::{Area, Span};

const DAY: Span = Span::whole_minutes(24 * 60);

/// How a rule of care stands at one tank.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Track {
    /// Loads since it was last done.
    pub(super) loads: u32,
    /// Surface coated since.
    pub(super) area: Area,
    /// Called for by the clock, a break, closing or the last load.
    pub(super) called: bool,
    /// Done since the last load: readings do not call for it again, so that no two chores chase each other.
    pub(super) stale: bool,
}

impl Baths<'_> {
    /// The first rule of care that is due at a tank and has something to do. Rules stand in the order in which they are
    /// done.
    pub(super) fn care_due(&self, tank: TankIx) -> Option<usize> {
        self.first_due(tank, |_| true)
    }

    fn first_due(&self, tank: TankIx, may: impl Fn(usize) -> bool) -> Option<usize> {
        let t = &self.tanks[tank];
        let foul = t.chemistry.as_ref()?.contaminants.any();
        let due = |rule: &usize| {
            let feeds = foul && feeds(&self.plan.rules.care[*rule].chore);
            self.is_called(tank, *rule) && !feeds && self.has_work(tank, *rule)
        };
        let rules = 0..self.plan.rules.care.len();
        rules
            .filter(due)
            .rfind(|rule| self.can_exchange(tank, *rule) && may(*rule))
    }

    /// The first rule of care that is due at a tank and worth it now: one that waits for work to come keeps none back that the
    /// clock calls for.
    pub(super) fn care_due_now(&self, day: &Day<'_>, tank: TankIx) -> Option<usize> {
        self.first_due(tank, |rule| self.worth_it(day, tank, rule))
    }

    /// Whether a bath takes no load any more: outside its limits, with no care under way, due, or still to come that could
    /// mend it. Care that goes by loads or readings comes no nearer while nothing goes in.
    pub(crate) fn takes_none_any_more(&self, tank: TankIx) -> bool {
        let comes = |rule: &tankday_base::shop::Care| {
            let mut when = rule.when.iter();
            when.any(|w| w.by_the_clock() || *w == Trigger::AfterLast)
        };
        !self.is_fit_to_coat(tank)
            && self.tanks[tank].care.is_none()
            && self.care_due(tank).is_none()
            && !self.plan.rules.care.iter().any(comes)
    }

    /// Whether a rule is called for at a tank.
    fn is_called(&self, tank: TankIx, rule: usize) -> bool {
        let track = &self.tanks[tank].tracks[rule];
        let when = &self.plan.rules.care[rule].when;
        track.called || when.iter().any(|w| self.calls(tank, *w, track))
    }

    /// What was called for and has nothing to do is over, without a stroke: it is called for anew.
    pub(super) fn drop_needless(&mut self, tank: TankIx) {
        for rule in 0..self.plan.rules.care.len() {
            if self.is_called(tank, rule) && !self.has_work(tank, rule) {
                let track = &mut self.tanks[tank].tracks[rule];
                *track = Track {
                    stale: track.stale,
                    ..Track::default()
                };
            }
        }
    }

    /// A rule's chore at a tank: a vessel serves only the tanks that hold its bath.
    pub(super) fn chore(&self, tank: TankIx, rule: usize) -> Chore {
        chore_of(&self.plan.rules.care[rule], self.shop, self.tanks[tank].bath)
    }

    fn calls(&self, tank: TankIx, when: Trigger, track: &Track) -> bool {
        match when {
            Trigger::Loads(n) => track.loads >= n,
            Trigger::Coated(area) => track.area >= area,
            Trigger::Reads(reads) => !track.stale && self.reads(tank, reads),
            Trigger::Clock(_) | Trigger::AtBreak | Trigger::AfterLast | Trigger::Overnight => false,
        }
    }

    fn reads(&self, tank: TankIx, reads: Reads) -> bool {
        let t = &self.tanks[tank];
        let Some(bath) = &t.chemistry else { return false };
        let filled = self.filled(tank);
        match reads {
            Reads::StrengthBelow(mark) => bath.total_acid() * filled < mark,
            Reads::RatioBelow(mark) => bath.ratio() < mark,
            Reads::RatioAbove(mark) => bath.ratio() > mark,
            Reads::IronBelow(mark) => bath.iron() * filled < mark,
            Reads::IronAbove(mark) => bath.iron() * filled > mark,
            Reads::Contaminated => bath.contaminants.any(),
            Reads::SludgeAbove(mark) => bath.sludge_volume(&self.recipe(tank).chemistry) * filled > mark,
        }
    }

    /// Marks every rule with one of these triggers as called for at a tank: by the clock on every day, else where loads
    /// came since it was last done.
    pub(super) fn call_care(&mut self, tank: TankIx, which: impl Fn(Trigger) -> bool) {
        let rules = self.plan.rules.care.iter();
        for (rule, track) in rules.zip(&mut self.tanks[tank].tracks) {
            let calls = |w: &Trigger| which(*w) && (track.loads > 0 || w.by_the_clock());
            if rule.when.iter().any(calls) {
                track.called = true;
            }
        }
    }

    /// Puts the care that the clock calls for today on the calendar: from closing on nobody is there to hear it.
    pub(super) fn expect_clock_care(&mut self, day: &mut Day<'_>) {
        let (today, closes) = (super::tank::midnight(day.now()), day.closes());
        for rule in &self.plan.rules.care {
            for when in &rule.when {
                if let Trigger::Clock(time) = when
                    && today + *time >= day.now()
                    && today + *time < closes
                {
                    day.schedule(today + *time, ENDS, Event::CareClock);
                }
            }
        }
    }

    /// A clock time of some rule has come. A shop that stays open sees it again tomorrow, as long as there is work.
    pub(crate) fn care_clock(&mut self, day: &mut Day<'_>, work_to_come: bool) {
        let (_, time) = day.now().day_and_time();
        for tank in self.tanks.ids() {
            self.call_care(tank, |w| w == Trigger::Clock(time));
            self.mark_tank(day, tank);
        }
        if work_to_come && day.on_duty() && day.now() + DAY < day.closes() {
            day.schedule(day.now() + DAY, ENDS, Event::CareClock);
        }
    }
}

/// A rule's chore for tanks of a filling.
pub(crate) fn chore_of(rule: &Care, shop: &Shop, bath: BathId) -> Chore {
    let mut chore = rule.chore;
    if let Chore::Stop(stop) = &mut chore {
        stop.into = stop.into.filter(|v| shop.vessels[v.index()].bath == bath);
    }
    chore
}

/// Whether a chore puts something into a bath that is kept: wasted on one that must be thrown away.
fn feeds(chore: &Chore) -> bool {
    matches!(
        chore,
        Chore::Replenish { .. } | Chore::Trim { .. } | Chore::Condition { .. }
    )
}
