//! Inspection by cause: what happened to a load decides how likely it fails and what is found.

use crate::kept_cases::keeping;
use proptest::prelude::*;
use std::collections::BTreeMap;
use tankday::line::Line;
use tankday::random::Streams;
use tankday::record::{Figures, LoadNo, LogEntry, Record};
use tankday::scenario;
use tankday::shop::{Defect, HeaterKind, Mishap, Mishaps, Odds, Shop};
use tankday::units::{Concentration, Share, Span};

/// Loads of the shop below.
const LOADS: u32 = 600;

/// One load after the other: coated, rinsed, inspected.
fn shop() -> Shop {
    shop_of("", "")
}

/// The same with more said of its part, and of the odds.
fn shop_of(part: &str, odds: &str) -> Shop {
    let text = format!(
        "tankday: 1
shop: {{hands: 3}}
days: [{{date: 2026-03-05, around the clock: 14 days}}]
tanks: [{{name: tank, bath: manganese, inside: 40 cm x 40 cm x 40 cm, fill: 40 L, heater: {{power: 9 kW}}}}]
baths: {{manganese: {{coat: {{time: 6 min}}, dwell: 5 to 45 min, wears: no}}}}
stations: [{{name: bucket}}, {{name: bench, loads: 3}}]
parts: {{piece: {{mass: 5 g, area: 10 cm2{part}}}}}
routes:
  way:
    - {{do: coat, in: manganese, put in: 10 s, take out: 20 s}}
    - {{do: rinse, at: bucket, for: 1 min, hands: throughout, within: 2 min}}
    - {{do: inspect, at: bench, for: 1 min, hands: throughout, fails: by cause, back to: coat}}
orders: [{{id: A, part: piece, count: 100, route: way, arrives: {{every: 20 min, from: 09:00, up to: {LOADS}}}}}]
rules: {{combine: never, fill: {{at least: 0 %, wait at most: 0 min}}{odds}}}
"
    );
    scenario::read("faults", &text)
        .unwrap_or_else(|f| panic!("{}", f.render(false)))
        .shop
}

fn run(shop: &Shop) -> Record {
    let mut record = Record::default();
    Line::new(shop).run(Some(Streams::new(3, 1)), &mut record);
    crate::audited::assert_sound(shop, &record);
    record
}

/// What was found at the first failure of each load, and the chance that it had.
fn failures(record: &Record) -> BTreeMap<LoadNo, (Defect, f64)> {
    let mut all = BTreeMap::new();
    for entry in &record.entries {
        if let LogEntry::Found {
            load, defect, chance, ..
        } = entry.event
        {
            all.entry(load).or_insert((defect, chance.in_fraction()));
        }
    }
    all
}

/// Twice the deviation of a count with such a chance, and two more for loads that fail only the second time.
fn expect(count: usize, chance: f64) {
    let n = f64::from(LOADS);
    let within = 3.0 * (n * chance * (1.0 - chance)).sqrt() + 2.0;
    assert!(
        (count as f64 - n * chance).abs() <= within,
        "{count} of {n}, chance {chance}"
    );
}

/// With nothing amiss a load fails with the base rate of 2 % (an assumption), and nothing explains it.
#[test]
fn without_a_cause_few_fail() {
    let found = failures(&run(&shop()));
    expect(found.len(), 0.02);
    assert!(
        found
            .values()
            .all(|(d, p)| *d == Defect::Unexplained && (p - 0.02).abs() < 1e-12)
    );
}

/// A bath without iron coats thin (the odds are assumed four times as large: 2 : 98 becomes 8 : 98). The luck is the
/// same: whoever failed before fails now.
#[test]
fn a_fresh_bath_is_found_by_its_thin_coats() {
    let usual = failures(&run(&shop()));
    let mut fresh = shop();
    fresh.baths[0].now.iron = Concentration::grams_per_litre(0.1);
    let found = failures(&run(&fresh));
    expect(found.len(), 8.0 / 106.0);
    assert!(found.values().all(|(d, _)| *d == Defect::Thin));
    assert!(usual.keys().all(|load| found.contains_key(load)));
    assert!(found.len() > usual.len());
}

