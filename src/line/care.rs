//! Care of the baths: when it is due, and its stages one after the other.
//!
//! A chore is a list of [`Stage`]s. Some take hands, some only time, some wait for a temperature. No load goes into
//! the bath from the first to the last of them.
//!
//! # Known and left
//!
//! - Readings, limits and triggers of care are taken as they are once the water is made good (`Engine::filled`); the
//!   record holds them raw.
//! - Care never overlaps at one tank, and the filter is one for the shop. The bath keeps the temperature of its tank
//!   while it lies in vessels; what a storage vessel keeps has the temperature of the room. Only `filter` goes `into`
//!   a vessel, and a vessel serves tanks of one filling.
//! - Care by the clock (`at 16:00`, `at the break`, `overnight`) comes on every open day, work or not, unless it has
//!   nothing to do.
//! - Care that loads or surface call for begins when work is to come on that day: a stop that the last load of a day
//!   calls for is made the next morning, when the bath has settled all night.

use super::engine::{Due, Engine};
use super::stages::{Stage, kind, stage};
use super::state::NONE;
use super::tank::at_least;
use crate::kernel::ENDS;
use tankday_base::bath::Heater;
use tankday_base::shop::{BathId, Care, Chore, Reads, Shop, Trigger};
use tankday_base::units::{Area, Moment, Span, Temperature};
use tankday_record::{CareUse, Event};

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

/// Care under way.
#[derive(Debug, Clone, Copy)]
pub(super) struct Job {
    /// Which rule.
    pub(super) rule: usize,
    pub(super) stage: u8,
    /// The present stage goes on until then; never, while it waits for a temperature or for hands.
    pub(super) until: Moment,
    /// When it began.
    pub(super) began: Moment,
    /// The hands at work on it.
    pub(super) hand: u32,
    /// When the present stage began.
    pub(super) since: Moment,
    pub(super) used: CareUse,
}

