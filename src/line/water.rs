//! Water is made good, and a bath is fit for a load or not.

use super::engine::Engine;
use super::state::NONE;
use super::tank::at_least;
use crate::record::{Event, Watcher};
use crate::units::Volume;

impl<W: Watcher> Engine<'_, W> {
    pub(super) fn full(&self, tank: u32) -> Volume {
        self.heat[tank as usize].full() / crate::bath::water::measuring_density()
    }

    pub(super) fn low_mark(&self, tank: u32) -> Option<Volume> {
        let below = self.plan.rules.top_up.below.in_fraction();
        (below > 0.0).then(|| self.full(tank) * below)
    }

    pub(super) fn is_low(&self, tank: u32) -> bool {
        let level = self.tanks[tank as usize].heat.volume();
        self.low_mark(tank)
            .is_some_and(|low| level.in_litres() <= low.in_litres() * (1.0 + 1e-9))
    }

    /// Whether hands should top it up now: low, empty, heated, and work to come.
    pub(super) fn wants_water(&mut self, tank: u32) -> bool {
        let t = &self.tanks[tank as usize];
        if t.topping.is_some()
            || t.care.is_some()
            || !t.inside.is_empty()
            || !t.is_on()
            || self.low_mark(tank).is_none()
        {
            return false;
        }
        let station = t.station.0;
        if self.stations[station as usize].used > 0 {
            return false;
        }
        self.touch(tank);
        self.is_low(tank) && self.expects_work(tank)
    }

    pub(super) fn topped_up(&mut self, tank: u32) {
        self.moving -= 1;
        self.touch(tank);
        self.sample(tank);
        let fill = self.full(tank);
        let room = self.shop.air.temperature;
        let t = &mut self.tanks[tank as usize];
        let missing = fill - t.heat.volume();
        t.heat.top_up(missing, room);
        if let Some(chemistry) = &mut t.chemistry {
            chemistry.top_up(missing);
        }
        let (hand, station) = (t.topping.take(), t.station);
        self.note(|| Event::ToppedUp {
            tank: station,
            volume: missing,
        });
        if let Some(hand) = hand.filter(|h| *h != NONE) {
            self.release(hand);
        }
        self.renew(tank);
        self.mark_tank(tank);
    }

    /// Whether the bath is fit for a load now.
    pub(super) fn fit(&mut self, tank: u32) -> bool {
        let t = &self.tanks[tank as usize];
        if !t.is_on() || t.topping.is_some() || t.care.is_some() {
            return false;
        }
        self.touch(tank);
        let hot = at_least(
            self.tanks[tank as usize].heat.temperature(),
            self.band(tank).least,
        );
        let low = self.is_low(tank) && self.tanks[tank as usize].inside.is_empty();
        hot && !low && self.within_limits(tank) && self.care_due(tank).is_none()
    }
}
