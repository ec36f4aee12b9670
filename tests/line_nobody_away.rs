//! Nobody is away from a bath with its heater on or a load in it.

use tankday::audit::{DangerKind, FaultKind, check};
use tankday::line::Line;
use tankday::record::{BathSample, Figures, HeaterState, LogEntry, Record, WarningKind};
use tankday::scenario;
use tankday::shop::Shop;
use tankday::units::{Moment, Span};

const LUNCH: &str = include_str!("data/hot-over-lunch.yaml");

fn read(text: &str) -> Shop {
    scenario::read("shop", text)
        .unwrap_or_else(|f| panic!("{}", f.render(false)))
        .shop
}

fn run(shop: &Shop) -> (Record, Figures) {
    let mut record = Record::default();
    Line::new(shop).run(None, &mut record);
    crate::audited::assert_sound(shop, &record);
    let figures = Figures::of(shop, &record);
    (record, figures)
}

fn clock(hour: i64, minute: i64) -> Moment {
    Moment::ZERO + Span::whole_minutes(60 * hour + minute)
}

fn looks(record: &Record) -> impl Iterator<Item = (Moment, &BathSample)> {
    record.entries.iter().filter_map(|e| match &e.event {
        LogEntry::Bath { sample, .. } => Some((e.at, &**sample)),
        _ => None,
    })
}

/// The state of the bath at a moment.
fn at(record: &Record, moment: Moment) -> &BathSample {
    looks(record).take_while(|l| l.0 <= moment).last().unwrap().1
}

fn stays(record: &Record) -> Vec<(Moment, Moment)> {
    let mut all: Vec<(Moment, Moment)> = Vec::new();
    for e in &record.entries {
        match e.event {
            LogEntry::SetIn { step, .. } if step.step.0 == 2 => all.push((e.at, Moment::NEVER)),
            LogEntry::StepDone { step, .. } if step.step.0 == 2 => {
                if let Some(open) = all.iter_mut().find(|s| s.1 == Moment::NEVER) {
                    open.1 = e.at;
                }
            }
            _ => {}
        }
    }
    all
}

fn first_line(shop: &Shop, record: &Record, figures: &Figures) -> String {
    let labels = tankday::record::Labels::of(shop, record);
    let results = tankday::narrative::Results {
        shop,
        record,
        figures,
        labels: &labels,
        chain: None,
        gains: &[],
        study: None,
        seed: 0,
        planned: None,
        beyond: None,
    };
    let answer = tankday::narrative::answer(&results);
    answer[0].pieces().map(|p| p.1).collect()
}

fn kinds(figures: &Figures) -> Vec<WarningKind> {
    figures.warnings.iter().map(|w| w.kind).collect()
}

/// The bath was held at 95 °C through a break of 45 minutes. Now it is off, covered and empty, cools by some degrees under
/// its lid, is heated when somebody is there again, and takes no load below its band.
#[test]
fn nobody_stays_so_the_bath_is_off_covered_and_empty() {
    let shop = read(LUNCH);
    let (record, figures) = run(&shop);
    let (from, until) = (clock(8, 45), clock(9, 30));
    let before = at(&record, from);
    assert_eq!((before.heater, before.lid), (HeaterState::Off, true));
    let within = |l: &(Moment, &BathSample)| l.0 > from && l.0 < until;
    assert!(looks(&record).filter(within).count() > 5);
    for (_, sample) in looks(&record).filter(within) {
        assert_eq!((sample.heater, sample.lid), (HeaterState::Off, true));
    }
    for (set_in, out) in stays(&record) {
        assert!(
            out <= from || set_in >= until,
            "in from {} to {}",
            set_in.clock(),
            out.clock()
        );
        assert!(at(&record, set_in).temperature.in_celsius() >= 88.0 - 1e-6);
    }
    assert!(stays(&record).len() >= 2);
    let left = LogEntry::Left {
        tank: shop.tanks().next().unwrap().0,
        until,
    };
    assert!(record.entries.iter().any(|e| e.at == from && e.event == left));
    let again = looks(&record).find(|l| l.0 >= from && l.1.heater != HeaterState::Off);
    assert_eq!(again.unwrap().0, until);
    let cooled = (before.temperature - at(&record, until).temperature).in_kelvin();
    assert!((1.0..12.0).contains(&cooled), "{cooled:.1} K");
    assert!(!kinds(&figures).contains(&WarningKind::InAtBreak));
    assert!(figures.orders.iter().all(|o| o.ready.is_some()));
}

