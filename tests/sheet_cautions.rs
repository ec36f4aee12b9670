//! Cautions on the day sheet: what may hurt somebody is never displaced by what may spoil the work.

use std::collections::BTreeSet;
use tankday::line::Line;
use tankday::record::{Figures, HeaterState, LogEntry, Record, WarningKind};
use tankday::scenario;
use tankday::sheet::{DaySheet, Row, StepCaution, ToNote, Whose, sheets};
use tankday::units::Span;

/// A shop, its sheets, and its loads that a warning of a kind concerns.
fn day(text: &str) -> (Vec<DaySheet>, Figures) {
    let shop = scenario::read("shop", text)
        .unwrap_or_else(|f| panic!("{}", f.render(false)))
        .shop;
    let mut record = Record::default();
    Line::new(&shop).run(None, &mut record);
    let figures = Figures::of(&shop, &record);
    (sheets(&shop, &record, &figures), figures)
}

/// Heavy blocks in a small bath full of iron: foam, spitting, and one word about
/// the coating. (Foam was left out where anything else was known of the first load.)
#[test]
fn foam_is_told_beside_what_spoils_the_work() {
    let (sheets, figures) = day("tankday: 1
shop: {hands: 1}
days: [{date: 2026-03-02, open: 08:00, close: 18:00}]
tanks: [{name: pot, bath: manganese, inside: 35 cm x 25 cm x 35 cm, fill: 20 L, heater: {power: 3 kW}}]
baths: {manganese: {now: {iron: 3.8 g/L}}}
parts: {block: {mass: 2.4 kg, area: 5 dm2, held: wire}}
routes: {way: [{do: coat, in: manganese}]}
orders: [{id: A, part: block, count: 4, route: way}]
");
    let known: BTreeSet<WarningKind> = figures.warnings.iter().map(|w| w.kind).collect();
    assert!(known.contains(&WarningKind::HeavyLoad), "{known:?}");
    assert!(known.contains(&WarningKind::IronHigh), "{known:?}");
    let rows = sheets.iter().flat_map(|s| &s.rows);
    let first = rows.clone().find(|r| r.deed.contains("into the pot")).unwrap();
    for caution in [StepCaution::HeavyLoad, StepCaution::Foam] {
        assert!(first.cautions.contains(&caution), "{:?}", first.cautions);
    }
    assert_eq!(first.cautions[0], StepCaution::HeavyLoad, "hands first of all");
    assert!(
        !first.cautions.iter().all(|c| c.may_hurt()),
        "{:?}",
        first.cautions
    );
    for row in rows {
        assert!(row.cautions.is_sorted_by_key(|c| !c.may_hurt()), "{row:?}");
        assert!(
            row.cautions.iter().filter(|c| !c.may_hurt()).count() <= 1,
            "{row:?}"
        );
    }
}

/// What a part brings with it is said where its load goes in, and watched for.
#[test]
fn what_a_part_brings_is_told_before_it_goes_in() {
    for (key, kind, caution) in [
        ("greasy", WarningKind::Greasy, StepCaution::Greasy),
        ("pickled", WarningKind::Pickled, StepCaution::Pickled),
        ("holes down", WarningKind::HolesDown, StepCaution::HolesDown),
        ("crevices", WarningKind::Crevices, StepCaution::Crevices),
    ] {
        let text = |part: &str| {
            format!(
                "tankday: 1
shop: {{hands: 1}}
days: [{{date: 2026-03-02, open: 08:00, close: 18:00}}]
tanks: [{{name: pot, bath: manganese, inside: 35 cm x 25 cm x 35 cm, fill: 20 L, heater: {{power: 3 kW}}}}]
baths: {{manganese: {{}}}}
parts: {{cap: {{mass: 40 g, area: 80 cm2{part}}}}}
routes: {{way: [{{do: coat, in: manganese}}]}}
orders: [{{id: A, part: cap, count: 10, route: way}}]
"
            )
        };
        let told = |text: &str| {
            let (sheets, figures) = day(text);
            let rows = sheets.iter().flat_map(|s| &s.rows);
            let said = rows.filter(|r| r.deed.contains("into the pot") && r.cautions.contains(&caution));
            let watched = figures.warnings.iter().filter(|w| w.kind == kind);
            (said.count(), watched.count())
        };
        assert_eq!(told(&text("")), (0, 0), "{key}");
        assert_eq!(told(&text(&format!(", {key}: yes"))), (1, 1), "{key}");
    }
}

/// Too full a tank has no room for foam: its word is one of those about what may hurt, and not cut off behind another.
#[test]
fn a_tank_too_full_is_told_beside_what_spoils_the_work() {
    let (sheets, figures) = day("tankday: 1
shop: {hands: 1}
days: [{date: 2026-03-02, open: 08:00, close: 18:00}]
tanks: [{name: pot, bath: manganese, inside: 35 cm x 25 cm x 35 cm, fill: 20 L, heater: {power: 3 kW}}]
baths: {manganese: {now: {iron: 3.8 g/L}, warn: {level: 85 to 99 %}}}
parts: {cap: {mass: 40 g, area: 80 cm2}}
routes: {way: [{do: coat, in: manganese}]}
orders: [{id: A, part: cap, count: 10, route: way}]
");
    let known: BTreeSet<WarningKind> = figures.warnings.iter().map(|w| w.kind).collect();
    assert!(known.contains(&WarningKind::LevelOff), "{known:?}");
    assert!(known.contains(&WarningKind::IronHigh), "{known:?}");
    let rows = sheets.iter().flat_map(|s| &s.rows);
    let first = rows.clone().find(|r| r.deed.contains("into the pot")).unwrap();
    for caution in [StepCaution::Level, StepCaution::Foam, StepCaution::MuchIron] {
        assert!(first.cautions.contains(&caution), "{:?}", first.cautions);
    }
}

/// On every day of the shipped scenarios the first load into a bath is told to be watched for foam, or what goes into the bath before it.
#[test]
fn the_first_load_of_each_day_is_watched_for_foam() {
    let mut days = 0;
    for file in ["mixed-day", "worn-bath", "fresh-bath", "filter-week"] {
        let text = std::fs::read_to_string(format!("scenarios/{file}.yaml")).unwrap();
        let (sheets, _) = day(&text);
        for sheet in sheets {
            let goes_in = |r: &Row| r.deed.contains(" into the ") && r.deed.contains("dm²");
            let Some(first) = sheet.rows.iter().position(goes_in) else {
                continue;
            };
            let mut until = sheet.rows[..=first].iter();
            let told = until.any(|r| r.cautions.contains(&StepCaution::Foam));
            assert!(told, "{file}: {:?}", sheet.rows[first]);
            days += 1;
        }
    }
    assert!(days >= 4, "{days}");
}

/// A heater that goes on before opening, or as the shop closes, goes on with nobody there. The times of the day are moved
/// about the moment at which it goes on in the record.
#[test]
fn a_heater_that_goes_on_with_nobody_there_is_told() {
    let text = std::fs::read_to_string("scenarios/mixed-day.yaml").unwrap();
    let mut shop = scenario::read("shop", &text).unwrap().shop;
    let mut record = Record::default();
    Line::new(&shop).run(None, &mut record);
    let figures = Figures::of(&shop, &record);
    let on = record.entries.iter().find_map(|e| match &e.event {
        LogEntry::Bath { sample, .. } if sample.heater != HeaterState::Off => Some(e.at),
        _ => None,
    });
    let (on, minute) = (on.unwrap(), Span::whole_minutes(1));
    for (open, close, alone) in [
        (on - minute, on, true),
        (on - minute, on + minute, false),
        (on, on + minute, false),
        (on + minute, on + minute.times(2.0), true),
    ] {
        (shop.calendar.days[0].open, shop.calendar.days[0].close) = (open, close);
        let sheets = sheets(&shop, &record, &figures);
        let mut rows = sheets.iter().flat_map(|s| &s.rows);
        let told = rows.any(|r| r.at == on && r.cautions.contains(&StepCaution::HeaterOnAlone));
        assert_eq!(told, alone, "open {} to {}", open.clock(), close.clock());
    }
}

/// A lot that is done at the very moment at which its load goes in is noted under its own name. (It was noted as the first
/// lot of that load.)
#[test]
fn the_last_lot_before_the_bath_is_noted_as_its_own() {
    let (sheets, _) = day("tankday: 1
shop: {hands: 1}
days: [{date: 2026-03-02, open: 08:00, close: 18:00}]
tanks: [{name: pot, bath: manganese, inside: 35 cm x 25 cm x 35 cm, fill: 20 L, heater: {power: 3 kW}, now: {temperature: 95 °C}}]
baths: {manganese: {}}
stations: [{name: cabinet}, {name: bench, loads: 4}]
parts: {chuck: {mass: 180 g, area: 95 cm2}}
routes:
  way:
    - {do: blast, at: cabinet, for: 9 min, hands: throughout}
    - {do: coat, in: manganese}
    - {do: rinse, at: bench, for: 1 min, hands: throughout}
orders:
  - {id: A, part: chuck, count: 5, route: way}
  - {id: B, part: chuck, count: 5, route: way}
  - {id: C, part: chuck, count: 5, route: way}
rules: {combine: same route, fill: {at least: 70 %, wait at most: 4 h}}
");
    let notes = sheets.iter().flat_map(|s| &s.rows).flat_map(|r| &r.to_note);
    let (mut blasted, mut held) = (Vec::new(), Vec::new());
    for note in notes {
        match note {
            ToNote::Step {
                whose: Whose::Lot(lot),
                ..
            } => blasted.push(lot.order.as_str()),
            ToNote::Into { holds, .. } => held.extend(holds.iter().map(|l| l.order.as_str())),
            _ => {}
        }
    }
    assert_eq!((blasted, held), (vec!["A", "B", "C"], vec!["A", "B", "C"]));
}

/// Which end goes in, of a bar that its tank covers half by half; nothing of it where another covers it whole.
#[test]
fn a_bar_that_is_turned_is_told_which_end_goes_in() {
    let shop = |trough: &str| {
        format!(
            "tankday: 1
shop: {{hands: 1}}
days: [{{date: 2026-06-01, open: 07:30, close: 15:30}}]
baths: {{mn: {{}}}}
tanks:
  - {{name: pot, bath: mn, inside: round 26 cm x 32 cm, fill: 12 L, lid: loose, heater: {{power: 2 kW}}}}
{trough}
stations: [{{name: sink, loads: 2}}, {{name: rinse, loads: 2}}, {{name: oil tray, loads: 9}}]
parts: {{bar: {{material: plain steel, mass: 400 g, area: 2.5 dm2, size: 420 x 30 x 10 mm, turned: yes}}}}
routes:
  black:
    - {{do: degrease, at: sink, for: 8 min}}
    - {{do: coat, in: mn}}
    - {{do: rinse between, kind: rinse, at: rinse, for: 1 min, hands: throughout}}
    - {{do: coat, in: mn, as: coat the other end}}
    - {{do: rinse, at: rinse, for: 1 min, hands: throughout}}
    - {{do: oil, at: oil tray, for: 20 min}}
orders: [{{id: B, part: bar, count: 2, route: black}}]
"
        )
    };
    let ends = |text: &str| {
        let (sheets, _) = day(text);
        let rows = sheets.into_iter().flat_map(|s| s.rows);
        let ends = [StepCaution::OneEnd, StepCaution::OtherEnd];
        let told = rows.filter(|r| r.at_bath).flat_map(|r| r.cautions);
        told.filter(|c| ends.contains(c)).collect::<Vec<_>>()
    };
    assert_eq!(ends(&shop("")), [StepCaution::OneEnd, StepCaution::OtherEnd]);
    let trough = "  - {name: trough, bath: mn, inside: 60 cm x 25 cm x 25 cm, fill: 25 L, lid: loose, heater: {power: 3 kW}}";
    assert_eq!(ends(&shop(trough)), []);
}

/// Who must stay in a break is told where the load goes in, and in the break: not when it comes out, and the break is over.
#[test]
fn who_must_stay_is_told_before_the_break() {
    let (sheets, figures) = day("tankday: 1
shop: {hands: 1}
days: [{date: 2026-03-02, open: 08:00, close: 18:00, breaks: [11:00 to 11:30, 14:00 to 14:30]}]
tanks: [{name: pot, bath: manganese, inside: 35 cm x 25 cm x 35 cm, fill: 20 L, heater: {power: 3 kW}}]
baths: {manganese: {dwell: 10 min to 5 h, coat: {time: 4 h}}}
stations: [{name: bench, loads: 2}]
parts: {block: {mass: 400 g, area: 2 dm2, held: wire}}
routes: {way: [{do: coat, in: manganese}, {do: rinse, at: bench, for: 1 min}, {do: oil, at: bench, for: 5 min}]}
orders: [{id: A, part: block, count: 4, route: way}]
");
    assert!(figures.warnings.iter().any(|w| w.kind == WarningKind::InAtBreak));
    let rows: Vec<&Row> = sheets.iter().flat_map(|s| &s.rows).collect();
    let told: Vec<&&Row> = rows
        .iter()
        .filter(|r| r.cautions.contains(&StepCaution::InAtBreak))
        .collect();
    assert_eq!(told.len(), 1);
    assert!(told[0].deed.contains("into the pot"), "{}", told[0].deed);
    let pause = rows
        .iter()
        .find(|r| r.deed.starts_with("Break to 11:30"))
        .unwrap();
    assert!(
        pause.deed.contains("L1 is in the pot: somebody must stay"),
        "{}",
        pause.deed
    );
}
