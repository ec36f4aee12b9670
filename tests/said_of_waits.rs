//! What is said of waiting and of times is so: of work that is oiled, that lies bare, that is kept out of the bath, that should be
//! out already; and in tables, where times stand beside each other.

use crate::audit_sheet::Sheet;
use crate::command_line::{home, run as tankday, text as words_of};
use crate::line_warned::{read, words};
use crate::said_of_people::{deed, run, sheet, told};
use tankday::record::{Figures, WarningKind};
use tankday::scenario::Notes;

const PACK: &str = "tankday: 1
shop: {hands: 1}
days: [{date: 2026-04-06, open: 08:00, close: 14:00}]
baths: {mn: {coat: {time: 10 min}}}
tanks: [{name: crock, bath: mn, inside: 40 cm x 25 cm x 30 cm, fill: 20 L, lid: loose, heater: {power: 3 kW}}]
stations: [{name: sink}, {name: tin, loads: 2}, {name: table}]
parts: {hinge: {mass: 80 g, area: 1.2 dm2}}
routes:
  way:
    - {do: degrease, at: sink, for: 6 min}
    - {do: coat, in: mn}
    - {do: rinse, at: sink, for: 1 min}
    - {do: oil, at: tin, for: 10 min, within: 30 min}
    - {do: label, kind: other, at: sink, for: 1 min, after: oil}
    - {do: pack, kind: other, at: table, for: 10 min, within: 10 min}
  long: [{do: glue, kind: other, at: table, for: 3 h}]
orders:
  - {id: H, part: hinge, count: 12, route: way, due: 13:00}
  - {id: S, part: hinge, count: 1, route: long, due: 13:00}
";

/// What is oiled waits for its packing: late, and not bare.
#[test]
fn what_is_oiled_waits_and_does_not_lie_bare() {
    let (shop, record) = run(PACK);
    let figures = Figures::of(&shop, &record);
    assert!(!figures.waited.is_empty(), "nothing waits too long");
    assert!(figures.orders.iter().all(tankday::record::OrderFigure::is_sound));
    let said = told(&shop, &record).remove(0);
    assert!(
        said.contains("L1 (H) waits ") && said.contains(" for pack (at most 10 min)"),
        "{said}"
    );
    assert!(!said.contains("bare"), "{said}");
    assert!(!sheet(&shop, &record).0.csv.contains("LAY BARE"));
    assert!(!deed(&shop, &record, WarningKind::WaitedTooLong).contains("rust"));
    // With what takes the oil off again it does.
    let cleaned = PACK.replace(
        "    - {do: pack",
        "    - {do: wash off, kind: degrease, at: sink, for: 1 min}\n    - {do: pack",
    );
    let (shop, record) = run(&cleaned);
    assert!(deed(&shop, &record, WarningKind::WaitedTooLong).contains("rust"));
    assert!(
        told(&shop, &record)[0].contains("lies bare"),
        "{:?}",
        told(&shop, &record)
    );
}

const OIL: &str = "tankday: 1
shop: {hands: 1}
days: [{date: 2026-04-06, open: 08:00, close: 12:00}]
baths: {mn: {}}
tanks: [{name: crock, bath: mn, inside: 40 cm x 25 cm x 30 cm, fill: 20 L, lid: loose, heater: {power: 3 kW}}]
stations: [{name: sink}, {name: rinse, loads: 2}, {name: bench, loads: 2}, {name: oil tin, loads: 2}, {name: table}, {name: glue bench}]
parts:
  hinge: {material: plain steel, mass: 80 g, area: 1.2 dm2}
  hasp: {material: plain steel, mass: 90 g, area: 1.3 dm2}
routes:
  black:
    - {do: degrease, at: sink, for: 6 min}
    - {do: coat, in: mn, within: 4 h}
    - {do: rinse, at: rinse, for: 1 min, hands: throughout, at once: yes}
    - {do: dry, at: bench, for: 4 min, hands: throughout, within: 3 min}
    - {do: oil, at: oil tin, for: 10 min, at most: 15 min, within: 30 min}
    - {do: inspect, at: table, for: 40 min, hands: throughout, within: 5 min}
    - {do: pack, at: table, for: 10 min, hands: throughout, within: 10 min}
  long job:
    - {do: glue, kind: other, at: glue bench, for: 100 min, hands: throughout}
