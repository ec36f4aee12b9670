//! What may hurt somebody is found in a record, and told apart: said among the warnings, or broken in silence.

use crate::audit_faults::day;
use crate::small_shop::{TANK, min};
use tankday::audit::{Danger, DangerKind, dangers};
use tankday::record::*;
use tankday::shop::*;
use tankday::units::*;

/// The day of the small shop without its break, so that somebody is there all the time.
fn watched_day() -> (Shop, Record) {
    let (mut shop, record) = day();
    shop.calendar.days[0].breaks.clear();
    (shop, record)
}

/// A break that nobody stays for.
fn alone(from: Moment, until: Moment) -> Break {
    Break {
        from,
        until,
        stays: false,
    }
}

fn of_kind(shop: &Shop, record: &Record, kind: DangerKind) -> Vec<Danger> {
    let all = dangers(shop, record).into_iter();
    all.filter(|d| d.kind == kind).collect()
}

fn each_sample(record: &mut Record, change: impl Fn(Moment, &mut BathSample)) {
    for entry in &mut record.entries {
        if let LogEntry::Bath { sample, .. } = &mut entry.event {
            change(entry.at, sample);
        }
    }
}

fn at_of(record: &Record, is: impl Fn(&LogEntry) -> bool) -> Moment {
    let entry = record.entries.iter().find(|e| is(&e.event));
    entry.expect("there is such an event").at
}

/// When the first load goes in.
fn first_in(record: &Record) -> Moment {
    at_of(
        record,
        |e| matches!(e, LogEntry::SetIn { station, .. } if *station == TANK),
    )
}

fn insert(record: &mut Record, at: Moment, event: LogEntry) {
    let place = record.entries.partition_point(|e| e.at <= at);
    record.entries.insert(place, Entry { at, event });
}

#[test]
fn a_day_with_somebody_there_is_safe() {
    let (shop, record) = watched_day();
    assert_eq!(dangers(&shop, &record), []);
}

#[test]
fn somebody_who_stays_makes_a_break_safe() {
    let (mut shop, record) = watched_day();
    let (from, to) = (first_in(&record) + min(2), first_in(&record) + min(8));
    shop.calendar.days[0].breaks.push(alone(from, to));
    assert_eq!(of_kind(&shop, &record, DangerKind::Alone).len(), 1);
    shop.calendar.days[0].breaks[0].stays = true;
    assert_eq!(of_kind(&shop, &record, DangerKind::Alone), []);
}

#[test]
fn a_break_with_the_heater_on_and_a_load_in() {
    let (mut shop, record) = watched_day();
    let (from, to) = (first_in(&record) + min(2), first_in(&record) + min(8));
    shop.calendar.days[0].breaks.push(alone(from, to));
    let found = of_kind(&shop, &record, DangerKind::Alone);
    assert_eq!(found.len(), 1, "{found:#?}");
    assert_eq!((found[0].from, found[0].to, found[0].tank), (from, to, TANK));
    assert_eq!(found[0].loads, [LoadNo(0)]);
    assert_eq!(
        found[0].text,
        "its heater is on and a load is in it and nobody is there"
    );
    assert!(!found[0].said);
}

#[test]
fn a_load_in_a_cold_bath_is_not_left_alone_either() {
    let (mut shop, mut record) = watched_day();
    let (from, to) = (first_in(&record) + min(2), first_in(&record) + min(8));
    shop.calendar.days[0].breaks.push(alone(from, to));
    each_sample(&mut record, |_, s| s.heater = HeaterState::Off);
    let found = of_kind(&shop, &record, DangerKind::Alone);
    assert_eq!(found.len(), 1, "{found:#?}");
    assert_eq!(found[0].text, "a load is in it and nobody is there");
}

#[test]
fn what_is_said_is_no_silence_but_only_for_as_long_as_it_is_said() {
    let (mut shop, mut record) = watched_day();
    let (from, to) = (first_in(&record) + min(2), first_in(&record) + min(8));
    shop.calendar.days[0].breaks.push(alone(from, to));
    let said = |record: &Record| {
        let found = of_kind(&shop, record, DangerKind::Alone);
        assert!(!found.is_empty());
        found.iter().all(|d| d.said)
    };
    let silent = record.clone();
    assert!(!said(&silent));
    insert(
        &mut record,
        from,
        LogEntry::LeftAlone {
            tank: TANK,
            until: to,
        },
    );
    assert!(said(&record));
    let mut short = silent.clone();
    insert(
        &mut short,
        from,
        LogEntry::LeftAlone {
            tank: TANK,
            until: to - min(1),
        },
    );
    assert!(!said(&short));
    let mut late = silent;
    insert(
        &mut late,
        from + min(1),
        LogEntry::LeftAlone {
            tank: TANK,
            until: to,
        },
    );
    assert!(!said(&late));
}

