//! Tanks on the line: heaters and lids by the rules, charging, topping up, and what the bath tells the calendar.
//!
//! A bath is advanced only when something touches it ([`Baths::touch`]). Every touch renews the one event at which
//! the bath next crosses a threshold.

use super::Baths;
use super::care::Job;
use super::due::Track;
use super::{chem, tend};
use crate::day::{Day, Event};
use crate::ids::{LoadIx, Of, TankIx};
use crate::kernel::{ENDS, Handle};
use tankday_base::bath::chemistry::Chemistry;
use tankday_base::bath::tank::Geometry;
use tankday_base::bath::{Bath, Heater, Lid, TankHeat};
use tankday_base::shop::{BathId, LidRule, Shop, StationId};
use tankday_base::units::{Area, Energy, Mass, Moment, Power, Span, Strength, Temperature};
use tankday_record::LogEntry;

/// So often somebody looks at the level of a bath with a load in it.
const LOOKS: Span = Span::micros(20_000_000);

/// A load in a bath.
#[derive(Debug, Clone, Copy)]
pub(super) struct Inside {
    pub(super) load: LoadIx,
    /// Mass times heat capacity, J/K.
    pub(super) heat: f64,
    /// Conversion that the bath had summed when it went in.
    pub(super) entered: [f64; 2],
}

/// Loads that will still come to a bath.
#[derive(Debug, Clone)]
pub(super) struct Coming {
    /// Those in line included.
    pub(super) loads: i32,
    /// Of these, the ones whose looks do not matter.
    pub(super) scrap: i32,
    /// When the next look for company is on the calendar.
    pub(super) look: Moment,
}

/// How the heater of a tank is used.
#[derive(Debug, Clone)]
pub(super) struct HeaterUse {
    /// Its next switching-on, on the calendar.
    pub(super) heat_on: Option<Handle>,
    /// Since when it is on.
    pub(super) on_since: Moment,
    /// Since when it is off.
    pub(super) off_since: Moment,
    /// What it may draw, where others draw on the same supply; none for its rated power.
    pub(super) may_draw: Option<Power>,
    /// It was on when a break began that nobody stays for.
    pub(super) resumes: bool,
    /// The bath was in its band since it was switched on.
    pub(super) was_in_band: bool,
}

/// What the record has seen of a bath.
#[derive(Debug, Clone)]
pub(super) struct Seen {
    pub(super) sampled: Option<(Temperature, Heater)>,
    pub(super) looked_at: Moment,
}

/// What is done at a tank that is no care.
#[derive(Debug, Clone)]
pub(super) struct AtWork {
    /// Loads that are being put in.
    pub(super) filling: u32,
    /// It is topped up.
    pub(super) topping: bool,
}

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
    /// Time in which half of what is stirred up settles in it.
    pub(super) settling_half: Span,
    /// The moment up to which `heat` is advanced; at the start the first opening, or the first switching-on if that is
    /// earlier: the scenario's readings hold then.
    pub(super) at: Moment,
    /// When it next crosses a threshold, on the calendar.
    pub(super) next: Option<Handle>,
    pub(super) coming: Coming,
    /// Loads in it.
    pub(super) inside: Vec<Inside>,
    pub(super) hands: AtWork,
    pub(super) heater: HeaterUse,
    pub(super) seen: Seen,
    /// How each rule of care stands.
    pub(super) tracks: Vec<Track>,
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
pub(crate) fn tables(shop: &Shop) -> Of<TankIx, TankHeat> {
    shop.tanks()
        .map(|(_, _, tank)| TankHeat::new(tank, &shop.air))
        .collect()
}

