//! Work finished and promised against the clock.

use super::{OrderMark, Read};
use tankday_base::units::Area;
use tankday_record::{Finished, finished, summed};

/// Sums of finished and of promised work; each entry holds the sum from its moment on.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Output {
    /// Pieces and their surface in loads that are ready.
    pub done: Vec<Finished>,
    /// Pieces and their surface in orders that are due; without orders that nothing was promised for.
    pub promised: Vec<Finished>,
    /// The same as [`Output::done`] on every day reckoned; empty if there is only the one.
    pub days: Vec<Vec<Finished>>,
    /// Pieces of all orders that came.
    pub pieces: u64,
    /// Their surface.
    pub area: Area,
}

pub(super) fn of(read: &Read<'_>, orders: &[OrderMark]) -> Output {
    let mut output = Output::default();
    let mut due: Vec<Finished> = Vec::new();
    for ((_, came), mark) in read.all.cargo.orders().zip(orders) {
        let written = read.shop.orders.get(came.source.index());
        let part = written.and_then(|o| read.shop.parts.get(o.part.index()));
        let area = part.map_or(Area::ZERO, |p| p.area * f64::from(came.pieces));
        let pieces = u64::from(came.pieces);
        output.pieces += pieces;
        output.area += area;
        due.extend(mark.due.map(|at| Finished { at, pieces, area }));
    }
    due.sort_by_key(|step| step.at);
    output.promised = summed(due);
    output.done = finished(&read.all);
    output
}
