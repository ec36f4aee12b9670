//! The last choice among the best plans, made under luck: a plan that holds on many days is better than one that is best
//! on the mean day.

use super::effort::Effort;
use super::judge::{CostObserver, Judged, Space};
use super::model::{Evaluated, SearchContext, Solution};
use super::planned::as_written;
use super::timed::DayObserver;
use super::try_out::Bench;
use rayon::prelude::*;
use tankday_base::random::{Spread, Streams};
use tankday_base::shop::{Keeping, Shop, StepTime};
use tankday_base::units::{Moment, Span};
use tankday_line::Plan;

/// Days under different luck for a first choice, and for the last between the best two.
const DAYS: u64 = 24;
const MORE_DAYS: u64 = 200;
/// Of these days one in so many tells what is worth looking at on all.
const FEW: u64 = 3;
/// Fewer than these say nothing, however long each takes.
const LEAST_DAYS: u64 = 4;
/// Plans of which one is chosen in the end.
const FINALISTS: usize = 2;

/// The shop's own rules are kept to where they keep so large a part more of all due times under luck: one in 200 (ours, no
/// source).
const CLEARLY: f64 = 0.005;

/// A limit that breaks since times are rounded is mended in so many rounds.
const SETTLINGS: usize = 4;
const SECOND: Span = Span::micros(1_000_000);

/// One of the plans among which the last choice is made.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Choice {
    /// How it comes out when every step takes its mean time.
    pub judged: Judged,
    /// Due times kept, on average of days under luck.
    pub kept: f64,
    /// What it costs when every step takes its mean time.
    pub mean_day: f64,
    /// What it costs on average under luck; as on the mean day, if nothing is left to luck.
    pub under_luck: f64,
    /// Orders late or undone and limits broken, on average of these days.
    pub missed: f64,
    /// Whether it was chosen.
    pub chosen: bool,
}

/// How many due times are kept on days under different luck.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Chances {
    /// Days looked at.
    pub days: u64,
    /// Due times on each.
    pub due: u32,
    /// Of these kept on average by the plan.
    pub kept: f64,
    /// And by the shop's own rules.
    pub by_rules: f64,
}

/// What many days under luck come to on average.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Score {
    missed: f64,
    kept: f64,
    pub(super) cost: f64,
}

impl Score {
    fn of(days: &[Judged]) -> Self {
        let mean = |what: fn(&Judged) -> f64| days.iter().map(what).sum::<f64>() / days.len().max(1) as f64;
        Self {
            missed: mean(|j| f64::from(j.late_orders + j.unready + j.breaches)),
            kept: mean(|j| f64::from(j.kept)),
            cost: mean(|j| j.cost),
        }
    }

    /// Clearly more due times kept, of so many, and no more due times and limits missed in all.
    fn clearly_better(&self, than: &Self, due: u32) -> bool {
        let by = CLEARLY * f64::from(due);
        self.kept > than.kept + by && self.missed < than.missed - by
    }

    /// Fewer due times and limits missed; of as many less cost.
    pub(super) fn better(&self, than: &Self) -> bool {
        self.missed < than.missed - 1e-9
            || (self.missed <= than.missed + 1e-9 && self.cost < than.cost - 1e-9)
    }
}