/// With somebody in sight of the tank the bath stays hot, and a load stays in it.
#[test]
fn with_somebody_there_the_bath_stays_hot() {
    let text = LUNCH.replace("[08:45 to 09:30]", "[{at: 08:45 to 09:30, stays: yes}]");
    let (record, _) = run(&read(&text));
    let within = |l: &(Moment, &BathSample)| l.0 > clock(8, 45) && l.0 < clock(9, 30);
    assert!(looks(&record).any(|l| within(&l)));
    assert!(
        looks(&record)
            .filter(within)
            .all(|l| l.1.heater != HeaterState::Off)
    );
    assert!(
        !record
            .entries
            .iter()
            .any(|e| matches!(e.event, LogEntry::Left { .. }))
    );
}

/// A dwell that is longer than any stretch between breaks: the load goes in, somebody must stay, and the first line says when.
#[test]
fn a_dwell_longer_than_any_stretch_is_said_in_the_first_line() {
    let text = LUNCH
        .replace("[08:45 to 09:30]", "[11:00 to 11:15, 14:00 to 14:15]")
        .replace("coat: {target: 16 g/m2}", "coat: {time: 4 h}")
        .replace("dwell: 10 to 40 min", "dwell: 10 min to 5 h");
    let shop = read(&text);
    let (record, figures) = run(&shop);
    assert!(
        kinds(&figures).contains(&WarningKind::InAtBreak),
        "{:?}",
        kinds(&figures)
    );
    assert!(record.entries.iter().any(|e| matches!(
        e.event,
        LogEntry::Breaks {
            what: tankday::record::Breach::InAtBreak { .. },
            ..
        }
    )));
    let first = first_line(&shop, &record, &figures);
    assert!(first.contains("Somebody must stay in the break"), "{first}");
}

/// Hands that do things in the order in which they were asked for lift a load out of the bath in a break, too.
#[test]
fn what_is_in_comes_out_in_a_break_whatever_hands_do_first() {
    let text = LUNCH
        .replace("[08:45 to 09:30]", "[11:00 to 11:45]")
        .replace("coat: {target: 16 g/m2}", "coat: {time: 3 h}")
        .replace("dwell: 10 to 40 min", "dwell: 10 min to 9 h")
        .replace("next load: due first ", "hands first: in order asked #");
    let (record, _) = run(&read(&text));
    for (set_in, out) in stays(&record).into_iter().filter(|s| s.0 < clock(11, 0)) {
        assert!(
            out <= clock(11, 0) || out - set_in < Span::hours(3.1),
            "{}",
            out.clock()
        );
    }
    assert!(!stays(&record).is_empty());
}

/// The audit sees a heater that is on in a break, and a lid that is off.
#[test]
fn the_audit_sees_a_heater_that_is_on_in_a_break() {
    let shop = read(LUNCH);
    let (record, _) = run(&shop);
    for fault in [0, 1] {
        let mut wrong = record.clone();
        for e in &mut wrong.entries {
            if let LogEntry::Bath { sample, .. } = &mut e.event
                && e.at > clock(8, 46)
                && e.at < clock(9, 30)
            {
                match fault {
                    0 => sample.heater = HeaterState::Holding,
                    _ => sample.lid = false,
                }
            }
        }
        let found = check(&shop, &wrong);
        assert!(found.iter().any(|f| f.kind == FaultKind::Hours), "{found:?}");
    }
}

