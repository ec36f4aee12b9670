//! The day sheet is held against its record: a true one passes; one cell, one line, one row that is changed is refused.

use crate::audit_faults::day;
use crate::small_shop::{TANK, at, min};
use crate::told_of::with_results;
use tankday::audit::{Written, check_safety, check_sheet};
use tankday::line::Line;
use tankday::luck::Luck;
use tankday::record::Record;
use tankday::report::day_sheet;
use tankday::sheet::{sheets, to_calendar, to_csv, to_text};
use tankday::shop::*;
use tankday::units::*;

/// The sheet of a day in all its forms.
#[derive(Clone)]
pub(crate) struct Sheet {
    csv: String,
    calendar: String,
    text: String,
    page: String,
}

impl Sheet {
    pub(crate) fn of(shop: &Shop, record: &Record) -> Self {
        with_results(shop, record, |results| {
            let sheets = sheets(shop, record, results.figures);
            Self {
                csv: to_csv(&sheets),
                calendar: to_calendar(&shop.title, &sheets),
                text: to_text(&sheets),
                page: day_sheet(results, &sheets),
            }
        })
    }

    /// What the audit says of it.
    pub(crate) fn faults(&self, shop: &Shop, record: &Record) -> Vec<String> {
        let written = Written {
            csv: &self.csv,
            calendar: Some(&self.calendar),
            text: Some(&self.text),
            page: Some(&self.page),
        };
        let faults = check_sheet(shop, record, &written);
        faults.into_iter().map(|f| f.text).collect()
    }
}

/// Asserts that everything in the sheet of a day is so in its record.
pub(crate) fn assert_true(shop: &Shop, record: &Record) {
    let sheet = Sheet::of(shop, record);
    let faults = sheet.faults(shop, record);
    assert!(
        faults.is_empty(),
        "{:#?}\n{}",
        &faults[..faults.len().min(8)],
        sheet.csv
    );
}

/// A day with everything that a sheet can tell: a heater, two loads, top-ups, an addition, wool, a filter stop, a rinse that
/// is renewed, a break.
fn full_day() -> (Shop, Record) {
    let (mut shop, _) = day();
    shop.rules.care = vec![
        Care {
            chore: Chore::Replenish {
                to: Strength::points(40.0),
                takes: min(4),
            },
            when: vec![Trigger::Loads(1)],
        },
        Care {
            chore: Chore::Condition {
                to: Concentration::grams_per_litre(1.5),
                at: Temperature::celsius(65.0),
                stays: min(30),
                takes: min(6),
            },
            when: vec![Trigger::AfterLast],
        },
    ];
    shop.rules.top_up.below = Share::percent(99.0);
    // The second order comes after the break.
    shop.orders[1].arrival = Arrival::At(at(13, 0));
    let mut record = Record::default();
    Line::new(&shop).run(None, &mut record);
    (shop, record)
}

/// The rows of the CSV as cells, the heading first.
fn cells(csv: &str) -> Vec<Vec<String>> {
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .from_reader(csv.as_bytes());
    let row = |r: Result<csv::StringRecord, csv::Error>| r.unwrap().iter().map(str::to_owned).collect();
    reader.records().map(row).collect()
}

fn written(rows: &[Vec<String>]) -> String {
    let mut writer = csv::WriterBuilder::new()
        .terminator(csv::Terminator::CRLF)
        .from_writer(Vec::new());
    for row in rows {
        writer.write_record(row).unwrap();
    }
    String::from_utf8(writer.into_inner().unwrap()).unwrap()
}

fn column(rows: &[Vec<String>], name: &str) -> usize {
    rows[0].iter().position(|h| h == name).unwrap()
}

/// Changes every row in turn; each change must be refused. Returns how many there were.
fn refused(change: impl Fn(&mut Vec<String>, &dyn Fn(&str) -> usize) -> bool) -> usize {
    let (shop, record) = full_day();
    let sheet = Sheet::of(&shop, &record);
    let rows = cells(&sheet.csv);
    let mut changes = 0;
    for i in 1..rows.len() {
        let mut other = rows.clone();
        if !change(&mut other[i], &|name| column(&rows, name)) {
            continue;
        }
        changes += 1;
        assert_ne!(other, rows, "the change changes nothing");
        let forged = Sheet {
            csv: written(&other),
            ..sheet.clone()
        };
        let faults = forged.faults(&shop, &record);
        assert!(!faults.is_empty(), "not refused: {:?}", other[i]);
    }
    changes
}

#[test]
fn a_true_sheet_passes() {
    let (shop, record) = day();
    assert_true(&shop, &record);
    let (shop, record) = full_day();
    assert_true(&shop, &record);
    let rows = cells(&Sheet::of(&shop, &record).csv);
    let acts: String = rows.iter().map(|r| r[3].clone() + "\n").collect();
    for act in [
        "heater on",
        "put in",
        "take out",
        "start",
        "top up",
        "add",
        "ready",
        "break",
    ] {
        assert!(acts.contains(act), "{act} is not in it:\n{acts}");
    }
}

