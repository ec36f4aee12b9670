//! What each load holds: followed through arriving, dividing and joining.

use super::event::{LoadNo, LogEntry, OrderNo};
use std::collections::BTreeMap;
use tankday_base::shop::{OrderId, Part, PartId, Shop};
use tankday_base::units::{Area, Mass, Moment};

/// An order as it came.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Came {
    /// As written in the scenario.
    pub source: OrderId,
    /// Counts the orders of one stream from 1.
    pub nth: u32,
    /// Pieces.
    pub pieces: u32,
    /// When.
    pub at: Moment,
}

/// Pieces of one order in a load.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Lot {
    /// Whose.
    pub order: OrderNo,
    /// How many.
    pub pieces: u32,
}

/// Orders as they came and loads as they were when they held most.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Cargo {
    orders: BTreeMap<OrderNo, Came>,
    /// Each with the moment since when it is in the load.
    lots: BTreeMap<LoadNo, Vec<(Moment, Lot)>>,
    joined: BTreeMap<LoadNo, LoadNo>,
}

impl Cargo {
    pub(super) fn note(&mut self, at: Moment, event: &LogEntry) {
        match *event {
            LogEntry::OrderArrives {
                order,
                source,
                nth,
                pieces,
            } => {
                self.orders.insert(
                    order,
                    Came {
                        source,
                        nth,
                        pieces,
                        at,
                    },
                );
            }
            LogEntry::LoadMade { load, order, pieces } => {
                self.lots
                    .entry(load)
                    .or_default()
                    .push((at, Lot { order, pieces }));
            }
            LogEntry::Joins { load, into } if load != into => {
                let moved = self.lots.get(&load).cloned().unwrap_or_default();
                let joined = moved.into_iter().map(|(_, lot)| (at, lot));
                self.lots.entry(into).or_default().extend(joined);
                self.joined.insert(load, into);
            }
            _ => {}
        }
    }

    /// Orders in order of arrival.
    pub fn orders(&self) -> impl Iterator<Item = (OrderNo, &Came)> {
        self.orders.iter().map(|(no, came)| (*no, came))
    }

    /// One order.
    #[must_use]
    pub fn order(&self, order: OrderNo) -> Option<&Came> {
        self.orders.get(&order)
    }

    /// Loads in order of their making, those that joined another included.
    pub fn loads(&self) -> impl Iterator<Item = LoadNo> {
        self.lots.keys().copied()
    }

    /// What a load holds in the end, joined ones included.
    pub fn lots(&self, load: LoadNo) -> impl Iterator<Item = Lot> {
        self.lots_at(load, Moment::NEVER)
    }

    /// What a load holds at a moment.
    pub fn lots_at(&self, load: LoadNo, at: Moment) -> impl Iterator<Item = Lot> {
        let all = self.lots.get(&load).map_or(&[][..], Vec::as_slice);
        all.iter()
            .filter(move |(since, _)| *since <= at)
            .map(|(_, lot)| *lot)
    }

    /// The load in which this one went on, itself if it joined none.
    #[must_use]
    pub fn holder(&self, load: LoadNo) -> LoadNo {
        let mut at = load;
        for _ in 0..=self.joined.len() {
            match self.joined.get(&at) {
                Some(next) => at = *next,
                None => break,
            }
        }
        at
    }

    /// The kinds of part in a load with their pieces, in order of joining, each kind once.
    #[must_use]
    pub fn parts<'s>(&self, shop: &'s Shop, load: LoadNo) -> Vec<(PartId, &'s Part, u32)> {
        self.parts_at(shop, load, Moment::NEVER)
    }

    /// The same at a moment.
    #[must_use]
    pub fn parts_at<'s>(&self, shop: &'s Shop, load: LoadNo, at: Moment) -> Vec<(PartId, &'s Part, u32)> {
        let mut kinds: Vec<(PartId, &Part, u32)> = Vec::new();
        for lot in self.lots_at(load, at) {
            let Some((id, part)) = self.part(shop, lot.order) else {
                continue;
            };
            match kinds.iter_mut().find(|(known, ..)| *known == id) {
                Some((_, _, pieces)) => *pieces = pieces.saturating_add(lot.pieces),
                None => kinds.push((id, part, lot.pieces)),
            }
        }
        kinds
    }

    fn part<'s>(&self, shop: &'s Shop, order: OrderNo) -> Option<(PartId, &'s Part)> {
        let source = self.orders.get(&order)?.source;
        let id = shop.orders.get(source.index())?.part;
        Some((id, shop.parts.get(id.index())?))
    }

    /// Pieces in a load in the end.
    #[must_use]
    pub fn pieces(&self, load: LoadNo) -> u32 {
        self.pieces_at(load, Moment::NEVER)
    }

    /// Pieces in a load at a moment.
    #[must_use]
    pub fn pieces_at(&self, load: LoadNo, at: Moment) -> u32 {
        self.lots_at(load, at)
            .fold(0, |sum, lot| sum.saturating_add(lot.pieces))
    }

    /// Surface of a load.
    #[must_use]
    pub fn area(&self, shop: &Shop, load: LoadNo) -> Area {
        self.parts(shop, load)
            .iter()
            .map(|(_, part, n)| part.area * f64::from(*n))
            .sum()
    }

    /// Mass of a load.
    #[must_use]
    pub fn mass(&self, shop: &Shop, load: LoadNo) -> Mass {
        self.parts(shop, load)
            .iter()
            .map(|(_, part, n)| part.mass * f64::from(*n))
            .sum()
    }
}
