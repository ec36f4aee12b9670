//! Orders: when ready, how late.

use super::bare::Waited;
use crate::analysis::Analysis;
use crate::cargo::Cargo;
use crate::event::OrderNo;
use crate::labels::order_name;
use tankday_base::shop::{OrderId, PartId, Shop};
use tankday_base::units::{Moment, Span};

/// An order as it went.
#[derive(Debug, Clone, PartialEq)]
pub struct OrderFigure {
    /// Its number in the run.
    pub order: OrderNo,
    /// As written in the scenario.
    pub source: OrderId,
    /// Counts the orders of one stream from 1; 1 for a stated order.
    pub nth: u32,
    /// Its name; in a stream with its number behind it.
    pub id: String,
    /// Which part.
    pub part: PartId,
    /// Pieces.
    pub pieces: u32,
    /// When it came.
    pub came: Moment,
    /// When it was ready; none if it was not.
    pub ready: Option<Moment>,
    /// When it was promised.
    pub due: Option<Moment>,
    /// How long any of it lay bare behind a bath, where that was longer than it may; zero where it was not.
    pub bare: Span,
}

impl OrderFigure {
    /// By how much it is later than promised, zero if it is not; none if it was not promised or never ready.
    #[must_use]
    pub fn late(&self) -> Option<Span> {
        let over = self.ready? - self.due?;
        Some(over.max(Span::ZERO))
    }

    /// Whether it is ready when promised; an order without promise need only be ready.
    #[must_use]
    pub fn on_time(&self) -> bool {
        match (self.ready, self.due) {
            (Some(ready), Some(due)) => ready <= due,
            (ready, _) => ready.is_some(),
        }
    }
}

/// The longest wait of any of an order's loads behind a bath, where it was too long.
fn bare(shop: &Shop, cargo: &Cargo, waited: &[Waited], order: OrderNo) -> Span {
    let own = |w: &&Waited| w.lies_bare() && cargo.lots(w.load).any(|lot| lot.order == order);
    let whole = |w: &Waited| w.by + shop.step(w.step).within.unwrap_or(Span::ZERO);
    waited.iter().filter(own).map(whole).max().unwrap_or(Span::ZERO)
}

pub(super) fn of(read: &Analysis<'_>, waited: &[Waited]) -> Vec<OrderFigure> {
    let (shop, cargo) = (read.shop, &read.cargo);
    let figure = |(order, came): (OrderNo, &crate::cargo::Came)| {
        let written = shop.orders.get(came.source.index())?;
        Some(OrderFigure {
            order,
            source: came.source,
            nth: came.nth,
            id: order_name(written, came.nth),
            part: written.part,
            pieces: came.pieces,
            came: came.at,
            ready: read.ready.get(&order).copied(),
            due: written.due_after.map(|after| came.at + after),
            bare: bare(shop, cargo, waited, order),
        })
    };
    cargo.orders().filter_map(figure).collect()
}
