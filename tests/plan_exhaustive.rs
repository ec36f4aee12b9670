//! Small days searched wholly: the planner is within 1 % of the best of all groupings and sequences, and nothing that was
//! tried beats the bound.

use crate::kept_cases::the_same;
use proptest::prelude::*;
use std::sync::atomic::AtomicBool;
use tankday::line::{Line, Plan};
use tankday::plan::{Bounds, Effort, Judged, bounds, judged, plan};
use tankday::scenario::read;
use tankday::shop::{Keeping, Shop};

/// Two stations in a row, no hands: for them some sequence that is the same at both is best, whatever the due times
/// (a known property of flow shops with two machines and regular measures; from memory).
fn two_stations(times: &[(u8, u8, u8)]) -> String {
    let mut text = String::from(
        "tankday: 1\ntitle: Two stations\nshop: {hands: 1}\n\
         days: [{date: 2026-03-05, open: 07:00, close: 23:00}]\n\
         stations: [{name: saw, loads: 1}, {name: drill, loads: 1}]\n\
         parts: {bar: {material: plain steel, mass: 1 kg, area: 1 dm2}}\nroutes:\n",
    );
    for (i, (a, b, _)) in times.iter().enumerate() {
        text += &format!(
            "  r{i}:\n    - {{do: saw, at: saw, for: {a} min, hands: none}}\n    - {{do: drill, at: drill, for: {b} min, hands: none}}\n"
        );
    }
    text += "orders:\n";
    for (i, (.., due)) in times.iter().enumerate() {
        let due = 420 + u32::from(*due);
        text += &format!(
            "  - {{id: A{i}, part: bar, count: 1, route: r{i}, due: {:02}:{:02}}}\n",
            due / 60,
            due % 60
        );
    }
    text
}

/// One tank, one pair of hands, loads of different sizes and dwells.
fn one_tank(loads: &[(u8, u8)]) -> String {
    let mut text = String::from(
        "tankday: 1\ntitle: One tank\nshop: {hands: 1}\n\
         days: [{date: 2026-03-05, open: 07:00, close: 23:00}]\n\
         baths:\n  manganese: {band: {least: 88 °C, hold: 95 °C, most: 98 °C}, room: {area: 1 dm2/L, mass: 1 kg/L}, \
         coat: {time: 10 min}, dwell: 5 to 60 min}\n\
         tanks:\n  - {name: tank, bath: manganese, inside: 30 cm x 20 cm x 28 cm, fill: 10 L, heater: {power: 4 kW}}\n\
         stations: [{name: bench, loads: 4}]\nparts:\n",
    );
    for (i, (area, dwell)) in loads.iter().enumerate() {
        text += &format!(
            "  p{i}: {{material: plain steel, mass: 0.1 kg, area: {area} dm2, held: wire, dwell: {dwell} to 60 min}}\n"
        );
    }
    text += "routes:\n  all:\n    - {do: coat, in: manganese}\n    - {do: oil, at: bench, for: 2 min, hands: throughout}\norders:\n";
    for i in 0..loads.len() {
        text += &format!("  - {{id: A{i}, part: p{i}, count: 1, route: all}}\n");
    }
    text + "rules: {combine: same route}\n"
}

/// All orders of so many things, told one by one.
fn permutations(all: &mut Vec<u32>, from: usize, told: &mut impl FnMut(&[u32])) {
    if from == all.len() {
        return told(all);
    }
    for i in from..all.len() {
        all.swap(from, i);
        permutations(all, from + 1, told);
        all.swap(from, i);
    }
}

/// All ways to put so many lots into loads: for each lot the first of its load.
fn groupings(lots: usize) -> Vec<Vec<u32>> {
    let mut all: Vec<Vec<u32>> = vec![Vec::new()];
    for lot in 0..lots as u32 {
        let mut longer = Vec::new();
        for heads in &all {
            let firsts = (0..lot).filter(|l| heads[*l as usize] == *l);
            for head in firsts.chain([lot]) {
                let mut with = heads.clone();
                with.push(head);
                longer.push(with);
            }
        }
        all = longer;
    }
    all
}