/// The plan as a preference with its times held, and chosen among the best by many days under different luck. None that is
/// worse on the mean day than what less effort found, or than `most`, is chosen.
pub(super) fn choose(
    world: &SearchContext<'_>,
    (best, below): (&[(Solution, Evaluated)], Option<Held>),
    (seed, most): (u64, f64),
    effort: Effort,
) -> Option<Chosen> {
    let many = if world.weight() > 1 { FINALISTS } else { best.len() };
    let best = &best[..many.min(best.len())];
    let held = best
        .par_iter()
        .map(|(g, tried)| held(world, g, tried, &mut world.bench()));
    let made = each_once(held.collect());
    let mut made: Vec<Held> = made.into_par_iter().map(|m| in_its_file(world, m)).collect();
    let most = below.as_ref().map_or(most, |b| b.1.cost.min(most));
    let no_worse = |m: &Held| m.1.cost <= most + 1e-9;
    // What less effort found is taken only where more has found nothing as good.
    let below = below.filter(|_| !made.iter().any(no_worse));
    let known = below.as_ref().map(|b| b.0.clone());
    made.extend(below);
    if made.iter().any(no_worse) {
        made.retain(no_worse);
    } else if let Some(rules) = by_the_rules(world) {
        // To keep to the shop's own rules is an answer, too.
        made = vec![rules];
    }
    let made = each_once(made);
    let luck = UnderLuck::of(world, seed, DAYS);
    let score_of = |m: Held| {
        let score = luck.score(world, &m);
        (m, score)
    };
    let mut scored: Vec<(Held, Score)> = made.into_iter().map(score_of).collect();
    sort(&mut scored);
    let mut last = luck;
    if effort.days() >= Effort::Normal.days() && luck.lucky {
        last = UnderLuck::of(world, seed, MORE_DAYS);
        for (held, score) in scored.iter_mut().take(FINALISTS) {
            *score = last.score(world, held);
        }
        scored.truncate(FINALISTS);
        sort(&mut scored);
    }
    let mut choice: Vec<Choice> = scored
        .iter()
        .enumerate()
        .map(|(i, (held, score))| Choice::of(held, score, i == 0))
        .collect();
    let (mut held, mut score) = scored.into_iter().next()?;
    // What less effort found is heated as late as can be already.
    let is_known = known.is_some_and(|k| k == held.0);
    let later = match is_known {
        true => None,
        false => world.heated_later(&held, (score, most), last),
    };
    if let Some((later, by)) = later {
        choice.iter_mut().for_each(|c| c.chosen = false);
        choice.push(Choice::of(&later, &by, true));
        (held, score) = (later, by);
    }
    let due = world.dues.iter().filter(|d| **d < Moment::NEVER).count() as u32;
    let rules = by_the_rules(world).filter(|_| last.lucky && due > 0);
    let chances = rules.map(|rules| {
        let by = last.score(world, &rules);
        let chances = Chances {
            days: last.days,
            due,
            kept: score.kept,
            by_rules: by.kept,
        };
        if by.clearly_better(&score, due) {
            choice.iter_mut().for_each(|c| c.chosen = false);
            choice.push(Choice::of(&rules, &by, true));
            held = rules;
        }
        chances
    });
    Some(Chosen {
        held,
        choice,
        chances,
    })
}

/// Searches side by side often end at the same plan.
fn each_once(made: Vec<Held>) -> Vec<Held> {
    let mut once: Vec<Held> = Vec::with_capacity(made.len());
    for held in made {
        if once.iter().all(|o| o.0 != held.0) {
            once.push(held);
        }
    }
    once
}

/// The day by the shop's own rules; none where something is settled already.
fn by_the_rules(world: &SearchContext<'_>) -> Option<Held> {
    if world.now > Moment::ZERO || world.blank.pinned.contains(&true) {
        return None;
    }
    let mut plan = Plan::of(world.line);
    plan.keeping = Keeping::OwnRules;
    let (judged, begun) = one_day(world, &plan, None);
    Some((plan, judged, begun))
}

fn sort(scored: &mut [(Held, Score)]) {
    // Missed in millionths, so that sums in another order cannot matter.
    scored.sort_by(|a, b| {
        let missed = |s: &Score| libm::round(s.missed * 1e6);
        missed(&a.1)
            .total_cmp(&missed(&b.1))
            .then(a.1.cost.total_cmp(&b.1.cost))
    });
}

/// What was chosen, among what, and how many due times it keeps under luck, if anything is left to luck.
pub(super) struct Chosen {
    pub(super) held: Held,
    pub(super) choice: Vec<Choice>,
    pub(super) chances: Option<Chances>,
}

impl Choice {
    fn of(held: &Held, score: &Score, chosen: bool) -> Self {
        Self {
            judged: held.1,
            kept: score.kept,
            mean_day: held.1.cost,
            under_luck: score.cost,
            missed: score.missed,
            chosen,
        }
    }
}

/// Days under different luck, the same for every plan.
#[derive(Debug, Clone, Copy)]
pub(super) struct UnderLuck {
    seed: u64,
    days: u64,
    lucky: bool,
}

impl UnderLuck {
    fn of(world: &SearchContext<'_>, seed: u64, days: u64) -> Self {
        Self {
            seed,
            days: (days / world.weight()).max(LEAST_DAYS),
            lucky: has_luck(world.shop),
        }
    }

    /// The first few of these days, no more than a first choice looks at.
    pub(super) fn first(self) -> Self {
        Self {
            days: (self.days / FEW).clamp(LEAST_DAYS, DAYS),
            ..self
        }
    }

    /// What a plan comes to; as on the mean day, if nothing is left to luck.
    pub(super) fn score(self, world: &SearchContext<'_>, held: &Held) -> Score {
        if !self.lucky {
            return Score::of(&[held.1]);
        }
        let day = |r| one_day(world, &held.0, Some(Streams::new(self.seed, r))).0;
        Score::of(&(0..self.days).into_par_iter().map(day).collect::<Vec<_>>())
    }
}

/// A plan ready to be followed, how it comes out, when its tasks begin.
pub(super) type Held = (Plan, Judged, Vec<Moment>);

