//! The limits of a shop hold: nothing goes into a tank that does not cover it or that it is not meant for, whoever plans
//! the day; and nothing is coated that would lie bare for want of a place to oil it.

use std::sync::atomic::AtomicBool;
use tankday::audit::{FaultKind, check};
use tankday::line::{Line, Plan};
use tankday::plan::{Effort, plan};
use tankday::plan_file::understand;
use tankday::record::{Bare, Figures, LogEntry, Record, WarningKind};
use tankday::scenario::{self, PlanFile, Severity};
use tankday::shop::{OrderId, Shop, StationId, WhenFull};
use tankday::units::Span;

const DAY: &str = "days: [{date: 2026-03-05, open: 06:00, close: 18:00}]";

/// A pot and a trough, bars of 40 cm that only the trough covers, and caps that both do.
fn two_tanks(day: &str, parts: &str, orders: &str) -> Shop {
    let text = format!(
        "tankday: 1
{day}
tanks:
  - {{name: pot, bath: manganese, inside: round 28 cm x 27 cm, fill: 13 L, heater: {{power: 2.2 kW, kind: hot plate}}}}
  - {{name: trough, bath: manganese, inside: 45 cm x 30 cm x 32 cm, fill: 30 L, heater: {{power: 3 kW}}}}
baths: {{manganese: {{coat: {{target: 13 g/m2}}}}}}
stations: [{{name: bucket}}]
parts: {parts}
routes:
  way:
    - {{do: coat, in: manganese}}
    - {{do: rinse, at: bucket, for: 1 min, hands: throughout, within: 1 min}}
orders:
{orders}rules: {{combine: same route}}
"
    );
    scenario::read("two tanks", &text)
        .unwrap_or_else(|f| panic!("{}", f.render(false)))
        .shop
}

const BARS: &str = "{bar: {bar: 12 mm x 40 cm, held: wire}, cap: {mass: 40 g, area: 60 cm2}}";

fn bars_and_caps() -> Shop {
    let mut orders = String::new();
    for n in 0..6 {
        orders.push_str(&format!("  - {{id: B{n}, part: bar, count: 8, route: way}}\n"));
        orders.push_str(&format!("  - {{id: C{n}, part: cap, count: 20, route: way}}\n"));
    }
    two_tanks(DAY, BARS, &orders)
}

fn run(shop: &Shop) -> (Record, Figures) {
    let mut record = Record::default();
    Line::new(shop).run(None, &mut record);
    crate::audited::assert_sound(shop, &record);
    let figures = Figures::of(shop, &record);
    (record, figures)
}

/// How often a part went into a tank.
fn into(shop: &Shop, figures: &Figures, part: &str, tank: &str) -> usize {
    let has = |l: &&tankday::record::TankLoad| {
        let holds = l.parts.iter().any(|(id, _)| shop.parts[id.index()].name == part);
        holds && shop.stations[l.tank.index()].name == tank
    };
    figures.loads.iter().filter(has).count()
}

#[test]
fn bars_never_go_into_a_pot_that_does_not_cover_them() {
    let shop = bars_and_caps();
    let (_, figures) = run(&shop);
    assert!(figures.orders.iter().all(|o| o.ready.is_some()));
    assert!(into(&shop, &figures, "bar", "trough") > 0);
    assert!(
        into(&shop, &figures, "cap", "pot") > 0,
        "the pot is used for what it covers"
    );
    assert_eq!(into(&shop, &figures, "bar", "pot"), 0);
}

#[test]
fn no_plan_puts_them_there_either() {
    let shop = bars_and_caps();
    for seed in 1..4 {
        let found = plan(&shop, seed, Effort::Days(150), &AtomicBool::new(false), &|_| ()).unwrap();
        let mut record = Record::default();
        Line::new(&shop).follow(&found.plan, None, &mut record);
        crate::audited::assert_sound(&shop, &record);
        let figures = Figures::of(&shop, &record);
        assert!(figures.orders.iter().all(|o| o.ready.is_some()), "seed {seed}");
        assert!(into(&shop, &figures, "bar", "trough") > 0, "seed {seed}");
        assert_eq!(into(&shop, &figures, "bar", "pot"), 0, "seed {seed}");
    }
}

