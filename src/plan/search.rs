//! The search: first plans by rules, loads packed closely, then many small changes, each judged by the line. A change
//! for the worse is taken now and then, less and less often. Several searches go on side by side, each with its own
//! luck; how many there are does not depend on the machine, so neither does the result.

use super::bound::Bounds;
use super::choose::{Chances, Choice, Chosen, choose};
use super::divide::{Divided, divided};
use super::effort::Effort;
use super::judge::Judged;
use super::model::{Evaluated, SearchContext, Solution};
use super::names::name_loads;
use super::start::{Going, by_rules, each_once};
use super::timed::own_rules;
use super::try_out::Bench;
use super::ways::Ways;
use rand::rngs::ChaCha8Rng;
use rand::{RngExt, SeedableRng};
use rayon::prelude::*;
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};
use tankday_base::shop::Shop;
use tankday_base::units::Moment;
use tankday_line::{Line, Plan};

/// Searches side by side.
const ISLANDS: u64 = 4;
/// Of the days that may be simulated one in so many is, where days were searched in a graph or a timetable.
const ASKED_LESS: u64 = 8;
/// The same where baths are served on the way: of that the timetable knows nothing.
const ASKED_LESS_WITH_CARE: u64 = 2;
/// Days so many times as long as a common one are not packed as closely as can be first.
const LONG: u64 = 4;
/// Of so many days one more search packs them.
const PACKED: u64 = 1_000;
/// What the shop does if nobody plans.
const OWN: &str = "the shop's own rules";
/// So many changes are tried to see how hot to begin: a search of fewer days would find nothing.
const HEATINGS: u64 = 24;
/// Rounds, after each of which the searches begin again from the best.
const ROUNDS: u64 = 4;

/// A day by a plain rule.
#[derive(Debug, Clone)]
pub struct RuleResult {
    /// The rule.
    pub name: &'static str,
    /// How it came out; none if the rule gets nowhere.
    pub judged: Option<Judged>,
}

/// What was found.
#[derive(Debug, Clone)]
pub struct Found {
    /// The plan.
    pub plan: Plan,
    /// How it comes out with mean times.
    pub judged: Judged,
    /// When each of its tasks begins.
    pub begun: Vec<Moment>,
    /// What plain rules give.
    pub rules: Vec<RuleResult>,
    /// What no plan can beat.
    pub bounds: Bounds,
    /// Days simulated.
    pub evaluations: u64,
    /// Days dispatched in a timetable beside.
    pub dispatched: u64,
    /// Whether it was stopped before its end.
    pub stopped: bool,
    /// The plans among which the last choice was made.
    pub choice: Vec<Choice>,
    /// How many due times it keeps under luck, and the shop's own rules; none where nothing is left to luck.
    pub chances: Option<Chances>,
}

/// Searches for a plan. `stop` ends it with the best so far; `told` hears how far it is, from 0 to 1.
///
/// None if the shop has no stated order.
#[must_use]
pub fn plan(
    shop: &Shop,
    seed: u64,
    effort: Effort,
    stop: &AtomicBool,
    told: &(impl Fn(f64) + Sync),
) -> Option<Found> {
    let mut found = super::canonical::planned(shop, seed, effort, stop, told)?;
    name_loads(shop, &Line::new(shop), &mut found.plan);
    Some(found)
}

