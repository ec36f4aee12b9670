//! Care that was done before the rest of a day is planned, as noted: what it does to a bath is there at once when it is over,
//! whatever time and hands it took.

use super::Baths;
use super::stages::Stage;
use crate::day::Day;
use crate::ids::TankIx;
use tankday_base::units::Temperature;
use tankday_record::{CareKind, LogEntry};

impl Baths<'_> {
    /// Care is over that is noted to have been done now.
    pub(crate) fn care_was_done(&mut self, day: &mut Day<'_>, nth: u32) {
        let Some((station, what)) = self.noted_care(nth) else {
            return;
        };
        let Some(tank) = self.tanks.ids().find(|t| self.tanks[*t].station == station) else {
            return;
        };
        let mut rules = 0..self.plan.rules.care.len();
        let rule = rules.find(|r| CareKind::of(&self.chore(tank, *r)) == what);
        let Some(rule) = rule.filter(|_| self.tanks[tank].care.is_none()) else {
            return;
        };
        self.touch(day, tank);
        self.job_begins(day, tank, rule);
        while let Some(stage) = self.stage_of(tank) {
            match stage {
                Stage::Reach(to) => self.was_cooled(tank, to),
                Stage::Stands | Stage::Hands(_) => self.stage_done(day, tank),
            }
            if let Some(job) = &mut self.tanks[tank].care {
                job.stage += 1;
            }
        }
        self.sample(day, tank);
        self.end_care(day, tank);
    }

    /// Water is made good that is noted to have been made good now.
    pub(crate) fn water_was_added(&mut self, day: &mut Day<'_>, nth: u32) {
        let Some((station, volume)) = self.noted_water(nth) else {
            return;
        };
        let Some(tank) = self.tanks.ids().find(|t| self.tanks[*t].station == station) else {
            return;
        };
        self.touch(day, tank);
        self.sample(day, tank);
        let room = self.shop.air.temperature;
        let t = &mut self.tanks[tank];
        t.heat.top_up(volume, room);
        if let Some(chemistry) = &mut t.chemistry {
            chemistry.top_up(volume);
        }
        day.note(|| LogEntry::ToppedUp {
            tank: station,
            volume,
        });
        self.renew(day, tank);
        self.mark_tank(day, tank);
    }

    /// A bath that was cooled is no hotter than that; how far it is heated again says a reading.
    fn was_cooled(&mut self, tank: TankIx, to: Temperature) {
        let table = &self.heat[tank];
        let heat = &mut self.tanks[tank].heat;
        if heat.temperature() > to {
            heat.read_as(table, to);
        }
    }
}
