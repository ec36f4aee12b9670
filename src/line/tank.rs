//! Tanks on the line: heaters and lids by the rules, charging, topping up, and what the bath tells the calendar.
//!
//! A bath is advanced only when something touches it ([`Engine::touch`]). Every touch renews the one event at which
//! the bath next crosses a threshold.

use super::care::{Job, Track};
use super::engine::{Due, Engine};
use super::{chem, tend};
use crate::kernel::{ENDS, Handle};
use tankday_base::bath::chemistry::Chemistry;
use tankday_base::bath::tank::Geometry;
use tankday_base::bath::{Bath, Heater, Lid, Load as Work, SolidHeat, TankHeat};
use tankday_base::shop::{BathId, CoatsFrom, HeatOff, LidRule, Shop, StationId, Trigger};
use tankday_base::units::{Area, HeatCapacity, Mass, Moment, Power, Span, Strength, Temperature};
use tankday_record::Event;

/// One tank under way.
#[derive(Debug, Clone)]
pub(super) struct Tank {
    pub(super) bath: BathId,
    pub(super) station: StationId,
    pub(super) heat: Bath,
    /// None where the bath does not wear.
    pub(super) chemistry: Option<Chemistry>,
    /// What had evaporated when the chemistry was last brought up.
    pub(super) evaporated: Mass,
    /// The moment up to which `heat` is advanced; at the start the first opening, or the first switching-on if that is
    /// earlier: the scenario's readings hold then.
    pub(super) at: Moment,
    /// Loads that will still come to this bath, those in line included.
    pub(super) coming: i32,
    /// Of these, the ones whose looks do not matter.
    pub(super) scrap_coming: i32,
    /// Loads in it.
    pub(super) inside: Vec<u32>,
    /// The hands that top it up.
    pub(super) topping: Option<u32>,
    pub(super) was_in_band: bool,
    pub(super) next: Option<Handle>,
    pub(super) looked_at: Moment,
    /// When the next look for company is on the calendar.
    pub(super) look: Moment,
    pub(super) heat_on: Option<Handle>,
    pub(super) sampled: Option<(Temperature, Heater)>,
    /// How each rule of care stands.
    pub(super) tracks: Vec<Track>,
    /// Since when the heater is on.
    pub(super) on_since: Moment,
    /// What it may draw, where others draw on the same supply; none for its rated power.
    pub(super) may_draw: Option<Power>,
    /// Since when the heater is off.
    pub(super) off_since: Moment,
    /// Time in which half of what is stirred up settles in it.
    pub(super) settling_half: Span,
    /// Its heater was on when a break began that nobody stays for.
    pub(super) resumes: bool,
    /// Care under way.
    pub(super) care: Option<Job>,
}