#[test]
fn a_heater_that_is_on_before_anybody_comes() {
    let (mut shop, mut record) = watched_day();
    let open = shop.calendar.days[0].open;
    let at_work = |e: &LogEntry| matches!(e, LogEntry::HandsTake { .. } | LogEntry::HandsFree { .. });
    record
        .entries
        .retain(|e| e.at > open + min(20) || !at_work(&e.event));
    shop.calendar.days[0].open = open + min(10);
    let found = of_kind(&shop, &record, DangerKind::Alone);
    let spells: Vec<_> = found.iter().map(|d| (d.from, d.to)).collect();
    assert_eq!(spells, [(open, open + min(10))]);
}

#[test]
fn a_load_that_is_still_in_when_the_last_has_gone() {
    let (mut shop, record) = watched_day();
    let last_in = |e: &LogEntry| matches!(e, LogEntry::SetIn { station: TANK, .. });
    let entry = record.entries.iter().rev().find(|e| last_in(&e.event));
    let in_bath = entry.unwrap().at + min(3);
    // Somebody stays for what cannot wait, for some hours and not for longer.
    shop.calendar.days[0].close = in_bath;
    assert_eq!(of_kind(&shop, &record, DangerKind::Alone), []);
    shop.calendar.days[0].close = in_bath - min(300);
    shop.calendar.days[0].open = in_bath - min(600);
    let found = of_kind(&shop, &record, DangerKind::Alone);
    assert!(!found.is_empty());
    shop.calendar.days[0].stays = true;
    assert_eq!(of_kind(&shop, &record, DangerKind::Alone), []);
}

#[test]
fn a_hot_bath_without_its_lid_in_a_break() {
    let (mut shop, mut record) = watched_day();
    let lid = LidKind::Lid {
        leak: Share::percent(5.0),
        material: WallMaterial::Stainless,
        insulation: shop.stations[1].tank.unwrap().wall.insulation,
    };
    shop.stations[1].tank.as_mut().unwrap().lid = lid;
    // Behind the last task of hands.
    let at_work = |e: &&Entry| matches!(e.event, LogEntry::HandsFree { .. });
    let from = record.entries.iter().rev().find(at_work).unwrap().at + min(1);
    each_sample(&mut record, |_, s| s.temperature = Temperature::celsius(90.0));
    insert_sample(&mut record, from + min(6));
    shop.calendar.days[0].breaks.push(alone(from, from + min(5)));
    let found = of_kind(&shop, &record, DangerKind::Uncovered);
    assert_eq!(
        found.iter().map(|d| (d.from, d.to)).collect::<Vec<_>>(),
        [(from, from + min(5))]
    );
    each_sample(&mut record, |_, s| s.lid = true);
    assert_eq!(of_kind(&shop, &record, DangerKind::Uncovered), []);
}

/// The last sample once more at a later moment: the bath is still as hot then.
fn insert_sample(record: &mut Record, at: Moment) {
    let before = record.entries.iter().rev().find_map(|e| match &e.event {
        LogEntry::Bath { sample, .. } if e.at <= at => Some(sample.clone()),
        _ => None,
    });
    let sample = before.unwrap();
    insert(record, at, LogEntry::Bath { tank: TANK, sample });
}

#[test]
fn a_hot_bath_that_runs_low_beside_idle_hands() {
    let (shop, mut record) = watched_day();
    let low = shop.stations[1].tank.unwrap().fill * 0.8;
    each_sample(&mut record, |_, s| s.volume = low);
    let found = of_kind(&shop, &record, DangerKind::Low);
    assert!(!found.is_empty());
    // A bath that is cold and off may stand low; hands that are busy all day are not idle.
    let mut cold = record.clone();
    each_sample(&mut cold, |_, s| {
        (s.heater, s.temperature) = (HeaterState::Off, Temperature::celsius(40.0));
    });
    assert_eq!(of_kind(&shop, &cold, DangerKind::Low), []);
    let mut busy = shop.clone();
    busy.hands = 0;
    assert_eq!(of_kind(&busy, &record, DangerKind::Low), []);
}

#[test]
fn a_heater_that_is_on_below_its_level() {
    let (shop, mut record) = watched_day();
    let tank = shop.stations[1].tank.unwrap();
    let level = tank.fill * tank.heater.cut_off.in_fraction();
    assert!(level > Volume::ZERO);
    each_sample(&mut record, |_, s| s.volume = level * 1.01);
    assert_eq!(of_kind(&shop, &record, DangerKind::BelowHeater), []);
    each_sample(&mut record, |_, s| s.volume = level * 0.98);
    assert!(!of_kind(&shop, &record, DangerKind::BelowHeater).is_empty());
    each_sample(&mut record, |_, s| s.heater = HeaterState::Off);
    assert_eq!(of_kind(&shop, &record, DangerKind::BelowHeater), []);
}

