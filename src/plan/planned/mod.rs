//! Alternatives planned side by side: each shop is planned by itself, then follows whichever plan comes out best in it, its
//! own or that of a neighbour which can be followed here. So more of something never looks worse for want of a good search:
//! the plan of the smaller shop is tried in the larger one.
//!
//! A plan goes from shop to shop as its file (`carry.rs`): by the names of orders, loads, tanks and steps.
//!
//! # Known and left
//!
//! - Where orders come by chance, each day is planned by itself (`mornings`): no plan of one alternative is tried in another
//!   there, so that more of something may look worse. `run --report` and `plan --at` know nothing of what would help
//!   after planning.
//!
//! # How it goes
//!
//! `planned` plans several shops for `--planned`. Each is planned by itself; then the file of each plan is tried in
//! the neighbours, by the names of orders, loads, tanks and steps, until nobody finds a better one (`exchange`). What
//! counts is the cost on the day of mean times, and where that is the same, under luck; the shop's own rules are a
//! candidate. So for every neighbour whose plan can be followed here, what is followed here costs no more
//! (`tests/planned_choices.rs`). `what_if::beyond_planning` plans eased shops the same way, starting from the plan of
//! the shop as it is.

mod carry;
mod said;

pub use carry::{as_written, carried};
pub use said::{Followed, Following};

use crate::mornings::EachMorning;
use crate::{Effort, Judged, by_own_rules, cost_under_luck, judged, plan};
use rayon::prelude::*;
use std::sync::atomic::{AtomicBool, Ordering};
use tankday_base::shop::{Arrival, Shop};
use tankday_base::units::Moment;
use tankday_line::{Line, Plan};

/// Costs that differ by less are the same.
const EQUAL_WITHIN: f64 = 1e-9;

/// How each shop is planned.
#[derive(Debug, Clone, Copy)]
pub struct Asked {
    /// Seed of every search and of all luck.
    pub seed: u64,
    /// How much to search for each plan.
    pub effort: Effort,
}

/// Shops, and for each of them the others whose plans are tried in it.
#[derive(Debug, Clone, Copy)]
pub struct Shops<'a> {
    /// The shops.
    pub all: &'a [&'a Shop],
    /// For each shop the places of the others.
    pub neighbours: &'a [Vec<usize>],
}

/// What a shop follows.
#[derive(Debug, Clone)]
pub struct Planned {
    /// The plan; none if the shop goes by its own rules.
    pub plan: Option<Plan>,
    /// How its days are planned, where orders come by chance.
    pub each_morning: Option<EachMorning>,
    /// Whose search found it: the place of that shop.
    pub from: usize,
    /// How it comes out on the day of mean times.
    pub judged: Judged,
    /// How the shop's own rules come out on that day.
    pub rules: Judged,
    /// What it costs on average under luck: among plans that are equal on the day of mean times the least is taken.
    under_luck: f64,
    /// The plan as its file; none if it goes by its own rules, or if its file would not be understood.
    text: Option<String>,
    /// Whether its own search came to its end.
    pub searched: bool,
}

/// Whether a shop has an order, which can be planned beforehand or once it has come.
#[must_use]
pub fn can_be_planned(shop: &Shop) -> bool {
    !shop.orders.is_empty()
}

/// Whether orders come by chance, which no plan knows beforehand: each day is planned by itself then.
#[must_use]
pub fn has_random_orders(shop: &Shop) -> bool {
    shop.orders.iter().any(|o| !matches!(o.arrival, Arrival::At(_)))
}

/// Plans every shop and lets each follow the best plan that is known for it. `done` hears of every shop that is planned;
/// the first is planned alone, so that the time of all can be told from it. The result does not depend on the number of
/// threads.
pub fn side_by_side(
    shops: Shops<'_>,
    asked: Asked,
    stop: &AtomicBool,
    done: impl Fn() + Sync,
) -> Vec<Planned> {
    let one = |at: usize, shop: &Shop| {
        let planned = by_itself(shop, at, asked, stop);
        done();
        planned
    };
    let Some((first, others)) = shops.all.split_first() else {
        return Vec::new();
    };
    let mut all = vec![one(0, first)];
    all.par_extend(others.par_iter().enumerate().map(|(i, shop)| one(i + 1, shop)));
    exchange(shops, asked, &mut all);
    all
}

/// Plans one shop by itself; a shop on which no search may begin any more goes by its own rules.
#[must_use]
pub fn by_itself(shop: &Shop, at: usize, asked: Asked, stop: &AtomicBool) -> Planned {
    let line = Line::new(shop);
    let own = by_rules(shop, &line, at, asked);
    if stop.load(Ordering::Relaxed) {
        return own;
    }
    if has_random_orders(shop) {
        let each_morning = EachMorning::new(shop, (asked.seed, asked.effort), stop);
        return Planned {
            searched: !stop.load(Ordering::Relaxed),
            each_morning: Some(each_morning),
            ..own
        };
    }
    let Some(found) = plan(shop, asked.seed, asked.effort, stop, &|_| ()) else {
        return Planned {
            searched: true,
            ..own
        };
    };
    let (text, plan) = as_written(shop, &line, &found.plan);
    let own = Planned {
        searched: !found.stopped,
        ..own
    };
    let planned = Planned {
        judged: judged(shop, &line, &plan),
        under_luck: cost_under_luck(shop, &line, Some(&plan), asked.seed),
        plan: Some(plan),
        text,
        ..own.clone()
    };
    if own.beats(&planned) { own } else { planned }
}

