//! A record written as text comes back without loss, and a text that does not fit the shop is refused.

use crate::small_shop::{BENCH, TANK, at, min, shop};
use proptest::prelude::*;
use tankday::record::*;
use tankday::shop::{BathId, Defect, OrderId, RouteId, Shop, StationId, StepIx, StepRef, Vessel, VesselId};
use tankday::units::*;

fn any_step() -> impl Strategy<Value = StepRef> {
    (0..5u32).prop_map(|step| StepRef {
        route: RouteId(0),
        step: StepIx(step),
    })
}

fn any_span() -> impl Strategy<Value = Span> {
    (-1_000_000_000_000i64..1_000_000_000_000).prop_map(Span::micros)
}

fn finite() -> impl Strategy<Value = f64> {
    prop::num::f64::NORMAL | prop::num::f64::SUBNORMAL | prop::num::f64::ZERO
}

fn any_sample() -> impl Strategy<Value = BathSample> {
    let heater = prop_oneof![
        Just(HeaterState::Off),
        Just(HeaterState::Heating),
        Just(HeaterState::Holding)
    ];
    let values = prop::array::uniform11(finite());
    (values, heater, any::<bool>(), prop::option::of(any_readings())).prop_map(
        |(x, heater, lid, readings)| BathSample {
            temperature: Temperature::celsius(x[0]),
            volume: Volume::from_base(x[1]),
            water: Mass::from_base(x[2]),
            heater,
            lid,
            drawn: Energy::from_base(x[3]),
            heated: Energy::from_base(x[4]),
            lost: Energy::from_base(x[5]),
            carried: Energy::from_base(x[6]),
            to_loads: Energy::from_base(x[7]),
            evaporated: Mass::from_base(x[8]),
            topped_up: Mass::from_base(x[9]),
            dragged_out: Mass::from_base(x[10]),
            readings,
        },
    )
}

fn any_readings() -> impl Strategy<Value = BathReadings> {
    (prop::array::uniform6(finite()), any::<u32>()).prop_map(|(x, uses)| BathReadings {
        total_acid: Strength::from_base(x[0]),
        free_acid: Strength::from_base(x[1]),
        iron: Concentration::from_base(x[2]),
        stirred: Mass::from_base(x[3]),
        settled: Mass::from_base(x[4]),
        area: Area::from_base(x[5]),
        uses,
    })
}

fn any_coated() -> impl Strategy<Value = Coated> {
    (prop::array::uniform5(finite()), any::<bool>()).prop_map(|(x, exhausted)| Coated {
        conversion: x[0],
        coating: Mass::from_base(x[1]),
        metal: Mass::from_base(x[2]),
        hydrogen: Volume::from_base(x[3]),
        dragged_out: Volume::from_base(x[4]),
        exhausted,
    })
}

fn any_care() -> impl Strategy<Value = (CareKind, CareUse)> {
    let kinds = [
        CareKind::Replenish,
        CareKind::RaiseRatio,
        CareKind::LowerRatio,
        CareKind::Condition,
        CareKind::Filter,
        CareKind::Settle,
        CareKind::RenewHalf,
        CareKind::Renew,
        CareKind::Exchange,
    ];
    let used = (prop::array::uniform8(finite()), any::<u32>()).prop_map(|(x, media)| CareUse {
        water: Volume::from_base(x[0]),
        concentrate: Volume::from_base(x[1]),
        chemical: Mass::from_base(x[2]),
        wasted: Volume::from_base(x[3]),
        sludge: Mass::from_base(x[4]),
        hydrogen: Volume::from_base(x[5]),
        media,
        drawn_off: Volume::from_base(x[6]),
        refilled: Volume::from_base(x[7]),
    });
    (prop::sample::select(kinds.to_vec()), used)
}

fn any_task() -> impl Strategy<Value = Task> {
    let kind = prop_oneof![
        Just(TaskKind::PutIn),
        Just(TaskKind::Work),
        Just(TaskKind::TakeOut),
        Just(TaskKind::TopUp),
        Just(TaskKind::Renew),
        Just(TaskKind::AddConcentrate),
        Just(TaskKind::TrimRatio),
        Just(TaskKind::PutWoolIn),
        Just(TaskKind::TakeWoolOut),
        Just(TaskKind::Decant),
        Just(TaskKind::SetUpFilter),
        Just(TaskKind::FillBack),
        Just(TaskKind::MakeUpAnew),
        Just(TaskKind::Exchange),
    ];
    let load = prop::option::of((any::<u32>().prop_map(LoadNo), any_step()));
    (kind, 0..4u32, load).prop_map(|(kind, station, load)| Task {
        kind,
        station: StationId(station),
        load,
    })
}

