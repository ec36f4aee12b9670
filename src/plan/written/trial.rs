//! Runs a plan once: when its tasks begin, and what comes otherwise than written.

use super::Meant;
use crate::line::{Line, Plan};
use crate::luck::Luck;
use crate::plan::judge::{Judge, Judged, Space};
use crate::record::{Breach, CareKind, Event, Watcher};
use crate::scenario::{Code, Finding, Findings, PlanFile};
use crate::shop::{Arrival, Order, Shop, StationId};
use crate::units::{Moment, Span};

/// When everything begins.
pub(super) struct Timed {
    pub(super) begun: Vec<Moment>,
    pub(super) care: Vec<(StationId, CareKind, Moment)>,
    /// Taking out of loads that stay longer than they may.
    pub(super) too_long: Vec<u32>,
    broken: Vec<(u32, Breach)>,
}

/// A judge that notes care, too.
struct Clerk<'a> {
    judge: Judge<'a>,
    care: Vec<(StationId, CareKind, Moment)>,
}

impl Watcher for Clerk<'_> {
    const SAMPLES: bool = false;
    const MOST_EVENTS: u64 = 2_000_000;

    fn note(&mut self, at: Moment, event: Event) {
        if let Event::CareBegins { tank, care } = &event {
            self.care.push((*tank, *care, at));
        }
        self.judge.note(at, event);
    }
}

/// Follows a plan once.
pub(super) fn timed(shop: &Shop, line: &Line<'_>, plan: &Plan, luck: Option<Luck>) -> Timed {
    let dues = vec![Moment::NEVER; shop.orders.len()];
    let judge = Judge::new(shop, plan, &dues, f64::INFINITY, Space::default());
    let mut clerk = Clerk {
        judge,
        care: Vec::new(),
    };
    line.follow(plan, luck, &mut clerk);
    let broken: Vec<(u32, Breach)> = clerk.judge.broken.iter().map(|b| (b.task, b.what)).collect();
    let stayed = broken
        .iter()
        .filter(|(_, b)| matches!(b, Breach::StayedTooLong { .. }));
    Timed {
        too_long: stayed.map(|(task, _)| task | 1).collect(),
        broken,
        care: clerk.care,
        begun: clerk.judge.space().begun,
    }
}

/// Later than this by mean times, and the plan is told so.
const TOLD: Span = Span::micros(60_500_000);

/// Where a plan comes otherwise than written when every step takes its mean time: limits that break, and the first
/// task that cannot begin at its time.
#[must_use]
pub fn delays(shop: &Shop, line: &Line<'_>, file: &PlanFile, meant: &Meant) -> Findings {
    let timed = timed(shop, line, &meant.plan, None);
    let plan = &meant.plan;
    let place = |task: u32| {
        let stands = meant.places.get(task as usize).copied().flatten();
        stands.or_else(|| {
            let lot = (0..plan.lots.len())
                .rev()
                .find(|&l| 2 * plan.lots[l].first_op <= task)?;
            meant.lots.get(lot).copied()
        })
    };
    let mut found = Vec::new();
    for (task, breach) in &timed.broken {
        let (what, by) = match breach {
            Breach::StayedTooLong { by } => ("stays longer than it may", by),
            Breach::WaitedTooLong { by } => ("has waited longer than it may", by),
        };
        let message = format!(
            "the load {what} here, by {} min",
            crate::print::number(by.in_minutes(), 1)
        );
        found.push(Finding::warning(
            Code::Bath,
            place(*task).unwrap_or(file.loads_at),
            message,
        ));
    }
    let late = |task: &usize| {
        let (hold, begun) = (plan.hold[*task], timed.begun[*task]);
        meant.places[*task].is_some() && hold > Moment::ZERO && begun > hold + TOLD
    };
    let first = (0..plan.hold.len())
        .filter(late)
        .min_by_key(|&t| (timed.begun[t], t));
    if let Some(task) = first {
        let at = place(task as u32).unwrap_or(file.loads_at);
        let when = match timed.begun[task] {
            Moment::NEVER => "this never begins".to_owned(),
            begun => format!("this can begin only at {}", begun.clock()),
        };
        found.push(
            Finding::warning(Code::Time, at, when)
                .label(format!("not at {}", plan.hold[task].clock()))
                .help("what it needs is not free before; what depends on it shifts, too"),
        );
    }
    Findings::new(file.sources.clone(), found)
}

/// How a plan comes out when every step takes its mean time.
#[must_use]
pub fn judged(shop: &Shop, line: &Line<'_>, plan: &Plan) -> Judged {
    let due = |o: &Order| match (&o.arrival, o.due_after) {
        (Arrival::At(at), Some(after)) => *at + after,
        _ => Moment::NEVER,
    };
    let dues: Vec<Moment> = shop.orders.iter().map(due).collect();
    let mut judge = Judge::new(shop, plan, &dues, f64::INFINITY, Space::default());
    let outcome = line.follow(plan, None, &mut judge);
    judge.verdict(&outcome)
}
