//! Care of the baths: its stages one after the other. When it is due says `due.rs`.
//!
//! A chore is a list of [`Stage`]s. Some take hands, some only time, some wait for a temperature. No load goes into
//! the bath from the first to the last of them.
//!
//! # Known and left
//!
//! - Readings, limits and triggers of care are taken as they are once the water is made good (`Baths::filled`); the
//!   record holds them raw.
//! - Care never overlaps at one tank, and the filter is one for the shop. The bath keeps the temperature of its tank
//!   while it lies in vessels; what a storage vessel keeps has the temperature of the room. Only `filter` goes `into`
//!   a vessel, and a vessel serves tanks of one filling.
//! - Care by the clock (`at 16:00`, `at the break`, `overnight`) comes on every open day, work or not, unless it has
//!   nothing to do.
//! - Care that loads or surface call for begins when work is to come on that day: a stop that the last load of a day
//!   calls for is made the next morning, when the bath has settled all night.

use super::Baths;
use super::due::Track;
use super::stages::{Stage, stage};
use super::tank::at_least;
use crate::day::{Day, Event};
use crate::ids::TankIx;
use crate::kernel::ENDS;
use tankday_base::bath::Heater;
use tankday_base::shop::{Chore, StationId};
use tankday_base::units::{Moment, Temperature, Volume};
use tankday_record::{CareKind, CareUse, LogEntry};

/// A share of its water that nobody makes good.
const HARDLY: f64 = 1e-3;

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
    /// Hands are at work on it.
    pub(super) under_hands: bool,
    /// When the present stage began.
    pub(super) since: Moment,
    pub(super) used: CareUse,
}

