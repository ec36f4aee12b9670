//! Steel wool in a bath: whether it may go in, and the heater that keeps the bath warm for it.

use super::Baths;
use super::care::Job;
use super::tank::at_least;
use crate::day::Day;
use crate::ids::TankIx;
use tankday_base::bath::Heater;
use tankday_base::shop::Chore;
use tankday_base::units::Temperature;

impl Baths<'_> {
    /// Whether a bath must be topped up before it can be kept warm for wool.
    pub(super) fn wool_wants_water(&self, day: &Day<'_>, tank: TankIx) -> bool {
        let due = self.care_due_now(day, tank);
        due.is_some_and(|rule| matches!(self.chore(tank, rule), Chore::Condition { .. }))
    }

    /// Whether what this rule does with steel wool is over before nobody is there, and the heater may keep it warm.
    pub(super) fn wool_fits(&self, day: &Day<'_>, tank: TankIx, rule: usize) -> bool {
        let Chore::Condition { at, stays, takes, .. } = self.chore(tank, rule) else {
            return true;
        };
        if self.is_cut_off(tank) {
            return false;
        }
        let (mut bath, table) = (self.tanks[tank].heat, &self.heat[tank]);
        bath.switch(if bath.temperature() < at {
            Heater::Keep(at)
        } else {
            Heater::Off
        });
        let warms = bath.time_until_temperature(table, at).unwrap_or_default();
        self.wool_out_in_time(day, tank, warms + takes + stays)
    }

    /// Whether a bath is kept warm for wool, or on its way there.
    pub(super) fn warms_wool(&self, tank: TankIx) -> bool {
        self.tanks[tank].care.is_some() && self.dissolves_wool(tank)
    }

    /// Whether wool is in a bath.
    pub(super) fn holds_wool(&self, tank: TankIx) -> bool {
        let job = self.tanks[tank].care.filter(|_| self.warms_wool(tank));
        job.is_some_and(|j| j.stage > 1 || (j.stage == 1 && j.under_hands))
    }

    /// The heater warms a bath for wool again; what has cooled since it was warm enough is not any more.
    pub(super) fn warm_wool(&mut self, day: &mut Day<'_>, tank: TankIx) {
        let Chore::Condition { at, .. } = self.chore(tank, self.rule_of(tank)) else {
            return;
        };
        self.keep_at(day, tank, at);
        let cooled = !at_least(self.tanks[tank].heat.temperature(), at);
        let waits = |job: &&mut Job| job.stage == 1 && !job.under_hands;
        if let Some(job) = self.tanks[tank].care.as_mut().filter(waits)
            && cooled
        {
            job.stage = 0;
            self.enter_stage(day, tank);
        }
    }

    pub(super) fn dissolves_wool(&self, tank: TankIx) -> bool {
        let chore = self.plan.rules.care[self.rule_of(tank)].chore;
        matches!(chore, Chore::Condition { .. })
    }

    /// The heater keeps a bath at a temperature from now on; where nobody is there, from when somebody is back: no wool goes in
    /// before.
    pub(super) fn keep_at(&mut self, day: &mut Day<'_>, tank: TankIx, to: Temperature) {
        if self.is_cut_off(tank) {
            return;
        }
        if day.away().is_some() {
            self.tanks[tank].heater.resumes = true;
            return;
        }
        let t = &mut self.tanks[tank];
        if !t.is_on() {
            t.heater.on_since = day.now();
        }
        t.heat.switch(Heater::Keep(to));
        self.supply_moved = true;
        self.sample(day, tank);
    }
}
