//! Which steps a part must pass, and what must come before what.

use std::collections::BTreeMap;
use tankday_base::shop::{PartId, Route, RouteId, Shop, StepIx};

/// A set of steps of one route, one bit a step.
pub(super) type Steps = u64;

/// The bit of a step; none beyond the 64 that a route may have.
pub(super) fn bit(step: StepIx) -> Steps {
    1u64.checked_shl(step.0).unwrap_or_default()
}

/// The way of one part on one route.
#[derive(Debug, Clone)]
pub(super) struct Way {
    /// Steps that concern it.
    pub(super) all: Steps,
    /// For each step, the steps that concern the part and must be done before. Steps that do not concern it are
    /// passed over, not what stands before them.
    before: Vec<Steps>,
    /// For each step, itself and everything that must come after it.
    onward: Vec<Steps>,
}

impl Way {
    fn new(route: &Route, part: PartId) -> Self {
        let concerns = |i: usize| {
            route
                .steps
                .get(i)
                .is_some_and(|s| s.only.is_empty() || s.only.contains(&part))
        };
        let n = route.steps.len();
        let all = (0..n)
            .filter(|&i| concerns(i))
            .fold(0, |all, i| all | bit(StepIx(i as u32)));
        let mut before = vec![0; n];
        let mut onward: Vec<Steps> = (0..n).map(|i| bit(StepIx(i as u32))).collect();
        for _ in 0..n {
            for (i, step) in route.steps.iter().enumerate() {
                for &a in &step.after {
                    let beyond = before.get(a.index()).copied().unwrap_or_default() | bit(a);
                    before[i] |= beyond;
                    let here = onward[i];
                    if let Some(earlier) = onward.get_mut(a.index()) {
                        *earlier |= here;
                    }
                }
            }
        }
        before.iter_mut().for_each(|b| *b &= all);
        Self { all, before, onward }
    }

    pub(super) fn before(&self, step: StepIx) -> Steps {
        self.before.get(step.index()).copied().unwrap_or_default()
    }

    pub(super) fn onward(&self, step: StepIx) -> Steps {
        self.onward.get(step.index()).copied().unwrap_or_default()
    }
}

/// The ways of every order of a shop.
pub(super) struct Ways(BTreeMap<(RouteId, PartId), Way>);

impl Ways {
    pub(super) fn of(shop: &Shop) -> Self {
        let mut ways = BTreeMap::new();
        for order in &shop.orders {
            if let Some(route) = shop.routes.get(order.route.index()) {
                ways.entry((order.route, order.part))
                    .or_insert_with(|| Way::new(route, order.part));
            }
        }
        Self(ways)
    }

    pub(super) fn get(&self, route: RouteId, part: PartId) -> Option<&Way> {
        self.0.get(&(route, part))
    }
}