/// The sheet says all three at the time when the break begins.
#[test]
fn the_sheet_says_off_covered_and_empty() {
    let shop = read(LUNCH);
    let (record, figures) = run(&shop);
    let sheets = tankday::sheet::sheets(&shop, &record, &figures);
    let rows: Vec<&str> = sheets
        .iter()
        .flat_map(|s| &s.rows)
        .map(|r| r.deed.as_str())
        .collect();
    let row = "Heater off, lid on, nothing in the black tank: break 08:45 to 09:30";
    assert_eq!(rows.iter().filter(|r| **r == row).count(), 1, "{rows:#?}");
}

/// A bath that went off after its last load is off, covered and empty at closing, too, and the sheet says it there.
#[test]
fn the_sheet_says_all_three_at_closing() {
    let text = LUNCH.replace("close: 17:00", "close: 13:00");
    let shop = read(&text);
    let closes = shop.calendar.days[0].close;
    let (record, figures) = run(&shop);
    let last = at(&record, closes);
    assert!(last.temperature.in_celsius() > 60.0 && last.lid, "{last:?}");
    let off = looks(&record)
        .filter(|l| l.1.heater != HeaterState::Off)
        .last()
        .unwrap()
        .0;
    assert!(off < closes, "the heater was on to closing");
    let sheets = tankday::sheet::sheets(&shop, &record, &figures);
    let rows: Vec<_> = sheets.iter().flat_map(|s| &s.rows).collect();
    let row = rows
        .iter()
        .find(|r| r.deed.contains("nothing in the black tank: closed"))
        .unwrap();
    assert_eq!(row.at, closes);
    assert_eq!(
        row.deed,
        "Heater off, lid on, nothing in the black tank: closed, and nobody comes"
    );
    assert!(
        rows.iter()
            .any(|r| r.deed == "Black tank: heater off, lid on" && r.at < closes),
        "{rows:#?}"
    );
    // Where the row is taken out of every form of the sheet the audit misses it.
    let mut sheets = sheets;
    for sheet in &mut sheets {
        sheet
            .rows
            .retain(|r| !r.deed.contains("closed, and nobody comes"));
    }
    let csv = tankday::sheet::to_csv(&sheets);
    let written = tankday::audit::Written {
        csv: &csv,
        calendar: None,
        text: None,
        page: None,
    };
    let faults = tankday::audit::check_sheet(&shop, &record, &written);
    assert!(!faults.is_empty());
}

/// A tank without a lid cannot be covered: the first line says when it stands hot and open beside nobody, in the break as
/// after closing; a record of it whose warnings kept silent would be refused.
#[test]
fn a_tank_without_a_lid_is_in_the_first_line() {
    let shop = read(&LUNCH.replace("lid: loose", "lid: none"));
    let (record, figures) = run(&shop);
    let warning = figures
        .warnings
        .iter()
        .find(|w| w.kind == WarningKind::NoLid)
        .unwrap();
    assert_eq!(warning.at[0].at, clock(8, 45));
    assert_eq!(warning.at[0].by, Span::whole_minutes(45));
    let dangers = tankday::audit::dangers(&shop, &record);
    let open: Vec<_> = dangers
        .iter()
        .filter(|d| d.kind == DangerKind::Uncovered)
        .collect();
    assert!(!open.is_empty() && open.iter().all(|d| d.said), "{dangers:?}");
    let first = first_line(&shop, &record, &figures);
    assert!(
        first.contains("Hot and open with nobody there, for want of a lid: black tank, 08:45 to 09:30"),
        "{first}"
    );
    let stays = LUNCH
        .replace("lid: loose", "lid: none")
        .replace("[08:45 to 09:30]", "[{at: 08:45 to 09:30, stays: yes}]");
    let (_, figures) = run(&read(&stays));
    let spells = figures
        .warnings
        .iter()
        .filter(|w| w.kind == WarningKind::NoLid)
        .flat_map(|w| &w.at);
    assert!(spells.into_iter().all(|c| c.at > clock(12, 0)));
}

