//! Runs a plan once: when its tasks and care begin, and what the day costs.

use super::judge::{CostObserver, Judged, Space};
use super::longest::Longest;
use tankday_base::random::Streams;
use tankday_base::shop::{Arrival, Order, Shop, StationId};
use tankday_base::units::Moment;
use tankday_line::{Line, Plan};
use tankday_record::{Breach, CareKind, LogEntry, Looks, Observer};

/// When everything begins.
#[derive(Debug)]
pub(crate) struct Timed {
    /// Each task; never for one that does not.
    pub(crate) begun: Vec<Moment>,
    /// Care, in order.
    pub(crate) care: Vec<(StationId, CareKind, Moment)>,
    /// Taking out of loads that stay longer than they may.
    pub(crate) too_long: Vec<u32>,
    /// Tasks at whose step a limit was broken, and which.
    pub(crate) broken: Vec<(u32, Breach)>,
}

/// A judge that sees everything to its end.
pub(super) struct DayObserver<'a>(pub(super) CostObserver<'a>);

impl Observer for DayObserver<'_> {
    fn looks(&self) -> Looks {
        Looks::Events
    }

    fn most_events(&self) -> u64 {
        2_000_000
    }

    fn note(&mut self, at: Moment, event: LogEntry) {
        self.0.note(at, event);
    }
}

/// Follows a plan once.
pub(crate) fn timed(shop: &Shop, line: &Line<'_>, plan: &Plan, luck: Option<Streams>) -> Timed {
    let dues = vec![Moment::NEVER; shop.orders.len()];
    let judge = CostObserver::new(shop, plan, &dues, f64::INFINITY, Space::default());
    let mut clerk = DayObserver(judge);
    line.follow(plan, luck, &mut clerk);
    let DayObserver(mut judge) = clerk;
    let broken: Vec<(u32, Breach)> = judge.broken.iter().map(|b| (b.task, b.what)).collect();
    let stayed = broken
        .iter()
        .filter(|(_, b)| matches!(b, Breach::StayedTooLong { .. }));
    Timed {
        too_long: stayed.map(|(task, _)| task | 1).collect(),
        broken,
        care: std::mem::take(&mut judge.care),
        begun: judge.space().begun,
    }
}

/// How a plan comes out when every step takes its mean time.
#[must_use]
pub fn judged(shop: &Shop, line: &Line<'_>, plan: &Plan) -> Judged {
    run_once(shop, line, plan).0
}

/// The same, and when each task begins.
pub(super) fn run_once(shop: &Shop, line: &Line<'_>, plan: &Plan) -> (Judged, Vec<Moment>) {
    let dues = dues(shop);
    let mut judge = CostObserver::new(shop, plan, &dues, f64::INFINITY, Space::default());
    let outcome = line.follow(plan, None, &mut judge);
    let judged = judge.verdict(&outcome);
    (judged, judge.space().begun)
}

/// How the day comes out by the shop's own rules when every step takes its mean time.
#[must_use]
pub fn by_own_rules(shop: &Shop, line: &Line<'_>) -> Judged {
    own_rules(shop, line).0
}

/// The same, and by how much limits are passed then.
pub(super) fn own_rules(shop: &Shop, line: &Line<'_>) -> (Judged, Longest) {
    let (dues, plan) = (dues(shop), Plan::of(line));
    let judge = CostObserver::new(shop, &plan, &dues, f64::INFINITY, Space::default());
    let mut clerk = DayObserver(judge);
    let outcome = line.run(None, &mut clerk);
    (clerk.0.verdict(&outcome), clerk.0.longest())
}

/// Days under different luck for [`cost_under_luck`].
const DAYS: u64 = 24;

/// What a plan, or the shop's own rules, costs on average over some days under luck, each judged to its end.
#[must_use]
pub fn cost_under_luck(shop: &Shop, line: &Line<'_>, plan: Option<&Plan>, seed: u64) -> f64 {
    let dues = dues(shop);
    let usual = Plan::of(line);
    let day = |n: u64| {
        let judge = CostObserver::new(
            shop,
            plan.unwrap_or(&usual),
            &dues,
            f64::INFINITY,
            Space::default(),
        );
        let mut clerk = DayObserver(judge);
        let luck = Some(Streams::new(seed, n));
        let outcome = match plan {
            Some(plan) => line.follow(plan, luck, &mut clerk),
            None => line.run(luck, &mut clerk),
        };
        clerk.0.verdict(&outcome).cost
    };
    (0..DAYS).map(day).sum::<f64>() / DAYS as f64
}

/// When each order is due; never, if nothing is promised or it comes by chance.
pub(super) fn dues(shop: &Shop) -> Vec<Moment> {
    let due = |o: &Order| match (&o.arrival, o.due_after) {
        (Arrival::At(at), Some(after)) => *at + after,
        _ => Moment::NEVER,
    };
    shop.orders.iter().map(due).collect()
}