fn order_event() -> impl Strategy<Value = Event> {
    let number = any::<u32>;
    prop_oneof![
        Just(Event::Opens),
        Just(Event::Closes),
        Just(Event::BreakBegins),
        Just(Event::BreakEnds),
        (number(), 0..2u32, number(), number()).prop_map(|(order, source, nth, pieces)| {
            Event::OrderArrives {
                order: OrderNo(order),
                source: OrderId(source),
                nth,
                pieces,
            }
        }),
        (number(), number(), number()).prop_map(|(load, order, pieces)| Event::LoadMade {
            load: LoadNo(load),
            order: OrderNo(order),
            pieces
        }),
        (number(), number()).prop_map(|(load, into)| Event::Joins {
            load: LoadNo(load),
            into: LoadNo(into)
        }),
        number().prop_map(|order| Event::OrderReady {
            order: OrderNo(order)
        }),
        number().prop_map(|load| Event::LoadReady { load: LoadNo(load) }),
        number().prop_map(|load| Event::WorkPauses { load: LoadNo(load) }),
        number().prop_map(|load| Event::WorkResumes { load: LoadNo(load) }),
        (number(), any_task()).prop_map(|(hand, task)| Event::HandsTake { hand, task }),
        number().prop_map(|hand| Event::HandsFree { hand }),
    ]
}

fn load_event() -> impl Strategy<Value = Event> {
    let here = || {
        (
            any::<u32>().prop_map(LoadNo),
            any_step(),
            (0..4u32).prop_map(StationId),
        )
    };
    prop_oneof![
        here().prop_map(|(load, step, _)| Event::Waits { load, step }),
        here().prop_map(|(load, step, station)| Event::SetIn { load, step, station }),
        (here(), any_span(), prop::option::of(any_span())).prop_map(
            |((load, step, station), planned, most)| {
                Event::WorkBegins {
                    load,
                    step,
                    station,
                    planned,
                    most,
                }
            }
        ),
        here().prop_map(|(load, step, station)| Event::WorkEnds { load, step, station }),
        here().prop_map(|(load, step, station)| Event::LiftBegins { load, step, station }),
        here().prop_map(|(load, _, station)| Event::PlaceFree { load, station }),
        here().prop_map(|(load, step, station)| Event::StepDone { load, step, station }),
        (here(), any_span()).prop_map(|((load, step, _), by)| {
            Event::Breaks {
                load,
                step,
                what: Breach::WaitedTooLong { by },
            }
        }),
        (here(), any_span()).prop_map(|((load, step, _), by)| {
            Event::Breaks {
                load,
                step,
                what: Breach::StayedTooLong { by },
            }
        }),
        (here(), any_step()).prop_map(|((load, step, _), back_to)| Event::Fails { load, step, back_to }),
        (here(), 0.0..1.0f64, 0.0..40.0f64).prop_map(|((load, _, station), litres, points)| {
            Event::Rinsed {
                load,
                station,
                brought: Volume::litres(litres),
                strength: Strength::points(points),
                first: Strength::points(points / 3.0),
                last: Strength::points(points / 7.0),
            }
        }),
        (here(), 0..9usize, 0.0..1.0f64).prop_map(|((load, step, _), defect, chance)| Event::Found {
            load,
            step,
            defect: Defect::ALL[defect],
            chance: Share::fraction(chance),
        }),
        (here(), 0.0..90.0f64).prop_map(|((_, _, station), litres)| Event::Renewed {
            station,
            volume: Volume::litres(litres),
        }),
    ]
}

fn bath_event() -> impl Strategy<Value = Event> {
    let tank = || (0..4u32).prop_map(StationId);
    prop_oneof![
        (tank(), any_sample()).prop_map(|(tank, sample)| Event::Bath {
            tank,
            sample: Box::new(sample)
        }),
        tank().prop_map(|tank| Event::InBand { tank }),
        (any::<u32>(), tank(), any_coated()).prop_map(|(load, tank, coated)| Event::Coated {
            load: LoadNo(load),
            tank,
            coated: Box::new(coated),
        }),
        (tank(), any_care()).prop_map(|(tank, (care, _))| Event::CareBegins { tank, care }),
        (tank(), any_care()).prop_map(|(tank, (care, used))| Event::CareEnds {
            tank,
            care,
            used: Box::new(used),
        }),
        tank().prop_map(|tank| Event::VesselBegins {
            vessel: VesselId(0),
            tank
        }),
        (tank(), any_care()).prop_map(|(tank, (_, used))| Event::VesselEnds {
            vessel: VesselId(0),
            tank,
            used: Box::new(used),
        }),
        (tank(), finite()).prop_map(|(tank, power)| Event::Allowed {
            tank,
            power: Power::from_base(power)
        }),
        (tank(), finite()).prop_map(|(tank, volume)| Event::ToppedUp {
            tank,
            volume: Volume::from_base(volume)
        }),
        (tank(), any_span()).prop_map(|(tank, s)| Event::LeftAlone {
            tank,
            until: Moment::ZERO + s
        }),
    ]
}

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
        Event::Opens,
        Event::OrderArrives {
            order: OrderNo(0),
            source: OrderId(1),
            nth: 1,
            pieces: 12,
        },
        Event::LoadMade {
            load,
            order: OrderNo(0),
            pieces: 12,
        },
        Event::Waits { load, step },
        Event::SetIn {
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
    let bath = Event::ToppedUp {
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
    };
    let entries = vec![
        Entry {
            at: at(9, 0),
            event: Event::HandsTake { hand: 0, task },
        },
        Entry {
            at: at(9, 1),
            event: Event::InBand { tank: BENCH },
        },
    ];
    let record = Record { entries };
    let text = to_csv(&shop(), &record);
    assert!(text.contains("\"rinse \"\"bucket\"\", left\""));
    assert_eq!(from_csv(&shop(), &text), Ok(record));
}
