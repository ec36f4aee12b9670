//! Care on the line: what comes before heating, what a renewal calls for, what keeps work back.

use tankday::line::Line;
use tankday::record::{CareKind, Figures, HeaterState, LogEntry, Record, WarningKind};
use tankday::scenario;
use tankday::sheet::sheets;
use tankday::shop::Shop;

fn read(text: &str) -> Shop {
    scenario::read("shop", text)
        .unwrap_or_else(|f| panic!("{}", f.render(false)))
        .shop
}

fn run(shop: &Shop) -> (Record, Figures) {
    let mut record = Record::default();
    Line::new(shop).run(None, &mut record);
    crate::audited::assert_sound(shop, &record);
    let figures = Figures::of(shop, &record);
    (record, figures)
}

/// Two days with two loads on each; what differs is put in.
fn two_days(bath: &str, orders: &str, rules: &str) -> Shop {
    read(&format!(
        "tankday: 1
shop: {{hands: 1}}
days: [{{date: 2026-03-02, open: 08:00, close: 18:00, repeat: 2}}]
tanks: [{{name: pot, bath: manganese, inside: 35 cm x 25 cm x 35 cm, fill: 20 L, heater: {{power: 3 kW}}}}]
baths: {{manganese: {{{bath}}}}}
stations: [{{name: bench, loads: 4}}]
parts: {{chuck: {{mass: 180 g, area: 95 cm2}}}}
routes: {{way: [{{do: coat, in: manganese}}, {{do: rinse, at: bench, for: 1 min, hands: throughout}}]}}
orders:
  - {{id: A, part: chuck, count: 20, route: way{orders}}}
  - {{id: B, part: chuck, count: 20, route: way{orders}}}
  - {{id: C, part: chuck, count: 20, route: way, arrives: 2026-03-03 08:00{orders}}}
  - {{id: D, part: chuck, count: 20, route: way, arrives: 2026-03-03 08:00{orders}}}
rules: {{combine: never, care: {{{rules}}}}}
"
    ))
}

/// A stop that is due in the morning comes before heating: the bath stood all night, so that it is decanted at once. (It was
/// switched on and off at the same moment, and had to settle once more.)
#[test]
fn a_stop_in_the_morning_comes_before_heating() {
    let shop = two_days("", "", "filter: {when: after 2 loads, settles: 3 h}");
    let (record, f) = run(&shop);
    let stop = f.baths[0]
        .care
        .iter()
        .find(|c| c.kind == CareKind::Filter)
        .unwrap();
    let (day, time) = stop.from.day_and_time();
    assert_eq!((day, time.in_hours()), (1, 8.0));
    assert!(
        (stop.to - stop.from).in_hours() < 1.0,
        "{:.1} h",
        (stop.to - stop.from).in_hours()
    );
    let on = record.entries.iter().find(|e| {
        let heats = matches!(&e.event, LogEntry::Bath { sample, .. } if sample.heater != HeaterState::Off);
        heats && e.at.day_and_time().0 == 1
    });
    assert!(on.unwrap().at >= stop.to);
    let sheets = sheets(&shop, &record, &f);
    let row = sheets.iter().flat_map(|s| &s.rows).find(|r| r.at == stop.from);
    let deed = &row.unwrap().deed;
    assert_eq!(
        deed,
        "Pot: heater stays off, nothing goes in until it is filtered"
    );
    assert!(f.orders.iter().all(|o| o.ready.is_some()));
}

/// A tank that goes on after its exchange is switched on, and the sheet says so. (What began in the jug at that moment hid it.)
#[test]
fn the_sheet_lights_a_tank_after_its_exchange() {
    let text = std::fs::read_to_string("scenarios/filter-week.yaml").unwrap();
    let text = text
        .replace(
            "stations:\n",
            "vessels:\n  - {name: storage jug, bath: manganese, holds: 25 L}\n\nstations:\n",
        )
        .replace("after 4 loads,", "after 4 loads, into: storage jug,");
    let shop = read(&text);
    let (record, figures) = run(&shop);
    let sheets = sheets(&shop, &record, &figures);
    let mut checked = 0;
    for care in figures.baths[0]
        .care
        .iter()
        .filter(|c| c.kind == CareKind::Exchange)
    {
        let later = figures.loads.iter().find(|l| l.begins > care.to);
        let Some(later) = later.filter(|l| l.begins.day_and_time().0 == care.to.day_and_time().0) else {
            continue;
        };
        let rows = sheets.iter().flat_map(|s| &s.rows);
        let lit = rows.filter(|r| r.deed.contains("heater on") && r.at >= care.to && r.at < later.begins);
        assert_eq!(lit.count(), 1, "after the exchange that ends {:?}", care.to);
        checked += 1;
    }
    assert!(checked > 0);
}

