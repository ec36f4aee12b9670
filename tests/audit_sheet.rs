//! The day sheet is held against its record: a true one passes; one cell, one line, one row that is changed is refused.

use crate::audit_faults::day;
use crate::small_shop::{at, min};
use crate::told_of::with_results;
use tankday::audit::{Written, check_sheet};
use tankday::line::Line;
use tankday::record::Record;
use tankday::report::day_sheet;
use tankday::sheet::{sheets, to_calendar, to_csv, to_text};
use tankday::shop::*;
use tankday::units::*;

/// The sheet of a day in all its forms.
#[derive(Clone)]
pub(crate) struct Sheet {
    pub(crate) csv: String,
    pub(crate) calendar: String,
    pub(crate) text: String,
    pub(crate) page: String,
}

impl Sheet {
    pub(crate) fn of(shop: &Shop, record: &Record) -> Self {
        with_results(shop, record, |results| {
            let sheets = sheets(shop, record, results.figures);
            Self {
                csv: to_csv(&sheets),
                calendar: to_calendar(&shop.title, &sheets),
                text: to_text(&sheets),
                page: day_sheet(results, &sheets, tankday::report::Units::Metric),
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
pub(crate) fn full_day() -> (Shop, Record) {
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
    shop.baths[0].coat = CoatRule::Target(CoatWeight::grams_per_square_metre(16.5));
    shop.baths[0].least = min(5);
    // The second order comes after the break.
    shop.orders[1].arrival = Arrival::At(at(13, 0));
    let mut record = Record::default();
    Line::new(&shop).run(None, &mut record);
    (shop, record)
}

/// The rows of the CSV as cells, the heading first.
pub(crate) fn cells(csv: &str) -> Vec<Vec<String>> {
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .from_reader(csv.as_bytes());
    let row = |r: Result<csv::StringRecord, csv::Error>| r.unwrap().iter().map(str::to_owned).collect();
    reader.records().map(row).collect()
}

pub(crate) fn written(rows: &[Vec<String>]) -> String {
    let mut writer = csv::WriterBuilder::new()
        .terminator(csv::Terminator::CRLF)
        .from_writer(Vec::new());
    for row in rows {
        writer.write_record(row).unwrap();
    }
    String::from_utf8(writer.into_inner().unwrap()).unwrap()
}

pub(crate) fn column(rows: &[Vec<String>], name: &str) -> usize {
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
    for name in ["earliest", "latest"] {
        let changed = refused(|row, at| {
            let had = row[at(name)].clone();
            let is = had.contains(':');
            if is {
                row[at(name)] = later(&had);
                row[at("task")] = row[at("task")].replace(&had, &later(&had));
            }
            is
        });
        assert!(changed >= 2, "{name}: {changed}");
        refused(|row, at| !std::mem::take(&mut row[at(name)]).is_empty());
    }
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

/// What to look for, and from when on, is what the record's coating and the growth laws come to.
#[test]
fn another_sight_of_a_load_that_comes_out() {
    for (from, to) in [("fizz", "boil"), ("not before", "after")] {
        let changed = refused(|row, at| {
            let task = row[at("task")].replace(from, to);
            std::mem::replace(&mut row[at("task")], task.clone()) != task
        });
        assert!(changed >= 2, "{from}: {changed}");
    }
    let changed = refused(|row, at| {
        let goes_in = row[at("act")] == "put in";
        if goes_in {
            row[at("earliest")] = "08:00".to_owned();
        }
        goes_in
    });
    assert!(changed >= 2, "{changed}");
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