/// A search of its own with so much effort; less effort has found the plan below it.
pub(super) fn search(
    (shop, settled, bounds): (&Shop, Option<&Plan>, &Bounds),
    seed: u64,
    effort: Effort,
    below: Option<Found>,
    (stop, told): (&AtomicBool, &(impl Fn(f64) + Sync)),
) -> Option<Found> {
    let line = Line::new(shop);
    let own = settled.is_none().then(|| own_rules(shop, &line));
    let allowed = own.map(|own| own.1);
    let divided = match settled {
        Some(plan) => Divided::of(shop, &line, plan.clone(), None),
        None => divided(shop, &line, effort.days(), allowed),
    };
    let world = SearchContext::on(shop, &line, divided.blank).allowing(allowed);
    if world.lots() == 0 {
        return None;
    }
    let mut bench = world.bench();
    bench.runs = divided.spent;
    let mut starts = divided.starts;
    if world.weight() < LONG {
        starts.extend(packed(&world, seed, effort, stop, &mut bench));
    }
    starts.sort_by(|a, b| a.1.judged.cost.total_cmp(&b.1.judged.cost));
    let least = bounds.cost(shop);
    let mut found = world.along_the_path(&starts, (effort.days(), least, seed), (stop, &mut bench));
    found.extend(world.timetabled(&starts, effort, seed, (stop, &mut bench)));
    // Where a graph or a timetable says something, the line need not be asked as often; of the rest of a day it knows less.
    let days = match settled {
        Some(_) => effort.days() / world.weight(),
        None => asked(&world, &found, effort.days()),
    };
    starts.extend(found);
    starts.sort_by(|a, b| a.1.judged.cost.total_cmp(&b.1.judged.cost));
    let (built, ran) = built(&world, &starts, days, stop);
    bench.runs += ran;
    starts.extend(built);
    starts.sort_by(|a, b| a.1.judged.cost.total_cmp(&b.1.judged.cost));
    let (rules, ran, days_by_rules) = match settled {
        Some(_) => by_rules(&world),
        None => by_rules(&SearchContext::on(shop, &line, Plan::of(&line))),
    };
    bench.runs += ran;
    if settled.is_some() {
        // No plan of the rest is worse than what a rule of thumb makes of it.
        starts.extend(days_by_rules);
        starts.sort_by(|a, b| a.1.judged.cost.total_cmp(&b.1.judged.cost));
    }
    let rules = own
        .iter()
        .map(|own| RuleResult {
            name: OWN,
            judged: Some(own.0),
        })
        .chain(rules)
        .collect();
    let (mut runs, all) = (bench.runs, starts.into_iter());
    let mut best: Vec<(Solution, Evaluated)> = all.take(ISLANDS as usize).collect();
    let going_on = GoingOn {
        stop,
        told,
        ran: AtomicU64::new(runs),
        all: days,
    };
    // The rest of a day has little else that searches it.
    let too_few = if settled.is_some() { 0 } else { HEATINGS };
    for round in 0..ROUNDS {
        let share = days.saturating_sub(runs) / (ROUNDS - round) / ISLANDS;
        let done = best.first().is_some_and(|b| b.1.judged.cost <= least + 1e-9);
        if best.is_empty() || share <= too_few || done || stop.load(Ordering::Relaxed) {
            break;
        }
        let islands: Vec<_> = (0..ISLANDS)
            .into_par_iter()
            .map(|i| {
                let from = &best[if round == 0 || i % 2 == 1 {
                    i as usize % best.len()
                } else {
                    0
                }];
                let rng = ChaCha8Rng::seed_from_u64(
                    seed ^ (round * 1_000 + i + 1).wrapping_mul(0x9e37_79b9_7f4a_7c15),
                );
                // First a good day by the rules of care, then care brought forward in it.
                let ways = Ways::new(round > 0);
                island(&world, from, (share, least), ways, rng, &going_on)
            })
            .collect();
        runs += islands.iter().map(|i| i.2).sum::<u64>();
        best.extend(islands.into_iter().map(|(g, t, _)| (g, t)));
        best.sort_by(|a, b| a.1.judged.cost.total_cmp(&b.1.judged.cost));
        best.truncate(ISLANDS as usize);
    }
    let most = own.map_or(f64::INFINITY, |own| own.0.cost);
    let below = below.map(|b| (b.plan, b.judged, b.begun));
    let chosen = choose(&world, (&best, below), (seed, most), effort);
    let Chosen {
        held: (plan, judged, begun),
        choice,
        chances,
    } = chosen?;
    Some(Found {
        plan,
        judged,
        begun,
        rules,
        bounds: *bounds,
        evaluations: runs,
        dispatched: bench.dispatched,
        stopped: stop.load(Ordering::Relaxed),
        choice,
        chances,
    })
}

/// How many days the line is asked for, of so many common ones: fewer where a graph or a timetable has found something.
fn asked(world: &SearchContext<'_>, found: &[(Solution, Evaluated)], days: u64) -> u64 {
    match found.first() {
        None => days / world.weight(),
        // A path without a gap sets one end; of several that are late the line's own search finds more.
        Some((_, tried)) if world.tanks.is_empty() && tried.judged.late_orders > 0 => days / world.weight(),
        Some((_, tried)) if tried.care.is_empty() => days / ASKED_LESS / world.weight(),
        Some(_) => world.cared(days / ASKED_LESS_WITH_CARE),
    }
}

/// A search under way: who may stop it, who is told how far it is.
struct GoingOn<'a, T: Fn(f64) + Sync> {
    stop: &'a AtomicBool,
    told: &'a T,
    ran: AtomicU64,
    all: u64,
}

impl<T: Fn(f64) + Sync> GoingOn<'_, T> {
    /// So many more days were simulated.
    fn ran(&self, days: u64) {
        let ran = self.ran.fetch_add(days, Ordering::Relaxed) + days;
        (self.told)((ran as f64 / self.all.max(1) as f64).min(1.0));
    }
}

/// Plans whose loads are packed closely first.
fn packed(
    world: &SearchContext<'_>,
    seed: u64,
    effort: Effort,
    stop: &AtomicBool,
    bench: &mut Bench,
) -> Vec<(Solution, Evaluated)> {
    if world.tanks.is_empty() {
        return Vec::new();
    }
    let steps = (effort.days() / 4).clamp(200, 60_000) as u32;
    let least = if world.now > Moment::ZERO { ISLANDS } else { 1 };
    let packs: Vec<Solution> = (0..(effort.days() / PACKED).clamp(least, ISLANDS))
        .into_par_iter()
        .map(|i| {
            let mut g = world.plain();
            world.pack_closely(&mut g, steps, seed.wrapping_add(i), stop);
            g
        })
        .collect();
    let going = [Going::DueFirst, Going::LongestDwellFirst, Going::LeastSlackFirst];
    let in_order = |(mut g, going): (Solution, Going)| {
        world.put_in_order(&mut g, going);
        g
    };
    let all = packs
        .into_iter()
        .flat_map(|g| going.map(|going| (g.clone(), going)));
    let settled: Vec<_> = each_once(all.map(in_order))
        .into_par_iter()
        .map(|g| {
            let mut bench = world.bench();
            (world.settled(g, &mut bench), bench.runs)
        })
        .collect();
    bench.runs += settled.iter().map(|s| s.1).sum::<u64>();
    settled.into_iter().filter_map(|s| s.0).collect()
}

