//! Work is stripped on an evening only if what must follow behind the bath still can: the bath is hot late, and the oven is
//! emptied by hand.

use crate::line_warned::{read, run};
use tankday::record::{Breach, LogEntry};
use tankday::shop::Shop;

/// Evenings until a time, and a Saturday; springs that are baked behind the bath.
fn shop(until: &str, relief: &str, power: &str) -> Shop {
    read(&format!(
        "tankday: 1
shop: {{hands: 1, air: {{temperature: 16 °C}}}}
days:
  - {{date: 2026-11-03, open: 17:30, close: {until}}}
  - {{date: 2026-11-05, open: 17:30, close: {until}}}
  - {{date: 2026-11-07, open: 08:00, close: 15:00}}
baths: {{mn: {{coat: {{target: 12 g/m2}}}}}}
tanks: [{{name: pot, bath: mn, inside: round 28 cm x 30 cm, fill: 14 L, lid: fitted, heater: {{power: {power}, kind: hot plate}}}}]
stations: [{{name: cabinet}}, {{name: rinse}}, {{name: oven}}, {{name: oil, loads: 3}}]
parts: {{spring: {{material: spring steel, mass: 8 g, area: 14 cm2, held: basket, tempered: 300 °C}}}}
routes:
  sprung:
    - {{do: blast, at: cabinet, for: 6 min, hands: throughout}}
    - {{do: coat, in: mn, within: 20 min}}
    - {{do: rinse, at: rinse, for: 1 min, hands: throughout}}
    - {{do: bake, kind: relieve, at: oven, for: {relief}, within: 90 min, heat: 102 °C}}
    - {{do: oil, at: oil, for: 10 min, within: 1 h}}
orders: [{{id: S1, part: spring, count: 50, route: sprung}}]
"
    ))
}

#[test]
fn nothing_is_stripped_whose_oven_is_emptied_after_closing() {
    for until in ["20:20", "20:40", "21:00", "21:10", "21:20"] {
        for relief in ["100 min", "2 h"] {
            for power in ["1.8 kW", "2.6 kW"] {
                let shop = shop(until, relief, power);
                let (record, figures) = run(&shop);
                let bare = record.entries.iter().find(|e| {
                    matches!(
                        e.event,
                        LogEntry::Breaks {
                            what: Breach::WaitedTooLong { .. },
                            ..
                        }
                    )
                });
                assert_eq!(bare, None, "{until}, {relief}, {power}");
                assert!(figures.orders[0].ready.is_some(), "{until}, {relief}, {power}");
            }
        }
    }
}
