//! A long part that may be turned end for end goes half into a tank only where no tank covers it whole.

use tankday::line::Line;
use tankday::record::{Figures, LogEntry, Record};
use tankday::scenario;
use tankday::shop::Shop;

/// Bars of 42 cm, a pot that covers half of one, and a trough.
fn shop(trough: &str, bar: &str, orders: &str) -> Result<Shop, String> {
    let text = format!(
        "tankday: 1
shop: {{hands: 2}}
days: [{{date: 2026-06-01, open: 07:30, close: 15:30}}]
baths: {{mn: {{}}}}
tanks:
  - {{name: pot, bath: mn, inside: round 26 cm x 32 cm, fill: 12 L, lid: loose, heater: {{power: 2 kW}}}}
{trough}
stations: [{{name: sink, loads: 2}}, {{name: rinse, loads: 2}}, {{name: oil tray, loads: 9}}]
parts: {{bar: {{material: plain steel, mass: 400 g, area: 2.5 dm2, size: 420 x 30 x 10 mm, turned: yes{bar}}}}}
routes:
  black:
    - {{do: degrease, at: sink, for: 8 min}}
    - {{do: coat, in: mn}}
    - {{do: rinse, at: rinse, for: 1 min, hands: throughout}}
    - {{do: oil, at: oil tray, for: 20 min}}
orders:
  - {{id: B, part: bar, count: 12, route: black{orders}}}
rules: {{fill: {{at least: 0 %}}}}
"
    );
    let read = scenario::read("bars.yaml", &text);
    read.map(|r| r.shop).map_err(|f| f.render(false))
}

const TROUGH: &str = "  - {name: trough, bath: mn, inside: 60 cm x 25 cm x 25 cm, fill: 25 L, lid: loose, heater: {power: 3 kW}}";

/// Into how many loads the bars went, by tank.
fn loads(shop: &Shop) -> (usize, usize) {
    let mut record = Record::default();
    Line::new(shop).run(None, &mut record);
    let into = |name: &str| {
        let of = record.entries.iter().filter(|e| match &e.event {
            LogEntry::SetIn { step, station, .. } => step.step.0 == 1 && shop.station_name(*station) == name,
            _ => false,
        });
        of.count()
    };
    assert!(
        Figures::of(shop, &record)
            .orders
            .iter()
            .all(|o| o.ready.is_some())
    );
    (into("pot"), into("trough"))
}

#[test]
fn never_half_where_another_tank_covers_it_whole() {
    let (pot, trough) = loads(&shop(TROUGH, "", "").unwrap());
    assert_eq!(pot, 0);
    assert!(trough > 0);
}

#[test]
fn half_where_nothing_else_is_there_is_refused_with_one_coat() {
    for (trough, bar) in [("", ""), (TROUGH, ", tank: pot")] {
        let told = shop(trough, bar, "").unwrap_err();
        assert!(told.contains("half of `bar` stays bare"), "{told}");
    }
}
