//! What of the costs falls on each order. All costs are shared, and split by the surface that was coated, work done
//! again counted again; where nothing was coated, by pieces.

use super::cost::Cost;
use super::loads::TankLoad;
use super::orders::OrderFigure;
use crate::event::OrderNo;
use std::collections::BTreeMap;
use tankday_base::shop::Shop;
use tankday_base::units::Area;

/// An order's share of the costs.
#[derive(Debug, Clone, PartialEq)]
pub struct OrderCost {
    /// The order.
    pub order: OrderNo,
    /// Surface coated for it.
    pub area: Area,
    /// Its share of everything.
    pub cost: f64,
    /// For one of its pieces.
    pub each: f64,
}

pub(super) fn of(shop: &Shop, orders: &[OrderFigure], loads: &[TankLoad], cost: &Cost) -> Vec<OrderCost> {
    let parts: BTreeMap<OrderNo, Area> = orders
        .iter()
        .filter_map(|o| Some((o.order, shop.parts.get(o.part.index())?.area)))
        .collect();
    let mut areas: BTreeMap<OrderNo, Area> = BTreeMap::new();
    for lot in loads.iter().flat_map(|l| &l.lots) {
        if let Some(piece) = parts.get(&lot.order) {
            *areas.entry(lot.order).or_insert(Area::ZERO) += *piece * f64::from(lot.pieces);
        }
    }
    let all: Area = areas.values().copied().sum();
    let pieces: f64 = orders.iter().map(|o| f64::from(o.pieces)).sum();
    let total = cost.total();
    let one = |order: &OrderFigure| {
        let area = areas.get(&order.order).copied().unwrap_or(Area::ZERO);
        let share = if all > Area::ZERO {
            area / all
        } else {
            f64::from(order.pieces) / pieces.max(1.0)
        };
        OrderCost {
            order: order.order,
            area,
            cost: total * share,
            each: total * share / f64::from(order.pieces.max(1)),
        }
    };
    orders.iter().map(one).collect()
}