/// A pot on a plate has cold spots: twice the odds; together with much iron (twice) four times, and the first named.
#[test]
fn causes_multiply() {
    let mut pot = shop();
    if let Some(tank) = &mut pot.stations[0].tank {
        tank.heater.kind = HeaterKind::HotPlate;
    }
    let found = failures(&run(&pot));
    expect(found.len(), 4.0 / 102.0);
    assert!(
        found
            .values()
            .all(|(d, p)| *d == Defect::Blotchy && (p - 4.0 / 102.0).abs() < 1e-12)
    );
    pot.baths[0].now.iron = Concentration::grams_per_litre(3.5);
    let both = failures(&run(&pot));
    expect(both.len(), 8.0 / 106.0);
    assert!(both.values().all(|(_, p)| (p - 8.0 / 106.0).abs() < 1e-12));
    assert!(found.keys().all(|load| both.contains_key(load)));
}

/// What a part brings with it makes its loads fail more often, by the factors assumed; each shows as its own defect. The
/// luck is the same: whoever failed without it fails with it.
#[test]
fn what_a_part_brings_is_found() {
    let usual = failures(&run(&shop()));
    for (key, factor, defect) in [
        ("greasy", 5.0, Defect::Blotchy),
        ("pickled", 3.0, Defect::Coarse),
        ("holes down", 3.0, Defect::Spots),
        ("crevices", 2.0, Defect::Rusty),
    ] {
        let found = failures(&run(&shop_of(&format!(", {key}: yes"), "")));
        let chance = 2.0 * factor / (98.0 + 2.0 * factor);
        expect(found.len(), chance);
        assert!(
            found
                .values()
                .all(|(d, p)| *d == defect && (p - chance).abs() < 1e-12),
            "{key}: {found:?}"
        );
        assert!(usual.keys().all(|load| found.contains_key(load)), "{key}");
        let own = failures(&run(&shop_of(
            &format!(", {key}: yes"),
            &format!(", odds: {{{key}: 1}}"),
        )));
        assert!(
            own.values()
                .all(|(d, p)| *d == Defect::Unexplained && (p - 0.02).abs() < 1e-12)
        );
        assert_eq!(own.len(), usual.len());
    }
}

/// What is done again brings the same with it: the chance of a load is as high the second time.
#[test]
fn what_a_part_brings_stays_with_it() {
    let record = run(&shop_of(", greasy: yes", ""));
    let mut chances: BTreeMap<LoadNo, Vec<f64>> = BTreeMap::new();
    for entry in &record.entries {
        if let LogEntry::Found { load, chance, .. } = entry.event {
            chances.entry(load).or_default().push(chance.in_fraction());
        }
    }
    let again: Vec<&Vec<f64>> = chances.values().filter(|c| c.len() > 1).collect();
    assert!(!again.is_empty());
    assert!(
        again
            .iter()
            .all(|c| c.iter().all(|p| (p - 10.0 / 108.0).abs() < 1e-12))
    );
}

/// A load of two parts has what either brings, and the audit knows it.
#[test]
fn a_load_has_what_any_of_it_brings() {
    let text = "tankday: 1
shop: {hands: 1}
days: [{date: 2026-03-05, open: 08:00, close: 18:00}]
tanks: [{name: tank, bath: manganese, inside: 40 cm x 40 cm x 40 cm, fill: 40 L, heater: {power: 9 kW}}]
baths: {manganese: {coat: {time: 6 min}, dwell: 5 to 45 min, wears: no}}
stations: [{name: bench, loads: 3}]
parts: {plain: {mass: 5 g, area: 10 cm2}, hollow: {mass: 5 g, area: 10 cm2, holes down: yes}}
routes:
  way:
    - {do: coat, in: manganese, put in: 10 s, take out: 20 s}
    - {do: inspect, at: bench, for: 1 min, hands: throughout, fails: by cause, back to: coat}
orders:
  - {id: A, part: plain, count: 100, route: way}
  - {id: B, part: hollow, count: 100, route: way}
rules: {combine: same route, odds: {base: 90 %}}
";
    let shop = scenario::read("mixed load", text)
        .unwrap_or_else(|f| panic!("{}", f.render(false)))
        .shop;
    let record = run(&shop);
    let joined = record
        .entries
        .iter()
        .filter(|e| matches!(e.event, LogEntry::Joins { .. }));
    assert_eq!(joined.count(), 1);
    let found = failures(&record);
    // Odds of nine to one, times three.
    assert_eq!(found.len(), 1, "{found:?}");
    assert!(
        found
            .values()
            .all(|(d, p)| *d == Defect::Spots && (p - 27.0 / 28.0).abs() < 1e-12)
    );
}

