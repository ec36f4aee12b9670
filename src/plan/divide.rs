//! How orders too large for one load are divided: by the rule of the shop, or at other places, if days by rules of thumb
//! come out better then.

use super::longest::Longest;
use super::model::{Evaluated, SearchContext, Solution};
use tankday_base::shop::Shop;
use tankday_line::{Line, Plan};

/// Of all simulated days no more than one in so many is spent on this.
const SHARE: u64 = 16;

/// How orders are divided, and what that was chosen by.
pub(super) struct Divided {
    /// A plan that says nothing but how orders are divided.
    pub(super) blank: Plan,
    /// Its days by rules of thumb.
    pub(super) starts: Vec<(Solution, Evaluated)>,
    /// Days simulated.
    pub(super) spent: u64,
}

/// Divides orders, in so many days at most; limits are passed by no more than allowed.
pub(super) fn divided(shop: &Shop, line: &Line<'_>, days: u64, allowed: Option<Longest>) -> Divided {
    let of = |blank: Plan| Divided::of(shop, line, blank, allowed);
    let mut best = of(Plan::of(line));
    let mut pieces: Vec<Vec<u32>> = vec![Vec::new(); shop.orders.len()];
    for lot in &best.blank.lots {
        pieces[lot.order as usize].push(lot.pieces);
    }
    let mut large: Vec<usize> = (0..pieces.len()).filter(|&o| pieces[o].len() > 1).collect();
    // What makes most loads first.
    large.sort_by_key(|&o| (std::cmp::Reverse(pieces[o].len()), o));
    let mut spent = best.spent;
    for order in large {
        for cut in Plan::cuts_of(line, order) {
            if cut == pieces[order] || spent * SHARE > days {
                continue;
            }
            let mut otherwise = pieces.clone();
            otherwise[order] = cut;
            let other = of(Plan::divided(line, &otherwise));
            spent += other.spent;
            if other.cost() < best.cost() - 1e-9 {
                (best, pieces) = (other, otherwise);
            }
        }
    }
    Divided { spent, ..best }
}

impl Divided {
    /// Orders divided in one way, and the days by rules of thumb then.
    pub(super) fn of(shop: &Shop, line: &Line<'_>, blank: Plan, allowed: Option<Longest>) -> Self {
        let world = SearchContext::on(shop, line, blank.clone()).allowing(allowed);
        let mut bench = world.bench();
        let starts = match world.lots() {
            0 => Vec::new(),
            _ => world.starts(&mut bench),
        };
        Self {
            blank,
            starts,
            spent: bench.runs,
        }
    }

    /// What the best of these days costs.
    fn cost(&self) -> f64 {
        self.starts.first().map_or(f64::INFINITY, |s| s.1.judged.cost)
    }
}
