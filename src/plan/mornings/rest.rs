//! What is followed of the rest of a day: the plan that was found, its loads and order without its times, or the shop's own
//! rules, whichever costs least on average of many days that begin as this one did. What of these is still to come is
//! drawn anew, orders of streams as well: of a stream it is known how it comes, not when. Where nothing costs less, the rules
//! stay.

use crate::judge::{CostObserver, Space};
use crate::timed::{DayObserver, dues};
use rayon::prelude::*;
use std::ops::Range;
use tankday_base::random::{Spread, Streams};
use tankday_base::shop::{Arrival, Keeping, Shop};
use tankday_base::units::Moment;
use tankday_line::{Line, Plan};
use tankday_record::NullObserver;

/// So many days are drawn at first, and twice as many each time that more than one plan is left,
const FIRST: u64 = 24;
/// at most so many,
const DAYS: u64 = 96;
/// but no more events than these altogether,
const EVENTS: u64 = 500_000;
/// and never fewer days.
const FEWEST: u64 = 16;
/// So many standard errors apart is clearly apart.
const CLEARLY: f64 = 2.0;
/// Their luck is not that of the days that are planned.
const OTHER_LUCK: u64 = 0x72_6573_745f_6f66;

/// A day under way, and what may come of it.
#[derive(Clone, Copy)]
pub(super) struct Rest<'a> {
    /// Its streams bring what they may still bring.
    shop: &'a Shop,
    line: &'a Line<'a>,
    /// What has happened by when; none before the first day.
    until_now: Option<(&'a Plan, Moment)>,
    seed: u64,
}

impl<'a> Rest<'a> {
    pub(super) const fn new(
        shop: &'a Shop,
        line: &'a Line<'a>,
        until_now: Option<(&'a Plan, Moment)>,
        seed: u64,
    ) -> Self {
        Self {
            shop,
            line,
            until_now,
            seed,
        }
    }

    /// What to follow from now on, of a plan that was found, none if there is none, and the shop's own rules.
    pub(super) fn best(self, found: Option<Plan>) -> Plan {
        let plans = found
            .into_iter()
            .flat_map(|plan| [as_early_as_can_be(&plan), plan]);
        let mut left: Vec<Evaluated> = [self.rules()]
            .into_iter()
            .chain(plans)
            .map(Evaluated::new)
            .collect();
        let most = self.days(&left[0].plan);
        let mut days = 0..FIRST.min(most);
        while left.len() > 1 && !days.is_empty() {
            for tried in &mut left {
                tried.costs.extend(self.costs(&tried.plan, days.clone()));
            }
            keep_the_best(&mut left);
            days = days.end..(2 * days.end).min(most);
        }
        // The rules come first, and stay where nothing costs less.
        let best = left
            .into_iter()
            .reduce(|best, next| match next.mean() < best.mean() - 1e-9 {
                true => next,
                false => best,
            });
        best.map_or_else(|| self.rules(), |tried| tried.plan)
    }

    fn rules(self) -> Plan {
        let mut rules = self
            .until_now
            .map_or_else(|| Plan::of(self.line), |(settled, _)| settled.clone());
        rules.keeping = Keeping::OwnRules;
        rules
    }

    /// A day of which the rest goes by a plan.
    fn with(self, plan: &Plan) -> Vec<(Moment, Plan)> {
        match self.until_now {
            Some((settled, now)) => vec![(Moment::ZERO, settled.clone()), (now, plan.clone())],
            None => vec![(Moment::ZERO, plan.clone())],
        }
    }

    /// How many days are drawn at most.
    fn days(self, plan: &Plan) -> u64 {
        let events = self
            .line
            .follow_each(&self.with(plan), None, &mut NullObserver)
            .events;
        (EVENTS / events.max(1)).clamp(FEWEST, DAYS)
    }

    /// What some of the days cost by the shop's aim.
    fn costs(self, plan: &Plan, days: Range<u64>) -> Vec<f64> {
        let plans = self.with(plan);
        let dues = dues(self.shop);
        let day = |n: u64| {
            let judge = CostObserver::new(self.shop, plan, &dues, f64::INFINITY, Space::default());
            let mut clerk = DayObserver(judge.with_streams());
            let luck = Streams::new(self.seed ^ OTHER_LUCK, n);
            let outcome = self.line.follow_each(&plans, Some(luck), &mut clerk);
            clerk.0.verdict(&outcome).cost
        };
        days.into_par_iter().map(day).collect()
    }
}

/// A plan, and what it cost on the days so far.
struct Evaluated {
    plan: Plan,
    costs: Vec<f64>,
}

impl Evaluated {
    const fn new(plan: Plan) -> Self {
        Self {
            plan,
            costs: Vec::new(),
        }
    }

    fn mean(&self) -> f64 {
        self.costs.iter().sum::<f64>() / self.costs.len().max(1) as f64
    }

    /// Whether it costs clearly more on the same days.
    fn clearly_worse(&self, than: &Self) -> bool {
        let more: Vec<f64> = self.costs.iter().zip(&than.costs).map(|(a, b)| a - b).collect();
        let many = more.len().max(2) as f64;
        let mean = more.iter().sum::<f64>() / many;
        let spread = more.iter().map(|d| (d - mean) * (d - mean)).sum::<f64>() / (many - 1.0);
        mean > CLEARLY * libm::sqrt(spread / many)
    }
}

/// What clearly costs more than the best so far is not looked at again.
fn keep_the_best(left: &mut Vec<Evaluated>) {
    let best = left.iter().min_by(|a, b| a.mean().total_cmp(&b.mean()));
    let Some(best) = best.map(|b| Evaluated {
        plan: b.plan.clone(),
        costs: b.costs.clone(),
    }) else {
        return;
    };
    left.retain(|tried| !tried.clearly_worse(&best));
}

/// The same loads and order with no times.
fn as_early_as_can_be(plan: &Plan) -> Plan {
    let mut plan = plan.clone();
    for (hold, pinned) in plan.hold.iter_mut().zip(&plan.pinned) {
        if !pinned {
            *hold = Moment::ZERO;
        }
    }
    plan
}

/// A stream as it goes on from now, when so many of it have come, the last of them then.
pub(super) fn goes_on(stream: &mut Arrival, came: u32, last: Option<Moment>, now: Moment) {
    if let Arrival::Every { gap, from, most, .. } = stream {
        *most = most.saturating_sub(came);
        // Gaps that never vary go on from the last; of others it is only known that they are not over.
        let since = match gap {
            Spread::Fixed(_) => last.unwrap_or(*from),
            _ => now,
        };
        *from = since.max(*from);
    }
}