/// A bath that takes no load and that nobody mends is not heated all day.
#[test]
fn a_stopped_bath_is_not_heated() {
    let (_, f) = run(&two_days("now: {iron: 4.5 g/L}", "", ""));
    assert!(f.loads.is_empty());
    assert_eq!(f.tanks[0].energy.in_kilowatt_hours(), 0.0);
    assert!(f.warnings.iter().any(|w| w.kind == WarningKind::BathStopped));
}

/// Two rules that renew do not chase each other, though each brings what the other waits for.
#[test]
fn renewals_do_not_chase_each_other() {
    let rules =
        "renew: iron above 0.01 g/L, renew half: ratio above 5.9, raise ratio: never, lower ratio: never";
    let (_, f) = run(&two_days("", "", rules));
    assert!(f.baths[0].care.len() < 30, "{}", f.baths[0].care.len());
}

/// A fresh bath that takes scrap first, and no scrap to come: what is kept back, and why, is told.
#[test]
fn work_that_is_kept_back_is_told() {
    let (_, f) = run(&two_days("now: fresh", "", "fresh bath: takes scrap first"));
    assert!(f.loads.is_empty());
    let told = f
        .warnings
        .iter()
        .find(|w| w.kind == WarningKind::HeldBack)
        .unwrap();
    assert_eq!((told.at.len(), told.kind.code()), (1, "held-back"));
    assert_eq!(f.tanks[0].energy.in_kilowatt_hours(), 0.0);
    let (_, f) = run(&two_days(
        "now: fresh",
        ", looks: do not matter",
        "fresh bath: takes scrap first",
    ));
    assert!(f.loads.len() == 4 && f.warnings.iter().all(|w| w.kind != WarningKind::HeldBack));
}

/// A fresh bath is heated for the scrap that comes, and goes off when that has left it too poor in iron for the rest.
#[test]
fn a_fresh_bath_goes_off_after_the_last_scrap() {
    let shop = two_days("now: fresh", "", "fresh bath: takes scrap first");
    let mut scrap = shop.clone();
    scrap.orders[1].looks = false;
    let (record, f) = run(&scrap);
    assert_eq!(f.loads.len(), 1);
    let lifted = f.loads[0].out.unwrap();
    let heats = |e: &&tankday::record::Entry| matches!(&e.event, LogEntry::Bath { sample, .. } if sample.heater != HeaterState::Off);
    let last = record.entries.iter().rfind(heats).unwrap();
    assert!(last.at <= lifted, "heated at {:?}, lifted at {lifted:?}", last.at);
    assert!(f.tanks[0].energy.in_kilowatt_hours() > 0.0);
}

/// The same where nobody knows when the scrap will come: the bath is kept hot for it, and goes off behind it.
#[test]
fn a_fresh_bath_waits_hot_for_scrap_that_comes_at_random() {
    let text = "tankday: 1
shop: {hands: 1}
days: [{date: 2026-03-02, open: 08:00, close: 18:00}]
tanks: [{name: pot, bath: manganese, inside: 35 cm x 25 cm x 35 cm, fill: 20 L, heater: {power: 3 kW}}]
baths: {manganese: {now: fresh}}
stations: [{name: bench, loads: 4}]
parts: {chuck: {mass: 180 g, area: 95 cm2}}
routes: {way: [{do: coat, in: manganese}, {do: rinse, at: bench, for: 1 min, hands: throughout}]}
orders:
  - {id: A, part: chuck, count: 20, route: way}
  - {id: scrap, part: chuck, count: 20, route: way, looks: do not matter, arrives: {every: exponential 2 h, up to: 1}}
rules: {combine: never, care: {fresh bath: takes scrap first}}
";
    let shop = read(text);
    let mut coated = 0;
    for replication in 0..8 {
        let mut record = Record::default();
        Line::new(&shop).run(Some(tankday::random::Streams::new(1, replication)), &mut record);
        crate::audited::assert_sound(&shop, &record);
        let lifted = record
            .entries
            .iter()
            .find(|e| matches!(e.event, LogEntry::LiftBegins { step, .. } if step.step.0 == 0));
        let heats = |e: &&tankday::record::Entry| matches!(&e.event, LogEntry::Bath { sample, .. } if sample.heater != HeaterState::Off);
        let last = record.entries.iter().rfind(heats).unwrap();
        let came = record
            .entries
            .iter()
            .filter(|e| matches!(e.event, LogEntry::OrderArrives { .. }))
            .count();
        match lifted {
            Some(lifted) => {
                coated += 1;
                assert!(last.at <= lifted.at, "replication {replication}");
            }
            None => assert_eq!(
                came, 1,
                "replication {replication}: scrap came and was not coated"
            ),
        }
    }
    assert!(coated >= 4, "coated on {coated} days of 8");
}

/// Replenishing adds what a bath can hold without a word about its level.
#[test]
fn replenishing_does_not_overfill() {
    let (_, f) = run(&two_days(
        "now: {total acid: 30.5 points, free acid: 4.8 points}",
        "",
        "",
    ));
    assert!(f.baths[0].care.iter().any(|c| c.kind == CareKind::Replenish));
    assert!(
        f.warnings.iter().all(|w| w.kind != WarningKind::LevelOff),
        "{:?}",
        f.warnings
    );
}

