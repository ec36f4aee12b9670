//! What is done and lies wet or bare waits from then on, whether somebody has taken it out or not; hands are kept free for it.

use crate::line_warned::{read, run};
use tankday::record::{Breach, Figures, LogEntry, Record};
use tankday::shop::Shop;
use tankday::units::{Moment, Span};

/// Two loads of jaws, and a long job under hands that comes in between.
fn shop(drying: &str, comes: &str, rules: &str) -> Shop {
    read(&format!(
        "tankday: 1
shop: {{hands: 1}}
days: [{{date: 2026-03-05, open: 08:00, close: 17:00}}]
baths: {{manganese: {{}}}}
tanks: [{{name: pot, bath: manganese, inside: round 26 cm x 35 cm, fill: 12 L, heater: {{power: 2 kW}}}}]
stations: [{{name: bench, loads: 2}}, {{name: sink, loads: 1}}, {{name: rack, loads: 4}}, {{name: oil tray, loads: 4}}]
parts:
  jaw: {{material: plain steel, mass: 300 g, area: 1.2 dm2}}
  nut: {{material: plain steel, mass: 30 g, area: 0.2 dm2}}
routes:
  black:
    - {{do: degrease, at: bench, for: 5 min, hands: ends}}
    - {{do: coat, in: manganese}}
    - {{do: rinse, at: sink, for: 2 min, hands: throughout}}
    - {{{drying}, for: 15 min, hands: ends, within: 3 h}}
    - {{do: oil, at: oil tray, for: 10 min, hands: ends, within: 20 min}}
  clean:
    - {{do: brush, at: bench, for: 50 min, hands: throughout}}
orders:
  - {{id: A1, part: jaw, count: 10, route: black, due: 16:00}}
  - {{id: A2, part: jaw, count: 10, route: black, due: 16:00}}
  - {{id: B1, part: nut, count: 40, route: clean, arrives: {comes}, due: 10:00}}
rules: {{combine: never{rules}}}
"
    ))
}

const RACK: &str = "do: dry by air, at: rack";

/// For each load how long after the end of its drying it went into the oil.
fn bare(record: &Record) -> Vec<Span> {
    let of = |load: u32| {
        let own = |e: &&tankday::record::Entry, step: u32| match &e.event {
            LogEntry::WorkEnds { load: l, step: s, .. } => l.0 == load && s.step.0 == step && step == 3,
            LogEntry::SetIn { load: l, step: s, .. } => l.0 == load && s.step.0 == step && step == 4,
            _ => false,
        };
        let at = |step| record.entries.iter().find(|e| own(e, step)).map(|e| e.at);
        Some(at(4)? - at(3)?)
    };
    (0..2).filter_map(of).collect()
}

fn too_long(record: &Record) -> Vec<(Moment, Span)> {
    let of = |e: &tankday::record::Entry| match e.event {
        LogEntry::Breaks {
            what: Breach::WaitedTooLong { by },
            ..
        } => Some((e.at, by)),
        _ => None,
    };
    record.entries.iter().filter_map(of).collect()
}

/// A job of 50 min was begun one minute after a load had dried, or while it stood ready to be oiled.
#[test]
fn no_long_job_is_begun_beside_work_that_would_lie_bare_too_long() {
    for minute in 30..90 {
        let comes = format!("{:02}:{:02}", 8 + minute / 60, minute % 60);
        let (record, _) = run(&shop(RACK, &comes, ""));
        assert_eq!(too_long(&record), [], "{comes}");
        let waits = bare(&record);
        assert_eq!(waits.len(), 2, "{comes}");
        assert!(
            waits.iter().all(|w| *w <= Span::whole_minutes(20)),
            "{comes}: {waits:?}"
        );
    }
}