fn by_rules(shop: &Shop, line: &Line<'_>, at: usize, asked: Asked) -> Planned {
    let rules = by_own_rules(shop, line);
    Planned {
        plan: None,
        each_morning: None,
        from: at,
        judged: rules,
        rules,
        under_luck: cost_under_luck(shop, line, None, asked.seed),
        text: None,
        searched: false,
    }
}

/// Tries in every shop the plans of its neighbours, until none is better anywhere.
pub fn exchange(shops: Shops<'_>, asked: Asked, all: &mut [Planned]) {
    let lines: Vec<Line<'_>> = shops.all.iter().map(|shop| Line::new(shop)).collect();
    let mut fresh = vec![true; all.len()];
    // A plan goes at most through all shops.
    for _ in 0..=all.len() {
        let better: Vec<Option<Planned>> = (0..all.len())
            .into_par_iter()
            .map(|at| {
                let from = shops
                    .neighbours
                    .get(at)?
                    .iter()
                    .filter(|n| fresh.get(**n) == Some(&true));
                let (shop, line) = (shops.all.get(at)?, lines.get(at)?);
                let tried = from.filter_map(|n| {
                    let neighbour = all.get(*n)?;
                    let file = (neighbour.file()?, neighbour.from);
                    followed_here(file, all.get(at)?, (shop, line), asked)
                });
                tried.reduce(|best, next| if next.beats(&best) { next } else { best })
            })
            .collect();
        fresh = better.iter().map(Option::is_some).collect();
        if !fresh.contains(&true) {
            break;
        }
        for (one, better) in all.iter_mut().zip(better) {
            *one = better.unwrap_or_else(|| one.clone());
        }
    }
}

/// Plans one shop by itself, and follows the plan of another where that comes out better: as it is, or with its loads and
/// its order alone, each task as early as can be.
#[must_use]
pub fn starting_from(file: &str, shop: &Shop, asked: Asked, stop: &AtomicBool) -> Planned {
    let own = by_itself(shop, 0, asked, stop);
    let line = Line::new(shop);
    let Some(plan) = carried(file, shop, &line) else {
        return own;
    };
    let (sooner, _) = as_written(shop, &line, &as_early_as_can_be(&plan));
    let files = [Some(file), sooner.as_deref()];
    files.into_iter().flatten().fold(own, |best, file| {
        let better = followed_here((file, 0), &best, (shop, &line), asked);
        better.unwrap_or(best)
    })
}

/// The same loads and order with no times.
fn as_early_as_can_be(plan: &Plan) -> Plan {
    let mut plan = plan.clone();
    for (hold, pinned) in plan.hold.iter_mut().zip(&plan.pinned) {
        if !pinned {
            *hold = Moment::ZERO;
        }
    }
    plan.heat.clear();
    plan
}

/// A neighbour's plan in this shop, if it can be followed here and is better than what is followed.
fn followed_here(
    (file, from): (&str, usize),
    now: &Planned,
    (shop, line): (&Shop, &Line<'_>),
    asked: Asked,
) -> Option<Planned> {
    let plan = carried(file, shop, line).filter(|_| now.each_morning.is_none())?;
    let came_to = judged(shop, line, &plan);
    if came_to.cost > now.judged.cost + EQUAL_WITHIN {
        return None;
    }
    let here = Planned {
        judged: came_to,
        under_luck: cost_under_luck(shop, line, Some(&plan), asked.seed),
        plan: Some(plan),
        from,
        text: Some(file.to_owned()),
        ..now.clone()
    };
    here.beats(now).then_some(here)
}

impl Planned {
    /// The plan as its file; none if the shop goes by its own rules.
    #[must_use]
    pub fn file(&self) -> Option<&str> {
        self.text.as_deref()
    }

    /// Whether it is better: by the aim on the day of mean times, and where that is the same, under luck.
    fn beats(&self, other: &Self) -> bool {
        let apart = self.judged.cost - other.judged.cost;
        apart < -EQUAL_WITHIN || (apart <= EQUAL_WITHIN && self.under_luck < other.under_luck - EQUAL_WITHIN)
    }
}

/// Every other is a neighbour.
#[must_use]
pub fn all_others(many: usize) -> Vec<Vec<usize>> {
    (0..many)
        .map(|at| (0..many).filter(|other| *other != at).collect())
        .collect()
}
