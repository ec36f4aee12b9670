//! A record made by hand passes the audit, and what is wrong is said in plain sentences.

use crate::small_shop::{BENCH, OIL, at, min, shop};
use tankday::audit::{FaultKind, check};
use tankday::record::*;
use tankday::shop::*;

/// Made by hand: one load of 12 chucks; brushed 5 min under hands from 11:58, laid down at noon, taken up at 12:30 for the
/// three minutes left; then oiled by itself for 10 min.
fn by_hand() -> (Shop, Record) {
    let mut shop = shop();
    let brush = Step {
        at_break: AtBreak::Pause,
        ..crate::small_shop::step("brush", BENCH, 5, &[])
    };
    let oil = Step {
        hands: Hands::None,
        ..crate::small_shop::step("oil", OIL, 10, &[0])
    };
    shop.routes = vec![Route {
        name: "brushed".into(),
        steps: vec![brush, oil],
    }];
    shop.stations[1].tank = None;
    shop.orders.remove(0);
    shop.orders[0].arrival = Arrival::At(at(11, 58));
    let (load, order) = (LoadNo(0), OrderNo(0));
    let step = |s| StepRef {
        route: RouteId(0),
        step: StepIx(s),
    };
    let take = LogEntry::HandsTake {
        hand: 0,
        task: Task {
            kind: TaskKind::Work,
            station: BENCH,
            load: Some((load, step(0))),
            vessel: None,
        },
    };
    let free = LogEntry::HandsFree { hand: 0 };
    let begins = |s, station, minutes| LogEntry::WorkBegins {
        load,
        step: step(s),
        station,
        planned: min(minutes),
        most: None,
    };
    let events = vec![
        (at(7, 30), LogEntry::Opens),
        (
            at(11, 58),
            LogEntry::OrderArrives {
                order,
                source: OrderId(0),
                nth: 1,
                pieces: 12,
            },
        ),
        (
            at(11, 58),
            LogEntry::LoadMade {
                load,
                order,
                pieces: 12,
            },
        ),
        (at(11, 58), LogEntry::Waits { load, step: step(0) }),
        (
            at(11, 58),
            LogEntry::SetIn {
                load,
                step: step(0),
                station: BENCH,
            },
        ),
        (at(11, 58), take.clone()),
        (at(11, 58), begins(0, BENCH, 5)),
        (at(12, 0), LogEntry::BreakBegins),
        (at(12, 0), LogEntry::WorkPauses { load }),
        (at(12, 0), free.clone()),
        (at(12, 30), LogEntry::BreakEnds),
        (at(12, 30), take),
        (at(12, 30), LogEntry::WorkResumes { load }),
        (
            at(12, 33),
            LogEntry::WorkEnds {
                load,
                step: step(0),
                station: BENCH,
            },
        ),
        (
            at(12, 33),
            LogEntry::LiftBegins {
                load,
                step: step(0),
                station: BENCH,
            },
        ),
        (at(12, 33), LogEntry::PlaceFree { load, station: BENCH }),
        (
            at(12, 33),
            LogEntry::StepDone {
                load,
                step: step(0),
                station: BENCH,
            },
        ),
        (at(12, 33), free),
        (at(12, 33), LogEntry::Waits { load, step: step(1) }),
        (
            at(12, 33),
            LogEntry::SetIn {
                load,
                step: step(1),
                station: OIL,
            },
        ),
        (at(12, 33), begins(1, OIL, 10)),
        (
            at(12, 43),
            LogEntry::WorkEnds {
                load,
                step: step(1),
                station: OIL,
            },
        ),
        (
            at(12, 43),
            LogEntry::LiftBegins {
                load,
                step: step(1),
                station: OIL,
            },
        ),
        (at(12, 43), LogEntry::PlaceFree { load, station: OIL }),
        (
            at(12, 43),
            LogEntry::StepDone {
                load,
                step: step(1),
                station: OIL,
            },
        ),
        (at(12, 43), LogEntry::LoadReady { load }),
        (at(12, 43), LogEntry::OrderReady { order }),
        (at(17, 0), LogEntry::Closes),
    ];
    let entries = events
        .into_iter()
        .map(|(at, event)| Entry { at, event })
        .collect();
    (shop, Record { entries })
}

#[test]
fn a_record_made_by_hand_passes() {
    let (shop, record) = by_hand();
    assert_eq!(check(&shop, &record), []);
}

#[test]
fn work_that_goes_on_through_the_break_is_found() {
    let (mut shop, record) = by_hand();
    shop.routes[0].steps[0].at_break = AtBreak::FinishFirst;
    assert_eq!(
        check(&shop, &record)[0].kind,
        FaultKind::Hours,
        "laid down though it should be finished"
    );
    shop.routes[0].steps[0].at_break = AtBreak::StartAgain;
    assert_eq!(
        check(&shop, &record)[0].kind,
        FaultKind::Duration,
        "not done again from its beginning"
    );
}

#[test]
fn a_sentence_names_load_order_and_what_is_wrong() {
    let (shop, mut record) = by_hand();
    let work = record.entries.iter_mut().skip(21);
    work.for_each(|e| e.at = e.at.max(at(12, 44)));
    let faults = check(&shop, &record);
    assert_eq!(
        faults[0].text,
        "load 0 (A2) is worked on for 1.000 min more than planned"
    );
    assert_eq!(faults[0].at, at(12, 44));
}
