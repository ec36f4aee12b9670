//! Water is made good, and a bath is fit for a load or not.

use super::Baths;
use super::tank::at_least;
use crate::day::Day;
use crate::ids::TankIx;
use tankday_base::bath::Bath;
use tankday_base::units::{Quantity, Span, Temperature, Volume};
use tankday_record::LogEntry;

/// Closer than this to its cut-off a bath is followed exactly.
const CLOSE: Span = Span::whole_minutes(2);

/// The least share of a bath that a top-up beside a load is worth the walk for. A choice.
const LEAST_PORTION: f64 = 0.05;
/// So far over the mark it is topped up beside a load at least, so that hands need not come again at once. A choice.
const OVER: f64 = 1.03;

impl Baths<'_> {
    pub(super) fn full(&self, tank: TankIx) -> Volume {
        self.heat[tank].full() / tankday_base::bath::water::measuring_density()
    }

    pub(super) fn low_mark(&self, tank: TankIx) -> Option<Volume> {
        let below = self.plan.rules.top_up.below.in_fraction();
        (below > 0.0).then(|| self.full(tank) * below)
    }

    /// Whether water is due.
    pub(super) fn is_low(&self, tank: TankIx) -> bool {
        let level = self.tanks[tank].heat.volume();
        self.due_mark(tank)
            .is_some_and(|low| level.in_litres() <= low.in_litres() * (1.0 + 1e-9))
    }

    /// The volume at which water is due next: while a load is in, which cold water disturbs, half way from the mark of the
    /// rule to the level at which the heater switches itself off (common practice, no source).
    pub(super) fn due_mark(&self, tank: TankIx) -> Option<Volume> {
        let low = self.low_mark(tank)?;
        let loaded = !self.tanks[tank].inside.is_empty();
        let cut = self.cut_mark(tank).min(low);
        Some(if loaded { cut + (low - cut) * 0.5 } else { low })
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
        day.note(|| LogEntry::CutOff { tank: station });
        self.switch_off(day, tank);
    }

    /// Whether hands should top it up now: low, and heated, whether work is to come or not; or so low that it cannot be heated
    /// for work that is to come; or before acid is added. `used`: its places are not all free. While a load is in, only what is far below its mark.
    pub(crate) fn wants_water(&mut self, day: &Day<'_>, tank: TankIx, used: bool) -> bool {
        let t = &self.tanks[tank];
        let cut_off =
            || self.is_cut_off(tank) && (self.expects_load(day, tank) || self.wool_wants_water(day, tank));
        let needed = t.is_on() || (t.care.is_none() && (cut_off() || self.waits_for_water(day, tank)));
        if t.hands.topping
            || t.care.is_some()
            || (used && t.inside.is_empty())
            || t.hands.filling > 0
            || self.low_mark(tank).is_none()
            || !needed
            || self.noted_within(day, self.plan.rules.top_up.takes)
            || self.water_is_noted(day, tank)
        {
            return false;
        }
        self.touch(day, tank);
        self.is_low(tank) && !self.is_watered(day, tank)
    }

    /// Hands begin to top it up.
    pub(crate) fn top_up(&mut self, tank: TankIx) {
        self.tanks[tank].hands.topping = true;
    }

    /// A tank has been topped up.
    pub(crate) fn topped_up(&mut self, day: &mut Day<'_>, tank: TankIx) {
        self.touch(day, tank);
        self.sample(day, tank);
        let filled = self.water_up_to(day, tank);
        let room = self.shop.air.temperature;
        let (least, mark) = (self.band(tank).least, self.due_mark(tank).unwrap_or_default());
        let t = &mut self.tanks[tank];
        let missing = filled - t.heat.volume();
        let missing = match t.inside.is_empty() {
            true => missing,
            false => missing.min(portion(&t.heat, least, room).max(mark * OVER - t.heat.volume())),
        };
        t.heat.top_up(missing, room);
        if let Some(chemistry) = &mut t.chemistry {
            chemistry.top_up(missing);
        }
        t.hands.topping = false;
        let station = t.station;
        day.note(|| LogEntry::ToppedUp {
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

/// How much water may go into a bath with a load in it at one go: so much that it stays in its band, but a little in any
/// case, since a bath that boils low harms more than one that is a few degrees too cold.
fn portion(bath: &Bath, least: Temperature, water: Temperature) -> Volume {
    let above = (bath.temperature() - least).in_kelvin();
    let below = (least - water).in_kelvin();
    let share = if below > 0.0 { above / below } else { LEAST_PORTION };
    bath.volume() * share.max(LEAST_PORTION)
}
