//! Water is made good, and a bath is fit for a load or not.

use super::Baths;
use super::tank::at_least;
use crate::day::Day;
use crate::ids::TankIx;
use tankday_base::units::{Quantity, Span, Volume};
use tankday_record::Event;

/// Closer than this to its cut-off a bath is followed exactly.
const CLOSE: Span = Span::whole_minutes(2);

impl Baths<'_> {
    pub(super) fn full(&self, tank: TankIx) -> Volume {
        self.heat[tank].full() / tankday_base::bath::water::measuring_density()
    }

    pub(super) fn low_mark(&self, tank: TankIx) -> Option<Volume> {
        let below = self.plan.rules.top_up.below.in_fraction();
        (below > 0.0).then(|| self.full(tank) * below)
    }

    pub(super) fn is_low(&self, tank: TankIx) -> bool {
        let level = self.tanks[tank].heat.volume();
        self.low_mark(tank)
            .is_some_and(|low| level.in_litres() <= low.in_litres() * (1.0 + 1e-9))
    }

    /// The volume down to which the heater of a tank heats.
    fn cut_mark(&self, tank: TankIx) -> Volume {
        if self.plan.hands == 0 {
            return Volume::ZERO;
        }
        let station = self.tanks[tank].station;
        let heater = self.shop.stations[station.index()]
            .tank
            .as_ref()
            .map(|t| t.heater);
        self.full(tank) * heater.map_or(0.0, |h| h.cut_off.in_fraction())
    }

    /// Whether so little is in it that its heater has switched itself off.
    pub(super) fn is_cut_off(&self, tank: TankIx) -> bool {
        let level = self.tanks[tank].heat.volume();
        level.in_litres() <= self.cut_mark(tank).in_litres() * (1.0 + 1e-9)
    }

    /// When to look next whether a heated bath has fallen to its cut-off: not later than it can have.
    pub(super) fn until_cut_off(&self, tank: TankIx) -> Option<Span> {
        let (t, table) = (&self.tanks[tank], &self.heat[tank]);
        if !t.is_on() {
            return None;
        }
        let above = t.heat.volume() - self.cut_mark(tank);
        let fastest = table.most_evaporation(t.heat.lid()).base();
        let mass = (tankday_base::bath::water::measuring_density() * above).base();
        if fastest <= 0.0 || mass <= 0.0 {
            return (mass <= 0.0).then_some(Span::ZERO);
        }
        let soonest = Span::seconds(mass / fastest);
        if soonest > CLOSE {
            return Some(soonest);
        }
        t.heat.time_until_volume(table, self.cut_mark(tank))
    }

    /// The heater switches itself off, since there is too little in the tank.
    pub(super) fn cut_off(&mut self, day: &mut Day<'_>, tank: TankIx) {
        let station = self.tanks[tank].station;
        day.note(|| Event::CutOff { tank: station });
        self.switch_off(day, tank);
    }

    /// Whether hands should top it up now: low, empty, and heated, whether work is to come or not; or so low that it cannot be
    /// heated for work that is to come.
    pub(crate) fn wants_water(&mut self, day: &Day<'_>, tank: TankIx) -> bool {
        let t = &self.tanks[tank];
        let cut_off =
            || self.is_cut_off(tank) && (self.expects_load(day, tank) || self.wool_wants_water(day, tank));
        let needed = t.is_on() || (t.care.is_none() && cut_off());
        if t.hands.topping
            || t.care.is_some()
            || !t.inside.is_empty()
            || self.low_mark(tank).is_none()
            || !needed
        {
            return false;
        }
        self.touch(day, tank);
        self.is_low(tank)
    }

    /// Hands begin to top it up.
    pub(crate) fn top_up(&mut self, tank: TankIx) {
        self.tanks[tank].hands.topping = true;
    }

    /// A tank has been topped up.
    pub(crate) fn topped_up(&mut self, day: &mut Day<'_>, tank: TankIx) {
        self.touch(day, tank);
        self.sample(day, tank);
        let fill = self.full(tank);
        let room = self.shop.air.temperature;
        let t = &mut self.tanks[tank];
        let missing = fill - t.heat.volume();
        t.heat.top_up(missing, room);
        if let Some(chemistry) = &mut t.chemistry {
            chemistry.top_up(missing);
        }
        t.hands.topping = false;
        let station = t.station;
        day.note(|| Event::ToppedUp {
            tank: station,
            volume: missing,
        });
    }

    /// It is full: on it goes.
    pub(crate) fn full_again(&mut self, day: &mut Day<'_>, tank: TankIx) {
        self.renew(day, tank);
        self.mark_tank(day, tank);
        if self.expects_load(day, tank) {
            self.light_again(day, tank);
        }
    }

    /// Whether the bath is fit for a load now.
    pub(crate) fn fit(&mut self, day: &Day<'_>, tank: TankIx) -> bool {
        let t = &self.tanks[tank];
        if !t.is_on() || t.hands.topping || t.care.is_some() {
            return false;
        }
        self.touch(day, tank);
        let hot = at_least(self.tanks[tank].heat.temperature(), self.band(tank).least);
        let low = self.is_low(tank) && self.tanks[tank].inside.is_empty();
        hot && !low && self.within_limits(tank) && self.care_due(tank).is_none()
    }
}
