//! What is warmed in time and topped up before it is heated; what a load waits for, and what lay bare too long.

use crate::line_warned::{clock, pot, read, run};
use crate::told_of::with_results;
use tankday::line::Line;
use tankday::record::{HeaterState, LogEntry, Record, Wait, order_waits};
use tankday::shop::{OrderId, Shop};
use tankday::units::{Moment, Span};

/// When a bath is switched on, and how hot it is at a moment.
fn heated(shop: &Shop, ready: Moment) -> (Moment, f64) {
    let (record, _) = run(shop);
    let looks = || {
        record.entries.iter().filter_map(|e| match &e.event {
            LogEntry::Bath { sample, .. } => Some((e.at, sample)),
            _ => None,
        })
    };
    let on = looks().find(|l| l.1.heater != HeaterState::Off).unwrap().0;
    let then = looks()
        .take_while(|l| l.0 <= ready + Span::whole_minutes(1))
        .last()
        .unwrap();
    (on, then.1.temperature.in_celsius())
}

/// A bath that is to be ready by noon is switched on earlier where a break lies between: its heater is off in it. (It was
/// reckoned as if the heater stayed on, and the bath was late by the whole break.)
#[test]
fn ready_by_reckons_with_a_break_in_which_the_heater_is_off() {
    let by = |breaks: &str| {
        let rules = "heat: {switch on: ready by 12:00}";
        heated(&pot(breaks, "3 kW", "", rules), clock(12, 0))
    };
    let (plain, hot) = by("");
    assert!(hot >= 87.9, "{hot}");
    let (early, hot) = by(", breaks: [11:10 to 11:40]");
    assert!(
        plain < clock(11, 40) && hot >= 87.5,
        "on at {}, {hot:.1} °C at noon",
        early.clock()
    );
    assert!(
        early <= plain - Span::whole_minutes(15),
        "{} and {}",
        early.clock(),
        plain.clock()
    );
}

/// A bath that is low when wool is to go in is topped up first: it is never heated below its heater's level.
#[test]
fn a_low_bath_is_topped_up_before_wool_goes_in() {
    let wool = "care: {condition: {when: iron below 2 g/L, to: 2.5 g/L}}";
    let mut shop = pot("", "3 kW", "", wool);
    for station in &mut shop.stations {
        if let Some(tank) = &mut station.tank {
            tank.volume = tank.fill * 0.6;
        }
    }
    let (record, _) = run(&shop);
    let first = |wanted: &dyn Fn(&LogEntry) -> bool| record.entries.iter().position(|e| wanted(&e.event));
    let water = first(&|e| matches!(e, LogEntry::ToppedUp { .. })).unwrap();
    let care = first(&|e| matches!(e, LogEntry::CareBegins { .. })).unwrap();
    assert!(water < care);
    assert_eq!(first(&|e| matches!(e, LogEntry::CutOff { .. })), None);
}

/// A load that is kept out of a hot bath since a break begins before it would be out again waits for the break, not for its
/// turn.
#[test]
fn a_load_that_would_be_in_at_the_break_waits_for_the_break() {
    let shop = pot(", breaks: [08:55 to 09:20]", "3 kW", "", "fill: {at least: 0 %}");
    let (record, _) = run(&shop);
    let coats = |s: &&tankday::record::Stretch| s.step.step.0 == 0;
    let waits = order_waits(&shop, &record);
    let kept: Vec<_> = waits
        .iter()
        .flat_map(|w| &w.stretches)
        .filter(coats)
        .filter(|s| s.from < clock(8, 55) && s.to > clock(8, 55))
        .collect();
    assert!(!kept.is_empty(), "{waits:?}");
    assert!(kept.iter().all(|s| s.why == Wait::Break), "{kept:?}");
}

/// Behind a step that says itself what it comes after, and no time, no place is looked for.
const STATED: &str = ", kind: rest, after: coat";

/// An order that is ready when it is due, but lay bare too long before, does not count as on time; the first line says so, and
/// names load, order and cause.
#[test]
fn an_order_that_lay_bare_is_not_counted_as_on_time() {
    let text = |rinse: &str| {
        format!(
            "tankday: 1
shop: {{hands: 1}}
days: [{{date: 2026-03-02, open: 08:00, close: 18:00}}]
tanks: [{{name: pot, bath: manganese, inside: 35 cm x 25 cm x 35 cm, fill: 20 L, heater: {{power: 3 kW}}}}]
baths: {{manganese: {{}}}}
stations: [{{name: bench, loads: 4}}, {{name: tray}}]
parts: {{chuck: {{mass: 180 g, area: 95 cm2}}}}
routes:
  way:
    - {{do: degrease, at: bench, for: 5 min}}
    - {{do: coat, in: manganese}}
    - {{do: rinse, at: bench, for: 1 min, hands: throughout{rinse}}}
    - {{do: oil, at: tray, for: 3 h, within: 10 min}}
orders:
  - {{id: A, part: chuck, count: 20, route: way, due: 17:00}}
  - {{id: B, part: chuck, count: 20, route: way, due: 17:30}}
rules: {{combine: never}}
"
        )
    };
    let said = |rinse: &str| {
        let shop = read(&text(rinse));
        let (record, _) = run(&shop);
        with_results(&shop, &record, |results| {
            let three = tankday::narrative::three(results, &tankday::narrative::promises(results));
            let line = tankday::narrative::answer(results).remove(0);
            (line.write(tankday::print::Paper::FILE), three[1].value.clone())
        })
    };
    let (line, kept) = said(STATED);
    assert!(
        line.starts_with(
            "One of two orders will be ready on time without harm; one more lies bare too long. L2 (B) lies bare"
        ),
        "{line}"
    );
    assert!(line.contains("as the tray was full"), "{line}");
    assert_eq!(kept, "1 of 2");
    // Where a rinse follows, at once or as soon as hands are free, the load waits before the bath for its place in the tray.
    for rinse in ["", ", within: 1 min", ", kind: rest"] {
        let (line, kept) = said(rinse);
        assert!(line.starts_with("Both orders will be ready on time"), "{line}");
        assert_eq!(kept, "2 of 2");
    }
    // The same holds for chances over many days: it is bare on each of them.
    let shop = read(&text(STATED));
    let study = tankday::study::Study::of(&shop, 1, 8, |luck| {
        let mut record = Record::default();
        Line::new(&shop).run(Some(luck), &mut record);
        record
    });
    let chances: Vec<_> = (0..2).map(|o| study.chance((OrderId(o), 1))).collect();
    let counted: Vec<_> = chances.iter().map(|c| (c.on_time, c.harmed)).collect();
    assert_eq!(counted, [(8, 0), (0, 8)]);
}
