//! Orders: when ready, how late.

use super::bare::{Bare, Waited};
use super::loads::TankLoad;
use crate::analysis::Analysis;
use crate::event::OrderNo;
use crate::labels::order_name;
use tankday_base::shop::{OrderId, PartId};
use tankday_base::units::{CoatWeight, Moment, Span};

/// Less than this on a part is no coat.
pub(crate) const NO_COAT: CoatWeight = CoatWeight::grams_per_square_metre(0.05);

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
    /// How long any of it lay bare, stripped or behind a bath, where that was longer than it may; zero where it was not.
    pub bare: Span,
    /// Whether any of it came out of its last bath without a coat.
    pub uncoated: bool,
}

impl OrderFigure {
    /// By how much it is later than promised, zero if it is not; none if it was not promised or never ready.
    #[must_use]
    pub fn late(&self) -> Option<Span> {
        let over = self.ready? - self.due?;
        Some(over.max(Span::ZERO))
    }

    /// Whether it is on time, wherever that is counted: ready when promised, and sound.
    #[must_use]
    pub fn on_time(&self) -> bool {
        self.in_time() && self.is_sound()
    }

    /// Whether none of it lay bare longer than it may, and all of it took a coat.
    #[must_use]
    pub fn is_sound(&self) -> bool {
        self.bare <= Span::ZERO && !self.uncoated
    }

    /// Whether it is ready when promised, sound or not; an order without promise need only be ready.
    #[must_use]
    pub fn in_time(&self) -> bool {
        match (self.ready, self.due) {
            (Some(ready), Some(due)) => ready <= due,
            (ready, _) => ready.is_some(),
        }
    }
}

/// The longest wait of any of an order's loads that was bare, where it was too long.
fn bare(read: &Analysis<'_>, waited: &[Waited], order: OrderNo) -> Span {
    let (shop, cargo) = (read.shop, &read.cargo);
    let made = read.made.get(&order).map_or(&[][..], Vec::as_slice);
    let own = |w: &&Waited| {
        w.lies_bare()
            && match w.bare {
                // What joins it in its bath has not waited with it.
                Some(Bare::Stripped) => made.contains(&w.load),
                _ => cargo.lots(w.load).any(|lot| lot.order == order),
            }
    };
    let whole = |w: &Waited| w.by + shop.step(w.step).within.unwrap_or(Span::ZERO);
    waited.iter().filter(own).map(whole).max().unwrap_or(Span::ZERO)
}

/// Whether the parts of an order have no coat in any of its loads after that load's last bath.
fn uncoated(loads: &[TankLoad], order: OrderNo, part: PartId) -> bool {
    let own = |l: &&TankLoad| l.out.is_some() && l.lots.iter().any(|lot| lot.order == order);
    let last = |l: &&TankLoad| {
        let mut later = loads.iter().rev().filter(|o| o.load == l.load && o.out.is_some());
        later.next().is_some_and(|o| std::ptr::eq(o, *l))
    };
    let none = |l: &TankLoad| l.coats.iter().any(|(id, w)| *id == part && *w < NO_COAT);
    loads.iter().filter(own).filter(last).any(none)
}

pub(super) fn of(read: &Analysis<'_>, waited: &[Waited], loads: &[TankLoad]) -> Vec<OrderFigure> {
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
            bare: bare(read, waited, order),
            uncoated: uncoated(loads, order, written.part),
        })
    };
    cargo.orders().filter_map(figure).collect()
}