impl Baths<'_> {
    pub(crate) fn make_tanks(&mut self, day: &mut Day<'_>) {
        let shop = self.shop;
        for ((station, _, tank), table) in shop.tanks().zip(self.heat) {
            let heat = Bath::new(table, tank.volume, tank.temperature);
            self.tanks.push(Tank {
                bath: tank.bath,
                station,
                chemistry: chem::start(&shop.baths[tank.bath.index()], &heat),
                evaporated: Mass::ZERO,
                settling_half: tend::half_life(
                    &shop.baths[tank.bath.index()].chemistry,
                    Geometry::new(tank.inside, tank.fill).depth,
                ),
                heat,
                at: day.next_opening(day.now()).unwrap_or(day.now()),
                next: None,
                coming: Coming {
                    loads: 0,
                    scrap: 0,
                    look: Moment::ZERO,
                },
                inside: Vec::new(),
                hands: AtWork {
                    filling: 0,
                    topping: false,
                },
                heater: HeaterUse {
                    heat_on: None,
                    on_since: Moment::ZERO,
                    off_since: Moment::ZERO,
                    may_draw: None,
                    resumes: false,
                    was_in_band: false,
                },
                seen: Seen {
                    sampled: None,
                    looked_at: Moment::ZERO,
                },
                tracks: vec![Track::default(); shop.rules.care.len()],
                care: None,
            });
        }
        for tank in self.tanks.ids() {
            let lid = if self.plan.rules.heat.lid == LidRule::Never {
                Lid::Off
            } else {
                Lid::On
            };
            self.tanks[tank].heat.set_lid(lid);
            self.sample(day, tank);
            self.expect_heat(day, tank);
        }
    }

    /// Brings a bath up to now.
    pub(super) fn touch(&mut self, day: &Day<'_>, tank: TankIx) {
        let t = &mut self.tanks[tank];
        let passed = day.now() - t.at;
        if passed > Span::ZERO {
            t.heat.advance(&self.heat[tank], passed);
            t.at = day.now();
            t.follow(&self.shop.baths[t.bath.index()], passed);
        }
    }

    /// Total acid of the bath in a tank.
    pub(crate) fn strength(&self, tank: TankIx) -> Strength {
        let t = &self.tanks[tank];
        match &t.chemistry {
            Some(chemistry) => chemistry.total_acid(),
            None => self.shop.baths[t.bath.index()].now.total_acid,
        }
    }

    pub(super) fn band(&self, tank: TankIx) -> tankday_base::shop::Band {
        self.shop.baths[self.tanks[tank].bath.index()].band
    }

    /// Renews the event at which the bath next crosses a threshold, and tells the watcher how it stands.
    pub(super) fn renew(&mut self, day: &mut Day<'_>, tank: TankIx) {
        self.supply_moved = true;
        let table = &self.heat[tank];
        let (band, reaching) = (self.band(tank), self.reaching(tank));
        // A bath that is low already has told so; it only waits for hands.
        let low = self.due_mark(tank).filter(|_| !self.is_low(tank));
        let past = reaching.is_some_and(|to| self.is_past(tank, to));
        let to_cut = self.until_cut_off(tank);
        let t = &mut self.tanks[tank];
        if let Some(old) = t.next.take() {
            day.cancel(old);
        }
        if let Some(to) = reaching {
            let wait = if past {
                Some(Span::micros(1))
            } else {
                t.heat.time_until_temperature(table, to)
            };
            t.next = [wait, to_cut]
                .into_iter()
                .flatten()
                .min()
                .map(|d| day.schedule(day.now() + d.max(Span::micros(1)), ENDS, Event::Bath(tank)));
            return self.sample(day, tank);
        }
        let on = t.is_on();
        let cold = on && !at_least(t.heat.temperature(), band.least);
        let to_band = if cold {
            t.heat.time_until_temperature(table, band.least)
        } else {
            None
        };
        let sinking = low.filter(|_| on);
        // Beside a load nobody looks oftener than this.
        let soonest = if t.inside.is_empty() { Span::ZERO } else { LOOKS };
        let to_low = sinking.and_then(|v| t.heat.time_until_volume(table, v));
        let to_low = to_low.map(|d| d.max(soonest));
        // Where heaters share a supply, one that holds leaves more to the others.
        let to_hold = match t.heat.heater() {
            Heater::Keep(set) if self.shop.supply.is_some() && !at_least(t.heat.temperature(), set) => {
                t.heat.time_until_temperature(table, set)
            }
            _ => None,
        };
        let next = [to_band, to_low, to_hold, to_cut].into_iter().flatten().min();
        t.next = next.map(|d| day.schedule(day.now() + d.max(Span::micros(1)), ENDS, Event::Bath(tank)));
        self.sample(day, tank);
    }

    pub(crate) fn bath_due(&mut self, day: &mut Day<'_>, tank: TankIx) {
        self.tanks[tank].next = None;
        self.touch(day, tank);
        let least = self.band(tank).least;
        let t = &mut self.tanks[tank];
        if !t.heater.was_in_band && at_least(t.heat.temperature(), least) {
            t.heater.was_in_band = true;
            let station = t.station;
            day.note(|| LogEntry::InBand { tank: station });
        }
        if self.tanks[tank].is_on() && self.is_cut_off(tank) {
            self.cut_off(day, tank);
        } else {
            self.renew(day, tank);
        }
        self.care_reached(day, tank);
        self.mark_tank(day, tank);
    }

    pub(super) fn mark_tank(&mut self, day: &mut Day<'_>, tank: TankIx) {
        let station = self.tanks[tank].station;
        day.mark(station);
    }

    /// Whether a bath may still open up what waits.
    pub(crate) fn tank_may_help(&self, day: &Day<'_>) -> bool {
        self.tanks.iter().any(|t| {
            t.next.is_some() || t.heater.heat_on.is_some() || t.coming.look > day.now() || t.care.is_some()
        })
    }

    /// What a tank is filled with.
    pub(crate) fn bath_in(&self, tank: TankIx) -> BathId {
        self.tanks[tank].bath
    }

    /// A last look at the baths; and what all heaters drew.
    pub(crate) fn drawn_in_all(&mut self, day: &mut Day<'_>) -> Energy {
        for tank in self.tanks.ids() {
            self.sample(day, tank);
        }
        let mut drawn = Energy::ZERO;
        for (t, table) in self.tanks.iter().zip(self.heat) {
            let mut heat = t.heat;
            heat.advance(table, (day.now() - t.at).max(Span::ZERO));
            drawn += heat.drawn(table);
        }
        drawn
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