#[test]
fn a_load_that_goes_in_below_the_band() {
    let (shop, mut record) = watched_day();
    let goes_in = first_in(&record);
    each_sample(&mut record, |at, s| {
        if at == goes_in {
            s.temperature = Temperature::celsius(87.9);
        }
    });
    let found = of_kind(&shop, &record, DangerKind::ColdLoad);
    assert_eq!(found.iter().map(|d| d.from).collect::<Vec<_>>(), [goes_in]);
    assert_eq!(
        found[0].text,
        "a load goes in at 87.9 °C, below the 88.0 °C of its band"
    );
}

#[test]
fn what_is_done_to_a_bath_that_is_too_hot() {
    let handled = |kind, celsius: f64| {
        let (shop, mut record) = watched_day();
        let last = record.entries.last().unwrap().at;
        let task = Task {
            kind,
            station: TANK,
            load: None,
            vessel: None,
        };
        each_sample(&mut record, |at, s| {
            if at > last - min(5) {
                s.temperature = Temperature::celsius(celsius);
            }
        });
        insert_sample(&mut record, last);
        each_sample(&mut record, |at, s| {
            if at == last {
                s.temperature = Temperature::celsius(celsius);
            }
        });
        insert(&mut record, last, LogEntry::HandsTake { hand: 0, task });
        insert(&mut record, last, LogEntry::HandsFree { hand: 0 });
        let fill = shop.stations[1].tank.unwrap().fill;
        each_sample(&mut record, |_, s| s.volume = fill);
        let kinds = dangers(&shop, &record).into_iter().map(|d| d.kind);
        kinds.collect::<Vec<_>>()
    };
    for kind in [
        TaskKind::Decant,
        TaskKind::SetUpFilter,
        TaskKind::FillBack,
        TaskKind::Exchange,
        TaskKind::MakeUpAnew,
    ] {
        assert_eq!(handled(kind, 60.5), [DangerKind::HotHandling], "{kind:?}");
        assert_eq!(handled(kind, 59.5), [], "{kind:?}");
    }
    for kind in [TaskKind::PutWoolIn, TaskKind::TrimRatio] {
        assert_eq!(handled(kind, 70.5), [DangerKind::HotSolids], "{kind:?}");
        assert_eq!(handled(kind, 69.5), [], "{kind:?}");
    }
    assert_eq!(
        handled(TaskKind::AddConcentrate, 98.5),
        [DangerKind::HotConcentrate]
    );
    assert_eq!(handled(TaskKind::AddConcentrate, 97.5), []);
    assert_eq!(handled(TaskKind::TopUp, 98.5), []);
}

/// The day with a task of hands at its end, in a bath of 90 °C, between two other events of that moment.
fn handled_between(before: LogEntry, task: Task, after: LogEntry) -> Vec<DangerKind> {
    let (shop, mut record) = watched_day();
    let last = record.entries.last().unwrap().at;
    insert_sample(&mut record, last);
    let fill = shop.stations[1].tank.unwrap().fill;
    each_sample(&mut record, |at, s| {
        s.volume = fill;
        if at == last {
            s.temperature = Temperature::celsius(90.0);
        }
    });
    for event in [
        before,
        LogEntry::HandsTake { hand: 0, task },
        LogEntry::HandsFree { hand: 0 },
        after,
    ] {
        insert(&mut record, last, event);
    }
    let kinds = dangers(&shop, &record).into_iter().map(|d| d.kind);
    kinds.collect()
}

/// Acid that is added in no time is acid, and no solid: its care begins and ends at one moment.
#[test]
fn acid_in_no_time_is_no_solid() {
    let trimmed = |care| {
        let task = Task {
            kind: TaskKind::TrimRatio,
            station: TANK,
            load: None,
            vessel: None,
        };
        let (tank, used) = (TANK, Box::default());
        let ends = LogEntry::CareEnds { tank, care, used };
        handled_between(LogEntry::CareBegins { tank, care }, task, ends)
    };
    assert_eq!(trimmed(CareKind::LowerRatio), []);
    assert_eq!(trimmed(CareKind::RaiseRatio), [DangerKind::HotSolids]);
}

/// What hands decant in a vessel is not the hot bath in the tank, even while that is under care itself.
#[test]
fn a_vessel_is_decanted_beside_a_hot_tank() {
    let decanted = |vessel| {
        let task = Task {
            kind: TaskKind::Decant,
            station: TANK,
            load: None,
            vessel,
        };
        let (tank, care) = (TANK, CareKind::Settle);
        handled_between(
            LogEntry::CareBegins { tank, care },
            task,
            LogEntry::InBand { tank },
        )
    };
    assert_eq!(decanted(Some(VesselId(0))), []);
    assert_eq!(decanted(None), [DangerKind::HotHandling]);
}
