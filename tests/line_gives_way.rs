//! Before a bath stripped work goes first that can wait least, if the other can wait until it is out again; and what is never
//! begun, since nobody would be there for what must follow, says so.

use crate::line_warned::{read, run};
use crate::told_of::with_results;
use tankday::print::Paper;
use tankday::record::{Breach, Entry, LogEntry};
use tankday::shop::Shop;

/// Orders stripped at about one time: blasted work may wait 30 min, what comes from acid 15, and that is due later.
fn shop(chucks: u32, jaws: u32, air: u32) -> Shop {
    read(&format!(
        "tankday: 1
shop: {{hands: 1, air: {{temperature: {air} °C}}}}
days:
  - {{date: 2026-12-03, open: 07:30, close: 16:00, breaks: [09:30 to 09:45, 12:00 to 12:40]}}
  - {{date: 2026-12-04, open: 07:30, close: 13:00, breaks: [09:30 to 09:45]}}
baths: {{mn: {{coat: {{target: 12 g/m2}}}}}}
tanks: [{{name: tub, bath: mn, inside: 60 cm x 25 cm x 30 cm, fill: 32 L, lid: loose, heater: {{power: 3 kW}}}}]
stations: [{{name: bench, loads: 2}}, {{name: acid tub}}, {{name: cabinet}}, {{name: rinse}}, {{name: dryer, loads: 2}}, {{name: oil pan, loads: 2}}]
parts:
  jaw: {{material: plain steel, mass: 450 g, area: 1.4 dm2, held: wire}}
  cap: {{material: grey iron, mass: 350 g, area: 1.3 dm2}}
  chuck: {{material: plain steel, mass: 180 g, area: 0.9 dm2, held: wire}}
routes:
  rusty:
    - {{do: degrease, at: bench, for: 8 min}}
    - {{do: pickle, at: acid tub, for: 10 min}}
    - {{do: rinse, as: acid rinse, at: rinse, for: 1 min, hands: throughout}}
    - {{do: coat, in: mn}}
    - {{do: rinse, at: rinse, for: 1 min, hands: throughout}}
    - {{do: dry by oven, at: dryer, for: 10 min}}
    - {{do: oil, at: oil pan, for: 10 min, within: 1 h}}
  clean:
    - {{do: degrease, at: bench, for: 8 min}}
    - {{do: blast, at: cabinet, for: 4 min, hands: throughout}}
    - {{do: coat, in: mn, within: 30 min}}
    - {{do: rinse, at: rinse, for: 1 min, hands: throughout}}
    - {{do: dry by oven, at: dryer, for: 10 min}}
    - {{do: oil, at: oil pan, for: 10 min, within: 1 h}}
orders:
  - {{id: N1, part: jaw, count: 8, route: rusty, due: 12:00}}
  - {{id: N2, part: cap, count: 10, route: clean, due: 15:00}}
  - {{id: N3, part: chuck, count: {chucks}, route: clean, due: Fri 10:00}}
  - {{id: N5, part: jaw, count: {jaws}, route: rusty, due: Fri 12:00}}
  - {{id: N6, part: cap, count: 6, route: clean, due: Fri 12:30}}
"
    ))
}

#[test]
fn what_can_wait_leaves_the_bath_to_what_cannot() {
    for chucks in [16, 20, 24] {
        for jaws in [10, 12] {
            for air in [12, 14, 16, 20] {
                let (record, figures) = run(&shop(chucks, jaws, air));
                let late = |e: &&Entry| {
                    matches!(
                        e.event,
                        LogEntry::Breaks {
                            what: Breach::WaitedTooLong { .. },
                            ..
                        }
                    )
                };
                assert_eq!(record.entries.iter().find(late), None, "{chucks}, {jaws}, {air}");
                assert!(
                    figures.orders.iter().all(|o| o.ready.is_some()),
                    "{chucks}, {jaws}, {air}"
                );
            }
        }
    }
}

/// Springs whose relief ends after closing on the one day, and is too long for the other.
#[test]
fn what_is_never_begun_says_that_nobody_would_be_there() {
    let shop = read(
        "tankday: 1
shop: {hands: 1}
days: [{date: 2026-12-03, open: 07:30, close: 16:00}, {date: 2026-12-04, open: 07:30, close: 13:00}]
baths: {mn: {coat: {target: 12 g/m2}}}
tanks: [{name: tub, bath: mn, inside: 60 cm x 25 cm x 30 cm, fill: 32 L, heater: {power: 3 kW}}]
stations: [{name: cabinet}, {name: rinse}, {name: oven}, {name: oil pan}]
parts: {spring: {material: spring steel, mass: 20 g, area: 0.3 dm2, tempered: 350 °C}}
routes:
  springs:
    - {do: blast, at: cabinet, for: 4 min, hands: throughout}
    - {do: coat, in: mn, within: 30 min}
    - {do: rinse, at: rinse, for: 1 min, hands: throughout}
    - {do: bake, kind: relieve, at: oven, for: 8 h, heat: 102 °C, within: 4 h}
    - {do: oil, at: oil pan, for: 10 min, within: 1 h}
orders: [{id: S, part: spring, count: 30, route: springs}]
",
    );
    let (record, _) = run(&shop);
    let told = with_results(&shop, &record, |results| {
        let lines = tankday::narrative::answer(results).into_iter();
        lines.map(|l| l.write(Paper::FILE)).collect::<Vec<_>>().join(" ")
    });
    assert!(
        told.contains("still waits to blast when the days are over: nobody would be there in time for oil"),
        "{told}"
    );
}
