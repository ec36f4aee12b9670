//! What the clock calls for comes between work and its bath: nothing is stripped for a bath that is about to be cared for, no
//! heater goes on for an evening on which nothing can be out again, and work that lay stripped too long is not on time.

use crate::line_warned::{read, run};
use crate::told_of::with_results;
use tankday::record::{Bare, Breach, Figures, HeaterState, LogEntry, Record};
use tankday::shop::Shop;

/// A pot that is hot by 09:00; an order comes at nine and is blasted for 40 min, to be in its bath 15 min after.
fn shop(care: &str, comes: &str) -> Shop {
    read(&format!(
        "tankday: 1
shop: {{hands: 1}}
days: [{{date: 2026-03-02, open: 08:00, close: 18:00, breaks: [10:05 to 10:07], stays: yes}}]
tanks: [{{name: pot, bath: manganese, inside: 35 cm x 25 cm x 35 cm, fill: 20 L, heater: {{power: 3 kW}}}}]
baths: {{manganese: {{now: {{total acid: 33 points, free acid: 5.3 points, iron: 0.6 g/L, sludge: 2 g/L}}}}}}
stations: [{{name: bench, loads: 4}}]
parts: {{chuck: {{mass: 180 g, area: 95 cm2}}}}
routes:
  way:
    - {{do: degrease, at: bench, for: 2 min}}
    - {{do: blast, at: bench, for: 40 min, hands: throughout}}
    - {{do: coat, in: manganese, within: 15 min}}
    - {{do: rinse, at: bench, for: 1 min, hands: throughout}}
    - {{do: oil, at: bench, for: 10 min, within: 30 min}}
orders: [{{id: A, part: chuck, count: 20, route: way, arrives: '{comes}', due: 18:00}}]
rules: {{care: {{{care}}}}}
"
    ))
}

fn waited_too_long(record: &Record) -> usize {
    let waits = |e: &&tankday::record::Entry| {
        matches!(
            e.event,
            LogEntry::Breaks {
                what: Breach::WaitedTooLong { .. },
                ..
            }
        )
    };
    record.entries.iter().filter(waits).count()
}

#[test]
fn nothing_is_stripped_for_a_bath_that_the_clock_is_about_to_close() {
    let filter = |at: &str| format!("filter: {{when: at {at}, cool to: 50 °C, settles: 1 h, area: 4 dm2}}");
    let wool = |at: &str| format!("condition: {{when: at {at}, to: 0.8 g/L}}");
    for comes in ["09:00", "09:20", "09:40"] {
        for care in [
            filter("09:30"),
            filter("10:00"),
            wool("09:30"),
            wool("10:00"),
            filter("the break"),
            // The second waits for the first, and has something to do only after it.
            format!("{}, {}", filter("09:50"), wool("09:30")),
            format!("{}, {}", wool("09:50"), filter("09:30")),
        ] {
            let shop = shop(&care, comes);
            let (record, figures) = run(&shop);
            assert_eq!(waited_too_long(&record), 0, "{comes}, {care}");
            assert!(figures.orders[0].on_time(), "{comes}, {care}");
        }
    }
}

#[test]
fn no_heater_goes_on_for_an_evening_on_which_nothing_can_be_out_again() {
    let evenings = |close: &str| {
        read(&format!(
            "tankday: 1
shop: {{hands: 1}}
days: [{{date: 2026-03-02, open: 18:00, close: '{close}'}}, {{date: 2026-03-03, open: 08:00, close: 16:00}}]
tanks: [{{name: pot, bath: manganese, inside: 35 cm x 25 cm x 35 cm, fill: 20 L, heater: {{power: 2 kW}}}}]
baths: {{manganese: {{now: {{total acid: 33 points, free acid: 5.3 points, iron: 0.9 g/L, sludge: 5 g/L}}}}}}
stations: [{{name: bench, loads: 4}}]
parts: {{chuck: {{mass: 180 g, area: 95 cm2}}}}
routes: {{way: [{{do: degrease, at: bench, for: 2 min}}, {{do: coat, in: manganese}}, {{do: oil, at: bench, for: 5 min}}]}}
orders: [{{id: A, part: chuck, count: 20, route: way, due: 2026-03-03 16:00}}]
rules: {{care: {{filter: {{when: at 18:00, cool to: 50 °C, settles: 30 min, area: 4 dm2}}}}}}
"
        ))
    };
    let on_in_the_evening = |close: &str| {
        let (record, figures) = run(&evenings(close));
        assert!(figures.orders[0].on_time(), "{close}");
        let end = record
            .entries
            .iter()
            .position(|e| matches!(e.event, LogEntry::Closes));
        let stop = record
            .entries
            .iter()
            .position(|e| matches!(e.event, LogEntry::CareEnds { .. }));
        let evening = &record.entries[..end.unwrap()];
        evening
            .iter()
            .skip(stop.unwrap_or(usize::MAX))
            .any(|e| match &e.event {
                LogEntry::Bath { sample, .. } => sample.heater == HeaterState::Heating,
                _ => false,
            })
    };
    assert!(on_in_the_evening("23:50"));
    assert!(!on_in_the_evening("19:20"));
}

#[test]
fn work_that_lay_stripped_too_long_is_not_on_time() {
    // Two loads are looked over for an hour each, at a bench for one: the second lies stripped before it.
    let shop = |strip: &str| {
        read(&format!(
            "tankday: 1
shop: {{hands: 1}}
days: [{{date: 2026-03-02, open: 08:00, close: 18:00}}]
tanks: [{{name: pot, bath: manganese, inside: 35 cm x 25 cm x 35 cm, fill: 20 L, heater: {{power: 3 kW}}}}]
baths: {{manganese: {{}}}}
stations: [{{name: bench, loads: 4}}, {{name: lamp}}]
parts: {{chuck: {{mass: 180 g, area: 95 cm2}}}}
routes:
  way:
    - {{do: degrease, at: bench, for: 5 min}}
    - {{do: {strip}, at: bench, for: 10 min, hands: throughout}}
    - {{do: look, kind: rest, at: lamp, for: 1 h, within: 10 min}}
    - {{do: coat, in: manganese}}
    - {{do: rinse, at: bench, for: 1 min, hands: throughout}}
    - {{do: oil, at: bench, for: 10 min, within: 30 min}}
orders:
  - {{id: A, part: chuck, count: 20, route: way, due: 17:00}}
  - {{id: B, part: chuck, count: 20, route: way, due: 17:30}}
rules: {{combine: never}}
"
        ))
    };
    for strips in ["blast", "pickle", "tumble", "brush"] {
        let shop = shop(strips);
        let (record, figures) = run(&shop);
        let stripped = |f: &Figures| f.waited.iter().any(|w| w.bare == Some(Bare::Stripped));
        assert!(stripped(&figures), "{strips}");
        let on_time: Vec<bool> = figures.orders.iter().map(|o| o.on_time()).collect();
        assert_eq!(on_time, [true, false], "{strips}");
        with_results(&shop, &record, |results| {
            let line = tankday::narrative::answer(results).remove(0);
            let line = line.write(tankday::print::Paper::FILE);
            assert!(
                line.starts_with(
                    "One of two orders will be ready on time without harm; one more lies bare too long."
                ),
                "{line}"
            );
            assert!(line.contains("lies stripped"), "{line}");
        });
    }
    // What is only clean keeps.
    let (_, figures) = run(&shop("soak, kind: rinse"));
    assert!(
        figures.waited.iter().all(|w| w.bare.is_none()),
        "{:?}",
        figures.waited
    );
    assert!(figures.orders.iter().all(|o| o.on_time()));
}
