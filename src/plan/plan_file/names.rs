//! What loads are called: as their file has it; those that have no name are numbered behind all that have.

use super::say;
use crate::timed;
use std::collections::BTreeMap;
use std::sync::Arc;
use tankday_base::shop::Shop;
use tankday_line::{Line, Plan};
use tankday_record::numbered;

/// The lots of each load bear its name.
pub(super) fn keep(plan: &mut Plan, members: &BTreeMap<&str, Vec<u32>>) {
    for (name, lots) in members {
        let name: Arc<str> = (*name).into();
        for lot in lots {
            if let Some(own) = plan.names.get_mut(*lot as usize) {
                *own = Some(name.clone());
            }
        }
    }
}

/// For each of these heads of loads its name.
pub(super) fn of(plan: &Plan, heads: &[u32]) -> BTreeMap<u32, Arc<str>> {
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
pub(super) fn give(shop: &Shop, line: &Line<'_>, plan: &mut Plan) {
    let heads = say::loads(plan, &timed(shop, line, plan, None));
    let names = of(plan, &heads);
    for (own, head) in plan.names.iter_mut().zip(&plan.head) {
        *own = names.get(head).cloned();
    }
}
