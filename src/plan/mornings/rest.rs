//! What is followed of the rest of a day: the plan that was found, its loads and order without its times, or the shop's own
//! rules, whichever costs least on average of many days that begin as this one did. What of these is still to come is
//! drawn anew, orders of streams as well: of a stream it is known how it comes, not when. Where nothing costs less, the rules
//! stay.

use crate::judge::{Judge, Space};
use crate::timed::{Clerk, dues};
use rayon::prelude::*;
use tankday_base::luck::{Luck, Spread};
use tankday_base::shop::{Arrival, Keeping, Shop};
use tankday_base::units::Moment;
use tankday_line::{Line, Plan};
use tankday_record::Nobody;

/// So many days are drawn,
const DAYS: u64 = 96;
/// but no more events than these altogether,
const EVENTS: u64 = 500_000;
/// and never fewer days.
const FEWEST: u64 = 16;
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
        let rules = self.rules();
        let plans = found
            .into_iter()
            .flat_map(|plan| [as_early_as_can_be(&plan), plan]);
        let all: Vec<Plan> = [rules].into_iter().chain(plans).collect();
        let days = self.days(&all);
        let costs: Vec<f64> = all.iter().map(|plan| self.cost(plan, days)).collect();
        let mut best = 0;
        for (i, cost) in costs.iter().enumerate() {
            if *cost < costs[best] - 1e-9 {
                best = i;
            }
        }
        all.into_iter().nth(best).unwrap_or_else(|| self.rules())
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

    /// How many days are drawn.
    fn days(self, all: &[Plan]) -> u64 {
        let first = all.first().map(|plan| self.with(plan)).unwrap_or_default();
        let events = self.line.follow_each(&first, None, &mut Nobody).events;
        (EVENTS / events.max(1)).clamp(FEWEST, DAYS)
    }

    /// What the rest costs on average by the shop's aim.
    fn cost(self, plan: &Plan, days: u64) -> f64 {
        let plans = self.with(plan);
        let dues = dues(self.shop);
        let day = |n: u64| {
            let judge = Judge::new(self.shop, plan, &dues, f64::INFINITY, Space::default());
            let mut clerk = Clerk(judge.with_streams());
            let luck = Luck::new(self.seed ^ OTHER_LUCK, n);
            let outcome = self.line.follow_each(&plans, Some(luck), &mut clerk);
            clerk.0.verdict(&outcome).cost
        };
        let costs: Vec<f64> = (0..days).into_par_iter().map(day).collect();
        costs.iter().sum::<f64>() / days as f64
    }
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
