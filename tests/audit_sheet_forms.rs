//! The day sheet in its other forms, of other days and of shipped ones, held against the record.

use crate::audit_faults::day;
use crate::audit_sheet::{Sheet, assert_true, full_day};
use crate::small_shop::TANK;
use tankday::audit::check_safety;
use tankday::line::Line;
use tankday::random::Streams;
use tankday::record::Record;

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
            .any(|e| matches!(e.event, tankday::record::LogEntry::ToppedUp { tank: TANK, .. }))
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
        for luck in [None, Some(Streams::new(3, 1))] {
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
