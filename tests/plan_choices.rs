//! What the planner decides besides loads and sequence: where orders are cut up, and when baths are heated.

use std::sync::atomic::AtomicBool;
use tankday::line::{Line, Plan};
use tankday::plan::{Effort, Found, judged, plan};
use tankday::plan_file::{understand, write};
use tankday::scenario::{PlanFile, read};
use tankday::shop::Shop;

/// A tank for ten pieces; filing comes before the bath.
fn shop(orders: &[(u32, &str)], rest: &str) -> Shop {
    let mut text = String::from(
        "tankday: 1\ntitle: Choices\nshop: {hands: 1}\n\
         days: [{date: 2026-03-05, open: 07:00, close: 23:00}]\n\
         baths:\n  manganese: {band: {least: 88 °C, hold: 95 °C, most: 98 °C}, room: {area: 1 dm2/L, mass: 1 kg/L}, \
         coat: {time: 10 min}, dwell: 5 to 60 min}\n\
         tanks:\n  - {name: tank, bath: manganese, inside: 30 cm x 20 cm x 28 cm, fill: 10 L, heater: {power: 4 kW}}\n\
         stations: [{name: bench, loads: 4}]\n\
         parts: {bar: {material: plain steel, mass: 0.1 kg, area: 1 dm2, held: wire}}\n\
         routes:\n  short:\n    - {do: coat, in: manganese}\n  \
         long:\n    - {do: file, at: bench, for: 4 h, hands: throughout}\n    - {do: coat, in: manganese}\norders:\n",
    );
    for (n, (count, route)) in orders.iter().enumerate() {
        text += &format!("  - {{id: A{n}, part: bar, count: {count}, route: {route}}}\n");
    }
    read("choices", &(text + rest))
        .unwrap_or_else(|f| panic!("{}", f.render(false)))
        .shop
}

fn planned(shop: &Shop) -> Found {
    plan(shop, 1, Effort::Days(2_000), &AtomicBool::new(false), &|_| ()).unwrap()
}

/// Fifteen pieces and five: evenly divided they are three loads, 8, 7 and 5; ten and two times five are two.
#[test]
fn an_order_is_cut_where_that_saves_a_load() {
    let shop = shop(
        &[(15, "short"), (5, "short")],
        "rules: {combine: same route, split: evenly}\n",
    );
    let found = planned(&shop);
    let mut pieces: Vec<u32> = found.plan.lots.iter().map(|l| l.pieces).collect();
    pieces.sort_unstable();
    assert_eq!(pieces, [5, 5, 10]);
    let loads: std::collections::BTreeSet<u32> = found.plan.head.iter().copied().collect();
    assert_eq!(loads.len(), 2);
    assert_eq!(found.judged.unready, 0);
}

/// Cut otherwise than by the rule of the shop only where that is no worse.
#[test]
fn no_order_is_cut_for_the_worse() {
    for count in [11, 15, 19, 23] {
        let shop = shop(
            &[(count, "short")],
            "rules: {combine: same route, split: evenly}\n",
        );
        let line = Line::new(&shop);
        let found = planned(&shop);
        assert_eq!(found.plan.lots.iter().map(|l| l.pieces).sum::<u32>(), count);
        let by_rule = judged(&shop, &line, &Plan::of(&line));
        assert!(found.judged.cost <= by_rule.cost, "{count}");
    }
}

/// Four hours of filing before the first load: the bath need not be hot all the while.
#[test]
fn a_bath_is_heated_when_it_is_needed() {
    let shop = shop(&[(5, "long")], "");
    let line = Line::new(&shop);
    let found = planned(&shop);
    assert_eq!(found.plan.heat.len(), 1, "{:?}", found.plan.heat);
    let mut by_rule = found.plan.clone();
    by_rule.heat.clear();
    let early = judged(&shop, &line, &by_rule);
    assert!(
        found.judged.cost < early.cost,
        "{} and {}",
        found.judged.cost,
        early.cost
    );
    assert_eq!(found.judged.late_orders, early.late_orders);
    // It stands in the file, and is read back.
    let text = write(&shop, &line, &found.plan);
    assert!(text.contains("\nheat:\n  - {ready by: "), "{text}");
    let file = PlanFile::read("plan.yaml", &text, &shop.calendar).unwrap();
    let meant = understand(&shop, &line, &file).unwrap_or_else(|f| panic!("{}", f.render(false)));
    assert_eq!(meant.plan.heat, found.plan.heat);
}

