//! A record written by hand, so that the pictures of it change only when the pictures do: two orders, one tank, one pair
//! of hands. A1 (400 screws) is ready on time, A2 ten minutes late.

use crate::made_shop::{BENCH, TANK, clock, order, shop};
use tankday::record::{BathSample, HeaterState, LoadNo, LogEntry, Observer, OrderNo, Record, Task, TaskKind};
use tankday::shop::{OrderId, RouteId, Shop, StationId, StepIx, StepRef};
use tankday::units::{Energy, Mass, Moment, Span, Temperature, Volume};

/// The shop of [`two_loads`].
pub(crate) fn two_orders() -> Shop {
    let mut late = order("A2");
    late.due_after = Some(Span::whole_minutes(110));
    shop(1, 1, vec![order("A1"), late])
}

fn at(hour: i64, minute: i64) -> Moment {
    clock(0, hour, minute)
}

fn step(index: u32) -> StepRef {
    StepRef {
        route: RouteId(0),
        step: StepIx(index),
    }
}

/// The day as it is written down.
#[derive(Default)]
struct Written(Record);

impl Written {
    fn note(&mut self, when: Moment, event: LogEntry) {
        self.0.note(when, event);
    }

    fn comes(&mut self, no: u32) {
        let (order, load, pieces) = (OrderNo(no), LoadNo(no), 400);
        let source = OrderId(no);
        self.note(
            at(7, 30),
            LogEntry::OrderArrives {
                order,
                source,
                nth: 1,
                pieces,
            },
        );
        self.note(at(7, 30), LogEntry::LoadMade { load, order, pieces });
    }

    fn bath(&mut self, when: Moment, celsius: f64, heater: HeaterState) {
        let sample = BathSample {
            temperature: Temperature::celsius(celsius),
            volume: Volume::litres(20.0),
            water: Mass::kilograms(19.0),
            heater,
            lid: false,
            drawn: Energy::ZERO,
            heated: Energy::ZERO,
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
        );
    }

    fn hands(&mut self, from: Moment, kind: TaskKind, load: u32, index: u32, station: StationId) {
        let load = Some((LoadNo(load), step(index)));
        self.note(
            from,
            LogEntry::HandsTake {
                hand: 0,
                task: Task {
                    kind,
                    station,
                    load,
                    vessel: None,
                },
            },
        );
    }

    fn begins(&mut self, when: Moment, load: u32, index: u32, station: StationId, minutes: i64) {
        let (load, step, planned) = (LoadNo(load), step(index), Span::whole_minutes(minutes));
        self.note(
            when,
            LogEntry::WorkBegins {
                load,
                step,
                station,
                planned,
                most: None,
            },
        );
    }

    fn leaves(&mut self, when: Moment, load: u32, index: u32, station: StationId) {
        let (load, step) = (LoadNo(load), step(index));
        self.note(when, LogEntry::PlaceFree { load, station });
        self.note(when, LogEntry::StepDone { load, step, station });
        self.note(when, LogEntry::HandsFree { hand: 0 });
    }

    /// Under hands from beginning to end.
    fn work(&mut self, load: u32, index: u32, station: StationId, from: Moment, minutes: i64) {
        let to = from + Span::whole_minutes(minutes);
        self.hands(from, TaskKind::Work, load, index, station);
        self.note(
            from,
            LogEntry::SetIn {
                load: LoadNo(load),
                step: step(index),
                station,
            },
        );
        self.begins(from, load, index, station, minutes);
        self.note(
            to,
            LogEntry::WorkEnds {
                load: LoadNo(load),
                step: step(index),
                station,
            },
        );
        self.note(
            to,
            LogEntry::LiftBegins {
                load: LoadNo(load),
                step: step(index),
                station,
            },
        );
        self.leaves(to, load, index, station);
    }

