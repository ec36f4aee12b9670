//! Figures of chemistry with the range of their assumptions: between which times a load is done, how far a bath goes, and
//! what a run leaves behind.
//!
//! Ranges: full weight 16 to 21 g/m2, time constant 1.8 to 6.2 min, 1 to 3.5 times by 10 °C, derived from published windows
//! (P18); coating by metal 1.4 to 4.35 (P28).

use crate::practice_rules::{read, run, text};
use tankday::bath::Growth;
use tankday::narrative::look_for;
use tankday::record::Figures;
use tankday::scenario::defaults;
use tankday::study::{Measure, Reading};
use tankday::units::{Share, Span, Temperature};

fn of(bath: &str, part: &str) -> Figures {
    run(&read(&text(40.0, 4, bath, part, "", ""))).1
}

/// The ends stand in the table of defaults, and a constant that the shop has measured has none.
#[test]
fn the_ends_are_those_of_the_table() {
    let [quick, slow] = Growth::DEFAULT.believed(Temperature::celsius(90.0));
    let written = |key: &str| {
        let found = defaults().find(|d| d.key == key).unwrap();
        found.source
    };
    let grams = |g: Growth| g.full.in_grams_per_square_metre();
    assert!(written("baths.growth.full").contains(&format!("{} to {} g/m2", grams(slow), grams(quick))));
    let tau = |g: Growth| g.tau95.in_minutes();
    assert!(written("baths.growth.time constant").contains(&format!("{} to {} min", tau(quick), tau(slow))));
    assert!(written("baths.growth.faster by 10 °C").contains(&format!("{} to {}", quick.q10, slow.q10)));
    let own = Growth {
        tau95: Span::minutes(5.0),
        ..Growth::DEFAULT
    };
    let [quick, slow] = own.believed(Temperature::celsius(90.0));
    assert_eq!((quick.tau95, slow.tau95), (own.tau95, own.tau95));
    assert!(quick.full > own.full && own.full > slow.full);
}

/// At 95 °C to 14 g/m2: by hand 1.8 ln(1/(1 - 14/21)) = 1.98 min at the quickest, 6.2 ln(1/(1 - 14/16)) = 12.9 min at the
/// slowest, 4.5 ln(1/(1 - 14/18)) = 6.77 min as usual; with the bath a little colder after a cold load.
#[test]
fn a_load_has_its_range() {
    let hot = ", band: {least: 90 °C, hold: 95 °C, most: 98 °C}";
    let f = of(
        &format!("{hot}, dwell: 1 to 45 min, coat: {{target: 14 g/m2}}"),
        "",
    );
    let (load, range) = (&f.loads[0], f.loads[0].range.unwrap());
    let minutes = |s: Span| s.in_minutes();
    assert!((6.7..8.5).contains(&minutes(load.dwell().unwrap())));
    assert!((1.8..2.2).contains(&minutes(range.quick)), "{:?}", range.quick);
    assert!((12.8..22.0).contains(&minutes(range.slow)), "{:?}", range.slow);
    // 1 - 14/18 of the gas is left.
    assert!(
        (range.fizz.in_fraction() - 4.0 / 18.0).abs() < 2e-3,
        "{:?}",
        range.fizz
    );
    assert_eq!(look_for(&range), "when the fizzing is down to a fifth");
    // The rules bound it.
    let f = of(
        &format!("{hot}, dwell: 5 to 10 min, coat: {{target: 14 g/m2}}"),
        "",
    );
    let range = f.loads[0].range.unwrap();
    assert_eq!(
        (range.quick, range.slow),
        (Span::minutes(5.0), Span::minutes(10.0))
    );
    assert_eq!(
        (range.least, range.most),
        (Span::minutes(5.0), Span::minutes(10.0))
    );
    // A shop that weighed its own has no range, a stated time none either.
    let own = ", dwell: 1 to 45 min, coat: {target: 14 g/m2}, growth: {full: 17 g/m2, time constant: 5 min, faster by 10 °C: 2.1}";
    let f = of(own, "");
    let range = f.loads[0].range.unwrap();
    let dwell = f.loads[0].dwell().unwrap();
    assert!((range.slow - range.quick).in_minutes() < 0.05 && range.quick <= dwell && dwell <= range.slow);
    assert!(of(", coat: {time: 12 min}", "").loads[0].range.is_none());
}

