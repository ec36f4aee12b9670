//! Hours, breaks, limits and company on the line, each on the smallest shop that shows it.

use crate::line_shops::*;
use tankday::line::{Line, Outcome};
use tankday::record::{Breach, LogEntry, Record};
use tankday::shop::*;
use tankday::units::*;

fn run(shop: &Shop) -> (Record, Outcome) {
    let mut record = Record::default();
    let outcome = Line::new(shop).run(None, &mut record);
    (record, outcome)
}

fn ready_times(record: &Record) -> Vec<String> {
    let ready = record
        .entries
        .iter()
        .filter(|e| matches!(e.event, LogEntry::OrderReady { .. }));
    ready.map(|e| e.at.clock()).collect()
}

fn count(record: &Record, what: impl Fn(&LogEntry) -> bool) -> usize {
    record.entries.iter().filter(|e| what(&e.event)).count()
}

/// One pair of hands, a break from 12:00 to 12:30, and one step of 30 min that is asked for at 11:45.
fn one_job(at_break: AtBreak) -> Shop {
    let mut shop = empty_shop();
    shop.hands = 1;
    shop.calendar.days = vec![Day {
        open: clock(8, 0),
        close: clock(17, 0),
        breaks: vec![Break {
            from: clock(12, 0),
            until: clock(12, 30),
            stays: true,
        }],
        stays: false,
    }];
    let bench = add_station(&mut shop, "bench", 1);
    let step = push_step(&mut shop, "file", bench, Hands::Throughout, 30.0, (0.0, 0.0));
    shop.routes[0].steps[step].at_break = at_break;
    add_order(&mut shop, "A", 1, clock(11, 45), 600.0);
    shop
}

/// Check value Q2: by definition of the three rules.
#[test]
fn a_break_meets_work_in_hand() {
    for (rule, ends) in [
        (AtBreak::FinishFirst, "12:15"),
        (AtBreak::Pause, "12:45"),
        (AtBreak::StartAgain, "13:00"),
    ] {
        let (record, _) = run(&one_job(rule));
        assert_eq!(ready_times(&record), [ends], "{rule:?}");
    }
}

/// A shop with a blast cabinet and the tank, look-ahead and urgency on.
fn tank_shop(blast_min: f64) -> Shop {
    let mut shop = empty_shop();
    shop.hands = 1;
    shop.rules.hands = HandsFirst::Urgent;
    shop.rules.look_ahead = true;
    shop.calendar.days = vec![Day {
        open: clock(8, 0),
        close: clock(17, 0),
        breaks: Vec::new(),
        stays: false,
    }];
    let cabinet = add_station(&mut shop, "blast cabinet", 1);
    let tank = add_tank(&mut shop);
    push_step(
        &mut shop,
        "blast",
        cabinet,
        Hands::Throughout,
        blast_min,
        (0.0, 0.0),
    );
    push_step(&mut shop, "coat", tank, Hands::Ends, 0.0, (1.0, 1.0));
    shop
}

/// 08:00 blast A to 08:30, A in 08:30, dwells from 08:31 to 08:41 (at most 08:46). Blasting B begins 08:31, is laid down at
/// 08:41 for the lift, goes on at 08:42 with 20 min left and ends at 09:02.
#[test]
fn blasting_is_laid_down_for_a_load_that_is_done() {
    let mut shop = tank_shop(30.0);
    add_order(&mut shop, "A", 10, clock(8, 0), 100.0);
    add_order(&mut shop, "B", 10, clock(8, 0), 200.0);
    let (record, _) = run(&shop);
    let at = |want: fn(&LogEntry) -> bool| {
        record
            .entries
            .iter()
            .filter(|e| want(&e.event))
            .map(|e| e.at.clock())
            .collect::<Vec<_>>()
    };
    assert_eq!(at(|e| matches!(e, LogEntry::WorkPauses { .. })), ["08:41"]);
    assert_eq!(at(|e| matches!(e, LogEntry::WorkResumes { .. })), ["08:42"]);
    assert_eq!(ready_times(&record), ["08:42", "09:14"]);
    assert_eq!(count(&record, |e| matches!(e, LogEntry::Breaks { .. })), 0);
}

/// The same work that may not be laid down does not begin while A would have to be lifted before its end: B's blasting
/// waits for the lift at 08:41 and runs 08:42 to 09:12.
#[test]
fn work_that_cannot_be_laid_down_waits_for_the_lift() {
    let mut shop = tank_shop(30.0);
    shop.routes[0].steps[0].at_break = AtBreak::FinishFirst;
    add_order(&mut shop, "A", 10, clock(8, 0), 100.0);
    add_order(&mut shop, "B", 10, clock(8, 0), 200.0);
    let (record, _) = run(&shop);
    assert_eq!(ready_times(&record), ["08:42", "09:24"]);
    assert_eq!(count(&record, |e| matches!(e, LogEntry::Breaks { .. })), 0);
}