/// Plans that are built deed by deed from the best ways of grouping, and how many days it took.
fn built(
    world: &SearchContext<'_>,
    starts: &[(Solution, Evaluated)],
    days: u64,
    stop: &AtomicBool,
) -> (Vec<(Solution, Evaluated)>, u64) {
    let mut groupings: Vec<&(Solution, Evaluated)> = Vec::new();
    for start in starts {
        let seen = groupings.iter().any(|g| g.0.head == start.0.head);
        if !seen && groupings.len() < ISLANDS as usize {
            groupings.push(start);
        }
    }
    let found: Vec<_> = groupings
        .into_par_iter()
        .map(|grouping| {
            let mut bench = world.bench();
            let plans = world.abreast(grouping, days, stop, &mut bench);
            (plans, bench.runs)
        })
        .collect();
    let ran = found.iter().map(|f| f.1).sum();
    (found.into_iter().flat_map(|f| f.0).collect(), ran)
}

/// One search: begins at a plan, ends after so many days. Returns its best and how many days it took.
fn island(
    world: &SearchContext<'_>,
    from: &(Solution, Evaluated),
    (days, least): (u64, f64),
    mut ways: Ways,
    mut rng: ChaCha8Rng,
    going_on: &GoingOn<'_, impl Fn(f64) + Sync>,
) -> (Solution, Evaluated, u64) {
    let mut bench = world.bench();
    let (mut now, mut tried) = from.clone();
    let (mut best, mut best_tried) = from.clone();
    let hot = heat(world, &now, &tried, &mut bench, &mut rng);
    let mut fresh = now.clone();
    let mut tries: u64 = 0;
    let mut told = 0;
    while bench.runs < days && tries < 50 * days {
        tries += 1;
        if tries.is_multiple_of(64) {
            going_on.ran(bench.runs - told);
            told = bench.runs;
        }
        if going_on.stop.load(Ordering::Relaxed) || best_tried.judged.cost <= least + 1e-9 {
            break;
        }
        let gone = (bench.runs as f64 / days as f64).min(1.0);
        let heat = hot * libm::pow(0.004, gone);
        fresh.clone_from(&now);
        let twice = rng.random_range(0..6) == 0;
        let (mut way, mut times) = world.change(&mut fresh, &tried, &ways, &mut rng);
        if twice && times.is_none() {
            (way, times) = world.change(&mut fresh, &tried, &ways, &mut rng);
        }
        if fresh == now {
            continue;
        }
        let before = bench.runs;
        let luck: f64 = rng.random::<f64>().max(1e-12);
        let limit = tried.judged.cost - heat * libm::log(luck);
        let mut new = world.try_out(&fresh, true, limit, &mut bench);
        if let Some(times) = times.filter(|_| bench.unmended) {
            new = world.try_at(&fresh, &times, limit, &mut bench);
        }
        ways.tell(way, bench.runs - before, gain(new.as_ref(), &tried, &best_tried));
        let Some(new) = new else { continue };
        std::mem::swap(&mut now, &mut fresh);
        if world.shop.aim.overtaking {
            world.in_order_of_time(&mut now, &new);
        }
        if new.judged.cost < best_tried.judged.cost - 1e-9 {
            best.clone_from(&now);
            best_tried = new.clone();
        }
        tried = new;
    }
    (best, best_tried, bench.runs)
}

/// What a change has brought: something better, the best so far, or nothing.
fn gain(new: Option<&Evaluated>, tried: &Evaluated, best: &Evaluated) -> f64 {
    let better = |than: &Evaluated| new.is_some_and(|n| n.judged.cost < than.judged.cost - 1e-9);
    match (better(best), better(tried)) {
        (true, _) => 5.0,
        (false, true) => 1.0,
        (false, false) => 0.0,
    }
}

/// How hot to begin: half of what a change for the worse usually costs.
fn heat(
    world: &SearchContext<'_>,
    g: &Solution,
    tried: &Evaluated,
    bench: &mut Bench,
    rng: &mut ChaCha8Rng,
) -> f64 {
    let limit = tried.judged.cost + 1e6;
    let mut worse: Vec<f64> = Vec::new();
    for _ in 0..HEATINGS {
        let mut fresh = g.clone();
        world.change(&mut fresh, tried, &Ways::new(false), rng);
        let new = world.try_out(&fresh, true, limit, bench);
        worse.extend(
            new.map(|n| n.judged.cost - tried.judged.cost)
                .filter(|by| *by > 0.0),
        );
    }
    worse.sort_by(f64::total_cmp);
    worse.get(worse.len() / 3).map_or(1.0, |w| 0.5 * w)
}
