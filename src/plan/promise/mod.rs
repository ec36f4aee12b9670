//! What can be promised for one more order: the earliest time by which it is ready on enough days under different luck,
//! with the other orders kept as often as without it.
//!
//! The day is planned without the order, and the order is placed into it in many ways (`place.rs`); it is also searched
//! for a plan with the order in it (`tries.rs`). Each plan that pushes nobody aside gives a time for every number of days
//! on which that must hold (`stage.rs`); the earliest is told. Which plans are looked at does not hang on how sure the
//! promise is to be, and more effort looks at all that less effort looks at: so neither makes a promise later. If none
//! of the stated days will do, the calendar goes on.
//!
//! # How it is looked for
//!
//! A promise (`promise`) is looked for among plans that come about in the same way for every order. The day is
//! planned without the new order, and again with orders like it that fill one load or two and are then left out, so
//! that others make room (`bases.rs`). Into each of these days the order is placed (`place.rs`): as a load of its own
//! before this load or that, into a load with room, between others that stand, or after them; what follows finds its
//! place anew. The same is done with orders that are larger or come later, at sizes and times of scales of their own,
//! and their plans are taken over with fewer pieces and a wait (`fewer_pieces.rs`). The best by mean times are run under
//! luck, and those that push no other order aside, within 2 of 100 days, give a time for every number of days
//! (`stage.rs`). Where a large order fits a small one fits, and what comes earlier can wait: so a smaller or an earlier
//! order is promised no later, but for a few minutes. The day by the shop's own rules is a candidate, but never more than
//! five minutes ahead of these, since rules have their own luck.
//! Nothing of this hangs on how sure the promise is to be, a longer calendar tells no time before the last that a
//! shorter one could tell, and more effort first does all that less effort does (`tries.rs`: a number of days counts as
//! the largest effort of one scale that is no more): so a promise is never later for less sureness or more effort,
//! exactly. `--out` writes the scenario with the new order beside its plan. What orders wait for is read
//! off the record (`record::order_waits`).

mod bases;
mod days;
mod fewer_pieces;
mod place;
mod sample;
mod stage;
mod tries;

use super::effort::Effort;
use stage::{Kept, Stage};
use std::collections::BTreeMap;
use std::sync::atomic::AtomicBool;
use tankday_base::print::promise as rounded;
use tankday_base::shop::{Arrival, Shop, StepRef};
use tankday_base::units::{Moment, Share, Span};
use tankday_line::{Line, Plan};
use tankday_record::{LogEntry, Record, Stretch, Wait, order_waits};
use tries::Rung;

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

impl Asked {
    /// On so many days it must be ready.
    #[must_use]
    pub fn least_days(&self) -> usize {
        let days = libm::ceil(self.sure.in_fraction() * f64::from(self.days)) as usize;
        days.clamp(1, self.days.max(1) as usize)
    }
}

/// What can be promised.
#[derive(Debug, Clone)]
pub struct Promised {
    /// The shop with the new order, its calendar as long as was needed.
    pub shop: Shop,
    /// The plan that keeps the promise; none if no time can be promised.
    pub plan: Option<Plan>,
    /// Whether that is the day by the shop's own rules.
    pub by_rules: bool,
    /// The time; rounded up to five minutes.
    pub by: Option<Moment>,
    /// Days on which the order is ready by then.
    pub kept: u32,
    /// Days on which it is ready by its own due time; those on which it is finished, where it has none.
    pub on_due: u32,
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
    /// Plans that were looked at.
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
    let new = shop.orders.last()?;
    if !matches!(new.arrival, Arrival::At(_)) {
        return None;
    }
    let rungs = asked.effort.rungs();
    let mut found: Vec<Rung> = Vec::new();
    for (n, &effort) in rungs.iter().enumerate() {
        let mut rung = Rung::new(shop, Asked { effort, ..asked }, stop);
        rung.climb(&|done: f64| told((n as f64 + done) / rungs.len() as f64));
        found.push(rung);
    }
    told(1.0);
    let plans = found.iter().map(|r| r.plans).sum();
    let days = asked.least_days();
    let told = found.iter().filter_map(|r| r.on(days)).min_by_key(|t| t.at);
    let refused = found.iter().rev().find_map(|r| r.refused);
    Some(match told {
        Some(told) => promised(told.stage, told.kept, told.at, asked, refused, plans),
        None => nothing(found.last()?, asked, refused, plans),
    })
}

fn nothing(rung: &Rung, asked: Asked, refused: Option<Refused>, plans: u32) -> Promised {
    let without = &rung.base.kept;
    let last = rung.stages.last();
    Promised {
        shop: last.map_or_else(|| rung.shop.clone(), |s| s.shop.clone()),
        plan: None,
        by_rules: false,
        by: None,
        kept: 0,
        on_due: 0,
        usual: None,
        others: without.iter().map(|b| (*b, *b)).collect(),
        days: asked.days,
        more_days: last.map_or(0, |s| s.more_days),
        blocked: None,
        refused,
        plans,
    }
}

fn promised(
    stage: &Stage,
    kept: &Kept,
    at: Moment,
    asked: Asked,
    refused: Option<Refused>,
    plans: u32,
) -> Promised {
    let by = rounded(at);
    let mut waits: BTreeMap<(StepRef, Wait), Span> = BTreeMap::new();
    for s in waits_of(&stage.shop, &kept.plan).unwrap_or_default() {
        *waits.entry((s.step, s.why)).or_default() += s.to - s.from;
    }
    let sample = &kept.sample;
    let usual = sample.on((asked.days as usize).div_ceil(2));
    Promised {
        by: Some(by),
        kept: sample.ready.iter().filter(|r| **r <= by).count() as u32,
        on_due: sample.kept.last().copied().unwrap_or_default(),
        usual: Some(usual).filter(|u| *u < Moment::NEVER),
        others: kept
            .without
            .iter()
            .copied()
            .zip(sample.kept.iter().copied())
            .collect(),
        days: asked.days,
        more_days: stage.more_days,
        blocked: waits
            .into_iter()
            .max_by_key(|w| w.1)
            .filter(|w| w.1 >= Span::whole_minutes(1))
            .map(|((step, why), span)| (step, why, span)),
        refused: refused.filter(|_| stage.more_days > 0),
        plans,
        plan: Some(kept.plan.clone()),
        by_rules: kept.by_rules,
        shop: stage.shop.clone(),
    }
}

/// The step at which the new order stands at the end of the days.
fn stands_at(shop: &Shop, plan: &Plan) -> Option<StepRef> {
    waits_of(shop, plan)?.into_iter().next_back().map(|s| s.step)
}

/// What the new order waits for when every step takes its mean time.
fn waits_of(shop: &Shop, plan: &Plan) -> Option<Vec<Stretch>> {
    let mut record = Record::default();
    Line::new(shop).follow(plan, None, &mut record);
    let new = shop.orders.len().checked_sub(1)?;
    let came = record.entries.iter().find_map(|e| match e.event {
        LogEntry::OrderArrives { order, source, .. } if source.index() == new => Some(order),
        _ => None,
    })?;
    let all = order_waits(shop, &record);
    all.into_iter().find(|w| w.order == came).map(|w| w.stretches)
}