orders:
  - {id: H, part: hinge, count: 12, route: black, due: 11:30}
  - {id: S, part: hasp, count: 1, route: long job, arrives: 08:58, due: 12:00}
rules: {look ahead: no}
";

/// What stays too long in the oil was not too long in a bath.
#[test]
fn a_stay_in_the_oil_is_no_stay_in_the_bath() {
    let (shop, record) = run(OIL);
    let over = words(&shop, &record, WarningKind::StayedTooLong);
    assert!(over.len() == 1 && over[0].contains(" at oil "), "{over:?}");
    let (sheet, _) = sheet(&shop, &record);
    let caution = "Stayed there longer than allowed: inspect.";
    assert!(sheet.csv.contains(caution), "{}", sheet.csv);
    assert!(!sheet.csv.contains("Longer in the bath"), "{}", sheet.csv);
    // A sheet that speaks of a bath is refused.
    let bath = |t: &str| t.replace(caution, "Longer in the bath than allowed: inspect.");
    let forged = Sheet {
        csv: bath(&sheet.csv),
        text: bath(&sheet.text),
        page: bath(&sheet.page),
        calendar: sheet.calendar.clone(),
    };
    let faults = forged.faults(&shop, &record);
    assert!(
        faults.iter().any(|f| f.contains("nothing comes out of one")),
        "{faults:?}"
    );
}

const EVENING: &str = "tankday: 1
shop: {hands: 1, air: {temperature: 20 °C, humidity: 50 %}}
days:
  - {date: 2026-06-10, open: 18:00, close: 21:00, breaks: [19:30 to 19:45]}
  - {date: 2026-06-11, open: 18:00, close: 21:00}
baths: {mn: {coat: {target: 13 g/m2}, dwell: 8 to 30 min}}
tanks:
  - {name: left, bath: mn, inside: round 28 cm x 30 cm, fill: 14 L, lid: loose, heater: {power: 2 kW, kind: induction}}
  - {name: right, bath: mn, inside: round 28 cm x 30 cm, fill: 14 L, lid: loose, heater: {power: 2 kW, kind: induction}}
stations: [{name: sink, loads: 2}, {name: bucket}, {name: tin}, {name: bench}]
parts:
  cap: {material: grey iron, mass: 260 g, area: 1.7 dm2, held: wire}
  stud: {material: plain steel, mass: 20 g, area: 18 cm2}
routes:
  way:
    - {do: degrease, at: sink, for: 8 min}
    - {do: coat, in: mn}
    - {do: rinse, at: bucket, for: 2 min, hands: throughout, at once: yes}
    - {do: dry, at: bench, for: 5 min, hands: throughout, after: rinse}
    - {do: oil, at: tin, for: 45 min, or: overnight, within: 30 min}
orders:
  - {id: a, part: cap, count: 20, route: way, due: 20:45}
  - {id: b, part: stud, count: 200, route: way, due: 2026-06-11 20:45}
  - {id: c, part: cap, count: 10, route: way, arrives: 20:00, due: 2026-06-11 20:45}
";

/// A first line counts every order that lies bare, late or never done as well.
#[test]
fn the_first_line_counts_every_order_that_lies_bare() {
    let (shop, record) = run(EVENING);
    let figures = Figures::of(&shop, &record);
    let bare = figures
        .orders
        .iter()
        .filter(|o| o.bare.in_minutes() > 0.0)
        .count();
    let said = told(&shop, &record).remove(0);
    assert!(bare >= 2, "{said}");
    let count = ["", "", "two", "three"][bare];
    assert!(
        said.contains(&format!(": {count} of them lie bare too long.")),
        "{said}"
    );
}