impl Engine<'_> {
    /// The first rule of care that is due at a tank and has something to do. Rules stand in the order in which they are
    /// done.
    pub(super) fn care_due(&self, tank: u32) -> Option<usize> {
        let t = &self.tanks[tank as usize];
        let foul = t.chemistry.as_ref()?.contaminants.any();
        let due = |rule: &usize| {
            let feeds = foul && feeds(&self.plan.rules.care[*rule].chore);
            self.is_called(tank, *rule) && !feeds && self.has_work(tank, *rule)
        };
        let rules = 0..self.plan.rules.care.len();
        rules.filter(due).rfind(|rule| self.can_exchange(tank, *rule))
    }

    /// Whether a rule is called for at a tank.
    fn is_called(&self, tank: u32, rule: usize) -> bool {
        let track = &self.tanks[tank as usize].tracks[rule];
        let when = &self.plan.rules.care[rule].when;
        track.called || when.iter().any(|w| self.calls(tank, *w, track))
    }

    /// What was called for and has nothing to do is over, without a stroke: it is called for anew.
    fn drop_needless(&mut self, tank: u32) {
        for rule in 0..self.plan.rules.care.len() {
            if self.is_called(tank, rule) && !self.has_work(tank, rule) {
                let track = &mut self.tanks[tank as usize].tracks[rule];
                *track = Track {
                    stale: track.stale,
                    ..Track::default()
                };
            }
        }
    }

    /// A rule's chore at a tank: a vessel serves only the tanks that hold its bath.
    pub(super) fn chore(&self, tank: u32, rule: usize) -> Chore {
        chore_of(
            &self.plan.rules.care[rule],
            self.shop,
            self.tanks[tank as usize].bath,
        )
    }

    fn calls(&self, tank: u32, when: Trigger, track: &Track) -> bool {
        match when {
            Trigger::Loads(n) => track.loads >= n,
            Trigger::Coated(area) => track.area >= area,
            Trigger::Reads(reads) => !track.stale && self.reads(tank, reads),
            Trigger::Clock(_) | Trigger::AtBreak | Trigger::AfterLast | Trigger::Overnight => false,
        }
    }

    fn reads(&self, tank: u32, reads: Reads) -> bool {
        let t = &self.tanks[tank as usize];
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
    pub(super) fn call_care(&mut self, tank: u32, which: impl Fn(Trigger) -> bool) {
        let rules = self.plan.rules.care.iter();
        for (rule, track) in rules.zip(&mut self.tanks[tank as usize].tracks) {
            let calls = |w: &Trigger| which(*w) && (track.loads > 0 || w.by_the_clock());
            if rule.when.iter().any(calls) {
                track.called = true;
            }
        }
    }

    /// A load was lifted: marks the rules whose care the plan brings forward to here as called for.
    pub(super) fn call_planned(&mut self, tank: u32, load: u32) {
        let Some(follow) = self.follow.as_ref().filter(|f| !f.plan.calls.is_empty()) else {
            return;
        };
        let (plan, lot) = (follow.plan, self.loads[load].lot);
        if lot == NONE {
            return;
        }
        let head = plan.head[lot as usize];
        let station = self.tanks[tank as usize].station;
        for (at, what, after) in &plan.calls {
            if *at != station || plan.head[*after as usize] != head {
                continue;
            }
            for rule in 0..self.plan.rules.care.len() {
                if kind(&self.chore(tank, rule)) == *what {
                    self.tanks[tank as usize].tracks[rule].called = true;
                }
            }
        }
    }

    /// Puts the care that the clock calls for today on the calendar: from closing on nobody is there to hear it.
    pub(super) fn expect_clock_care(&mut self) {
        let (today, closes) = (super::tank::midnight(self.day.now()), self.day.closes());
        for rule in &self.plan.rules.care {
            for when in &rule.when {
                if let Trigger::Clock(time) = when
                    && today + *time >= self.day.now()
                    && today + *time < closes
                {
                    self.day.schedule(today + *time, ENDS, Due::CareClock);
                }
            }
        }
    }

    /// A clock time of some rule has come. A shop that stays open sees it again tomorrow, as long as there is work.
    pub(super) fn care_clock(&mut self) {
        let (_, time) = self.day.now().day_and_time();
        for tank in 0..self.tanks.len() as u32 {
            self.call_care(tank, |w| w == Trigger::Clock(time));
            self.mark_tank(tank);
        }
        let goes_on = self.day.any_moving() || self.sources_left > 0;
        if goes_on && self.day.on_duty() && self.day.now() + DAY < self.day.closes() {
            self.day.schedule(self.day.now() + DAY, ENDS, Due::CareClock);
        }
    }

    /// Begins whatever care is due at tanks that are empty.
    pub(super) fn care_begins(&mut self) {
        if self.plan.rules.care.is_empty() {
            return;
        }
        for tank in 0..self.tanks.len() as u32 {
            if self.tanks[tank as usize].care.is_none() && self.is_idle(tank) {
                self.touch(tank);
                self.drop_needless(tank);
                let due = self.care_due(tank);
                if let Some(rule) = due.filter(|&r| self.worth_it(tank, r) && self.wool_fits(tank, r)) {
                    let (station, chore) = (self.tanks[tank as usize].station, self.chore(tank, rule));
                    if self.care_may_begin(station, kind(&chore)) {
                        self.begin_care(tank, rule);
                    }
                }
            }
        }
    }

    fn is_idle(&self, tank: u32) -> bool {
        let t = &self.tanks[tank as usize];
        t.inside.is_empty() && t.topping.is_none() && self.stations[t.station.index()].used == 0
    }

    /// What is called for is done where the shop opens again; all else when work is to come and somebody is there.
    pub(super) fn worth_it(&self, tank: u32, rule: usize) -> bool {
        if self.tanks[tank as usize].tracks[rule].called {
            return self.day.back_on_duty() < Moment::NEVER || self.expects_work(tank);
        }
        self.day.on_duty() && self.expects_work(tank)
    }

    fn begin_care(&mut self, tank: u32, rule: usize) {
        let chore = self.chore(tank, rule);
        let t = &mut self.tanks[tank as usize];
        let station = t.station;
        t.care = Some(Job {
            rule,
            stage: 0,
            until: Moment::NEVER,
            hand: NONE,
            since: self.day.now(),
            began: self.day.now(),
            used: CareUse::default(),
        });
        self.planned_care(station, kind(&chore));
        self.day.note(|| Event::CareBegins {
            tank: station,
            care: kind(&chore),
        });
        self.enter_stage(tank);
    }

    /// The present stage of a tank's care.
    pub(super) fn stage_of(&self, tank: u32) -> Option<Stage> {
        let job = self.tanks[tank as usize].care?;
        stage(&self.chore(tank, job.rule), job.stage)
    }

    /// Enters the present stage; past the last one the care has ended.
    fn enter_stage(&mut self, tank: u32) {
        let Some(stage) = self.stage_of(tank) else {
            return self.end_care(tank);
        };
        if let Some(job) = &mut self.tanks[tank as usize].care {
            job.since = self.day.now();
            job.until = Moment::NEVER;
        }
        match stage {
            Stage::Reach(to) => self.go_to(tank, to),
            Stage::Stands => {
                let until = self.day.now() + self.stands_for(tank);
                if let Some(job) = &mut self.tanks[tank as usize].care {
                    job.until = until;
                }
                self.day.schedule(until, ENDS, Due::Care(tank));
            }
            Stage::Hands(_) => self.mark_tank(tank),
        }
    }

    /// Sends a bath to a temperature; there already, the next stage begins. For wool it is kept there.
    fn go_to(&mut self, tank: u32, to: Temperature) {
        let now = self.tanks[tank as usize].heat.temperature();
        let wool = self.dissolves_wool(tank);
        let there = at_least(to, now) && at_least(now, to);
        let warms = now < to;
        if wool && (there || warms) {
            self.keep_at(tank, to);
        } else {
            let t = &mut self.tanks[tank as usize];
            if t.is_on() {
                t.off_since = self.day.now();
            }
            t.heat.switch(Heater::Off);
            self.heater_off(tank);
        }
        if wool && there {
            return self.next_stage(tank);
        }
        self.set_lid(tank);
        if there || (warms && !wool) {
            // As cold as it must be already: the heater is off from here on.
            self.supply_moved = true;
            self.sample(tank);
            return self.next_stage(tank);
        }
        let t = &self.tanks[tank as usize];
        let never = t.heat.time_until_temperature(&self.heat[tank as usize], to);
        if never.is_none() && !t.resumes {
            self.next_stage(tank);
        }
        self.renew(tank);
    }

    pub(super) fn rule_of(&self, tank: u32) -> usize {
        self.tanks[tank as usize].care.map_or(0, |j| j.rule)
    }

    /// Where a bath is on its way to under care.
    pub(super) fn reaching(&self, tank: u32) -> Option<Temperature> {
        match self.stage_of(tank)? {
            Stage::Reach(to) => Some(to),
            _ => None,
        }
    }

    /// The bath has come to a threshold: to the temperature that its care waits for, or not yet.
    pub(super) fn care_reached(&mut self, tank: u32) {
        let Some(to) = self.reaching(tank).filter(|to| self.is_past(tank, *to)) else {
            return;
        };
        if self.dissolves_wool(tank) {
            self.keep_at(tank, to);
            if self.tanks[tank as usize].resumes {
                // Nobody is there: it is warmed, and gets its wool, when somebody is back.
                return;
            }
        }
        self.next_stage(tank);
    }

    /// Whether a bath has come to a temperature on its way there, or passed it: the moment of crossing is reckoned from
    /// the last change, and what comes between shifts it a little.
    pub(super) fn is_past(&self, tank: u32, to: Temperature) -> bool {
        /// In kelvin.
        const NEAR: f64 = 1e-3;
        let t = &self.tanks[tank as usize];
        if t.resumes {
            return false;
        }
        let above = (t.heat.temperature() - to).in_kelvin();
        if t.is_on() { above > -NEAR } else { above < NEAR }
    }

    /// A stage that stands, or one under hands, is over.
    pub(super) fn care_goes_on(&mut self, tank: u32) {
        let Some(job) = self.tanks[tank as usize].care else {
            return;
        };
        if self.day.now() < job.until {
            return;
        }
        self.touch(tank);
        self.sample(tank);
        if job.hand != NONE {
            self.day.moved();
            self.release(job.hand);
        }
        self.stage_done(tank);
        self.next_stage(tank);
    }

    fn next_stage(&mut self, tank: u32) {
        if let Some(job) = &mut self.tanks[tank as usize].care {
            job.stage += 1;
            job.hand = NONE;
        }
        self.enter_stage(tank);
    }

    fn end_care(&mut self, tank: u32) {
        let Some(job) = self.tanks[tank as usize].care.take() else {
            return;
        };
        let chore = self.chore(tank, job.rule);
        let t = &mut self.tanks[tank as usize];
        t.tracks[job.rule] = Track {
            stale: true,
            ..Track::default()
        };
        if matches!(chore, Chore::Renew { .. }) {
            // What was made up anew is to be read again, but by no rule that renews: two of them could chase each other.
            for (track, rule) in t.tracks.iter_mut().zip(&self.plan.rules.care) {
                *track = Track {
                    stale: matches!(rule.chore, Chore::Renew { .. }),
                    ..Track::default()
                };
            }
        }
        t.closes_up();
        let station = t.station;
        self.day.note(|| Event::CareEnds {
            tank: station,
            care: kind(&chore),
            used: Box::new(job.used),
        });
        self.back_to_work(tank);
    }

    /// After its care a bath is heated if work is to come, else left.
    fn back_to_work(&mut self, tank: u32) {
        let on = self.tanks[tank as usize].is_on();
        if on && self.expects_load(tank) {
            let hold = self.band(tank).hold;
            self.tanks[tank as usize].heat.switch(Heater::Keep(hold));
        } else if on {
            self.switch_off(tank);
        } else if self.expects_load(tank) {
            self.light_again(tank);
        }
        self.set_lid(tank);
        self.renew(tank);
        self.mark_tank(tank);
    }
}

/// A rule's chore for tanks of a filling.
pub(super) fn chore_of(rule: &Care, shop: &Shop, bath: BathId) -> Chore {
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
