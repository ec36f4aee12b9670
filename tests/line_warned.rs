//! What may hurt somebody, or costs for nothing, is told among the warnings: what goes into a bath that is too hot for it, a
//! heater too weak for its set point, a bath that stays hot and takes nothing any more.

use crate::told_of::with_results;
use tankday::audit::{DangerKind, dangers};
use tankday::line::Line;
use tankday::narrative::watch;
use tankday::record::{Figures, HeaterState, LogEntry, Reading, Record, WarningKind};
use tankday::scenario;
use tankday::sheet::sheets;
use tankday::shop::Shop;
use tankday::units::{Moment, Span};

pub(crate) fn read(text: &str) -> Shop {
    scenario::read("shop", text)
        .unwrap_or_else(|f| panic!("{}", f.render(false)))
        .shop
}

pub(crate) fn run(shop: &Shop) -> (Record, Figures) {
    let mut record = Record::default();
    Line::new(shop).run(None, &mut record);
    crate::audited::assert_sound(shop, &record);
    let figures = Figures::of(shop, &record);
    (record, figures)
}

/// Two loads in a pot of 20 L; what differs is put in.
pub(crate) fn pot(days: &str, heater: &str, bath: &str, rules: &str) -> Shop {
    read(&format!(
        "tankday: 1
shop: {{hands: 1, prices: {{power: 0.30 per kWh}}}}
days: [{{date: 2026-03-02, open: 08:00, close: 18:00{days}}}]
tanks: [{{name: pot, bath: manganese, inside: 35 cm x 25 cm x 35 cm, fill: 20 L, heater: {{power: {heater}}}}}]
baths: {{manganese: {{{bath}}}}}
stations: [{{name: bench, loads: 4}}]
parts: {{chuck: {{mass: 180 g, area: 95 cm2}}}}
routes: {{way: [{{do: coat, in: manganese}}, {{do: rinse, at: bench, for: 1 min, hands: throughout}}]}}
orders:
  - {{id: A, part: chuck, count: 20, route: way}}
  - {{id: B, part: chuck, count: 20, route: way}}
rules: {{combine: never, {rules}}}
"
    ))
}

/// The words of every warning of a kind.
pub(crate) fn words(shop: &Shop, record: &Record, kind: WarningKind) -> Vec<String> {
    with_results(shop, record, |results| {
        let all = results.figures.warnings.iter().filter(|w| w.kind == kind);
        all.map(|w| watch(results, w).0).collect()
    })
}

pub(crate) fn clock(hour: i64, minute: i64) -> Moment {
    Moment::ZERO + Span::whole_minutes(60 * hour + minute)
}

/// Carbonate was stirred into a bath of 95 °C, and only the sheet said that it froths.
#[test]
fn solids_in_a_hot_bath_are_warned_of_in_every_place() {
    let rules = "care: {raise ratio: {when: ratio below 5.95, to: 6}, lower ratio: never}";
    let bath = "now: {total acid: 36 points, free acid: 6.1 points}";
    let shop = pot("", "3 kW", bath, rules);
    let (record, _) = run(&shop);
    let hot = |shop: &Shop, record: &Record| -> Vec<bool> {
        let all = dangers(shop, record).into_iter();
        all.filter(|d| d.kind == DangerKind::HotSolids)
            .map(|d| d.said)
            .collect()
    };
    let stirred = record
        .entries
        .iter()
        .any(|e| matches!(e.event, LogEntry::CareBegins { .. }));
    assert!(stirred, "nothing is stirred in");
    // The first addition is made to the cold bath: no word of it.
    assert_eq!(hot(&shop, &record), Vec::<bool>::new());
    assert_eq!(words(&shop, &record, WarningKind::HotSolids), [""; 0]);
    let wool = "care: {condition: {when: iron below 2 g/L, to: 2.5 g/L, at: 80 °C}}";
    let shop = pot("", "3 kW", "", wool);
    let (record, figures) = run(&shop);
    let said = words(&shop, &record, WarningKind::HotSolids);
    assert_eq!(said.len(), 1);
    assert_eq!(hot(&shop, &record), [true]);
    assert!(
        said[0].starts_with("Solids go into a bath above 70 °C: pot 0"),
        "{}",
        said[0]
    );
    assert!(said[0].contains("80.0 °C"), "{}", said[0]);
    let all = sheets(&shop, &record, &figures);
    let row = all
        .iter()
        .flat_map(|s| &s.rows)
        .find(|r| r.deed.contains("steel wool in"));
    let cautions: Vec<&str> = row.unwrap().cautions.iter().map(|c| c.words()).collect();
    assert!(cautions.iter().any(|c| c.contains("froths over")), "{cautions:?}");
}

