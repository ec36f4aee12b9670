//! Checks of shop practice that are about defaults, rules and words: P19, P26, P28, P30, P45, P55, P56, P75 and P78
//! of the project's notes on it; those about what comes after the bath are in `practice_after.rs`. S5 is a handbook chapter on phosphate coatings (ASM Handbook vol. 5, attribution from
//! memory), S11 and S12 are supplier sheets, S1 is DOD-P-16232F, S2 MIL-DTL-16232G, S40 and S41 are restorers' accounts.
//! P66 and P67, hours in salt spray, and P74, P76, P77, rules for test pieces and records, have nothing here that could be
//! checked: `DEVELOPERS.md` says why.

use crate::bath_tanks::near;
use crate::chem_growth::bath;
use tankday::bath::Substrate;
use tankday::bath::chemistry::{CONSTANTS, Turnover};
use tankday::line::Line;
use tankday::record::{Figures, LogEntry, Record, WarningKind};
use tankday::scenario;
use tankday::sheet::{sheets, to_text};
use tankday::shop::{Defect, Growth, Limits, Recipe, Shop};
use tankday::units::{Area, CoatWeight, Span, Temperature};

const RECIPE: Recipe = Recipe::DEFAULT;
const M2: Area = Area::square_metres(1.0);

fn weight(w: f64) -> CoatWeight {
    CoatWeight::grams_per_square_metre(w)
}

/// One tank of so many litres, one order of so many chucks of 180 g and 95 cm2; the rest is put in.
pub(crate) fn text(litres: f64, count: u32, bath: &str, part: &str, steps: &str, rules: &str) -> String {
    format!(
        "tankday: 1
shop: {{hands: 1, air: {{temperature: 20 °C, humidity: 50 %}}}}
days: [{{date: 2026-03-02, open: 08:00, close: 18:00, repeat: 2}}]
tanks: [{{name: pot, bath: manganese, inside: 45 cm x 35 cm x 50 cm, fill: {litres} L, heater: {{power: 3 kW}}}}]
baths: {{manganese: {{room: {{area: 4 dm2/L, mass: 0.3 kg/L}}{bath}}}}}
stations: [{{name: bench, loads: 4}}]
parts: {{chuck: {{mass: 180 g, area: 95 cm2{part}}}}}
routes: {{way: [{{do: coat, in: manganese}}, {{do: rinse, at: bench, for: 1 min, hands: throughout}}{steps}]}}
orders: [{{id: A, part: chuck, count: {count}, route: way}}]
rules: {{combine: never, fill: {{at least: 0 %}}{rules}}}
"
    )
}

pub(crate) fn read(text: &str) -> Shop {
    scenario::read("shop", text)
        .unwrap_or_else(|f| panic!("{}", f.render(false)))
        .shop
}

pub(crate) fn run(shop: &Shop) -> (Record, Figures) {
    let mut record = Record::default();
    Line::new(shop).run(None, &mut record);
    crate::audited::assert_sound(shop, &record);
    let figures = Figures::of(shop, &record);
    (record, figures)
}

/// P19: 18 g/m2 (within 3), 4.5 min at 95 °C (2 less to 3 more), twice as fast by 10 °C, which is about 76 kJ/mol at 90 °C
/// (derived; the last is assumed). What a scenario gets that says nothing is the same, and lies in the region of P18.
#[test]
fn p19_defaults_of_growth() {
    let law = read(&text(20.0, 5, "", "", "", "")).baths[0].growth;
    assert_eq!(law, Growth::DEFAULT);
    near(law.full.in_grams_per_square_metre(), 18.0, 1e-12, "g/m2");
    near(law.tau95.in_minutes(), 4.5, 1e-12, "min");
    near(law.q10, 2.0, 1e-12, "times");
    assert!((16.0..=21.0).contains(&law.full.in_grams_per_square_metre()));
    assert!((1.8..=6.2).contains(&law.tau95.in_minutes()) && (1.0..=3.5).contains(&law.q10));
    // Arrhenius between 85 and 95 °C: R ln(q10) T1 T2 / 10 K.
    let molar = 8.314_462_618e-3 * libm::log(law.q10) * 358.15 * 368.15 / 10.0;
    near(molar, 76.0, 0.01, "kJ/mol");
    let tau = |t: f64| law.tau(Temperature::celsius(t)).in_seconds();
    near(tau(85.0) / tau(95.0), law.q10, 1e-9, "by 10 °C");
}

