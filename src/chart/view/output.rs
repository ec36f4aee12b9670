//! Work finished and promised against the clock.

use super::{OrderMark, Read};
use crate::record::Event;
use crate::units::{Area, Moment};

/// Sums of finished and of promised work; each entry holds the sum from its moment on.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Output {
    /// Pieces and their surface in loads that are ready.
    pub done: Vec<(Moment, u64, Area)>,
    /// Pieces and their surface in orders that are due; without orders that nothing was promised for.
    pub promised: Vec<(Moment, u64, Area)>,
    /// Pieces of all orders that came.
    pub pieces: u64,
    /// Their surface.
    pub area: Area,
}

pub(super) fn of(read: &Read<'_>, orders: &[OrderMark]) -> Output {
    let mut output = Output::default();
    let mut due: Vec<(Moment, u64, Area)> = Vec::new();
    for ((_, came), mark) in read.cargo.orders().zip(orders) {
        let written = read.shop.orders.get(came.source.index());
        let part = written.and_then(|o| read.shop.parts.get(o.part.index()));
        let area = part.map_or(Area::ZERO, |p| p.area * f64::from(came.pieces));
        let pieces = u64::from(came.pieces);
        output.pieces += pieces;
        output.area += area;
        due.extend(mark.due.map(|at| (at, pieces, area)));
    }
    due.sort_by_key(|(at, ..)| *at);
    output.promised = summed(due);
    let done = read.record.entries.iter().filter_map(|entry| match entry.event {
        Event::LoadReady { load } => {
            let pieces = u64::from(read.cargo.pieces(load));
            Some((entry.at, pieces, read.cargo.area(read.shop, load)))
        }
        _ => None,
    });
    output.done = summed(done.collect());
    output
}

fn summed(steps: Vec<(Moment, u64, Area)>) -> Vec<(Moment, u64, Area)> {
    let mut sums: Vec<(Moment, u64, Area)> = Vec::new();
    let (mut pieces, mut area) = (0, Area::ZERO);
    for (at, more, surface) in steps {
        pieces += more;
        area += surface;
        match sums.last_mut() {
            Some(last) if last.0 == at => (last.1, last.2) = (pieces, area),
            _ => sums.push((at, pieces, area)),
        }
    }
    sums
}
