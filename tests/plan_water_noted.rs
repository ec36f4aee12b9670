//! Water that was made good is noted as it was; what no note tells of the day so far is assumed, and that is said.

use crate::command_line::{home, run as tankday, text as words};
use std::sync::atomic::AtomicBool;
use tankday::line::Line;
use tankday::plan::Effort;
use tankday::plan_file::rest_of_day;
use tankday::record::{LogEntry, Record};
use tankday::scenario::{Notes, moment_of, read};

const SHOP: &str = "tankday: 1
shop: {hands: 1}
days: [{date: 2026-03-05, open: 08:00, close: 17:00}]
baths: {mn: {coat: {time: 15 min}}}
tanks:
  - {name: pot, bath: mn, inside: 40 cm x 30 cm x 30 cm, fill: 20 L, lid: none, draught: 2, heater: {power: 4 kW}}
stations: [{name: sink}, {name: oil pan}]
parts: {nut: {mass: 8 g, area: 9 cm2}}
routes:
  r:
    - {do: degrease, at: sink, for: 6 min}
    - {do: coat, in: mn}
    - {do: rinse, at: sink, for: 1 min}
    - {do: oil, at: oil pan, for: 20 min}
orders: [{id: A, part: nut, count: 60, route: r, due: 12:00}, {id: B, part: nut, count: 60, route: r, due: 16:00, arrives: 13:00}]
";
const DONE: &str =
    "loads: [{id: L1, tank: pot, holds: [60 of A], in: 09:00, out: 09:15}], done: [{load: L1, done: 09:50}]";

fn notes(more: &str) -> String {
    format!("{{notes: 1, {DONE}{more}}}\n")
}

/// Top-ups up to 10:40: when, and how many tenths of a litre.
fn topped_up(more: &str) -> Vec<(String, i64)> {
    let shop = read("shop.yaml", SHOP)
        .unwrap_or_else(|f| panic!("{}", f.render(false)))
        .shop;
    let notes = Notes::read("notes.yaml", &notes(more), &shop.calendar);
    let notes = notes.unwrap_or_else(|f| panic!("{}", f.render(false)));
    let now = moment_of("10:40", &shop.calendar).unwrap();
    let rest = rest_of_day(&shop, &notes, now).unwrap_or_else(|f| panic!("{}", f.render(false)));
    let found = rest
        .plan(1, Effort::Days(20), &AtomicBool::new(false), &|_| ())
        .unwrap();
    let mut record = Record::default();
    Line::new(&rest.shop).follow(&found.plan, None, &mut record);
    let water = record
        .entries
        .iter()
        .filter(|e| e.at <= now)
        .filter_map(|e| match e.event {
            LogEntry::ToppedUp { volume, .. } => {
                Some((e.at.clock(), (volume.in_litres() * 10.0).round() as i64))
            }
            _ => None,
        });
    water.collect()
}

#[test]
fn a_tank_is_topped_up_as_noted_and_no_other_time() {
    let by_rules = topped_up("");
    assert!(!by_rules.is_empty());
    let noted = ", water: [{top up: pot, at: 10:05, amount: 0.6 L}, {top up: pot, at: 09:20, amount: 1 L}]";
    assert_eq!(
        topped_up(noted),
        [("09:20".to_owned(), 10), ("10:05".to_owned(), 6)]
    );
}

fn planned(more: &str, typed: &[&str]) -> (String, tempfile::TempDir) {
    let home = home();
    std::fs::write(home.path().join("pot.yaml"), SHOP).unwrap();
    std::fs::write(home.path().join("notes.yaml"), notes(more)).unwrap();
    let all = [
        &[
            "plan",
            "pot.yaml",
            "--at",
            "10:40",
            "--done",
            "notes.yaml",
            "--effort",
            "20",
        ],
        typed,
    ]
    .concat();
    let done = tankday(&all, home.path());
    assert!(done.status.success(), "{}", words(&done.stderr));
    (
        words(&done.stdout)
            .split_whitespace()
            .collect::<Vec<_>>()
            .join(" "),
        home,
    )
}

