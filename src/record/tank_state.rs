//! What a tank is doing at every moment, as read from a record.

use super::event::{BathSample, HeaterState, LoadNo, LogEntry, Task, TaskKind};
use tankday_base::shop::StationId;
use tankday_base::units::Moment;

/// What a tank is doing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum TankState {
    /// Heater off.
    Off,
    /// On its way to the band for the first time since the heater went on.
    Heating,
    /// Hot, and nothing in it.
    Waiting,
    /// A load is in it.
    Coating(LoadNo),
    /// Coming back to the holding temperature after a load or a top-up.
    Recovering,
    /// Under care: topped up, replenished, filtered, renewed.
    Care,
}

/// A stretch of one state.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TankStretch {
    /// Its beginning.
    pub from: Moment,
    /// Its end, later than its beginning.
    pub to: Moment,
    /// What the tank was doing.
    pub state: TankState,
}

/// The states of one tank without gaps, followed along a record.
#[derive(Debug, Clone, Default)]
pub(super) struct States {
    now: Now,
    since: Option<Moment>,
    stretches: Vec<TankStretch>,
}

impl States {
    pub(super) fn note(&mut self, tank: StationId, at: Moment, event: &LogEntry) {
        let state = self.now.state();
        let since = *self.since.get_or_insert(at);
        self.now.note(tank, event);
        if self.now.state() != state {
            push(&mut self.stretches, since, at, state);
            self.since = Some(at);
        }
    }

    /// The last stretch ends with the record.
    pub(super) fn close(&mut self, end: Moment) {
        if let Some(since) = self.since {
            push(&mut self.stretches, since, end, self.now.state());
        }
    }

    pub(super) fn stretches(&self) -> &[TankStretch] {
        &self.stretches
    }
}

fn push(stretches: &mut Vec<TankStretch>, from: Moment, to: Moment, state: TankState) {
    if to <= from {
        return;
    }
    match stretches.last_mut() {
        Some(last) if last.state == state && last.to == from => last.to = to,
        _ => stretches.push(TankStretch { from, to, state }),
    }
}

/// What a tank is doing now, told event by event.
#[derive(Debug, Clone, Default)]
pub(super) struct Now {
    heater: Option<HeaterState>,
    been_in_band: bool,
    load: Option<LoadNo>,
    cared_for_by: Option<u32>,
    care: bool,
}

impl Now {
    pub(super) fn note(&mut self, tank: StationId, event: &LogEntry) {
        match *event {
            LogEntry::Bath { tank: t, ref sample } if t == tank => self.bath(sample),
            LogEntry::InBand { tank: t } if t == tank => self.been_in_band = true,
            LogEntry::WorkBegins { load, station, .. } if station == tank => self.load = Some(load),
            LogEntry::LiftBegins { load, station, .. } if station == tank && self.load == Some(load) => {
                self.load = None;
            }
            LogEntry::HandsTake {
                hand,
                task:
                    Task {
                        kind: TaskKind::TopUp,
                        station,
                        ..
                    },
            } if station == tank => {
                self.cared_for_by = Some(hand);
            }
            LogEntry::CareBegins { tank: t, .. } if t == tank => self.care = true,
            LogEntry::CareEnds { tank: t, .. } if t == tank => self.care = false,
            LogEntry::HandsFree { hand } if self.cared_for_by == Some(hand) => self.cared_for_by = None,
            _ => {}
        }
    }

    fn bath(&mut self, sample: &BathSample) {
        self.heater = Some(sample.heater);
        match sample.heater {
            HeaterState::Off => self.been_in_band = false,
            HeaterState::Holding => self.been_in_band = true,
            HeaterState::Heating => {}
        }
    }

    pub(super) fn state(&self) -> TankState {
        if let Some(load) = self.load {
            return TankState::Coating(load);
        }
        if self.care || self.cared_for_by.is_some() {
            return TankState::Care;
        }
        match self.heater {
            None | Some(HeaterState::Off) => TankState::Off,
            Some(HeaterState::Holding) => TankState::Waiting,
            Some(HeaterState::Heating) if self.been_in_band => TankState::Recovering,
            Some(HeaterState::Heating) => TankState::Heating,
        }
    }
}
