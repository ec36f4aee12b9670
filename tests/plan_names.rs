//! Loads keep the names that a plan file gives them, wherever they are told of.

use crate::audit_sheet::{Sheet, assert_true};
use std::sync::atomic::AtomicBool;
use tankday::line::{Line, Plan};
use tankday::plan::Effort;
use tankday::plan_file::{rest_of_day, understand, write};
use tankday::record::{Labels, LogEntry, Record, from_csv, to_csv};
use tankday::scenario::{Notes, PlanFile, moment_of, read};
use tankday::shop::Shop;

fn small() -> Shop {
    let path = "tests/plans/shop.yaml";
    read(path, &std::fs::read_to_string(path).unwrap()).unwrap().shop
}

/// The good plan with its loads renamed and listed the other way round.
pub(crate) fn renamed() -> String {
    let text = std::fs::read_to_string("tests/plans/good.yaml").unwrap();
    let text = text
        .replace("id: L1, tank: black tank, holds: [200 of A1, 100 of A2]", "1")
        .replace("id: L2, tank: black tank, holds: [2 of A3]", "2")
        .replace("id: L3, tank: black tank, holds: [2 of A3]", "3")
        .replace("{1}", "{id: L3, tank: black tank, holds: [2 of A3]}")
        .replace("{2}", "{id: jaws first, tank: black tank, holds: [2 of A3]}")
        .replace("{3}", "{id: L7, tank: black tank, holds: [200 of A1, 100 of A2]}");
    text.replace("load: L1", "load: L7")
}

fn understood(shop: &Shop, text: &str) -> Plan {
    let file = PlanFile::read("plan.yaml", text, &shop.calendar).unwrap();
    let meant = understand(shop, &Line::new(shop), &file);
    meant.unwrap_or_else(|f| panic!("{}", f.render(false))).plan
}

fn day(shop: &Shop, plan: &Plan) -> Record {
    let mut record = Record::default();
    Line::new(shop).follow(plan, None, &mut record);
    let faults = tankday::audit::check(shop, &record);
    assert!(faults.is_empty(), "{faults:?}");
    record
}

/// The names of loads in the order in which they go into a bath.
fn went_in(shop: &Shop, record: &Record) -> Vec<String> {
    let labels = Labels::of(shop, record);
    let tank = |e: &LogEntry| match e {
        LogEntry::SetIn { load, station, .. } => {
            shop.stations[station.index()].tank.is_some().then_some(*load)
        }
        _ => None,
    };
    let all = record
        .entries
        .iter()
        .filter_map(|e| Some((e.at, tank(&e.event)?)));
    all.map(|(at, load)| labels.at(load, at).to_owned()).collect()
}

#[test]
fn loads_of_an_edited_plan_keep_their_names() {
    let shop = small();
    let plan = understood(&shop, &renamed());
    let record = day(&shop, &plan);
    let names = went_in(&shop, &record);
    assert_eq!(names, ["L3", "jaws first", "L7"]);
    assert_true(&shop, &record);
    let sheet = Sheet::of(&shop, &record);
    for (form, text) in [
        ("table", &sheet.csv),
        ("calendar", &sheet.calendar),
        ("text", &sheet.text),
        ("page", &sheet.page),
    ] {
        assert!(
            text.contains("jaws first") && text.contains("L7"),
            "{form}: {text}"
        );
        assert!(!text.contains("L1"), "{form}: {text}");
    }
    // What is written of it bears the same names, and so does the record that is read back.
    let text = write(&shop, &Line::new(&shop), &plan);
    assert!(text.contains("{id: jaws first, tank"), "{text}");
    assert_eq!(went_in(&shop, &day(&shop, &understood(&shop, &text))), names);
    let again = from_csv(&shop, &to_csv(&shop, &record)).unwrap();
    assert_eq!(went_in(&shop, &again), names);
}

/// A sheet that bears another name than the plan gave is refused.
#[test]
fn the_audit_holds_the_sheet_against_the_names_of_the_plan() {
    let shop = small();
    let record = day(&shop, &understood(&shop, &renamed()));
    let mut sheet = Sheet::of(&shop, &record);
    sheet.csv = sheet.csv.replace("jaws first", "L2");
    assert!(!sheet.faults(&shop, &record).is_empty());
}

/// A load that is in no file is numbered behind those that are.
#[test]
fn a_rest_keeps_the_names_that_are_noted_and_counts_on() {
    let shop = small();
    let text = "{notes: 1, loads: [{id: L5, tank: black tank, holds: [200 of A1], in: 08:30, out: 08:42}], \
                done: [{load: L5, step: oil, done: 08:46}]}";
    let notes = Notes::read("notes.yaml", text, &shop.calendar).unwrap();
    let now = moment_of("09:00", &shop.calendar).unwrap();
    let rest = rest_of_day(&shop, &notes, now).unwrap_or_else(|f| panic!("{}", f.render(false)));
    let found = rest
        .plan(1, Effort::Days(60), &AtomicBool::new(false), &|_| ())
        .unwrap();
    let mut record = Record::default();
    Line::new(&rest.shop).follow(&found.plan, None, &mut record);
    let names = went_in(&rest.shop, &record);
    assert_eq!(names[..2], ["L5", "L6"], "{names:?}");
    assert!(!names.contains(&"L1".to_owned()), "{names:?}");
    let text = write(&rest.shop, &Line::new(&rest.shop), &found.plan);
    assert!(
        text.contains("{id: L5, tank: black tank, holds: [200 of A1]}"),
        "{text}"
    );
    let whole = day(&rest.shop, &understood(&rest.shop, &text));
    assert_eq!(went_in(&rest.shop, &whole), names);
}

/// A load that comes to a bath again is told from the first time.
#[test]
fn a_name_is_borne_once() {
    let shop = small();
    let mut record = day(&shop, &understood(&shop, &renamed()));
    for entry in &mut record.entries {
        if let LogEntry::LoadNamed { name, .. } = &mut entry.event {
            *name = "L7".into();
        }
    }
    assert_eq!(went_in(&shop, &record), ["L7", "L8", "L9"]);
}
