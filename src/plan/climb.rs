//! More effort is never worse: what less effort finds is searched first, and nothing is chosen that is worse than that.

use super::bound::{Bounds, bounds};
use super::effort::Effort;
use super::search::{Found, search};
use std::sync::atomic::AtomicBool;
use tankday_base::shop::Shop;
use tankday_line::Plan;

/// Searches for a plan on one in which something may be settled already; nothing is known then of what no plan can beat.
/// `stop` ends it with the best so far; `told` hears how far it is, from 0 to 1.
pub(crate) fn plan_on(
    shop: &Shop,
    settled: Option<&Plan>,
    seed: u64,
    effort: Effort,
    stop: &AtomicBool,
    told: &(impl Fn(f64) + Sync),
) -> Option<Found> {
    let bounds = match settled {
        Some(_) => Bounds::none(shop),
        None => bounds(shop),
    };
    let ladder = effort.ladder();
    let all: u64 = ladder.iter().map(|e| e.days()).sum();
    let mut found: Option<Found> = None;
    let mut climbed = 0;
    for rung in ladder {
        if found.as_ref().is_some_and(|f| f.stopped) {
            break;
        }
        let below = found.take();
        let (spent, dispatched) = below.as_ref().map_or((0, 0), |b| (b.evaluations, b.dispatched));
        let far = |share: f64| told((climbed as f64 + share * rung.days() as f64) / all as f64);
        let mut more = search((shop, settled, &bounds), seed, rung, below, (stop, &far))?;
        climbed += rung.days();
        more.evaluations += spent;
        more.dispatched += dispatched;
        found = Some(more);
    }
    found
}