/// So little rust that the readings do not show it is no fault of the record. (The audit took the trace of sludge for a change
/// without work.)
#[test]
fn a_trace_of_rust_is_no_fault() {
    let (_, f) = run(&two_days("chemistry: {iron oxidised hot: 0.0001 %}", "", ""));
    assert_eq!(f.loads.len(), 4);
}

/// A tank whose care ends in a break is lit when the break is over. (It stood cold for the rest of the day, with work waiting.)
#[test]
fn a_tank_is_lit_after_the_break() {
    let day = |breaks: &str| {
        read(&format!(
            "tankday: 1
shop: {{hands: 1}}
days: [{{date: 2026-03-02, open: 08:00, close: 18:00{breaks}}}]
tanks: [{{name: pot, bath: manganese, inside: 35 cm x 25 cm x 35 cm, fill: 20 L, heater: {{power: 3 kW}}}}]
baths: {{manganese: {{}}}}
stations: [{{name: bench, loads: 4}}]
parts: {{chuck: {{mass: 180 g, area: 95 cm2}}}}
routes: {{way: [{{do: coat, in: manganese}}, {{do: rinse, at: bench, for: 1 min, hands: throughout}}]}}
orders: [{{id: A, part: chuck, count: 20, route: way}}, {{id: B, part: chuck, count: 20, route: way}}]
rules: {{combine: never, care: {{filter: {{when: after 1 loads, cool to: 60 °C, settles: 20 min}}}}}}
"
        ))
    };
    let end = |f: &Figures| f.baths[0].care[0].to;
    let (_, f) = run(&day(""));
    let ends = end(&f);
    // A break that begins two minutes before: what hands have begun they finish.
    let clock = |minutes: i64| (ends + tankday::units::Span::whole_minutes(minutes)).clock();
    let shop = day(&format!(", breaks: [{} to {}]", clock(-2), clock(30)));
    let (_, f) = run(&shop);
    assert_eq!(end(&f), ends);
    assert!(f.orders.iter().all(|o| o.ready.is_some()));
    assert!(f.loads[1].begins > ends && f.loads[1].begins < ends + tankday::units::Span::hours(2.0));
}

/// The last load of the day goes into one of two tanks: the other, which stood hot for it, is switched off with it. (It stood
/// hot until closing.)
#[test]
fn no_tank_stands_hot_for_nothing() {
    let text = "tankday: 1
shop: {hands: 1}
days: [{date: 2026-03-02, open: 08:00, close: 18:00}]
tanks:
  - {name: left, bath: manganese, inside: 35 cm x 25 cm x 35 cm, fill: 20 L, heater: {power: 3 kW}}
  - {name: right, bath: manganese, inside: 35 cm x 25 cm x 35 cm, fill: 20 L, heater: {power: 3 kW}}
baths: {manganese: {}}
stations: [{name: bench, loads: 4}]
parts: {chuck: {mass: 180 g, area: 95 cm2}}
routes: {way: [{do: coat, in: manganese}, {do: rinse, at: bench, for: 1 min, hands: throughout}]}
orders: [{id: A, part: chuck, count: 60, route: way}]
rules: {combine: never}
";
    let (record, f) = run(&read(text));
    assert_eq!(f.loads.len(), 3);
    let last = f.loads.iter().filter_map(|l| l.out).max().unwrap();
    for tank in [0, 1] {
        let on = record.entries.iter().filter(|e| match &e.event {
            LogEntry::Bath { tank: t, sample } => t.0 == tank && sample.heater != HeaterState::Off,
            _ => false,
        });
        let until = on.map(|e| e.at).max().unwrap();
        assert!(until <= last, "tank {tank} is on at {until:?}, after {last:?}");
    }
}

/// A stop that hands begin at once says of nothing that it is left alone. (It said "left alone until 11:03" beside decanting at
/// 11:00.)
#[test]
fn a_stop_that_hands_begin_at_once_leaves_nothing_alone() {
    let text = std::fs::read_to_string("tests/data/blasted-each.yaml").unwrap();
    let shop = read(&text);
    let (record, f) = run(&shop);
    let stop = f.baths[0].care.iter().find(|c| c.kind == CareKind::Filter);
    let from = stop.unwrap().from;
    let sheets = sheets(&shop, &record, &f);
    let rows = sheets.iter().flat_map(|s| &s.rows).filter(|r| r.at == from);
    let deeds: Vec<&str> = rows.map(|r| r.deed.as_str()).collect();
    assert!(
        deeds.iter().any(|d| d.starts_with("Decant the stock pot")),
        "{deeds:?}"
    );
    assert!(
        deeds.contains(&"Stock pot: heater stays off, nothing goes in until it is filtered"),
        "{deeds:?}"
    );
}
