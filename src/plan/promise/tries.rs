//! All that is looked at with one effort: calendar after calendar, until a time is found.

use super::bases::{Like, with_room};
use super::days::with_more_days;
use super::place::{Placed, places};
use super::sample::{By, Sample};
use super::stage::{Kept, Stage};
use super::{Asked, Refused, stands_at};
use crate::bound::earliest_ready;
use crate::choose::held;
use crate::effort::Effort;
use crate::model::SearchContext;
use crate::search::plan;
use std::rc::Rc;
use std::sync::atomic::{AtomicBool, Ordering};
use tankday_base::shop::{Arrival, Keeping, Shop};
use tankday_base::units::{Moment, Span};
use tankday_line::{Line, Plan};

/// An order may be kept on so many fewer of 100 days, and still counts as kept as often: less is noise of the search.
const TOLERANCE: f64 = 0.02;
/// More days that are tried, one after the other.
const MORE_DAYS: [usize; 3] = [0, 1, 6];
/// Of the days with the order placed in them so many are run under luck at most,
const RUN: usize = 20;
/// and no more once so many push nobody aside and the next is later on the mean day than one of them surely.
const ENOUGH: usize = 3;
/// So near to what no plan can beat nothing better is looked for.
const NEAR: Span = Span::whole_minutes(5);
/// Orders like the new one for which room is made,
const LIKES: [Like; 3] = [
    Like {
        loads: 1,
        through: 0.0,
    },
    Like {
        loads: 1,
        through: 0.4,
    },
    Like {
        loads: 2,
        through: 0.0,
    },
];
/// on so many days.
const DAYS: usize = 2;
/// A time, and the plan that keeps it.
#[derive(Debug)]
pub(super) struct Told<'r> {
    pub(super) at: Moment,
    pub(super) stage: &'r Stage,
    pub(super) kept: &'r Kept,
}

/// The day without the new order.
#[derive(Debug)]
pub(super) struct Base {
    /// A plan that says nothing where there is nothing to plan.
    plan: Plan,
    /// For each other order the days on which it is kept.
    pub(super) kept: Rc<[u32]>,
    /// The same by the shop's own rules.
    by_rules: Rc<[u32]>,
}

/// What was found with one effort.
#[derive(Debug)]
pub(super) struct Rung<'a> {
    pub(super) shop: &'a Shop,
    without: Shop,
    asked: Asked,
    stop: &'a AtomicBool,
    pub(super) base: Base,
    pub(super) stages: Vec<Stage>,
    pub(super) refused: Option<Refused>,
    pub(super) plans: u32,
}

/// Beyond what is normal each effort is so many times the one below it.
const MORE: u64 = 8;

impl Effort {
    /// All that is searched, the least first: the same efforts for everybody, as far as this one reaches, and never less
    /// than a moment. So whatever effort less looks at, more effort looks at as well.
    pub(super) fn rungs(self) -> Vec<Self> {
        let step = |e: &Self| match e {
            Self::Quick => Some(Self::Normal),
            Self::Normal => Some(Self::Days(Self::Long.days() / MORE)),
            _ => Some(match e.days().checked_mul(MORE)? {
                days if days == Self::Long.days() => Self::Long,
                days => Self::Days(days),
            }),
        };
        let all = std::iter::successors(Some(Self::Quick), step);
        all.take_while(|e| *e == Self::Quick || e.days() <= self.days())
            .collect()
    }
}

impl<'a> Rung<'a> {
    pub(super) fn new(shop: &'a Shop, asked: Asked, stop: &'a AtomicBool) -> Self {
        let mut without = shop.clone();
        without.orders.pop();
        let found = plan(&without, asked.seed, asked.effort, stop, &|_| ()).map(|f| f.plan);
        let line = Line::new(&without);
        let kept = |by: By<'_>| -> Rc<[u32]> { Sample::of(&without, &line, by, asked).kept.into() };
        let by_rules = kept(By::Rules);
        let found = found.unwrap_or_else(|| Plan::of(&line));
        let base = Base {
            kept: kept(By::Plan(&found)),
            by_rules,
            plan: found,
        };
        Self {
            shop,
            without,
            asked,
            stop,
            base,
            stages: Vec::new(),
            refused: None,
            plans: 1,
        }
    }

