//! Costs and waste of a day with a rinse: each stream priced, shared costs split by coated surface.

use tankday::line::Line;
use tankday::record::{Figures, Record, Waste};
use tankday::scenario;
use tankday::shop::Shop;
use tankday::units::{Mass, Volume};

fn shop(prices: &str) -> Shop {
    let text = format!(
        "tankday: 1
shop: {{hands: 1{prices}}}
days: [{{date: 2026-03-05, open: 08:00, close: 18:00}}]
tanks: [{{name: tank, bath: manganese, inside: 40 cm x 40 cm x 40 cm, fill: 40 L, heater: {{power: 9 kW}}}}]
baths: {{manganese: {{coat: {{time: 6 min}}, dwell: 5 to 45 min}}}}
stations: [{{name: bucket, fill: 20 L, flow: 1 L/min, renew: {{after: 1}}}}]
parts: {{small: {{mass: 5 g, area: 10 cm2}}, large: {{mass: 20 g, area: 30 cm2}}}}
routes:
  way:
    - {{do: coat, in: manganese}}
    - {{do: rinse, at: bucket, for: 2 min, hands: throughout}}
orders:
  - {{id: A, part: small, count: 100, route: way}}
  - {{id: B, part: large, count: 100, route: way, arrives: 10:00}}
rules: {{combine: never, fill: {{at least: 0 %, wait at most: 0 min}}}}
"
    );
    let read = scenario::read("cost", &text);
    read.unwrap_or_else(|f| panic!("{}", f.render(false))).shop
}

fn figures(shop: &Shop) -> Figures {
    let mut record = Record::default();
    Line::new(shop).run(None, &mut record);
    Figures::of(shop, &record)
}

fn near(value: f64, wanted: f64) {
    assert!(
        (value - wanted).abs() <= 1e-9 * wanted.abs().max(1.0),
        "{value} against {wanted}"
    );
}

/// The first load's rinse is renewed before the second order comes (20 L); two loads with the tap open for 2 min each
/// (4 L). The second renewal is not done: nothing is to come.
#[test]
fn rinse_water_is_paid_for_and_wasted() {
    let dear = shop(", prices: {rinse water: 0.01 per L, waste: 0.50 per L}");
    let figures = figures(&dear);
    near(figures.waste.rinse.in_litres(), 24.0);
    near(figures.cost.water, 0.24);
    near(figures.cost.waste, 12.0);
    near(figures.cost.total(), 12.24);
    assert!(figures.cost.given);
    assert!(!figures.waste.is_none());
}

/// Three times the area, three times the share of what hands do not cost; both shares are the whole.
#[test]
fn what_hands_do_not_cost_is_split_by_area() {
    let figures = figures(&shop(", prices: {power: 30 per kWh}"));
    let [a, b] = figures.order_costs.as_slice() else {
        panic!("two orders");
    };
    near(b.cost, 3.0 * a.cost);
    near(a.cost + b.cost, figures.cost.total());
    near(a.each, a.cost / 100.0);
    assert!(a.cost > 1.0);
}

/// An order that sees no bath bears the hands that it takes, and nothing of what the bath costs.
#[test]
fn an_order_that_sees_no_bath_bears_its_hands() {
    let text = "tankday: 1
shop: {hands: 1, prices: {power: 0.30 per kWh, hands: 30 per h}}
days: [{date: 2026-03-05, open: 08:00, close: 17:00}]
tanks: [{name: tank, bath: manganese, inside: 40 cm x 40 cm x 40 cm, fill: 40 L, heater: {power: 9 kW}}]
baths: {manganese: {coat: {time: 10 min}, dwell: 5 to 45 min}}
stations: [{name: bench, loads: 2}]
parts: {plate: {material: plain steel, mass: 50 g, area: 1 dm2, held: wire}}
routes:
  black: [{do: coat, in: manganese}]
  clean: [{do: wipe, at: bench, for: 45 min, hands: throughout}]
orders:
  - {id: coated, part: plate, count: 10, route: black}
  - {id: wiped, part: plate, count: 10, route: clean}
";
    let shop = tankday::scenario::read("made", text).unwrap().shop;
    let figures = figures(&shop);
    let [coated, wiped] = figures.order_costs.as_slice() else {
        panic!("two orders");
    };
    near(coated.cost + wiped.cost, figures.cost.total());
    // 45 minutes of the hands that are paid, and the rest of them divided as that is.
    assert!(
        wiped.cost >= 0.75 * 30.0 && wiped.area.in_square_metres() == 0.0,
        "{wiped:?}"
    );
    assert!(
        wiped.cost < figures.cost.hands && coated.cost > figures.cost.power,
        "{coated:?}"
    );
}

#[test]
fn without_prices_nothing_is_said_to_cost_nothing() {
    let figures = figures(&shop(""));
    assert!(!figures.cost.given && figures.cost.total() == 0.0);
    near(figures.waste.rinse.in_litres(), 24.0);
    let only_currency = shop(", prices: {currency: CHF}");
    assert!(!only_currency.prices.given());
}

/// A filter that is thrown away is waste, too.
#[test]
fn each_stream_alone_is_waste() {
    let none = Waste {
        rinse: Volume::ZERO,
        bath: Volume::ZERO,
        sludge: Mass::ZERO,
        media: 0,
    };
    let some = [
        Waste {
            rinse: Volume::litres(1.0),
            ..none
        },
        Waste {
            bath: Volume::litres(1.0),
            ..none
        },
        Waste {
            sludge: Mass::grams(1.0),
            ..none
        },
        Waste { media: 1, ..none },
    ];
    assert!(none.is_none());
    assert!(some.iter().all(|w| !w.is_none()), "{some:?}");
}
