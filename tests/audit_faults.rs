//! Sound records pass the audit; each kind of fault, put into a sound record, is found.

use crate::small_shop::{OIL, TANK, at, min, shop};
use tankday::audit::{FaultKind, check};
use tankday::line::Line;
use tankday::record::*;
use tankday::shop::*;
use tankday::units::*;

/// The small shop's day as the line runs it: A1 and A2 by themselves, one pair of hands, the second failing nothing.
pub(crate) fn day() -> (Shop, Record) {
    let mut shop = shop();
    shop.rules.combine = Combine::Never;
    shop.routes[0].steps[4].retry = None;
    (shop.clone(), run(&shop))
}

fn run(shop: &Shop) -> Record {
    let mut record = Record::default();
    Line::new(shop).run(None, &mut record);
    record
}

/// What the audit says of the day after a change.
fn said(change: impl Fn(&mut Vec<Entry>)) -> Vec<FaultKind> {
    let (shop, mut record) = day();
    let before = record.clone();
    change(&mut record.entries);
    assert_ne!(record, before, "the change changes nothing");
    check(&shop, &record).into_iter().map(|f| f.kind).collect()
}

/// The place of the first event that is so.
fn first(entries: &[Entry], is: impl Fn(&LogEntry) -> bool) -> usize {
    entries
        .iter()
        .position(|e| is(&e.event))
        .expect("there is such an event")
}

/// Asserts that a change is found, and found as this.
pub(crate) fn found(kind: FaultKind, change: impl Fn(&mut Vec<Entry>)) {
    let kinds = said(change);
    assert!(kinds.contains(&kind), "{kind:?} is not among {kinds:?}");
}

#[test]
fn the_day_as_it_was_passes() {
    let (shop, record) = day();
    crate::audited::assert_sound(&shop, &record);
    assert!(record.entries.len() > 100);
}

#[test]
fn dropping_any_event_that_matters_is_found() {
    let (shop, record) = day();
    for i in 0..record.entries.len() {
        let mut cut = record.clone();
        let entry = cut.entries.remove(i);
        let harmless = matches!(
            entry.event,
            LogEntry::Bath { .. } | LogEntry::InBand { .. } | LogEntry::LeftAlone { .. }
        );
        assert!(
            harmless || !check(&shop, &cut).is_empty(),
            "dropping {entry:?} is not found"
        );
    }
}

#[test]
fn doubling_any_event_that_matters_is_found() {
    let (shop, record) = day();
    for i in 0..record.entries.len() {
        let mut more = record.clone();
        let entry = more.entries[i].clone();
        more.entries.insert(i, entry.clone());
        let harmless = matches!(
            entry.event,
            LogEntry::Bath { .. } | LogEntry::InBand { .. } | LogEntry::LeftAlone { .. }
        );
        assert!(
            harmless || !check(&shop, &more).is_empty(),
            "doubling {entry:?} is not found"
        );
    }
}

#[test]
fn moving_any_event_in_time_is_found() {
    let (shop, record) = day();
    let last = record.entries.len() - 1;
    for i in 1..last {
        let mut moved = record.clone();
        let next = moved.entries[i + 1].at;
        let by = Span::micros(((next - moved.entries[i].at).in_micros() / 2).min(30_000_000));
        if by == Span::ZERO {
            continue;
        }
        moved.entries[i].at = moved.entries[i].at + by;
        let entry = &moved.entries[i];
        let harmless = matches!(
            entry.event,
            LogEntry::Bath { .. } | LogEntry::InBand { .. } | LogEntry::LeftAlone { .. }
        );
        assert!(
            harmless || !check(&shop, &moved).is_empty(),
            "moving {entry:?} by {by:?} is not found"
        );
    }
}

#[test]
fn time_that_runs_back() {
    found(FaultKind::Time, |e| e[20].at = at(6, 0));
}

#[test]
fn what_does_not_exist() {
    let step = StepRef {
        route: RouteId(0),
        step: StepIx(0),
    };
    found(FaultKind::Unknown, |e| {
        e[20].event = LogEntry::Waits {
            load: LoadNo(77),
            step,
        }
    });
    found(FaultKind::Unknown, |e| {
        e[20].event = LogEntry::HandsFree { hand: 1 }
    });
    found(FaultKind::Unknown, |e| {
        e[20].event = LogEntry::InBand { tank: OIL }
    });
    let step = StepRef {
        route: RouteId(1),
        step: StepIx(0),
    };
    found(FaultKind::Unknown, |e| {
        e[20].event = LogEntry::Waits {
            load: LoadNo(0),
            step,
        }
    });
}

#[test]
fn pieces_that_vanish_or_come_from_nowhere() {
    found(FaultKind::Pieces, |e| {
        let i = first(e, |e| matches!(e, LogEntry::LoadMade { .. }));
        if let LogEntry::LoadMade { pieces, .. } = &mut e[i].event {
            *pieces -= 1;
        }
    });
    found(FaultKind::Pieces, |e| {
        let i = first(e, |e| matches!(e, LogEntry::OrderArrives { .. }));
        if let LogEntry::OrderArrives { pieces, .. } = &mut e[i].event {
            *pieces += 1;
        }
    });
    found(FaultKind::Pieces, |e| {
        e.retain(|e| !matches!(e.event, LogEntry::OrderReady { .. }))
    });
}

#[test]
fn hours_that_are_not_those_of_the_calendar() {
    found(FaultKind::Hours, |e| {
        e.retain(|e| e.event != LogEntry::BreakBegins)
    });
    found(FaultKind::Hours, |e| {
        let i = first(e, |e| *e == LogEntry::Opens);
        e[i].event = LogEntry::Closes;
    });
}

