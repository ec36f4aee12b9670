//! What an order costs: against a day worked out by hand, and against the costs of the day that it is part of.

use tankday::line::Line;
use tankday::quote::{Asking, Quote, quote, quotes};
use tankday::record::{CostOf, Figures, Priced, Record, priced};
use tankday::scenario::{Draft, File, read};
use tankday::shop::Shop;
use tankday::units::Share;

pub(crate) fn day(shop: &Shop) -> Option<Record> {
    let mut record = Record::default();
    let outcome = Line::new(shop).run(None, &mut record);
    (!outcome.endless).then_some(record)
}

pub(crate) fn quoted(shop: &Shop) -> Quote {
    quote(shop, &day).unwrap()
}

/// Ten pieces of 1.1 dm2: 5 min of blasting, 1 min in, 12 min in a bath that is hot, 1 min out, 3 min of inspection, oil.
pub(crate) fn by_hand(rates: &str) -> String {
    format!(
        "tankday: 1
title: Quoted by hand
shop:
  hands: 1
  air: {{temperature: 20 °C}}
  prices: {{hands: 30 per h}}
  rates: {{{rates}}}
days: [{{date: 2026-03-05, open: 08:00, close: 17:00}}]
baths:
  black:
    wears: no
    room: {{area: 4 dm2/L, mass: 0.3 kg/L}}
    coat: {{time: 12 min}}
    dwell: 5 to 45 min
tanks:
  - {{name: tank, bath: black, inside: 40 cm x 30 cm x 30 cm, fill: 20 L, now: {{temperature: 95 °C}}, wall: {{vessel: 0.1 kg}},
     heater: {{power: 3 kW}}}}
stations: [{{name: cabinet}}, {{name: bench}}, {{name: tray}}]
parts:
  brace chuck: {{material: plain steel, mass: 180 g, area: 1.1 dm2}}
routes:
  all:
    - {{do: blast, at: cabinet, for: 5 min, hands: throughout}}
    - {{do: coat, in: black}}
    - {{do: inspect, at: bench, for: 3 min, hands: throughout, fails: 10 %, back to: blast}}
    - {{do: oil, at: tray, for: 20 min, hands: none}}
orders:
  - {{id: A, part: brace chuck, count: 10, route: all}}
"
    )
}

fn shop_by_hand(rates: &str) -> Shop {
    let found = read("hand.yaml", &by_hand(rates));
    found
        .unwrap_or_else(|found| panic!("{}", found.render(false)))
        .shop
}

pub(crate) const RATES: &str = "oil: 0.02 per dm2, blast media: 2.40 per h, tank hour: 6 per h";

fn near(got: f64, want: f64) {
    assert!((got - want).abs() < 1e-6, "{got} instead of {want}");
}

/// The money of the lines that a question picks.
fn of(priced: &Priced, picks: impl Fn(&CostOf) -> bool) -> f64 {
    priced
        .lines
        .iter()
        .filter(|l| picks(&l.of))
        .map(|l| l.money)
        .sum()
}

fn hands_at(priced: &Priced, step: u32) -> f64 {
    of(
        priced,
        |of| matches!(of, CostOf::Hands(at, _) if at.step.0 == step),
    )
}

/// By hand: paid from 08:00 to the end of inspection at 08:22, 22 min at 30 an hour. At work 5 min, 2 min, 3 min; 12 min wait.
/// Blasting lasts 5 min, the load is 14 min in the tank (1 + 12 + 1), 11 dm2 are oiled. Of ten loads one fails: for each that
/// passes a ninth is done again, from blasting to inspection.
#[test]
fn a_quote_worked_out_by_hand() {
    let shop = shop_by_hand(RATES);
    let quote = quoted(&shop);
    let today = quote.quoted.today.as_ref().unwrap();
    near(hands_at(today, 0), 2.5);
    near(hands_at(today, 1), 1.0);
    near(hands_at(today, 2), 1.5);
    near(of(today, |of| matches!(of, CostOf::Between(_))), 6.0);
    let supplies = |step: u32| {
        of(
            today,
            |of| matches!(of, CostOf::Supplies(at, _) if at.step.0 == step),
        )
    };
    near(supplies(0), 5.0 / 60.0 * 2.4);
    near(supplies(3), 11.0 * 0.02);
    near(
        of(today, |of| matches!(of, CostOf::TankHours(_))),
        14.0 / 60.0 * 6.0,
    );
    let again = 2.5 + 1.0 + 1.5 + 0.2 + 1.4;
    near(of(today, |of| matches!(of, CostOf::Rejects(_))), again / 9.0);
    near(
        today.total(),
        2.5 + 1.0 + 1.5 + 6.0 + 0.2 + 0.22 + 1.4 + again / 9.0,
    );
    near(today.mass.in_kilograms(), 1.8);
    // Alone in the shop it is what it is in a day with no other order.
    near(quote.quoted.alone.as_ref().unwrap().total(), today.total());
    // 20 L take 6 kg or 80 dm2: 33 pieces by mass.
    assert_eq!(quote.quoted.full.as_ref().unwrap().pieces, 33);
}

