//! Cautions on the day sheet: what may hurt somebody is never displaced by what may spoil the work.

use std::collections::BTreeSet;
use tankday::line::Line;
use tankday::record::{Figures, Record, WarningKind};
use tankday::scenario;
use tankday::sheet::{DaySheet, Row, StepCaution, sheets};

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