/// Where nobody looks ahead, what lay on the rack for so long was not said: its wait began when it was taken off.
#[test]
fn what_lies_on_a_rack_waits_since_it_was_dry() {
    let mut said = 0;
    for minute in 30..90 {
        let comes = format!("{:02}:{:02}", 8 + minute / 60, minute % 60);
        let shop = shop(RACK, &comes, ", look ahead: no");
        let (record, figures) = run(&shop);
        let take_out = shop.routes[0].steps[3].take_out;
        let over: Vec<Span> = bare(&record)
            .into_iter()
            .map(|w| w - take_out - Span::whole_minutes(20))
            .filter(|by| *by > Span::ZERO)
            .collect();
        let told: Vec<Span> = too_long(&record).into_iter().map(|t| t.1).collect();
        assert_eq!(told, over, "{comes}");
        assert_eq!(lies_bare(&figures), over.len());
        said += over.len();
    }
    assert!(said > 20, "{said}");
}

fn lies_bare(figures: &Figures) -> usize {
    figures.waited.iter().filter(|w| w.bare.is_some()).count()
}

/// What keeps rust away does not run on: an oven that is still warm, a stay that the route allows, an hour in a cleaner.
#[test]
fn what_keeps_rust_away_does_not_wait_inside() {
    for drying in [
        "do: dry by oven, at: rack",
        "do: seal, at: rack",
        "do: dry by air, at: rack, at most: 3 h",
    ] {
        for minute in [50, 55, 60, 65] {
            let comes = format!("{:02}:{:02}", 8 + minute / 60, minute % 60);
            let (record, _) = run(&shop(drying, &comes, ", look ahead: no"));
            let since_out = |e: &&tankday::record::Entry| matches!(&e.event, LogEntry::StepDone { step, .. } if step.step.0 == 3);
            assert!(record.entries.iter().any(|e| since_out(&e)));
            for (at, by) in too_long(&record) {
                let out = record
                    .entries
                    .iter()
                    .filter(since_out)
                    .map(|e| e.at)
                    .filter(|o| *o <= at);
                assert!(out.max().is_some_and(|o| at - o > by), "{drying}, {comes}");
            }
        }
    }
}

/// A job of 50 min was begun a few minutes before the bath took what stood stripped beside it.
#[test]
fn no_long_job_is_begun_beside_stripped_work_whose_bath_is_soon_free() {
    for minute in 10..70 {
        let comes = format!("{:02}:{:02}", 8 + minute / 60, minute % 60);
        let text = "do: seal, at: sink";
        let mut shop = shop(text, &comes, "");
        shop.routes[0].steps[1].within = Some(Span::whole_minutes(25));
        let (record, _) = run(&shop);
        assert_eq!(too_long(&record), [], "{comes}");
        let begun = record
            .entries
            .iter()
            .any(|e| matches!(&e.event, LogEntry::SetIn { step, .. } if step.route.0 == 1));
        assert!(begun, "{comes}");
    }
}

/// Ordinary shops of `tests/data/bare`, drawn at random, and how many of their orders are ready at least.
const ORDINARY: [(u32, usize); 12] = [
    (6, 8),
    (8, 10),
    (10, 4),
    (12, 7),
    (16, 7),
    (33, 11),
    (39, 4),
    (45, 8),
    (49, 6),
    (51, 8),
    (88, 7),
    (281, 9),
];

/// Each of them once left stripped work before its bath for hours, or coated work before its rinse, for want of looking ahead to
/// the end of care, to closing, to what stands in the queue and in the sink; or did nothing all day, since each degreased load
/// waited for the places that all others would take.
#[test]
fn by_rules_ordinary_shops_get_on_and_leave_no_work_bare() {
    for (shop, ready) in ORDINARY {
        let text = std::fs::read_to_string(format!("tests/data/bare/shop-{shop}.yaml")).unwrap();
        let (record, figures) = run(&read(&text));
        // What cannot be in its bath in time waits before it is stripped, degreased as it is.
        let stripped = |e: &&tankday::record::Entry| matches!(&e.event, LogEntry::Breaks { step, .. } if step.step.0 > 1);
        let bare: Vec<_> = record.entries.iter().filter(stripped).collect();
        assert!(bare.is_empty(), "{shop}: {bare:?}");
        let done = figures.orders.iter().filter(|o| o.ready.is_some()).count();
        assert!(done >= ready, "{shop}: {done}");
    }
}