#[test]
fn a_plan_file_that_puts_them_there_is_refused_at_its_line() {
    let shop = two_tanks(DAY, BARS, "  - {id: B, part: bar, count: 4, route: way}\n");
    let line = Line::new(&shop);
    let written = tankday::plan_file::write(&shop, &line, &Plan::of(&line));
    let moved = written.replace("trough", "pot");
    let moved = if moved == written {
        written.replace("holds", "tank: pot, holds")
    } else {
        moved
    };
    assert!(moved.contains("pot"), "{moved}");
    let file =
        PlanFile::read("plan.yaml", &moved, &shop.calendar).unwrap_or_else(|f| panic!("{}", f.render(false)));
    let Err(found) = understand(&shop, &line, &file) else {
        panic!("understood:\n{moved}");
    };
    let words = found.render(false);
    assert!(
        words.contains("`bar` does not fit under the solution of the pot")
            && words.contains("it goes into `trough`"),
        "{words}"
    );
}

#[test]
fn what_is_meant_for_a_tank_goes_into_no_other() {
    let parts = "{cap: {mass: 40 g, area: 60 cm2, tank: trough}, nut: {mass: 40 g, area: 60 cm2}}";
    let mut orders = String::new();
    for n in 0..4 {
        orders.push_str(&format!("  - {{id: C{n}, part: cap, count: 40, route: way}}\n"));
        orders.push_str(&format!(
            "  - {{id: N{n}, part: nut, count: 40, route: way, tank: pot}}\n"
        ));
    }
    let shop = two_tanks(DAY, parts, &orders);
    let (record, figures) = run(&shop);
    assert!(figures.orders.iter().all(|o| o.ready.is_some()));
    assert!(into(&shop, &figures, "cap", "trough") > 0 && into(&shop, &figures, "nut", "pot") > 0);
    assert_eq!(into(&shop, &figures, "cap", "pot"), 0);
    assert_eq!(into(&shop, &figures, "nut", "trough"), 0);
    // The audit finds it, should a line ever do so.
    let mut other = shop.clone();
    other.parts[0].goes.tanks = vec![StationId(0)];
    let faults = check(&other, &record);
    assert!(
        faults
            .iter()
            .any(|f| f.kind == FaultKind::Room && f.text.contains("not meant for"))
    );
}

#[test]
fn the_audit_finds_what_lies_under_no_solution() {
    let shop = two_tanks(DAY, BARS, "  - {id: B, part: bar, count: 4, route: way}\n");
    let (record, _) = run(&shop);
    let mut other = shop.clone();
    let size = other.parts[0].goes.size.as_mut().unwrap();
    size.sides[0] = size.sides[0] * 2.0;
    let faults = check(&other, &record);
    assert!(
        faults
            .iter()
            .any(|f| f.kind == FaultKind::Room && f.text.contains("does not lie"))
    );
}

#[test]
fn a_step_that_names_a_tank_coats_in_its_bath() {
    let text = "tankday: 1
tanks:
  - {name: pot, bath: manganese, inside: round 28 cm x 27 cm, fill: 13 L, heater: {power: 2.2 kW, kind: hot plate}}
  - {name: trough, bath: manganese, inside: 45 cm x 30 cm x 32 cm, fill: 30 L, heater: {power: 3 kW}}
baths: {manganese: {coat: {target: 13 g/m2}}}
parts: {cap: {mass: 40 g, area: 60 cm2}}
routes: {way: [{do: coat, tank: trough}], any: [{do: coat, bath: manganese}]}
orders: [{id: A, part: cap, count: 10, route: way}, {id: B, part: cap, count: 10, route: any}]
";
    let shop = scenario::read("named", text)
        .unwrap_or_else(|f| panic!("{}", f.render(false)))
        .shop;
    let stations = |order: usize| {
        shop.routes[shop.orders[order].route.index()].steps[0]
            .stations
            .clone()
    };
    assert_eq!(stations(0), [StationId(1)]);
    assert_eq!(stations(1), [StationId(0), StationId(1)]);
    assert!(shop.takes(OrderId(1), StationId(0)) && !shop.takes(OrderId(9), StationId(0)));
}

