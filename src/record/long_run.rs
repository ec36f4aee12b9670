//! What a run too long for a record leaves behind, gathered while it goes on: the time of each order in the shop and whether
//! its promise was kept, in order of arrival; pieces ready and hands at work, by opening day.

use super::event::{LogEntry, OrderNo};
use super::watch::{Looks, Observer};
use std::collections::BTreeMap;
use tankday_base::shop::Shop;
use tankday_base::units::{Moment, Span};

/// An order that came and is not ready.
#[derive(Debug, Clone, Copy)]
struct Came {
    at: Moment,
    due: Option<Moment>,
    pieces: u32,
    /// Openings until then.
    day: usize,
}

/// An order that was ready.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Served {
    /// From arrival to ready.
    pub in_shop: Span,
    /// Whether it was late; none if nothing was promised.
    pub late: Option<bool>,
    /// Openings of the shop until it came.
    pub day: usize,
}

/// What an opening day brought, to the next opening.
#[derive(Debug, Clone, Copy, Default)]
struct Day {
    pieces: u32,
    hands: Span,
}

/// Gathers it; give it to a run as its watcher.
#[derive(Debug, Clone)]
pub struct LongRun<'a> {
    shop: &'a Shop,
    came: BTreeMap<OrderNo, Came>,
    ready: BTreeMap<OrderNo, Served>,
    days: Vec<Day>,
    at_work: BTreeMap<u32, Moment>,
}

impl<'a> LongRun<'a> {
    /// Nothing yet.
    #[must_use]
    pub const fn new(shop: &'a Shop) -> Self {
        Self {
            shop,
            came: BTreeMap::new(),
            ready: BTreeMap::new(),
            days: Vec::new(),
            at_work: BTreeMap::new(),
        }
    }

    /// All orders that were ready, in order of arrival.
    #[must_use]
    pub fn orders(&self) -> Vec<Served> {
        self.ready.values().copied().collect()
    }

    /// Orders that came and were not ready.
    #[must_use]
    pub fn left(&self) -> usize {
        self.came.len()
    }

    /// Pieces ready by opening day.
    #[must_use]
    pub fn pieces(&self) -> Vec<u32> {
        self.days.iter().map(|d| d.pieces).collect()
    }

    /// Hands at work by opening day, all pairs together.
    #[must_use]
    pub fn hands(&self) -> Vec<Span> {
        self.days.iter().map(|d| d.hands).collect()
    }

    fn order_comes(&mut self, order: OrderNo, source: tankday_base::shop::OrderId, at: Moment, pieces: u32) {
        let stated = self.shop.orders.get(source.index());
        let due = stated.and_then(|o| o.due_after).map(|after| at + after);
        let day = self.days.len();
        self.came.insert(order, Came { at, due, pieces, day });
    }

    fn order_ready(&mut self, order: OrderNo, at: Moment) {
        let Some(came) = self.came.remove(&order) else {
            return;
        };
        let ready = Served {
            in_shop: at - came.at,
            late: came.due.map(|due| at > due),
            day: came.day,
        };
        self.ready.insert(order, ready);
        if let Some(day) = self.days.last_mut() {
            day.pieces += came.pieces;
        }
    }
}

impl Observer for LongRun<'_> {
    fn looks(&self) -> Looks {
        Looks::Events
    }

    fn note(&mut self, at: Moment, event: LogEntry) {
        match event {
            LogEntry::Opens => self.days.push(Day::default()),
            LogEntry::OrderArrives {
                order,
                source,
                pieces,
                ..
            } => self.order_comes(order, source, at, pieces),
            LogEntry::OrderReady { order } => self.order_ready(order, at),
            LogEntry::HandsTake { hand, .. } => {
                self.at_work.insert(hand, at);
            }
            LogEntry::HandsFree { hand } => {
                if let (Some(since), Some(day)) = (self.at_work.remove(&hand), self.days.last_mut()) {
                    day.hands += at - since;
                }
            }
            _ => {}
        }
    }
}