/// A plan as its file says it, and how it comes out so: a sequence without times gets times there, in whole seconds. The rest
/// of a day is written with what was noted, and stays as it is.
fn in_its_file(world: &SearchContext<'_>, made: Held) -> Held {
    if world.now > Moment::ZERO || world.blank.pinned.contains(&true) {
        return made;
    }
    let (_, plan) = as_written(world.shop, world.line, &made.0);
    let (judged, begun) = one_day(world, &plan, None);
    (plan, judged, begun)
}

/// Runs a plan once.
pub(super) fn one_day(
    world: &SearchContext<'_>,
    plan: &Plan,
    luck: Option<Streams>,
) -> (Judged, Vec<Moment>) {
    let judge = CostObserver::new(world.shop, plan, &world.dues, f64::INFINITY, Space::default());
    let mut clerk = DayObserver(judge);
    let outcome = world.line.follow(plan, luck, &mut clerk);
    let mut judged = clerk.0.verdict(&outcome);
    // What luck does to limits counts as missed.
    judged.cost += match luck {
        Some(_) => 0.0,
        None => world.excess(&clerk.0),
    };
    (judged, clerk.0.space().begun)
}

/// Nothing before its time, everything as soon after it as can be: what the day is followed by. Where that comes out
/// worse than the strict sequence, the strict sequence stays.
pub(super) fn held(world: &SearchContext<'_>, g: &Solution, tried: &Evaluated, bench: &mut Bench) -> Held {
    let known = world.try_out(g, true, f64::INFINITY, bench).is_some();
    let mut strict = bench.plan.clone();
    strict.hold.clone_from(&tried.hold);
    let (as_strict, begun_strict) = one_day(world, &strict, None);
    let mut best = with_times(world, strict.clone(), &tried.begun);
    // With its times a plan says on which day a load goes in: baths are hot only for these, and a cold one takes longer.
    if let Some(again) = world.try_at(g, &tried.begun, f64::INFINITY, bench) {
        let other = with_times(world, strict.clone(), &again.begun);
        if other.1.cost < best.1.cost - 1e-9 {
            best = other;
        }
    }
    if known && as_strict.cost < best.1.cost - 1e-9 {
        return (strict, as_strict, begun_strict);
    }
    best
}

/// The same for a decision that was just run, whatever other times its sequence alone would give.
pub(super) fn held_as_run(world: &SearchContext<'_>, tried: &Evaluated, bench: &Bench) -> Held {
    let strict = bench.plan.clone();
    let loose = with_times(world, strict.clone(), &tried.begun);
    if tried.judged.cost < loose.1.cost - 1e-9 {
        return (strict, tried.judged, tried.begun.clone());
    }
    loose
}

/// A plan as a preference with its times, in whole seconds as in a plan file.
fn with_times(world: &SearchContext<'_>, mut plan: Plan, begun: &[Moment]) -> Held {
    plan.keeping = Keeping::Loosely;
    // What does not begin at all is held as it was settled: of a day under way nothing begins before now.
    for ((hold, begun), settled) in plan.hold.iter_mut().zip(begun).zip(&world.blank.hold) {
        *hold = if *begun < Moment::NEVER {
            whole_second(*begun).max(*settled)
        } else {
            *settled
        };
    }
    let run = |plan: &Plan| {
        let mut judge = CostObserver::new(world.shop, plan, &world.dues, f64::INFINITY, Space::default());
        let outcome = world.line.follow(plan, None, &mut judge);
        let (mut judged, later) = (judge.verdict(&outcome), world.mended(&judge));
        judged.cost += world.excess(&judge);
        (judged, later, judge.space().begun)
    };
    let (judged, mut later, begun) = run(&plan);
    let mut best = (plan.clone(), judged, begun);
    for _ in 1..SETTLINGS {
        if later.is_empty() {
            break;
        }
        for (task, at) in later {
            let hold = &mut plan.hold[task as usize];
            *hold = (*hold).max(whole_second(at) + SECOND + SECOND);
        }
        let (judged, still, begun) = run(&plan);
        if judged.cost < best.1.cost {
            best = (plan.clone(), judged, begun);
        }
        later = still;
    }
    best
}

/// Rounded down.
fn whole_second(at: Moment) -> Moment {
    let second = SECOND.in_micros();
    Moment::micros(at.in_micros().div_euclid(second) * second)
}

/// Whether anything on the way is left to luck.
fn has_luck(shop: &Shop) -> bool {
    shop.routes.iter().flat_map(|r| &r.steps).any(|s| {
        s.retry.is_some()
            || matches!(&s.time, StepTime::Work { load, .. } if !matches!(load, Spread::Fixed(_)))
    })
}
