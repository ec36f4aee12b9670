//! In which order the steps of a route may be done, and which must come before which.

use super::written::Route;
use std::collections::BTreeMap;
use tankday_base::shop::StepIx;

/// What a step comes after if it may be the first.
pub(super) const NOTHING: &str = "nothing";

/// An order of steps.
#[derive(Debug)]
pub(super) struct Sequence {
    /// Places in the written list, in an order in which they may be done.
    pub(super) order: Vec<usize>,
    /// By name the place in that order.
    pub(super) number: BTreeMap<String, u32>,
    /// For each place in the written list, the places of the steps before it.
    before: Vec<Vec<usize>>,
    /// For each place in the written list its place in the order.
    place: Vec<u32>,
}

impl Sequence {
    /// What must be done before a step, both by their places.
    pub(super) fn after(&self, written: usize) -> Option<Vec<StepIx>> {
        let before = self.before.get(written)?;
        let mut all: Vec<StepIx> = before
            .iter()
            .map(|&b| self.place.get(b).copied().map(StepIx))
            .collect::<Option<_>>()?;
        all.sort_unstable();
        all.dedup();
        Some(all)
    }
}

/// For each step the steps before it, by their places in the written list; unknown names are left out.
pub(super) fn before(route: &Route) -> Vec<Vec<usize>> {
    let by_name = by_name(route);
    let steps = route.steps.iter().enumerate();
    steps
        .map(|(i, step)| match &step.after {
            None => i.checked_sub(1).into_iter().collect(),
            Some(names) => names
                .iter()
                .filter_map(|n| by_name.get(n.value.as_str()).copied())
                .collect(),
        })
        .collect()
}

/// Steps by name; of two alike the first.
pub(super) fn by_name(route: &Route) -> BTreeMap<&str, usize> {
    let mut map = BTreeMap::new();
    for (i, step) in route.steps.iter().enumerate() {
        if let Some(name) = step.name() {
            map.entry(name.value.as_str()).or_insert(i);
        }
    }
    map
}

/// The first order that keeps close to the written one; none if steps wait for each other in a circle.
pub(super) fn sequence(route: &Route) -> Option<Sequence> {
    let before = before(route);
    let mut order: Vec<usize> = Vec::new();
    let mut place = vec![u32::MAX; before.len()];
    while order.len() < before.len() {
        let ready = |i: &usize| is_open(*i, &place, &before);
        let next = (0..before.len()).find(ready)?;
        *place.get_mut(next)? = order.len() as u32;
        order.push(next);
    }
    let number = by_name(route)
        .into_iter()
        .filter_map(|(name, i)| place.get(i).map(|p| (name.to_owned(), *p)))
        .collect();
    Some(Sequence {
        order,
        number,
        before,
        place,
    })
}

/// Whether a step is not yet placed and all steps before it are.
pub(super) fn is_open(step: usize, place: &[u32], before: &[Vec<usize>]) -> bool {
    let placed = |i: usize| place.get(i).is_some_and(|p| *p != u32::MAX);
    !placed(step) && before.get(step).is_some_and(|b| b.iter().all(|i| placed(*i)))
}