    /// By itself, put in and taken out by hand, two minutes each; lifted so long after the work is done.
    fn alone(
        &mut self,
        load: u32,
        index: u32,
        station: StationId,
        from: Moment,
        (minutes, late): (i64, i64),
    ) {
        let two = Span::whole_minutes(2);
        let (no, begins) = (LoadNo(load), from + two);
        let done = begins + Span::whole_minutes(minutes);
        let lift = done + Span::whole_minutes(late);
        self.hands(from, TaskKind::PutIn, load, index, station);
        self.note(
            from,
            LogEntry::SetIn {
                load: no,
                step: step(index),
                station,
            },
        );
        self.begins(begins, load, index, station, minutes);
        self.note(begins, LogEntry::HandsFree { hand: 0 });
        self.note(
            done,
            LogEntry::WorkEnds {
                load: no,
                step: step(index),
                station,
            },
        );
        self.hands(lift, TaskKind::TakeOut, load, index, station);
        self.note(
            lift,
            LogEntry::LiftBegins {
                load: no,
                step: step(index),
                station,
            },
        );
        self.leaves(lift + two, load, index, station);
    }

    fn ready(&mut self, no: u32, when: Moment) {
        self.note(when, LogEntry::LoadReady { load: LoadNo(no) });
        self.note(when, LogEntry::OrderReady { order: OrderNo(no) });
    }

    fn top_up(&mut self, from: Moment) {
        let (kind, to) = (TaskKind::TopUp, from + Span::whole_minutes(6));
        self.note(
            from,
            LogEntry::HandsTake {
                hand: 0,
                task: Task {
                    kind,
                    station: TANK,
                    load: None,
                    vessel: None,
                },
            },
        );
        self.bath(to, 95.0, HeaterState::Holding);
        self.note(
            to,
            LogEntry::ToppedUp {
                tank: TANK,
                volume: Volume::litres(1.2),
            },
        );
        self.note(to, LogEntry::HandsFree { hand: 0 });
        self.bath(to, 90.5, HeaterState::Heating);
    }
}

/// The record; its entries are put in order of time at the end.
pub(crate) fn two_loads() -> Record {
    const SINK: StationId = StationId(0);
    const BLAST: StationId = StationId(1);
    let mut day = Written::default();
    day.bath(at(7, 30), 19.0, HeaterState::Off);
    day.note(at(7, 30), LogEntry::Opens);
    day.comes(0);
    day.comes(1);
    day.bath(at(7, 30), 19.0, HeaterState::Heating);
    day.alone(0, 0, SINK, at(7, 30), (8, 0));
    day.work(0, 1, BLAST, at(7, 42), 18);
    day.alone(1, 0, SINK, at(8, 0), (8, 14));
    day.bath(at(8, 15), 88.0, HeaterState::Heating);
    day.note(at(8, 15), LogEntry::InBand { tank: TANK });
    day.bath(at(8, 20), 95.0, HeaterState::Holding);
    day.alone(0, 2, TANK, at(8, 20), (20, 0));
    day.bath(at(8, 22), 95.0, HeaterState::Holding);
    day.bath(at(8, 22), 93.5, HeaterState::Heating);
    day.bath(at(8, 25), 95.0, HeaterState::Holding);
    day.work(0, 6, BENCH, at(8, 44), 11);
    day.ready(0, at(8, 55));
    day.top_up(at(8, 55));
    day.bath(at(9, 7), 95.0, HeaterState::Holding);
    day.alone(1, 2, TANK, at(9, 4), (12, 0));
    day.bath(at(9, 18), 95.0, HeaterState::Off);
    day.work(1, 6, BENCH, at(9, 20), 10);
    day.ready(1, at(9, 30));
    for (hour, celsius) in [(10, 82.0), (11, 70.0), (12, 62.0), (14, 52.0), (17, 43.0)] {
        day.bath(at(hour, 0), celsius, HeaterState::Off);
    }
    day.note(at(17, 0), LogEntry::Closes);
    day.0.entries.sort_by_key(|entry| entry.at);
    day.0
}
