//! Checks of shop practice about what comes after the bath: P61 and P63 to P65 of the project's notes on it. S2 is
//! MIL-DTL-16232G, S5 a handbook chapter on phosphate coatings (ASM Handbook vol. 5, attribution from memory), S12 a supplier
//! sheet, S41 a restorer's account.

use crate::practice_rules::{read, run, text};
use tankday::line::Line;
use tankday::random::Streams;
use tankday::record::{LogEntry, Record};
use tankday::scenario;
use tankday::shop::{Defect, Shop};
use tankday::units::Span;

/// What inspection finds on a part under luck: the chances with which loads failed.
fn chances(shop: &Shop) -> Vec<(Defect, f64)> {
    let mut all = Vec::new();
    for replication in 0..60 {
        let mut record = Record::default();
        Line::new(shop).run(Some(Streams::new(5, replication)), &mut record);
        crate::audited::assert_sound(shop, &record);
        all.extend(record.entries.iter().filter_map(|e| match e.event {
            LogEntry::Found { defect, chance, .. } => Some((defect, chance.in_fraction())),
            _ => None,
        }));
    }
    all
}

const INSPECT: &str =
    ", {do: inspect, at: bench, for: 1 min, hands: throughout, fails: by cause, back to: coat}";

/// P61: white stains of dried solution, rust and etching are causes to reject work, a colour that heat treatment makes uneven is
/// none (S2, 3.10): hardened work fails no oftener than other work that went the same way, and each of the three has a name.
#[test]
fn p61_workmanship() {
    let bath = ", coat: {time: 12 min}";
    let of = |part: &str| {
        chances(&read(&text(
            20.0,
            10,
            bath,
            part,
            INSPECT,
            ", odds: {base: 10 %}",
        )))
    };
    let (plain, hard) = (of(""), of(", material: hardened steel"));
    assert!(!plain.is_empty());
    assert_eq!(plain, hard);
    assert!(
        hard.iter()
            .all(|(d, p)| *d == Defect::Unexplained && (p - 0.1).abs() < 1e-12)
    );
    let words = [Defect::Stained, Defect::Rusty, Defect::Etched].map(Defect::words);
    assert_eq!(words, ["stained", "rusty", "etched"]);
}

/// P63: the final chromic rinse is usually left out before oil (S5), and hexavalent chromium is no default: neither starter nor
/// shipped scenario nor default has it.
#[test]
fn p63_no_chromic_rinse_by_default() {
    let mut all = vec![("starter".to_owned(), scenario::starter().to_owned())];
    for file in std::fs::read_dir("scenarios").unwrap() {
        let path = file.unwrap().path();
        all.push((
            path.display().to_string(),
            std::fs::read_to_string(&path).unwrap(),
        ));
    }
    all.extend(scenario::defaults().map(|d| (d.key.to_owned(), d.value.to_owned())));
    assert!(all.len() > 100);
    for (name, text) in all {
        assert!(!text.to_lowercase().contains("chrom"), "{name}");
    }
}

/// P64: dried by warm air (S12), in the air of a room above 22 °C (S41); work whose drying is put off rusts (S41). Warmer air
/// dries the same film sooner; a load that waits for its oven beyond its limit is found rusty.
#[test]
fn p64_drying() {
    let dries = |degrees: f64| {
        let steps = ", {do: dry, at: bench, dries: still air, film: 16 mL/m2}";
        let text = text(20.0, 10, "", "", steps, "")
            .replace("temperature: 20 °C", &format!("temperature: {degrees} °C"));
        let shop = read(&text);
        match &shop.routes[0].steps[2].time {
            tankday::shop::StepTime::Work { load, .. } => load.mean(),
            tankday::shop::StepTime::Coat => panic!("a drying step"),
        }
    };
    assert!(dries(28.0) < dries(22.0) && dries(22.0) < dries(15.0));
    let oven = ", {do: dry, at: oven, for: 30 min, within: 5 min}";
    let late = text(
        20.0,
        10,
        ", coat: {time: 12 min}",
        "",
        &format!("{oven}{INSPECT}"),
        ", odds: {base: 30 %}",
    )
    .replace("stations: [", "stations: [{name: oven, loads: 1}, ")
    // Behind a step that says itself what it comes after, and no time, no place is looked for.
    .replace("do: rinse,", "do: rinse, kind: rest, after: coat,")
    .replace(
        "orders: [",
        "orders: [{id: B, part: chuck, count: 10, route: way}, {id: C, part: chuck, count: 10, route: way}, ",
    )
    .replace("hands: 1,", "hands: 3,");
    let found = chances(&read(&late));
    let rusty = found.iter().filter(|(d, _)| *d == Defect::Rusty);
    // 30 : 70 times four.
    let odds: Vec<f64> = rusty.map(|(_, p)| p / (1.0 - p)).collect();
    assert!(odds.len() > 20, "{} of {}", odds.len(), found.len());
    assert!(
        odds.iter().all(|o| (o - 4.0 * 3.0 / 7.0).abs() < 1e-9),
        "{odds:?}"
    );
}

/// P65: 2 to 10 min in warm oil, 10 to 30 min of draining, 12 to 24 h before it is packed (common practice, no source): a
/// route of such steps needs hands at their ends only, and what drains in the evening is packed the next day.
#[test]
fn p65_oil_drains_and_holds_overnight() {
    let steps = ", {do: oil, at: bench, for: 5 min, within: 1 h}, {do: drain, at: bench, for: 20 min}, \
                 {do: hold, at: shelf, for: 12 h, or: overnight}, {do: pack, at: bench, for: 2 min, hands: throughout}";
    let shop = read(&text(20.0, 10, "", "", steps, "").replace("stations: [", "stations: [{name: shelf}, "));
    let (record, f) = run(&shop);
    let (day, time) = f.orders[0].ready.unwrap().day_and_time();
    assert!(
        day == 1 && time < Span::hours(9.0),
        "packed {:.1} h",
        time.in_hours()
    );
    let held = |e: &&tankday::record::Entry| matches!(e.event, LogEntry::WorkBegins { step, .. } if step.step.0 == 4);
    let begun = record.entries.iter().find(held).unwrap().at;
    let ends = record.entries.iter().find_map(|e| match e.event {
        LogEntry::LiftBegins { step, .. } if step.step.0 == 4 => Some(e.at),
        _ => None,
    });
    let hours = (ends.unwrap() - begun).in_hours();
    assert!((12.0..=24.0).contains(&hours), "held {hours:.1} h");
}
