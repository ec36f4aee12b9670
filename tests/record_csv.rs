//! A record written as text comes back without loss, and a text that does not fit the shop is refused.

use crate::kept_cases::keeping;
use crate::random_events::{any_span, bath_event, load_event, order_event};
use crate::small_shop::{BENCH, TANK, at, min, shop};
use proptest::prelude::*;
use tankday::record::*;
use tankday::shop::{BathId, OrderId, RouteId, Shop, StationId, StepIx, StepRef, Vessel};
use tankday::units::*;

fn with_vessel() -> Shop {
    let mut shop = shop();
    shop.vessels.push(Vessel {
        name: "jug".into(),
        bath: BathId(0),
        holds: Volume::litres(25.0),
        filtered: Volume::litres(20.0),
    });
    shop
}

proptest! {
    #![proptest_config(keeping(256))]

    #[test]
    fn every_event_comes_back_as_it_was(
        entries in prop::collection::vec(
            (any_span(), prop_oneof![order_event(), load_event(), bath_event()]), 0..60)
    ) {
        let entries = entries.into_iter().map(|(s, event)| Entry { at: Moment::ZERO + s, event }).collect();
        let record = Record { entries };
        let shop = with_vessel();
        let text = to_csv(&shop, &record);
        let back = from_csv(&shop, &text);
        prop_assert_eq!(back.as_ref(), Ok(&record));
        prop_assert_eq!(to_csv(&shop, &back.unwrap()), text);
    }
}

fn short_record() -> Record {
    let step = StepRef {
        route: RouteId(0),
        step: StepIx(1),
    };
    let load = LoadNo(0);
    let events = vec![
        LogEntry::Opens,
        LogEntry::OrderArrives {
            order: OrderNo(0),
            source: OrderId(1),
            nth: 1,
            pieces: 12,
        },
        LogEntry::LoadMade {
            load,
            order: OrderNo(0),
            pieces: 12,
        },
        LogEntry::Waits { load, step },
        LogEntry::SetIn {
            load,
            step,
            station: TANK,
        },
    ];
    let entries = events.into_iter().enumerate();
    Record {
        entries: entries
            .map(|(i, event)| Entry {
                at: at(7, 30) + min(i as i64),
                event,
            })
            .collect(),
    }
}

#[test]
fn a_row_reads_as_a_person_would_write_it() {
    let text = to_csv(&shop(), &short_record());
    let lines: Vec<&str> = text.lines().map(|l| l.trim_end_matches(',')).collect();
    assert_eq!(lines[1], "27000000000,2026-03-05T07:30:00,opens");
    assert_eq!(
        lines[2],
        "27060000000,2026-03-05T07:31:00,order arrives,0,A2,1,1,12"
    );
    assert_eq!(
        lines[5],
        "27240000000,2026-03-05T07:34:00,set in,,,,,,0,,0,1,coat,,1,black tank"
    );
}

#[test]
fn the_json_rows_hold_the_same() {
    let rows = to_json(&shop(), &short_record());
    assert_eq!(rows.as_array().map(Vec::len), Some(5));
    assert_eq!(rows[4]["at_us"], 27_240_000_000i64);
    assert_eq!(rows[4]["station_name"], "black tank");
    assert_eq!(rows[4]["load"], 0);
    assert!(rows[4].get("hand").is_none(), "what is empty is left out");
}

/// Reads the short record with one text changed, and gives the refusal.
fn refusal(from: &str, to: &str) -> String {
    let text = to_csv(&shop(), &short_record());
    assert!(text.contains(from), "`{from}` is not in the text");
    from_csv(&shop(), &text.replacen(from, to, 1))
        .unwrap_err()
        .to_string()
}

#[test]
fn what_does_not_fit_is_refused_with_its_place() {
    let station = refusal("1,black tank", "7,black tank");
    assert_eq!(
        station,
        "line 6, column station: the scenario has no such station"
    );
    let name = refusal("1,black tank", "0,black tank");
    assert_eq!(
        name,
        "line 6, column station_name: says `black tank` where the rest of the line means `bench`"
    );
    let clock = refusal("T07:34:00", "T07:35:00");
    assert_eq!(
        clock,
        "line 6, column clock: says `2026-03-05T07:35:00` where the rest of the line means `2026-03-05T07:34:00`"
    );
    assert_eq!(
        refusal("set in", "sat in"),
        "line 6, column event: `sat in` is no event"
    );
    assert_eq!(
        refusal("0,1,coat", "0,9,coat"),
        "line 5, column step: the route has no such step"
    );
    assert_eq!(
        refusal("27240000000,", "x,"),
        "line 6, column at_us: `x` does not belong here"
    );
    assert_eq!(
        refusal("A2,1,1,12", "A2,5,1,12"),
        "line 3, column source: the scenario has no such order"
    );
    assert_eq!(
        refusal("at_us", "at"),
        "line 1, column at_us: the heading `at_us` is expected, not `at`"
    );
}

#[test]
fn a_row_with_something_too_much_is_refused() {
    let text = to_csv(&shop(), &short_record());
    let (head, rest) = text.split_once('\n').unwrap();
    let wrong = format!("{head}\n{}", rest.replacen("opens,,", "opens,3,", 1));
    let error = from_csv(&shop(), &wrong).unwrap_err().to_string();
    assert_eq!(
        error,
        "line 2, column order: says `3` where the rest of the line means ``"
    );
}

#[test]
fn a_number_that_is_none_is_refused() {
    let bath = LogEntry::ToppedUp {
        tank: TANK,
        volume: Volume::litres(0.5),
    };
    let record = Record {
        entries: vec![Entry {
            at: at(9, 0),
            event: bath,
        }],
    };
    let text = to_csv(&shop(), &record);
    assert_eq!(from_csv(&shop(), &text), Ok(record));
    let error = from_csv(&shop(), &text.replace("0.0005", "inf"))
        .unwrap_err()
        .to_string();
    assert_eq!(error, "line 2, column volume_m3: a finite number is expected");
}

#[test]
fn a_name_with_quotes_and_a_comma_survives() {
    let task = Task {
        kind: TaskKind::TopUp,
        station: StationId(2),
        load: None,
        vessel: None,
    };
    let entries = vec![
        Entry {
            at: at(9, 0),
            event: LogEntry::HandsTake { hand: 0, task },
        },
        Entry {
            at: at(9, 1),
            event: LogEntry::InBand { tank: BENCH },
        },
    ];
    let record = Record { entries };
    let text = to_csv(&shop(), &record);
    assert!(text.contains("\"rinse \"\"bucket\"\", left\""));
    assert_eq!(from_csv(&shop(), &text), Ok(record));
}