/// A pot without a lid that is kept hot to closing after its last load is topped up by the hands that stand by: nothing of
/// its bath is lost, and the record shows how it goes on, water included.
#[test]
fn a_hot_bath_never_runs_low_beside_idle_hands() {
    let shop = read(include_str!("data/boiled-dry.yaml"));
    let (record, figures) = run(&shop);
    let last = record
        .entries
        .iter()
        .rev()
        .filter(|e| matches!(e.event, LogEntry::Coated { .. }));
    let first_day = |at: Moment| at < clock(24, 0);
    let last = last.map(|e| e.at).find(|at| first_day(*at)).unwrap();
    let top_ups = record
        .entries
        .iter()
        .filter(|e| matches!(e.event, LogEntry::ToppedUp { .. }));
    let later = top_ups.filter(|e| e.at > last && first_day(e.at)).count();
    assert!(later >= 2, "{later} top-ups after {}", last.clock());
    let full = shop.tanks().next().unwrap().2.fill;
    let lowest = looks(&record).map(|l| l.1.water.in_kilograms() / full.in_litres());
    assert!(lowest.fold(1.0, f64::min) > 0.85);
    assert!(!kinds(&figures).contains(&WarningKind::RanLow));
    let strongest = looks(&record).filter_map(|l| Some(l.1.readings?.total_acid.in_points()));
    assert!(strongest.fold(0.0, f64::max) < 60.0);
    let hot: Vec<Moment> = looks(&record)
        .filter(|l| l.0 > last && l.0 < clock(16, 30) && l.1.heater != HeaterState::Off)
        .map(|l| l.0)
        .collect();
    assert!(hot.windows(2).all(|w| w[1] - w[0] <= Span::whole_minutes(30)));
}

/// Where nobody tops it up its heater switches itself off, and the day, the sheet and the record say so.
#[test]
fn below_its_cut_off_a_heater_switches_itself_off() {
    let text = include_str!("data/boiled-dry.yaml").replace(
        "switch off: at closing}",
        "switch off: at closing}\n  top up: never",
    );
    for (said, share) in [("", 0.7), (", low-level cut-off: 60 %", 0.6)] {
        let shop = read(&text.replace("kind: hot plate", &format!("kind: hot plate{said}")));
        let (record, figures) = run(&shop);
        let cut = record
            .entries
            .iter()
            .find(|e| matches!(e.event, LogEntry::CutOff { .. }))
            .unwrap();
        let full = shop.tanks().next().unwrap().2.fill.in_litres() * 0.9982;
        let level = at(&record, cut.at).water.in_kilograms() / full;
        assert!((level - share).abs() < 0.005, "{level:.3} of the fill");
        assert!(
            looks(&record)
                .filter(|l| l.0 > cut.at)
                .all(|l| l.1.heater == HeaterState::Off)
        );
        assert!(kinds(&figures).contains(&WarningKind::RanLow));
        let sheets = tankday::sheet::sheets(&shop, &record, &figures);
        let rows = sheets
            .iter()
            .flat_map(|s| &s.rows)
            .filter(|r| r.deed.contains("switches itself off"));
        assert_eq!(rows.count(), 1);
    }
}

/// The audit sees a heater that is on over too little.
#[test]
fn the_audit_sees_a_heater_on_below_its_cut_off() {
    let mut shop = read(include_str!("data/boiled-dry.yaml"));
    let (record, _) = run(&shop);
    for station in &mut shop.stations {
        if let Some(tank) = &mut station.tank {
            tank.heater.cut_off = tankday::units::Share::percent(98.5);
        }
    }
    let found = check(&shop, &record);
    assert!(found.iter().any(|f| f.kind == FaultKind::Heater), "{found:?}");
}
