//! Acid works on as long as work lies in it, and on it until it is rinsed off: what goes in comes out and is rinsed soon, a
//! break or not; and a bath that a load needs for its other end is not counted as free.

use crate::line_warned::{read, run};
use tankday::record::{Breach, LogEntry, Record};
use tankday::shop::Shop;
use tankday::units::Moment;

/// A dish of acid and a trough with one place.
fn shop(pickle: &str, rods: &str, orders: &str) -> Shop {
    read(&format!(
        "tankday: 1
shop: {{hands: 1, air: {{temperature: 19 °C}}}}
days: [{{date: 2026-10-06, open: 08:30, close: 17:30, breaks: [12:15 to 13:00]}}]
baths: {{mn: {{coat: {{time: 35 min}}}}}}
tanks: [{{name: trough, bath: mn, inside: 45 cm x 20 cm x 40 cm, fill: 26 L, lid: loose, heater: {{power: 3 kW}}}}]
stations: [{{name: sink, loads: 2}}, {{name: dish, loads: 1}}, {{name: rinse, loads: 1}}, {{name: bench, loads: 2}}, {{name: oil, loads: 4}}]
parts:
  rod: {{material: plain steel, bar: 14 mm x 54 cm, held: wire, turned: yes}}
  cap: {{material: plain steel, mass: 300 g, area: 1.4 dm2}}
routes:
  ends:
    - {{do: degrease, at: sink, for: 6 min}}
    - {{do: coat, in: mn}}
{rods}
    - {{do: rinse, at: rinse, for: 1 min, hands: throughout}}
    - {{do: dry, at: bench, for: 4 min, hands: throughout}}
    - {{do: oil, at: oil, for: 20 min}}
  pickled:
    - {{do: degrease, at: sink, for: 6 min}}
    - {{do: pickle, at: dish, {pickle}}}
    - {{do: rinse, as: acid rinse, at: rinse, for: 1 min, hands: throughout}}
    - {{do: coat, in: mn, within: 10 min}}
    - {{do: rinse, at: rinse, for: 1 min, hands: throughout}}
    - {{do: dry, at: bench, for: 4 min, hands: throughout}}
    - {{do: oil, at: oil, for: 20 min}}
orders:
{orders}
"
    ))
}

const OTHER_END: &str = "    - {do: coat, as: the other end, in: mn, within: 8 min}";

fn minutes(shop: &Shop, route: usize) -> Vec<(Option<f64>, Option<f64>)> {
    let steps = shop.routes[route].steps.iter();
    let minutes = |s: tankday::units::Span| s.in_minutes();
    steps
        .map(|s| (s.most.map(minutes), s.within.map(minutes)))
        .collect()
}

fn broken(record: &Record) -> Vec<(Moment, Breach)> {
    let of = |e: &tankday::record::Entry| match e.event {
        LogEntry::Breaks { what, .. } => Some((e.at, what)),
        _ => None,
    };
    record.entries.iter().filter_map(of).collect()
}

/// Nothing lies too long, and all orders are on time.
fn assert_all_well(shop: &Shop) -> Record {
    let (record, figures) = run(shop);
    assert_eq!(broken(&record), []);
    assert!(figures.orders.iter().all(|o| o.ready.is_some()));
    record
}

#[test]
fn a_stay_in_acid_has_an_end_whether_one_is_written_or_not() {
    let caps = "  - {id: C1, part: cap, count: 10, route: pickled}";
    let of = |pickle: &str| minutes(&shop(pickle, OTHER_END, caps), 1)[1].0;
    assert_eq!(of("for: 4 min"), Some(9.0));
    assert_eq!(of("for: 3 to 6 min"), Some(11.0));
    assert_eq!(of("for: about 4 min ± 1 min"), Some(12.0));
    assert_eq!(of("for: 4 min, at most: 6 min"), Some(6.0));
    assert_eq!(of("for: 4 min, or: overnight"), None);
    assert_eq!(of("for: 4 min, hands: throughout"), None);
}

