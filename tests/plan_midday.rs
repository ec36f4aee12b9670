//! The rest of a day that is under way.

use std::sync::atomic::AtomicBool;
use tankday::line::Line;
use tankday::plan::Effort;
use tankday::plan_file::rest_of_day;
use tankday::record::{LogEntry, Record};
use tankday::scenario::{Notes, moment_of, read};
use tankday::shop::Shop;
use tankday::units::Moment;

fn small() -> Shop {
    let path = "tests/plans/shop.yaml";
    read(path, &std::fs::read_to_string(path).unwrap()).unwrap().shop
}

fn at(shop: &Shop, text: &str) -> Moment {
    moment_of(text, &shop.calendar).unwrap()
}

/// The words with which notes at 09:00 are refused.
pub(crate) fn refused(shop: &Shop, name: &str, text: &str) -> String {
    let notes = match Notes::read(name, text, &shop.calendar) {
        Ok(notes) => notes,
        Err(found) => return found.render(false),
    };
    match rest_of_day(shop, &notes, at(shop, "09:00")) {
        Err(found) => found.render(false),
        Ok(rest) => {
            let found = rest.contradictions(&notes);
            assert!(!found.is_empty(), "{name} is taken");
            found.render(false)
        }
    }
}

fn planned(notes: &str) -> (Shop, Record) {
    planned_in(small(), notes)
}

fn planned_in(shop: Shop, notes: &str) -> (Shop, Record) {
    let notes =
        Notes::read("notes.yaml", notes, &shop.calendar).unwrap_or_else(|f| panic!("{}", f.render(false)));
    let rest =
        rest_of_day(&shop, &notes, at(&shop, "09:00")).unwrap_or_else(|f| panic!("{}", f.render(false)));
    let told = rest.contradictions(&notes);
    assert!(told.is_empty(), "{}", told.render(false));
    let found = rest
        .plan(1, Effort::Days(60), &AtomicBool::new(false), &|_| ())
        .unwrap();
    assert_eq!(found.judged.unready, 0);
    let mut record = Record::default();
    Line::new(&rest.shop).follow(&found.plan, None, &mut record);
    (rest.shop, record)
}

fn times(record: &Record, wanted: impl Fn(&LogEntry) -> bool) -> Vec<String> {
    let all = record.entries.iter().filter(|e| wanted(&e.event));
    all.map(|e| e.at.clock()).collect()
}

#[test]
fn what_was_noted_is_taken_as_it_is() {
    let (shop, record) = planned(&std::fs::read_to_string("tests/notes/good.yaml").unwrap());
    let tank = shop.tanks().next().unwrap().0;
    let into = times(
        &record,
        |e| matches!(e, LogEntry::SetIn { station, .. } if *station == tank),
    );
    assert_eq!(&into[..2], ["08:30", "08:50"]);
    let lifts = times(
        &record,
        |e| matches!(e, LogEntry::LiftBegins { station, .. } if *station == tank),
    );
    assert_eq!(lifts[0], "08:42");
    // The second is still in at nine, and comes out after it.
    assert!(lifts[1].as_str() >= "09:00", "{lifts:?}");
    let arrivals = times(
        &record,
        |e| matches!(e, LogEntry::OrderArrives { source, .. } if source.index() == 3),
    );
    assert_eq!(arrivals, ["11:00"]);
    // The bath has its reading.
    let read = record.entries.iter().find_map(|e| match &e.event {
        LogEntry::Bath { sample, .. } if e.at.clock() == "08:45" => Some(sample.temperature.in_celsius()),
        _ => None,
    });
    assert!((read.unwrap() - 93.0).abs() < 0.01, "{read:?}");
    assert_eq!(
        times(&record, |e| matches!(e, LogEntry::OrderReady { .. })).len(),
        4
    );
    // A1 was ready when its oiling was done.
    assert_eq!(
        times(&record, |e| matches!(e, LogEntry::OrderReady { .. }))[0],
        "08:46"
    );
}

/// Equal times are the same minute: the load was in for less than that, and not until the next day.
#[test]
fn a_load_that_came_out_in_the_minute_in_which_it_went_in() {
    let text = "{notes: 1, loads: [{id: L1, tank: black tank, holds: [200 of A1], in: 08:30, out: 08:30}]}";
    let shop = small();
    let notes = Notes::read("notes.yaml", text, &shop.calendar).unwrap();
    let rest = rest_of_day(&shop, &notes, at(&shop, "09:00")).unwrap();
    let said = &rest.taken[0];
    assert!(
        said.ends_with("in the black tank at 08:30 for under 1 min"),
        "{said}"
    );
    let (_, record) = planned(text);
    let lifts = times(&record, |e| matches!(e, LogEntry::LiftBegins { .. }));
    assert!(["08:30", "08:31"].contains(&lifts[0].as_str()), "{lifts:?}");
}

#[test]
fn nothing_that_was_not_noted_begins_before_now() {
    let (shop, record) = planned("notes: 1");
    let first = record
        .entries
        .iter()
        .find(|e| matches!(e.event, LogEntry::SetIn { .. }));
    assert!(first.unwrap().at >= at(&shop, "09:00"));
    let (_, record) =
        planned("{notes: 1, done: [{order: A1, step: degrease, done: 07:45}, {order: A4, done: 08:10}]}");
    let ready = times(&record, |e| matches!(e, LogEntry::OrderReady { .. }));
    assert_eq!(ready[0], "08:10");
    let degreased = times(
        &record,
        |e| matches!(e, LogEntry::SetIn { step, .. } if step.step.index() == 0),
    );
    // A2 and the two lots of A3; A1 is past it, A4 is all done.
    assert_eq!(degreased.len(), 3, "{degreased:?}");
}