/// What waits wet between bath and rinse dries on: with one pair of hands that is slow to come, the limit is broken and
/// stains are found.
#[test]
fn what_waits_before_the_rinse_dries_on() {
    let mut shop = shop();
    shop.routes[0].steps[1].within = Some(Span::seconds(1.0));
    shop.routes[0].steps[1].hands = tankday::shop::Hands::Throughout;
    // Somebody else is rinsed before: the bucket is taken for 25 minutes each time; and no load may wait outside for that.
    shop.routes[0].steps[1].time = tankday::shop::StepTime::Work {
        load: tankday::random::Spread::Fixed(Span::whole_minutes(25)),
        each: Span::ZERO,
    };
    shop.routes[0].steps[0].within = Some(Span::ZERO);
    shop.rules.when_full = tankday::shop::WhenFull::Go;
    let found = failures(&run(&shop));
    let stained = found.values().filter(|(d, _)| *d == Defect::Stained).count();
    assert!(
        stained > 10 && stained + 3 > found.len(),
        "{stained} of {}",
        found.len()
    );
}

/// A load done again was in the bath twice: metal lost and build-up are reported for it.
#[test]
fn work_done_again_is_counted() {
    let shop = shop();
    let record = run(&shop);
    let figures = Figures::of(&shop, &record);
    let again: Vec<LoadNo> = figures.reworks.iter().map(|r| r.load).collect();
    let failed: Vec<LoadNo> = failures(&record).into_keys().collect();
    assert_eq!(again, failed);
    let one = &figures.reworks[0];
    assert_eq!(one.passes, 2);
    // Half of what was coated in the two passes, as recorded, on 100 pieces of 10 cm2.
    let coated: f64 = record
        .entries
        .iter()
        .filter_map(|e| match &e.event {
            LogEntry::Coated { load, coated, .. } if *load == one.load => Some(coated.coating.in_grams()),
            _ => None,
        })
        .sum();
    assert!(coated > 2.0, "{coated} g");
    assert!((one.metal_lost.in_grams() - coated / 2.0).abs() < 1e-9);
    let micrometres = coated / 2.0 / 0.1 / 7.85;
    assert!((one.face_lost.in_millimetres() * 1e3 - micrometres).abs() < 1e-9);
    assert!(one.face_gained < one.face_lost * 3.0);
}

fn any_odds() -> impl Strategy<Value = Odds> {
    prop::collection::vec(1.0..20.0f64, 16).prop_map(|x| Odds {
        overloaded: x[0],
        underfired: x[1],
        without_iron: x[2],
        much_iron: x[3],
        sludge: x[4],
        too_hot: x[5],
        too_short: x[6],
        too_long: x[7],
        spent_rinse: x[8],
        waited: x[9],
        hot_rinse: x[10],
        dried_on: x[11],
        greasy: x[12],
        pickled: x[13],
        holes_down: x[14],
        crevices: x[15],
    })
}

proptest! {
    #![proptest_config(keeping(256))]

    /// A chance is a chance, never below the base, and grows with everything that happens.
    #[test]
    fn chances_grow_with_mishaps(odds in any_odds(), base in 0.0..=1.0f64, which in prop::collection::vec(0..Mishap::ALL.len(), 0..8)) {
        let base = Share::fraction(base);
        let mut happened = Mishaps::default();
        let mut last = odds.chance(base, happened).in_fraction();
        prop_assert!((last - base.in_fraction()).abs() < 1e-12);
        for i in which {
            happened.add(Mishap::ALL[i]);
            let now = odds.chance(base, happened).in_fraction();
            prop_assert!((0.0..=1.0).contains(&now) && now >= last - 1e-12);
            last = now;
        }
        if happened.has(Mishap::TooCold) {
            prop_assert_eq!(last, 1.0);
            prop_assert_eq!(odds.defect(happened), Defect::Bare);
        }
    }
}
