//! A small shop and days written down by hand, for tests.

use crate::luck::Spread;
use crate::record::*;
use crate::shop::*;
use crate::units::*;

pub(crate) const CABINET: StationId = StationId(1);
pub(crate) const TANK: StationId = StationId(2);
pub(crate) const BENCH: StationId = StationId(3);

/// A clock time of the first day, `at(7, 30)`.
pub(crate) fn at(hour: i64, minute: i64) -> Moment {
    Moment::ZERO + Span::whole_minutes(60 * hour + minute)
}

pub(crate) fn min(minutes: i64) -> Span {
    Span::whole_minutes(minutes)
}

pub(crate) fn step(index: u32) -> StepRef {
    StepRef {
        route: RouteId(0),
        step: StepIx(index),
    }
}

fn station(name: &str, tank: Option<Tank>) -> Station {
    Station {
        name: name.into(),
        places: 1,
        together: 1,
        frees: Frees::WhenEmptied,
        tank,
    }
}

fn tank() -> Tank {
    let bare = Insulation {
        thickness: Length::ZERO,
        conductivity: Conductivity::watts_per_metre_kelvin(0.04),
    };
    Tank {
        bath: BathId(0),
        inside: Inside::Box {
            length: Length::centimetres(35.0),
            width: Length::centimetres(25.0),
            height: Length::centimetres(30.0),
        },
        fill: Volume::litres(20.0),
        volume: Volume::litres(20.0),
        temperature: Temperature::celsius(19.0),
        wall: Wall {
            material: WallMaterial::Stainless,
            insulation: bare,
            vessel: Mass::kilograms(4.0),
            bottom_loss: HeatTransfer::ZERO,
        },
        lid: LidKind::None,
        heater: Heater {
            power: Power::kilowatts(2.5),
            kind: HeaterKind::Immersion,
            efficiency: Share::fraction(1.0),
            swing: TempDiff::kelvin(2.0),
        },
        basket: Volume::ZERO,
        draught: 1.0,
    }
}

fn bath() -> BathRecipe {
    BathRecipe {
        name: "manganese".into(),
        band: Band {
            least: Temperature::celsius(88.0),
            hold: Temperature::celsius(95.0),
            most: Temperature::celsius(98.0),
        },
        room: Room {
            area: AreaPerVolume::square_decimetres_per_litre(1.0),
            mass: MassPerVolume::kilograms_per_litre(0.25),
        },
        coat: CoatRule::Time(Spread::Fixed(min(12))),
        least: min(10),
        most: min(20),
        now: BathState {
            total_acid: Strength::points(34.0),
            free_acid: Strength::points(5.6),
            iron: Concentration::grams_per_litre(1.1),
            sludge: Concentration::grams_per_litre(0.6),
            uses: 4,
            area: AreaPerVolume::square_decimetres_per_litre(3.0),
        },
    }
}

fn route_step(name: &str, station: StationId, minutes: i64, hands: Hands, after: &[u32]) -> Step {
    let handling = if hands == Hands::Ends { min(1) } else { Span::ZERO };
    Step {
        name: name.into(),
        stations: vec![station],
        time: StepTime::Work {
            load: Spread::Fixed(min(minutes)),
            each: Span::ZERO,
        },
        hands,
        put_in: handling,
        take_out: handling,
        most: None,
        within: None,
        at_once: false,
        at_break: AtBreak::FinishFirst,
        overnight: false,
        after: after.iter().map(|i| StepIx(*i)).collect(),
        only: Vec::new(),
        retry: None,
    }
}

/// Blast at the cabinet, coat in the tank, oil at the bench; one pair of hands, one day from 07:30 to 17:00.
pub(crate) fn shop() -> Shop {
    let coat = Step {
        time: StepTime::Coat,
        ..route_step("coat", TANK, 0, Hands::Ends, &[0])
    };
    let oil = Step {
        at_once: true,
        ..route_step("oil", BENCH, 3, Hands::Throughout, &[1])
    };
    let steps = vec![
        route_step("blast", CABINET, 20, Hands::Throughout, &[]),
        coat,
        oil,
    ];
    let lever = |name: &str, kg: f64, dm2: f64, held: Held, material: u32| Part {
        name: name.into(),
        material: MaterialId(material),
        mass: Mass::kilograms(kg),
        area: Area::square_decimetres(dm2),
        bulk: Volume::ZERO,
        held,
    };
    let material = |name: &str, hardened: bool| Material {
        name: name.into(),
        coats: Coats::Yes,
        heat_capacity: HeatCapacity::joules_per_kilogram_kelvin(480.0),
        density: Density::kilograms_per_cubic_metre(7850.0),
        slower: 1.0,
        heavier: 1.0,
        hardened,
    };
    let order = |id: &str, part: u32, count: u32, due: Moment| Order {
        id: id.into(),
        part: PartId(part),
        count,
        route: RouteId(0),
        arrival: Arrival::At(at(7, 30)),
        due_after: Some(due - at(7, 30)),
    };
    Shop {
        title: "Old hand tools".into(),
        calendar: Calendar {
            first: jiff::civil::date(2026, 3, 5),
            days: vec![Day {
                open: at(7, 30),
                close: at(17, 0),
                breaks: vec![(at(12, 0), at(12, 30))],
            }],
        },
        hands: 1,
        air: Air {
            temperature: Temperature::celsius(19.0),
            humidity: Share::fraction(0.5),
            pressure: Pressure::pascals(101_325.0),
            altitude: Length::ZERO,
        },
        prices: Prices {
            currency: "EUR".into(),
            power_per_kwh: 0.30,
            hands_per_hour: 28.0,
            water_per_litre: 0.80,
            concentrate_per_litre: 12.0,
        },
        baths: vec![bath()],
        stations: vec![
            station("sink", None),
            station("blast cabinet", None),
            station("black tank", Some(tank())),
            station("bench", None),
        ],
        materials: vec![material("plain steel", false), material("hardened steel", true)],
        parts: vec![
            lever("clamp lever", 0.2, 0.9, Held::Basket, 0),
            lever("compression spring", 0.01, 0.12, Held::Basket, 1),
        ],
        routes: vec![Route {
            name: "small steel".into(),
            steps,
        }],
        orders: vec![order("A1", 0, 16, at(9, 0)), order("A2", 1, 60, at(9, 0))],
        rules: rules(),
    }
}

