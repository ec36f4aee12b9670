//! Tanks on the line: heaters and lids by the rules, charging, topping up, and what the bath tells the calendar.
//!
//! A bath is advanced only when something touches it ([`Engine::touch`]). Every touch renews the one event at which
//! the bath next crosses a threshold.

use super::engine::{Due, Engine};
use super::state::NONE;
use crate::bath::{Bath, Growth, Heater, Heating, Lid, Load as Work, SolidHeat, TankHeat};
use crate::kernel::{ENDS, Handle};
use crate::record::{BathSample, Event, HeaterState, Watcher};
use crate::shop::{BathId, CoatRule, HeatOff, HeatOn, LidRule, Shop, StationId};
use crate::units::{Energy, HeatCapacity, Mass, Moment, Span, Temperature, Volume};

/// A bath hotter than this is a hot bath: it scalds. Common practice, no source.
const HOT: Temperature = Temperature::celsius(60.0);
/// While its temperature moves a bath is looked at so often for the record.
const LOOK: Span = Span::whole_minutes(5);

/// One tank under way.
#[derive(Debug, Clone)]
pub(super) struct Tank {
    pub(super) bath: BathId,
    pub(super) station: StationId,
    pub(super) heat: Bath,
    /// The moment up to which `heat` is advanced; at the start the first opening, or the first switching-on if that is
    /// earlier: the scenario's readings hold then.
    at: Moment,
    /// Loads that will still come to this bath, those in line included.
    pub(super) coming: i32,
    /// Loads in it.
    pub(super) inside: Vec<u32>,
    /// The hands that top it up.
    pub(super) topping: Option<u32>,
    was_in_band: bool,
    next: Option<Handle>,
    looked_at: Moment,
    /// When the next look for company is on the calendar.
    pub(super) look: Moment,
    heat_on: Option<Handle>,
    sampled: Option<(Temperature, Heater)>,
}

impl Tank {
    /// Whether the heater is switched on, whatever its thermostat does.
    pub(super) fn is_on(&self) -> bool {
        self.heat.heater() != Heater::Off
    }
}

/// The tables of heat losses of every tank.
pub(super) fn tables(shop: &Shop) -> Vec<TankHeat> {
    shop.tanks()
        .map(|(_, _, tank)| TankHeat::new(tank, &shop.air))
        .collect()
}

