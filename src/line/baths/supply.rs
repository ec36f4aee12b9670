//! A supply that bears only so many kilowatts: heaters share it.
//!
//! Those with work in come first, then those that hold, then those on their way up as they were switched on; among equals
//! as written. Each may draw what those before it leave; one that holds leaves what it does not need. The thermostat being
//! averaged, what counts is the mean of each heater between two changes.
//!
//! # Known and left
//!
//! - A supply is shared by means between two changes, not by the instant: thermostats are averaged, and WATCH says
//!   where two that close at once would trip the breaker (`heaters-over-supply`). A dwell is reckoned when the load
//!   goes in; if its tank then gets less power than it did, the load comes out a little light, and its weight says
//!   so. `ready by` reckons with each heater by itself.

use super::Baths;
use super::tank::at_least;
use crate::day::Day;
use crate::ids::TankIx;
use tankday_base::bath::Heater;
use tankday_base::units::{Moment, Power, Quantity};
use tankday_record::LogEntry;

/// A change of what a heater may draw that is none, W.
const EQUAL_WITHIN: f64 = 1e-6;

impl Baths<'_> {
    /// Shares the supply anew, if something has changed.
    pub(crate) fn share_supply(&mut self, day: &mut Day<'_>) {
        let Some(supply) = self.shop.supply.filter(|_| self.supply_moved) else {
            return;
        };
        self.supply_moved = false;
        let mut left = supply;
        let mut changed = false;
        for tank in self.heaters_in_turn(day) {
            let rated = self.heat[tank].rated_power();
            let may = rated.min(left);
            left = (left - self.needs_power(tank).min(may)).max(Power::ZERO);
            changed |= self.allow(day, tank, may, rated);
        }
        if changed {
            for tank in self.tanks.ids() {
                self.renew(day, tank);
            }
        }
        // What `renew` noticed is what was just shared.
        self.supply_moved = false;
    }

    /// Tanks whose heaters are on, the first served first.
    fn heaters_in_turn(&mut self, day: &Day<'_>) -> Vec<TankIx> {
        let mut turn: Vec<(u8, Moment, TankIx)> = Vec::new();
        for tank in self.tanks.ids() {
            self.touch(day, tank);
            let t = &self.tanks[tank];
            let Heater::Keep(set) = t.heat.heater() else {
                continue;
            };
            let class = if !t.inside.is_empty() {
                0
            } else if at_least(t.heat.temperature(), set) {
                1
            } else {
                2
            };
            let since = if class == 2 {
                t.heater.on_since
            } else {
                Moment::ZERO
            };
            turn.push((class, since, tank));
        }
        turn.sort_unstable();
        turn.into_iter().map(|(.., tank)| tank).collect()
    }

    /// What a heater would draw if it might: its rated power below the set point, what the bath loses at it.
    fn needs_power(&self, tank: TankIx) -> Power {
        let (t, table) = (&self.tanks[tank], &self.heat[tank]);
        match t.heat.heater() {
            Heater::Keep(set) if at_least(t.heat.temperature(), set) => {
                let lost = table.leaving(set, t.heat.lid()).heat.max(Power::ZERO);
                lost / table.efficiency().in_fraction()
            }
            Heater::Keep(_) => table.rated_power(),
            Heater::Off => Power::ZERO,
        }
    }

    /// Says whether that is another power than before.
    fn allow(&mut self, day: &mut Day<'_>, tank: TankIx, may: Power, rated: Power) -> bool {
        let t = &mut self.tanks[tank];
        let before = t.heater.may_draw.unwrap_or(rated);
        if (before - may).base().abs() < EQUAL_WITHIN {
            return false;
        }
        t.heater.may_draw = (may < rated).then_some(may);
        t.heat.allow(&self.heat[tank], t.heater.may_draw);
        let station = t.station;
        day.note(|| LogEntry::Allowed {
            tank: station,
            power: may,
        });
        true
    }

    /// A heater that was switched off asks for its rated power when it comes on again.
    pub(super) fn heater_off(&mut self, tank: TankIx) {
        let t = &mut self.tanks[tank];
        t.heater.may_draw = None;
        t.heat.allow(&self.heat[tank], None);
    }
}
