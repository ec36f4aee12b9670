//! What can be promised for one more order: the earliest time by which it is ready on enough days under different luck,
//! with the other orders kept as often as without it.
//!
//! The day is planned without the order, and then with it, due at this time and that: early times push others aside,
//! late ones do not. The earliest ready time among the plans that push nobody aside is what can be promised. If none of
//! the stated days will do, the calendar goes on.

mod days;

use super::search::{Effort, plan};
use crate::line::{Line, Plan};
use crate::luck::Luck;
use crate::print::promise as rounded;
use crate::record::{Event, Record, Stretch, Wait, Watcher, order_waits};
use crate::shop::{Arrival, Shop, StepRef};
use crate::units::{Moment, Share, Span};
use days::with_more_days;
use rayon::prelude::*;
use std::sync::atomic::{AtomicBool, Ordering};

/// An order may be kept on so many fewer of 100 days, and still counts as kept as often: less is noise of the search.
const TOLERANCE: f64 = 0.02;
/// Due times that are tried between the earliest and the latest.
const HALVINGS: usize = 4;
/// More days that are tried, one after the other.
const MORE_DAYS: [usize; 3] = [0, 1, 6];

/// How to look for a promise.
#[derive(Debug, Clone, Copy)]
pub struct Asked {
    /// On such a share of days it must be ready by the time promised.
    pub sure: Share,
    /// Seed of the search and of all luck.
    pub seed: u64,
    /// How much to search for each plan.
    pub effort: Effort,
    /// Days under different luck.
    pub days: u32,
}

/// What can be promised.
#[derive(Debug, Clone)]
pub struct Promised {
    /// The shop with the new order, its calendar as long as was needed.
    pub shop: Shop,
    /// The plan that keeps the promise; none if no time can be promised.
    pub plan: Option<Plan>,
    /// The time; rounded up to five minutes.
    pub by: Option<Moment>,
    /// Days on which the order is ready by then.
    pub kept: u32,
    /// Ready by then on half of the days.
    pub usual: Option<Moment>,
    /// Every other order: days on which it is kept without the new one, and with it.
    pub others: Vec<(u32, u32)>,
    /// Days looked at.
    pub days: u32,
    /// More opening days that were needed.
    pub more_days: usize,
    /// The step that the order waits for longest on the promised day, and why.
    pub blocked: Option<(StepRef, Wait, Span)>,
    /// Why the days stated will not do, if they will not.
    pub refused: Option<Refused>,
    /// Plans that were searched.
    pub plans: u32,
}

/// Why no time can be promised on some days.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Refused {
    /// It does not get ready then on enough days; where it stands at the end.
    NotReady(Option<StepRef>),
    /// It would, but then this order, by its number, would be kept less often.
    Pushes(u32),
}

/// Finds what can be promised for the last order of a shop. `told` hears how far it is, from 0 to 1. None if the shop
/// has no stated order.
#[must_use]
pub fn promise(
    shop: &Shop,
    asked: Asked,
    stop: &AtomicBool,
    told: &(impl Fn(f64) + Sync),
) -> Option<Promised> {
    let mut without = shop.clone();
    let new = without.orders.pop()?;
    if !matches!(new.arrival, Arrival::At(_)) {
        return None;
    }
    let base = kept_without(&without, asked, stop);
    let mut plans = u32::from(!without.orders.is_empty());
    let mut refused = None;
    let mut last = None;
    for (n, more) in MORE_DAYS.into_iter().enumerate() {
        let long = with_more_days(shop, more);
        let search = Search {
            shop: &long,
            asked,
            base: &base,
            stop,
        };
        let (best, why, tried) = search.earliest();
        plans += tried;
        told((n + 1) as f64 / MORE_DAYS.len() as f64);
        if let Some(best) = best {
            told(1.0);
            return Some(search.promised(best, more, refused, plans));
        }
        refused = refused.or(why);
        last = Some(long);
        if stop.load(Ordering::Relaxed) {
            break;
        }
    }
    Some(Promised {
        shop: last?,
        plan: None,
        by: None,
        kept: 0,
        usual: None,
        others: base.iter().map(|b| (*b, *b)).collect(),
        days: asked.days,
        more_days: MORE_DAYS[MORE_DAYS.len() - 1],
        blocked: None,
        refused,
        plans,
    })
}

