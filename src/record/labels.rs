//! What orders and loads are called in print.

use super::analysis::Analysis;
use super::cargo::{Came, Cargo};
use super::event::{LoadNo, OrderNo};
use super::watch::Record;
use std::collections::{BTreeMap, BTreeSet};
use tankday_base::shop::{Arrival, Order, Shop};
use tankday_base::units::Moment;

/// Stands where a record names something that it never introduced.
const UNKNOWN: &str = "?";

/// Names of orders and loads in one run.
///
/// An order is called as in the scenario; one of a stream has its number behind it: `walk-in 17`. A load is called
/// by its order, `A2, 1 of 2`, until it is charged into a tank. From then on it is what the plan calls it, where one is
/// followed; else `L1`, `L2` and so on, in the order of charging as [`Figures`](super::Figures) counts it, behind all
/// numbers that a plan gave. A load that goes through a tank twice is charged twice and has a new label from the second
/// charging on.
#[derive(Debug, Clone, Default)]
pub struct Labels {
    orders: BTreeMap<OrderNo, String>,
    lots: BTreeMap<LoadNo, (OrderNo, String)>,
    /// The charges of each tank load, in order: when it was set in, and its label from then on.
    charges: BTreeMap<LoadNo, Vec<(Moment, String)>>,
    cargo: Cargo,
}

impl Labels {
    /// Reads the names off a record.
    #[must_use]
    pub fn of(shop: &Shop, record: &Record) -> Self {
        Self::from(&Analysis::of(shop, record))
    }

    /// What an order is called; `?` if the record knows no such order.
    #[must_use]
    pub fn order(&self, order: OrderNo) -> &str {
        self.orders.get(&order).map_or(UNKNOWN, String::as_str)
    }

    /// The order that a lot belongs to.
    #[must_use]
    pub fn order_of(&self, load: LoadNo) -> Option<OrderNo> {
        self.lots.get(&load).map(|(order, _)| *order)
    }

    /// What a lot is called before it meets a tank: `A2, 1 of 2`.
    #[must_use]
    pub fn lot(&self, load: LoadNo) -> &str {
        self.lots.get(&load).map_or(UNKNOWN, |(_, name)| name.as_str())
    }

    /// What a lot is called after its first charging, by the label of the tank load that it became part of; as a lot
    /// if it never met a tank.
    #[must_use]
    pub fn load(&self, load: LoadNo) -> &str {
        match self.charges_of(load).first() {
            Some((_, label)) => label,
            None => self.lot(load),
        }
    }

    /// What a lot is called at a moment: as a lot before it is charged, by its label from then on.
    #[must_use]
    pub fn at(&self, load: LoadNo, at: Moment) -> &str {
        let before = self
            .charges_of(load)
            .iter()
            .rev()
            .find(|(set_in, _)| *set_in <= at);
        before.map_or_else(|| self.lot(load), |(_, label)| label)
    }

    /// When the tank load that holds this lot was first charged.
    #[must_use]
    pub fn charged(&self, load: LoadNo) -> Option<Moment> {
        self.charges_of(load).first().map(|(at, _)| *at)
    }

    /// The load that this one became part of; itself if it never joined another.
    #[must_use]
    pub fn holder(&self, load: LoadNo) -> LoadNo {
        self.cargo.holder(load)
    }

    fn charges_of(&self, load: LoadNo) -> &[(Moment, String)] {
        self.charges.get(&self.holder(load)).map_or(&[], Vec::as_slice)
    }
}

impl From<&Analysis<'_>> for Labels {
    fn from(read: &Analysis<'_>) -> Self {
        let shop = read.shop;
        let name = |(no, came): (OrderNo, &Came)| {
            Some((no, order_name(shop.orders.get(came.source.index())?, came.nth)))
        };
        let orders: BTreeMap<OrderNo, String> = read.cargo.orders().filter_map(name).collect();
        Self {
            lots: lots(&orders, &read.made),
            charges: charges(read),
            orders,
            cargo: read.cargo.clone(),
        }
    }
}

/// What an order is called: as written; one of a stream by its number too.
pub(super) fn order_name(order: &Order, nth: u32) -> String {
    match order.arrival {
        Arrival::At(_) => order.id.clone(),
        Arrival::Every { .. } => format!("{} {nth}", order.id),
    }
}

fn lots(
    orders: &BTreeMap<OrderNo, String>,
    made: &BTreeMap<OrderNo, Vec<LoadNo>>,
) -> BTreeMap<LoadNo, (OrderNo, String)> {
    let mut lots = BTreeMap::new();
    for (order, loads) in made {
        let name = orders.get(order).map_or(UNKNOWN, String::as_str);
        for (nth, load) in (1..).zip(loads) {
            let lot = match loads.len() {
                1 => name.to_owned(),
                of => format!("{name}, {nth} of {of}"),
            };
            lots.insert(*load, (*order, lot));
        }
    }
    lots
}

fn charges(read: &Analysis<'_>) -> BTreeMap<LoadNo, Vec<(Moment, String)>> {
    let mut all = Vec::new();
    for (&load, way) in &read.ways {
        for visit in &way.visits {
            let station = read.shop.stations.get(visit.station.index());
            if let (Some(begins), true) = (visit.begins, station.is_some_and(|s| s.tank.is_some())) {
                all.push((begins, visit.station, load, visit.set_in));
            }
        }
    }
    all.sort_unstable();
    let names = &read.names;
    let mut borne: BTreeSet<&str> = BTreeSet::new();
    let mut number = names.values().filter_map(|n| numbered(n)).max().unwrap_or(0);
    let mut charges: BTreeMap<LoadNo, Vec<(Moment, String)>> = BTreeMap::new();
    for (_, _, load, set_in) in all {
        // A name is borne once: by the first that goes in under it.
        let label = match names.get(&load).filter(|name| borne.insert(name)) {
            Some(name) => name.to_string(),
            None => {
                number += 1;
                format!("L{number}")
            }
        };
        charges.entry(load).or_default().push((set_in, label));
    }
    charges
}

/// The number in a name such as `L7`.
#[must_use]
pub fn numbered(name: &str) -> Option<u64> {
    let digits = name.strip_prefix('L')?;
    let plain = digits.bytes().all(|b| b.is_ascii_digit());
    digits.parse().ok().filter(|_| plain).map(u32::into)
}
