//! What a survey of random shops once found: a day that could hurt somebody in silence, each made small.

use crate::audited::assert_sound;
use crate::small_shop::{BENCH, OIL, TANK, at, min, shop, step};
use tankday::line::Line;
use tankday::random::{Spread, Streams};
use tankday::record::{BathSample, CareKind, HeaterState, LogEntry, Record, TaskKind};
use tankday::shop::*;
use tankday::units::*;

fn run(shop: &Shop) -> Record {
    let mut record = Record::default();
    Line::new(shop).run(None, &mut record);
    assert_sound(shop, &record);
    record
}

fn looks(record: &Record) -> impl Iterator<Item = (Moment, &BathSample)> {
    record.entries.iter().filter_map(|e| match &e.event {
        LogEntry::Bath { sample, .. } => Some((e.at, &**sample)),
        _ => None,
    })
}

fn is_on(sample: &BathSample) -> bool {
    sample.heater != HeaterState::Off
}

fn when(record: &Record, is: impl Fn(&LogEntry) -> bool) -> Vec<Moment> {
    let found = record.entries.iter().filter(|e| is(&e.event));
    found.map(|e| e.at).collect()
}

fn turned_to(record: &Record, kind: TaskKind) -> Vec<Moment> {
    when(
        record,
        |e| matches!(e, LogEntry::HandsTake { task, .. } if task.kind == kind),
    )
}

fn tank(shop: &mut Shop) -> &mut Tank {
    shop.stations[TANK.index()].tank.as_mut().unwrap()
}

fn lid() -> LidKind {
    LidKind::Lid {
        leak: Share::percent(5.0),
        material: WallMaterial::Stainless,
        insulation: Insulation {
            thickness: Length::ZERO,
            conductivity: Conductivity::watts_per_metre_kelvin(0.04),
        },
    }
}

fn wool(celsius: f64, stays: Span) -> Chore {
    Chore::Condition {
        to: Concentration::grams_per_litre(2.0),
        at: Temperature::celsius(celsius),
        stays,
        takes: min(10),
    }
}

/// The same day twice, that long.
fn two_days(shop: &mut Shop, open: i64, close: i64, stays: bool) {
    let day = |n: i64| Day {
        open: at(24 * n + open, 0),
        close: at(24 * n + close, 0),
        breaks: Vec::new(),
        stays,
    };
    shop.calendar.days = vec![day(0), day(1)];
}

/// A load that stays longer than it may, whatever hands do, must not keep them from topping up. (They stood idle until it
/// was done, while the bath went down.)
#[test]
fn hands_top_up_while_a_load_stays_too_long() {
    let mut shop = shop();
    shop.calendar.days[0].breaks.clear();
    shop.rules.heat.off = HeatOff::AtClosing;
    let soak = Step {
        hands: Hands::Ends,
        put_in: min(1),
        take_out: min(1),
        most: Some(min(20)),
        ..step("soak", BENCH, 240, &[])
    };
    shop.routes[0].steps[0] = soak;
    let record = run(&shop);
    let soaked = when(
        &record,
        |e| matches!(e, LogEntry::LiftBegins { step, .. } if step.step.0 == 0),
    );
    let first = turned_to(&record, TaskKind::TopUp)[0];
    assert!(
        first + min(30) < soaked[0],
        "{} {}",
        first.clock(),
        soaked[0].clock()
    );
}

/// A bath that cools to the temperature for its wool at night is warmed when somebody is back, not while nobody is there.
#[test]
fn wool_waits_for_somebody() {
    let mut shop = shop();
    two_days(&mut shop, 7, 10, false);
    // Nobody stays for this one: what lasts longer than any stretch without a break is not kept back.
    shop.calendar.days[0].breaks.push(Break {
        from: at(7, 5),
        until: at(7, 10),
        stays: false,
    });
    shop.rules.heat.unattended = true;
    shop.rules.care.push(Care {
        chore: wool(40.0, min(8 * 60)),
        when: vec![Trigger::AfterLast],
    });
    let record = run(&shop);
    let (close, open) = (at(10, 0), at(31, 0));
    let begins = when(&record, |e| matches!(e, LogEntry::CareBegins { .. }));
    assert!(begins[0] < close);
    let night: Vec<_> = looks(&record).filter(|l| l.0 > close && l.0 < open).collect();
    assert!(night.iter().any(|l| l.1.temperature < Temperature::celsius(40.0)));
    assert!(night.iter().all(|l| !is_on(l.1)));
    let warm = looks(&record).find(|l| l.0 >= open && is_on(l.1)).unwrap().0;
    assert_eq!(warm, open);
    let wool = turned_to(&record, TaskKind::PutWoolIn)[0];
    let at_wool = looks(&record).take_while(|l| l.0 <= wool).last().unwrap().1;
    assert!(wool > open && at_wool.temperature.in_celsius() > 39.99);
}