/// Two loads lie bare for one pair of hands, each for longer than the other may wait: neither keeps the hands from the other.
#[test]
fn hands_are_not_idle_between_two_loads_that_both_lie_bare() {
    for (within, takes) in [(30, 27), (30, 29), (20, 18), (45, 44)] {
        let shop = read(&format!(
            "tankday: 1
shop: {{hands: 1}}
days: [{{date: 2026-03-02, open: 08:00, close: 17:00}}]
tanks:
  - {{name: pot, bath: manganese, inside: 35 cm x 25 cm x 35 cm, fill: 20 L, heater: {{power: 3 kW}}}}
  - {{name: tub, bath: manganese, inside: 35 cm x 25 cm x 35 cm, fill: 20 L, heater: {{power: 3 kW}}}}
baths: {{manganese: {{coat: {{time: 20 min}}}}}}
stations: [{{name: bench, loads: 4}}]
parts: {{chuck: {{mass: 180 g, area: 95 cm2}}}}
routes:
  way:
    - {{do: degrease, at: bench, for: 2 min}}
    - {{do: coat, in: manganese}}
    - {{do: rinse, at: bench, for: 1 min, at once: yes}}
    - {{do: burnish, kind: rest, at: bench, for: {takes} min, hands: throughout, within: {within} min, after: rinse}}
    - {{do: oil, at: bench, for: 5 min}}
orders:
  - {{id: A, part: chuck, count: 20, route: way}}
  - {{id: B, part: chuck, count: 20, route: way}}
rules: {{combine: never}}
"
        ));
        let (record, figures) = run(&shop);
        let work = |e: &&tankday::record::Entry| matches!(&e.event, LogEntry::SetIn { step, .. } if step.step.0 == 3);
        let begun: Vec<_> = record.entries.iter().filter(work).map(|e| e.at).collect();
        assert_eq!(begun.len(), 2);
        let out = figures.loads.iter().filter_map(|l| l.out).min().unwrap();
        assert!(
            begun[0] - out <= Span::whole_minutes(10),
            "{within}: {out:?} {begun:?}"
        );
    }
}

/// Loads that stand stripped before a hot and empty bath, each to go in at once, do not keep each other out of it.
#[test]
fn loads_before_an_empty_bath_do_not_keep_each_other_out() {
    for (kilowatts, count) in [("1", 90), ("1.2", 90), ("2", 70), ("3", 90)] {
        let shop = read(&format!(
            "tankday: 1
shop: {{hands: 1}}
days: [{{date: 2026-03-11, open: 08:00, close: 16:30, breaks: [10:00 to 10:15, 12:00 to 12:30]}}]
baths: {{mn: {{coat: {{target: 15 g/m2}}, growth: {{time constant: 6 min}}}}}}
tanks: [{{name: tub, bath: mn, inside: 40 cm x 25 cm x 35 cm, fill: 25 L, lid: loose, heater: {{power: {kilowatts} kW}}}}]
stations: [{{name: sink}}, {{name: bench}}, {{name: rinse}}, {{name: oil, loads: 3}}]
parts: {{hinge: {{material: plain steel, mass: 90 g, area: 1.3 dm2, held: wire}}}}
routes:
  brushed:
    - {{do: degrease, at: sink, for: 10 min}}
    - {{do: brush, at: bench, for: 2 min, each piece: 15 s, hands: throughout}}
    - {{do: coat, in: mn, within: 15 min}}
    - {{do: rinse, at: rinse, for: 1 min, hands: throughout, within: 1 min}}
    - {{do: dry, at: bench, for: 5 min}}
    - {{do: oil, at: oil, for: 20 min}}
orders: [{{id: h, part: hinge, count: {count}, route: brushed, due: 15:00}}]
"
        ));
        let (_, figures) = run(&shop);
        let (first, second) = (&figures.loads[0], &figures.loads[1]);
        let empty = second.set_in - first.out.unwrap();
        assert!(empty < Span::whole_minutes(30), "{kilowatts}: {empty:?}");
    }
}
