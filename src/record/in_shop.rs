//! The time of each order in the shop, in order of arrival, gathered while a run goes on: for runs too long for a record.

use super::event::{Event, OrderNo};
use super::watch::Watcher;
use crate::units::{Moment, Span};
use std::collections::BTreeMap;

/// Gathers them; give it to a run as its watcher.
#[derive(Debug, Clone, Default)]
pub struct InShop {
    came: BTreeMap<OrderNo, Moment>,
    ready: BTreeMap<OrderNo, Span>,
}

impl InShop {
    /// The times of all orders that were ready, in order of arrival.
    #[must_use]
    pub fn times(&self) -> Vec<Span> {
        self.ready.values().copied().collect()
    }

    /// Orders that came and were not ready.
    #[must_use]
    pub fn left(&self) -> usize {
        self.came.len()
    }
}

impl Watcher for InShop {
    const SAMPLES: bool = false;

    fn note(&mut self, at: Moment, event: Event) {
        match event {
            Event::OrderArrives { order, .. } => {
                self.came.insert(order, at);
            }
            Event::OrderReady { order } => {
                if let Some(came) = self.came.remove(&order) {
                    self.ready.insert(order, at - came);
                }
            }
            _ => {}
        }
    }
}