/// An order that is not done, or late, since it was kept out of the bath for want of a place behind it: its line says so.
#[test]
fn what_is_kept_out_of_the_bath_is_told_where_its_order_is() {
    let text =
        PACK.replace(
            "    - {do: pack, kind: other, at: table, for: 10 min, within: 10 min}\n",
            "",
        )
        .replace("{name: tin, loads: 2}", "{name: tin, loads: 1}")
        .replace(
            "at: tin, for: 10 min, within: 30 min}",
            "at: tin, for: 2 h, within: 20 min}",
        )
        .replace(
            "  - {id: S, part: hinge, count: 1, route: long, due: 13:00}\n",
            "  - {id: I, part: hinge, count: 12, route: way, due: 11:00}\n",
        ) + "rules: {combine: never}\n";
    let (shop, record) = run(&text.replace("route: way, due: 13:00", "route: way, due: 12:30"));
    let lines = told(&shop, &record);
    let late = lines
        .iter()
        .find(|l| l.starts_with("H hinges will be late"))
        .unwrap();
    assert!(
        late.contains("kept out of the bath ") && late.contains(" until the tin had a place."),
        "{lines:?}"
    );
}

/// A load that should be out already is taken out at once, and its line names no sign to wait for.
#[test]
fn a_latest_time_that_has_passed_is_told_as_that() {
    let home = home();
    let text = PACK
        .replace("{time: 10 min}", "{target: 13 g/m2}")
        .replace("baths: {mn: {", "baths: {mn: {dwell: 8 to 20 min, ");
    std::fs::write(home.path().join("day.yaml"), text).unwrap();
    let notes = "notes: 1\nloads:\n  - {id: L1, tank: crock, holds: [12 of H], in: 08:40}\n";
    std::fs::write(home.path().join("notes.yaml"), notes).unwrap();
    let at = |time: &str| {
        let typed = [
            "plan",
            "day.yaml",
            "--at",
            time,
            "--done",
            "notes.yaml",
            "--effort",
            "5",
        ];
        let done = tankday(&typed, home.path());
        words_of(&done.stdout)
            .split_whitespace()
            .collect::<Vec<_>>()
            .join(" ")
    };
    let late = at("09:20");
    assert!(late.contains("L1 out, at once: the latest was 09:01"), "{late}");
    assert!(
        !late.contains("not before") && !late.contains("at the latest 09:01"),
        "{late}"
    );
    assert!(at("08:50").contains("at the latest 09:01"));
}

/// What is seen of a load is asked of one that came out; of one that still fizzes and is in, the answer fits that.
#[test]
fn a_load_that_still_fizzes_in_the_bath_gets_an_answer_of_its_own() {
    let shop = read(PACK);
    let refused = |seen: &str| {
        let notes = format!(
            "notes: 1\nloads:\n  - {{id: L1, tank: crock, holds: [12 of H], in: 08:40, seen: {seen}}}\n"
        );
        Notes::read("notes.yaml", &notes, &shop.calendar)
            .unwrap_err()
            .render(false)
    };
    let still = refused("still fizzing");
    assert!(
        still.contains("if it is still in, leave `seen` out") && !still.contains("stopped"),
        "{still}"
    );
    assert!(refused("fizzing stopped").contains("a load that has stopped fizzing is done"));
}

/// Columns keep a blank between them where a time is longer than its calendar asks for.
#[test]
fn no_two_times_of_the_orders_run_into_one() {
    let home = home();
    let text = PACK
        .replace("open: 08:00, close: 14:00", "around the clock: 2 days")
        .replace(
            "route: way, due: 13:00",
            "route: way, arrives: 2026-04-07 21:30, due: 2026-04-07 22:30",
        )
        .replace("count: 1,", "count: 100000,");
    std::fs::write(home.path().join("day.yaml"), text).unwrap();
    let said = words_of(&tankday(&["run", "day.yaml"], home.path()).stdout);
    let row = said.lines().find(|l| l.starts_with("  H ")).unwrap();
    let words: Vec<&str> = row.split_whitespace().collect();
    let due = words.iter().position(|w| *w == "22:30").expect(row);
    assert!(words[due + 1] == "Tue" || words[due + 1] == "not", "{row}");
    assert!(said.lines().all(|l| l.chars().count() <= 80), "{said}");
}
