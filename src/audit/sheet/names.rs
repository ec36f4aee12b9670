//! What orders and loads are called, read off a record.
//!
//! An order is called as in the scenario, one of a stream with its number behind it. A load is a lot of an order, `A2, 1 of
//! 2`, until it goes into a bath. From then on it bears the name that the plan gave it; who has none, or goes in once more, is
//! numbered `L1`, `L2` and so on in the order in which dwells begin, behind the highest number that was given.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;
use tankday_base::shop::{Arrival, PartId, Shop};
use tankday_base::units::Moment;
use tankday_record::{LoadNo, LogEntry, OrderNo, Record};

/// Pieces of one order in a load, and since when.
#[derive(Debug, Clone, Copy)]
struct Lot {
    order: OrderNo,
    pieces: u32,
    since: Moment,
}

/// Names and contents of all loads of a record.
#[derive(Debug, Default)]
pub(super) struct Names {
    orders: BTreeMap<OrderNo, (String, PartId, u32)>,
    lots: BTreeMap<LoadNo, String>,
    inside: BTreeMap<LoadNo, Vec<Lot>>,
    charges: BTreeMap<LoadNo, Vec<(Moment, String)>>,
    /// The load that each one went into its bath with.
    into: BTreeMap<LoadNo, LoadNo>,
}

impl Names {
    pub(super) fn of(shop: &Shop, record: &Record) -> Self {
        let mut names = Self::default();
        let mut made: BTreeMap<OrderNo, Vec<LoadNo>> = BTreeMap::new();
        let mut dwells = Vec::new();
        let mut given: BTreeMap<LoadNo, Arc<str>> = BTreeMap::new();
        let mut set_in: BTreeMap<LoadNo, Moment> = BTreeMap::new();
        for entry in &record.entries {
            match entry.event {
                LogEntry::OrderArrives {
                    order,
                    source,
                    nth,
                    pieces,
                } => {
                    if let Some(stated) = shop.orders.get(source.index()) {
                        let name = match stated.arrival {
                            Arrival::At(_) => stated.id.clone(),
                            Arrival::Every { .. } => format!("{} {nth}", stated.id),
                        };
                        names.orders.insert(order, (name, stated.part, pieces));
                    }
                }
                LogEntry::LoadMade { load, order, pieces } => {
                    made.entry(order).or_default().push(load);
                    let since = entry.at;
                    names
                        .inside
                        .entry(load)
                        .or_default()
                        .push(Lot { order, pieces, since });
                }
                LogEntry::LoadNamed { load, ref name } => {
                    given.insert(load, name.clone());
                }
                LogEntry::Joins { load, into } => names.joins(load, into, entry.at),
                LogEntry::SetIn { load, .. } => {
                    set_in.insert(load, entry.at);
                }
                LogEntry::WorkBegins { load, station, .. } => {
                    let tank = shop
                        .stations
                        .get(station.index())
                        .is_some_and(|s| s.tank.is_some());
                    if let (Some(from), true) = (set_in.get(&load), tank) {
                        dwells.push((entry.at, station, load, *from));
                    }
                }
                _ => {}
            }
        }
        names.lots = lots(&names.orders, &made);
        dwells.sort_unstable();
        let mut last = given.values().filter_map(|g| of_the_row(g)).max().unwrap_or(0);
        let mut borne: BTreeSet<Arc<str>> = BTreeSet::new();
        for (.., load, from) in dwells {
            let own = given.get(&load).filter(|name| borne.insert((*name).clone()));
            let label = own.map_or_else(
                || {
                    last += 1;
                    format!("L{last}")
                },
                |name| name.to_string(),
            );
            names.charges.entry(load).or_default().push((from, label));
        }
        names
    }

    fn joins(&mut self, load: LoadNo, into: LoadNo, at: Moment) {
        let moved = self.inside.get(&load).cloned().unwrap_or_default();
        self.into.insert(load, into);
        let all = moved.into_iter().map(|lot| Lot { since: at, ..lot });
        self.inside.entry(into).or_default().extend(all);
    }

    /// What a load is called at a moment. A lot that was in a bath with others keeps that load's name when they go apart again
    /// after an inspection that failed.
    pub(super) fn load(&self, load: LoadNo, at: Moment) -> &str {
        let mut with = load;
        while let Some(&into) = self.into.get(&with) {
            with = into;
        }
        let charges = self.charges.get(&with).map_or(&[][..], Vec::as_slice);
        let charged = charges.iter().rev().find(|(from, _)| *from <= at);
        let lot = || self.lots.get(&load).map_or("?", String::as_str);
        charged.map_or_else(lot, |(_, label)| label)
    }

    /// An order's name, part and pieces.
    pub(super) fn order(&self, order: OrderNo) -> Option<&(String, PartId, u32)> {
        self.orders.get(&order)
    }

    /// What the orders of a load at a moment are called.
    pub(super) fn orders_in(&self, load: LoadNo, at: Moment) -> Vec<String> {
        let lots = self.inside.get(&load).map_or(&[][..], Vec::as_slice);
        let orders = lots.iter().filter(|l| l.since <= at);
        orders
            .filter_map(|l| Some(self.orders.get(&l.order)?.0.clone()))
            .collect()
    }

    /// Pieces by part in a load at a moment, in the order in which they came into it.
    pub(super) fn inside(&self, load: LoadNo, at: Moment) -> Vec<(PartId, u32)> {
        let mut kinds: Vec<(PartId, u32)> = Vec::new();
        let lots = self.inside.get(&load).map_or(&[][..], Vec::as_slice);
        for lot in lots.iter().filter(|l| l.since <= at) {
            let Some((_, part, _)) = self.orders.get(&lot.order) else {
                continue;
            };
            match kinds.iter_mut().find(|k| k.0 == *part) {
                Some(kind) => kind.1 = kind.1.saturating_add(lot.pieces),
                None => kinds.push((*part, lot.pieces)),
            }
        }
        kinds
    }
}

/// 7 of `L7`.
fn of_the_row(name: &str) -> Option<u64> {
    let number: u32 = name.strip_prefix('L')?.parse().ok()?;
    name.chars()
        .skip(1)
        .all(|c| c.is_ascii_digit())
        .then_some(u64::from(number))
}

fn lots(
    orders: &BTreeMap<OrderNo, (String, PartId, u32)>,
    made: &BTreeMap<OrderNo, Vec<LoadNo>>,
) -> BTreeMap<LoadNo, String> {
    let mut lots = BTreeMap::new();
    for (order, loads) in made {
        let name = orders.get(order).map_or("?", |o| o.0.as_str());
        for (nth, load) in (1..).zip(loads) {
            let lot = match loads.len() {
                1 => name.to_owned(),
                all => format!("{name}, {nth} of {all}"),
            };
            lots.insert(*load, lot);
        }
    }
    lots
}
