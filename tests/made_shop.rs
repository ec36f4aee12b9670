//! A bench with six stations and days of its own, for pictures and labels. Invented data; what nobody looks at here
//! comes from the small shop.

use crate::small_shop;
use tankday::random::Spread;
use tankday::shop::{
    Arrival, Break, Calendar, Day, Hands, Order, PartId, Route, RouteId, Rules, Shop, Station, StationId,
    Step, StepTime,
};
use tankday::units::{Moment, Span};

/// A clock time on a day counted from 0.
pub(crate) fn clock(day: i64, hours: i64, minutes: i64) -> Moment {
    Moment::ZERO + Span::whole_minutes(day * 1_440 + hours * 60 + minutes)
}

const SINK: StationId = StationId(0);
const BLAST: StationId = StationId(1);
/// The tank of [`shop`].
pub(crate) const TANK: StationId = StationId(2);
const RINSE: StationId = StationId(3);
/// The bench of [`shop`].
pub(crate) const BENCH: StationId = StationId(4);
const OIL: StationId = StationId(5);

/// Put in and taken out by hand, two minutes each.
fn alone(step: Step) -> Step {
    Step {
        hands: Hands::Ends,
        put_in: Span::whole_minutes(2),
        take_out: Span::whole_minutes(2),
        ..step
    }
}

fn route() -> Route {
    let step = small_shop::step;
    let coat = Step {
        time: StepTime::Coat,
        ..alone(step("coat", TANK, 0, &[1]))
    };
    Route {
        name: "small steel".to_owned(),
        steps: vec![
            alone(step("degrease", SINK, 8, &[])),
            step("blast", BLAST, 14, &[0]),
            coat,
            step("rinse", RINSE, 2, &[2]),
            step("dry", BENCH, 9, &[3]),
            alone(step("oil", OIL, 20, &[4])),
            step("inspect", BENCH, 10, &[5]),
        ],
    }
}

/// One order of 400 screws that comes at 07:30 of the first day, promised for five hours later.
pub(crate) fn order(id: &str) -> Order {
    Order {
        id: id.to_owned(),
        part: PartId(0),
        count: 400,
        route: RouteId(0),
        arrival: Arrival::At(clock(0, 7, 30)),
        tanks: Vec::new(),
        looks: true,
        weight: 1.0,
        due_after: Some(Span::whole_minutes(300)),
    }
}

/// A shop open from 07:30 to 17:00 on so many days, with a break at noon, one 20 L tank and these orders.
pub(crate) fn shop(days: u32, hands: u32, orders: Vec<Order>) -> Shop {
    let day = |d: i64| Day {
        open: clock(d, 7, 30),
        close: clock(d, 17, 0),
        breaks: vec![Break {
            from: clock(d, 12, 0),
            until: clock(d, 12, 30),
            stays: true,
        }],
        stays: false,
    };
    let base = small_shop::shop();
    let tank = base.stations.iter().find_map(|s| s.tank);
    let station = |name: &str, places, tank| Station {
        name: name.to_owned(),
        places,
        tank,
        ..base.stations[0].clone()
    };
    Shop {
        title: "Old hand tools".to_owned(),
        calendar: Calendar {
            days: (0..i64::from(days)).map(day).collect(),
            ..base.calendar.clone()
        },
        hands,
        stations: vec![
            station("sink", 1, None),
            station("blast cabinet", 1, None),
            station("black tank", 1, tank),
            station("rinse bucket", 1, None),
            station("bench", 2, None),
            station("oil tray", 4, None),
        ],
        routes: vec![route()],
        orders,
        rules: Rules {
            hold_back: false,
            care: Vec::new(),
            stop: clock(i64::from(days), 12, 0),
            ..base.rules
        },
        ..base
    }
}

#[allow(dead_code)]
/// Minutes of work at a step of the shop's route; a load stays 18 min in the tank.
pub(crate) fn work(step: &Step) -> i64 {
    match &step.time {
        StepTime::Work {
            load: Spread::Fixed(time),
            ..
        } => time.in_minutes() as i64,
        _ => 18,
    }
}
