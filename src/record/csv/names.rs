//! The columns for people: clock and names.

use crate::event::OrderNo;
use std::collections::BTreeMap;
use tankday_base::shop::{Arrival, OrderId, Shop, StationId, StepRef};
use tankday_base::units::Moment;

/// What is called how: the shop, and the orders that have come so far.
pub(crate) struct Names<'a> {
    shop: &'a Shop,
    orders: BTreeMap<OrderNo, (OrderId, u32)>,
}

impl<'a> Names<'a> {
    pub(super) fn new(shop: &'a Shop) -> Self {
        Self {
            shop,
            orders: BTreeMap::new(),
        }
    }

    /// An order has come, the nth of its source.
    pub(super) fn comes(&mut self, order: OrderNo, source: OrderId, nth: u32) {
        self.orders.insert(order, (source, nth));
    }

    /// Local date and time.
    pub(super) fn clock(&self, at: Moment) -> String {
        self.shop.calendar.local_time(at)
    }

    /// The name of a station.
    pub(super) fn station(&self, station: StationId) -> &str {
        let known = self.shop.stations.get(station.index());
        known.map_or("", |s| s.name.as_str())
    }

    /// The name of a step.
    pub(super) fn step(&self, step: StepRef) -> &str {
        self.shop.find_step(step).map_or("", |s| s.name.as_str())
    }

    /// The name of an order; of one of a stream with its number there.
    pub(super) fn order(&self, order: OrderNo) -> String {
        let known = self.orders.get(&order);
        let known = known.and_then(|(source, nth)| Some((self.shop.orders.get(source.index())?, nth)));
        match known {
            Some((stated, nth)) => match stated.arrival {
                Arrival::At(_) => stated.id.clone(),
                Arrival::Every { .. } => format!("{} {nth}", stated.id),
            },
            None => String::new(),
        }
    }
}
