use super::{Study, Sure};
use std::sync::atomic::{AtomicI64, Ordering};
use tankday_base::shop::OrderId;
use tankday_base::units::{Moment, Span};
use tankday_record::made::{at, min, shop, two_loads};
use tankday_record::{LogEntry, Record};

/// Days that differ only in when A2 is ready: 08:49 plus 0, 2, 4, ... minutes.
fn later_by(minutes: i64) -> Record {
    let mut record = two_loads();
    for entry in &mut record.entries {
        if entry.at == at(8, 49) {
            entry.at = entry.at + min(minutes);
        }
    }
    record.entries.retain(|e| e.event != LogEntry::Closes);
    record
}

fn study() -> Study {
    let next = AtomicI64::new(0);
    let pool = rayon::ThreadPoolBuilder::new().num_threads(1).build().unwrap();
    pool.install(|| {
        Study::of(&shop(), 1, 10, |_| {
            later_by(2 * (next.fetch_add(1, Ordering::Relaxed) % 10))
        })
    })
}

#[test]
fn chances_are_counted() {
    let study = study();
    let chance = study.chance((OrderId(1), 1));
    // 08:49, 51, 53, 55, 57, 59, 09:01, 03, 05, 07 against 09:00: six in time, the fifth is the usual, the ninth
    // nine in ten.
    assert_eq!((chance.on_time, chance.of), (6, 10));
    assert_eq!(
        (chance.usual, chance.nine_in_ten),
        (Some(at(8, 57)), Some(at(9, 5)))
    );
    assert_eq!(study.end(), (Some(at(8, 57)), Some(at(9, 5))));
    let never = study.chance((OrderId(7), 1));
    assert_eq!((never.usual, never.on_time), (None, 0));
}

#[test]
fn what_is_harmed_is_not_on_time() {
    let order = (OrderId(1), 1);
    let mut study = study();
    // On the first day by its figures, on the next three of the six in time by hand.
    let mut figures = study.figures.clone();
    figures.orders.iter_mut().for_each(|o| o.bare = min(40));
    let first = super::StudyDay::of(&figures, Vec::new());
    assert!(first.bare.contains(&order));
    study.days[0].bare = first.bare;
    for day in &mut study.days[1..3] {
        day.bare.insert(order);
    }
    study.days[3].uncoated.insert(order);
    // And on one on which it is late anyhow.
    study.days[9].bare.insert(order);
    let chance = study.chance(order);
    assert_eq!((chance.on_time, chance.harmed, chance.of), (2, 4, 10));
    assert_eq!((chance.sure(), chance.sure_of_time()), (Sure::Late, Sure::Tight));
}

#[test]
fn the_day_drawn_is_nearest_the_medians() {
    assert_eq!(study().drawn, 4);
    let end = |s: &Study| s.days[s.drawn].end.map(|e| e - Moment::ZERO);
    assert_eq!(end(&study()), Some(Span::whole_minutes(8 * 60 + 57)));
}