/// Without look-ahead the lift comes 20 min late: B's blasting holds the hands from 08:31 to 09:01, A was due out by 08:46.
#[test]
fn nobody_there_to_take_it_out_is_a_breach() {
    let mut shop = tank_shop(30.0);
    shop.routes[0].steps[0].at_break = AtBreak::FinishFirst;
    shop.rules.look_ahead = false;
    add_order(&mut shop, "A", 10, clock(8, 0), 100.0);
    add_order(&mut shop, "B", 10, clock(8, 0), 200.0);
    let (record, _) = run(&shop);
    let breaches: Vec<Breach> = record
        .entries
        .iter()
        .filter_map(|e| {
            if let LogEntry::Breaks { what, .. } = e.event {
                Some(what)
            } else {
                None
            }
        })
        .collect();
    assert_eq!(
        breaches,
        [Breach::StayedTooLong {
            by: Span::whole_minutes(15)
        }]
    );
}

/// The tank takes 20 dm2: an order of 300 pieces of 10 cm2 (30 dm2) goes in two loads of 150.
#[test]
fn an_order_too_large_is_divided_evenly() {
    let mut shop = tank_shop(5.0);
    add_order(&mut shop, "A", 300, clock(8, 0), 600.0);
    let (record, _) = run(&shop);
    let lots: Vec<u32> = record
        .entries
        .iter()
        .filter_map(|e| {
            if let LogEntry::LoadMade { pieces, .. } = e.event {
                Some(pieces)
            } else {
                None
            }
        })
        .collect();
    assert_eq!(lots, [150, 150]);
}

/// Two orders of 8 dm2 each fit the 20 dm2 together: once both are blasted they go in as one load.
#[test]
fn loads_that_fit_go_in_together() {
    let mut shop = tank_shop(5.0);
    shop.rules.combine = Combine::SameRoute;
    shop.rules.fill = Fill {
        at_least: Share::percent(60.0),
        wait_at_most: Span::minutes(20.0),
    };
    add_order(&mut shop, "A", 80, clock(8, 0), 600.0);
    add_order(&mut shop, "B", 80, clock(8, 0), 600.0);
    let (record, outcome) = run(&shop);
    assert_eq!(count(&record, |e| matches!(e, LogEntry::Joins { .. })), 1);
    assert_eq!(ready_times(&record), ["08:22", "08:22"]);
    assert_eq!(outcome.unfinished, 0);
}

/// A third order of the same size no longer fits: it goes alone, after waiting for nobody, since nobody can come.
#[test]
fn room_is_never_exceeded() {
    let mut shop = tank_shop(5.0);
    shop.rules.combine = Combine::SameRoute;
    shop.rules.fill = Fill {
        at_least: Share::percent(60.0),
        wait_at_most: Span::minutes(20.0),
    };
    for id in ["A", "B", "C"] {
        add_order(&mut shop, id, 80, clock(8, 0), 600.0);
    }
    let (record, _) = run(&shop);
    assert_eq!(count(&record, |e| matches!(e, LogEntry::Joins { .. })), 1);
    assert_eq!(ready_times(&record), ["08:22", "08:22", "08:34"]);
}

/// A load that could only be lifted after closing at 17:00 is not charged; it stays until the next morning.
#[test]
fn nothing_goes_in_that_cannot_come_out_before_closing() {
    let mut shop = tank_shop(5.0);
    let next = Day {
        open: clock(32, 0),
        close: clock(41, 0),
        breaks: Vec::new(),
        stays: false,
    };
    shop.calendar.days.push(next);
    add_order(&mut shop, "A", 10, clock(16, 45), 600.0);
    let (record, _) = run(&shop);
    assert!(
        record
            .entries
            .iter()
            .any(|e| matches!(e.event, LogEntry::OrderReady { .. }) && e.at > clock(32, 0))
    );
    let hands_at_night = record
        .entries
        .iter()
        .any(|e| matches!(e.event, LogEntry::HandsTake { .. }) && e.at > clock(17, 0) && e.at < clock(32, 0));
    assert!(!hands_at_night);
}

