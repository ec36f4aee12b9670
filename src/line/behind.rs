//! Steps behind a bath that must begin within a time of the one before them.

use super::prepared::{CompiledStep, Paced};
use crate::cargo::Cargo;
use tankday_base::shop::{Hands, StepIx};
use tankday_base::units::Span;

/// A step behind a bath that must begin within a time of the one before it, seen from a step from which on the way up
/// to it has no gap.
#[derive(Debug, Clone, Copy)]
pub(super) struct Behind {
    /// Its number on the route.
    pub(super) step: StepIx,
    /// From the start of the step on which this is noted to the end of the last one before it, as expected.
    pub(super) lead: Paced,
    /// So much later it may begin, less the pieces' own time since the bath where its time counts from there.
    slack: Span,
    spent: Paced,
    /// Of this, how long the load may wait stripped before the bath.
    pub(super) stripped: Span,
    /// Whether loads are kept back here: a bath lies on the way, and they are not wet yet.
    pub(super) keeps: bool,
}

/// The bath to which the way from a step has no gap, and for which a load may wait only so long.
#[derive(Debug, Clone, Copy)]
pub(super) struct Ahead {
    /// The step in the bath.
    pub(super) step: StepIx,
    /// From the start of the step on which this is noted to the end of the last one before the bath, as expected.
    pub(super) lead: Paced,
    /// So much later the load may go in.
    pub(super) slack: Span,
}

impl Behind {
    /// So much later a load may begin it.
    pub(super) fn slack(&self, cargo: &Cargo) -> Span {
        (self.slack - self.spent.of(cargo)).max(Span::ZERO)
    }
}

/// How long a step takes, as expected.
pub(super) fn takes(step: &CompiledStep) -> Paced {
    let mut takes = step.expected;
    if step.hands == Hands::Ends {
        takes.flat += step.put_in + step.take_out;
    }
    takes
}

/// The steps behind a step that must follow within a time, as far as the chain of such steps reaches.
pub(super) fn behind(steps: &[CompiledStep], from: usize) -> Vec<Behind> {
    let mut found = Vec::new();
    let first = &steps[from];
    let been = (0..steps.len()).any(|i| first.before & (1 << i) != 0 && steps[i].bath.is_some());
    let (mut on_the_way, mut since_bath) = (first.bath.is_some(), Paced::default());
    let (mut at, mut lead, mut slack, mut stripped) = (from, takes(first), Span::ZERO, Span::ZERO);
    while let Some((next, step, within)) =
        (at + 1..steps.len()).find_map(|i| follows(&steps[i], at).map(|within| (i, &steps[i], within)))
    {
        let own = within.unwrap_or_default();
        let spent = if step.from_bath {
            since_bath
        } else {
            Paced::default()
        };
        if within.is_some() && (been || on_the_way) {
            found.push(Behind {
                step: StepIx(next as u32),
                lead,
                slack: slack + own,
                spent,
                stripped,
                keeps: on_the_way && !first.wet(),
            });
        }
        lead += takes(step);
        since_bath += takes(step);
        // Behind the bath a load goes on as soon as it can: what it might wait at one step it does not wait for another.
        if !(step.wet() || been || on_the_way) {
            slack += own;
        }
        if step.bath.is_some() {
            (on_the_way, since_bath, stripped) = (true, Paced::default(), slack);
        }
        at = next;
    }
    found
}

/// The first bath behind a step, where the steps up to it must each follow within a time.
pub(super) fn ahead(steps: &[CompiledStep], from: usize) -> Option<Ahead> {
    let first = &steps[from];
    let been = (0..steps.len()).any(|i| first.before & (1 << i) != 0 && steps[i].bath.is_some());
    if been || first.bath.is_some() {
        return None;
    }
    let (mut at, mut lead, mut slack, mut limited) = (from, takes(first), Span::ZERO, false);
    while let Some((next, step, within)) =
        (at + 1..steps.len()).find_map(|i| follows(&steps[i], at).map(|within| (i, &steps[i], within)))
    {
        limited |= within.is_some();
        // A wet load goes on at once, but it waits for a bath.
        if !step.wet() || step.bath.is_some() {
            slack += within.unwrap_or_default();
        }
        if step.bath.is_some() {
            let step = StepIx(next as u32);
            return limited.then_some(Ahead { step, lead, slack });
        }
        lead += takes(step);
        at = next;
    }
    None
}

/// How soon a step must follow another; none if it need not, or does not follow it. A rinse for which nothing is said may wait,
/// but hands do not let it: what follows on it is not delayed for that.
fn follows(step: &CompiledStep, other: usize) -> Option<Option<Span>> {
    let next = step.after & (1 << other) != 0;
    (next && (step.within.is_some() || step.rinses)).then_some(step.within)
}
