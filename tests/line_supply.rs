//! Heaters that share a supply.

use tankday::audit::{FaultKind, check};
use tankday::line::Line;
use tankday::random::Streams;
use tankday::record::{BathSample, Figures, HeaterState, LogEntry, Record, WarningKind};
use tankday::scenario;
use tankday::shop::{Shop, StationId};
use tankday::units::{Moment, Power, Quantity};

/// Two tanks of 15 L with 3 kW each, on a supply.
fn two_tanks(supply: &str, heat: &str) -> Shop {
    let mut orders = String::new();
    for i in 0..8 {
        orders.push_str(&format!("  - {{id: A{i}, part: chuck, count: 10, route: way}}\n"));
    }
    let text = format!(
        "tankday: 1
shop: {{hands: 1, supply: {supply}}}
days: [{{date: 2026-03-02, open: 08:00, close: 18:00}}]
tanks:
  - {{name: left, bath: manganese, inside: 30 cm x 25 cm x 30 cm, fill: 15 L, heater: {{power: 3 kW}}}}
  - {{name: right, bath: manganese, inside: 30 cm x 25 cm x 30 cm, fill: 15 L, heater: {{power: 3 kW}}}}
baths: {{manganese: {{coat: {{target: 15 g/m2}}, dwell: 8 to 40 min}}}}
stations: [{{name: bench, loads: 4}}]
parts: {{chuck: {{material: plain steel, mass: 180 g, area: 95 cm2}}}}
routes: {{way: [{{do: coat, in: manganese}}, {{do: rinse, at: bench, for: 1 min, hands: throughout}}]}}
orders:
{orders}rules: {{combine: never, fill: {{at least: 0 %}}, heat: {{{heat}}}}}
"
    );
    scenario::read("two tanks", &text)
        .unwrap_or_else(|f| panic!("{}", f.render(false)))
        .shop
}

fn run(shop: &Shop, luck: Option<Streams>) -> Record {
    let mut record = Record::default();
    Line::new(shop).run(luck, &mut record);
    crate::audited::assert_sound(shop, &record);
    record
}

fn in_band(record: &Record, tank: u32) -> Moment {
    let first =
        |e: &&tankday::record::Entry| matches!(e.event, LogEntry::InBand { tank: t } if t == StationId(tank));
    record.entries.iter().find(first).map(|e| e.at).unwrap()
}

fn looks(record: &Record, tank: u32) -> Vec<(Moment, BathSample)> {
    let look = |e: &tankday::record::Entry| match &e.event {
        LogEntry::Bath { tank: t, sample } if *t == StationId(tank) => Some((e.at, **sample)),
        _ => None,
    };
    record.entries.iter().filter_map(look).collect()
}

/// On a supply that bears one heater the right tank waits until the left one holds; it then heats with what the left one
/// leaves. Twice the supply heats both at once.
#[test]
fn one_heater_after_the_other() {
    let (one, both) = (two_tanks("3 kW", ""), two_tanks("6 kW", ""));
    let record = run(&one, None);
    let left = looks(&record, 0);
    let holds = left
        .iter()
        .find(|(_, s)| s.heater == HeaterState::Holding)
        .unwrap()
        .0;
    for (at, s) in looks(&record, 1) {
        if at < holds {
            assert_eq!(s.drawn.base(), 0.0, "the right heater draws at {at:?}");
        }
    }
    assert!(in_band(&record, 1) > holds);
    let together = run(&both, None);
    assert_eq!(in_band(&together, 0), in_band(&together, 1));
    assert_eq!(
        in_band(&together, 0),
        in_band(&record, 0),
        "the first is not kept waiting"
    );
}

/// The second heater has 3 kW less what the first loses at 95 °C, no more and no less, until it holds itself.
#[test]
fn who_holds_leaves_the_rest() {
    let record = run(&two_tanks("3 kW", ""), None);
    let allowed: Vec<(StationId, Power)> = record
        .entries
        .iter()
        .filter_map(|e| match e.event {
            LogEntry::Allowed { tank, power } => Some((tank, power)),
            _ => None,
        })
        .collect();
    assert_eq!(allowed[0], (StationId(1), Power::ZERO));
    let shop = two_tanks("3 kW", "");
    let (.., tank) = shop.tanks().next().unwrap();
    let table = tankday::bath::TankHeat::new(tank, &shop.air);
    // The left one holds with a load in it, its lid off.
    let lost = table
        .leaving(shop.baths[0].band.hold, tankday::bath::Lid::Off)
        .heat;
    let rest = Power::kilowatts(3.0) - lost / table.efficiency().in_fraction();
    assert!(
        (allowed[1].1 - rest).base().abs() < 1.0,
        "{:?} against {rest:?}",
        allowed[1]
    );
}

