//! Days without the new order, into which it is placed. One is the day as it is planned without it; the others are
//! planned with an order like it that fills a load, and which is then left out: others make room for it. None of them
//! hangs on how large the new order is or when on its day it comes.

use super::Asked;
use super::fewer_pieces::with_fewer;
use crate::search::plan;
use std::sync::atomic::AtomicBool;
use tankday_base::shop::{Arrival, Order, Shop, StepTime};
use tankday_base::units::Span;
use tankday_line::{Line, Plan};

/// Each other order that is late costs so much, so that the search keeps them all before it hurries the one that is left
/// out again.
const OTHERS_FIRST: f64 = 1e5;
/// By so much before they are due others are to be ready then, so that they are kept under luck.
const MARGIN: Span = Span::whole_minutes(10);
/// Work on each piece fills no more than this.
const WORK: Span = Span::whole_minutes(40);
/// Nothing has more pieces.
const MOST_PIECES: u32 = 1 << 16;

/// An order like the new one.
#[derive(Debug, Clone, Copy)]
pub(super) struct Like {
    /// It fills so many loads.
    pub(super) loads: u32,
    /// It comes so far through the opening hours.
    pub(super) through: f64,
}

/// A day without the last order of a shop, planned with an order like it that comes on an opening day.
pub(super) fn with_room(
    shop: &Shop,
    day: usize,
    like: Like,
    asked: Asked,
    stop: &AtomicBool,
) -> Option<Plan> {
    let mut full = shop.clone();
    let hours = full.calendar.days.get(day)?;
    let comes = hours.open + (hours.close - hours.open).times(like.through);
    let others = full.orders.len().checked_sub(1)?;
    let pieces = a_load(shop, others).saturating_mul(like.loads);
    let new = full.orders.last_mut()?;
    *new = Order {
        count: pieces,
        arrival: Arrival::At(comes),
        due_after: Some(Span::micros(1)),
        ..new.clone()
    };
    for order in full.orders.iter_mut().take(others) {
        order.due_after = order.due_after.map(|due| (due - MARGIN).max(Span::micros(1)));
    }
    full.aim.late_order = full.aim.late_order.max(OTHERS_FIRST);
    let found = plan(&full, asked.seed, asked.effort, stop, &|_| ())?;
    Some(left_out(shop, &found.plan))
}

/// About as many pieces as one load takes.
fn a_load(shop: &Shop, order: usize) -> u32 {
    let line = Line::new(shop);
    let each = shop
        .orders
        .get(order)
        .and_then(|o| shop.routes.get(o.route.index()));
    let each = each.map_or(Span::ZERO, |r| {
        let of = |time: &StepTime| match time {
            StepTime::Work { each, .. } => *each,
            StepTime::Coat => Span::ZERO,
        };
        r.steps
            .iter()
            .map(|s| of(&s.time))
            .fold(Span::ZERO, |sum, each| sum + each)
    });
    let fits =
        |pieces: u32| Plan::rest_of(&line, order, pieces).len() == 1 && each.times(f64::from(pieces)) <= WORK;
    let (mut least, mut most) = (1, MOST_PIECES);
    while least + 1 < most {
        let middle = least + (most - least) / 2;
        if fits(middle) {
            least = middle;
        } else {
            most = middle;
        }
    }
    least
}

/// The plan without its last order.
fn left_out(shop: &Shop, plan: &Plan) -> Plan {
    let mut without = shop.clone();
    without.orders.pop();
    with_fewer(&Line::new(&without), without.orders.len(), plan, u32::MAX)
}