/// In a bath that is cool enough it is no danger, and nothing is said.
#[test]
fn solids_in_a_cool_bath_are_not_warned_of() {
    let wool = "care: {condition: {when: iron below 2 g/L, to: 2.5 g/L, at: 65 °C}}";
    let shop = pot("", "3 kW", "", wool);
    let (record, _) = run(&shop);
    assert!(words(&shop, &record, WarningKind::HotSolids).is_empty());
    assert!(
        dangers(&shop, &record)
            .iter()
            .all(|d| d.kind != DangerKind::HotSolids)
    );
}

/// Decanting hot asks for a pump; with one it is done, and the checker of safety allows it.
#[test]
fn with_a_pump_a_hot_bath_is_decanted() {
    let text = |pump: &str| {
        format!(
            "tankday: 1
shop: {{hands: 1{pump}}}
days: [{{date: 2026-03-02, open: 08:00, close: 18:00}}]
tanks: [{{name: pot, bath: manganese, inside: 35 cm x 25 cm x 35 cm, fill: 20 L, heater: {{power: 3 kW}}}}]
baths: {{manganese: {{}}}}
stations: [{{name: bench, loads: 4}}]
parts: {{chuck: {{mass: 180 g, area: 95 cm2}}}}
routes: {{way: [{{do: coat, in: manganese}}, {{do: rinse, at: bench, for: 1 min, hands: throughout}}]}}
orders: [{{id: A, part: chuck, count: 20, route: way}}, {{id: B, part: chuck, count: 20, route: way}}]
rules: {{combine: never, care: {{settle: {{when: after 1 loads, cool to: 80 °C, settles: 20 min}}}}}}
"
        )
    };
    let refused = scenario::read("shop", &text("")).unwrap_err().render(false);
    assert!(
        refused.contains("nobody decants, filters or carries a bath of 80 °C")
            && refused.contains("pump: yes"),
        "{refused}"
    );
    let mut shop = read(&text(", pump: yes"));
    let (record, _) = run(&shop);
    let hot = |shop: &Shop| {
        let all = dangers(shop, &record);
        all.iter().filter(|d| d.kind == DangerKind::HotHandling).count()
    };
    assert_eq!(hot(&shop), 0);
    // It was decanted hot indeed: without the pump the checker sees it.
    shop.pump = false;
    assert!(hot(&shop) > 0);
}

/// A heater that brings the bath into its band and not to its set point was told by nobody.
#[test]
fn a_heater_too_weak_for_its_set_point_is_told() {
    let weak = |power: &str| {
        let shop = pot(
            "",
            power,
            "band: {least: 80 °C}, coat: {target: 8 g/m2}",
            "heat: {lid: never}",
        );
        let (record, _) = run(&shop);
        let reached = record
            .entries
            .iter()
            .any(|e| matches!(e.event, LogEntry::InBand { .. }));
        let held = record.entries.iter().any(
            |e| matches!(&e.event, LogEntry::Bath { sample, .. } if sample.heater == HeaterState::Holding),
        );
        (words(&shop, &record, WarningKind::WeakHeater), reached, held)
    };
    let (said, reached, held) = weak("1.05 kW");
    assert!(reached && !held, "reached {reached}, held {held}");
    assert_eq!(said.len(), 1, "{said:?}");
    assert!(
        said[0].contains("levels off near 8") || said[0].contains("levels off near 9"),
        "{said:?}"
    );
    let (said, reached, held) = weak("3 kW");
    assert!(reached && held);
    assert!(said.is_empty(), "{said:?}");
}

/// A heater so weak that the bath reaches its band as the shop closes, and no load ever goes in: the bath was never open, and
/// nothing was said. It says now where it levels off, and whether that is with its lid off.
#[test]
fn a_heater_too_weak_for_the_open_bath_is_told_before_it_is_opened() {
    let told = |power: &str| {
        let shop = pot("", power, "", "");
        let (record, figures) = run(&shop);
        let off = figures
            .warnings
            .iter()
            .filter(|w| w.kind == WarningKind::WeakHeater);
        let off: Vec<_> = off.flat_map(|w| &w.at).filter_map(|c| c.reading).collect();
        (off, words(&shop, &record, WarningKind::WeakHeater))
    };
    let mut forms = std::collections::BTreeSet::new();
    for watts in (300..3_000).step_by(100) {
        let (off, said) = told(&format!("{watts} W"));
        for reading in off {
            let Reading::LevelsOff { temperature, covered } = reading else {
                panic!("{reading:?}");
            };
            assert!(temperature.in_celsius() < 95.0);
            let lid = if covered == Some(true) {
                "even under its lid"
            } else {
                "with its lid off"
            };
            assert!(said.iter().all(|s| s.contains(lid)), "{said:?}");
            forms.insert(covered);
        }
    }
    assert!(forms.contains(&Some(false)), "{forms:?}");
}