impl<W: Watcher> Engine<'_, W> {
    pub(super) fn make_tanks(&mut self) {
        let shop = self.shop;
        for ((station, _, tank), table) in shop.tanks().zip(self.heat) {
            self.tanks.push(Tank {
                bath: tank.bath,
                station,
                heat: Bath::new(table, tank.volume, tank.temperature),
                at: self.hours.next_opening(self.now).unwrap_or(self.now),
                coming: 0,
                inside: Vec::new(),
                topping: None,
                was_in_band: false,
                next: None,
                looked_at: Moment::ZERO,
                look: Moment::ZERO,
                heat_on: None,
                sampled: None,
            });
        }
        for tank in 0..self.tanks.len() as u32 {
            let lid = if self.plan.rules.heat.lid == LidRule::Never {
                Lid::Off
            } else {
                Lid::On
            };
            self.tanks[tank as usize].heat.set_lid(lid);
            self.sample(tank);
            self.expect_heat(tank);
        }
    }

    /// Brings a bath up to now.
    pub(super) fn touch(&mut self, tank: u32) {
        let t = &mut self.tanks[tank as usize];
        let passed = self.now - t.at;
        if passed > Span::ZERO {
            t.heat.advance(&self.heat[tank as usize], passed);
            t.at = self.now;
        }
    }

    fn band(&self, tank: u32) -> crate::shop::Band {
        self.shop.baths[self.tanks[tank as usize].bath.index()].band
    }

    /// Renews the event at which the bath next crosses a threshold, and tells the watcher how it stands.
    pub(super) fn renew(&mut self, tank: u32) {
        let table = &self.heat[tank as usize];
        let band = self.band(tank);
        // A bath that is low already has told so; it only waits for hands.
        let low = self.low_mark(tank).filter(|_| !self.is_low(tank));
        let t = &mut self.tanks[tank as usize];
        if let Some(old) = t.next.take() {
            self.agenda.cancel(old);
        }
        let on = t.is_on();
        let cold = on && !at_least(t.heat.temperature(), band.least);
        let to_band = if cold {
            t.heat.time_until_temperature(table, band.least)
        } else {
            None
        };
        let sinking = low.filter(|_| on && t.inside.is_empty());
        let to_low = sinking.and_then(|v| t.heat.time_until_volume(table, v));
        let next = match (to_band, to_low) {
            (Some(a), Some(b)) => Some(a.min(b)),
            (a, b) => a.or(b),
        };
        t.next = next.map(|d| {
            self.agenda
                .schedule(self.now + d.max(Span::micros(1)), ENDS, Due::Bath(tank))
        });
        self.sample(tank);
    }

    pub(super) fn bath_due(&mut self, tank: u32) {
        self.tanks[tank as usize].next = None;
        self.touch(tank);
        let least = self.band(tank).least;
        let t = &mut self.tanks[tank as usize];
        if !t.was_in_band && at_least(t.heat.temperature(), least) {
            t.was_in_band = true;
            let station = t.station;
            self.note(|| Event::InBand { tank: station });
        }
        self.renew(tank);
        self.mark_tank(tank);
    }

    fn mark_tank(&mut self, tank: u32) {
        let station = self.tanks[tank as usize].station.0;
        self.mark(station);
    }

    /// Whether a bath may still open up what waits.
    pub(super) fn tank_may_help(&self) -> bool {
        self.tanks
            .iter()
            .any(|t| t.next.is_some() || t.heat_on.is_some() || t.look > self.now)
    }

    // ----- heat -----

    /// Puts the next switching-on before or at the coming opening on the calendar.
    fn expect_heat(&mut self, tank: u32) {
        let Some(opens) = self.hours.next_opening(self.now).filter(|o| *o < Moment::NEVER) else {
            return;
        };
        let on = match self.plan.rules.heat.on {
            HeatOn::AtOpening => opens,
            HeatOn::At(clock) => midnight(opens) + clock,
            HeatOn::ReadyBy(clock) => self.start_for(tank, midnight(opens) + clock),
        };
        let on = if self.plan.rules.heat.unattended {
            on
        } else {
            on.max(opens)
        };
        let on = on.max(self.now);
        let handle = self.agenda.schedule(on, ENDS, Due::HeatOn(tank));
        let t = &mut self.tanks[tank as usize];
        t.heat_on = Some(handle);
        t.at = t.at.min(on);
    }

    /// When to switch on so that the band is reached at `ready`: the later it starts, the colder the bath has become.
    fn start_for(&self, tank: u32, ready: Moment) -> Moment {
        let table = &self.heat[tank as usize];
        let least = self.band(tank).least;
        let mut start = ready;
        for _ in 0..4 {
            let mut heat = self.tanks[tank as usize].heat;
            heat.advance(table, (start - self.tanks[tank as usize].at).max(Span::ZERO));
            heat.switch(Heater::Keep(self.band(tank).hold));
            let takes = heat
                .time_until_temperature(table, least)
                .unwrap_or(Span::hours(24.0));
            start = (ready - takes).max(self.now);
        }
        start
    }

    pub(super) fn heat_on(&mut self, tank: u32) {
        self.tanks[tank as usize].heat_on = None;
        self.touch(tank);
        if self.expects_work(tank) {
            self.switch_on(tank);
            let station = self.tanks[tank as usize].station;
            let until = self.back_on_duty();
            if !self.on_duty && until > self.now {
                self.note(|| Event::LeftAlone { tank: station, until });
            }
        }
        self.mark_tank(tank);
    }

    /// Work has come to a cold tank after the heaters were switched on for the day: somebody lights it again.
    pub(super) fn light_again(&mut self, tank: u32) {
        let t = &self.tanks[tank as usize];
        if self.on_duty && t.heat_on.is_none() && !t.is_on() {
            let handle = self.agenda.schedule(self.now, ENDS, Due::HeatOn(tank));
            self.tanks[tank as usize].heat_on = Some(handle);
        }
    }

    fn switch_on(&mut self, tank: u32) {
        let (least, hold) = (self.band(tank).least, self.band(tank).hold);
        let t = &mut self.tanks[tank as usize];
        if !t.is_on() {
            t.heat.switch(Heater::Keep(hold));
            t.was_in_band = at_least(t.heat.temperature(), least);
        }
        self.set_lid(tank);
        self.renew(tank);
    }

    fn switch_off(&mut self, tank: u32) {
        self.tanks[tank as usize].heat.switch(Heater::Off);
        self.set_lid(tank);
        self.renew(tank);
    }

    fn set_lid(&mut self, tank: u32) {
        let rule = self.plan.rules.heat.lid;
        let t = &mut self.tanks[tank as usize];
        let off = !t.is_on();
        let lid = match rule {
            LidRule::BetweenLoads => t.inside.is_empty(),
            LidRule::WhenOff => off && t.inside.is_empty(),
            LidRule::Never => false,
        };
        t.heat.set_lid(if lid { Lid::On } else { Lid::Off });
    }

    /// Whether work can still come to this tank today.
    fn expects_work(&self, tank: u32) -> bool {
        let t = &self.tanks[tank as usize];
        if t.coming > 0 || !t.inside.is_empty() {
            return true;
        }
        let today = self.closes();
        let stated = &self.plan.arrivals[tank as usize];
        let next = stated.partition_point(|at| *at < self.now);
        stated.get(next).is_some_and(|at| *at <= today) || self.stream_open(tank)
    }

    fn stream_open(&self, tank: u32) -> bool {
        self.plan.streams[tank as usize]
            .iter()
            .any(|&source| self.stream_left(source))
    }

    pub(super) fn tanks_at_opening(&mut self) {
        for tank in 0..self.tanks.len() as u32 {
            self.touch(tank);
            self.renew(tank);
            self.mark_tank(tank);
        }
    }

    pub(super) fn tanks_looked_at(&mut self) {
        for tank in 0..self.tanks.len() as u32 {
            self.mark_tank(tank);
        }
    }

    pub(super) fn tanks_at_closing(&mut self) {
        for tank in 0..self.tanks.len() as u32 {
            self.touch(tank);
            let station = self.tanks[tank as usize].station;
            let on = self.tanks[tank as usize].is_on();
            let goes_on = self.plan.rules.heat.off == HeatOff::Never && self.plan.rules.heat.unattended;
            if on && goes_on && self.tanks[tank as usize].heat.temperature() > HOT {
                let until = self.back_on_duty();
                self.note(|| Event::LeftAlone { tank: station, until });
            } else if on && self.tanks[tank as usize].inside.is_empty() {
                self.switch_off(tank);
            }
            self.sample(tank);
            self.expect_heat(tank);
        }
    }

    // ----- loads -----

    /// A load goes into the bath: lid off, its cold is mixed in. Returns how long it is to stay.
    pub(super) fn enter_bath(&mut self, tank: u32, load: u32) -> Span {
        self.touch(tank);
        self.sample(tank);
        let (work, room) = (self.work(load), self.shop.air.temperature);
        let grows = matches!(
            self.shop.baths[self.tanks[tank as usize].bath.index()].coat,
            CoatRule::Target(_)
        );
        let t = &mut self.tanks[tank as usize];
        t.inside.push(load);
        t.heat.add_load(&work, room);
        t.heat.set_growth(grows.then_some(&Growth::DEFAULT));
        self.set_lid(tank);
        let stay = self.dwell(tank, load);
        self.renew(tank);
        stay
    }

    fn work(&self, load: u32) -> Work {
        let l = &self.loads[load];
        let mass = l.bulk[1].max(1e-9);
        let heat = SolidHeat::constant(HeatCapacity::joules_per_kilogram_kelvin(l.heat / mass));
        Work {
            mass: Mass::kilograms(mass),
            heat,
        }
    }

    pub(super) fn lift_from_bath(&mut self, tank: u32, load: u32) {
        self.touch(tank);
        let work = self.work(load);
        let t = &mut self.tanks[tank as usize];
        t.inside.retain(|&l| l != load);
        t.heat.remove_load(&work);
        if t.inside.is_empty() {
            t.heat.set_growth(None);
        }
        self.set_lid(tank);
        let t = &self.tanks[tank as usize];
        let last =
            t.inside.is_empty() && !self.expects_work(tank) && self.plan.rules.heat.off == HeatOff::AfterLast;
        let closed = t.inside.is_empty()
            && !self.on_duty
            && self.now >= self.last_close
            && !self.plan.rules.heat.unattended;
        if (last || closed) && t.is_on() {
            self.switch_off(tank);
        } else {
            self.renew(tank);
        }
    }

    // ----- water -----

    fn full(&self, tank: u32) -> Volume {
        self.heat[tank as usize].full() / crate::bath::water::measuring_density()
    }

    fn low_mark(&self, tank: u32) -> Option<Volume> {
        let below = self.plan.rules.top_up.below.in_fraction();
        (below > 0.0).then(|| self.full(tank) * below)
    }

    fn is_low(&self, tank: u32) -> bool {
        let level = self.tanks[tank as usize].heat.volume();
        self.low_mark(tank)
            .is_some_and(|low| level.in_litres() <= low.in_litres() * (1.0 + 1e-9))
    }

    /// Whether hands should top it up now: low, empty, heated, and work to come.
    pub(super) fn wants_water(&mut self, tank: u32) -> bool {
        let t = &self.tanks[tank as usize];
        if t.topping.is_some() || !t.inside.is_empty() || !t.is_on() || self.low_mark(tank).is_none() {
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
        if !t.is_on() || t.topping.is_some() {
            return false;
        }
        self.touch(tank);
        let hot = at_least(
            self.tanks[tank as usize].heat.temperature(),
            self.band(tank).least,
        );
        hot && !(self.is_low(tank) && self.tanks[tank as usize].inside.is_empty())
    }

    // ----- the record -----

    pub(super) fn sample(&mut self, tank: u32) {
        if !W::WATCHES || !W::SAMPLES {
            return;
        }
        let t = &self.tanks[tank as usize];
        let mut heat = t.heat;
        heat.advance(&self.heat[tank as usize], self.now - t.at);
        let moved = t.sampled.is_none_or(|(last, heater)| {
            heater != heat.heater() || (heat.temperature() - last).in_kelvin().abs() >= 0.01
        });
        let inside = t.inside.iter().map(|&l| self.loads[l].heat).sum();
        let sample = sample_of(&heat, &self.heat[tank as usize], inside);
        let station = t.station;
        self.tanks[tank as usize].sampled = Some((sample.temperature, heat.heater()));
        self.note(|| Event::Bath {
            tank: station,
            sample: Box::new(sample),
        });
        if moved && self.tanks[tank as usize].looked_at <= self.now {
            self.look_again(tank, &heat);
        }
    }

    /// Looks again after a while, or just when the thermostat takes over.
    fn look_again(&mut self, tank: u32, heat: &Bath) {
        let table = &self.heat[tank as usize];
        let to_hold = match heat.heating(table) {
            Heating::Full => heat.time_until_temperature(table, self.band(tank).hold),
            _ => None,
        };
        let wait = to_hold.filter(|d| *d > Span::ZERO).map_or(LOOK, |d| d.min(LOOK));
        let at = self.now + wait;
        self.tanks[tank as usize].looked_at = at;
        self.agenda.schedule(at, super::engine::LOOKS, Due::Sample(tank));
    }

    pub(super) fn sample_due(&mut self, tank: u32) {
        self.sample(tank);
    }
}

