//! What is said of who is there and of what hurts is so: at closing and in breaks, of hardened work that was pickled, of notes.

use crate::audit_sheet::{Sheet, cells, column};
use crate::command_line::{home, run as tankday, text as words_of};
use crate::line_warned::{read, words};
use crate::told_of::with_results;
use tankday::line::Line;
use tankday::narrative::{answer, watch};
use tankday::print::Paper;
use tankday::record::{Figures, LogEntry, Record, WarningKind};
use tankday::sheet::{ToNote, sheets};
use tankday::shop::Shop;

pub(crate) fn run(text: &str) -> (Shop, Record) {
    let shop = read(text);
    let mut record = Record::default();
    Line::new(&shop).run(None, &mut record);
    (shop, record)
}

pub(crate) fn sheet(shop: &Shop, record: &Record) -> (Sheet, Vec<Vec<String>>) {
    let sheet = Sheet::of(shop, record);
    assert_eq!(sheet.faults(shop, record), Vec::<String>::new(), "{}", sheet.text);
    let rows = cells(&sheet.csv);
    (sheet, rows)
}

pub(crate) fn told(shop: &Shop, record: &Record) -> Vec<String> {
    with_results(shop, record, |results| {
        let lines = answer(results);
        lines.iter().map(|l| l.write(Paper::FILE)).collect()
    })
}

pub(crate) fn deed(shop: &Shop, record: &Record, kind: WarningKind) -> &'static str {
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
