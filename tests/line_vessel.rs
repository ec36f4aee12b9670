//! A storage vessel on the line: the tank is refilled at once, what was drawn off is filtered meanwhile.

use tankday::audit::{FaultKind, check};
use tankday::line::Line;
use tankday::random::Streams;
use tankday::record::{CareKind, Figures, LogEntry, Record, from_csv, to_csv};
use tankday::scenario;
use tankday::sheet::sheets;
use tankday::shop::Shop;
use tankday::units::{Quantity, Volume};

fn week() -> String {
    std::fs::read_to_string("scenarios/filter-week.yaml").unwrap()
}

fn read(text: &str) -> Shop {
    scenario::read("week", text)
        .unwrap_or_else(|f| panic!("{}", f.render(false)))
        .shop
}

/// The filter week, its filter stops made in a storage jug.
fn with_jug() -> String {
    week()
        .replace(
            "stations:\n",
            "vessels:\n  - {name: storage jug, bath: manganese, holds: 25 L}\n\nstations:\n",
        )
        .replace(
            "filter: {when: after 4 loads,",
            "filter: {when: after 4 loads, into: storage jug,",
        )
}

fn run(shop: &Shop, luck: Option<Streams>) -> (Record, Figures) {
    let mut record = Record::default();
    Line::new(shop).run(luck, &mut record);
    crate::audited::assert_sound(shop, &record);
    let figures = Figures::of(shop, &record);
    (record, figures)
}

fn cares(figures: &Figures, kind: CareKind) -> usize {
    figures.baths[0].care.iter().filter(|c| c.kind == kind).count()
}

/// The week with four times the work, which one tank cannot do.
fn full(text: &str) -> Shop {
    let mut full = String::new();
    for line in text.lines() {
        full.push_str(line);
        full.push('\n');
        for again in ["b", "c", "d"] {
            if let Some((id, rest)) = line.strip_prefix("  - {id: ").and_then(|l| l.split_once(',')) {
                full.push_str(&format!("  - {{id: {id}{again},{rest}\n"));
            }
        }
    }
    read(&full)
}

/// On the filter week the tank is out of work for less time at each stop, orders are ready sooner, and more of them on time in
/// a week that is full: what is gained is the settling and the filtering; the bath must be cooled and reheated as before, and
/// one pair of hands is soon the limit.
#[test]
fn a_jug_gains_output_on_a_filter_week() {
    let (_, plain) = run(&read(&week()), None);
    let (_, jug) = run(&read(&with_jug()), None);
    assert!(cares(&plain, CareKind::Filter) >= 3);
    assert!(cares(&jug, CareKind::Exchange) >= 3);
    let out = |f: &Figures, kind: CareKind| {
        let all = f.baths[0].care.iter().filter(|c| c.kind == kind);
        let stops: Vec<f64> = all.map(|c| (c.to - c.from).in_minutes()).collect();
        stops.iter().sum::<f64>() / stops.len() as f64
    };
    let (before, after) = (out(&plain, CareKind::Filter), out(&jug, CareKind::Exchange));
    assert!(before - after > 60.0, "{before:.0} and {after:.0} min a stop");
    let mean = |f: &Figures| f.in_system.mean().unwrap().in_minutes();
    assert!(
        mean(&plain) - mean(&jug) > 15.0,
        "{:.0} and {:.0} min",
        mean(&plain),
        mean(&jug)
    );
    let on_time = |text: &str| -> usize {
        let (_, f) = run(&full(text), None);
        f.orders.iter().filter(|o| o.on_time()).count()
    };
    let (less, more) = (on_time(&week()), on_time(&with_jug()));
    assert!(
        more * 10 > less * 12,
        "{more} orders on time with the jug, {less} without"
    );
}

/// What is drawn off comes back filtered at the next exchange: volumes agree, sludge goes out in the vessel and not in the
/// tank, and luck changes nothing in that.
#[test]
fn what_is_drawn_off_comes_back_filtered() {
    let shop = read(&with_jug());
    for luck in [None, Some(Streams::new(1, 0)), Some(Streams::new(1, 1))] {
        let (record, figures) = run(&shop, luck);
        let mut kept = Volume::litres(20.0);
        let (mut drawn, mut ended) = (Volume::ZERO, 0);
        for entry in &record.entries {
            match &entry.event {
                LogEntry::CareEnds {
                    care: CareKind::Exchange,
                    used,
                    ..
                } => {
                    assert!((used.refilled - kept).base().abs() < 1e-9);
                    assert_eq!(used.sludge.base(), 0.0);
                    drawn = used.drawn_off;
                }
                LogEntry::VesselEnds { used, .. } => {
                    assert!(used.sludge.base() > 0.0);
                    kept = drawn - used.wasted + used.water;
                    assert!((kept - Volume::litres(20.0)).base().abs() < 1e-9);
                    ended += 1;
                }
                _ => {}
            }
        }
        assert!(ended >= 3, "{ended} fillings were filtered");
        assert!(figures.waste.bath > Volume::ZERO);
        assert_eq!(from_csv(&shop, &to_csv(&shop, &record)).as_ref(), Ok(&record));
    }
}

/// The day sheet says what goes where.
#[test]
fn the_sheet_names_the_jug() {
    let shop = read(&with_jug());
    let (record, figures) = run(&shop, None);
    let rows: Vec<String> = sheets(&shop, &record, &figures)
        .iter()
        .flat_map(|s| s.rows.iter().map(|r| r.deed.clone()))
        .collect();
    for words in [
        "it cools to be exchanged",
        "into the empty half of the storage jug",
        "Decant what settled in the storage jug",
        "pour the heel in the storage jug on it",
        "Pour the filtered solution back into the storage jug",
    ] {
        assert!(
            rows.iter().any(|r| r.contains(words)),
            "{words}\n{}",
            rows.join("\n")
        );
    }
}

/// The audit finds a vessel that is drawn on before it is ready, and one that gives what it does not hold.
#[test]
fn the_audit_follows_the_jug() {
    let shop = read(&with_jug());
    let (record, _) = run(&shop, None);
    let faults = |change: &dyn Fn(&mut LogEntry)| {
        let mut record = record.clone();
        for entry in &mut record.entries {
            change(&mut entry.event);
        }
        check(&shop, &record)
    };
    let more = faults(&|event| {
        if let LogEntry::CareEnds {
            used,
            care: CareKind::Exchange,
            ..
        } = event
        {
            used.drawn_off = used.drawn_off * 1.5;
        }
    });
    assert!(more.iter().any(|f| f.kind == FaultKind::Water), "{more:?}");
    let mut never = record.clone();
    never
        .entries
        .retain(|e| !matches!(e.event, LogEntry::VesselEnds { .. }));
    let never = check(&shop, &never);
    assert!(never.iter().any(|f| f.text.contains("not ready")), "{never:?}");
}