/// P26: longer than 45 min gains nothing, while the acid goes on dissolving 0.02 g/m2 of metal a minute (assumed).
#[test]
fn p26_longer_than_45_minutes_gains_nothing() {
    let law = Growth::DEFAULT;
    let after = |minutes: f64| {
        let x = law.conversion(Temperature::celsius(95.0), Span::minutes(minutes));
        law.weight(x, Substrate::PLAIN).in_grams_per_square_metre()
    };
    assert!(after(90.0) - after(45.0) < 0.001);
    let mut pot = bath(36.0, 6.0, 1.0, 20.0);
    assert_eq!(
        pot.overstay(&RECIPE, Span::minutes(45.0), M2)
            .unwrap()
            .metal()
            .in_grams(),
        0.0
    );
    let lost = pot.overstay(&RECIPE, Span::minutes(60.0), M2).unwrap();
    near(lost.metal().in_grams(), 15.0 * 0.02, 1e-9, "g of metal");
    near(lost.coating().in_grams() + 1.0, 1.0, 1e-12, "g of coating");
    assert!(pot.free_acid().in_points() < 6.0);
}

/// P28: 2 g of coating for each gram of metal (from memory), 1.4 to 4.35, to be calibrated by weighing: the table of constants
/// says so, a scenario may state its own in that range, and what a run dissolves follows it.
#[test]
fn p28_coating_by_metal() {
    near(RECIPE.attack_ratio, 2.0, 1e-12, "default");
    let constant = CONSTANTS.iter().find(|c| c.name == "coating by metal dissolved");
    let constant = constant.unwrap();
    near(constant.least, 1.4, 1e-12, "least");
    near(constant.most, 4.35, 1e-12, "most");
    assert!(
        constant
            .measure
            .starts_with("weigh a coupon bare, coated and stripped")
    );
    let with = |r: &str| {
        text(
            20.0,
            10,
            &format!(", chemistry: {{coating by metal: {r}}}"),
            "",
            "",
            "",
        )
    };
    for r in ["1.4", "2", "4.35"] {
        let (_, f) = run(&read(&with(r)));
        let of = f.baths[0].coating.in_grams() / f.baths[0].metal.in_grams();
        near(of, r.parse().unwrap(), 1e-9, "coating by metal");
    }
    for r in ["1.39", "4.36"] {
        assert!(scenario::read("shop", &with(r)).is_err(), "{r}");
    }
}

/// P30: light zinc phosphating dissolves 1 to 3 g/m2, heavy coats far more (a text reproduced without attribution). Light coats
/// of 2 to 6 g/m2 do so here too, and 16 g/m2 dissolve 8.
#[test]
fn p30_attack_for_scale() {
    let metal = |w: f64| Turnover::of(&RECIPE, weight(w), M2).metal().in_grams();
    assert!((1.0..=3.0).contains(&metal(2.0)) && (1.0..=3.0).contains(&metal(6.0)));
    near(metal(16.0), 8.0, 1e-9, "g/m2");
}

/// P45: a small bath that is settled, decanted, filtered and topped up is used again and again, and is better from the second
/// use on (common practice, no source; filtered solution kept and used again without mixing: S40; made good with deionised
/// water: S12). A bath made up new coats its first loads slowly and flagged, all later ones of its six days not; kept so it takes
/// every load. That a kept bath serves six days is checked in `bath_practice.rs`.
#[test]
fn p45_better_from_the_second_use_on() {
    let scrap = "condition: {when: iron below 0.5 g/L}, filter: {when: overnight}";
    let rules = format!(", care: {{{scrap}}}");
    let mut shop = text(20.0, 20, ", now: fresh", "", "", &rules).replace("repeat: 2", "repeat: 6");
    let first = "orders: [{id: A, part: chuck, count: 20, route: way}";
    let more: String = (3..8)
        .map(|d| format!(", {{id: A{d}, part: chuck, count: 20, route: way, arrives: 2026-03-0{d} 08:00}}"))
        .collect();
    shop = shop.replace(first, &format!("{first}{more}"));
    let (_, f) = run(&read(&shop));
    assert!(f.orders.iter().all(|o| o.ready.is_some()));
    assert_eq!(f.loads.len(), 6);
    let first = f.loads[0].begins;
    let flagged = f.warnings.iter().filter(|w| w.kind == WarningKind::Unconditioned);
    let all: Vec<_> = flagged.flat_map(|w| &w.at).collect();
    assert!(all.iter().all(|c| c.at == first), "{all:?}");
}

