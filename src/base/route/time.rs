//! How long steps take at the shortest, or as a rule.

use crate::shop::{CoatRule, Hands, PartId, RouteId, Shop, Step, StepIx, StepRef, StepTime};
use crate::units::Span;

/// Which time of a spread counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Guess {
    /// The shortest that can happen.
    Least,
    /// The mean.
    Mean,
}

/// Time of one step for one load of so many pieces: putting in, work or dwell, taking out; no waiting of any kind.
///
/// A dwell that follows from a wanted coating weight counts as the shortest dwell of the bath: how much longer the
/// growth of the coating takes is not known here.
#[must_use]
pub fn step_time(shop: &Shop, at: StepRef, pieces: u32, guess: Guess) -> Span {
    let Some(step) = find(shop, at) else {
        return Span::ZERO;
    };
    let moving = if step.hands == Hands::Ends {
        step.put_in + step.take_out
    } else {
        Span::ZERO
    };
    let work = match &step.time {
        StepTime::Work { load, each } => {
            of(load, guess) + Span::micros(each.in_micros().saturating_mul(pieces.into()))
        }
        StepTime::Coat => dwell(shop, step, guess),
    };
    moving + work
}

/// The shortest possible time in the shop for one load of so many pieces of a part: the sum over all steps that concern
/// the part, once each, since a load does its steps one after the other.
///
/// An order is not ready before this time has passed for the largest of its loads; with a place, hands and heat at
/// hand whenever a load comes, and every inspection passed, it takes just that.
#[must_use]
pub fn time_for_part(shop: &Shop, route: RouteId, part: PartId, pieces: u32, guess: Guess) -> Span {
    let steps = shop.routes.get(route.index()).map_or(&[][..], |r| &r.steps);
    let concerned = steps
        .iter()
        .enumerate()
        .filter(|(_, s)| s.only.is_empty() || s.only.contains(&part));
    concerned
        .map(|(i, _)| {
            step_time(
                shop,
                StepRef {
                    route,
                    step: StepIx(i as u32),
                },
                pieces,
                guess,
            )
        })
        .sum()
}

fn find(shop: &Shop, at: StepRef) -> Option<&Step> {
    shop.routes.get(at.route.index())?.steps.get(at.step.index())
}

fn of(spread: &crate::random::Spread, guess: Guess) -> Span {
    match guess {
        Guess::Least => spread.least(),
        Guess::Mean => spread.mean(),
    }
}

fn dwell(shop: &Shop, step: &Step, guess: Guess) -> Span {
    let bath = step
        .stations
        .iter()
        .find_map(|s| shop.stations.get(s.index())?.tank);
    let Some(recipe) = bath.and_then(|t| shop.baths.get(t.bath.index())) else {
        return Span::ZERO;
    };
    match &recipe.coat {
        CoatRule::Target(_) => recipe.least,
        CoatRule::Time(spread) => of(spread, guess).min(recipe.most).max(recipe.least),
    }
}
