//! The thermal state of one bath, and what is done to it from outside.

use super::content::{Content, Solids};
use super::grow::Rate;
use super::ledger::{Balance, Ledger};
use super::load::Load;
use super::tank::Lid;
use super::tank_heat::TankHeat;
use super::water;
use crate::shop::{CoatsFrom, Growth};
use crate::units::{Energy, Mass, Power, Quantity, Temperature, Volume};

/// What the heater is told to do.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub enum Heater {
    /// Nothing.
    #[default]
    Off,
    /// Heat up to a temperature and keep it.
    Keep(Temperature),
}

/// What the heater is doing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Heating {
    /// No power: off, cut out in a dry tank, or waiting for a bath above its set point to cool.
    Idle,
    /// Full power, below the set point.
    Full,
    /// At the set point, replacing what is lost; the thermostat switches about it.
    Holding,
}

/// A bath: water, vessel and work at one temperature.
///
/// Work that is put in takes the temperature of the bath at once (adiabatic mixing); the lag of single pieces is
/// a function of its own, [`super::Lump`]. Volumes are counted cold, at 20 °C.
///
/// The state integrates heat, not temperature: a step changes the heat content by exactly what the ledger
/// books, and the temperature is found from the content, so [`Bath::balance`] is rounding at any moment.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bath {
    pub(super) celsius: f64,
    pub(super) water: f64,
    pub(super) solids: Solids,
    pub(super) vessel: Solids,
    loads: u32,
    limit: Temperature,
    /// What may arrive from the heater at most, W.
    allowed: f64,
    pub(super) heater: Heater,
    pub(super) lid: Lid,
    pub(super) rate: Rate,
    /// Of each of [`CoatsFrom::ALL`].
    pub(super) conversion: [f64; 2],
    pub(super) ledger: Ledger,
}

impl Bath {
    /// A bath of a volume at a temperature; heater off, lid off, no growth.
    #[must_use]
    pub fn new(tank: &TankHeat, volume: Volume, at: Temperature) -> Self {
        let at = at.min(tank.limit());
        let water = (water::measuring_density() * volume).max(Mass::ZERO);
        let start = Content::new(water.base(), &tank.vessel).heat(at.in_celsius());
        Self {
            celsius: at.in_celsius(),
            water: water.base(),
            solids: tank.vessel,
            vessel: tank.vessel,
            loads: 0,
            limit: tank.limit(),
            allowed: f64::INFINITY,
            heater: Heater::Off,
            lid: Lid::Off,
            rate: Rate::default(),
            conversion: [0.0; 2],
            ledger: Ledger {
                heat_at_start: Energy::joules(start),
                water_at_start: water,
                ..Ledger::default()
            },
        }
    }

    /// A bath that was found to be at a temperature: what that differs by is counted as if it had been there from the
    /// start, so that the balance still closes.
    pub fn read_as(&mut self, tank: &TankHeat, at: Temperature) {
        let content = Content::new(self.water, &self.solids);
        let before = content.heat(self.celsius);
        self.celsius = at.min(tank.limit()).in_celsius();
        let after = content.heat(self.celsius);
        self.ledger.heat_at_start += Energy::joules(after - before);
    }

    /// Its temperature.
    #[must_use]
    pub fn temperature(&self) -> Temperature {
        Temperature::celsius(self.celsius)
    }

    /// Its water.
    #[must_use]
    pub fn water(&self) -> Mass {
        Mass::kilograms(self.water)
    }

    /// Its volume, counted cold.
    #[must_use]
    pub fn volume(&self) -> Volume {
        self.water() / water::measuring_density()
    }

    /// What the heater is told to do.
    #[must_use]
    pub fn heater(&self) -> Heater {
        self.heater
    }

    /// Whether the lid is on.
    #[must_use]
    pub fn lid(&self) -> Lid {
        self.lid
    }

    /// Whether so little is left that the heater has cut out.
    #[must_use]
    pub fn is_dry(&self, tank: &TankHeat) -> bool {
        self.water <= tank.dry().base()
    }

    /// Conversion of the coating on plain steel since the start, the integral of dt / tau; a load's own share is the
    /// difference of two readings.
    #[must_use]
    pub fn conversion(&self) -> f64 {
        self.conversion_on(CoatsFrom::Steel)
    }

    /// The same on a material.
    #[must_use]
    pub fn conversion_on(&self, from: CoatsFrom) -> f64 {
        match from {
            CoatsFrom::Steel => self.conversion[0],
            CoatsFrom::CastIron => self.conversion[1],
        }
    }

