//! Small shops in code, for tests of the line.

use jiff::civil::date;
use tankday::random::Spread;
use tankday::shop::*;
use tankday::units::*;

pub(crate) fn minutes(m: f64) -> Spread {
    Spread::Fixed(Span::minutes(m))
}

pub(crate) fn clock(h: i64, m: i64) -> Moment {
    Moment::ZERO + Span::whole_minutes(60 * h + m)
}

/// A shop that never closes, with no hands, no stations, no orders.
pub(crate) fn empty_shop() -> Shop {
    Shop {
        title: "test".into(),
        calendar: Calendar {
            crews: Vec::new(),
            first: date(2026, 3, 2),
            days: vec![Day {
                open: Moment::ZERO,
                close: Moment::NEVER,
                breaks: Vec::new(),
                stays: false,
            }],
        },
        hands: 0,
        air: Air {
            temperature: Temperature::celsius(20.0),
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
        baths: Vec::new(),
        stations: Vec::new(),
        vessels: Vec::new(),
        supply: None,
        pump: false,
        materials: vec![Material {
            name: "plain steel".into(),
            coats: Coats::Yes,
            heat_capacity: HeatCapacity::joules_per_kilogram_kelvin(463.0),
            density: Density::kilograms_per_cubic_metre(7850.0),
            slower: 1.0,
            heavier: 1.0,
            from: tankday::shop::CoatsFrom::Steel,
            hardened: false,
        }],
        parts: vec![Part {
            name: "piece".into(),
            material: MaterialId(0),
            mass: Mass::grams(10.0),
            area: Area::square_centimetres(10.0),
            bulk: Volume::ZERO,
            held: Held::Basket,
            shape: None,
            drag_out: VolumePerArea::ZERO,
            thick: Length::ZERO,
            worked_cold: false,
            brings: Default::default(),
            dwell: None,
            goes: Default::default(),
        }],
        routes: vec![Route {
            name: "way".into(),
            steps: Vec::new(),
        }],
        orders: Vec::new(),
        rules: Rules {
            next: NextLoad::ArrivedFirst,
            hands: HandsFirst::InOrderAsked,
            look_ahead: false,
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
                lid: LidRule::BetweenLoads,
                unattended: false,
            },
            top_up: TopUp {
                below: Share::ZERO,
                takes: Span::ZERO,
            },
            hold_back: false,
            care: Vec::new(),
            stop: Moment::ZERO + Span::hours(24.0 * 3660.0),
        },
        walks: Walks::default(),
        aim: Aim::USUAL,
    }
}

/// A 20-litre tank of manganese phosphate at its holding temperature, and its bath with a dwell of 10 to 15 minutes.
pub(crate) fn add_tank(shop: &mut Shop) -> StationId {
    let insulation = Insulation {
        thickness: Length::ZERO,
        conductivity: Conductivity::watts_per_metre_kelvin(0.04),
    };
    shop.baths.push(BathRecipe {
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
        coat: CoatRule::Time(minutes(10.0)),
        least: Span::minutes(10.0),
        most: Span::minutes(15.0),
        now: BathState {
            total_acid: Strength::points(36.0),
            free_acid: Strength::points(6.0),
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
    });
    shop.stations.push(Station {
        name: "black tank".into(),
        places: 1,
        together: 1,
        frees: Frees::WhenEmptied,
        rinse: None,
        tank: Some(Tank {
            bath: BathId(shop.baths.len() as u32 - 1),
            inside: Inside::Box {
                length: Length::centimetres(35.0),
                width: Length::centimetres(25.0),
                height: Length::centimetres(30.0),
            },
            fill: Volume::litres(20.0),
            volume: Volume::litres(20.0),
            temperature: Temperature::celsius(95.0),
            wall: Wall {
                material: WallMaterial::Stainless,
                insulation,
                vessel: Mass::kilograms(6.0),
                bottom_loss: HeatTransfer::ZERO,
            },
            lid: LidKind::Lid {
                leak: Share::percent(5.0),
                material: WallMaterial::Stainless,
                insulation,
            },
            heater: Heater {
                power: Power::kilowatts(2.5),
                kind: HeaterKind::Immersion,
                efficiency: Share::fraction(1.0),
                swing: TempDiff::kelvin(2.0),
                cut_off: Share::ZERO,
            },
            basket: Volume::ZERO,
            draught: 1.0,
        }),
    });
    StationId(shop.stations.len() as u32 - 1)
}

/// Adds a plain station and gives its id.
pub(crate) fn add_station(shop: &mut Shop, name: &str, places: u32) -> StationId {
    let frees = Frees::WhenEmptied;
    shop.stations.push(Station {
        name: name.into(),
        places,
        together: 1,
        frees,
        tank: None,
        rinse: None,
    });
    StationId(shop.stations.len() as u32 - 1)
}

/// A step without limits after the last of the first route; change what differs.
pub(crate) fn push_step(
    shop: &mut Shop,
    name: &str,
    at: StationId,
    hands: Hands,
    time: f64,
    ends: (f64, f64),
) -> usize {
    let coats = shop.stations[at.index()].tank.is_some();
    let work = StepTime::Work {
        load: minutes(time),
        each: Span::ZERO,
    };
    let steps = &mut shop.routes[0].steps;
    let after = if steps.is_empty() {
        Vec::new()
    } else {
        vec![StepIx(steps.len() as u32 - 1)]
    };
    steps.push(Step {
        name: name.into(),
        kind: if coats { StepKind::Coat } else { StepKind::Other },
        stations: vec![at],
        time: if coats { StepTime::Coat } else { work },
        hands,
        put_in: Span::minutes(ends.0),
        take_out: Span::minutes(ends.1),
        most: None,
        within: None,
        at_once: false,
        at_break: AtBreak::Pause,
        overnight: false,
        after,
        only: Vec::new(),
        retry: None,
        drip: Span::ZERO,
        relief: None,
    });
    steps.len() - 1
}

/// Adds a stated order of some pieces, due so many minutes after it comes.
pub(crate) fn add_order(shop: &mut Shop, id: &str, count: u32, arrives: Moment, due_after: f64) {
    shop.orders.push(Order {
        id: id.into(),
        part: PartId(0),
        count,
        route: RouteId(0),
        arrival: Arrival::At(arrives),
        tanks: Vec::new(),
        looks: true,
        weight: 1.0,
        due_after: Some(Span::minutes(due_after)),
    });
}
