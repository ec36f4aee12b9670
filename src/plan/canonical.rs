//! A plan does not hang on the order in which a file lists its orders: they are planned as they come, those that come at
//! the same time by their names, and the plan is then told in the numbers of the shop.

use super::climb::plan_on;
use super::effort::Effort;
use super::search::Found;
use super::timed::{by_own_rules, run_once};
use std::sync::atomic::AtomicBool;
use tankday_base::shop::{Arrival, Order, Shop};
use tankday_base::units::Moment;
use tankday_line::{Line, Plan};

/// No task, no lot.
const NONE: u32 = u32::MAX;

/// Plans the shop with its orders in an order that does not hang on its file.
pub(super) fn planned(
    shop: &Shop,
    seed: u64,
    effort: Effort,
    stop: &AtomicBool,
    told: &(impl Fn(f64) + Sync),
) -> Option<Found> {
    let by_name = by_name(shop);
    if by_name.is_sorted() {
        return plan_on(shop, None, seed, effort, stop, told);
    }
    let mut sorted = shop.clone();
    sorted.orders = by_name
        .iter()
        .filter_map(|&o| shop.orders.get(o).cloned())
        .collect();
    let mut found = plan_on(&sorted, None, seed, effort, stop, told)?;
    let line = Line::new(shop);
    found.plan = renumbered(&line, shop.orders.len(), &found.plan, &by_name);
    (found.judged, found.begun) = run_once(shop, &line, &found.plan);
    // Ties that the line breaks by the order of the file may make the day by the shop's own rules the better one.
    if found.judged.cost > by_own_rules(shop, &line).cost + 1e-9 {
        return plan_on(shop, None, seed, effort, stop, told);
    }
    Some(found)
}

/// The numbers of the orders as they come, by name where they come together.
fn by_name(shop: &Shop) -> Vec<usize> {
    let mut all: Vec<usize> = (0..shop.orders.len()).collect();
    all.sort_by(|&a, &b| key(&shop.orders[a]).cmp(&key(&shop.orders[b])));
    all
}

/// When an order comes, then its name; a number at its end counts as a number.
fn key(order: &Order) -> (Moment, &str, u64, &str) {
    let comes = match order.arrival {
        Arrival::At(at) => at,
        Arrival::Every { from, .. } => from,
    };
    let letters = order.id.trim_end_matches(|c: char| c.is_ascii_digit());
    let number = order.id[letters.len()..].parse().unwrap_or(u64::MAX);
    (comes, letters, number, &order.id)
}

/// A plan told in other numbers: the order at each place of the list has the number that stands there.
fn renumbered(line: &Line<'_>, orders: usize, plan: &Plan, numbers: &[usize]) -> Plan {
    let number = |lot: u32| numbers.get(plan.lots[lot as usize].order as usize).copied();
    let mut pieces = vec![Vec::new(); orders];
    for (lot, l) in (0..).zip(&plan.lots) {
        if let Some(own) = number(lot).and_then(|o| pieces.get_mut(o)) {
            own.push(l.pieces);
        }
    }
    let mut new = Plan::divided(line, &pieces);
    let lots = 0..plan.lots.len() as u32;
    let lot_of = |lot: u32| -> u32 {
        let first = number(lot).and_then(|o| new.first_lot(o));
        first.map_or(NONE, |f| f + plan.lots[lot as usize].nth)
    };
    let lot: Vec<u32> = lots.clone().map(lot_of).collect();
    if lot.contains(&NONE) {
        return plan.clone();
    }
    // The head of a load is the first of its lots.
    let mut heads = vec![NONE; lot.len()];
    for l in lots.clone() {
        let of = &mut heads[plan.head[l as usize] as usize];
        *of = (*of).min(lot[l as usize]);
    }
    let (mut head, mut tank) = (new.head.clone(), new.tank.clone());
    for l in lots.clone() {
        let old = plan.head[l as usize];
        head[lot[l as usize] as usize] = heads[old as usize];
        tank[lot[l as usize] as usize] = plan.tank[old as usize];
    }
    new.group(&head, &tank);
    let mut tasks = vec![NONE; plan.rank.len()];
    for l in lots {
        let own = &plan.lots[l as usize];
        let leads = plan.head[l as usize] == l;
        for step in 0..own.steps {
            let with_load = own.bath_step.is_some_and(|b| step >= b);
            if with_load && !leads {
                continue;
            }
            let to = if with_load {
                heads[l as usize]
            } else {
                lot[l as usize]
            };
            for out in 0..2 {
                tasks[(plan.task(l, step) + out) as usize] = new.task(to, step) + out;
            }
        }
    }
    let mut order: Vec<usize> = (0..tasks.len())
        .filter(|&t| plan.rank[t] != NONE && tasks[t] != NONE)
        .collect();
    order.sort_by_key(|&t| plan.rank[t]);
    new.sequence(&order.into_iter().map(|t| tasks[t]).collect::<Vec<_>>());
    for (&task, &hold) in tasks.iter().zip(&plan.hold).filter(|t| *t.0 != NONE) {
        new.hold[task as usize] = hold;
    }
    new.keeping = plan.keeping;
    new.care.clone_from(&plan.care);
    new.heat.clone_from(&plan.heat);
    let called = |c: &(_, _, u32)| Some((c.0, c.1, *lot.get(c.2 as usize)?));
    new.calls = plan.calls.iter().filter_map(called).collect();
    new
}
