//! What orders and loads are called in print.

use crate::made_shop::{BENCH, TANK, clock, order, shop};
use tankday::record::{Labels, LoadNo, LogEntry, Observer, OrderNo, Record};
use tankday::shop::{Arrival, OrderId, StationId, StepRef};
use tankday::units::Span;

fn arrives(order: u32, source: u32, nth: u32) -> LogEntry {
    LogEntry::OrderArrives {
        order: OrderNo(order),
        source: OrderId(source),
        nth,
        pieces: 100,
    }
}

fn made(load: u32, order: u32) -> LogEntry {
    LogEntry::LoadMade {
        load: LoadNo(load),
        order: OrderNo(order),
        pieces: 50,
    }
}

/// Set in at this minute after eight, and work begins two minutes later.
fn set_in(record: &mut Record, load: u32, station: StationId, minute: i64) {
    let (load, step) = (LoadNo(load), StepRef::default());
    record.note(clock(0, 8, minute), LogEntry::SetIn { load, step, station });
    let begins = LogEntry::WorkBegins {
        load,
        step,
        station,
        planned: Span::whole_minutes(18),
        most: None,
    };
    record.note(clock(0, 8, minute + 2), begins);
}

fn joins(load: u32, into: u32) -> LogEntry {
    LogEntry::Joins {
        load: LoadNo(load),
        into: LoadNo(into),
    }
}

/// A2 in two lots, and the 17th of a stream; lot 2 joins lot 0 in the tank, lot 1 is charged after them.
fn labels() -> Labels {
    let mut walk_in = order("walk-in");
    walk_in.arrival = Arrival::Every {
        gap: tankday::random::Spread::Fixed(Span::whole_minutes(10)),
        from: clock(0, 7, 30),
        until: clock(0, 17, 0),
        most: 40,
        only: Vec::new(),
        fewest: 1,
    };
    let shop = shop(1, 1, vec![order("A2"), walk_in]);
    let mut record = Record::default();
    for event in [
        arrives(0, 0, 1),
        made(0, 0),
        made(1, 0),
        arrives(1, 1, 17),
        made(2, 1),
    ] {
        record.note(clock(0, 7, 30), event);
    }
    set_in(&mut record, 1, BENCH, 10);
    record.note(clock(0, 8, 20), joins(2, 0));
    set_in(&mut record, 0, TANK, 20);
    set_in(&mut record, 1, TANK, 50);
    set_in(&mut record, 0, TANK, 90);
    Labels::of(&shop, &record)
}

#[test]
fn orders_are_called_as_written_and_those_of_a_stream_are_counted() {
    let labels = labels();
    assert_eq!(labels.order(OrderNo(0)), "A2");
    assert_eq!(labels.order(OrderNo(1)), "walk-in 17");
    assert_eq!(labels.order(OrderNo(2)), "?");
}

#[test]
fn lots_are_called_by_their_order_and_tank_loads_by_their_label() {
    let labels = labels();
    let lots = [0, 1, 2, 3].map(|n| labels.lot(LoadNo(n)).to_owned());
    assert_eq!(lots, ["A2, 1 of 2", "A2, 2 of 2", "walk-in 17", "?"]);
    let loads = [0, 1, 2, 3].map(|n| labels.load(LoadNo(n)).to_owned());
    assert_eq!(loads, ["L1", "L2", "L1", "?"]);
    assert_eq!(labels.at(LoadNo(2), clock(0, 8, 19)), "walk-in 17");
    assert_eq!(labels.at(LoadNo(2), clock(0, 8, 20)), "L1");
    assert_eq!(labels.at(LoadNo(2), clock(0, 9, 30)), "L3", "charged again");
    assert_eq!(labels.charged(LoadNo(1)), Some(clock(0, 8, 50)));
}

#[test]
fn a_joined_lot_is_found_in_the_load_that_holds_it() {
    let labels = labels();
    assert_eq!(labels.holder(LoadNo(2)), LoadNo(0));
    assert_eq!(labels.order_of(LoadNo(2)), Some(OrderNo(1)));
}