fn rules() -> Rules {
    Rules {
        next: NextLoad::DueFirst,
        hands: HandsFirst::Urgent,
        look_ahead: true,
        split: Split::Evenly,
        combine: Combine::Never,
        fill: Fill {
            at_least: Share::ZERO,
            wait_at_most: Span::ZERO,
        },
        heat: Heat {
            on: HeatOn::AtOpening,
            off: HeatOff::AfterLast,
            lid: LidRule::Never,
            unattended: false,
        },
        top_up: TopUp {
            below: Share::ZERO,
            takes: min(2),
        },
        stop: at(48, 0),
    }
}

/// A record written line by line.
#[derive(Default)]
pub(crate) struct Written(pub(crate) Record);

impl Written {
    pub(crate) fn note(&mut self, when: Moment, event: Event) -> &mut Self {
        self.0.entries.push(Entry { at: when, event });
        self
    }

    pub(crate) fn bath(&mut self, when: Moment, celsius: f64, heater: HeaterState, kwh: f64) -> &mut Self {
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
        };
        self.note(
            when,
            Event::Bath {
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
        };
        self.note(when, Event::HandsTake { hand: 0, task });
    }

    /// Work under hands from one moment to another.
    pub(crate) fn work(&mut self, load: u32, index: u32, station: StationId, from: Moment, to: Moment) {
        let (load, step) = (LoadNo(load), step(index));
        self.hands(from, TaskKind::Work, station, load, step);
        self.note(from, Event::SetIn { load, step, station });
        self.note(
            from,
            Event::WorkBegins {
                load,
                step,
                station,
                planned: to - from,
                most: None,
            },
        );
        self.note(to, Event::WorkEnds { load, step, station });
        self.note(to, Event::LiftBegins { load, step, station });
        self.note(to, Event::PlaceFree { load, station });
        self.note(to, Event::StepDone { load, step, station });
        self.note(to, Event::HandsFree { hand: 0 });
    }

    /// Into the tank in the minute before `from`.
    pub(crate) fn put_in(&mut self, load: u32, from: Moment) {
        let (load, step, begun) = (LoadNo(load), step(1), from - min(1));
        self.hands(begun, TaskKind::PutIn, TANK, load, step);
        self.note(
            begun,
            Event::SetIn {
                load,
                step,
                station: TANK,
            },
        );
        self.note(
            from,
            Event::WorkBegins {
                load,
                step,
                station: TANK,
                planned: min(12),
                most: Some(min(20)),
            },
        );
        self.note(from, Event::HandsFree { hand: 0 });
    }

    /// The dwell is enough.
    pub(crate) fn coated(&mut self, load: u32, when: Moment) {
        self.note(
            when,
            Event::WorkEnds {
                load: LoadNo(load),
                step: step(1),
                station: TANK,
            },
        );
    }

    /// Out of the tank in the minute from `from`.
    pub(crate) fn take_out(&mut self, load: u32, from: Moment) {
        let (load, step, over) = (LoadNo(load), step(1), from + min(1));
        self.hands(from, TaskKind::TakeOut, TANK, load, step);
        self.note(
            from,
            Event::LiftBegins {
                load,
                step,
                station: TANK,
            },
        );
        self.note(over, Event::PlaceFree { load, station: TANK });
        self.note(
            over,
            Event::StepDone {
                load,
                step,
                station: TANK,
            },
        );
        self.note(over, Event::HandsFree { hand: 0 });
    }

    pub(crate) fn waits(&mut self, load: u32, index: u32, when: Moment) {
        self.note(
            when,
            Event::Waits {
                load: LoadNo(load),
                step: step(index),
            },
        );
    }

    pub(crate) fn comes(&mut self, order: u32, pieces: u32) {
        let (no, when) = (OrderNo(order), at(7, 30));
        self.note(
            when,
            Event::OrderArrives {
                order: no,
                source: OrderId(order),
                nth: 1,
                pieces,
            },
        );
        self.note(
            when,
            Event::LoadMade {
                load: LoadNo(order),
                order: no,
                pieces,
            },
        );
        self.waits(order, 0, when);
    }

    pub(crate) fn ready(&mut self, order: u32, when: Moment) {
        self.note(when, Event::LoadReady { load: LoadNo(order) });
        self.note(
            when,
            Event::OrderReady {
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
pub(crate) fn two_loads() -> Record {
    let mut day = Written::default();
    day.bath(at(7, 30), 19.0, HeaterState::Off, 0.0);
    day.note(at(7, 30), Event::Opens);
    day.comes(0, 16);
    day.comes(1, 60);
    day.bath(at(7, 30), 19.0, HeaterState::Heating, 0.0);
    day.work(0, 0, CABINET, at(7, 30), at(7, 50));
    day.waits(0, 1, at(7, 50));
    day.work(1, 0, CABINET, at(7, 50), at(8, 10));
    day.waits(1, 1, at(8, 10));
    day.bath(at(8, 15), 88.0, HeaterState::Heating, 1.875);
    day.note(at(8, 15), Event::InBand { tank: TANK });
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
    day.note(at(17, 0), Event::Closes);
    day.0
}