/// The bar of three metres once went into a pot of 28 cm and was ready on time.
#[test]
fn the_bar_of_three_metres_is_refused() {
    let text = std::fs::read_to_string("tests/broken/340-bar-of-three-metres.yaml").unwrap();
    let found = scenario::read("bar", &text).unwrap_err();
    let wrong: Vec<_> = found
        .list
        .iter()
        .filter(|f| f.weight == Severity::Error)
        .collect();
    assert_eq!(wrong.len(), 1);
    assert_eq!(found.line_and_column(wrong[0].at).0, 11, "at the line of the bar");
    assert!(wrong[0].help.contains("3 m"), "{}", wrong[0].help);
}

/// An oil tray for so many loads, in which each stays over night; loads of one order, on two evenings far apart.
fn tray(places: u32, rules: &str, oil: &str) -> Shop {
    let text = format!(
        "tankday: 1
days: [{{date: 2026-03-10, open: 16:30, close: 21:00}}, {{date: 2026-03-14, open: 08:00, close: 14:00}}]
tanks: [{{name: trough, bath: manganese, inside: 45 cm x 30 cm x 32 cm, fill: 30 L, heater: {{power: 6 kW}}}}]
baths: {{manganese: {{coat: {{target: 13 g/m2}}}}}}
stations: [{{name: cabinet}}, {{name: bucket}}, {{name: tray, loads: {places}}}]
parts: {{cap: {{mass: 350 g, area: 3 dm2, held: wire}}}}
routes:
  way:
    - {{do: blast, at: cabinet, for: 5 min, hands: throughout}}
    - {{do: coat, in: manganese, within: 4 h}}
    - {{do: rinse, at: bucket, for: 1 min, hands: throughout, within: 1 min}}
    - {{do: {oil}, at: tray, for: 12 h, within: 1 h}}
orders: [{{id: A, part: cap, count: 30, route: way, due: 2026-03-14 13:00}}]
rules: {{{rules}}}
"
    );
    scenario::read("tray", &text)
        .unwrap_or_else(|f| panic!("{}", f.render(false)))
        .shop
}

fn kept_back(record: &Record) -> usize {
    let kept = |e: &&tankday::record::Entry| matches!(e.event, LogEntry::KeptBack { .. });
    record.entries.iter().filter(kept).count()
}

#[test]
fn nothing_is_coated_that_has_no_place_to_be_oiled() {
    // Three loads of ten caps; the tray has room for one, and each stays in it until Saturday.
    for name in ["oil", "soak in wax"] {
        let (record, figures) = run(&tray(1, "", name));
        assert!(kept_back(&record) > 0, "{name}");
        assert!(
            !figures.waited.iter().any(|w| w.bare.is_some()),
            "{name}: {:?}",
            figures.waited
        );
        assert!(figures.warnings.iter().any(|w| w.kind == WarningKind::KeptBack));
        assert_eq!(
            figures
                .loads
                .iter()
                .filter(|l| l.begins.day_and_time().0 == figures.opening.day_and_time().0)
                .count(),
            1
        );
        assert!(figures.orders.iter().all(|o| o.bare == Span::ZERO));
    }
}

#[test]
fn a_shop_that_says_go_coats_and_is_told_what_lies_bare() {
    let shop = tray(1, "oil full: go", "oil");
    assert_eq!(shop.rules.when_full, WhenFull::Go);
    let (record, figures) = run(&shop);
    assert_eq!(kept_back(&record), 0);
    let bare: Vec<_> = figures.waited.iter().filter(|w| w.lies_bare()).collect();
    assert!(!bare.is_empty());
    // From Tuesday evening to Saturday morning.
    assert!(
        figures.orders[0].bare.in_hours() > 80.0,
        "{:?}",
        figures.orders[0].bare
    );
}

