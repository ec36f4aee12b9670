//! What of the costs falls on each order. All costs are shared: those of hands by the time that hands spent on its loads,
//! the rest by the area that was coated, work done again counted again; where there is neither, by pieces. So an order that
//! sees no bath bears its hands.

use super::cost::Cost;
use super::loads::TankLoad;
use super::orders::OrderFigure;
use crate::analysis::Analysis;
use crate::event::OrderNo;
use std::collections::BTreeMap;
use tankday_base::units::Area;

/// An order's share of the costs.
#[derive(Debug, Clone, PartialEq)]
pub struct OrderCost {
    /// The order.
    pub order: OrderNo,
    /// Area coated for it.
    pub area: Area,
    /// Its share of everything.
    pub cost: f64,
    /// For one of its pieces.
    pub each: f64,
}

pub(super) fn of(
    read: &Analysis<'_>,
    orders: &[OrderFigure],
    loads: &[TankLoad],
    cost: &Cost,
) -> Vec<OrderCost> {
    let areas = coated(read, orders, loads);
    let hands = handled(read);
    let pieces: f64 = orders.iter().map(|o| f64::from(o.pieces)).sum();
    // By hands what hands cost, by area the rest; by pieces where there is neither.
    let share = |own: f64, all: f64, order: &OrderFigure| {
        if all > 0.0 {
            own / all
        } else {
            f64::from(order.pieces) / pieces.max(1.0)
        }
    };
    let all_area: Area = areas.values().copied().sum();
    let all_hands: f64 = hands.values().sum();
    let one = |order: &OrderFigure| {
        let area = areas.get(&order.order).copied().unwrap_or(Area::ZERO);
        let by_hands = share(hands.get(&order.order).copied().unwrap_or(0.0), all_hands, order);
        let by_area = share(area.in_square_metres(), all_area.in_square_metres(), order);
        let own = cost.hands * by_hands + (cost.total() - cost.hands) * by_area;
        OrderCost {
            order: order.order,
            area,
            cost: own,
            each: own / f64::from(order.pieces.max(1)),
        }
    };
    orders.iter().map(one).collect()
}

/// Area coated for each order.
fn coated(read: &Analysis<'_>, orders: &[OrderFigure], loads: &[TankLoad]) -> BTreeMap<OrderNo, Area> {
    let parts: BTreeMap<OrderNo, Area> = orders
        .iter()
        .filter_map(|o| Some((o.order, read.shop.parts.get(o.part.index())?.area)))
        .collect();
    let mut areas: BTreeMap<OrderNo, Area> = BTreeMap::new();
    for lot in loads.iter().flat_map(|l| &l.lots) {
        if let Some(piece) = parts.get(&lot.order) {
            *areas.entry(lot.order).or_insert(Area::ZERO) += *piece * f64::from(lot.pieces);
        }
    }
    areas
}

/// Hours of hands on the loads of each order; those on a load of several orders divided by their pieces.
fn handled(read: &Analysis<'_>) -> BTreeMap<OrderNo, f64> {
    let mut hours: BTreeMap<OrderNo, f64> = BTreeMap::new();
    for handled in &read.tasks {
        let Some((load, _)) = handled.task.load else {
            continue;
        };
        let pieces = f64::from(read.cargo.pieces_at(load, handled.from).max(1));
        let own = (handled.to - handled.from).in_hours() / pieces;
        for lot in read.cargo.lots_at(load, handled.from) {
            *hours.entry(lot.order).or_default() += own * f64::from(lot.pieces);
        }
    }
    hours
}