/// Whatever the supply, all work gets done, no instant draws more than it bears, and the audit says so when one does.
#[test]
fn the_audit_holds_the_supply() {
    for supply in ["3 kW", "3.4 kW", "4.5 kW", "6 kW", "unlimited"] {
        for luck in [None, Some(Streams::new(3, 0)), Some(Streams::new(3, 1))] {
            let shop = two_tanks(supply, "");
            let record = run(&shop, luck);
            let ready = record
                .entries
                .iter()
                .filter(|e| matches!(e.event, LogEntry::OrderReady { .. }));
            assert_eq!(ready.count(), 8, "{supply}");
        }
    }
    let free = run(&two_tanks("unlimited", ""), None);
    let faults = check(&two_tanks("3 kW", ""), &free);
    assert!(faults.iter().any(|f| f.kind == FaultKind::Heater), "{faults:?}");
}

/// A supply that is never exhausted changes nothing: the same events as without one, but for looks at baths and what
/// looking oftener moves in the last digits.
#[test]
fn a_strong_supply_changes_nothing() {
    let plain = |record: &Record| -> Vec<(f64, String)> {
        let all = record
            .entries
            .iter()
            .filter(|e| !matches!(e.event, LogEntry::Bath { .. }));
        all.map(|e| {
            let name = format!("{:?}", e.event)
                .split([' ', '{'])
                .next()
                .unwrap_or_default()
                .to_owned();
            ((e.at - Moment::ZERO).in_seconds(), name)
        })
        .collect()
    };
    let free = plain(&run(&two_tanks("unlimited", ""), None));
    let strong = plain(&run(&two_tanks("6 kW", ""), None));
    assert_eq!(free.len(), strong.len());
    for (a, b) in free.iter().zip(&strong) {
        assert!(a.1 == b.1 && (a.0 - b.0).abs() < 0.1, "{a:?} against {b:?}");
    }
}

/// What waits for the supply is told, with how long, and that two thermostats at once are more than the breaker bears; a supply
/// for both says neither. The wait told is the time until the left heater holds, to which the few minutes come in which it
/// needs more for a load.
#[test]
fn what_waits_for_the_supply_is_told() {
    let shop = two_tanks("3 kW", "");
    let record = run(&shop, None);
    let figures = Figures::of(&shop, &record);
    let told = |kind| figures.warnings.iter().find(|w| w.kind == kind);
    let (over, waits) = (
        told(WarningKind::HeatersOverSupply),
        told(WarningKind::WaitsForSupply),
    );
    assert_eq!(over.unwrap().at.len(), 1);
    assert_eq!(over.unwrap().at[0].at, figures.opening);
    let right = waits
        .unwrap()
        .at
        .iter()
        .find(|c| c.station == Some(StationId(1)))
        .unwrap();
    let holds = looks(&record, 0)
        .iter()
        .find(|(_, s)| s.heater == HeaterState::Holding)
        .unwrap()
        .0;
    assert_eq!(right.at, figures.opening);
    assert!(
        right.by >= holds - figures.opening,
        "{:.1} min",
        right.by.in_minutes()
    );
    assert_eq!(over.unwrap().kind.code(), "heaters-over-supply");
    assert_eq!(waits.unwrap().kind.code(), "waits-for-supply");
    let text = tankday::sheet::to_text(&tankday::sheet::sheets(&shop, &record, &figures));
    assert!(text.contains("Both heaters on, by turns"), "{text}");
    for supply in ["6 kW", "unlimited"] {
        let shop = two_tanks(supply, "");
        let figures = Figures::of(&shop, &run(&shop, None));
        let shared = [WarningKind::HeatersOverSupply, WarningKind::WaitsForSupply];
        assert!(
            figures.warnings.iter().all(|w| !shared.contains(&w.kind)),
            "{supply}"
        );
    }
}