/// A stop that follows on wool finds its bath as cold as it must be, and the heater on: it goes off. (It stayed on, and the
/// bath was decanted and filtered while it came to 95 °C.)
#[test]
fn a_stop_begins_with_the_heater_off() {
    let mut shop = shop();
    shop.calendar.days[0].breaks.clear();
    let stop = Stop {
        cool_to: Temperature::celsius(60.0),
        settle: Settle::For(min(5)),
        heel: Share::percent(20.0),
        filtered: true,
        area: Area::square_decimetres(6.0),
        head: Length::centimetres(20.0),
        medium: MediumResistance::from_base(3e8),
        cake: CakeResistance::from_base(2e11),
        lost: Share::percent(2.0),
        pour: VolumeFlow::litres_per_minute(5.0),
        set_up: min(10),
        into: None,
    };
    let mut care = |chore, when| {
        shop.rules.care.push(Care {
            chore,
            when: vec![when],
        });
    };
    care(wool(60.0, min(90)), Trigger::Loads(1));
    care(Chore::Stop(stop), Trigger::Clock(min(11 * 60)));
    // Work is to come, so that the heater stays on from the wool to the stop.
    shop.orders[1].arrival = Arrival::At(at(14, 0));
    shop.orders[1].due_after = None;
    two_days(&mut shop, 7, 17, true);
    let record = run(&shop);
    let of = |kind, begins: bool| {
        when(&record, |e| match e {
            LogEntry::CareBegins { care, .. } => begins && *care == kind,
            LogEntry::CareEnds { care, .. } => !begins && *care == kind,
            _ => false,
        })
    };
    let (from, to) = (of(CareKind::Filter, true)[0], of(CareKind::Filter, false)[0]);
    assert_eq!(of(CareKind::Condition, false)[0], from);
    let before = looks(&record).take_while(|l| l.0 < from).last().unwrap().1;
    assert!(is_on(before));
    let during: Vec<_> = looks(&record).filter(|l| l.0 > from && l.0 < to).collect();
    assert!(during.len() > 5);
    let cold = |l: &(Moment, &BathSample)| !is_on(l.1) && l.1.temperature.in_celsius() < 60.01;
    assert!(during.iter().all(cold));
}

/// A hot bath that was open at closing is covered then, and the sheet says so.
#[test]
fn a_hot_bath_is_covered_at_closing() {
    let mut shop = shop();
    shop.calendar.days[0].breaks.clear();
    shop.calendar.days[0].close = at(9, 15);
    let tomorrow = Day {
        open: at(31, 30),
        close: at(33, 0),
        ..shop.calendar.days[0].clone()
    };
    shop.calendar.days.push(tomorrow);
    tank(&mut shop).lid = lid();
    let record = run(&shop);
    let close = shop.calendar.days[0].close;
    let before = looks(&record).take_while(|l| l.0 < close).last().unwrap().1;
    assert!(!is_on(before) && !before.lid && before.temperature.in_celsius() > 62.0);
    let after: Vec<_> = looks(&record)
        .filter(|l| l.0 > close && l.0 < at(31, 30))
        .collect();
    assert!(after.len() > 5 && after.iter().all(|l| l.1.lid));
    let left = LogEntry::Left {
        tank: TANK,
        until: at(31, 30),
    };
    assert!(record.entries.iter().any(|e| e.at == close && e.event == left));
    let sheet = crate::audit_sheet::Sheet::of(&shop, &record).csv;
    let said = "\"Heater off, lid on, nothing in the black tank: closed until Fri 07:30\"";
    assert!(sheet.contains(said), "{sheet}");
}

/// A heater too weak for the temperature at which wool goes in is watched all the same: it switches itself off when the bath is
/// too low. (It boiled the pot dry over night.)
#[test]
fn a_weak_heater_under_care_switches_itself_off() {
    let mut shop = shop();
    two_days(&mut shop, 7, 17, true);
    shop.rules.heat = Heat {
        off: HeatOff::Never,
        unattended: true,
        ..shop.rules.heat
    };
    shop.rules.care.push(Care {
        chore: wool(94.0, min(10)),
        when: vec![Trigger::Overnight],
    });
    let tank = tank(&mut shop);
    tank.heater.power = Power::watts(900.0);
    tank.heater.cut_off = Share::percent(90.0);
    tank.draught = 2.0;
    let record = run(&shop);
    let night = |at_: &Moment| *at_ > at(17, 0) && *at_ < at(31, 0);
    let begun = when(&record, |e| matches!(e, LogEntry::CareBegins { .. }));
    assert_eq!(begun[0], at(17, 0));
    let off = when(&record, |e| matches!(e, LogEntry::CutOff { .. }));
    assert!(off.iter().any(night), "{off:?}");
}

/// A step that takes no time at the end of a row, and a step that is done twice in one row: each has its own length.
#[test]
fn a_row_gives_each_step_its_own_length() {
    let mut shop = shop();
    shop.calendar.days[0].breaks.clear();
    let readings = |m: [i64; 3]| Spread::Readings(m.iter().map(|m| min(*m)).collect());
    let worked = |name, station, minutes, after: &[u32]| Step {
        time: StepTime::Work {
            load: readings(minutes),
            each: Span::ZERO,
        },
        at_once: true,
        ..step(name, station, 1, after)
    };
    let again = Retry {
        share: Share::percent(60.0),
        back_to: StepIx(3),
        odds: None,
    };
    let steps = &mut shop.routes[0].steps;
    steps[2] = step("dip", StationId(2), 0, &[1]);
    steps[3] = worked("brush", OIL, [5, 9, 13], &[2]);
    steps[4] = Step {
        retry: Some(again),
        ..worked("look", BENCH, [2, 4, 7], &[3])
    };
    let mut twice = 0;
    for n in 0..12 {
        let mut record = Record::default();
        Line::new(&shop).run(Some(Streams::new(3, n)), &mut record);
        assert_sound(&shop, &record);
        let sheet = crate::audit_sheet::Sheet::of(&shop, &record).csv;
        assert!(sheet.contains("; dip"), "{sheet}");
        twice += usize::from(sheet.lines().any(|l| l.matches("brush").count() > 1));
    }
    assert!(twice > 3, "{twice}");
}