/// The sample of a bath; `inside` is the heat capacity of the loads in it, J/K.
fn sample_of(heat: &Bath, table: &TankHeat, inside: f64) -> BathSample {
    let sums = heat.ledger();
    let held = Energy::joules(inside * heat.temperature().in_celsius());
    BathSample {
        temperature: heat.temperature(),
        volume: heat.water() / crate::bath::water::density(heat.temperature()),
        water: heat.water(),
        heater: match (heat.heater(), heat.heating(table)) {
            (Heater::Off, _) => HeaterState::Off,
            (_, Heating::Full) => HeaterState::Heating,
            _ => HeaterState::Holding,
        },
        lid: heat.lid() == Lid::On,
        drawn: heat.drawn(table),
        heated: sums.heater,
        lost: sums.lost,
        carried: sums.added_heat - sums.vapour_heat - sums.removed_heat,
        to_loads: sums.load_heat_out - sums.load_heat_in + held,
        evaporated: sums.evaporated,
        topped_up: sums.added,
        dragged_out: sums.removed,
    }
}

/// A threshold that was predicted is met up to rounding.
fn at_least(t: Temperature, least: Temperature) -> bool {
    t.in_celsius() >= least.in_celsius() - 1e-6
}

fn midnight(at: Moment) -> Moment {
    let (_, time) = at.day_and_time();
    at - time
}
