//! What no note tells of was not done: nothing begins before the rest of a day is planned, care of a bath neither.

use std::sync::atomic::AtomicBool;
use tankday::line::Line;
use tankday::plan::Effort;
use tankday::plan_file::{Rest, rest_of_day, understand, write};
use tankday::record::{LogEntry, Record};
use tankday::scenario::{Notes, PlanFile, moment_of, read};
use tankday::shop::Shop;

const LOAD: &str = "{id: L1, tank: pot, holds: [8 of A], in: 08:30, out: 08:45}";

fn pot() -> String {
    std::fs::read_to_string("tests/data/pot.yaml").unwrap()
}

fn shop(text: &str) -> Shop {
    read("pot.yaml", text)
        .unwrap_or_else(|f| panic!("{}", f.render(false)))
        .shop
}

fn rest(text: &str, now: &str, notes: &str) -> Result<Rest, String> {
    let shop = shop(text);
    let notes = Notes::read("notes.yaml", notes, &shop.calendar).map_err(|f| f.render(false))?;
    let now = moment_of(now, &shop.calendar)?;
    let rest = rest_of_day(&shop, &notes, now).map_err(|f| f.render(false))?;
    let told = rest.contradictions(&notes);
    if told.is_empty() {
        Ok(rest)
    } else {
        Err(told.render(false))
    }
}

/// The record of the rest of a day, and its plan as it is written.
fn planned(text: &str, now: &str, notes: &str) -> (Record, String) {
    let rest = rest(text, now, notes).unwrap_or_else(|why| panic!("{why}"));
    let found = rest
        .plan(1, Effort::Days(60), &AtomicBool::new(false), &|_| ())
        .unwrap();
    let line = Line::new(&rest.shop);
    let mut record = Record::default();
    line.follow(&found.plan, None, &mut record);
    let text = write(&rest.shop, &line, &found.plan);
    let file = PlanFile::read("plan.yaml", &text, &rest.shop.calendar).unwrap();
    if let Err(wrong) = understand(&rest.shop, &line, &file) {
        panic!("{}\n{text}", wrong.render(false));
    }
    (record, text)
}

fn times(record: &Record, wanted: impl Fn(&LogEntry) -> bool) -> Vec<String> {
    let all = record.entries.iter().filter(|e| wanted(&e.event));
    all.map(|e| e.at.clock()).collect()
}

fn care(record: &Record) -> Vec<String> {
    times(record, |e| matches!(e, LogEntry::CareBegins { .. }))
}

#[test]
fn late_in_the_day_nothing_is_said_to_have_been_done() {
    let degreased = "{notes: 1, done: [{order: A, lot: 1, step: degrease, done: 13:10}]}";
    for (now, notes) in [
        ("12:50", "notes: 1"),
        ("13:15", "notes: 1"),
        ("13:30", degreased),
        ("14:00", "notes: 1"),
        ("14:30", "notes: 1"),
    ] {
        let (record, text) = planned(&pot(), now, notes);
        let begun = times(&record, |e| matches!(e, LogEntry::SetIn { .. }));
        assert!(begun.iter().all(|t| t.as_str() >= now), "{now}: {begun:?}");
        let written = text.split("at: ").skip(1).filter_map(|t| t.get(..5));
        let early: Vec<&str> = written.filter(|t| *t < now).collect();
        assert!(early.is_empty(), "{now}: {early:?} in {text}");
    }
}

/// What was noted stays where it was noted, though the rest finds no time any more.
#[test]
fn a_load_keeps_its_time_where_the_day_is_nearly_over() {
    let (record, text) = planned(&pot(), "13:50", &format!("{{notes: 1, loads: [{LOAD}]}}"));
    assert!(text.contains("{at: 08:30, do: coat, load: L1}"), "{text}");
    let coated = |e: &LogEntry| matches!(e, LogEntry::SetIn { step, .. } if step.step.index() == 1);
    assert_eq!(times(&record, coated), ["08:30"]);
}

#[test]
fn care_that_no_note_tells_of_is_due_and_not_done() {
    let notes = format!(
        "{{notes: 1, loads: [{LOAD}, {{id: L2, tank: pot, holds: [8 of A], in: 08:52}}], \
         readings: [{{tank: pot, at: 08:50, total acid: 30.5 points}}]}}"
    );
    let (record, text) = planned(&pot(), "08:58", &notes);
    let coated = |e: &LogEntry| matches!(e, LogEntry::SetIn { step, .. } if step.step.index() == 1);
    assert_eq!(times(&record, coated)[..2], ["08:30", "08:52"]);
    let care = care(&record);
    assert!(
        !care.is_empty() && care.iter().all(|t| t.as_str() >= "08:58"),
        "{care:?}"
    );
    let written = text.split("care:").nth(1).unwrap();
    assert!(!written.contains("at: 08:5"), "{written}");
}