/// Where power costs nothing the scenario's own time holds.
#[test]
fn a_bath_is_heated_by_the_rule_where_power_is_free() {
    let shop = shop(&[(5, "long")], "aim: {kWh: 0}\n");
    assert!(planned(&shop).plan.heat.is_empty());
}

/// What stands beside a plan to hold it against does not depend on how long was searched: that of orders which fit their
/// loads, of orders that are cut up, and of a day that is overfull.
#[test]
fn rules_of_thumb_come_out_the_same_at_every_effort() {
    let mixed = std::fs::read_to_string("scenarios/mixed-day.yaml").unwrap();
    let overfull: Vec<(u32, &str)> = (0..12)
        .map(|n| (7 + n % 4, ["short", "long"][n as usize % 2]))
        .collect();
    for (name, shop) in [
        ("mixed", read("mixed", &mixed).unwrap().shop),
        ("cut up", shop(&[(25, "short"), (13, "long"), (4, "short")], "")),
        ("overfull", shop(&overfull, "")),
    ] {
        let rules = |effort: Effort| -> Vec<_> {
            let found = plan(&shop, 1, effort, &AtomicBool::new(false), &|_| ()).unwrap();
            found.rules.iter().map(|r| (r.name, r.judged)).collect()
        };
        let quick = rules(Effort::Days(40));
        // The own rules and four of thumb.
        assert_eq!(quick.len(), 5);
        let undone = quick.iter().any(|r| r.1.is_none_or(|j| j.unready > 0));
        assert_eq!(undone, name == "overfull", "{name}: {quick:?}");
        assert_eq!(quick, rules(Effort::Days(400)), "{name}");
        assert_eq!(quick, rules(Effort::Quick), "{name}");
    }
}

/// More effort is never worse: what less effort finds is searched first and stays where nothing as good is found.
#[test]
fn more_effort_is_never_worse() {
    let path = "tests/data/mixed-day-first.yaml";
    let shop = read(path, &std::fs::read_to_string(path).unwrap()).unwrap().shop;
    let mut better = false;
    for seed in 1..=4 {
        let costs = [Effort::Quick, Effort::Days(1_501)].map(|effort| {
            let found = plan(&shop, seed, effort, &AtomicBool::new(false), &|_| ()).unwrap();
            found.judged.cost
        });
        assert!(costs[1] <= costs[0] + 1e-6, "seed {seed}: {costs:?}");
        better |= costs[1] < costs[0] - 1e-6;
    }
    assert!(better, "more effort found nothing better anywhere");
}

/// Two loads are due when only one can be ready: the one whose being late counts more is.
#[test]
fn what_counts_more_is_late_less() {
    for heavy in 0..2 {
        let orders: String = (0..2)
            .map(|n| {
                let counts = if n == heavy { "5" } else { "1" };
                format!("  - {{id: A{n}, part: bar, count: 10, route: short, due: 07:32, late counts: {counts}}}\n")
            })
            .collect();
        let shop = shop(&[], &orders);
        let found = planned(&shop);
        assert_eq!((found.judged.unready, found.judged.late_orders), (0, 1));
        let line = Line::new(&shop);
        let mut record = tankday::record::Record::default();
        line.follow(&found.plan, None, &mut record);
        let figures = tankday::record::Figures::of(&shop, &record);
        let late: Vec<bool> = figures.orders.iter().map(|o| !o.on_time()).collect();
        assert_eq!(late, [heavy != 0, heavy != 1]);
        // No bound is above what was found.
        assert!(found.bounds.cost(&shop) <= found.judged.cost + 1e-6);
    }
    let both = shop(
        &[],
        "  - {id: A, part: bar, count: 1, route: short, late counts: 2.5}\n  - {id: B, part: bar, count: 1, route: short}\n",
    );
    let said = tankday::narrative::weighed(&both);
    assert_eq!(
        said.as_deref(),
        Some("Being late counts 2.5 times for A, once for all others.")
    );
    let path = "tests/plans/shop.yaml";
    let text = std::fs::read_to_string(path).unwrap();
    for counts in ["0", "11", "-1", "much"] {
        let wrong = text.replacen("{id: A1,", &format!("{{late counts: {counts}, id: A1,"), 1);
        assert_ne!(wrong, text);
        let told = read(path, &wrong).unwrap_err().render(false);
        assert!(told.contains("write a number from 0.1 to 10"), "{told}");
    }
}
