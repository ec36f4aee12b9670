//! Orders: stated, or arriving at random.

use super::ids::{PartId, RouteId, StationId};
use crate::random::Spread;
use crate::units::{Moment, Span};

/// When an order comes.
#[derive(Debug, Clone, PartialEq)]
pub enum Arrival {
    /// Once, at a moment.
    At(Moment),
    /// Again and again: the first after one gap from `from`, until `until` or `most` have come.
    Every {
        /// Time between one and the next.
        gap: Spread,
        /// Counting starts here.
        from: Moment,
        /// None comes at or after it.
        until: Moment,
        /// At most so many.
        most: u32,
        /// Stretches in which the gaps run, in order; outside them they stand still and nothing comes. All the time,
        /// if there are none.
        only: Vec<(Moment, Moment)>,
        /// Fewest pieces of one order; they vary evenly from here to the order's count.
        fewest: u32,
    },
}

/// A count of one part for one customer; with [`Arrival::Every`] a stream of such orders.
#[derive(Debug, Clone, PartialEq)]
pub struct Order {
    /// Its name; in a stream each has its number behind it: `walk-in 17`.
    pub id: String,
    /// Which part.
    pub part: PartId,
    /// Pieces, at least one.
    pub count: u32,
    /// Which way through the shop.
    pub route: RouteId,
    /// When it comes.
    pub arrival: Arrival,
    /// Tanks that it is meant for; empty for any. Of a bath none of whose tanks is named, every tank will do.
    pub tanks: Vec<StationId>,
    /// Whether its looks matter; scrap and hidden pieces may go through a fresh bath first.
    pub looks: bool,
    /// How much its being late counts, where 1 is what that of any other order counts.
    pub weight: f64,
    /// Promised so long after its arrival; none if nothing was promised.
    pub due_after: Option<Span>,
}
