//! Random events, one of every kind, that need not make sense together.

use proptest::prelude::*;
use tankday::record::*;
use tankday::shop::{Defect, OrderId, RouteId, StationId, StepIx, StepRef, VesselId};
use tankday::units::*;

fn any_step() -> impl Strategy<Value = StepRef> {
    (0..5u32).prop_map(|step| StepRef {
        route: RouteId(0),
        step: StepIx(step),
    })
}

pub(crate) fn any_span() -> impl Strategy<Value = Span> {
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
    (prop::array::uniform6(finite()), any::<bool>()).prop_map(|(x, exhausted)| Coated {
        conversion: x[0],
        on_cast_iron: x[5],
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
    let vessel = prop::option::of((0..1u32).prop_map(VesselId));
    (kind, 0..4u32, load, vessel).prop_map(|(kind, station, load, vessel)| Task {
        kind,
        station: StationId(station),
        load,
        vessel,
    })
}

pub(crate) fn order_event() -> impl Strategy<Value = LogEntry> {
    let number = any::<u32>;
    prop_oneof![
        Just(LogEntry::Opens),
        Just(LogEntry::Closes),
        Just(LogEntry::BreakBegins),
        Just(LogEntry::BreakEnds),
        (number(), 0..2u32, number(), number()).prop_map(|(order, source, nth, pieces)| {
            LogEntry::OrderArrives {
                order: OrderNo(order),
                source: OrderId(source),
                nth,
                pieces,
            }
        }),
        (number(), number(), number()).prop_map(|(load, order, pieces)| LogEntry::LoadMade {
            load: LoadNo(load),
            order: OrderNo(order),
            pieces
        }),
        (number(), "[A-Za-z0-9 ,\"]{1,8}").prop_map(|(load, name)| LogEntry::LoadNamed {
            load: LoadNo(load),
            name: name.as_str().into()
        }),
        (number(), number()).prop_map(|(load, into)| LogEntry::Joins {
            load: LoadNo(load),
            into: LoadNo(into)
        }),
        number().prop_map(|order| LogEntry::OrderReady {
            order: OrderNo(order)
        }),
        number().prop_map(|load| LogEntry::LoadReady { load: LoadNo(load) }),
        number().prop_map(|load| LogEntry::WorkPauses { load: LoadNo(load) }),
        number().prop_map(|load| LogEntry::WorkResumes { load: LoadNo(load) }),
        (number(), any_task()).prop_map(|(hand, task)| LogEntry::HandsTake { hand, task }),
        number().prop_map(|hand| LogEntry::HandsFree { hand }),
    ]
}

pub(crate) fn load_event() -> impl Strategy<Value = LogEntry> {
    let here = || {
        (
            any::<u32>().prop_map(LoadNo),
            any_step(),
            (0..4u32).prop_map(StationId),
        )
    };
    prop_oneof![
        here().prop_map(|(load, step, _)| LogEntry::Waits { load, step }),
        here().prop_map(|(load, step, station)| LogEntry::SetIn { load, step, station }),
        (here(), any_span(), prop::option::of(any_span())).prop_map(
            |((load, step, station), planned, most)| {
                LogEntry::WorkBegins {
                    load,
                    step,
                    station,
                    planned,
                    most,
                }
            }
        ),
        here().prop_map(|(load, step, station)| LogEntry::WorkEnds { load, step, station }),
        here().prop_map(|(load, step, station)| LogEntry::LiftBegins { load, step, station }),
        here().prop_map(|(load, _, station)| LogEntry::PlaceFree { load, station }),
        here().prop_map(|(load, step, station)| LogEntry::StepDone { load, step, station }),
        (here(), any_span()).prop_map(|((load, step, _), by)| {
            LogEntry::Breaks {
                load,
                step,
                what: Breach::WaitedTooLong { by },
            }
        }),
        (here(), any_span()).prop_map(|((load, step, _), by)| {
            LogEntry::Breaks {
                load,
                step,
                what: Breach::StayedTooLong { by },
            }
        }),
        (here(), any_step()).prop_map(|((load, step, _), back_to)| LogEntry::Fails { load, step, back_to }),
        (here(), any_step()).prop_map(|((load, step, _), behind)| LogEntry::KeptBack { load, step, behind }),
        (here(), any_step()).prop_map(|((load, step, _), behind)| LogEntry::NobodyThen {
            load,
            step,
            behind
        }),
        (here(), 0.0..1.0f64, 0.0..40.0f64).prop_map(|((load, _, station), litres, points)| {
            LogEntry::Rinsed {
                load,
                station,
                brought: Volume::litres(litres),
                strength: Strength::points(points),
                first: Strength::points(points / 3.0),
                last: Strength::points(points / 7.0),
            }
        }),
        (here(), 0..9usize, 0.0..1.0f64).prop_map(|((load, step, _), defect, chance)| LogEntry::Found {
            load,
            step,
            defect: Defect::ALL[defect],
            chance: Share::fraction(chance),
        }),
        (here(), 0.0..90.0f64).prop_map(|((_, _, station), litres)| LogEntry::Renewed {
            station,
            volume: Volume::litres(litres),
        }),
    ]
}

pub(crate) fn bath_event() -> impl Strategy<Value = LogEntry> {
    let tank = || (0..4u32).prop_map(StationId);
    prop_oneof![
        (tank(), any_sample()).prop_map(|(tank, sample)| LogEntry::Bath {
            tank,
            sample: Box::new(sample)
        }),
        tank().prop_map(|tank| LogEntry::InBand { tank }),
        (any::<u32>(), tank(), any_coated()).prop_map(|(load, tank, coated)| LogEntry::Coated {
            load: LoadNo(load),
            tank,
            coated: Box::new(coated),
        }),
        (tank(), any_care()).prop_map(|(tank, (care, _))| LogEntry::CareBegins { tank, care }),
        (tank(), any_care()).prop_map(|(tank, (care, used))| LogEntry::CareEnds {
            tank,
            care,
            used: Box::new(used),
        }),
        tank().prop_map(|tank| LogEntry::VesselBegins {
            vessel: VesselId(0),
            tank
        }),
        (tank(), any_care()).prop_map(|(tank, (_, used))| LogEntry::VesselEnds {
            vessel: VesselId(0),
            tank,
            used: Box::new(used),
        }),
        (tank(), finite()).prop_map(|(tank, power)| LogEntry::Allowed {
            tank,
            power: Power::from_base(power)
        }),
        (tank(), finite()).prop_map(|(tank, volume)| LogEntry::ToppedUp {
            tank,
            volume: Volume::from_base(volume)
        }),
        (tank(), any_span()).prop_map(|(tank, s)| LogEntry::LeftAlone {
            tank,
            until: Moment::ZERO + s
        }),
    ]
}
