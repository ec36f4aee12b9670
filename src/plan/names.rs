//! What loads are called: as their file has it; those that have no name are numbered behind all that have.

use super::timed::{Timed, timed};
use std::collections::BTreeMap;
use std::sync::Arc;
use tankday_base::shop::{Keeping, Shop};
use tankday_base::units::Moment;
use tankday_line::{Line, Plan};
use tankday_record::numbered;

/// The lots of each load bear its name.
pub(crate) fn keep(plan: &mut Plan, members: &BTreeMap<&str, Vec<u32>>) {
    for (name, lots) in members {
        let name: Arc<str> = (*name).into();
        for lot in lots {
            if let Some(own) = plan.names.get_mut(*lot as usize) {
                *own = Some(name.clone());
            }
        }
    }
}

/// Heads of loads in the order of their going in.
pub(crate) fn heads(plan: &Plan, timed: &Timed) -> Vec<u32> {
    let mut heads: Vec<u32> = (0..plan.lots.len() as u32)
        .filter(|&l| plan.head[l as usize] == l)
        .collect();
    let goes_in = |h: u32| {
        let lot = &plan.lots[h as usize];
        match lot.bath_step {
            Some(step) => (timed.begun[plan.task(h, step) as usize], h),
            None => (Moment::NEVER, h),
        }
    };
    heads.sort_by_key(|&h| goes_in(h));
    heads
}

/// For each of these heads of loads its name.
pub(crate) fn of(plan: &Plan, heads: &[u32]) -> BTreeMap<u32, Arc<str>> {
    let own = |head: &u32| plan.names.get(*head as usize).cloned().flatten();
    let known = plan.names.iter().flatten();
    let mut last = known.filter_map(|n| numbered(n)).max().unwrap_or(0);
    let mut name = |head: &u32| {
        own(head).unwrap_or_else(|| {
            last += 1;
            format!("L{last}").into()
        })
    };
    heads.iter().map(|head| (*head, name(head))).collect()
}

/// Gives every load the name under which its plan is written.
pub(crate) fn name_loads(shop: &Shop, line: &Line<'_>, plan: &mut Plan) {
    if plan.keeping == Keeping::OwnRules {
        return;
    }
    let heads = heads(plan, &timed(shop, line, plan, None));
    let names = of(plan, &heads);
    for (own, head) in plan.names.iter_mut().zip(&plan.head) {
        *own = names.get(head).cloned();
    }
}