/// P55: heavy coats want smaller batches and a bigger bath (S11). A load of half the work in the same bath is coated to 17 g/m2
/// sooner, since its bath stays hotter; the same load in a bath twice as large makes that less cold; either wears the bath half
/// as much.
#[test]
fn p55_a_heavy_coat_wants_small_batches_and_a_big_bath() {
    let heavy = |litres: f64, count: u32| {
        let bath = ", coat: {target: 17 g/m2}, dwell: 5 to 45 min";
        // It comes when the bath has long been at 95 °C.
        let text =
            text(litres, count, bath, "", "", "").replace("route: way}]", "route: way, arrives: 11:00}]");
        let (record, f) = run(&read(&text));
        assert_eq!(f.loads.len(), 1);
        let inside = record
            .entries
            .iter()
            .filter(|e| e.at >= f.loads[0].begins && Some(e.at) <= f.loads[0].out);
        let coldest = inside.filter_map(|e| match &e.event {
            LogEntry::Bath { sample, .. } => Some(sample.temperature.in_celsius()),
            _ => None,
        });
        (
            f.loads[0].dwell().unwrap(),
            coldest.fold(f64::INFINITY, f64::min),
            36.0 - f.baths[0].now.total_acid.in_points(),
        )
    };
    let (full, half, big) = (heavy(20.0, 32), heavy(20.0, 16), heavy(40.0, 32));
    assert!(half.0 + Span::seconds(5.0) < full.0, "{full:?} {half:?}");
    assert!(
        half.1 > full.1 + 0.8 && big.1 > full.1 + 0.8,
        "{full:?} {half:?} {big:?}"
    );
    near(half.2 / full.2, 0.5, 0.02, "points lost with half the batch");
    near(big.2 / full.2, 0.5, 0.02, "points lost in twice the bath");
}

/// P56: parts apart, moved or turned two or three times (common practice, no source; S41): the day sheet says so of a load
/// that is much for its bath, and not of one that is not; and crowded work is found blotchy oftener.
#[test]
fn p56_much_work_is_kept_apart_and_turned() {
    let sheet = |count: u32| {
        let text = text(20.0, count, ", coat: {time: 12 min}", "", "", "");
        let shop = read(&text.replace("mass: 180 g", "mass: 60 g"));
        let (record, figures) = run(&shop);
        to_text(&sheets(&shop, &record, &figures))
    };
    let said = "Much work: apart, turned two or three times.";
    assert!(sheet(44).contains(said) && !sheet(20).contains(said));
    let mishap = tankday::shop::Mishap::Overloaded;
    assert_eq!(mishap.defect(), Defect::Blotchy);
}

/// P75: acids are titrated before each lot (S1, 3.2.1): of a bath near a limit the sheet says so before the load goes in.
#[test]
fn p75_titrate_before_the_lot() {
    let sheet = |points: &str| {
        let bath = format!(", now: {{total acid: {points} points, free acid: 5 points}}");
        let shop = read(&text(20.0, 10, &bath, "", "", ", care: {replenish: never}"));
        let (record, figures) = run(&shop);
        let text = to_text(&sheets(&shop, &record, &figures));
        let at = |what: &str| text.find(what);
        (at("Near a limit of its acids: titrate first."), at("L1 out"))
    };
    let (said, out) = sheet("30.6");
    assert!(said.unwrap() < out.unwrap());
    assert_eq!(sheet("32").0, None);
}

/// P78: no lot while a bath is out of limits (S1): strength, ratio, iron and sludge beyond each of theirs, with care for none.
#[test]
fn p78_no_lot_out_of_limits() {
    let never = ", care: {replenish: never, raise ratio: never, lower ratio: never}";
    let loads = |now: &str| {
        let shop = read(&text(20.0, 10, &format!(", now: {{{now}}}"), "", "", never));
        let (_, f) = run(&shop);
        let told = f.warnings.iter().any(|w| w.kind == WarningKind::BathStopped);
        (f.loads.len(), told)
    };
    for out in [
        "total acid: 29.9 points, free acid: 5 points",
        "total acid: 50.1 points, free acid: 8 points",
        "total acid: 36 points, free acid: 6.6 points",
        "total acid: 36 points, free acid: 5.1 points",
        "iron: 4.1 g/L",
        "sludge: 5.1 g/L",
    ] {
        assert_eq!(loads(out), (0, true), "{out}");
    }
    assert_eq!(loads("iron: 3.9 g/L"), (1, false));
}

/// What a scenario gets that states no limits and no constants are the defaults of the tables that explain them.
#[test]
fn limits_and_constants_are_those_explained() {
    let shop = read(&text(20.0, 10, "", "", "", ""));
    let (limits, all) = (shop.baths[0].limits, Limits::DEFAULT);
    assert_eq!(limits.strength, all.strength);
    assert_eq!(limits.ratio, all.ratio);
    assert_eq!(limits.iron, all.iron);
    assert_eq!(limits.sludge, all.sludge);
    assert_eq!(limits.level, all.level);
    assert_eq!(shop.baths[0].chemistry, RECIPE);
}

/// What no key changes is explained too: value, range, source, and how to measure one's own; each once.
#[test]
fn what_no_key_changes_explains_itself() {
    let all = scenario::fixed();
    assert!(all.len() >= 40);
    for (i, one) in all.iter().enumerate() {
        assert!(one.value.starts_with(|c: char| c.is_ascii_digit()), "{one:?}");
        assert!(
            !one.range.is_empty() && !one.source.is_empty() && !one.measure.is_empty(),
            "{one:?}"
        );
        assert!(all[..i].iter().all(|other| other.what != one.what), "{one:?}");
    }
}
