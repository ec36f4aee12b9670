//! What of the costs falls on each order. All costs are shared: those of hands by the time that hands spent on its loads,
//! the rest by the area that was coated, work done again counted again; where there is neither, by pieces. So an order that
//! sees no bath bears its hands.

use super::cost::Cost;
use super::loads::TankLoad;
use super::orders::OrderFigure;
use super::wear::{self, BathWear};
use crate::analysis::Analysis;
use crate::cargo::Lot;
use crate::event::{LoadNo, OrderNo};
use std::collections::BTreeMap;
use tankday_base::shop::StepRef;
use tankday_base::units::{Area, Moment, Share, Span};

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
    /// Its share of what hands cost.
    pub of_hands: Share,
    /// Its share of everything else.
    pub of_rest: Share,
    /// What the steps of its route took, in their order.
    pub steps: Vec<StepShare>,
    /// How far it wears each bath that it was in.
    pub wear: Vec<BathWear>,
}

/// What one step took of an order, all visits of its loads together; what several orders had in common is divided by pieces.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StepShare {
    /// The step.
    pub step: StepRef,
    /// Time of hands.
    pub hands: Span,
    /// Time at its station, from putting in to taking out.
    pub stays: Span,
    /// Loads that passed it.
    pub loads: f64,
    /// Pieces that passed it, work done again counted again.
    pub pieces: f64,
}

impl StepShare {
    const fn none(step: StepRef) -> Self {
        Self {
            step,
            hands: Span::ZERO,
            stays: Span::ZERO,
            loads: 0.0,
            pieces: 0.0,
        }
    }
}

type Steps = BTreeMap<(OrderNo, StepRef), StepShare>;

pub(super) fn of(
    read: &Analysis<'_>,
    orders: &[OrderFigure],
    loads: &[TankLoad],
    cost: &Cost,
) -> Vec<OrderCost> {
    let areas = coated(read, orders, loads);
    let steps = steps(read);
    let hands = handled(&steps);
    let mut wear = wear::of(read, loads);
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
    let mut one = |order: &OrderFigure| {
        let area = areas.get(&order.order).copied().unwrap_or(Area::ZERO);
        let by_hands = share(hands.get(&order.order).copied().unwrap_or(0.0), all_hands, order);
        let own_steps = steps.iter().filter(|((of, _), _)| *of == order.order);
        let by_area = share(area.in_square_metres(), all_area.in_square_metres(), order);
        let own = cost.hands * by_hands + (cost.total() - cost.hands) * by_area;
        OrderCost {
            order: order.order,
            area,
            cost: own,
            each: own / f64::from(order.pieces.max(1)),
            of_hands: Share::fraction(by_hands),
            of_rest: Share::fraction(by_area),
            steps: own_steps.map(|(_, share)| *share).collect(),
            wear: wear.remove(&order.order).unwrap_or_default(),
        }
    };
    orders.iter().map(&mut one).collect()
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

/// Hours of hands on the loads of each order.
fn handled(steps: &Steps) -> BTreeMap<OrderNo, f64> {
    let mut hours: BTreeMap<OrderNo, f64> = BTreeMap::new();
    for ((order, _), step) in steps {
        *hours.entry(*order).or_default() += step.hands.in_hours();
    }
    hours
}

/// What each step took of each order.
fn steps(read: &Analysis<'_>) -> Steps {
    let mut steps = Steps::new();
    for handled in &read.tasks {
        let Some((load, step)) = handled.task.load else {
            continue;
        };
        for (lot, part) in parted(read, load, handled.from) {
            let own = steps.entry((lot.order, step));
            own.or_insert(StepShare::none(step)).hands += (handled.to - handled.from).times(part);
        }
    }
    for (&load, way) in &read.ways {
        for visit in &way.visits {
            let until = visit.done.or(visit.lift).unwrap_or(read.end);
            for (lot, part) in parted(read, load, visit.begins.unwrap_or(visit.set_in)) {
                let own = steps.entry((lot.order, visit.step));
                let own = own.or_insert(StepShare::none(visit.step));
                own.stays += (until - visit.set_in).times(part);
                own.loads += part;
                own.pieces += f64::from(lot.pieces);
            }
        }
    }
    steps
}

/// The lots of a load at a moment, each with its share of the pieces.
fn parted<'a>(read: &'a Analysis<'_>, load: LoadNo, at: Moment) -> impl Iterator<Item = (Lot, f64)> + 'a {
    let pieces = f64::from(read.cargo.pieces_at(load, at).max(1));
    let lots = read.cargo.lots_at(load, at);
    lots.map(move |lot| (lot, f64::from(lot.pieces) / pieces))
}
