//! Days written down by hand.

use super::{BENCH, CABINET, TANK, at, min, step};
use crate::*;
use tankday_base::shop::{OrderId, StationId, StepRef};
use tankday_base::units::*;

/// A record written line by line.
#[derive(Default)]
pub struct Written(
    /// What is written so far.
    pub Record,
);

impl Written {
    /// Notes an event.
    pub fn note(&mut self, when: Moment, event: LogEntry) -> &mut Self {
        self.0.entries.push(Entry { at: when, event });
        self
    }

    /// How hot the bath of the tank is, its heater and what it has drawn, kWh.
    pub fn bath(&mut self, when: Moment, celsius: f64, heater: HeaterState, kwh: f64) -> &mut Self {
        let sample = BathSample {
            temperature: Temperature::celsius(celsius),
            volume: Volume::litres(20.0),
            water: Mass::kilograms(19.0),
            heater,
            lid: false,
            drawn: Energy::kilowatt_hours(kwh),
            heated: Energy::kilowatt_hours(kwh),
            lost: Energy::ZERO,
            carried: Energy::ZERO,
            to_loads: Energy::ZERO,
            evaporated: Mass::ZERO,
            topped_up: Mass::ZERO,
            dragged_out: Mass::ZERO,
            readings: None,
        };
        self.note(
            when,
            LogEntry::Bath {
                tank: TANK,
                sample: Box::new(sample),
            },
        )
    }

    fn hands(&mut self, when: Moment, kind: TaskKind, station: StationId, load: LoadNo, at: StepRef) {
        let task = Task {
            kind,
            station,
            load: Some((load, at)),
            vessel: None,
        };
        self.note(when, LogEntry::HandsTake { hand: 0, task });
    }

    /// Work under hands from one moment to another.
    pub fn work(&mut self, load: u32, index: u32, station: StationId, from: Moment, to: Moment) {
        let (load, step) = (LoadNo(load), step(index));
        self.hands(from, TaskKind::Work, station, load, step);
        self.note(from, LogEntry::SetIn { load, step, station });
        self.note(
            from,
            LogEntry::WorkBegins {
                load,
                step,
                station,
                planned: to - from,
                most: None,
            },
        );
        self.note(to, LogEntry::WorkEnds { load, step, station });
        self.note(to, LogEntry::LiftBegins { load, step, station });
        self.note(to, LogEntry::PlaceFree { load, station });
        self.note(to, LogEntry::StepDone { load, step, station });
        self.note(to, LogEntry::HandsFree { hand: 0 });
    }

    /// Into the tank in the minute before `from`.
    pub fn put_in(&mut self, load: u32, from: Moment) {
        let (load, step, begun) = (LoadNo(load), step(1), from - min(1));
        self.hands(begun, TaskKind::PutIn, TANK, load, step);
        self.note(
            begun,
            LogEntry::SetIn {
                load,
                step,
                station: TANK,
            },
        );
        self.note(
            from,
            LogEntry::WorkBegins {
                load,
                step,
                station: TANK,
                planned: min(12),
                most: Some(min(20)),
            },
        );
        self.note(from, LogEntry::HandsFree { hand: 0 });
    }

    /// The dwell is enough.
    pub fn coated(&mut self, load: u32, when: Moment) {
        self.note(
            when,
            LogEntry::WorkEnds {
                load: LoadNo(load),
                step: step(1),
                station: TANK,
            },
        );
    }

    /// Out of the tank in the minute from `from`.
    pub fn take_out(&mut self, load: u32, from: Moment) {
        let (load, step, over) = (LoadNo(load), step(1), from + min(1));
        self.hands(from, TaskKind::TakeOut, TANK, load, step);
        self.note(
            from,
            LogEntry::LiftBegins {
                load,
                step,
                station: TANK,
            },
        );
        self.note(over, LogEntry::PlaceFree { load, station: TANK });
        self.note(
            over,
            LogEntry::StepDone {
                load,
                step,
                station: TANK,
            },
        );
        self.note(over, LogEntry::HandsFree { hand: 0 });
    }

    /// A load waits at a step.
    pub fn waits(&mut self, load: u32, index: u32, when: Moment) {
        self.note(
            when,
            LogEntry::Waits {
                load: LoadNo(load),
                step: step(index),
            },
        );
    }

    /// An order comes.
    pub fn comes(&mut self, order: u32, pieces: u32) {
        let (no, when) = (OrderNo(order), at(7, 30));
        self.note(
            when,
            LogEntry::OrderArrives {
                order: no,
                source: OrderId(order),
                nth: 1,
                pieces,
            },
        );
        self.note(
            when,
            LogEntry::LoadMade {
                load: LoadNo(order),
                order: no,
                pieces,
            },
        );
        self.waits(order, 0, when);
    }

    /// An order is ready.
    pub fn ready(&mut self, order: u32, when: Moment) {
        self.note(when, LogEntry::LoadReady { load: LoadNo(order) });
        self.note(
            when,
            LogEntry::OrderReady {
                order: OrderNo(order),
            },
        );
    }
}

/// Two orders, one load each, worked out by hand:
///
/// | time | |
/// | --- | --- |
/// | 07:30 | opens, heater on; A1 is blasted until 07:50, then A2 until 08:10 |
/// | 08:15 | in the band; A1 goes in (1 min), dwell 08:16 to 08:28; out until 08:29, oiled until 08:32 |
/// | 08:29 | 90 °C, back at 95 °C at 08:40, but A2 goes in at 08:32, dwell 08:33 to 08:45; out 08:46, oiled until 08:49 |
pub fn two_loads() -> Record {
    let mut day = Written::default();
    day.bath(at(7, 30), 19.0, HeaterState::Off, 0.0);
    day.note(at(7, 30), LogEntry::Opens);
    day.comes(0, 16);
    day.comes(1, 60);
    day.bath(at(7, 30), 19.0, HeaterState::Heating, 0.0);
    day.work(0, 0, CABINET, at(7, 30), at(7, 50));
    day.waits(0, 1, at(7, 50));
    day.work(1, 0, CABINET, at(7, 50), at(8, 10));
    day.waits(1, 1, at(8, 10));
    day.bath(at(8, 15), 88.0, HeaterState::Heating, 1.875);
    day.note(at(8, 15), LogEntry::InBand { tank: TANK });
    day.put_in(0, at(8, 16));
    day.bath(at(8, 16), 86.5, HeaterState::Heating, 1.9);
    day.bath(at(8, 28), 90.0, HeaterState::Heating, 2.4);
    day.coated(0, at(8, 28));
    day.take_out(0, at(8, 28));
    day.waits(0, 2, at(8, 29));
    day.work(0, 2, BENCH, at(8, 29), at(8, 32));
    day.ready(0, at(8, 32));
    day.put_in(1, at(8, 33));
    day.bath(at(8, 33), 89.5, HeaterState::Heating, 2.6);
    day.bath(at(8, 40), 95.0, HeaterState::Holding, 2.9);
    day.coated(1, at(8, 45));
    day.take_out(1, at(8, 45));
    day.bath(at(8, 45), 95.0, HeaterState::Off, 3.0);
    day.waits(1, 2, at(8, 46));
    day.work(1, 2, BENCH, at(8, 46), at(8, 49));
    day.ready(1, at(8, 49));
    day.note(at(17, 0), LogEntry::Closes);
    day.0
}