/// Days on which each order is kept without the new one.
fn kept_without(shop: &Shop, asked: Asked, stop: &AtomicBool) -> Vec<u32> {
    let line = Line::new(shop);
    match plan(shop, asked.seed, asked.effort, stop, &|_| ()) {
        Some(found) => Sample::of(shop, &line, &found.plan, asked).kept,
        None => vec![0; shop.orders.len()],
    }
}

/// What many days give for a plan.
struct Sample {
    /// For each order the days on which it is kept.
    kept: Vec<u32>,
    /// Ready times of the last order, in order.
    ready: Vec<Moment>,
}

/// Notes when stated orders are ready.
struct Readies {
    source_of: Vec<u32>,
    ready: Vec<Moment>,
}

impl Watcher for Readies {
    const SAMPLES: bool = false;
    const MOST_EVENTS: u64 = 2_000_000;

    fn note(&mut self, at: Moment, event: Event) {
        match event {
            Event::OrderArrives { source, .. } => self.source_of.push(source.0),
            Event::OrderReady { order } => {
                let source = self.source_of.get(order.0 as usize).map(|s| *s as usize);
                if let Some(ready) = source.and_then(|s| self.ready.get_mut(s)) {
                    *ready = at;
                }
            }
            _ => {}
        }
    }
}

impl Sample {
    fn of(shop: &Shop, line: &Line<'_>, plan: &Plan, asked: Asked) -> Self {
        let one = |replication: u32| {
            let mut watch = Readies {
                source_of: Vec::new(),
                ready: vec![Moment::NEVER; shop.orders.len()],
            };
            line.follow(
                plan,
                Some(Luck::new(asked.seed, u64::from(replication))),
                &mut watch,
            );
            watch.ready
        };
        let days: Vec<Vec<Moment>> = (0..asked.days).into_par_iter().map(one).collect();
        let on_time = |i: usize, day: &Vec<Moment>| {
            let ready = day.get(i).copied().unwrap_or(Moment::NEVER);
            ready <= due(shop, i).min(Moment::micros(Moment::NEVER.in_micros() - 1))
        };
        let kept = (0..shop.orders.len())
            .map(|i| days.iter().filter(|d| on_time(i, d)).count() as u32)
            .collect();
        let mut ready: Vec<Moment> = days.iter().filter_map(|d| d.last().copied()).collect();
        ready.sort_unstable();
        Self { kept, ready }
    }

    /// Ready by then on such a share of days; never, if it is not.
    fn by(&self, share: f64) -> Moment {
        let at = (libm::ceil(share * self.ready.len() as f64) as usize).clamp(1, self.ready.len().max(1));
        self.ready.get(at - 1).copied().unwrap_or(Moment::NEVER)
    }
}

fn due(shop: &Shop, order: usize) -> Moment {
    match shop.orders.get(order).map(|o| (&o.arrival, o.due_after)) {
        Some((Arrival::At(at), Some(after))) => *at + after,
        _ => Moment::NEVER,
    }
}

/// A plan that was tried.
struct Tried {
    plan: Plan,
    sample: Sample,
    by: Moment,
    /// An order that is kept less often.
    pushed: Option<u32>,
}

struct Search<'a> {
    shop: &'a Shop,
    asked: Asked,
    base: &'a [u32],
    stop: &'a AtomicBool,
}