#[test]
fn with_places_enough_nothing_is_kept_back() {
    let (record, figures) = run(&tray(3, "", "oil"));
    assert_eq!(kept_back(&record), 0);
    assert_eq!(figures.kept.len(), 0);
    assert_eq!(figures.loads.len(), 3);
    assert!(
        figures
            .loads
            .iter()
            .all(|l| l.begins.day_and_time().0 == figures.opening.day_and_time().0)
    );
}

/// A load waits for a place that comes free in time, and is coated on the same day: no longer than it must.
#[test]
fn a_load_waits_before_the_bath_for_a_place_that_comes_free() {
    let mut shop = tray(1, "", "oil");
    let two_hours = tankday::random::Spread::Fixed(Span::hours(1.5));
    shop.routes[0].steps[3].time = tankday::shop::StepTime::Work {
        load: two_hours,
        each: Span::ZERO,
    };
    let (record, figures) = run(&shop);
    assert!(
        !figures.waited.iter().any(|w| w.lies_bare()),
        "{:?}",
        figures.waited
    );
    assert!(kept_back(&record) > 0);
    let first_day = figures.opening.day_and_time().0;
    let same_day = figures
        .loads
        .iter()
        .filter(|l| l.begins.day_and_time().0 == first_day);
    assert!(same_day.count() >= 2, "{:?}", figures.loads);
}

/// Work still bare when the days are over is not passed over, and neither is a later step that waits too long.
#[test]
fn a_wait_that_never_ends_is_told() {
    let mut shop = tray(1, "oil full: go", "oil");
    shop.calendar.days.truncate(1);
    shop.rules.stop = shop.calendar.days[0].close + Span::hours(4.0);
    let (_, figures) = run(&shop);
    let still: Vec<_> = figures
        .waited
        .iter()
        .filter(|w| w.still && w.bare == Some(Bare::Coated))
        .collect();
    assert!(!still.is_empty(), "{:?}", figures.waited);
    assert!(
        figures
            .warnings
            .iter()
            .any(|w| w.kind == WarningKind::WaitedTooLong)
    );
    assert!(figures.orders[0].bare > Span::ZERO);
}

/// The first paragraph and the table of orders that the program prints of the shop of evenings, with a rule added.
fn evenings(rule: &str) -> (String, String) {
    let home = tempfile::tempdir().unwrap();
    let text = std::fs::read_to_string("tests/sheets/evenings.yaml").unwrap();
    let file = home.path().join("evenings.yaml");
    std::fs::write(&file, text.replace("rules:\n", &format!("rules:\n{rule}"))).unwrap();
    let mut command = std::process::Command::new(env!("CARGO_BIN_EXE_tankday"));
    command.env_clear().env("LC_ALL", "C.UTF-8");
    let output = command.arg("run").arg(&file).output().unwrap();
    let said = String::from_utf8(output.stdout).unwrap();
    let mut parts = said.split("\n\n");
    let first = parts.next().unwrap().replace('\n', " ");
    let orders = parts.find(|p| p.starts_with("ORDERS")).unwrap().to_owned();
    (first, orders)
}

/// Parts once lay bare from Tuesday to Saturday: the fourth warning said so, and their order was "4 h 18 min early".
#[test]
fn the_first_line_says_what_lies_bare_and_what_waits_for_a_place() {
    let (first, orders) = evenings("");
    for part in [
        "Kept out of the bath until the oil tray has a place: springs (before blast, from Tue",
        "until Sat",
        "one more place there",
    ] {
        assert!(first.contains(part), "{part}: {first}");
    }
    assert!(
        !first.contains("bare") && !orders.contains("bare"),
        "{first}\n{orders}"
    );
    let (first, orders) = evenings("  oil full: go\n");
    for part in [
        "two more lie bare too long",
        "L9 (thumb nuts) lies bare ",
        "before oil (at most 60 min), as the oil tray was full",
    ] {
        assert!(first.contains(part), "{part}: {first}");
    }
    let row = orders.lines().find(|l| l.contains("thumb nuts")).unwrap();
    assert!(row.contains("bare ") && !row.contains("early"), "{row}");
}