/// The same by other units and by other counts: 2 per m2 is 0.02 per dm2; one load; ten pieces; 1.8 kg.
#[test]
fn a_rate_counts_by_what_stands_behind_per() {
    for (oil, costs) in [
        ("2 per m2", 0.22),
        ("0.30 per load", 0.30),
        ("0.05 per piece", 0.50),
        ("0.50 per kg", 0.90),
        ("0.03 per min", 0.60),
    ] {
        let shop = shop_by_hand(&format!("oil: {oil}"));
        let quote = quoted(&shop);
        let oil = |of: &CostOf| matches!(of, CostOf::Supplies(at, _) if at.step.0 == 3);
        near(of(quote.quoted.today.as_ref().unwrap(), oil), costs);
    }
}

/// What has no price adds nothing and is named; once it is stated, it is not named any more.
#[test]
fn what_is_not_stated_is_named() {
    let missing = |rates: &str, prices: &str| {
        let text = by_hand(rates).replace("{hands: 30 per h}", prices);
        let shop = read("hand.yaml", &text).unwrap().shop;
        let quote = quoted(&shop);
        let today = quote.quoted.today.unwrap();
        today
            .missing()
            .iter()
            .map(|k| (*k).to_owned())
            .collect::<Vec<_>>()
    };
    assert_eq!(
        missing("", "{currency: EUR}"),
        [
            "shop.prices.hands",
            "shop.prices.power",
            "shop.prices.distilled water",
            "shop.rates.blast media",
            "shop.rates.oil"
        ]
    );
    let stated = "{hands: 30 per h, power: 0 per kWh, distilled water: 0.80 per L}";
    assert!(missing(RATES, stated).is_empty(), "{:?}", missing(RATES, stated));
}

/// What care uses has a price, or a line says that it has none: filter media, steel wool.
#[test]
fn what_care_uses_is_named() {
    let missing = |path: &str, settings: &[(&str, &str)]| {
        let mut draft = crate::shipped::draft(&format!("scenarios/{path}.yaml"));
        for (key, value) in settings {
            draft.set("--set", key, value).unwrap();
        }
        let shop = draft.scenario().unwrap().shop;
        let figures = Figures::of(&shop, &day(&shop).unwrap());
        let all = figures
            .orders
            .iter()
            .filter_map(|o| priced(&shop, &figures, o.order));
        all.flat_map(|p| p.missing().iter().map(|k| (*k).to_owned()).collect::<Vec<_>>())
            .collect::<Vec<String>>()
    };
    let filters = [("rules.care.filter.area", "1 dm2")];
    let has = |all: &[String], begin: &str| all.iter().any(|k| k.starts_with(begin));
    assert!(has(
        &missing("filter-week", &filters),
        "shop.prices.filter medium"
    ));
    assert!(has(&missing("fresh-bath", &[]), "a price for steel wool"));
    let mixed = missing("mixed-day", &[]);
    assert!(!has(&mixed, "a price for steel wool") && !has(&mixed, "shop.prices.filter medium"));
}

/// Every cost of the day falls on an order, and nothing twice: hands, heat, water, chemicals, filter media and waste of all
/// orders are those of the day with the acid and sludge that it leaves undone.
#[test]
fn the_lines_of_all_orders_are_the_costs_of_the_day() {
    for path in [
        "mixed-day",
        "filter-week",
        "after-the-bath",
        "worn-bath",
        "two-day",
    ] {
        let shop = crate::shipped::shop(&format!("scenarios/{path}.yaml"));
        let record = day(&shop).unwrap();
        let figures = Figures::of(&shop, &record);
        let all: Vec<Priced> = figures
            .orders
            .iter()
            .filter_map(|o| priced(&shop, &figures, o.order))
            .collect();
        if all.len() < figures.orders.len() {
            continue;
        }
        let own = |of: &CostOf| {
            !matches!(
                of,
                CostOf::Wear(_) | CostOf::Supplies(..) | CostOf::TankHours(_) | CostOf::Rejects(_)
            )
        };
        let told: f64 = all.iter().map(|p| of(p, own)).sum();
        let cost = &figures.cost;
        let want = cost.with_left() - cost.left.iron;
        assert!(
            (told - want).abs() < 1e-6 * want.max(1.0),
            "{path}: {told} and {want}"
        );
        for priced in &all {
            near(priced.total(), priced.lines.iter().map(|l| l.money).sum());
        }
    }
}

/// A bath lives from its making up to its limit of iron: with half the room up to the limit the wear is about twice as much,
/// and where the bath is renewed in the run its cost stands there already.
#[test]
fn wear_goes_by_the_limit_of_iron() {
    let wear = |limit: &str| {
        let mut draft = crate::shipped::draft("scenarios/mixed-day.yaml");
        draft.set("--set", "baths.manganese.limits.iron", limit).unwrap();
        draft
            .set("--set", "baths.manganese.warn.iron", "0.5 to 1.5 g/L")
            .unwrap();
        let shop = draft.scenario().unwrap().shop;
        let today = quoted(&shop).quoted.today.unwrap();
        of(&today, |of| matches!(of, CostOf::Wear(_)))
    };
    let (half, whole) = (wear("0 to 2 g/L"), wear("0 to 4 g/L"));
    assert!(
        whole > 0.0 && half > 1.8 * whole && half < 2.6 * whole,
        "{half} and {whole}"
    );
}