    /// The sums since the start.
    #[must_use]
    pub fn ledger(&self) -> &Ledger {
        &self.ledger
    }

    /// Energy drawn from the mains since the start.
    #[must_use]
    pub fn drawn(&self, tank: &TankHeat) -> Energy {
        self.ledger.heater / tank.efficiency().in_fraction()
    }

    /// Power drawn from the mains at this moment; while holding, the mean over the thermostat's cycle.
    #[must_use]
    pub fn drawing(&self, tank: &TankHeat) -> Power {
        let arriving = match self.heating(tank) {
            Heating::Idle => Power::ZERO,
            Heating::Full => self.net_power(tank),
            Heating::Holding => tank.leaving(self.temperature(), self.lid).heat,
        };
        arriving / tank.efficiency().in_fraction()
    }

    /// What the bath holds less what the ledger says.
    #[must_use]
    pub fn balance(&self) -> Balance {
        Balance {
            heat: Energy::joules(self.content().heat(self.celsius)) - self.ledger.heat(),
            water: self.water() - self.ledger.water(),
        }
    }

    /// Tells the heater what to do. A set point above the tank's limit becomes the limit.
    pub fn switch(&mut self, heater: Heater) {
        self.heater = match heater {
            Heater::Keep(set) => Heater::Keep(set.min(self.limit)),
            Heater::Off => Heater::Off,
        };
    }

    /// Lets the heater draw so much from the mains and no more, whatever it is rated; none for its rated power.
    pub fn allow(&mut self, tank: &TankHeat, drawn: Option<Power>) {
        let arriving = |p: Power| p.base() * tank.efficiency().in_fraction();
        self.allowed = drawn.map_or(f64::INFINITY, arriving);
    }

    /// Power that arrives in the bath when the heater does what it may.
    pub(super) fn net_power(&self, tank: &TankHeat) -> Power {
        tank.net_power().min(Power::watts(self.allowed))
    }

    /// Puts the lid on or takes it off.
    pub fn set_lid(&mut self, lid: Lid) {
        self.lid = lid;
    }

    /// Sets the growth law whose conversion the bath sums from now on; none stops it.
    pub fn set_growth(&mut self, growth: Option<&Growth>) {
        self.rate = growth.map(Growth::rate).unwrap_or_default();
    }

    /// Puts work of a temperature in; it and the bath take a common temperature.
    pub fn add_load(&mut self, load: &Load, at: Temperature) {
        let held = self.content().heat(self.celsius);
        let brought = (load.mass * load.heat.heat_content(at)).base();
        self.solids.add(&load.heat, load.mass.base());
        self.loads += 1;
        self.ledger.load_heat_in += Energy::joules(brought);
        self.mix(held + brought);
    }

    /// Takes work out at the temperature of the bath, which stays as it is.
    pub fn remove_load(&mut self, load: &Load) {
        let taken = load.mass * load.heat.heat_content(self.temperature());
        self.ledger.load_heat_out += taken;
        self.loads = self.loads.saturating_sub(1);
        if self.loads == 0 {
            self.solids = self.vessel;
        } else {
            self.solids.add(&load.heat, -load.mass.base());
        }
    }

    /// Adds water of a temperature.
    pub fn top_up(&mut self, volume: Volume, at: Temperature) {
        let held = self.content().heat(self.celsius);
        let mass = (water::measuring_density() * volume).max(Mass::ZERO);
        let brought = mass * water::heat_content(at);
        self.water += mass.base();
        self.ledger.added += mass;
        self.ledger.added_heat += brought;
        self.mix(held + brought.base());
    }

    /// Takes bath away, as drag-out on work or with a dipper; at most what there is. Says how much it was.
    pub fn remove(&mut self, volume: Volume) -> Volume {
        let asked = water::measuring_density() * volume;
        let mass = asked.max(Mass::ZERO).min(self.water());
        self.water -= mass.base();
        self.ledger.removed += mass;
        self.ledger.removed_heat += mass * water::heat_content(self.temperature());
        mass / water::measuring_density()
    }

    pub(super) fn content(&self) -> Content {
        Content::new(self.water, &self.solids)
    }

    /// Takes the temperature that belongs to a heat content. What would carry the bath over its limit boils off
    /// as heat lost.
    fn mix(&mut self, heat: f64) {
        let content = self.content();
        self.celsius = content.temperature(heat, self.celsius);
        let limit = self.limit.in_celsius();
        if self.celsius > limit {
            self.celsius = limit;
            self.ledger.lost += Energy::joules(heat - content.heat(limit));
        }
    }
}