#[test]
fn a_time_that_is_off_by_a_minute() {
    let later = |time: &str| {
        let (hour, minute) = time.split_once(':').unwrap();
        let all = 60 * hour.parse::<i64>().unwrap() + minute.parse::<i64>().unwrap() + 1;
        format!("{:02}:{:02}", all / 60, all % 60)
    };
    let changed = refused(|row, at| {
        row[at("time")] = later(&row[at("time")]);
        true
    });
    assert!(changed > 12, "{changed}");
    refused(|row, at| {
        row[at("date")] = "2026-03-06".to_owned();
        true
    });
    let latest = refused(|row, at| {
        let had = row[at("latest")].clone();
        let is = had.contains(':');
        if is {
            row[at("latest")] = later(&had);
        }
        is
    });
    assert!(latest >= 2, "{latest}");
}

#[test]
fn a_length_that_is_off_by_a_tenth_of_a_minute_or_missing() {
    for name in ["hands_min", "step_min"] {
        let changed = refused(|row, at| match row[at(name)].parse::<f64>() {
            Ok(value) => {
                row[at(name)] = format!("{:.1}", value + 0.1);
                true
            }
            _ => false,
        });
        assert!(changed >= 4, "{name}: {changed}");
        refused(|row, at| !std::mem::take(&mut row[at(name)]).is_empty());
    }
}

#[test]
fn another_place_load_number_of_pieces_amount_or_unit() {
    for name in ["station", "load", "pieces", "amount", "unit"] {
        let changed = refused(|row, at| {
            let had = row[at(name)].clone();
            row[at(name)] = match (name, had.parse::<f64>()) {
                _ if had.is_empty() => return false,
                ("pieces", Ok(n)) => format!("{:.0}", n + 1.0),
                ("amount", Ok(n)) => format!("{:.1}", n + 0.1),
                _ => format!("other {had}"),
            };
            true
        });
        assert!(changed >= 2, "{name}: {changed}");
    }
}

#[test]
fn another_act() {
    let changed = refused(|row, at| {
        let act = &mut row[at("act")];
        *act = match act.as_str() {
            "put in" => "take out",
            "heater on" => "heater off",
            "start" => "take",
            "top up" => "add",
            _ => "top up",
        }
        .to_owned();
        true
    });
    assert!(changed > 12, "{changed}");
    refused(|row, at| {
        row[at("act")].push_str(" + start");
        true
    });
    refused(|row, at| {
        row[at("act")] = "sweep".to_owned();
        true
    });
}

/// What a sentence states is held against the cells beside it.
#[test]
fn a_sentence_that_states_another_number() {
    let changed = refused(|row, at| {
        let task = row[at("task")].clone();
        let next = |w: &str| match w.parse::<u32>() {
            Ok(n) => (n + 1).to_string(),
            Err(_) => w.to_owned(),
        };
        row[at("task")] = task.split(' ').map(next).collect::<Vec<_>>().join(" ");
        row[at("task")] != task
    });
    assert!(changed >= 4, "{changed}");
}

#[test]
fn two_rows_that_change_places() {
    let (shop, record) = full_day();
    let sheet = Sheet::of(&shop, &record);
    let rows = cells(&sheet.csv);
    for i in 1..rows.len() - 1 {
        let mut other = rows.clone();
        other.swap(i, i + 1);
        let forged = Sheet {
            csv: written(&other),
            ..sheet.clone()
        };
        assert!(
            !forged.faults(&shop, &record).is_empty(),
            "not refused: {:?} and {:?}",
            rows[i],
            rows[i + 1]
        );
    }
}

#[test]
fn a_row_that_is_missing_and_one_too_many() {
    let (shop, record) = full_day();
    let sheet = Sheet::of(&shop, &record);
    let rows = cells(&sheet.csv);
    for i in 1..rows.len() {
        let (mut less, mut more) = (rows.clone(), rows.clone());
        less.remove(i);
        more.insert(i, rows[i].clone());
        for other in [less, more] {
            // The CSV alone: no other form of the sheet helps to find it.
            let csv = written(&other);
            let written = Written {
                csv: &csv,
                ..Written::default()
            };
            assert!(
                !check_sheet(&shop, &record, &written).is_empty(),
                "not refused: {:?}",
                rows[i]
            );
        }
    }
}