#[test]
fn what_comes_out_of_acid_is_rinsed_and_goes_on() {
    let shop = shop(
        "for: 4 min",
        OTHER_END,
        "  - {id: C1, part: cap, count: 10, route: pickled}",
    );
    let within: Vec<_> = minutes(&shop, 1).into_iter().map(|m| m.1).collect();
    assert_eq!(within[..4], [None, None, Some(2.0), Some(10.0)]);
    let unsaid = shop_with_no_word_on_the_bath();
    let within: Vec<_> = minutes(&unsaid, 0).into_iter().map(|m| m.1).collect();
    assert_eq!(within[..3], [None, Some(2.0), Some(15.0)]);
}

fn shop_with_no_word_on_the_bath() -> Shop {
    read(
        "tankday: 1
shop: {hands: 1}
days: [{date: 2026-10-06, open: 08:30, close: 17:30}]
baths: {mn: {}}
tanks: [{name: trough, bath: mn, inside: 45 cm x 20 cm x 40 cm, fill: 26 L, heater: {power: 3 kW}}]
stations: [{name: dish}, {name: rinse}, {name: oil}]
parts: {cap: {material: plain steel, mass: 300 g, area: 1.4 dm2}}
routes:
  pickled:
    - {do: pickle, at: dish, for: 4 min}
    - {do: rinse, at: rinse, for: 1 min}
    - {do: coat, in: mn}
    - {do: oil, at: oil, for: 20 min}
orders: [{id: C1, part: cap, count: 10, route: pickled}]
",
    )
}

/// The bath is free only behind the break: nothing goes into the acid before it.
#[test]
fn nothing_lies_in_acid_over_a_break() {
    for comes in ["11:45", "11:52", "11:58", "12:03"] {
        let orders =
            format!("  - {{id: C1, part: cap, count: 10, route: pickled, arrives: {comes}, due: 17:00}}");
        let record = assert_all_well(&shop("for: 4 min", OTHER_END, &orders));
        let pickled = record.entries.iter().find_map(|e| match e.event {
            LogEntry::SetIn { step, .. } if step.step.0 == 1 => Some(e.at.clock()),
            _ => None,
        });
        let pickled = pickled.unwrap();
        assert!(pickled.as_str() >= "13:00", "{comes}: {pickled}");
    }
}

/// Rods lie in the bath with one end, and go in again with the other: caps would have waited for it stripped.
#[test]
fn a_bath_that_takes_the_other_end_next_is_not_free() {
    let orders = "  - {id: R1, part: rod, count: 8, route: ends, due: 14:00}
  - {id: C1, part: cap, count: 30, route: pickled, due: 17:00}";
    for between in [
        OTHER_END,
        "    - {do: rinse, as: rinse between, at: rinse, for: 1 min, hands: throughout}
    - {do: coat, as: the other end, in: mn, within: 8 min}",
    ] {
        assert_all_well(&shop("for: 4 min", between, orders));
    }
}

/// One end is coated: nothing joins it that is not, and it waits for none.
#[test]
fn what_is_half_coated_waits_for_no_company() {
    let orders = "  - {id: R1, part: rod, count: 4, route: ends, due: 14:00}
  - {id: C1, part: cap, count: 30, route: pickled, arrives: 9:50, due: 17:00}";
    let record = assert_all_well(&shop("for: 4 min", OTHER_END, orders));
    let at = |what: &dyn Fn(&LogEntry) -> bool| record.entries.iter().find(|e| what(&e.event)).unwrap().at;
    let out = at(&|e| matches!(e, LogEntry::StepDone { step, .. } if (step.route.0, step.step.0) == (0, 1)));
    let again = at(&|e| matches!(e, LogEntry::SetIn { step, .. } if (step.route.0, step.step.0) == (0, 2)));
    assert_eq!(out, again);
}
