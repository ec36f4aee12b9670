//! A small shop for tests that work on the checked model: a bench, a tank, a rinse bucket, an oil tray. Invented data.

use jiff::civil::date;
use tankday::random::Spread;
use tankday::shop::*;
use tankday::units::*;

/// So many minutes.
pub(crate) fn min(minutes: i64) -> Span {
    Span::whole_minutes(minutes)
}

/// A time of the first day.
pub(crate) fn at(hour: i64, minute: i64) -> Moment {
    Moment::ZERO + min(60 * hour + minute)
}

pub(crate) const BENCH: StationId = StationId(0);
pub(crate) const TANK: StationId = StationId(1);
pub(crate) const RINSE: StationId = StationId(2);
pub(crate) const OIL: StationId = StationId(3);

/// A step of so many minutes, right after the one before it in the list.
pub(crate) fn step(name: &str, station: StationId, minutes: i64, after: &[u32]) -> Step {
    Step {
        name: name.into(),
        kind: StepKind::Other,
        stations: vec![station],
        time: StepTime::Work {
            load: Spread::Fixed(min(minutes)),
            each: Span::ZERO,
        },
        hands: Hands::Throughout,
        put_in: Span::ZERO,
        take_out: Span::ZERO,
        most: None,
        within: None,
        at_once: false,
        at_break: AtBreak::FinishFirst,
        overnight: false,
        after: after.iter().map(|&s| StepIx(s)).collect(),
        only: Vec::new(),
        retry: None,
        drip: Span::ZERO,
        relief: None,
    }
}

/// Blast, coat, rinse within 1 min, oil; inspection may send back to the blasting.
pub(crate) fn plain_route() -> Route {
    let ends = |s: Step| Step {
        hands: Hands::Ends,
        put_in: min(1),
        take_out: min(1),
        ..s
    };
    let coat = Step {
        time: StepTime::Coat,
        ..ends(step("coat", TANK, 0, &[0]))
    };
    let rinse = Step {
        within: Some(min(1)),
        ..step("rinse", RINSE, 2, &[1])
    };
    let oil = ends(step("oil", OIL, 30, &[2]));
    let back = Retry {
        share: Share::percent(10.0),
        back_to: StepIx(0),
        odds: None,
    };
    let inspect = Step {
        retry: Some(back),
        ..step("inspect", BENCH, 3, &[3])
    };
    Route {
        name: "plain".into(),
        steps: vec![step("blast", BENCH, 5, &[]), coat, rinse, oil, inspect],
    }
}

fn station(name: &str, places: u32) -> Station {
    Station {
        name: name.into(),
        places,
        together: 1,
        frees: Frees::WhenEmptied,
        tank: None,
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
            vessel: Mass::kilograms(6.0),
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
        basket: Volume::litres(8.0),
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
            iron: Concentration::grams_per_litre(1.0),
            sludge: Concentration::ZERO,
            uses: 3,
            area: AreaPerVolume::ZERO,
            contaminants: tankday::shop::Contaminants::default(),
        },
        growth: tankday::shop::Growth::DEFAULT,
        chemistry: tankday::shop::Recipe::DEFAULT,
        limits: tankday::shop::Limits::DEFAULT,
        wears: true,
    }
}

fn rules() -> Rules {
    Rules {
        next: NextLoad::DueFirst,
        hands: HandsFirst::Urgent,
        look_ahead: true,
        when_full: WhenFull::Wait,
        split: Split::Evenly,
        combine: Combine::SameRoute,
        fill: Fill {
            at_least: Share::percent(1.0),
            wait_at_most: Span::ZERO,
        },
        heat: Heat {
            on: HeatOn::AtOpening,
            off: HeatOff::AfterLast,
            lid: LidRule::Never,
            unattended: false,
        },
        top_up: TopUp {
            below: Share::percent(95.0),
            takes: min(2),
        },
        hold_back: false,
        care: Vec::new(),
        stop: at(48, 0),
    }
}

fn part(name: &str, grams: f64, square_centimetres: f64) -> Part {
    Part {
        name: name.into(),
        material: MaterialId(0),
        mass: Mass::grams(grams),
        area: Area::square_centimetres(square_centimetres),
        bulk: Volume::millilitres(grams / 4.0),
        held: Held::Basket,
        shape: None,
        drag_out: VolumePerArea::millilitres_per_square_metre(150.0),
        thick: Length::ZERO,
        worked_cold: false,
        brings: Default::default(),
        dwell: None,
        goes: Default::default(),
    }
}

/// The whole shop: one day from 07:30 to 17:00 with a break at noon, two orders.
pub(crate) fn shop() -> Shop {
    let order = |id: &str, part, count| Order {
        id: id.into(),
        part: PartId(part),
        count,
        route: RouteId(0),
        arrival: Arrival::At(at(7, 30)),
        tanks: Vec::new(),
        looks: true,
        weight: 1.0,
        due_after: Some(min(7 * 60)),
    };
    let steel = Material {
        name: "plain steel".into(),
        coats: Coats::Yes,
        heat_capacity: HeatCapacity::joules_per_kilogram_kelvin(470.0),
        density: Density::kilograms_per_cubic_metre(7_850.0),
        slower: 1.0,
        heavier: 1.0,
        from: tankday::shop::CoatsFrom::Steel,
        hardened: false,
    };
    Shop {
        title: "A small bench".into(),
        calendar: Calendar {
            crews: Vec::new(),
            first: date(2026, 3, 5),
            days: vec![Day {
                open: at(7, 30),
                close: at(17, 0),
                breaks: vec![Break {
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
            humidity: Share::percent(50.0),
            pressure: Pressure::pascals(101_325.0),
            altitude: Length::ZERO,
        },
        prices: Prices {
            currency: "EUR".into(),
            power_per_kwh: 0.3,
            hands_per_hour: 28.0,
            hands_paid: tankday::shop::HandsPaid::ToEndOfWork,
            water_per_litre: 0.8,
            concentrate_per_litre: 12.0,
            rinse_per_litre: 0.0,
            waste_per_litre: 0.0,
            filter_each: 0.0,
            stated: vec!["power", "hands", "distilled water", "concentrate"],
            rates: tankday::shop::Rates::default(),
        },
        baths: vec![bath()],
        stations: vec![
            station("bench", 1),
            Station {
                tank: Some(tank()),
                ..station("black tank", 1)
            },
            station("rinse \"bucket\", left", 1),
            station("oil tray", 4),
        ],
        vessels: Vec::new(),
        supply: None,
        pump: false,
        materials: vec![steel],
        parts: vec![part("wood screw", 2.4, 4.8), part("brace chuck", 180.0, 95.0)],
        routes: vec![plain_route()],
        orders: vec![order("A1", 0, 400), order("A2", 1, 12)],
        rules: rules(),
        walks: Walks::default(),
        aim: Aim::USUAL,
    }
}
