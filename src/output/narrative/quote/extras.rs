//! Baking for hydrogen, and a rush.

use super::super::Block;
use super::Telling;
use tankday_base::print::{clock_or_date, how_long, list};
use tankday_base::units::Moment;
use tankday_record::Priced;
use tankday_study::quote::{Later, Relief, Rush};

/// At most so many orders are named that a rush makes later.
const NAMED: usize = 5;

impl Telling<'_> {
    pub(super) fn extras(&self) -> Block {
        let relief = self
            .quote
            .relief
            .as_ref()
            .map(|r| ("hydrogen relief".to_owned(), self.relief(r)));
        let rush = self
            .quote
            .rush
            .as_ref()
            .map(|r| ("rush".to_owned(), self.rush(r)));
        Block {
            heading: "Extras",
            caption: "What relief after the bath and a rush cost",
            columns: ["extra", "what it costs"],
            rows: relief.into_iter().chain(rush).collect(),
        }
    }

    fn cost(&self, priced: &Option<Priced>) -> String {
        match priced {
            Some(p) => self.asked.money(p.total()),
            None => "not finished on the stated days".to_owned(),
        }
    }

    fn relief(&self, relief: &Relief) -> String {
        let name = |relief: &Relief| {
            let route = relief.route.and_then(|r| self.asked.shop.routes.get(r.index()));
            route.map_or(String::new(), |r| r.name.clone())
        };
        let costs = || {
            let (with, without) = (self.cost(&relief.with), self.cost(&relief.without));
            let at_it = self.asked.money(relief.at_it);
            format!("cost with it {with}, without it {without}; hands and oven at it {at_it}")
        };
        match (relief.own, relief.needed, relief.route) {
            (true, true, _) => format!(
                "{}; this steel needs it: it stays in, whatever the price",
                costs()
            ),
            (true, false, _) => format!("{}; the route has it, this material doesn't need it", costs()),
            (false, _, Some(_)) => format!("on the route {}: {}", name(relief), costs()),
            (false, _, None) => "no route of the shop relieves hydrogen after the bath".to_owned(),
        }
    }

    /// A part that needs relief on a route without it.
    pub(super) fn relief_watch(&self) -> Vec<String> {
        let needed = self.quote.relief.as_ref().filter(|r| r.needed && !r.own);
        let words = |r: &Relief| match r.route {
            Some(_) => {
                "This steel needs hydrogen relief after the bath, and this route has none: quote the route that has it."
            }
            None => {
                "This steel needs hydrogen relief after the bath, and no route has it: the price is without it."
            }
        };
        needed.map(|r| words(r).to_owned()).into_iter().collect()
    }

    fn at(&self, at: Option<Moment>) -> String {
        at.map_or_else(
            || "not on the stated days".to_owned(),
            |at| clock_or_date(&self.asked.shop.calendar, at),
        )
    }

    fn rush(&self, rush: &Rush) -> String {
        let gains = match (rush.ready, rush.in_turn) {
            (Some(first), Some(in_turn)) => first < in_turn,
            (first, _) => first.is_some(),
        };
        if !gains {
            return format!("gains nothing: ready {} in its turn", self.at(rush.in_turn));
        }
        let cost = self.asked.money(rush.more.abs());
        let cost = match rush.more {
            more if more.abs() < 0.005 => "the day costs the same".to_owned(),
            more if more < 0.0 => format!("the day costs {cost} less"),
            _ => format!("the day costs {cost} more"),
        };
        format!(
            "ready {} instead of {}; {cost}; {}",
            self.at(rush.ready),
            self.at(rush.in_turn),
            self.displaced(rush)
        )
    }

    /// What becomes later than without the order.
    fn displaced(&self, rush: &Rush) -> String {
        if rush.later.is_empty() {
            return "nothing becomes later for it".to_owned();
        }
        let one = |l: &Later| match l.after {
            Some(after) => {
                let late = if l.misses { ", late" } else { "" };
                format!("{} by {}{late}", l.id, how_long(after - l.before))
            }
            None => format!("{} isn't finished", l.id),
        };
        let mut named: Vec<String> = rush.later.iter().take(NAMED).map(one).collect();
        if rush.later.len() > NAMED {
            named.push(format!("{} more", rush.later.len() - NAMED));
        }
        format!("later for it: {}", list(&named))
    }
}