impl Search<'_> {
    /// The earliest time among the plans that push nobody aside, or why there is none, and how many were tried.
    fn earliest(&self) -> (Option<Tried>, Option<Refused>, u32) {
        let arrives = match self.shop.orders.last().map(|o| &o.arrival) {
            Some(Arrival::At(at)) => *at,
            _ => return (None, None, 0),
        };
        let mut tried = 0;
        let mut attempt = |due: Option<Moment>| {
            tried += 1;
            self.attempt(due.map(|d| d - arrives))
        };
        let mut best: Option<Tried> = None;
        let mut why = Refused::NotReady(None);
        let mut keep = |t: Tried, best: &mut Option<Tried>| {
            if t.by == Moment::NEVER {
                why = if why == Refused::NotReady(None) {
                    Refused::NotReady(self.stands_at(&t.plan))
                } else {
                    why
                };
            } else if let Some(order) = t.pushed {
                why = Refused::Pushes(order);
            } else if best.as_ref().is_none_or(|b| t.by < b.by) {
                *best = Some(t);
            }
        };
        // As soon as can be, and after all others.
        let Some(first) = attempt(Some(arrives + Span::micros(1))) else {
            return (None, None, tried);
        };
        let (early, free) = (first.by, first.pushed.is_none());
        keep(first, &mut best);
        if free && best.is_some() {
            return (best, None, tried);
        }
        if let Some(late) = attempt(None) {
            keep(late, &mut best);
        }
        let (mut low, mut high) = (early, best.as_ref().map_or(Moment::NEVER, |b| b.by));
        for _ in 0..HALVINGS {
            let middle = Moment::micros(low.in_micros() / 2 + high.in_micros() / 2);
            let narrow = high - low < Span::whole_minutes(5);
            if best.is_none() || low == Moment::NEVER || narrow || self.stop.load(Ordering::Relaxed) {
                break;
            }
            let Some(t) = attempt(Some(middle)) else { break };
            let sound = t.pushed.is_none() && t.by < Moment::NEVER;
            if sound {
                high = high.min(t.by).min(middle);
            } else {
                low = middle;
            }
            keep(t, &mut best);
        }
        let refused = best.is_none().then_some(why);
        (best, refused, tried)
    }

    /// Plans with the new order due so long after its arrival.
    fn attempt(&self, due_after: Option<Span>) -> Option<Tried> {
        let mut shop = self.shop.clone();
        shop.orders.last_mut()?.due_after = due_after;
        let found = plan(&shop, self.asked.seed, self.asked.effort, self.stop, &|_| ())?;
        let line = Line::new(&shop);
        let sample = Sample::of(&shop, &line, &found.plan, self.asked);
        let least = |base: u32| f64::from(base) - TOLERANCE * f64::from(self.asked.days);
        let mut others = self.base.iter().zip(&sample.kept).zip(0..);
        let pushed = others.find(|((base, kept), _)| f64::from(**kept) < least(**base));
        Some(Tried {
            pushed: pushed.map(|(_, order)| order),
            by: sample.by(self.asked.sure.in_fraction()),
            plan: found.plan,
            sample,
        })
    }

    /// The step at which the new order stands at the end of the days.
    fn stands_at(&self, plan: &Plan) -> Option<StepRef> {
        self.waits(plan)?.into_iter().next_back().map(|s| s.step)
    }

    fn waits(&self, plan: &Plan) -> Option<Vec<Stretch>> {
        let mut record = Record::default();
        Line::new(self.shop).follow(plan, None, &mut record);
        let new = self.shop.orders.len() - 1;
        let came = record.entries.iter().find_map(|e| match e.event {
            Event::OrderArrives { order, source, .. } if source.index() == new => Some(order),
            _ => None,
        })?;
        let all = order_waits(self.shop, &record);
        all.into_iter().find(|w| w.order == came).map(|w| w.stretches)
    }

    fn promised(&self, best: Tried, more: usize, refused: Option<Refused>, plans: u32) -> Promised {
        let by = rounded(best.by);
        let mut waits: std::collections::BTreeMap<(StepRef, Wait), Span> = std::collections::BTreeMap::new();
        for s in self.waits(&best.plan).unwrap_or_default() {
            *waits.entry((s.step, s.why)).or_default() += s.to - s.from;
        }
        let usual = best.sample.by(0.5);
        Promised {
            by: Some(by),
            kept: best.sample.ready.iter().filter(|r| **r <= by).count() as u32,
            usual: Some(usual).filter(|u| *u < Moment::NEVER),
            others: self
                .base
                .iter()
                .copied()
                .zip(best.sample.kept.iter().copied())
                .collect(),
            days: self.asked.days,
            more_days: more,
            blocked: waits
                .into_iter()
                .max_by_key(|w| w.1)
                .filter(|w| w.1 >= Span::whole_minutes(1))
                .map(|((step, why), span)| (step, why, span)),
            refused,
            plans,
            plan: Some(best.plan),
            shop: self.shop.clone(),
        }
    }
}
