//! Baking for hydrogen, and a rush.

use super::super::Block;
use super::Telling;
use tankday_base::print::{clock_or_date, count_word, how_long, list};
use tankday_base::units::{Moment, Span};
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
        if !gains(rush) {
            return format!("gains nothing: ready {} in its turn", self.at(rush.in_turn));
        }
        let ready = format!(
            "ready {} instead of {}",
            self.at(rush.ready),
            self.at(rush.in_turn)
        );
        let said = [lost_words(&rush.later), Some(ready), self.more(rush), later(rush)];
        said.into_iter().flatten().collect::<Vec<_>>().join("; ")
    }

    /// By how much the day costs more; nothing where orders are lost.
    fn more(&self, rush: &Rush) -> Option<String> {
        let more = rush.more?;
        let cost = self.asked.money(more.abs());
        Some(match more {
            more if more.abs() < 0.005 => "the day costs the same".to_owned(),
            more if more < 0.0 => format!("the day costs {cost} less"),
            _ => format!("the day costs {cost} more"),
        })
    }

    /// What a rush loses and makes late: what is lost first.
    pub(super) fn rush_watch(&self) -> Vec<String> {
        let Some(rush) = self.quote.rush.as_ref().filter(|r| gains(r)) else {
            return Vec::new();
        };
        let late = rush.later.iter().filter(|l| l.misses && !l.is_lost()).count();
        let late = (late > 0).then(|| {
            let (orders, are) = match late {
                1 => ("one order".to_owned(), "is"),
                many => (format!("{} orders", count_word(many)), "are"),
            };
            format!("As a rush it makes {orders} late that {are} on time without it.")
        });
        lost(&rush.later, "As a rush")
            .map(|said| format!("{said} Don't take it as a rush on these days."))
            .into_iter()
            .chain(late)
            .collect()
    }
}

/// Whether a rush has the order ready earlier.
#[must_use]
pub fn gains(rush: &Rush) -> bool {
    match (rush.ready, rush.in_turn) {
        (Some(first), Some(in_turn)) => first < in_turn,
        (first, _) => first.is_some(),
    }
}

/// `B6 isn't finished then`; none where no order is lost.
fn lost_words(later: &[Later]) -> Option<String> {
    let ids = |harmed: bool| -> Vec<String> {
        let lost = later.iter().filter(|l| l.is_lost() && l.harmed == harmed);
        lost.map(|l| l.id.clone()).collect()
    };
    let are = |ids: &[String]| if ids.len() == 1 { "isn't" } else { "aren't" };
    let (unready, harmed) = (ids(false), ids(true));
    let said = [(unready, "finished"), (harmed, "sound")];
    let said = said.into_iter().filter(|(ids, _)| !ids.is_empty());
    let said: Vec<String> = said
        .map(|(ids, what)| format!("{} {} {what} then", list(&ids), are(&ids)))
        .collect();
    (!said.is_empty()).then(|| said.join(", "))
}

/// `As a rush: B6 isn't finished then.`; none where no order is lost.
pub(super) fn lost(later: &[Later], when: &str) -> Option<String> {
    lost_words(later).map(|words| format!("{when}: {words}."))
}

/// What becomes later than without the order, besides what is lost.
fn later(rush: &Rush) -> Option<String> {
    let later = || rush.later.iter().filter(|l| !l.is_lost());
    let one = |l: &Later| {
        let late = if l.misses { ", late" } else { "" };
        let by = l.after.map_or(Span::ZERO, |after| after - l.before);
        format!("{} by {}{late}", l.id, how_long(by))
    };
    let mut named: Vec<String> = later().take(NAMED).map(one).collect();
    match later().count() {
        0 if rush.later.is_empty() => return Some("nothing becomes later for it".to_owned()),
        0 => return None,
        all if all > NAMED => named.push(format!("{} more", all - NAMED)),
        _ => {}
    }
    Some(format!("later for it: {}", list(&named)))
}
