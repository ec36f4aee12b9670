//! What comes out of a bath goes on soon until something keeps rust from it, whether its route says a time or not.

use tankday::line::Line;
use tankday::record::{Figures, Record};
use tankday::scenario;
use tankday::shop::Shop;

/// Rods by the dozen, one place in the oil for two hours, and a way behind the bath.
fn shop(behind: &str) -> Shop {
    let text = format!(
        "tankday: 1
shop: {{hands: 1}}
days: [{{date: 2026-06-01, open: 07:30, close: 15:30, breaks: [12:00 to 12:30]}}]
baths: {{mn: {{}}}}
tanks: [{{name: trough, bath: mn, inside: 120 cm x 15 cm x 20 cm, fill: 24 L, lid: loose, heater: {{power: 4 kW}}}}]
stations: [{{name: sink}}, {{name: rinse}}, {{name: bench, loads: 2}}, {{name: oil tray, loads: 1}}]
parts: {{rod: {{material: plain steel, mass: 400 g, area: 2.5 dm2}}}}
routes:
  black:
    - {{do: degrease, at: sink, for: 8 min}}
    - {{do: coat, in: mn, within: 2 h}}
{behind}
orders:
  - {{id: R1, part: rod, count: 8, route: black}}
  - {{id: R2, part: rod, count: 8, route: black}}
  - {{id: R3, part: rod, count: 8, route: black}}
  - {{id: R4, part: rod, count: 8, route: black}}
  - {{id: R5, part: rod, count: 8, route: black}}
rules: {{combine: never, fill: {{at least: 0 %}}}}
"
    );
    scenario::read("rods.yaml", &text)
        .unwrap_or_else(|f| panic!("{}", f.render(false)))
        .shop
}

const RINSE: &str = "    - {do: rinse, at: rinse, for: 1 min, hands: throughout, at once: yes}\n";

fn within(shop: &Shop) -> Vec<Option<f64>> {
    let steps = shop.routes[0].steps.iter();
    steps
        .map(|s| s.within.map(tankday::units::Span::in_minutes))
        .collect()
}

#[test]
fn a_time_is_there_where_none_is_written() {
    let shop = shop(&format!(
        "{RINSE}    - {{do: blow off, at: bench, for: 5 min, hands: throughout}}
    - {{do: weigh, at: bench, for: 2 min, hands: throughout}}
    - {{do: oil, at: oil tray, for: 2 h}}
    - {{do: pack, at: bench, for: 5 min, hands: throughout}}"
    ));
    let hour = Some(60.0);
    assert_eq!(
        within(&shop),
        [None, Some(120.0), Some(2.0), Some(15.0), hour, hour, None]
    );
}

#[test]
fn what_is_written_stays() {
    let shop = shop(&format!(
        "{RINSE}    - {{do: dry, at: bench, for: 5 min, hands: throughout, within: 3 min}}
    - {{do: seal, at: rinse, for: 2 min, within: 10 min}}
    - {{do: oil, at: oil tray, for: 2 h}}"
    ));
    let told = within(&shop);
    assert_eq!(told[3..5], [Some(3.0), Some(10.0)]);
    assert_eq!(told[5], None, "what is sealed may wait");
}

/// A step between bath and oil for which no time was written let every load into the bath, and most lay bare for hours.
#[test]
fn no_load_goes_in_that_would_lie_bare() {
    for middle in ["blow off", "dry", "weigh"] {
        let shop = shop(&format!(
            "{RINSE}    - {{do: {middle}, at: bench, for: 5 min, hands: throughout}}
    - {{do: oil, at: oil tray, for: 2 h, within: 20 min}}"
        ));
        let mut record = Record::default();
        Line::new(&shop).run(None, &mut record);
        let figures = Figures::of(&shop, &record);
        let bare: Vec<_> = figures.orders.iter().map(|o| o.bare.in_minutes()).collect();
        assert!(bare.iter().all(|b| *b == 0.0), "{middle}: {bare:?}");
        let ready = figures.orders.iter().filter(|o| o.ready.is_some()).count();
        assert!(ready >= 3, "{middle}: {ready} of five are ready");
    }
}
