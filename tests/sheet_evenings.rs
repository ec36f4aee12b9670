//! Every line of a day sheet held against the record of its day: time, length, place, load, pieces, amounts, and that no
//! act is missing. What stands here, in `sheet_read` and in `sheet_amounts` shares nothing with what writes the sheet. The
//! shop and its story: `tests/sheets`.

use crate::sheet_amounts::{holds_amounts, holds_heaters, holds_ready};
use crate::sheet_read::{Day, Done, Loads, Row, by_hand, day, minutes, said, stamp, step_of, word};
use std::collections::BTreeMap;
use tankday::record::{LoadNo, LogEntry, TaskKind};
use tankday::shop::StepRef;
use tankday::units::{Moment, Span};

const SHOP: &str = "tests/sheets/evenings.yaml";

/// The tasks of one hand behind a row: they begin at its time and match its acts one by one.
fn behind(day: &Day, hands: &BTreeMap<u32, Vec<Done>>, used: &[(u32, usize)], row: &Row) -> (u32, usize) {
    let acts = row.acts();
    let stations = row.each("station", acts.len());
    let fits = |tasks: &[Done]| {
        let named = |d: &Done| day.shop.stations[d.task.station.index()].name.clone();
        tasks.len() == acts.len()
            && stamp(&day.shop, tasks[0].from) == row.when()
            && tasks
                .iter()
                .zip(acts.iter().zip(&stations))
                .all(|(d, (act, station))| word(&day.shop, &d.task) == *act && named(d) == *station)
            && tasks.windows(2).all(|w| w[0].to == w[1].from)
    };
    for (hand, tasks) in hands {
        for first in 0..tasks.len() {
            let end = (first + acts.len()).min(tasks.len());
            if !used.contains(&(*hand, first)) && fits(&tasks[first..end]) {
                return (*hand, first);
            }
        }
    }
    panic!("nothing in the record stands behind {row:?}");
}

fn is_by_hand(row: &Row) -> bool {
    !row.get("hands_min").is_empty()
}

/// Every row that hands do, against the tasks of the record; and every task stands in exactly one row.
fn holds_every_task(day: &Day) -> usize {
    let (hands, loads) = (by_hand(&day.record), Loads::of(&day.shop, &day.record));
    let mut used: Vec<(u32, usize)> = Vec::new();
    for row in day.rows.iter().filter(|r| is_by_hand(r)) {
        let (hand, first) = behind(day, &hands, &used, row);
        let tasks = &hands[&hand][first..first + row.acts().len()];
        used.extend((first..first + tasks.len()).map(|i| (hand, i)));
        let busy: Span = tasks.iter().map(|d| d.to - d.from).sum();
        assert_eq!(row.get("hands_min"), minutes(busy), "{row:?}");
        holds_loads(day, &loads, row, tasks);
        holds_steps(day, row, tasks);
    }
    let all: usize = hands.values().map(Vec::len).sum();
    assert_eq!(used.len(), all, "tasks of hands that stand in no row");
    all
}

fn holds_loads(day: &Day, loads: &Loads, row: &Row, tasks: &[Done]) {
    let (labels, pieces) = (row.each("load", tasks.len()), row.each("pieces", tasks.len()));
    for (task, (label, pieces)) in tasks.iter().zip(labels.iter().zip(&pieces)) {
        match task.task.load {
            Some((load, _)) => {
                assert_eq!(label, loads.label(load, tasks[0].from), "{row:?}");
                assert_eq!(*pieces, loads.pieces(load, tasks[0].from).to_string(), "{row:?}");
                assert!(row.get("task").contains(label.as_str()), "{row:?}");
            }
            None => assert_eq!(label, "", "{row:?}"),
        }
    }
    if row.get("act") == "put in" {
        let (load, _) = tasks[0].task.load.unwrap();
        let mut kinds: BTreeMap<&str, u32> = BTreeMap::new();
        for (_, part, n) in &loads.lots[&load] {
            *kinds.entry(part).or_default() += n;
        }
        let part = |name: &str| day.shop.parts.iter().find(|p| p.name == name).unwrap();
        let sum = |of: &dyn Fn(&tankday::shop::Part) -> f64| -> f64 {
            kinds.iter().map(|(name, n)| of(part(name)) * f64::from(*n)).sum()
        };
        let (area, mass) = (
            sum(&|p| p.area.in_square_metres() * 100.0),
            sum(&|p| p.mass.in_kilograms()),
        );
        let end = format!(", {area:.1} dm², {mass:.1} kg");
        assert!(row.get("task").ends_with(&end), "{end}: {row:?}");
        for n in kinds.values() {
            assert!(row.get("task").contains(&format!("{n} ")), "{row:?}");
        }
    }
}

/// Lengths: in the column, and in the words of the line in their order.
fn holds_steps(day: &Day, row: &Row, tasks: &[Done]) {
    let mut lengths = Vec::new();
    for done in tasks {
        let begins = !matches!(done.task.kind, TaskKind::TakeOut);
        match done.task.load {
            Some((load, step)) if begins => {
                let (planned, _, began) = step_of(&day.record, load, step, done.from);
                assert!(began >= done.from && began <= done.to, "{row:?}");
                lengths.push(planned);
            }
            Some((load, step)) => holds_latest(day, row, load, step, done),
            None => {
                let stands = match done.task.kind {
                    TaskKind::PutWoolIn => next(day, done, TaskKind::TakeWoolOut) - done.to,
                    TaskKind::SetUpFilter => next(day, done, TaskKind::FillBack) - done.to,
                    _ => done.to - done.from,
                };
                lengths.push(stands);
            }
        }
    }
    let column: Vec<String> = lengths.iter().map(|l| minutes(*l)).collect();
    assert_eq!(row.get("step_min"), column.join(" + "), "{row:?}");
    let mut rest = row.get("task");
    for length in lengths {
        let words = said(length);
        let at = rest.find(&words);
        assert!(at.is_some(), "`{words}` is missing in {row:?}");
        rest = &rest[at.unwrap() + words.len()..];
    }
}