#[test]
fn a_price_is_the_cost_with_its_margin_and_never_below_the_least() {
    let asking = |percent: f64, minimum: f64| Asking {
        margin: Share::percent(percent),
        minimum,
    };
    near(asking(0.0, 0.0).price(13.0), 13.0);
    near(asking(35.0, 0.0).price(13.0), 20.0);
    near(asking(50.0, 25.0).price(10.0), 25.0);
    near(asking(50.0, 25.0).price(20.0), 40.0);
    assert!(asking(50.0, 25.0).at_least(10.0) && !asking(50.0, 25.0).at_least(20.0));
    assert!(!asking(0.0, 0.0).at_least(0.0));
}

/// The shop with one more order.
pub(crate) fn with(path: &str, order: &str) -> Shop {
    let mut draft = crate::shipped::draft(path);
    draft
        .add_order("--order", order)
        .unwrap_or_else(|f| panic!("{}", f.render(false)));
    draft
        .scenario()
        .unwrap_or_else(|f| panic!("{}", f.render(false)))
        .shop
}

/// What becomes later for a rush is what the day with the order due at once says, held against the day without it.
#[test]
fn a_rush_names_what_becomes_later() {
    let shop = with("scenarios/mixed-day.yaml", "60 wood screws, small steel");
    let rush = quoted(&shop).rush.unwrap();
    assert!(rush.ready < rush.in_turn, "{rush:?}");
    assert!(!rush.later.is_empty());
    let ready = |shop: &Shop, id: &str| {
        let figures = Figures::of(shop, &day(shop).unwrap());
        figures.orders.iter().find(|o| o.id == id).unwrap().ready
    };
    let before = crate::shipped::shop("scenarios/mixed-day.yaml");
    let first = with(
        "scenarios/mixed-day.yaml",
        "60 wood screws, small steel, due: 07:31",
    );
    for later in &rush.later {
        assert_eq!(ready(&before, &later.id), Some(later.before), "{}", later.id);
        assert_eq!(ready(&first, &later.id), later.after, "{}", later.id);
        assert!(later.after.is_none_or(|after| after > later.before));
    }
}

/// Relief that the steel needs is never left off: the quote holds it, and says what it costs.
#[test]
fn relief_stays_in_and_is_priced() {
    let mut draft = crate::shipped::draft("scenarios/after-the-bath.yaml");
    draft.set("--set", "shop.rates.oven", "0.60 per h").unwrap();
    draft.add_order("--order", "60 pawl springs, springs").unwrap();
    let shop = draft.scenario().unwrap().shop;
    let quote = quoted(&shop);
    let relief = quote.relief.as_ref().unwrap();
    assert!(relief.needed && relief.own, "{relief:?}");
    assert_eq!(relief.with, quote.quoted.today);
    let oven = |p: &Priced| {
        of(
            p,
            |of| matches!(of, CostOf::Supplies(_, s) if s.words() == "oven"),
        )
    };
    let (with, without) = (relief.with.as_ref().unwrap(), relief.without.as_ref().unwrap());
    assert!(
        oven(with) > oven(without) + 1.0,
        "{} and {}",
        oven(with),
        oven(without)
    );
    assert!(relief.at_it > 1.0 && relief.at_it < with.total(), "{relief:?}");
    // Hard springs on a route without relief: the quote warns of it.
    let bare = with_route("60 pawl springs, screws");
    let relief = bare.relief.unwrap();
    assert!(
        relief.needed && !relief.own && relief.route.is_some(),
        "{relief:?}"
    );
}

fn with_route(order: &str) -> Quote {
    quoted(&with("scenarios/after-the-bath.yaml", order))
}

#[test]
fn every_stated_order_has_a_quote() {
    let shop = crate::shipped::shop("scenarios/mixed-day.yaml");
    let all = quotes(&shop, &day).unwrap();
    assert_eq!(all.len(), shop.orders.len());
    // One by one it is the same as in the list.
    let last = quoted(&shop).quoted;
    assert_eq!(all.last(), Some(&last));
}

/// What a broken rate hears is where it stands; a file that extends another finds its rates there.
#[test]
fn rates_come_with_the_file_that_is_extended() {
    let file = |name: &str, text: &str| File {
        name: name.to_owned(),
        id: name.to_owned(),
        text: text.to_owned(),
    };
    let base = by_hand(RATES);
    let own = "extends: base.yaml\nshop: {rates: {oil: 0.05 per piece}}\n";
    let draft = Draft::open(file("own.yaml", own), &|_, name| Ok(file(name, &base))).unwrap();
    let shop = draft.scenario().unwrap().shop;
    assert_eq!(shop.prices.rates.tank_hour, Some(6.0));
    let quote = quoted(&shop);
    let oil = |of: &CostOf| matches!(of, CostOf::Supplies(at, _) if at.step.0 == 3);
    near(of(quote.quoted.today.as_ref().unwrap(), oil), 0.5);
}
