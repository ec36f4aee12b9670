//! What is said of who is there, of what waits and of what hurts is so: at closing and in breaks, of oiled work, of hardened work
//! that was pickled, of notes.

use crate::audit_sheet::{Sheet, cells, column};
use crate::command_line::{home, run as tankday, text as words_of};
use crate::line_warned::{read, words};
use crate::told_of::with_results;
use tankday::line::Line;
use tankday::narrative::{answer, watch};
use tankday::print::Paper;
use tankday::record::{Figures, LogEntry, Record, WarningKind};
use tankday::scenario::{Notes, moment_of};
use tankday::sheet::{ToNote, sheets};
use tankday::shop::Shop;

fn run(text: &str) -> (Shop, Record) {
    let shop = read(text);
    let mut record = Record::default();
    Line::new(&shop).run(None, &mut record);
    (shop, record)
}

fn sheet(shop: &Shop, record: &Record) -> (Sheet, Vec<Vec<String>>) {
    let sheet = Sheet::of(shop, record);
    assert_eq!(sheet.faults(shop, record), Vec::<String>::new(), "{}", sheet.text);
    let rows = cells(&sheet.csv);
    (sheet, rows)
}

fn told(shop: &Shop, record: &Record) -> Vec<String> {
    with_results(shop, record, |results| {
        let lines = answer(results);
        lines.iter().map(|l| l.write(Paper::FILE)).collect()
    })
}

fn deed(shop: &Shop, record: &Record, kind: WarningKind) -> &'static str {
    with_results(shop, record, |results| {
        let found = results.figures.warnings.iter().find(|w| w.kind == kind);
        watch(results, found.unwrap()).1
    })
}

fn overnight(stays: &str) -> String {
    format!(
        "tankday: 1
shop: {{hands: 1}}
days:
  - {{date: 2026-06-10, open: 07:00, close: 16:00, stays: {stays}}}
  - {{date: 2026-06-11, open: 07:00, close: 12:00}}
baths: {{mn: {{coat: {{time: 40 min}}, dwell: 6 to 45 min}}}}
tanks: [{{name: trough, bath: mn, inside: 60 cm x 15 cm x 30 cm, fill: 22 L, lid: loose, \
heater: {{power: 2.2 kW, kind: immersion}}}}]
stations: [{{name: sink, loads: 2}}]
parts: {{nut: {{mass: 20 g, area: 20 cm2}}}}
routes: {{way: [{{do: degrease, at: sink, for: 8 min}}, {{do: coat, in: mn}}, {{do: rinse, at: sink, for: 1 min}}]}}
orders: [{{id: a, part: nut, count: 40, route: way}}]
rules: {{heat: {{switch on: at opening, switch off: never, unattended: allowed, lid: when off}}}}
"
    )
}

/// A tank that stays hot when the last goes home is told at closing, in every form; what it does by itself in the night is no
/// task, and no lid goes on by itself.
#[test]
fn a_tank_left_hot_is_told_at_closing_and_what_it_does_alone_is_no_task() {
    let (shop, record) = run(&overnight("no"));
    let (sheet, rows) = sheet(&shop, &record);
    let at = |name: &str| column(&rows, name);
    let row = rows.iter().find(|r| r[at("task")].contains("stays hot")).unwrap();
    assert_eq!(
        (row[at("time")].as_str(), row[at("what")].as_str()),
        ("16:00", "note")
    );
    assert!(
        row[at("task")].starts_with("Trough stays hot, nobody there until Thu 07:00"),
        "{row:?}"
    );
    assert!(
        sheet
            .calendar
            .replace("\r\n ", "")
            .contains("SUMMARY:Trough stays hot"),
        "{}",
        sheet.calendar
    );
    // It boils low in the night.
    let cut = record
        .entries
        .iter()
        .find(|e| matches!(e.event, LogEntry::CutOff { .. }));
    let cut = cut.map(|e| e.at.clock()).expect("its heater switches itself off");
    let off = rows
        .iter()
        .find(|r| r[at("task")].contains("switches itself off"))
        .unwrap();
    assert_eq!(
        (&off[at("time")], off[at("what")].as_str()),
        (&cut, "note"),
        "{off:?}"
    );
    assert!(!off[at("task")].contains("lid on"), "{off:?}");
    // A sheet that makes a task of it, or leaves out that nobody is there, is refused.
    for (from, to) in [
        ("nobody there until", "somebody there until"),
        (",note,heater off,", ",do,heater off,"),
    ] {
        let forged = Sheet {
            csv: sheet.csv.replace(from, to),
            text: sheet.text.replace(from, to),
            page: sheet.page.replace(from, to),
            calendar: sheet.calendar.clone(),
        };
        assert!(sheet.csv.contains(from), "{from}: {}", sheet.csv);
        assert!(!forged.faults(&shop, &record).is_empty(), "{from}");
    }
}