/// 17.1 g/m2 are 95 %: the gas has all but stopped.
#[test]
fn what_to_look_for() {
    let f = of(", dwell: 1 to 45 min, coat: {target: 17.1 g/m2}", "");
    let range = f.loads[0].range.unwrap();
    assert!((range.fizz.in_percent() - 5.0).abs() < 0.2);
    assert!(range.has_all_but_stopped() && range.fizz < Share::percent(6.0));
    assert_eq!(look_for(&range), "when the fizzing has all but stopped");
}

/// The life of a bath has a range as long as nobody has measured its chemistry.
#[test]
fn a_life_has_its_range() {
    let shop = read(&text(20.0, 40, "", "", "", ""));
    let f = run(&shop).1;
    let first = f.baths[0].life.as_ref().unwrap().first().unwrap().loads;
    let (least, most) = f.baths[0].loads_believed(&shop).unwrap();
    assert!(
        least < first && first <= most && most < 10.0 * least,
        "{least} {first} {most}"
    );
    let own = ", chemistry: {coating by metal: 2.1, iron in coating: 21 %, iron oxidised with a load: 31 %, hydrolysed: 41 %}";
    let shop = read(&text(20.0, 40, own, "", "", ""));
    let f = run(&shop).1;
    let first = f.baths[0].life.as_ref().unwrap().first().unwrap().loads;
    assert_eq!(f.baths[0].loads_believed(&shop), Some((first, first)));
}

/// The same litres and the same work: what is left is the shop's, in one tank of 40 L or in two of 20 L. (It was that of the
/// worst tank alone.)
#[test]
fn two_tanks_last_as_long_as_one() {
    let one = text(40.0, 64, "", "", "", "");
    let tank =
        "{name: pot, bath: manganese, inside: 45 cm x 35 cm x 50 cm, fill: 40 L, heater: {power: 3 kW}}";
    assert!(one.contains(tank));
    let half = |name: &str| tank.replace("pot", name).replace("40 L", "20 L");
    let two = one.replace(tank, &format!("{}, {}", half("left"), half("right")));
    let left = |text: &str| {
        let shop = read(&text.replace("combine: never", "combine: never, care: {replenish: never}"));
        let (record, figures) = run(&shop);
        let used = figures
            .baths
            .iter()
            .filter(|b| b.coated.in_square_metres() > 0.0)
            .count();
        (Reading::of(&shop, &record).get(Measure::LeftStrength), used)
    };
    let (a, b) = (left(&one), left(&two));
    assert!(
        (a.0 - b.0).abs() < 0.03 * a.0,
        "{} m2 in one, {} m2 in two ({} used)",
        a.0,
        b.0,
        b.1
    );
}

/// Putting care off is not free: the day without replenishing is charged with the concentrate that it owes.
#[test]
fn what_is_left_behind_has_its_price() {
    let cost = |care: &str| {
        let text = text(20.0, 300, "", "", "", &format!(", care: {{{care}}}"));
        let prices = "hands: 1, prices: {currency: EUR, power: 0.30 per kWh, hands: 28 per h, distilled water: 0.80 per L, concentrate: 12 per L}";
        let f = run(&read(&text.replacen("hands: 1", prices, 1))).1;
        (f.cost, f.baths[0].now.total_acid.in_points())
    };
    let (put_off, low) = cost("replenish: never");
    // Points short x 20 L x 0.475 % by point x 12.
    let owed = (36.0 - low) * 20.0 * 0.00475 * 12.0;
    assert!(owed > 0.5, "{owed}");
    assert!(
        (put_off.left.acid - owed).abs() < 0.02 * owed,
        "{:?}, {owed}",
        put_off.left
    );
    assert!(put_off.left.sludge > 0.0);
    assert!((put_off.with_left() - put_off.total() - put_off.left.total()).abs() < 1e-9);
    let (kept, _) = cost("replenish: {when: below 35.5 points, to: 36 points}");
    assert!(
        kept.chemicals > 0.0 && kept.left.acid < put_off.left.acid,
        "{:?}",
        kept.left
    );
    // What was put in is no longer owed.
    let owes = put_off.left.acid - kept.left.acid;
    assert!(
        (owes - kept.chemicals).abs() < 0.25 * kept.chemicals,
        "{owes}, {}",
        kept.chemicals
    );
}