/// A plan with its loads one after the other.
fn in_turn(shop: &Shop, line: &Line<'_>, head: &[u32], turns: &[u32], strict: bool) -> Judged {
    let mut plan = Plan::of(line);
    let tank = shop.tanks().next().map_or(u32::MAX, |t| t.0.0);
    plan.group(head, &vec![tank; head.len()]);
    let mut tasks = Vec::new();
    for &turn in turns {
        for lot in (0..head.len() as u32).filter(|l| head[*l as usize] == turn) {
            for step in 0..plan.lots[lot as usize].steps {
                let with_load = plan.lots[lot as usize].bath_step.is_some_and(|b| step >= b);
                if !with_load || lot == turn {
                    tasks.extend([plan.task(lot, step), plan.task(lot, step) + 1]);
                }
            }
        }
    }
    tasks.retain(|t| plan.matters(*t));
    plan.sequence(&tasks);
    plan.keeping = if strict {
        Keeping::Strictly
    } else {
        Keeping::Loosely
    };
    judged(shop, line, &plan)
}

fn check(bounds: &Bounds, least: f64, tried: &Judged) {
    assert!(tried.cost >= least - 1e-6, "{} is below {least}", tried.cost);
    assert!(
        tried.finish >= bounds.finish && tried.late >= bounds.late && tried.late_orders >= bounds.late_orders
    );
}

fn best_found(shop: &Shop) -> Judged {
    plan(shop, 1, Effort::Days(20_000), &AtomicBool::new(false), &|_| ())
        .unwrap()
        .judged
}

proptest! {
    #![proptest_config(the_same(12, 11))]

    #[test]
    fn up_to_seven_loads_in_a_row(times in prop::collection::vec((1u8..40, 1u8..40, 20u8..200), 2..8)) {
        let shop = read("two", &two_stations(&times)).unwrap_or_else(|f| panic!("{}", f.render(false))).shop;
        let line = Line::new(&shop);
        let (bounds, least) = (bounds(&shop), bounds(&shop).cost(&shop));
        let mut best = f64::INFINITY;
        let head: Vec<u32> = (0..times.len() as u32).collect();
        permutations(&mut head.clone(), 0, &mut |turns| {
            let tried = in_turn(&shop, &line, &head, turns, true);
            assert_eq!(tried.unready, 0);
            check(&bounds, least, &tried);
            best = best.min(tried.cost);
        });
        let found = best_found(&shop);
        check(&bounds, least, &found);
        prop_assert!(found.cost <= best * 1.01 + 1e-6, "{} where {best} can be had", found.cost);
    }

    #[test]
    fn up_to_five_lots_in_one_tank(loads in prop::collection::vec((1u8..10, 5u8..30), 2..6)) {
        let shop = read("one", &one_tank(&loads)).unwrap_or_else(|f| panic!("{}", f.render(false))).shop;
        let line = Line::new(&shop);
        let (bounds, least) = (bounds(&shop), bounds(&shop).cost(&shop));
        let mut best = f64::INFINITY;
        for head in groupings(loads.len()) {
            let area = |h: u32| -> u32 {
                let own = head.iter().zip(&loads).filter(|(o, _)| **o == h);
                own.map(|(_, l)| u32::from(l.0)).sum()
            };
            let mut turns: Vec<u32> = (0..loads.len() as u32).filter(|l| head[*l as usize] == *l).collect();
            if turns.iter().any(|h| area(*h) > 10) {
                continue;
            }
            permutations(&mut turns, 0, &mut |turns| {
                let tried = in_turn(&shop, &line, &head, turns, false);
                if tried.unready == 0 && tried.breaches == 0 {
                    check(&bounds, least, &tried);
                    best = best.min(tried.cost);
                }
            });
        }
        let found = best_found(&shop);
        check(&bounds, least, &found);
        prop_assert!(found.cost <= best * 1.01 + 1e-6, "{} where {best} can be had", found.cost);
    }
}