#[test]
fn what_is_assumed_is_said_once_at_the_top() {
    let (said, home) = planned("", &["--out", "out"]);
    let head = "Not noted, so assumed. Pot: heater o";
    assert_eq!(said.matches(head).count(), 1, "{said}");
    let sentence = &said[said.find(head).unwrap()..];
    let sentence = &sentence[..sentence.find("as worked out.").unwrap()];
    assert!(
        sentence.contains("topped up at ") && sentence.contains("the bath at 9"),
        "{sentence}"
    );
    assert!(said.find(head) < said.find("TAKEN FROM THE NOTES"), "{said}");
    for file in ["day-sheet.txt", "day-sheet.html"] {
        let text = std::fs::read_to_string(home.path().join("out").join(file)).unwrap();
        let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
        assert_eq!(text.matches(sentence.trim()).count(), 1, "{file}: {text}");
    }
    // What is noted is not assumed, and said again.
    let (said, _) = planned(
        ", water: [{top up: pot, at: 10:05, amount: 0.6 L}], readings: [{tank: pot, at: 10:30, temperature: 94 °C}]",
        &[],
    );
    assert!(said.contains("pot: 0.6 L topped up at 10:05"), "{said}");
    let assumed = &said[said.find(head).unwrap()..said.find("TAKEN FROM").unwrap()];
    assert!(
        !assumed.contains("topped up") && !assumed.contains("worked out"),
        "{assumed}"
    );
}

#[test]
fn nothing_that_has_passed_is_to_be_watched() {
    let (said, _) = planned("", &["--json"]);
    let data: serde_json::Value = serde_json::from_str(&said).unwrap();
    assert!(
        data["assumed"].as_str().unwrap().contains("heater on since"),
        "{data:#}"
    );
    let warnings = data["run"]["warnings"].as_array().unwrap();
    let times = warnings.iter().flat_map(|w| w["where"].as_array().unwrap());
    let past: Vec<_> = times
        .filter(|w| w["time"].as_str().unwrap() < "2026-03-05T10:40")
        .collect();
    assert!(past.is_empty(), "{past:?}");
    // What is still to come is told.
    assert!(warnings.iter().any(|w| w["code"] == "top-up"), "{data:#}");
}

/// Whoever forgets the notes gets the whole day planned anew, and is told so: on the terminal, on the sheet and in the data. A
/// note of work says that something was done.
#[test]
fn without_notes_it_is_said_that_nothing_is_noted_as_done() {
    let home = home();
    std::fs::write(home.path().join("pot.yaml"), SHOP).unwrap();
    std::fs::write(
        home.path().join("late.yaml"),
        "notes: 1\nreadings: [{tank: pot, at: 10:30, temperature: 94 °C}]\n",
    )
    .unwrap();
    let said = |more: &[&str]| {
        let typed = [&["plan", "pot.yaml", "--at", "10:40", "--effort", "20"], more].concat();
        let done = tankday(&typed, home.path());
        assert!(
            matches!(done.status.code(), Some(0 | 3)),
            "{}",
            words(&done.stderr)
        );
        words(&done.stdout)
            .split_whitespace()
            .collect::<Vec<_>>()
            .join(" ")
    };
    let wanted = "Nothing is noted as done, so everything is planned as not begun.";
    for more in [
        &["--out", "out"][..],
        &["-q"],
        &["--json"],
        &["--done", "late.yaml"],
    ] {
        assert_eq!(said(more).matches(wanted).count(), 1, "{more:?}: {}", said(more));
    }
    for file in ["day-sheet.txt", "day-sheet.html"] {
        let text = std::fs::read_to_string(home.path().join("out").join(file)).unwrap();
        let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(text.contains(wanted), "{file}: {text}");
    }
    let (noted, _) = planned("", &[]);
    assert!(!noted.contains("Nothing is noted as done"), "{noted}");
}
