//! Tanks: heat-up, temperatures, what they did all day, power and water.

use crate::analysis::{Analysis, TankLog};
use crate::event::{HeaterState, LogEntry};
use crate::tank_state::{TankState, TankStretch};
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

pub(super) fn of(read: &Analysis<'_>) -> Vec<TankFigure> {
    let one = |(heat, log): (&Heat, &TankLog)| TankFigure {
        shares: shares(read.shop, read.end, log.states()),
        ..heat.figure.clone()
    };
    read.watched.heats.iter().zip(&read.tanks).map(one).collect()
}

/// A tank's heater and band, followed along the record: whether the heater is on, and whether the band was reached since.
#[derive(Debug, Clone)]
pub(super) struct Heat {
    figure: TankFigure,
    heater: bool,
    reached: bool,
}

impl Heat {
    pub(super) fn of(tank: StationId) -> Self {
        Self {
            figure: TankFigure {
                tank,
                heat_up: None,
                heater_on: None,
                heater_off: None,
                in_band: None,
                lowest: None,
                shares: TankShares::default(),
                energy: Energy::ZERO,
                top_up: Volume::ZERO,
                top_ups: 0,
            },
            heater: false,
            reached: false,
        }
    }

    pub(super) fn note(&mut self, at: Moment, event: &LogEntry) {
        let figure = &mut self.figure;
        match event {
            LogEntry::Bath { tank, sample } if *tank == figure.tank => {
                let on = sample.heater != HeaterState::Off;
                match (self.heater, on) {
                    (false, true) => figure.heater_on = figure.heater_on.or(Some(at)),
                    (true, false) => figure.heater_off = Some(at),
                    _ => {}
                }
                self.heater = on;
                self.reached &= on;
                if self.reached {
                    let low = figure
                        .lowest
                        .map_or(sample.temperature, |low| low.min(sample.temperature));
                    figure.lowest = Some(low);
                }
                figure.energy = sample.drawn;
            }
            LogEntry::InBand { tank } if *tank == figure.tank => {
                self.reached = true;
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
}

fn shares(shop: &Shop, last: Moment, stretches: &[TankStretch]) -> TankShares {
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
