//! An order put before all others: when it is ready then, and what becomes later for it.

use super::displaced::{Later, costs_more, displaced};
use super::{Run, figures};
use tankday_base::shop::{OrderId, Shop};
use tankday_base::units::{Moment, Span};
use tankday_record::Figures;

/// An order that is due at once.
#[derive(Debug, Clone, PartialEq)]
pub struct Rush {
    /// When it is ready in its turn.
    pub in_turn: Option<Moment>,
    /// When it is ready if it goes first.
    pub ready: Option<Moment>,
    /// Orders that are lost or ready later than without it: those that are lost first, then those latest by most.
    pub later: Vec<Later>,
    /// By how much the day costs more than with the order in its turn; none where orders are lost for it.
    pub more: Option<f64>,
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
    let later = displaced(without, &rushed);
    Some(Rush {
        in_turn: own(in_turn),
        ready: own(&rushed),
        more: costs_more(&later, (in_turn, &rushed)),
        later,
    })
}