/// A bath that the shop's own rule keeps hot to closing, hours after its last load: said with what that draws and costs.
#[test]
fn a_bath_kept_hot_for_nothing_is_told_with_its_cost() {
    let shop = pot("", "3 kW", "", "heat: {switch off: at closing}");
    let (record, figures) = run(&shop);
    let warning = figures
        .warnings
        .iter()
        .find(|w| w.kind == WarningKind::HotForNothing)
        .unwrap();
    let Some(Reading::Power(drawn, costs)) = warning.at[0].reading else {
        panic!("{warning:?}");
    };
    let out = figures.loads.iter().filter_map(|l| l.out).max().unwrap();
    assert_eq!(warning.at[0].at, out);
    assert_eq!(out + warning.at[0].by, clock(18, 0));
    assert!(drawn.in_kilowatt_hours() > 0.5 && (costs - 0.3 * drawn.in_kilowatt_hours()).abs() < 1e-9);
    let said = words(&shop, &record, WarningKind::HotForNothing).remove(0);
    assert!(
        said.contains("to 18:00") && said.contains("kWh") && said.contains("EUR"),
        "{said}"
    );
    let shop = pot("", "3 kW", "", "heat: {switch off: after the last load}");
    let (record, _) = run(&shop);
    assert!(words(&shop, &record, WarningKind::HotForNothing).is_empty());
}

/// What is drawn after breaks counts, too, and so does a day on which nothing goes in at all.
#[test]
fn a_bath_kept_hot_for_nothing_is_told_to_the_end_of_each_day() {
    let text = "tankday: 1\ntitle: Hot for nothing\n\
        shop: {hands: 1, air: {temperature: 20 °C, humidity: 50 %}, prices: {power: 0.30 per kWh}}\n\
        days: [{date: 2026-03-02, open: 08:00, close: 16:00, breaks: [12:00 to 12:30], repeat: 2}]\n\
        baths: {manganese: {}}\n\
        tanks: [{name: pot, bath: manganese, inside: 35 cm x 25 cm x 30 cm, fill: 20 L, heater: {power: 3 kW}}]\n\
        stations: [{name: oven, loads: 2}, {name: bench, loads: 4}]\n\
        parts: {chuck: {material: plain steel, mass: 180 g, area: 95 cm2}}\n\
        routes:\n  way: [{do: coat, in: manganese}, {do: rinse, at: bench, for: 1 min, hands: throughout}]\n  \
        long: [{do: relieve, at: oven, for: 40 h, hands: ends}, {do: coat, in: manganese}, \
        {do: rinse, at: bench, for: 1 min, hands: throughout}]\n\
        orders:\n  - {id: A1, part: chuck, count: 10, route: way}\n  - {id: A2, part: chuck, count: 10, route: long}\n\
        rules: {heat: {switch off: at closing}}\n";
    let shop = tankday::scenario::read("shop", text)
        .unwrap_or_else(|f| panic!("{}", f.render(false)))
        .shop;
    let mut record = Record::default();
    Line::new(&shop).run(None, &mut record);
    let figures = Figures::of(&shop, &record);
    let found = figures
        .warnings
        .iter()
        .find(|w| w.kind == WarningKind::HotForNothing);
    let at = &found.unwrap().at;
    assert_eq!(at.len(), 2, "{at:?}");
    assert_eq!(at[0].at + at[0].by, clock(16, 0));
    assert_eq!(at[1].at + at[1].by, clock(24 + 16, 0));
    let drawn = |c: &tankday::record::Caution| match c.reading {
        Some(Reading::Power(drawn, _)) => drawn.in_kilowatt_hours(),
        _ => 0.0,
    };
    let all: f64 = figures.tanks.iter().map(|t| t.energy.in_kilowatt_hours()).sum();
    // Heated up once for a load, and the rest for nothing.
    assert!(
        drawn(&at[0]) + drawn(&at[1]) > 0.5 * all,
        "{} and {} of {all}",
        drawn(&at[0]),
        drawn(&at[1])
    );
}