/// Who has to stay finds it in the calendar, too.
#[test]
fn the_duty_to_stay_is_in_the_calendar() {
    let (shop, record) = run(&overnight("yes"));
    let (sheet, _) = sheet(&shop, &record);
    let calendar = sheet.calendar.replace("\r\n ", "");
    assert!(
        calendar.contains("SUMMARY:Closed\\; somebody stays by the trough"),
        "{calendar}"
    );
    assert!(!sheet.csv.contains("stays hot"), "{}", sheet.csv);
    // In a break as well.
    let text = overnight("yes").replace(
        "close: 16:00,",
        "close: 16:00, breaks: [{at: 08:20 to 08:40, stays: yes}],",
    );
    let (shop, record) = run(&text);
    let (sheet, _) = self::sheet(&shop, &record);
    let calendar = sheet.calendar.replace("\r\n ", "");
    assert!(
        calendar.contains("Break to 08:40\\; somebody stays by the trough"),
        "{calendar}"
    );
    let forged = Sheet {
        calendar: sheet.calendar.replace("somebody stays", "nobody stays"),
        ..sheet.clone()
    };
    assert!(!forged.faults(&shop, &record).is_empty());
}

const SPRINGS: &str = "tankday: 1
shop: {hands: 1}
days: [{date: 2026-06-10, open: 08:00, close: 19:00, breaks: [10:00 to 10:30]}]
baths: {mn: {coat: {time: 10 min}}}
tanks: [{name: crock, bath: mn, inside: round 28 cm x 30 cm, fill: 12 L, lid: loose, heater: {power: 2.5 kW}}]
stations: [{name: sink}, {name: oven, loads: 2}]
parts: {spring: {material: hardened steel, mass: 9 g, area: 12 cm2, tempered: 250 °C}}
routes:
  way:
    - {do: degrease, at: sink, for: 6 min}
    - {do: coat, in: mn}
    - {do: rinse, at: sink, for: 1 min}
    - {do: bake, at: oven, relieves: hydrogen}
orders: [{id: a, part: spring, count: 20, route: way}]
";

/// An oven may be left for a short break: the break says that nobody is there.
#[test]
fn an_oven_left_for_a_break_is_told_at_the_break() {
    let (shop, record) = run(SPRINGS);
    let (sheet, rows) = sheet(&shop, &record);
    let task = column(&rows, "task");
    let pause = rows
        .iter()
        .find(|r| r[task].starts_with("Break to 10:30"))
        .unwrap();
    assert!(
        pause[task].contains("oven on with L1 in it, nobody there"),
        "{pause:?}"
    );
    assert!(
        sheet.text.lines().all(|l| l.chars().count() <= 80),
        "{}",
        sheet.text
    );
    let silent = |t: &str| t.replace("; oven on with L1 in it, nobody there", "");
    let forged = Sheet {
        csv: silent(&sheet.csv),
        text: silent(&sheet.text),
        page: silent(&sheet.page),
        calendar: sheet.calendar.clone(),
    };
    let faults = forged.faults(&shop, &record);
    assert!(faults.iter().any(|f| f.contains("nobody there")), "{faults:?}");
    // Where somebody stays, somebody is there.
    let stays = SPRINGS.replace("[10:00 to 10:30]", "[{at: 10:00 to 10:30, stays: yes}]");
    let (shop, record) = run(&stays);
    assert!(!self::sheet(&shop, &record).0.csv.contains("nobody there"));
}

