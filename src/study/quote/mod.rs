//! What an order costs in the day that it comes into, alone and at a full load; what relief and a rush cost; what moves its
//! price most. Each answer is a day run again, by the shop's own rules and with average times.

mod displaced;
mod levers;
mod relief;
mod rush;

pub use displaced::Later;
pub use levers::{Lever, LeverKind};
pub use relief::Relief;
pub use rush::Rush;

use displaced::{costs_more, displaced};
use rayon::prelude::*;
use tankday_base::shop::{Arrival, Order, OrderId, Shop};
use tankday_base::units::{Moment, Share};
use tankday_line::Line;
use tankday_record::{Figures, Priced, Record, priced};

/// An order with its price in three situations.
#[derive(Debug, Clone, PartialEq)]
pub struct Quoted {
    /// The order.
    pub order: OrderId,
    /// As part of the day's loads; none where it isn't ready by its end.
    pub today: Option<Priced>,
    /// Alone in the shop, from the morning on.
    pub alone: Option<Priced>,
    /// Alone, with as many pieces as one load holds; none where nothing limits a load.
    pub full: Option<Priced>,
    /// When it is ready as part of the day.
    pub ready: Option<Moment>,
}

/// One order, with all that is asked about it.
#[derive(Debug, Clone, PartialEq)]
pub struct Quote {
    /// Its price.
    pub quoted: Quoted,
    /// Orders that are lost or ready later than without it, in its turn.
    pub later: Vec<Later>,
    /// By how much the day costs more with the order than without it; none where other orders are lost for it.
    pub more: Option<f64>,
    /// Baking for hydrogen.
    pub relief: Option<Relief>,
    /// Put first.
    pub rush: Option<Rush>,
    /// What moves its price most, the most first.
    pub levers: Vec<Lever>,
}

/// What is asked for an order.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Asking {
    /// Share of the price that isn't cost.
    pub margin: Share,
    /// The least that an order costs.
    pub minimum: f64,
}

impl Asking {
    /// The price of what costs so much.
    #[must_use]
    pub fn price(&self, cost: f64) -> f64 {
        let left = (1.0 - self.margin.in_fraction()).max(0.01);
        (cost / left).max(self.minimum)
    }

    /// Whether the price of what costs so much is the least that an order costs.
    #[must_use]
    pub fn at_least(&self, cost: f64) -> bool {
        self.minimum > 0.0 && self.price(cost) <= self.minimum
    }
}

/// The line as a function: the record of a shop's days, none where they are too long for one.
pub trait Run: Fn(&Shop) -> Option<Record> + Sync {}

impl<F: Fn(&Shop) -> Option<Record> + Sync> Run for F {}

/// Quotes the last order of a shop. None where the days are too long for a record, or the last order comes again and again.
pub fn quote(shop: &Shop, run: &impl Run) -> Option<Quote> {
    let order = OrderId(u32::try_from(shop.orders.len()).ok()?.checked_sub(1)?);
    let with = figures(shop, run)?;
    let quoted = Quoting::of(shop, &with).quoted(order, run)?;
    let others = Shop {
        orders: shop.orders.split_last()?.1.to_vec(),
        ..shop.clone()
    };
    let before = figures(&others, run);
    let later = before.as_ref().map_or_else(Vec::new, |b| displaced(b, &with));
    Some(Quote {
        more: before.as_ref().and_then(|b| costs_more(&later, (b, &with))),
        later,
        relief: relief::of(shop, order, &quoted, run),
        rush: before.and_then(|before| rush::of(shop, order, (&before, &with), run)),
        levers: levers::of(shop, order, &quoted, run),
        quoted,
    })
}

/// Quotes every order of a shop that is stated one by one. None where the days are too long for a record.
pub fn quotes(shop: &Shop, run: &impl Run) -> Option<Vec<Quoted>> {
    let with = figures(shop, run)?;
    let all = (0..).map(OrderId).take(shop.orders.len());
    let all: Vec<OrderId> = all.collect();
    let quoting = Quoting::of(shop, &with);
    let one = |order: &OrderId| quoting.quoted(*order, run);
    Some(all.par_iter().filter_map(one).collect())
}

fn figures(shop: &Shop, run: &impl Run) -> Option<Figures> {
    Some(Figures::of(shop, &run(shop)?))
}

/// A day by which orders are quoted.
struct Quoting<'a> {
    shop: &'a Shop,
    line: Line<'a>,
    with: &'a Figures,
    /// The shop without any order.
    bare: Shop,
}

impl<'a> Quoting<'a> {
    fn of(shop: &'a Shop, with: &'a Figures) -> Self {
        Self {
            shop,
            line: Line::new(shop),
            with,
            bare: Shop {
                orders: Vec::new(),
                ..shop.clone()
            },
        }
    }

    /// What an order costs in the day, and alone; none for one that comes again and again.
    fn quoted(&self, order: OrderId, run: &impl Run) -> Option<Quoted> {
        let written = self.shop.orders.get(order.index())?;
        if !matches!(written.arrival, Arrival::At(_)) {
            return None;
        }
        let figure = self.with.orders.iter().find(|o| o.source == order);
        let full = self.line.full_load(order.0);
        Some(Quoted {
            order,
            today: figure.and_then(|f| priced(self.shop, self.with, f.order)),
            alone: self.alone(written, written.count, run),
            full: full.and_then(|count| self.alone(written, count, run)),
            ready: figure.and_then(|f| f.ready),
        })
    }

    /// What so many pieces of an order cost that is alone in the shop and there at the first opening.
    fn alone(&self, order: &Order, count: u32, run: &impl Run) -> Option<Priced> {
        let days = &self.shop.calendar.days;
        let order = Order {
            count,
            arrival: Arrival::At(days.first().map_or(Moment::ZERO, |d| d.open)),
            ..order.clone()
        };
        let mut shop = self.bare.clone();
        shop.orders.push(order);
        last_cost(&shop, run)
    }
}

/// What the last order of a shop costs.
fn last_cost(shop: &Shop, run: &impl Run) -> Option<Priced> {
    let figures = figures(shop, run)?;
    let order = shop.orders.len().checked_sub(1)?;
    let own = figures.orders.iter().find(|o| o.source.index() == order)?;
    priced(shop, &figures, own.order)
}
