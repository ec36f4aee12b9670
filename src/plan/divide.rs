//! How orders too large for one load are divided: by the rule of the shop, or at other places, if days by rules of thumb
//! come out better then.

use super::model::SearchContext;
use tankday_base::shop::Shop;
use tankday_line::{Line, Plan};

/// Of all simulated days no more than one in so many is spent on this.
const SHARE: u64 = 8;

/// A plan that says nothing but how orders are divided, and how many days it took to find it.
pub(super) fn divided(shop: &Shop, line: &Line<'_>, days: u64) -> (Plan, u64) {
    let mut best = Plan::of(line);
    let mut pieces: Vec<Vec<u32>> = vec![Vec::new(); shop.orders.len()];
    for lot in &best.lots {
        pieces[lot.order as usize].push(lot.pieces);
    }
    let mut large: Vec<usize> = (0..pieces.len()).filter(|&o| pieces[o].len() > 1).collect();
    if large.is_empty() {
        return (best, 0);
    }
    // What makes most loads first.
    large.sort_by_key(|&o| (std::cmp::Reverse(pieces[o].len()), o));
    let mut spent = 0;
    let mut least = by_rules(shop, line, &best, &mut spent);
    for order in large {
        for cut in Plan::cuts_of(line, order) {
            if cut == pieces[order] || spent * SHARE > days {
                continue;
            }
            let mut otherwise = pieces.clone();
            otherwise[order] = cut;
            let plan = Plan::divided(line, &otherwise);
            let cost = by_rules(shop, line, &plan, &mut spent);
            if cost < least - 1e-9 {
                (best, pieces, least) = (plan, otherwise, cost);
            }
        }
    }
    (best, spent)
}

/// What the best day by rules of thumb costs.
fn by_rules(shop: &Shop, line: &Line<'_>, plan: &Plan, spent: &mut u64) -> f64 {
    let world = SearchContext::on(shop, line, plan.clone());
    let mut bench = world.bench();
    let starts = world.starts(&mut bench);
    *spent += bench.runs;
    starts.first().map_or(f64::INFINITY, |s| s.1.judged.cost)
}
