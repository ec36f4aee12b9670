use super::{Cause, Chain};
use crate::made::{CABINET, Written, at, min, shop, two_loads};
use crate::{LogEntry, Record};
use tankday_base::units::Span;

fn minutes(chain: &Chain) -> Vec<(Cause, i64)> {
    chain
        .causes()
        .into_iter()
        .map(|(c, s)| (c, s.in_micros() / 60_000_000))
        .collect()
}

fn blast() -> Cause {
    Cause::Work("blast".into())
}

/// Back from 08:49: oiled since 08:46, taken out since 08:45, dwell since 08:33, put in since 08:32; it had to wait for
/// the hands, which oiled A1 from 08:29; A1 was taken out since 08:28, dwell since 08:16, put in since 08:15, when the
/// bath was hot that heats since 07:30. Sums: heat-up 45, dwell 24, oil 6, in and out 4; 79 in all.
#[test]
fn two_loads_by_hand() {
    let chain = Chain::of(&shop(), &two_loads()).unwrap();
    assert_eq!(chain.span(), min(79));
    let expected = [
        (Cause::HeatUp, 45),
        (Cause::Dwell, 24),
        (Cause::Work("oil".into()), 6),
        (Cause::PutInTakeOut, 4),
    ];
    let mut found = minutes(&chain);
    found.sort_by_key(|(_, m)| -m);
    assert_eq!(found, expected);
    pieces_touch(&chain);
}

fn pieces_touch(chain: &Chain) {
    let mut at = chain.from;
    for piece in &chain.pieces {
        assert_eq!(piece.from, at);
        assert!(piece.to > piece.from);
        at = piece.to;
    }
    assert_eq!(at, chain.to);
    let sum: Span = chain.causes().iter().map(|(_, s)| *s).sum();
    assert_eq!(sum, chain.span());
}

/// Only blasting, by one pair of hands, across the break: 11:50 to 12:10 of work would end at 12:40 with half an hour of
/// break inside.
fn across_the_break() -> Record {
    let mut day = Written::default();
    day.note(at(7, 30), LogEntry::Opens);
    day.comes(0, 16);
    day.work(0, 0, CABINET, at(11, 50), at(12, 40));
    let load = crate::LoadNo(0);
    let done = day.0.entries.len() - 5;
    let pause = |at, event| crate::Entry { at, event };
    day.0
        .entries
        .insert(done, pause(at(12, 0), LogEntry::WorkPauses { load }));
    day.0
        .entries
        .insert(done + 1, pause(at(12, 30), LogEntry::WorkResumes { load }));
    day.ready(0, at(12, 40));
    day.0
}

#[test]
fn a_break_has_its_own_minutes() {
    let chain = Chain::of(&shop(), &across_the_break()).unwrap();
    pieces_touch(&chain);
    let found = minutes(&chain);
    assert!(found.contains(&(Cause::Break, 30)), "{found:?}");
    assert!(found.contains(&(blast(), 20)), "{found:?}");
    assert_eq!(chain.span(), min(310));
}

#[test]
fn an_order_that_comes_late_is_waited_for() {
    let mut day = Written::default();
    day.note(at(7, 30), LogEntry::Opens);
    let order = crate::OrderNo(0);
    let load = crate::LoadNo(0);
    let source = tankday_base::shop::OrderId(0);
    day.note(
        at(9, 0),
        LogEntry::OrderArrives {
            order,
            source,
            nth: 1,
            pieces: 16,
        },
    );
    day.note(
        at(9, 0),
        LogEntry::LoadMade {
            load,
            order,
            pieces: 16,
        },
    );
    day.waits(0, 0, at(9, 0));
    day.work(0, 0, CABINET, at(9, 0), at(9, 20));
    day.ready(0, at(9, 20));
    let chain = Chain::of(&shop(), &day.0).unwrap();
    assert_eq!(minutes(&chain), [(Cause::NotThere, 90), (blast(), 20)]);
}

#[test]
fn an_empty_or_broken_record_sets_nothing() {
    assert_eq!(Chain::of(&shop(), &Record::default()), None);
    let mut turned = two_loads();
    turned.entries.reverse();
    if let Some(chain) = Chain::of(&shop(), &turned) {
        pieces_touch(&chain);
    }
    for skip in 0..two_loads().entries.len() {
        let mut holed = two_loads();
        holed.entries.remove(skip);
        if let Some(chain) = Chain::of(&shop(), &holed) {
            pieces_touch(&chain);
        }
    }
}