impl Baths<'_> {
    /// Begins whatever care is due at tanks that are empty.
    pub(crate) fn care_begins(&mut self, day: &mut Day<'_>, is_empty: impl Fn(StationId) -> bool) {
        if self.plan.rules.care.is_empty() {
            return;
        }
        for tank in self.tanks.ids() {
            let t = &self.tanks[tank];
            let idle = t.inside.is_empty() && !t.hands.topping && is_empty(t.station);
            if t.care.is_none() && idle {
                self.touch(day, tank);
                self.drop_needless(tank);
                let due = self.care_due_now(day, tank);
                let may = |r: &usize| self.wool_fits(day, tank, *r) && !self.water_first(day, tank, *r);
                if let Some(rule) = due.filter(may) {
                    let (station, chore) = (self.tanks[tank].station, self.chore(tank, rule));
                    if self.care_may_begin(day, station, CareKind::of(&chore)) {
                        self.begin_care(day, tank, rule);
                    }
                }
            }
        }
    }

    /// What is called for is done where the shop opens again; all else when work is to come and somebody is there.
    pub(super) fn worth_it(&self, day: &Day<'_>, tank: TankIx, rule: usize) -> bool {
        if self.tanks[tank].tracks[rule].called {
            return day.back_on_duty() < Moment::NEVER || self.expects_work(day, tank);
        }
        day.on_duty() && self.expects_work(day, tank)
    }

    /// Whether a bath is topped up before what a rule adds: a low one reads stronger than it is, and acid goes into water.
    fn water_first(&self, day: &Day<'_>, tank: TankIx, rule: usize) -> bool {
        let adds = matches!(self.chore(tank, rule), Chore::Replenish { .. });
        adds && self.plan.hands > 0 && self.is_low(tank) && !self.is_watered(day, tank)
    }

    /// How full a bath is topped up: full, but for the concentrate that is to be added next.
    pub(super) fn water_up_to(&self, day: &Day<'_>, tank: TankIx) -> Volume {
        let full = self.full(tank);
        let due = self.care_due_now(day, tank);
        let adds = due.map(|rule| self.chore(tank, rule));
        let (Some(Chore::Replenish { to, .. }), Some(chemistry)) = (adds, &self.tanks[tank].chemistry) else {
            return full;
        };
        let comes = chemistry.concentrate_to(&self.recipe(tank).chemistry, to, full);
        (full - comes).max(self.tanks[tank].heat.volume()).min(full)
    }

    /// Whether a bath holds what it is topped up to.
    pub(super) fn is_watered(&self, day: &Day<'_>, tank: TankIx) -> bool {
        let level = self.tanks[tank].heat.volume();
        level.in_litres() >= self.water_up_to(day, tank).in_litres() * (1.0 - HARDLY)
    }

    /// Whether something is to be added that waits for water.
    pub(super) fn waits_for_water(&self, day: &Day<'_>, tank: TankIx) -> bool {
        let due = self.care_due_now(day, tank);
        due.is_some_and(|rule| self.water_first(day, tank, rule))
    }

    fn begin_care(&mut self, day: &mut Day<'_>, tank: TankIx, rule: usize) {
        self.job_begins(day, tank, rule);
        self.enter_stage(day, tank);
    }

    /// Care by a rule is under way from now on; its first stage is not yet entered.
    pub(super) fn job_begins(&mut self, day: &mut Day<'_>, tank: TankIx, rule: usize) {
        let chore = self.chore(tank, rule);
        let t = &mut self.tanks[tank];
        let station = t.station;
        t.care = Some(Job {
            rule,
            stage: 0,
            until: Moment::NEVER,
            under_hands: false,
            since: day.now(),
            began: day.now(),
            used: CareUse::default(),
        });
        self.planned_care(station, CareKind::of(&chore));
        day.note(|| LogEntry::CareBegins {
            tank: station,
            care: CareKind::of(&chore),
        });
    }

    /// The present stage of a tank's care.
    pub(super) fn stage_of(&self, tank: TankIx) -> Option<Stage> {
        let job = self.tanks[tank].care?;
        stage(&self.chore(tank, job.rule), job.stage)
    }

    /// Enters the present stage; past the last one the care has ended.
    pub(super) fn enter_stage(&mut self, day: &mut Day<'_>, tank: TankIx) {
        let Some(stage) = self.stage_of(tank) else {
            return self.end_care(day, tank);
        };
        if let Some(job) = &mut self.tanks[tank].care {
            job.since = day.now();
            job.until = Moment::NEVER;
        }
        match stage {
            Stage::Reach(to) => self.go_to(day, tank, to),
            Stage::Stands => {
                let until = day.now() + self.stands_for(day, tank);
                if let Some(job) = &mut self.tanks[tank].care {
                    job.until = until;
                }
                day.schedule(until, ENDS, Event::Care(tank));
            }
            Stage::Hands(_) => self.mark_tank(day, tank),
        }
    }

    /// Sends a bath to a temperature; there already, the next stage begins. For wool it is kept there.
    fn go_to(&mut self, day: &mut Day<'_>, tank: TankIx, to: Temperature) {
        let now = self.tanks[tank].heat.temperature();
        let wool = self.dissolves_wool(tank);
        let there = at_least(to, now) && at_least(now, to);
        let warms = now < to;
        if wool && (there || warms) {
            self.keep_at(day, tank, to);
        } else {
            let t = &mut self.tanks[tank];
            if t.is_on() {
                t.heater.off_since = day.now();
            }
            t.heat.switch(Heater::Off);
            self.heater_off(tank);
        }
        if wool && there {
            self.next_stage(day, tank);
            // Kept warm from now on, it boils down: its heater may have to switch itself off.
            return self.renew(day, tank);
        }
        self.set_lid(day, tank);
        if there || (warms && !wool) {
            // As cold as it must be already: the heater is off from here on.
            self.supply_moved = true;
            self.sample(day, tank);
            return self.next_stage(day, tank);
        }
        let t = &self.tanks[tank];
        let never = t.heat.time_until_temperature(&self.heat[tank], to);
        if never.is_none() && !t.heater.resumes {
            self.next_stage(day, tank);
        }
        self.renew(day, tank);
    }

    pub(super) fn rule_of(&self, tank: TankIx) -> usize {
        self.tanks[tank].care.map_or(0, |j| j.rule)
    }

    /// Where a bath is on its way to under care.
    pub(super) fn reaching(&self, tank: TankIx) -> Option<Temperature> {
        match self.stage_of(tank)? {
            Stage::Reach(to) => Some(to),
            _ => None,
        }
    }

    /// The bath has come to a threshold: to the temperature that its care waits for, or not yet.
    pub(super) fn care_reached(&mut self, day: &mut Day<'_>, tank: TankIx) {
        let Some(to) = self.reaching(tank).filter(|to| self.is_past(tank, *to)) else {
            return;
        };
        if self.dissolves_wool(tank) {
            self.keep_at(day, tank, to);
            if self.tanks[tank].heater.resumes {
                // Nobody is there: it is warmed, and gets its wool, when somebody is back.
                return;
            }
        }
        self.next_stage(day, tank);
    }

    /// Whether a bath has come to a temperature on its way there, or passed it: the moment of crossing is reckoned from
    /// the last change, and what comes between shifts it a little.
    pub(super) fn is_past(&self, tank: TankIx, to: Temperature) -> bool {
        /// In kelvin.
        const NEAR: f64 = 1e-3;
        let t = &self.tanks[tank];
        if t.heater.resumes {
            return false;
        }
        let above = (t.heat.temperature() - to).in_kelvin();
        if t.is_on() { above > -NEAR } else { above < NEAR }
    }

    /// A stage that stands, or one under hands, is over: how the bath is then.
    pub(crate) fn stage_is_over(&mut self, day: &mut Day<'_>, tank: TankIx) -> bool {
        let job = self.tanks[tank].care;
        let over = job.is_some_and(|job| day.now() >= job.until);
        if over {
            self.touch(day, tank);
            self.sample(day, tank);
        }
        over
    }

    /// What the stage that is over has done; on to the next.
    pub(crate) fn care_goes_on(&mut self, day: &mut Day<'_>, tank: TankIx) {
        self.stage_done(day, tank);
        self.next_stage(day, tank);
    }

    fn next_stage(&mut self, day: &mut Day<'_>, tank: TankIx) {
        if let Some(job) = &mut self.tanks[tank].care {
            job.stage += 1;
            job.under_hands = false;
        }
        self.enter_stage(day, tank);
    }

    pub(super) fn end_care(&mut self, day: &mut Day<'_>, tank: TankIx) {
        let Some(job) = self.tanks[tank].care.take() else {
            return;
        };
        let chore = self.chore(tank, job.rule);
        let t = &mut self.tanks[tank];
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
        day.note(|| LogEntry::CareEnds {
            tank: station,
            care: CareKind::of(&chore),
            used: Box::new(job.used),
        });
        self.back_to_work(day, tank);
    }

    /// After its care a bath is heated if work is to come, else left.
    fn back_to_work(&mut self, day: &mut Day<'_>, tank: TankIx) {
        let on = self.tanks[tank].is_on();
        if on && self.expects_load(day, tank) {
            let hold = self.band(tank).hold;
            self.tanks[tank].heat.switch(Heater::Keep(hold));
        } else if on {
            self.switch_off(day, tank);
        } else if self.expects_load(day, tank) {
            self.light_again(day, tank);
        }
        self.set_lid(day, tank);
        self.renew(day, tank);
        self.mark_tank(day, tank);
    }
}
