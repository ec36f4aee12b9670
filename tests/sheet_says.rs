//! What a day sheet must not leave out: how long hands are busy where a step goes on without them, loads that go in in no
//! time, numbers that are equal by chance. Each is written, and the audit refuses a sheet without it.

use crate::audit_sheet::{Sheet, cells, column, written};
use tankday::line::Line;
use tankday::record::{Figures, Record};
use tankday::scenario;
use tankday::sheet::{StepCaution, ToNote, sheets};
use tankday::shop::Shop;

fn shipped(name: &str, change: impl Fn(&str) -> String) -> (Shop, Record) {
    let path = format!("scenarios/{name}.yaml");
    let text = std::fs::read_to_string(&path).unwrap();
    let changed = change(&text);
    let read = scenario::read(&path, &changed).unwrap_or_else(|f| panic!("{}", f.render(false)));
    let mut record = Record::default();
    Line::new(&read.shop).run(None, &mut record);
    (read.shop, record)
}

/// Rows of a sheet that passes its audit.
fn rows(shop: &Shop, record: &Record) -> (Sheet, Vec<Vec<String>>) {
    let sheet = Sheet::of(shop, record);
    assert_eq!(sheet.faults(shop, record), Vec::<String>::new());
    let rows = cells(&sheet.csv);
    (sheet, rows)
}

/// The faults of a sheet of which one row's words are others, everywhere.
fn changed(shop: &Shop, record: &Record, sheet: &Sheet, from: &str, to: &str) -> Vec<String> {
    let other = |text: &str| text.replace(from, to);
    let escaped = |text: &str| text.replace(';', "\\;").replace(',', "\\,");
    let other = Sheet {
        csv: other(&sheet.csv),
        text: sheet.text.replace(from, to),
        page: other(&sheet.page),
        calendar: sheet
            .calendar
            .replace("\r\n ", "")
            .replace(&escaped(from), &escaped(to)),
    };
    other.faults(shop, record)
}

#[test]
fn where_a_stage_of_care_goes_on_alone_it_says_how_long_hands_are_busy() {
    for (name, words) in [("fresh-bath", "Dissolve "), ("filter-week", "Set up the filter")] {
        let (shop, record) = shipped(name, str::to_owned);
        let (sheet, rows) = rows(&shop, &record);
        let task = column(&rows, "task");
        let row = rows.iter().find(|r| r[task].starts_with(words)).unwrap();
        let hands = row[column(&rows, "hands_min")].trim_end_matches(".0").to_owned();
        let you = format!("; you: {hands} min");
        assert!(row[task].ends_with(&you), "{row:?}");
        assert!(sheet.text.contains(&you) && sheet.page.contains(&you), "{you}");
        for other in ["", "; you: 77 min", "; you: under 1 min"] {
            let faults = changed(&shop, &record, &sheet, &you, other);
            assert!(faults.iter().any(|f| f.contains("hands")), "{other}: {faults:?}");
        }
    }
}

/// Putting in that takes no time is no task of hands in the record; the load goes in all the same.
#[test]
fn a_load_that_goes_in_in_no_time_has_its_row_and_its_note() {
    let at_once = |t: &str| {
        t.replace("do: coat, ", "do: coat, put in: 0 s, ")
            .replace("do: oil, ", "do: oil, put in: 0 s, ")
    };
    let (shop, record) = shipped("first-day", at_once);
    let (sheet, rows) = rows(&shop, &record);
    let (act, task, load) = (column(&rows, "act"), column(&rows, "task"), column(&rows, "load"));
    for name in ["L1", "L2", "L3"] {
        let into = rows
            .iter()
            .find(|r| r[act] == "put in" && r[load] == name)
            .unwrap();
        assert!(
            into[task].starts_with(&format!("{name} into the pot for ")),
            "{into:?}"
        );
        assert_eq!(into[column(&rows, "hands_min")], "0.0");
        let oiled = rows
            .iter()
            .any(|r| r[load] == name && r[task].contains("oil 20 min"));
        assert!(oiled, "{}", sheet.text);
    }
    let made = sheets(&shop, &record, &Figures::of(&shop, &record));
    let all = made.iter().flat_map(|s| &s.rows);
    let noted: Vec<_> = all
        .filter(|r| r.to_note.iter().any(|n| matches!(n, ToNote::Into { .. })))
        .collect();
    assert_eq!(noted.len(), 3);
    assert!(noted[0].cautions.contains(&StepCaution::Foam));
    // Without the row the sheet is refused.
    let less: Vec<Vec<String>> = rows
        .iter()
        .filter(|r| r[load] != "L2" || r[act] != "put in")
        .cloned()
        .collect();
    let forged = Sheet {
        csv: written(&less),
        ..sheet
    };
    assert!(!forged.faults(&shop, &record).is_empty());
}

/// Two orders of as many pieces, whose steps last as long, stand in one line.
#[test]
fn equal_numbers_of_two_acts_stand_twice() {
    let alike = |t: &str| t.replace("count: 40, ", "count: 4, ");
    let (shop, record) = shipped("first-day", alike);
    let (sheet, rows) = rows(&shop, &record);
    let at = |name: &str| column(&rows, name);
    let row = rows.iter().find(|r| r[at("act")] == "start + start").unwrap();
    assert_eq!(row[at("step_min")], "5.0 + 5.0", "{row:?}");
    assert_eq!(row[at("pieces")], "4 + 4", "{row:?}");
    let line = rows.iter().position(|r| r == row).unwrap();
    for name in ["step_min", "pieces"] {
        let mut other = rows.clone();
        let cell = &mut other[line][at(name)];
        *cell = cell.split(" + ").next().unwrap().to_owned();
        let forged = Sheet {
            csv: written(&other),
            ..sheet.clone()
        };
        assert!(!forged.faults(&shop, &record).is_empty(), "{name}");
    }
}