/// A sheet made from a plan divides orders as the plan does, and its notes say so.
#[test]
fn a_lot_outside_of_loads_has_the_pieces_that_are_noted() {
    let (_, record) = planned(
        "{notes: 1, done: [{order: A3, lot: 1, pieces: 1, step: degrease, done: 08:10}, \
         {order: A3, lot: 2, pieces: 2, step: degrease, done: 08:20}]}",
    );
    let third = record.entries.iter().find_map(|e| match e.event {
        LogEntry::OrderArrives { order, source, .. } if source.index() == 2 => Some(order),
        _ => None,
    });
    let made = record.entries.iter().filter_map(|e| match e.event {
        LogEntry::LoadMade { order, pieces, .. } if Some(order) == third => Some(pieces),
        _ => None,
    });
    let mut pieces: Vec<u32> = made.collect();
    pieces.sort_unstable();
    assert_eq!(pieces, [1, 1, 2]);
    let degreased = times(
        &record,
        |e| matches!(e, LogEntry::SetIn { step, .. } if step.route.index() == 1 && step.step.index() == 0),
    );
    assert_eq!(degreased.len(), 1, "{degreased:?}");
}

#[test]
fn pieces_that_do_not_add_up_are_told() {
    for (lots, told) in [
        (
            "lot: 1, pieces: 9",
            "the order has 4 pieces, the notes speak of 9",
        ),
        (
            "lot: 3, pieces: 1",
            "lot 1 comes before it: how many pieces has it?",
        ),
    ] {
        let notes = format!("notes: 1\ndone:\n  - {{order: A3, {lots}, step: degrease, done: 08:10}}\n");
        let said = refused(&small(), "notes.yaml", &notes);
        assert!(said.contains(told), "{said}");
    }
    let notes = "notes: 1\nloads:\n  - {id: L1, tank: black tank, holds: [2 of A3], in: 08:10}\ndone:\n  \
                 - {order: A3, lot: 1, pieces: 3, step: degrease, done: 08:10}\n";
    let said = refused(&small(), "notes.yaml", notes);
    assert!(said.contains("lot 1 has 2 pieces"), "{said}");
    let notes = "notes: 1\ndone:\n  - {load: L1, pieces: 3, step: oil, done: 08:10}\n";
    let said = refused(&small(), "notes.yaml", notes);
    assert!(said.contains("a load has the pieces that it holds"), "{said}");
}

/// The rest of a full day is planned in a timetable, too, and comes out no worse than by any rule of thumb.
#[test]
fn the_rest_is_no_worse_than_by_rules() {
    let path = "tests/data/mixed-day-first.yaml";
    let shop = read(path, &std::fs::read_to_string(path).unwrap()).unwrap().shop;
    for text in [
        "notes: 1",
        "notes: 1\nloads:\n  - {id: L1, tank: black tank, holds: [25 of A4], in: 08:40}\n",
        "notes: 1\nloads:\n  - {id: L1, tank: black tank, holds: [25 of A4], in: 08:40, out: 08:57}\ndone:\n  \
         - {order: A1, step: degrease, done: 08:30}\n  - {order: A3, step: relieve, begun: 07:45}\n",
    ] {
        let notes = Notes::read("notes.yaml", text, &shop.calendar).unwrap();
        let rest =
            rest_of_day(&shop, &notes, at(&shop, "09:00")).unwrap_or_else(|f| panic!("{}", f.render(false)));
        let told = rest.contradictions(&notes);
        assert!(told.is_empty(), "{}", told.render(false));
        let found = rest
            .plan(1, Effort::Days(200), &AtomicBool::new(false), &|_| ())
            .unwrap();
        assert_eq!((found.judged.unready, found.judged.breaches), (0, 0), "{text}");
        let rules = found.rules.iter().filter_map(|r| r.judged);
        let best = rules.map(|j| j.cost).fold(f64::INFINITY, f64::min);
        assert!(
            found.judged.cost <= best + 1e-6,
            "{} against {best}: {text}",
            found.judged.cost
        );
        let mut record = Record::default();
        Line::new(&rest.shop).follow(&found.plan, None, &mut record);
        let begun = times(&record, |e| matches!(e, LogEntry::SetIn { .. }));
        // What was taken out was rinsed at once.
        let noted = ["in:", "begun:", "out:"]
            .map(|n| text.matches(n).count())
            .iter()
            .sum::<usize>();
        let early = begun.iter().filter(|t| t.as_str() < "09:00").count();
        assert_eq!(early, noted, "{text}: {begun:?}");
    }
}

/// What was noted for the very minute in which a load was taken out stands behind that in the plan of the rest.
#[test]
fn what_was_done_as_the_load_came_out_stands_behind_it() {
    let shop = small();
    let notes = "notes: 1\nloads:\n  - {id: L1, tank: black tank, holds: [200 of A1], in: 08:30, out: 08:42}\ndone:\n  \
                 - {load: L1, step: oil, done: 08:42}\n";
    let notes = Notes::read("notes.yaml", notes, &shop.calendar).unwrap();
    let rest =
        rest_of_day(&shop, &notes, at(&shop, "09:00")).unwrap_or_else(|f| panic!("{}", f.render(false)));
    let found = rest
        .plan(1, Effort::Days(60), &AtomicBool::new(false), &|_| ())
        .unwrap();
    let line = Line::new(&rest.shop);
    let text = tankday::plan_file::write(&rest.shop, &line, &found.plan);
    let file = tankday::scenario::PlanFile::read("plan.yaml", &text, &rest.shop.calendar).unwrap();
    let again = tankday::plan_file::understand(&rest.shop, &line, &file);
    assert!(
        again.is_ok(),
        "{}\n{text}",
        again.err().map_or(String::new(), |f| f.render(false))
    );
}
