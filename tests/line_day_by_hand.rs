//! A day worked out on paper: three loads, one tank, one pair of hands.
//!
//! The shop opens at 08:00, the bath is in its band. Every load is blasted for 5 min (hands throughout), put in (1 min),
//! coated for 10 to 15 min, taken out (1 min), rinsed at once (2 min, hands throughout), put into oil (1 min), soaked
//! for 30 min, taken out of it (2 min). A is due before B, B before C.
//!
//! ```text
//! hands                        tank                       oil
//! 08:00 blast A
//! 08:05 A in                   08:06 A dwells to 08:16
//! 08:06 blast B
//! 08:11 blast C
//! 08:16 A out, 08:17 rinse A   empty from 08:17
//! 08:19 B in                   08:20 B dwells to 08:30
//! 08:20 A into oil                                        08:21 A soaks to 08:51
//! 08:30 B out, 08:31 rinse B   empty from 08:31
//! 08:33 C in                   08:34 C dwells to 08:44
//! 08:34 B into oil                                        08:35 B soaks to 09:05
//! 08:44 C out, 08:45 rinse C
//! 08:47 C into oil                                        08:48 C soaks to 09:18
//! 08:51 A out of oil, ready 08:53
//! 09:05 B out of oil, ready 09:07
//! 09:18 C out of oil, ready 09:20
//! ```
//!
//! Feeding the tank goes before the oil, since the tank is what the shop waits for; taking out goes before all.

use crate::line_shops::*;
use tankday::line::Line;
use tankday::record::{LogEntry, Record, TaskKind};
use tankday::shop::*;
use tankday::units::*;

fn shop() -> Shop {
    let mut shop = empty_shop();
    shop.hands = 1;
    shop.rules.hands = HandsFirst::Urgent;
    shop.rules.next = NextLoad::DueFirst;
    shop.rules.look_ahead = true;
    shop.calendar.days = vec![Day {
        open: clock(8, 0),
        close: clock(17, 0),
        breaks: Vec::new(),
        stays: false,
    }];
    let cabinet = add_station(&mut shop, "blast cabinet", 1);
    let tank = add_tank(&mut shop);
    let rinse = add_station(&mut shop, "rinse", 1);
    let tray = add_station(&mut shop, "oil tray", 4);
    push_step(&mut shop, "blast", cabinet, Hands::Throughout, 5.0, (0.0, 0.0));
    push_step(&mut shop, "coat", tank, Hands::Ends, 0.0, (1.0, 1.0));
    let rinsing = push_step(&mut shop, "rinse", rinse, Hands::Throughout, 2.0, (0.0, 0.0));
    shop.routes[0].steps[rinsing].at_once = true;
    push_step(&mut shop, "oil", tray, Hands::Ends, 30.0, (1.0, 2.0));
    add_order(&mut shop, "A", 100, clock(8, 0), 120.0);
    add_order(&mut shop, "B", 100, clock(8, 0), 180.0);
    add_order(&mut shop, "C", 100, clock(8, 0), 240.0);
    shop
}

/// What hands did: when, what, with which load, at which station, until when.
fn tasks(record: &Record, shop: &Shop) -> Vec<(String, String)> {
    let begun = |e: &LogEntry| match e {
        LogEntry::HandsTake { task, .. } => task.load.map(|(load, step)| {
            let what = match task.kind {
                TaskKind::PutIn => "in ",
                TaskKind::TakeOut => "out ",
                _ => "",
            };
            format!(
                "{} {what}{}",
                ["A", "B", "C"][load.0 as usize],
                shop.step(step).name
            )
        }),
        _ => None,
    };
    record
        .entries
        .iter()
        .filter_map(|e| begun(&e.event).map(|what| (e.at.clock(), what)))
        .collect()
}

#[test]
fn every_task_begins_as_on_paper() {
    let shop = shop();
    let mut record = Record::default();
    let outcome = Line::new(&shop).run(None, &mut record);
    let paper = [
        ("08:00", "A blast"),
        ("08:05", "A in coat"),
        ("08:06", "B blast"),
        ("08:11", "C blast"),
        ("08:16", "A out coat"),
        ("08:17", "A rinse"),
        ("08:19", "B in coat"),
        ("08:20", "A in oil"),
        ("08:30", "B out coat"),
        ("08:31", "B rinse"),
        ("08:33", "C in coat"),
        ("08:34", "B in oil"),
        ("08:44", "C out coat"),
        ("08:45", "C rinse"),
        ("08:47", "C in oil"),
        ("08:51", "A out oil"),
        ("09:05", "B out oil"),
        ("09:18", "C out oil"),
    ];
    let expected: Vec<(String, String)> = paper
        .iter()
        .map(|(t, w)| ((*t).to_owned(), (*w).to_owned()))
        .collect();
    assert_eq!(tasks(&record, &shop), expected);
    assert_eq!(outcome.finish, clock(9, 20));
    assert_eq!(outcome.unfinished, 0);
}

#[test]
fn every_load_is_ready_as_on_paper() {
    let shop = shop();
    let mut record = Record::default();
    Line::new(&shop).run(None, &mut record);
    let ready: Vec<Moment> = record
        .entries
        .iter()
        .filter(|e| matches!(e.event, LogEntry::OrderReady { .. }))
        .map(|e| e.at)
        .collect();
    assert_eq!(ready, [clock(8, 53), clock(9, 7), clock(9, 20)]);
    let dwell: Vec<Span> = record
        .entries
        .iter()
        .filter_map(|e| match e.event {
            LogEntry::WorkBegins { step, planned, .. } if step.step == StepIx(1) => Some(planned),
            _ => None,
        })
        .collect();
    assert_eq!(dwell, [Span::whole_minutes(10); 3]);
}
