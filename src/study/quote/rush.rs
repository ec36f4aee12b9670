//! An order put before all others: when it is ready then, and what becomes later for it.

use super::{Run, figures};
use tankday_base::shop::{OrderId, Shop};
use tankday_base::units::{Moment, Span};
use tankday_record::{Figures, OrderFigure};

/// Less than this later is not told: a minute is what a day sheet says.
const WORTH_TELLING: Span = Span::whole_minutes(1);

/// An order that is due at once.
#[derive(Debug, Clone, PartialEq)]
pub struct Rush {
    /// When it is ready in its turn.
    pub in_turn: Option<Moment>,
    /// When it is ready if it goes first.
    pub ready: Option<Moment>,
    /// Orders that are ready later than without it, those latest by most first.
    pub later: Vec<Later>,
    /// By how much the day costs more than with the order in its turn.
    pub more: f64,
}

/// An order that becomes later.
#[derive(Debug, Clone, PartialEq)]
pub struct Later {
    /// Its name.
    pub id: String,
    /// When it is ready without the rush.
    pub before: Moment,
    /// When it is ready with it; none if it isn't ready any more.
    pub after: Option<Moment>,
    /// Whether it was on time and isn't any more.
    pub misses: bool,
}

/// Runs the day with the order due as soon as it comes.
pub(super) fn of(
    shop: &Shop,
    order: OrderId,
    (without, in_turn): (&Figures, &Figures),
    run: &impl Run,
) -> Option<Rush> {
    let mut first = shop.clone();
    first.orders.get_mut(order.index())?.due_after = Some(Span::ZERO);
    let rushed = figures(&first, run)?;
    let own = |f: &Figures| f.orders.iter().find(|o| o.source == order).and_then(|o| o.ready);
    let mut later: Vec<Later> = without
        .orders
        .iter()
        .filter_map(|before| later(before, &rushed))
        .collect();
    let by = |l: &Later| l.after.unwrap_or(Moment::NEVER) - l.before;
    later.sort_by_key(|l| std::cmp::Reverse(by(l)));
    Some(Rush {
        in_turn: own(in_turn),
        ready: own(&rushed),
        later,
        more: rushed.cost.with_left() - in_turn.cost.with_left(),
    })
}

fn later(before: &OrderFigure, rushed: &Figures) -> Option<Later> {
    let ready = before.ready?;
    let then = rushed
        .orders
        .iter()
        .find(|o| (o.source, o.nth) == (before.source, before.nth));
    let after = then.and_then(|o| o.ready);
    let later = after.is_none_or(|after| after >= ready + WORTH_TELLING);
    later.then(|| Later {
        id: before.id.clone(),
        before: ready,
        after,
        misses: before.in_time() && then.is_none_or(|o| !o.in_time()),
    })
}
