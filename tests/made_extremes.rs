//! Shops at the extremes, and every picture of each at every width: one load, 300 orders, ten days, names of sixty
//! letters, all late, nothing done, and an ordinary day.

use crate::made_shop::{clock, order, shop};
use tankday::chart::{DayView, OF_A_DAY, Svg, Width, route};
use tankday::line::Line;
use tankday::random::{Spread, Streams};
use tankday::record::{Figures, Record};
use tankday::shop::{Arrival, Order, PartId, Prices, Retry, RouteId, Shop, StepIx, StepTime};
use tankday::study::Study;
use tankday::units::{Share, Span};
use tankday::what_if::gains;

/// Sixty letters, some of which mean something in XML, and a character that XML has no place for.
pub(crate) const LONG: &str = "Lever caps & <screws> of \"old\" planes, for 'whom' it\u{1} concerns";

/// Orders that come one after the other and are promised so many minutes after they come, and a little more for each.
fn orders(count: i64, name: &str, (after, more): (i64, i64)) -> Vec<Order> {
    let nth = |n: i64| Order {
        due_after: Some(Span::whole_minutes(after + more * n)),
        count: 60,
        ..order(&format!("{name}{n}"))
    };
    (1..=count).map(nth).collect()
}

/// With work that takes now longer, now less, so that days differ, and with prices.
fn uncertain(mut shop: Shop) -> Shop {
    for step in shop.routes.iter_mut().flat_map(|r| &mut r.steps) {
        if let StepTime::Work { load, .. } = &mut step.time
            && let Spread::Fixed(span) = load
        {
            *load = Spread::Triangular {
                least: span.times(0.7),
                mostly: *span,
                most: span.times(1.8),
            };
        }
    }
    shop.prices = Prices {
        stated: vec!["power", "hands", "distilled water"],
        power_per_kwh: 0.35,
        water_per_litre: 0.01,
        hands_per_hour: 28.0,
        hands_paid: tankday::shop::HandsPaid::ToEndOfWork,
        currency: "EUR".to_owned(),
        ..shop.prices
    };
    shop
}

fn long_names() -> Shop {
    let mut shop = shop(1, 2, orders(5, LONG, (100, 60)));
    for station in &mut shop.stations {
        station.name = format!("{} {LONG}", station.name);
    }
    for part in &mut shop.parts {
        part.name = LONG.to_owned();
    }
    shop.title = LONG.repeat(3);
    for step in &mut shop.routes[0].steps {
        step.name = format!("{} {LONG}", step.name);
    }
    shop
}

/// Orders over ten days, some each morning.
fn ten_days(count: i64) -> Shop {
    let mut shop = shop(10, 2, Vec::new());
    shop.orders = (0..count)
        .map(|n| Order {
            arrival: Arrival::At(clock(n * 10 / count, 7, 30)),
            due_after: Some(Span::whole_minutes(180 + 30 * (n % 13))),
            count: 40,
            ..order(&format!("N{n}"))
        })
        .collect();
    shop
}

/// A route with a step in between for some parts, and one that sends back.
fn branched() -> Shop {
    let mut shop = uncertain(shop(1, 1, orders(4, "A", (200, 60))));
    let steps = &mut shop.routes[0].steps;
    steps[3].after = vec![StepIx(1), StepIx(2)];
    steps[2].within = Some(Span::whole_minutes(240));
    steps[5].at_once = true;
    steps[4].only = vec![PartId(0)];
    steps[6].after = vec![StepIx(3), StepIx(5)];
    steps[6].retry = Some(Retry {
        share: Share::percent(8.0),
        back_to: StepIx(1),
        odds: None,
    });
    shop
}

/// Nothing gets ready: the day is over before the first load.
fn nothing_done() -> Shop {
    let mut shop = shop(1, 1, orders(4, "A", (60, 30)));
    shop.calendar.days[0].close = clock(0, 7, 45);
    shop.calendar.days[0].breaks.clear();
    shop.rules.stop = clock(0, 8, 0);
    shop
}

/// All of them by name.
pub(crate) fn shops() -> Vec<(&'static str, Shop)> {
    vec![
        ("ordinary", uncertain(shop(1, 1, orders(6, "A", (90, 70))))),
        ("one load", uncertain(shop(1, 1, orders(1, "A", (200, 0))))),
        ("thirty orders", uncertain(shop(2, 2, orders(30, "B", (120, 40))))),
        (
            "a hundred orders",
            uncertain(shop(5, 2, orders(100, "C", (120, 40)))),
        ),
        ("300 orders", uncertain(ten_days(300))),
        ("400 orders", uncertain(ten_days(400))),
        ("ten days", uncertain(ten_days(40))),
        ("long names", uncertain(long_names())),
        ("all late", uncertain(shop(1, 1, orders(5, "A", (1, 0))))),
        ("branched", branched()),
        ("nothing done", nothing_done()),
        ("no orders", shop(1, 1, Vec::new())),
    ]
}

/// Days of a study: as many as may be drawn one by one, fewer where they take long.
fn days(shop: &Shop) -> u32 {
    if shop.orders.len() > 20 { 20 } else { 60 }
}

/// The view of a shop over many days, and the figures of the day drawn.
pub(crate) fn seen(shop: &Shop) -> (DayView, Figures) {
    let line = Line::new(shop);
    let run = |luck: Option<Streams>| {
        let mut record = Record::default();
        line.run(luck, &mut record);
        record
    };
    let study = Study::of(shop, 1, days(shop), |luck| run(Some(luck)));
    let eased = if shop.orders.len() > 20 {
        Vec::new()
    } else {
        gains(shop, &study.record, |eased| {
            let mut record = Record::default();
            Line::new(eased).run(Some(Streams::new(1, study.drawn as u64)), &mut record);
            record
        })
    };
    let view = DayView::of(shop, &study.record).with(shop, Some(&study), &eased);
    let figures = study.figures;
    (view, figures)
}

/// Every picture of every shop whose name is wanted, at every width, and its name.
pub(crate) fn pictures(wanted: &dyn Fn(&str) -> bool) -> Vec<(String, Svg)> {
    let mut all = Vec::new();
    for (name, shop) in shops().into_iter().filter(|(name, _)| wanted(name)) {
        let (view, figures) = seen(&shop);
        for width in Width::ALL {
            let told = |what: &str| format!("{what} of {name} at {}", width.pixels());
            for (what, draw) in OF_A_DAY {
                all.extend(draw(&view, width).map(|svg| (told(what), svg)));
            }
            let picture = route(&shop, RouteId(0), Some(&figures), width);
            all.push((told("route"), picture));
        }
    }
    all
}
