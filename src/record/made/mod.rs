//! A small shop and days written down by hand, for tests.

mod day;

pub use day::{Written, two_loads};

use tankday_base::random::Spread;
use tankday_base::shop::*;
use tankday_base::units::*;

/// The drying cabinet of the shop.
pub const CABINET: StationId = StationId(1);
/// Its tank.
pub const TANK: StationId = StationId(2);
/// Its bench.
pub const BENCH: StationId = StationId(3);

/// A clock time of the first day, `at(7, 30)`.
pub fn at(hour: i64, minute: i64) -> Moment {
    Moment::ZERO + Span::whole_minutes(60 * hour + minute)
}

/// So many minutes.
pub fn min(minutes: i64) -> Span {
    Span::whole_minutes(minutes)
}

/// A step of the only route.
pub fn step(index: u32) -> StepRef {
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
        rinse: None,
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
            cut_off: Share::percent(70.0),
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
            contaminants: tankday_base::shop::Contaminants::default(),
        },
        growth: tankday_base::shop::Growth::DEFAULT,
        chemistry: tankday_base::shop::Recipe::DEFAULT,
        limits: tankday_base::shop::Limits::DEFAULT,
        wears: true,
    }
}

fn route_step(name: &str, station: StationId, minutes: i64, hands: Hands, after: &[u32]) -> Step {
    let handling = if hands == Hands::Ends { min(1) } else { Span::ZERO };
    Step {
        name: name.into(),
        kind: StepKind::Other,
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
        drip: Span::ZERO,
        relief: None,
    }
}

/// Blast at the cabinet, coat in the tank, oil at the bench; one pair of hands, one day from 07:30 to 17:00.
pub fn shop() -> Shop {
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
        shape: None,
        drag_out: VolumePerArea::ZERO,
        thick: Length::ZERO,
        worked_cold: false,
        brings: Default::default(),
        dwell: None,
        goes: Default::default(),
    };
    let material = |name: &str, hardened: bool| Material {
        name: name.into(),
        coats: Coats::Yes,
        heat_capacity: HeatCapacity::joules_per_kilogram_kelvin(480.0),
        density: Density::kilograms_per_cubic_metre(7850.0),
        slower: 1.0,
        heavier: 1.0,
        from: tankday_base::shop::CoatsFrom::Steel,
        hardened,
    };
    let order = |id: &str, part: u32, count: u32, due: Moment| Order {
        id: id.into(),
        part: PartId(part),
        count,
        route: RouteId(0),
        arrival: Arrival::At(at(7, 30)),
        tanks: Vec::new(),
        looks: true,
        weight: 1.0,
        due_after: Some(due - at(7, 30)),
    };
    Shop {
        title: "Old hand tools".into(),
        calendar: Calendar {
            crews: Vec::new(),
            first: jiff::civil::date(2026, 3, 5),
            days: vec![Day {
                open: at(7, 30),
                close: at(17, 0),
                breaks: vec![tankday_base::shop::Break {
                    from: at(12, 0),
                    until: at(12, 30),
                    stays: true,
                }],
                stays: false,
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
            hands_paid: tankday_base::shop::HandsPaid::ToEndOfWork,
            water_per_litre: 0.80,
            concentrate_per_litre: 12.0,
            rinse_per_litre: 0.0,
            waste_per_litre: 0.0,
            filter_each: 0.0,
            stated: vec!["power", "hands", "distilled water", "concentrate"],
            rates: Rates::default(),
        },
        baths: vec![bath()],
        stations: vec![
            station("sink", None),
            station("blast cabinet", None),
            station("black tank", Some(tank())),
            station("bench", None),
        ],
        vessels: Vec::new(),
        supply: None,
        pump: false,
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
        walks: Walks::default(),
        aim: Aim::USUAL,
    }
}

fn rules() -> Rules {
    Rules {
        next: NextLoad::DueFirst,
        hands: HandsFirst::Urgent,
        look_ahead: true,
        when_full: WhenFull::Wait,
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
        hold_back: false,
        care: Vec::new(),
        stop: at(48, 0),
    }
}