#[test]
fn hands_that_work_in_the_break() {
    let (mut shop, record) = day();
    let busy = record
        .entries
        .iter()
        .find(|e| matches!(e.event, LogEntry::HandsTake { .. }))
        .unwrap()
        .at;
    let pause = tankday::shop::Break {
        from: busy,
        until: busy + min(1),
        stays: true,
    };
    shop.calendar.days[0].breaks.insert(0, pause);
    let kinds: Vec<FaultKind> = check(&shop, &record).into_iter().map(|f| f.kind).collect();
    assert_eq!(
        kinds,
        [FaultKind::Hours; 3],
        "both marks are missing, and somebody works"
    );
}

#[test]
fn a_step_out_of_order_or_left_out() {
    let blast = StepRef {
        route: RouteId(0),
        step: StepIx(0),
    };
    let renamed = |e: &mut Vec<Entry>, from: u32, to: u32| {
        for entry in e {
            if let LogEntry::Waits { step, .. } | LogEntry::SetIn { step, .. } = &mut entry.event
                && step.step == StepIx(from)
            {
                step.step = StepIx(to);
            }
        }
    };
    found(FaultKind::Way, |e| renamed(e, 3, 4));
    found(FaultKind::Way, |e| renamed(e, 2, 0));
    found(FaultKind::Way, |e| {
        let i = first(
            e,
            |e| matches!(e, LogEntry::StepDone { step, .. } if *step == blast),
        );
        let ready = Entry {
            at: e[i].at,
            event: LogEntry::LoadReady { load: LoadNo(0) },
        };
        e.insert(i + 1, ready);
    });
    found(FaultKind::Way, |e| {
        let i = first(
            e,
            |e| matches!(e, LogEntry::StepDone { step, .. } if step.step == StepIx(1)),
        );
        let back = LogEntry::Fails {
            load: LoadNo(0),
            step: StepRef {
                step: StepIx(1),
                ..blast
            },
            back_to: blast,
        };
        let fails = Entry {
            at: e[i].at,
            event: back,
        };
        e.insert(i + 1, fails);
    });
}

#[test]
fn work_that_takes_another_time() {
    found(FaultKind::Duration, |e| {
        let i = first(e, |e| matches!(e, LogEntry::WorkBegins { .. }));
        if let LogEntry::WorkBegins { planned, .. } = &mut e[i].event {
            *planned += min(1);
        }
    });
    found(FaultKind::Duration, |e| {
        let i = first(e, |e| matches!(e, LogEntry::WorkBegins { most: Some(_), .. }));
        if let LogEntry::WorkBegins { most, .. } = &mut e[i].event {
            *most = None;
        }
    });
}

#[test]
fn a_station_with_too_many_loads() {
    let (mut shop, record) = day();
    assert!(
        record
            .entries
            .iter()
            .any(|e| matches!(e.event, LogEntry::SetIn { station: OIL, .. }))
    );
    shop.stations[3].places = 0;
    let kinds: Vec<FaultKind> = check(&shop, &record).into_iter().map(|f| f.kind).collect();
    assert!(
        kinds.len() >= 2 && kinds.iter().all(|k| *k == FaultKind::Places),
        "{kinds:?}"
    );
}

#[test]
fn a_load_too_large_for_its_tank() {
    let (mut shop, record) = day();
    for (grams, area, bulk) in [(1e4, 1.0, 0.1), (1.0, 1e5, 0.1), (1.0, 1.0, 1e4)] {
        shop.parts[0].mass = Mass::grams(grams);
        shop.parts[0].area = Area::square_centimetres(area);
        shop.parts[0].bulk = Volume::millilitres(bulk);
        assert!(check(&shop, &record).iter().any(|f| f.kind == FaultKind::Room));
    }
}

#[test]
fn hands_in_two_places_and_work_without_hands() {
    found(FaultKind::Hands, |e| {
        let i = first(e, |e| matches!(e, LogEntry::HandsTake { .. }));
        let again = e[i].clone();
        e.insert(i, again);
    });
    found(FaultKind::Hands, |e| {
        let i = first(e, |e| matches!(e, LogEntry::HandsTake { .. }));
        let j = first(e, |e| matches!(e, LogEntry::HandsFree { .. }));
        e.remove(j);
        e.remove(i);
    });
    found(FaultKind::Hands, |e| {
        let i = first(e, |e| matches!(e, LogEntry::HandsTake { .. }));
        if let LogEntry::HandsTake { task, .. } = &mut e[i].event {
            task.station = TANK;
        }
    });
}

#[test]
fn limits_broken_in_silence_or_reported_for_nothing() {
    let coat = StepRef {
        route: RouteId(0),
        step: StepIx(1),
    };
    found(FaultKind::Limit, |e| {
        let i = first(e, |e| matches!(e, LogEntry::LiftBegins { station: TANK, .. }));
        let what = Breach::StayedTooLong { by: min(1) };
        let report = Entry {
            at: e[i].at,
            event: LogEntry::Breaks {
                load: LoadNo(0),
                step: coat,
                what,
            },
        };
        e.insert(i + 1, report);
    });
    let (mut shop, record) = day();
    shop.routes[0].steps[1].within = Some(min(1));
    let faults = check(&shop, &record);
    assert!(
        faults.iter().any(|f| f.kind == FaultKind::Limit),
        "blasted at once, coated when the bath was hot"
    );
    assert!(faults.iter().all(|f| f.kind == FaultKind::Limit), "{faults:?}");
}

#[test]
fn a_record_cut_short() {
    let (shop, record) = day();
    for share in [30, 50, 70] {
        let entries = record.entries[..record.entries.len() * share / 100].to_vec();
        assert!(
            !check(&shop, &Record { entries }).is_empty(),
            "cut after {share} %"
        );
    }
    assert!(!check(&shop, &Record::default()).is_empty(), "an empty record");
}
