//! What would help beyond planning: the day planned again with one thing made easier.

use super::{Ease, Gain, eased};
use rayon::prelude::*;
use std::sync::atomic::{AtomicBool, Ordering};
use tankday_base::shop::Shop;
use tankday_base::units::Span;
use tankday_plan::planned::{Asked, starting_from};
use tankday_plan::{Judged, bounds};

/// What is less than this helps nobody.
pub const WORTH_NAMING: Span = Span::whole_minutes(1);

/// What planning gains by itself, and what would help then.
#[derive(Debug, Clone, PartialEq)]
pub struct BeyondPlanning {
    /// The day by the shop's own rules.
    pub rules: Judged,
    /// The planned day.
    pub planned: Judged,
    /// What each easing gains beside the planned day, the best first; none where that was not asked for.
    pub gains: Option<Vec<Gain>>,
    /// Whether it was stopped before all were tried.
    pub stopped: bool,
}

/// Plans the shop with each thing eased in turn. `file` is the plan found for the shop as it is: it is tried in each, too,
/// so that nothing made easier makes a day worse. `done` hears of every one.
pub fn beyond_planning(
    shop: &Shop,
    (file, planned): (&str, Judged),
    asked: Asked,
    stop: &AtomicBool,
    done: impl Fn() + Sync,
) -> Vec<Gain> {
    let one = |ease: Ease| {
        if stop.load(Ordering::Relaxed) {
            return None;
        }
        let easier = eased(shop, &ease);
        let then = if may_help(&easier, &planned) {
            starting_from(file, &easier, asked, stop).judged
        } else {
            planned
        };
        done();
        Some(gain(ease, &planned, &then))
    };
    let mut gains: Vec<Gain> = Ease::all(shop).into_par_iter().filter_map(one).collect();
    gains.sort_by(|a, b| b.size().cmp(&a.size()).then(a.ease.cmp(&b.ease)));
    gains
}

/// Whether any plan of the easier shop could be better by more than a trifle: what cannot be is not searched.
fn may_help(easier: &Shop, planned: &Judged) -> bool {
    let all_kept = planned.unready == 0 && planned.breaches == 0 && planned.late == Span::ZERO;
    !all_kept || planned.finish - bounds(easier).finish >= WORTH_NAMING
}

/// By what one day is better than another.
fn gain(ease: Ease, before: &Judged, then: &Judged) -> Gain {
    let more_orders = before.unready.saturating_sub(then.unready);
    // Times can be held against each other where as much gets ready.
    let comparable = then.unready <= before.unready;
    let at_least = |span: Span| {
        if comparable {
            span.max(Span::ZERO)
        } else {
            Span::ZERO
        }
    };
    Gain {
        ease,
        earlier: at_least(before.finish - then.finish),
        less_late: at_least(before.late - then.late),
        more_orders,
        saves: None,
    }
}