/// A soak without a longest stay goes on by itself over night; hands take it out at opening.
#[test]
fn a_soak_goes_on_overnight() {
    let mut shop = empty_shop();
    shop.hands = 1;
    shop.calendar.days = [0, 24]
        .map(|h| Day {
            open: clock(8 + h, 0),
            close: clock(17 + h, 0),
            breaks: Vec::new(),
            stays: false,
        })
        .to_vec();
    let tray = add_station(&mut shop, "oil tray", 2);
    push_step(&mut shop, "oil", tray, Hands::Ends, 60.0, (1.0, 2.0));
    add_order(&mut shop, "A", 10, clock(16, 30), 2000.0);
    let (record, _) = run(&shop);
    assert_eq!(ready_times(&record), ["08:02"]);
}

/// A wait longer than `within` is reported with its excess: the bench is taken from 08:00 to 08:50, B may wait 10 min.
#[test]
fn waiting_too_long_is_reported() {
    let mut shop = empty_shop();
    shop.hands = 2;
    shop.calendar.days = vec![Day {
        open: clock(8, 0),
        close: clock(17, 0),
        breaks: Vec::new(),
        stays: false,
    }];
    let sink = add_station(&mut shop, "sink", 2);
    let bench = add_station(&mut shop, "bench", 1);
    push_step(&mut shop, "degrease", sink, Hands::None, 5.0, (0.0, 0.0));
    let step = push_step(&mut shop, "blast", bench, Hands::Throughout, 50.0, (0.0, 0.0));
    shop.routes[0].steps[step].within = Some(Span::minutes(10.0));
    add_order(&mut shop, "A", 10, clock(8, 0), 600.0);
    add_order(&mut shop, "B", 10, clock(8, 0), 600.0);
    let (record, _) = run(&shop);
    let by: Vec<Breach> = record
        .entries
        .iter()
        .filter_map(|e| {
            if let LogEntry::Breaks { what, .. } = e.event {
                Some(what)
            } else {
                None
            }
        })
        .collect();
    assert_eq!(
        by,
        [Breach::WaitedTooLong {
            by: Span::whole_minutes(40)
        }]
    );
}

/// Two steps in either order: the bench is busy with A from 08:00, so B takes the wash first, and each is done once.
#[test]
fn steps_in_either_order_take_what_is_free() {
    let mut shop = empty_shop();
    shop.calendar.days = vec![Day {
        open: clock(8, 0),
        close: clock(17, 0),
        breaks: Vec::new(),
        stays: false,
    }];
    let bench = add_station(&mut shop, "bench", 1);
    let wash = add_station(&mut shop, "wash", 1);
    push_step(&mut shop, "deburr", bench, Hands::None, 20.0, (0.0, 0.0));
    let second = push_step(&mut shop, "wash", wash, Hands::None, 20.0, (0.0, 0.0));
    shop.routes[0].steps[second].after.clear();
    add_order(&mut shop, "A", 1, clock(8, 0), 600.0);
    add_order(&mut shop, "B", 1, clock(8, 0), 600.0);
    let (record, _) = run(&shop);
    assert_eq!(ready_times(&record), ["08:40", "08:40"]);
    assert_eq!(count(&record, |e| matches!(e, LogEntry::SetIn { .. })), 4);
}

/// When hands take something for the first time after a step that goes on by itself for so long.
fn first_hands(arrives: &str, alone: &str) -> String {
    let text = format!(
        "tankday: 1
shop: {{hands: 1}}
days: [{{date: 2026-03-02, open: 08:00, close: 17:00, repeat: 2}}]
stations: [{{name: tub, loads: 2}}, {{name: bench, loads: 2}}]
parts: {{chuck: {{material: plain steel, mass: 180 g, area: 95 cm2}}}}
routes: {{way: [{{do: soak, at: tub, for: {alone}, hands: none}}, {{do: wipe, at: bench, for: 5 min, hands: throughout, within: 5 min}}]}}
orders: [{{id: A1, part: chuck, count: 1, route: way, arrives: {arrives}}}]
"
    );
    let shop = tankday::scenario::read("night", &text)
        .unwrap_or_else(|f| panic!("{}", f.render(false)))
        .shop;
    let mut record = tankday::record::Record::default();
    tankday::line::Line::new(&shop).run(None, &mut record);
    crate::audited::assert_sound(&shop, &record);
    let takes = |e: &&tankday::record::Entry| matches!(e.event, tankday::record::LogEntry::HandsTake { .. });
    let at = record.entries.iter().find(takes).map(|e| e.at).unwrap();
    format!("{} {}", shop.calendar.date(at), at.clock())
}

/// What cannot wait keeps somebody after closing, but fetches nobody in the night or before the first opening.
#[test]
fn nobody_comes_in_the_night() {
    assert_eq!(first_hands("00:30", "30 min"), "2026-03-02 08:00");
    assert_eq!(first_hands("16:00", "2 h"), "2026-03-02 18:00");
    assert_eq!(first_hands("16:00", "8 h"), "2026-03-03 08:00");
}
