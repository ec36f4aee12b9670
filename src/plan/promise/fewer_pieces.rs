//! Orders that are no smaller than the new one and come no earlier: a plan that serves one of them serves the new order as
//! well, which can wait, and leaves out the pieces that it has not. So what a larger or a later order finds is looked at for
//! a smaller or an earlier one, too. Their sizes and times stand on scales of their own, which do not hang on the new order.

use tankday_base::shop::{Arrival, Order, Shop};
use tankday_base::units::{Moment, Span};
use tankday_line::{Line, Plan};

/// Sizes are these times a power of ten.
const SIZES: [u32; 7] = [10, 15, 20, 30, 40, 50, 70];
/// So many of the next sizes are looked at.
const LARGER: usize = 3;
/// Times are whole multiples of this since midnight,
const APART: Span = Span::whole_minutes(30);
/// and so many of the next.
const LATER: i64 = 4;

/// The shop with other last orders: larger ones that come when it does, and later ones of its size.
pub(super) fn no_less(shop: &Shop) -> Vec<Shop> {
    let with = |change: &dyn Fn(&mut Order)| {
        let mut other = shop.clone();
        other.orders.last_mut().map(change)?;
        Some(other)
    };
    let Some((count, at)) = shop.orders.last().and_then(|o| match o.arrival {
        Arrival::At(at) => Some((o.count, at)),
        Arrival::Every { .. } => None,
    }) else {
        return Vec::new();
    };
    let larger = larger(count).filter_map(|n| with(&|o| o.count = n));
    let later = later(at).filter_map(|t| with(&|o| o.arrival = Arrival::At(t)));
    larger.chain(later).collect()
}

fn larger(count: u32) -> impl Iterator<Item = u32> {
    let powers = (0..8).map(|p| 10u64.pow(p));
    let all = powers.flat_map(|p| SIZES.map(|s| u64::from(s) * p / 10));
    // Below ten one and a half is no size.
    let whole = all.filter(move |s| *s > u64::from(count));
    let mut sizes: Vec<u32> = whole.filter_map(|s| u32::try_from(s).ok()).collect();
    sizes.dedup();
    sizes.into_iter().take(LARGER)
}

fn later(at: Moment) -> impl Iterator<Item = Moment> {
    let step = APART.in_micros();
    let next = at.in_micros().div_euclid(step) + 1;
    (next..next + LATER).map(move |n| Moment::micros(n * step))
}

/// A plan for one of them as a plan for the new order of a shop, which is the last: nothing of it begins before that one
/// would have come.
pub(super) fn carried(shop: &Shop, line: &Line<'_>, other: &Shop, plan: &Plan) -> Option<Plan> {
    let (new, count) = (shop.orders.len().checked_sub(1)?, shop.orders.last()?.count);
    let Arrival::At(comes) = other.orders.last()?.arrival else {
        return None;
    };
    let mut carried = with_fewer(line, shop.orders.len(), plan, count);
    let first = carried.first_lot(new)?;
    for lot in first..carried.lots.len() as u32 {
        let (from, until) = (
            carried.task(lot, 0),
            carried.task(lot, carried.lots[lot as usize].steps),
        );
        for hold in &mut carried.hold[from as usize..until as usize] {
            *hold = (*hold).max(comes);
        }
    }
    Some(carried)
}

/// A plan for the first so many orders of which the last has no more than so many pieces: its last lots are left out.
pub(super) fn with_fewer(line: &Line<'_>, orders: usize, plan: &Plan, most: u32) -> Plan {
    let mut pieces = vec![Vec::new(); orders];
    let mut room = most;
    for lot in &plan.lots {
        let order = lot.order as usize;
        let many = if order + 1 == orders {
            lot.pieces.min(room)
        } else {
            lot.pieces
        };
        if let Some(own) = pieces.get_mut(order).filter(|_| many > 0) {
            own.push(many);
            room -= if order + 1 == orders { many } else { 0 };
        }
    }
    let mut fewer = Plan::divided(line, &pieces);
    let (lots, tasks) = (fewer.lots.len(), fewer.rank.len());
    fewer.group(&plan.head[..lots], &plan.tank[..lots]);
    let mut order: Vec<u32> = (0..tasks as u32)
        .filter(|&t| plan.rank[t as usize] != u32::MAX)
        .collect();
    order.sort_by_key(|&t| plan.rank[t as usize]);
    fewer.sequence(&order);
    fewer.hold.copy_from_slice(&plan.hold[..tasks]);
    fewer.keeping = plan.keeping;
    fewer.heat.clone_from(&plan.heat);
    let stays = |c: &&(_, _, u32)| (c.2 as usize) < lots;
    fewer.calls = plan.calls.iter().filter(stays).copied().collect();
    fewer
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sizes_and_times_stand_on_scales_of_their_own() {
        let of = |count| larger(count).collect::<Vec<u32>>();
        assert_eq!(of(1), [2, 3, 4]);
        assert_eq!(of(7), [10, 15, 20]);
        assert_eq!(of(33), [40, 50, 70]);
        let at = |minutes| Moment::ZERO + Span::whole_minutes(minutes);
        assert_eq!(later(at(451)).collect::<Vec<_>>(), [480, 510, 540, 570].map(at));
        assert_eq!(later(at(480)).next(), Some(at(510)));
    }
}
