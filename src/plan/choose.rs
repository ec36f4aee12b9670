//! The last choice among the best plans, made under luck: a plan that holds on many days is better than one that is best
//! on the mean day.

use super::judge::{Judge, Judged, Space};
use super::model::{Bench, Genome, Tried, World};
use crate::line::Plan;
use crate::luck::{Luck, Spread};
use crate::shop::{Shop, StepTime};
use crate::units::Moment;
use rayon::prelude::*;

/// Days under different luck for the last choice.
const DAYS: u64 = 24;

/// One of the plans among which the last choice is made.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Choice {
    /// What it costs when every step takes its mean time.
    pub mean_day: f64,
    /// What it costs on average under luck; as on the mean day, if nothing is left to luck.
    pub under_luck: f64,
    /// Whether it was chosen.
    pub chosen: bool,
}

/// The plan as a preference with its times held, and chosen among the best by many days under different luck. None that
/// is worse on the mean day than `most` is chosen where there is a better.
pub(super) fn choose(
    world: &World<'_>,
    best: &[(Genome, Tried)],
    (seed, most): (u64, f64),
    bench: &mut Bench,
) -> Option<(Held, Vec<Choice>)> {
    let mut made: Vec<Held> = best
        .iter()
        .map(|(g, tried)| held(world, g, tried, bench))
        .collect();
    let no_worse = |m: &Held| m.1.cost <= most + 1e-9;
    if made.iter().any(no_worse) {
        made.retain(no_worse);
    }
    let lucky = has_luck(world.shop);
    let under_luck = |m: &Held| {
        if lucky {
            mean_cost(world, &m.0, seed)
        } else {
            m.1.cost
        }
    };
    let mut choice: Vec<Choice> = made
        .iter()
        .map(|m| Choice {
            mean_day: m.1.cost,
            under_luck: under_luck(m),
            chosen: false,
        })
        .collect();
    let at = (0..made.len()).min_by(|&a, &b| choice[a].under_luck.total_cmp(&choice[b].under_luck))?;
    let mut held = made.into_iter().nth(at)?;
    match world.heated_later(&held, (choice[at].under_luck, most), seed, lucky) {
        Some((later, under_luck)) => {
            choice.push(Choice {
                mean_day: later.1.cost,
                under_luck,
                chosen: true,
            });
            held = later;
        }
        None => choice[at].chosen = true,
    }
    Some((held, choice))
}

/// What a plan costs on average under luck.
pub(super) fn mean_cost(world: &World<'_>, plan: &Plan, seed: u64) -> f64 {
    let days = (0..DAYS)
        .into_par_iter()
        .map(|r| one_day(world, plan, Some(Luck::new(seed, r))).0.cost)
        .collect::<Vec<_>>();
    days.iter().sum::<f64>() / DAYS as f64
}

/// A plan ready to be followed, how it comes out, when its tasks begin.
pub(super) type Held = (Plan, Judged, Vec<Moment>);

/// Runs a plan once.
pub(super) fn one_day(world: &World<'_>, plan: &Plan, luck: Option<Luck>) -> (Judged, Vec<Moment>) {
    let mut judge = Judge::new(world.shop, plan, &world.dues, f64::INFINITY, Space::default());
    let outcome = world.line.follow(plan, luck, &mut judge);
    let judged = judge.verdict(&outcome);
    (judged, judge.space().begun)
}

/// Nothing before its time, everything as soon after it as can be: what the day is followed by. Where that comes out
/// worse than the strict sequence, the strict sequence stays.
pub(super) fn held(world: &World<'_>, g: &Genome, tried: &Tried, bench: &mut Bench) -> Held {
    let strict_again = world.try_out(g, true, f64::INFINITY, bench);
    let mut strict = bench.plan.clone();
    strict.hold.clone_from(&tried.hold);
    let mut loose = strict.clone();
    loose.strict = false;
    for (hold, begun) in loose.hold.iter_mut().zip(&tried.begun) {
        *hold = if *begun < Moment::NEVER {
            *begun
        } else {
            Moment::ZERO
        };
    }
    let (judged, begun) = one_day(world, &loose, None);
    let (as_strict, begun_strict) = one_day(world, &strict, None);
    if strict_again.is_some() && as_strict.cost < judged.cost - 1e-9 {
        return (strict, as_strict, begun_strict);
    }
    (loose, judged, begun)
}

/// Whether anything on the way is left to luck.
fn has_luck(shop: &Shop) -> bool {
    shop.routes.iter().flat_map(|r| &r.steps).any(|s| {
        s.retry.is_some()
            || matches!(&s.time, StepTime::Work { load, .. } if !matches!(load, Spread::Fixed(_)))
    })
}