impl Tank {
    /// A load has been coated.
    pub(super) fn worked(&mut self, area: Area) {
        for track in &mut self.tracks {
            track.loads += 1;
            track.area += area;
            track.stale = false;
        }
    }

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

impl Engine<'_> {
    pub(super) fn make_tanks(&mut self) {
        let shop = self.shop;
        for ((station, _, tank), table) in shop.tanks().zip(self.heat) {
            let heat = Bath::new(table, tank.volume, tank.temperature);
            self.tanks.push(Tank {
                bath: tank.bath,
                station,
                chemistry: chem::start(&shop.baths[tank.bath.index()], &heat),
                evaporated: Mass::ZERO,
                heat,
                at: self.day.next_opening(self.day.now()).unwrap_or(self.day.now()),
                coming: 0,
                scrap_coming: 0,
                inside: Vec::new(),
                topping: None,
                was_in_band: false,
                next: None,
                looked_at: Moment::ZERO,
                look: Moment::ZERO,
                heat_on: None,
                sampled: None,
                tracks: vec![Track::default(); shop.rules.care.len()],
                on_since: Moment::ZERO,
                may_draw: None,
                off_since: Moment::ZERO,
                settling_half: tend::half_life(
                    &shop.baths[tank.bath.index()].chemistry,
                    Geometry::new(tank.inside, tank.fill).depth,
                ),
                resumes: false,
                care: None,
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
        let passed = self.day.now() - t.at;
        if passed > Span::ZERO {
            t.heat.advance(&self.heat[tank as usize], passed);
            t.at = self.day.now();
            t.follow(&self.shop.baths[t.bath.index()], passed);
        }
    }

    /// Total acid of the bath in a tank.
    pub(super) fn strength(&self, tank: u32) -> Strength {
        let t = &self.tanks[tank as usize];
        match &t.chemistry {
            Some(chemistry) => chemistry.total_acid(),
            None => self.shop.baths[t.bath.index()].now.total_acid,
        }
    }

    pub(super) fn band(&self, tank: u32) -> tankday_base::shop::Band {
        self.shop.baths[self.tanks[tank as usize].bath.index()].band
    }

    /// Renews the event at which the bath next crosses a threshold, and tells the watcher how it stands.
    pub(super) fn renew(&mut self, tank: u32) {
        self.supply_moved = true;
        let table = &self.heat[tank as usize];
        let (band, reaching) = (self.band(tank), self.reaching(tank));
        // A bath that is low already has told so; it only waits for hands.
        let low = self.low_mark(tank).filter(|_| !self.is_low(tank));
        let past = reaching.is_some_and(|to| self.is_past(tank, to));
        let to_cut = self.until_cut_off(tank);
        let t = &mut self.tanks[tank as usize];
        if let Some(old) = t.next.take() {
            self.day.cancel(old);
        }
        if let Some(to) = reaching {
            let wait = if past {
                Some(Span::micros(1))
            } else {
                t.heat.time_until_temperature(table, to)
            };
            t.next = [wait, to_cut].into_iter().flatten().min().map(|d| {
                self.day
                    .schedule(self.day.now() + d.max(Span::micros(1)), ENDS, Due::Bath(tank))
            });
            return self.sample(tank);
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
        // Where heaters share a supply, one that holds leaves more to the others.
        let to_hold = match t.heat.heater() {
            Heater::Keep(set) if self.shop.supply.is_some() && !at_least(t.heat.temperature(), set) => {
                t.heat.time_until_temperature(table, set)
            }
            _ => None,
        };
        let next = [to_band, to_low, to_hold, to_cut].into_iter().flatten().min();
        t.next = next.map(|d| {
            self.day
                .schedule(self.day.now() + d.max(Span::micros(1)), ENDS, Due::Bath(tank))
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
            self.day.note(|| Event::InBand { tank: station });
        }
        if self.tanks[tank as usize].is_on() && self.is_cut_off(tank) {
            self.cut_off(tank);
        } else {
            self.renew(tank);
        }
        self.care_reached(tank);
        self.mark_tank(tank);
    }

    pub(super) fn mark_tank(&mut self, tank: u32) {
        let station = self.tanks[tank as usize].station.0;
        self.day.mark(station);
    }

    /// Whether a bath may still open up what waits.
    pub(super) fn tank_may_help(&self) -> bool {
        self.tanks
            .iter()
            .any(|t| t.next.is_some() || t.heat_on.is_some() || t.look > self.day.now() || t.care.is_some())
    }

    /// A load goes into the bath: lid off, its cold is mixed in. Returns how long it is to stay.
    pub(super) fn enter_bath(&mut self, tank: u32, load: u32) -> Span {
        self.touch(tank);
        self.sample(tank);
        let (work, room) = (self.work(load), self.shop.air.temperature);
        let growth = self.growth(tank);
        let t = &mut self.tanks[tank as usize];
        t.inside.push(load);
        t.heat.add_load(&work, room);
        t.heat.set_growth(Some(&growth));
        self.loads[load].entered = CoatsFrom::ALL.map(|from| t.heat.conversion_on(from));
        self.set_lid(tank);
        self.supply_moved = true;
        self.share_supply();
        let stay = self.dwell(tank, load);
        self.renew(tank);
        stay
    }

    pub(super) fn work(&self, load: u32) -> Work {
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
        self.book_coating(tank, load);
        let t = &mut self.tanks[tank as usize];
        t.inside.retain(|&l| l != load);
        t.heat.remove_load(&work);
        if t.inside.is_empty() {
            t.heat.set_growth(None);
        }
        self.set_lid(tank);
        let t = &self.tanks[tank as usize];
        let done_for_today = t.inside.is_empty() && !self.expects_load(tank);
        let last = self.plan.rules.heat.off == HeatOff::AfterLast
            && (done_for_today || t.inside.is_empty() && self.keeps_all_back(tank));
        // As at closing: it stays on only where the rules never switch it off, and only if it may be left alone or somebody stays.
        let rules = &self.plan.rules.heat;
        let goes_on = rules.off == HeatOff::Never && (rules.unattended || self.day.away().is_none());
        let closed = t.inside.is_empty() && !self.day.on_duty() && self.day.is_over() && !goes_on;
        if done_for_today {
            self.call_care(tank, |w| w == Trigger::AfterLast);
        }
        if closed {
            self.call_care(tank, |w| w == Trigger::Overnight);
        }
        self.call_planned(tank, load);
        let t = &self.tanks[tank as usize];
        let (on, idle) = (t.is_on(), t.inside.is_empty() && t.care.is_none());
        if (last || closed) && on {
            self.switch_off(tank);
        } else if on && idle && self.rests(tank) {
            // It is heated again for the next loads.
        } else if on && self.is_cut_off(tank) {
            // What the load carries out was the last that the heater had over it.
            self.cut_off(tank);
        } else {
            self.renew(tank);
        }
        self.leave(tank);
        self.others_stand_idle(tank);
    }

    /// The last load of the day was lifted here: another tank that stood hot for it is switched off too.
    fn others_stand_idle(&mut self, tank: u32) {
        if self.plan.rules.heat.off != HeatOff::AfterLast {
            return;
        }
        for other in 0..self.tanks.len() as u32 {
            let t = &self.tanks[other as usize];
            let busy = !t.inside.is_empty() || t.care.is_some() || t.topping.is_some();
            if other != tank && t.is_on() && !busy && !self.expects_load(other) {
                self.touch(other);
                self.call_care(other, |w| w == Trigger::AfterLast);
                self.switch_off(other);
            }
        }
    }
}

/// A threshold that was predicted is met up to rounding.
pub(super) fn at_least(t: Temperature, least: Temperature) -> bool {
    t.in_celsius() >= least.in_celsius() - 1e-6
}

pub(super) fn midnight(at: Moment) -> Moment {
    let (_, time) = at.day_and_time();
    at - time
}