/// The free acid comes with the total acid in the ratio that the bath had, and the other way round.
#[test]
fn one_acid_that_is_read_brings_the_other_with_it() {
    let ratio = |notes: &str| {
        let (record, _) = planned(&pot(), "09:00", notes);
        let read = record.entries.iter().rev().find_map(|e| match &e.event {
            LogEntry::Bath { sample, .. } if e.at.clock() == "08:10" => sample.readings,
            _ => None,
        });
        let read = read.unwrap();
        (read.total_acid.in_points(), read.free_acid.in_points())
    };
    let of = |acid: &str| format!("{{notes: 1, readings: [{{tank: pot, at: 08:10, {acid}}}]}}");
    let (total, free) = ratio(&of("total acid: 31 points"));
    assert!(
        (total - 31.0).abs() < 0.01 && (total / free - 34.0 / 5.6).abs() < 0.01,
        "{total} {free}"
    );
    let (total, free) = ratio(&of("free acid: 5 points"));
    assert!(
        (free - 5.0).abs() < 0.01 && (total / free - 34.0 / 5.6).abs() < 0.01,
        "{total} {free}"
    );
    let (total, free) = ratio(&of("total acid: 31 points, free acid: 5 points"));
    assert!(
        (total - 31.0).abs() < 0.01 && (free - 5.0).abs() < 0.01,
        "{total} {free}"
    );
}

/// After one load a filter stop is due; noted as done it is due only after the next.
#[test]
fn care_that_is_noted_is_done() {
    let text = pot().replace("after 3 loads", "after 1 loads");
    let next = |record: &Record| {
        let coated = |e: &LogEntry| matches!(e, LogEntry::SetIn { step, .. } if step.step.index() == 1);
        times(record, coated)[1].clone()
    };
    let (record, _) = planned(&text, "09:00", &format!("{{notes: 1, loads: [{LOAD}]}}"));
    let due = care(&record);
    assert!(due[0].as_str() >= "09:00" && due[0] < next(&record), "{due:?}");
    let noted = format!("{{notes: 1, loads: [{LOAD}], care: [{{tank: pot, do: filter, done: 08:55}}]}}");
    let rest = rest(&text, "09:00", &noted).unwrap();
    assert_eq!(rest.taken.last().unwrap(), "pot: filter done at 08:55");
    let (record, _) = planned(&text, "09:00", &noted);
    let done = care(&record);
    assert_eq!(done[0], "08:55");
    assert!(done.get(1).is_none_or(|then| *then >= next(&record)), "{done:?}");
    // It was cooled for that, and its sludge is gone.
    let bath = record.entries.iter().find_map(|e| match &e.event {
        LogEntry::Bath { sample, .. } if e.at.clock() == "08:55" => Some(*sample.clone()),
        _ => None,
    });
    let bath = bath.unwrap();
    assert!(bath.temperature.in_celsius() <= 50.01, "{bath:?}");
    let read = bath.readings.unwrap();
    let sludge = (read.stirred + read.settled).in_grams();
    assert!(sludge < 2.5, "{sludge}");
}

#[test]
fn care_is_not_noted_while_a_load_is_in() {
    let noted = format!("{{notes: 1, loads: [{LOAD}], care: [{{tank: pot, do: filter, done: 08:40}}]}}");
    let told = rest(&pot(), "09:00", &noted).unwrap_err();
    assert!(told.contains("L1 was in the pot then"), "{told}");
}

/// What came before a step that was begun stands before it in the plan, in the minute of the lift too.
#[test]
fn a_step_that_was_begun_stands_behind_what_came_before_it() {
    for begun in ["08:50", "08:46", "08:45"] {
        let notes =
            format!("{{notes: 1, loads: [{LOAD}], done: [{{load: L1, step: oil, begun: '{begun}'}}]}}");
        let (_, text) = planned(&pot(), "08:58", &notes);
        let place = |what: &str| text.find(what).unwrap_or_else(|| panic!("no `{what}` in {text}"));
        assert!(place("do: dry, load: L1") < place("do: oil, load: L1"), "{text}");
    }
}