/// Changes the calendar, the text or the page; each change must be refused.
#[test]
fn a_calendar_text_or_page_that_differs() {
    let (shop, record) = full_day();
    let sheet = Sheet::of(&shop, &record);
    let mut tries = 0;
    for (from, to) in [
        ("TRIGGER;RELATED=START:PT0M", "TRIGGER;RELATED=START:PT1M"),
        ("DTSTART:20260305T0", "DTSTART:20260305T1"),
        ("DTEND:20260305T0", "DTEND:20260305T1"),
        ("LOCATION:", "LOCATION:yard\\, "),
        ("SUMMARY:", "SUMMARY:Never "),
        ("UID:", "UIDS:"),
        ("END:VALARM", "END:VALARMS"),
        ("black tank", "blue tank"),
    ] {
        assert!(sheet.calendar.contains(from), "{from}");
        let forged = Sheet {
            calendar: sheet.calendar.replacen(from, to, 1),
            ..sheet.clone()
        };
        assert!(!forged.faults(&shop, &record).is_empty(), "not refused: {to}");
        tries += 1;
    }
    let event = sheet.calendar.split("BEGIN:VEVENT").nth(1).unwrap();
    let less = sheet.calendar.replacen(&format!("BEGIN:VEVENT{event}"), "", 1);
    let twice = sheet
        .calendar
        .replacen(event, &format!("{event}BEGIN:VEVENT{event}"), 1);
    for calendar in [less, twice] {
        let forged = Sheet {
            calendar,
            ..sheet.clone()
        };
        assert!(!forged.faults(&shop, &record).is_empty());
    }
    for (from, to) in [("into the", "out of the"), ("07:30", "07:31")] {
        let text = Sheet {
            text: sheet.text.replace(from, to),
            ..sheet.clone()
        };
        let page = Sheet {
            page: sheet.page.replace(from, to),
            ..sheet.clone()
        };
        for forged in [text, page] {
            tries += 1;
            assert!(!forged.faults(&shop, &record).is_empty(), "not refused: {to}");
        }
    }
    assert_eq!(tries, 12);
}

/// The record itself is what counts: a sheet of another day is refused.
#[test]
fn the_sheet_of_another_day() {
    let (shop, record) = full_day();
    let (other, another) = day();
    assert!(!Sheet::of(&other, &another).faults(&shop, &record).is_empty());
    assert!(!Sheet::of(&shop, &record).faults(&other, &another).is_empty());
    assert!(
        record
            .entries
            .iter()
            .any(|e| matches!(e.event, tankday::record::Event::ToppedUp { tank: TANK, .. }))
    );
}

/// Every day that is shipped has a true sheet, and hurts nobody in silence.
#[test]
fn the_shipped_days_are_told_truly() {
    let mut days = 0;
    for file in std::fs::read_dir("scenarios").unwrap() {
        let path = file.unwrap().path();
        let name = path.file_name().unwrap().to_string_lossy().into_owned();
        if !name.ends_with(".yaml") {
            continue;
        }
        let shop = crate::shipped::shop(&format!("scenarios/{name}"));
        for luck in [None, Some(Luck::new(3, 1))] {
            let mut record = Record::default();
            let outcome = Line::new(&shop).run(luck, &mut record);
            if outcome.endless || record.entries.len() > 100_000 {
                continue;
            }
            days += 1;
            assert_true(&shop, &record);
            assert_eq!(check_safety(&shop, &record), [], "{name}");
        }
    }
    assert!(days > 10, "{days}");
}

/// `run --audit` holds the sheet against the record, and so does `audit` for the files that were written: each of them.
#[test]
fn the_program_refuses_a_changed_sheet_of_any_form() {
    let home = tempfile::tempdir().unwrap();
    let program = |words: &[&str]| {
        std::process::Command::new(env!("CARGO_BIN_EXE_tankday"))
            .args(words)
            .arg(home.path())
            .current_dir(env!("CARGO_MANIFEST_DIR"))
            .output()
            .unwrap()
    };
    let run = program(&["run", "scenarios/first-day.yaml", "--audit", "--quiet", "--out"]);
    assert!(run.status.success(), "{}", String::from_utf8_lossy(&run.stderr));
    assert!(program(&["audit"]).status.success());
    for (name, from, to) in [
        ("day-sheet.csv", "put in", "take out"),
        (
            "day-sheet.ics",
            "TRIGGER;RELATED=START:PT0M",
            "TRIGGER;RELATED=START:PT1M",
        ),
        ("day-sheet.txt", "into the", "out of the"),
        ("day-sheet.html", "into the", "out of the"),
    ] {
        let path = home.path().join(name);
        let true_text = std::fs::read_to_string(&path).unwrap();
        assert!(true_text.contains(from), "{name} has no {from}");
        std::fs::write(&path, true_text.replace(from, to)).unwrap();
        let refused = program(&["audit"]);
        let said = String::from_utf8_lossy(&refused.stderr).into_owned();
        assert_eq!(refused.status.code(), Some(1), "{name}");
        assert!(said.contains("does not follow from the record"), "{name}: {said}");
        std::fs::write(&path, true_text).unwrap();
    }
}
