//! Tanks: heat-up, temperatures, what they did all day, power and water.

use crate::event::{HeaterState, LogEntry};
use crate::tank_state::{TankState, TankStretch, tank_states};
use crate::watch::Record;
use tankday_base::shop::{Shop, StationId};
use tankday_base::units::{Energy, Moment, Share, Span, Temperature, Volume};

/// What a tank did in the opening hours, as shares of them; they add up to one.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct TankShares {
    /// On its way to the band.
    pub heating: Share,
    /// Hot and empty.
    pub waiting: Share,
    /// A load in it.
    pub coating: Share,
    /// Coming back to temperature, empty.
    pub recovering: Share,
    /// Topped up.
    pub care: Share,
    /// Heater off.
    pub off: Share,
}

/// A tank as it went.
#[derive(Debug, Clone, PartialEq)]
pub struct TankFigure {
    /// Which.
    pub tank: StationId,
    /// From switching on to the least temperature of the band, the first time; none if it never got there.
    pub heat_up: Option<Span>,
    /// When the heater first went on.
    pub heater_on: Option<Moment>,
    /// When the heater last went off.
    pub heater_off: Option<Moment>,
    /// When the band was first reached.
    pub in_band: Option<Moment>,
    /// Lowest temperature from there on, while the heater was on.
    pub lowest: Option<Temperature>,
    /// What it did in the opening hours.
    pub shares: TankShares,
    /// Drawn from the supply.
    pub energy: Energy,
    /// Topped up.
    pub top_up: Volume,
    /// Times that it was topped up.
    pub top_ups: u32,
}

pub(super) fn of(shop: &Shop, record: &Record) -> Vec<TankFigure> {
    shop.tanks().map(|(id, ..)| one(shop, record, id)).collect()
}

fn one(shop: &Shop, record: &Record, tank: StationId) -> TankFigure {
    let mut figure = TankFigure {
        tank,
        heat_up: None,
        heater_on: None,
        heater_off: None,
        in_band: None,
        lowest: None,
        shares: shares(shop, record, &tank_states(record, tank)),
        energy: Energy::ZERO,
        top_up: Volume::ZERO,
        top_ups: 0,
    };
    let mut hot = Hot::default();
    for entry in &record.entries {
        read(&mut figure, &mut hot, entry.at, &entry.event);
    }
    figure
}

/// Whether the heater is on, and whether the band was reached since.
#[derive(Default)]
struct Hot {
    heater: bool,
    reached: bool,
}

fn read(figure: &mut TankFigure, hot: &mut Hot, at: Moment, event: &LogEntry) {
    match event {
        LogEntry::Bath { tank, sample } if *tank == figure.tank => {
            let on = sample.heater != HeaterState::Off;
            match (hot.heater, on) {
                (false, true) => figure.heater_on = figure.heater_on.or(Some(at)),
                (true, false) => figure.heater_off = Some(at),
                _ => {}
            }
            hot.heater = on;
            hot.reached &= on;
            if hot.reached {
                let low = figure
                    .lowest
                    .map_or(sample.temperature, |low| low.min(sample.temperature));
                figure.lowest = Some(low);
            }
            figure.energy = sample.drawn;
        }
        LogEntry::InBand { tank } if *tank == figure.tank => {
            hot.reached = true;
            if figure.in_band.is_none() {
                figure.in_band = Some(at);
                figure.heat_up = figure.heater_on.map(|on| at - on);
            }
        }
        LogEntry::ToppedUp { tank, volume } if *tank == figure.tank => {
            figure.top_up += *volume;
            figure.top_ups += 1;
        }
        _ => {}
    }
}

fn shares(shop: &Shop, record: &Record, stretches: &[TankStretch]) -> TankShares {
    let last = record.entries.last().map_or(Moment::ZERO, |e| e.at);
    let mut sums = [Span::ZERO; 6];
    let mut open = Span::ZERO;
    for day in &shop.calendar.days {
        let close = if day.close == Moment::NEVER {
            last
        } else {
            day.close
        };
        open += close.max(day.open) - day.open;
        for stretch in stretches {
            let (from, to) = (stretch.from.max(day.open), stretch.to.min(close));
            if let (Some(sum), true) = (sums.get_mut(place(stretch.state)), to > from) {
                *sum += to - from;
            }
        }
    }
    let share = |sum: Span| {
        let whole = open.in_seconds();
        Share::fraction(if whole > 0.0 {
            sum.in_seconds() / whole
        } else {
            0.0
        })
    };
    // What the record does not reach is off: it ends when nothing can happen any more.
    let [heating, waiting, coating, recovering, care, _] = sums;
    let off = open - (heating + waiting + coating + recovering + care);
    TankShares {
        heating: share(heating),
        waiting: share(waiting),
        coating: share(coating),
        recovering: share(recovering),
        care: share(care),
        off: share(off),
    }
}

fn place(state: TankState) -> usize {
    match state {
        TankState::Heating => 0,
        TankState::Waiting => 1,
        TankState::Coating(_) => 2,
        TankState::Recovering => 3,
        TankState::Care => 4,
        TankState::Off => 5,
    }
}