    /// The time that holds on so many days: of the first calendar that has one, and none earlier than a less sure one was
    /// told on a shorter calendar.
    pub(super) fn on(&self, days: usize) -> Option<Told<'_>> {
        let mut least = Moment::ZERO;
        for stage in &self.stages {
            if let Some((at, kept)) = stage.on(days) {
                let at = at.max(least);
                return Some(Told { at, stage, kept });
            }
            least = least.max(stage.latest(days));
        }
        None
    }

    /// Looks at calendar after calendar.
    pub(super) fn climb(&mut self, told: &impl Fn(f64)) {
        for (n, more) in MORE_DAYS.into_iter().enumerate() {
            let stage = self.stage(more);
            self.stages.push(stage);
            told((n + 1) as f64 / MORE_DAYS.len() as f64);
            if self.on(self.asked.least_days()).is_some() || self.stop.load(Ordering::Relaxed) {
                return;
            }
        }
        for more in MORE_DAYS {
            let stage = self.by_rules(more);
            self.stages.extend(stage);
            if self.on(self.asked.least_days()).is_some() || self.stop.load(Ordering::Relaxed) {
                return;
            }
        }
    }

    fn stage(&mut self, more: usize) -> Stage {
        let shop = with_more_days(self.shop, more);
        let rules = as_by_rules(&shop).and_then(|rules| self.kept(&shop, rules, true));
        let mut stage = Stage {
            more_days: more,
            placed: Vec::new(),
            by_rules: rules.into_iter().collect(),
            shop,
        };
        let base = self.base.plan.clone();
        self.place(&mut stage, std::slice::from_ref(&base));
        // On further days there is room anyway.
        let days = if more > 0 || base.lots.is_empty() { 0 } else { DAYS };
        let first = self.day_of_arrival(&stage.shop);
        for day in first..first + days {
            let Some(open) = stage.shop.calendar.days.get(day).map(|d| d.open) else {
                break;
            };
            let best = earliest_ready(&stage.shop).last().copied().flatten();
            let near = best.map_or(open, |at| open.max(at + NEAR));
            if stage.surely_by(self.asked.days) <= near || self.stop.load(Ordering::Relaxed) {
                break;
            }
            let likes = if self.asked.effort.days() > Effort::Quick.days() {
                &LIKES[..1]
            } else {
                &LIKES[..]
            };
            let room = |like: &Like| with_room(&stage.shop, day, *like, self.asked, self.stop);
            let bases: Vec<Plan> = likes.iter().filter_map(room).collect();
            self.place(&mut stage, &bases);
        }
        stage
    }

    /// The opening day on which the order comes, or the next.
    fn day_of_arrival(&self, shop: &Shop) -> usize {
        let at = match shop.orders.last().map(|o| &o.arrival) {
            Some(Arrival::At(at)) => *at,
            _ => Moment::ZERO,
        };
        let days = &shop.calendar.days;
        days.iter().position(|d| d.close > at).unwrap_or(days.len())
    }

    /// The order placed into days without it.
    fn place(&mut self, stage: &mut Stage, bases: &[Plan]) {
        let without = with_more_days(&self.without, stage.more_days);
        let mut placed: Vec<Placed> = bases
            .iter()
            .flat_map(|base| places(&stage.shop, &without, base))
            .collect();
        placed.sort_by_key(|p| (p.ready == Moment::NEVER, p.pushed, p.ready));
        placed.dedup_by(|a, b| a.ready == b.ready && a.plan == b.plan);
        let (mut sound, mut run) = (0, 0);
        for placed in placed {
            let later = || placed.ready >= stage.surely_by(self.asked.days);
            if (sound >= ENOUGH && later()) || self.stop.load(Ordering::Relaxed) {
                break;
            }
            run += usize::from(!placed.apart);
            if run > RUN && !placed.apart {
                continue;
            }
            if let Some(found) = self.kept(&stage.shop, placed.plan, false) {
                sound += usize::from(found.sample.ever() == self.asked.days as usize);
                stage.placed.push(found);
            }
        }
    }

    /// A plan on many days, if it pushes nobody aside.
    fn kept(&mut self, shop: &Shop, plan: Plan, by_rules: bool) -> Option<Kept> {
        self.plans += 1;
        let line = Line::new(shop);
        let less = TOLERANCE * f64::from(self.asked.days);
        let least: Vec<f64> = self.base.kept.iter().map(|b| f64::from(*b) - less).collect();
        match Sample::keeping(shop, &line, By::Plan(&plan), self.asked, &least) {
            Ok(sample) => {
                let never = sample.on(self.asked.least_days()) == Moment::NEVER;
                if never && self.stages.is_empty() && self.refused.is_none() {
                    self.refused = Some(Refused::NotReady(stands_at(shop, &plan)));
                }
                Some(Kept {
                    plan,
                    sample,
                    without: self.base.kept.clone(),
                    by_rules,
                })
            }
            Err(order) => {
                if self.stages.is_empty() {
                    self.refused = Some(Refused::Pushes(order));
                }
                None
            }
        }
    }

    /// Where no plan has a time: the day by the shop's own rules, if it keeps the others as often as these rules do
    /// without the new order.
    fn by_rules(&self, more: usize) -> Option<Stage> {
        let shop = with_more_days(self.shop, more);
        let line = Line::new(&shop);
        let mut plan = Plan::of(&line);
        plan.keeping = Keeping::OwnRules;
        let less = TOLERANCE * f64::from(self.asked.days);
        let least: Vec<f64> = self.base.by_rules.iter().map(|b| f64::from(*b) - less).collect();
        let sample = Sample::keeping(&shop, &line, By::Plan(&plan), self.asked, &least).ok()?;
        Some(Stage {
            more_days: more,
            placed: vec![Kept {
                plan,
                sample,
                without: self.base.by_rules.clone(),
                by_rules: true,
            }],
            by_rules: Vec::new(),
            shop,
        })
    }
}

/// The day by the shop's own rules as a plan.
fn as_by_rules(shop: &Shop) -> Option<Plan> {
    if !shop.orders.iter().any(|o| matches!(o.arrival, Arrival::At(_))) {
        return None;
    }
    let line = Line::new(shop);
    let world = SearchContext::on(shop, &line, Plan::of(&line));
    let mut bench = world.bench();
    let (g, tried) = world.as_usual(&mut bench)?;
    Some(held(&world, &g, &tried, &mut bench).0)
}

#[cfg(test)]
mod tests {
    use super::Effort;

    #[test]
    fn more_effort_looks_at_all_that_less_effort_looks_at() {
        let days = [
            1,
            20,
            1_499,
            1_500,
            3_000,
            14_000,
            20_000,
            100_000,
            800_000,
            6_400_000,
            u64::MAX,
        ];
        let efforts = days.map(Effort::Days).map(Effort::rungs);
        for pair in efforts.windows(2) {
            assert!(pair[1].starts_with(&pair[0]), "{pair:?}");
        }
        let named = [Effort::Quick, Effort::Normal, Effort::Long];
        for effort in named {
            assert_eq!(effort.rungs().last(), Some(&effort));
            assert_eq!(effort.rungs(), Effort::Days(effort.days()).rungs());
        }
    }
}
