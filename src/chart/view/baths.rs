//! Tanks: states, temperatures, top-ups.

use super::Read;
use tankday_base::shop::{Band, StationId};
use tankday_base::units::{Moment, Temperature, Volume};
use tankday_record::{BathSample, HeaterState, TankLog, TankState};

/// A stretch of one state of a tank.
#[derive(Debug, Clone, PartialEq)]
pub struct TankBar {
    /// Its beginning.
    pub from: Moment,
    /// Its end.
    pub to: Moment,
    /// What the tank was doing.
    pub state: TankState,
    /// The load that is coated, as called in print.
    pub load: Option<String>,
}

/// One tank and its bath through the run.
#[derive(Debug, Clone, PartialEq)]
pub struct BathLine {
    /// The tank's name.
    pub name: String,
    /// Working temperatures.
    pub band: Band,
    /// States without gaps.
    pub bars: Vec<TankBar>,
    /// Temperatures, in order of time.
    pub temperatures: Vec<(Moment, Temperature)>,
    /// Top-ups.
    pub top_ups: Vec<(Moment, Volume)>,
    /// When the band was reached while heating.
    pub in_band: Vec<Moment>,
    /// From when on its heater is off for good; none where it never was on, or is on at the end.
    pub off_from: Option<Moment>,
}

impl BathLine {
    /// The stretches of heating up.
    pub fn heating(&self) -> impl Iterator<Item = &TankBar> {
        self.bars.iter().filter(|b| b.state == TankState::Heating)
    }

    /// How many loads it coated.
    #[must_use]
    pub fn loads(&self) -> usize {
        self.bars.iter().filter(|b| b.load.is_some()).count()
    }

    /// The lowest temperature with a load in it, and when.
    #[must_use]
    pub fn lowest_with_load(&self) -> Option<(Moment, Temperature)> {
        let mut bars = self.bars.iter().filter(|b| b.load.is_some()).peekable();
        let mut lowest: Option<(Moment, Temperature)> = None;
        for &(at, t) in &self.temperatures {
            while bars.peek().is_some_and(|b| b.to < at) {
                bars.next();
            }
            if bars.peek().is_some_and(|b| b.from <= at) && lowest.is_none_or(|(_, low)| t < low) {
                lowest = Some((at, t));
            }
        }
        lowest
    }

    /// When the heater went off for the last time; none where it never was on, or is on at the end. A tank that is under care
    /// after that has been off all the while.
    #[must_use]
    pub fn heat_ends(&self) -> Option<Moment> {
        self.off_from
    }
}

pub(super) fn of(read: &Read<'_>) -> Vec<BathLine> {
    let line = |(id, station, tank): (StationId, &tankday_base::shop::Station, &tankday_base::shop::Tank)| {
        let recipe = read.shop.baths.get(tank.bath.index())?;
        let log = read.all.tank(id)?;
        let samples = log.samples.iter();
        Some(BathLine {
            name: station.name.clone(),
            band: recipe.band,
            bars: bars(read, log),
            temperatures: samples.map(|(at, s)| (*at, s.temperature)).collect(),
            top_ups: read
                .all
                .top_ups
                .iter()
                .filter(|t| t.tank == id)
                .map(|t| (t.from, t.volume))
                .collect(),
            in_band: log.in_band.clone(),
            off_from: off_from(&log.samples),
        })
    };
    read.shop.tanks().filter_map(line).collect()
}

/// The first moment after the last one at which the heater is on.
fn off_from(samples: &[(Moment, BathSample)]) -> Option<Moment> {
    let last = samples.iter().rposition(|(_, s)| s.heater != HeaterState::Off)?;
    samples.get(last + 1).map(|(at, _)| *at)
}

fn bars(read: &Read<'_>, log: &TankLog) -> Vec<TankBar> {
    let bar = |s: &tankday_record::TankStretch| TankBar {
        from: s.from,
        to: s.to,
        state: s.state,
        load: match s.state {
            TankState::Coating(load) => Some(read.labels.at(load, s.from).to_owned()),
            _ => None,
        },
    };
    log.states().iter().map(bar).collect()
}