/// Acid on hardened steel is told, whether it comes pickled or is pickled on its route; and relief is asked for in one voice.
#[test]
fn hardened_work_that_was_in_acid_is_told() {
    let came = SPRINGS.replace("tempered: 250 °C", "tempered: 250 °C, pickled: yes");
    let on_route = SPRINGS.replace("do: degrease,", "do: pickle,");
    for text in [came, on_route] {
        let (shop, record) = run(&text);
        let said = words(&shop, &record, WarningKind::AcidOnHardened);
        assert!(said.len() == 1 && said[0].contains("L1 "), "{said:?}");
        assert!(deed(&shop, &record, WarningKind::AcidOnHardened).contains("brittle"));
        let (sheet, _) = sheet(&shop, &record);
        assert!(
            sheet
                .csv
                .contains("Hardened and pickled: it may crack. Ask first."),
            "{}",
            sheet.csv
        );
        let forged = Sheet {
            csv: sheet
                .csv
                .replace("Hardened and pickled: it may crack. Ask first.", ""),
            ..sheet.clone()
        };
        assert!(!forged.faults(&shop, &record).is_empty());
    }
    let (shop, record) = run(SPRINGS);
    assert_eq!(
        words(&shop, &record, WarningKind::AcidOnHardened),
        Vec::<String>::new()
    );
    // Not relieved: no force until it is, on the sheet and in what to watch.
    let (shop, record) = run(&SPRINGS.replace("    - {do: bake, at: oven, relieves: hydrogen}\n", ""));
    assert!(deed(&shop, &record, WarningKind::NotRelieved).contains("No force on them until relieved"));
    let (sheet, _) = sheet(&shop, &record);
    assert!(
        sheet.csv.contains("No force until relieved.") && !sheet.csv.contains("Never load"),
        "{}",
        sheet.csv
    );
}

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
stations: [{name: sink}, {name: rinse, loads: 2}, {name: bench, loads: 2}, {name: oil tin, loads: 2}, {name: table}]
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
    - {do: glue, kind: other, at: table, for: 100 min, hands: ends}
orders:
  - {id: H, part: hinge, count: 12, route: black, due: 11:30}
  - {id: P, part: hasp, count: 12, route: black, due: 11:45}
  - {id: S, part: hasp, count: 1, route: long job, due: 12:00}
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
    - {do: dry, at: bench, for: 5 min, hands: throughout}
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

const WOOL: &str = "tankday: 1
shop: {hands: 1}
days: [{date: 2026-06-10, open: 07:00, close: 15:00}]
baths: {mn: {coat: {time: 10 min}, now: {iron: 0.2 g/L}}}
tanks: [{name: left pot, bath: mn, inside: round 30 cm x 35 cm, fill: 16 L, lid: loose, heater: {power: 3 kW}}]
stations: [{name: sink}]
parts: {nut: {mass: 20 g, area: 20 cm2}}
routes: {way: [{do: degrease, at: sink, for: 8 min}, {do: coat, in: mn}, {do: rinse, at: sink, for: 1 min}]}
orders: [{id: a, part: nut, count: 40, route: way, due: 14:00}]
rules: {care: {condition: {when: iron below 0.5 g/L, to: 1 g/L, at: 65 °C, for: 45 min}}}
";

/// Every care that a row finishes is noted as the notes call it, wool as soon as it is in; and notes of it are taken, so that no
/// plan of the rest gives it again. What nobody noted is said to be assumed.
#[test]
fn care_that_is_ticked_is_noted_and_not_done_again() {
    let (shop, record) = run(WOOL);
    let made = sheets(&shop, &record, &Figures::of(&shop, &record));
    let all = made.iter().flat_map(|s| &s.rows);
    let cared: Vec<(&str, bool)> = all
        .flat_map(|r| &r.to_note)
        .filter_map(|n| match n {
            ToNote::Care { what, begun, .. } => Some((*what, *begun)),
            _ => None,
        })
        .collect();
    let ended = record
        .entries
        .iter()
        .filter(|e| matches!(e.event, LogEntry::CareEnds { .. }));
    assert_eq!(cared.iter().filter(|c| !c.1).count(), ended.count(), "{cared:?}");
    assert_eq!(cared[..2], [("condition", true), ("condition", false)]);
    let page = Sheet::of(&shop, &record).page;
    assert!(
        page.contains("&quot;cared&quot;:&quot;left pot&quot;")
            && page.contains("&quot;what&quot;:&quot;condition&quot;")
    );
    // The rest of the day, with and without the note.
    assert!(moment_of("10:30", &shop.calendar).is_ok());
    let home = home();
    std::fs::write(home.path().join("day.yaml"), WOOL).unwrap();
    let planned = |care: &str| {
        std::fs::write(home.path().join("notes.yaml"), format!("notes: 1\n{care}")).unwrap();
        let typed = [
            "plan",
            "day.yaml",
            "--at",
            "10:30",
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
    let noted = planned("care:\n  - {tank: left pot, do: condition, done: 08:40}\n");
    assert!(
        !noted.contains("steel wool") && !noted.contains("no care of the bath done"),
        "{noted}"
    );
    let silent = planned("late:\n  - {order: a, arrives: 10:30}\n");
    assert!(
        silent.contains("steel wool") && silent.contains("no care of the bath done"),
        "{silent}"
    );
}