fn next(day: &Day, after: &Done, kind: TaskKind) -> Moment {
    let tasks = by_hand(&day.record);
    let mut later = tasks
        .values()
        .flatten()
        .filter(|d| d.from >= after.to && d.task.kind == kind && d.task.station == after.task.station);
    later.next().unwrap().from
}

/// What must not wait says until when.
fn holds_latest(day: &Day, row: &Row, load: LoadNo, step: StepRef, out: &Done) {
    if word(&day.shop, &out.task) != "take out" {
        return;
    }
    let began = day.record.entries.iter().rev().filter(|e| e.at <= out.from);
    let latest = began.into_iter().find_map(|e| match e.event {
        LogEntry::WorkBegins {
            load: l,
            step: s,
            most,
            ..
        } if (l, s) == (load, step) => Some(e.at + most?),
        _ => None,
    });
    let clock = stamp(&day.shop, latest.unwrap()).1;
    assert_eq!(row.get("latest"), clock, "{row:?}");
    let passed = out.from - latest.unwrap() >= Span::whole_minutes(1);
    let words = match passed {
        true => format!("at once: the latest was {clock}"),
        false => format!("at the latest {clock}"),
    };
    assert!(row.get("task").contains(&words), "{row:?}");
    assert_eq!(row.get("what"), "must not wait", "{row:?}");
}

#[test]
fn every_line_of_the_evenings_holds_against_its_record() {
    let day = day(SHOP);
    assert!(holds_every_task(&day) > 60);
    assert!(holds_heaters(&day) >= 8);
    assert!(holds_ready(&day) >= 9);
    assert!(holds_amounts(&day) >= 5);
    for row in &day.rows {
        let known = matches!(
            row.get("what"),
            "do" | "must not wait" | "ready" | "ready late" | "break" | "note"
        );
        assert!(known && !row.get("act").is_empty(), "{row:?}");
    }
}

/// The lines that once stated how long hands were busy.
#[test]
fn the_evenings_state_how_long_steps_last() {
    let day = day(SHOP);
    let has = |words: &str| {
        let found = day.rows.iter().any(|r| r.get("task").contains(words));
        assert!(found, "{words}\n{}", day.text);
    };
    has("dry 5 min at the bench");
    has("12 h at the oil tray");
    has("out Sat ");
    has("5 d at the shelf");
    has("rinse 1 min, dry 5 min");
    has("vice bodies");
    has("knobs with brass insert");
    has("phosphoric acid 75 %");
    has("due Sat 13:00");
    for never in ["2 min at the oil tray", "bodys", "as pure acid", "promised"] {
        assert!(!day.text.contains(never), "{never}");
    }
}

/// Text, calendar and page say what the CSV says, row by row in the same order.
#[test]
fn text_calendar_and_page_are_the_rows_of_the_csv() {
    let day = day(SHOP);
    let words = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    let text = words(&day.text.replace("____ °C", "").replace("__:__", ""));
    let page = day
        .page
        .replace("<b>", "")
        .replace("</b>", "")
        .replace("<span>", "")
        .replace("</span>", "");
    let (mut in_text, mut in_page) = (text.as_str(), page.as_str());
    for row in &day.rows {
        let task = row.get("task");
        in_text = after(in_text, row.get("time"), &words(task));
        in_page = after(
            in_page,
            row.get("time"),
            &task.replace('&', "&amp;").replace('>', "&gt;"),
        );
        if matches!(row.get("what"), "do" | "must not wait") {
            let escaped = task.replace(';', "\\;").replace(',', "\\,");
            assert!(day.calendar.contains(&format!("DESCRIPTION:{escaped}")), "{task}");
        }
    }
    let boxes = day.text.matches("[ ]").count();
    let to_do = day
        .rows
        .iter()
        .filter(|r| matches!(r.get("what"), "do" | "must not wait"));
    assert_eq!(boxes, to_do.count());
}

/// What stands behind a time and words that follow each other.
fn after<'a>(text: &'a str, time: &str, words: &str) -> &'a str {
    let at = text
        .find(time)
        .unwrap_or_else(|| panic!("{time} {words} is missing"));
    let rest = &text[at + time.len()..];
    let found = rest
        .find(words)
        .unwrap_or_else(|| panic!("{time} {words} is missing"));
    &rest[found + words.len()..]
}

/// A load with a hydrogen risk carries its box from the bath on, until it is relieved, and no other load does.
#[test]
fn springs_carry_their_box() {
    let day = day(SHOP);
    let boxed: Vec<&Row> = day
        .rows
        .iter()
        .filter(|r| r.get("caution").contains("Hydrogen risk"))
        .collect();
    // From the bath on a load has a number.
    let own = |r: &Row| {
        let acts = r.acts().len();
        let mut here = r.each("load", acts).into_iter().zip(r.each("part", acts));
        here.any(|(load, part)| load.starts_with('L') && part == "lock springs")
    };
    let relieved = |r: &Row| r.get("act") == "take" && r.get("station") == "shelf";
    assert!(boxed.len() >= 4, "{boxed:?}");
    assert!(boxed.iter().all(|r| own(r)), "{boxed:?}");
    let all = day.rows.iter().filter(|r| own(r) && !relieved(r)).count();
    assert_eq!(boxed.len(), all);
    assert_eq!(day.page.matches("class=\"h\"").count(), boxed.len());
}
