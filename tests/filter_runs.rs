//! How long a filter runs is said as far as it is known, and one that is not through is told first.

use crate::audit_sheet::Sheet;
use tankday::line::Line;
use tankday::record::{Figures, Record, WarningKind};
use tankday::scenario;
use tankday::shop::Shop;

/// Two days with work on the first, and a filter stop.
fn shop(stop: &str) -> Shop {
    let text = format!(
        "tankday: 1
shop: {{hands: 1}}
days: [{{date: 2026-06-01, open: 08:00, close: 17:00, repeat: 2}}]
baths: {{mn: {{now: {{sludge: 6 g/L}}}}}}
tanks: [{{name: crock, bath: mn, inside: 40 cm x 25 cm x 30 cm, fill: 20 L, lid: loose, heater: {{power: 3 kW}}}}]
stations: [{{name: sink}}, {{name: rinse, loads: 2}}, {{name: oil tin, loads: 3}}]
parts: {{hinge: {{material: plain steel, mass: 80 g, area: 1.2 dm2}}}}
routes:
  black:
    - {{do: degrease, at: sink, for: 6 min}}
    - {{do: coat, in: mn}}
    - {{do: rinse, at: rinse, for: 1 min, hands: throughout}}
    - {{do: oil, at: oil tin, for: 10 min}}
orders: [{{id: H, part: hinge, count: 12, route: black}}]
rules: {{care: {{filter: {{{stop}}}}}}}
"
    );
    scenario::read("filter.yaml", &text)
        .unwrap_or_else(|f| panic!("{}", f.render(false)))
        .shop
}

/// The row that sets the filter up, and whether it is told that it is not through.
fn told(stop: &str) -> (String, bool) {
    let shop = shop(stop);
    let mut record = Record::default();
    Line::new(&shop).run(None, &mut record);
    let sheet = Sheet::of(&shop, &record);
    assert_eq!(sheet.faults(&shop, &record), Vec::<String>::new(), "{stop}");
    let row = sheet.csv.lines().find(|l| l.contains("Set up the filter"));
    let warnings = Figures::of(&shop, &record).warnings;
    let runs = warnings.iter().any(|w| w.kind == WarningKind::FilterRuns);
    (row.unwrap_or_default().to_owned(), runs)
}

#[test]
fn through_on_the_same_day() {
    let (row, runs) = told("when: at 10:00, settles: 30 min");
    assert!(row.contains("; it runs ") && row.contains(" min"), "{row}");
    assert!(!row.contains("through") && !runs, "{row}");
}

/// Hands were through at closing, and fill back in the morning: the night was counted as the filter's time.
#[test]
fn through_by_the_morning() {
    let (row, runs) = told("when: at 12:20, settles: 30 min, area: 0.5 dm2, cake: 1e10 m/kg");
    assert!(row.contains("it runs and is through by Tue 08:00"), "{row}");
    assert!(!runs);
}

/// "It runs 5 min" stood for a filter that is never through.
#[test]
fn never_through() {
    let (row, runs) = told("when: at 10:00, settles: 30 min, area: 0.3 dm2, cake: 5e14 m/kg");
    assert!(row.contains("is not through when the days are over"), "{row}");
    assert!(runs);
}
