//! Orders as written.

use super::MOST_IN_STREAM;
use crate::defaults::{NEUTRAL, OURS};
use crate::fields::Fields;
use crate::node::{Spanned, Value};
use crate::reader::{NAME, PIECES, SPAN, SPREAD, WHEN, count, factor};
use crate::thing::{Kind, Reader, Thing, thing, words};
use crate::time::When;
use crate::week_hours::{TIME_PATTERN, WeekTime, week_time};
use tankday_base::random::Spread;
use tankday_base::units::Span;

thing! {
    /// An order.
    Order "orders", "an order" {
        must "id" id: String = NAME, "its name, such as A1";
        must "part" part: String = NAME, "which part";
        must "route" route: String = NAME, "which way through the shop";
        or "count" count: u32 = PIECES, "pieces, such as 400", {"1": NEUTRAL};
        may own "arrives" arrives: Option<Arrives> = ARRIVES => |f| Arrives::of(f),
            "when it comes: 07:30, 2026-03-06 08:00, at opening, every Monday 17:00, or again and again by chance",
            {"at opening": OURS};
        may "due" due: When = WHEN, "when it must be ready: 15:00, tomorrow 12:00, Tuesday 20:30, 2026-03-06 15:00, or 2026-03-06 closing";
        may "due after" due_after: Span = SPAN, "due so long after its arrival, such as 4 h";
        /// Tanks that it is meant for.
        may names "tank" tanks: Vec<Spanned<String>>,
            "the tank that it is meant for, or several";
        or "looks" looks: bool = words!("matter" => true, "do not matter" => false),
            "whether its looks matter; scrap and hidden pieces may go through a fresh bath first",
            {"matter": OURS}, after "arrives";
        or "late counts" weight: f64 = factor::<1, 100>(),
            "how much its being late counts, 0.1 to 10 times as much as that of another",
            {"1": NEUTRAL}, after "looks";
    }
}

const OPENING: Reader<When> = Reader::new(Kind::Or(&[Kind::Clock, Kind::Word(&["at opening"])]), WHEN.read);
const ARRIVES: Kind = Kind::Or(&[
    Kind::Clock,
    Kind::Week(TIME_PATTERN),
    Kind::Word(&["at opening"]),
    Kind::Thing(Stream::TABLE),
]);

/// When an order comes.
#[derive(Debug)]
pub(crate) enum Arrives {
    /// Once.
    Once(Spanned<When>),
    /// On every such weekday, known before: written out as an order for each.
    Weekly(Spanned<WeekTime>),
    /// Again and again.
    Every(Box<Stream>),
}

impl Arrives {
    fn of(f: &mut Fields) -> Option<Self> {
        match f.node(&Order::arrives).map(|n| &n.value) {
            Some(Value::Map(_)) => f.thing(&Order::arrives).map(|s| Self::Every(Box::new(s))),
            Some(Value::Text(text)) if text.starts_with("every ") => {
                f.value(&Order::arrives, week_time).map(Self::Weekly)
            }
            _ => f.value_or(&Order::arrives, "", WHEN.read).map(Self::Once),
        }
    }
}

const WEEKDAY: Reader<usize> = words!(
    "Monday" => 0,
    "Tuesday" => 1,
    "Wednesday" => 2,
    "Thursday" => 3,
    "Friday" => 4,
    "Saturday" => 5,
    "Sunday" => 6,
);

thing! {
    /// Orders that come again and again.
    Stream "orders.arrives", "a stream of orders" {
        must "every" gap: Spread = SPREAD, "time from one to the next, such as exponential 45 min";
        or "from" from: When = OPENING, "when counting starts", {"at opening": OURS};
        may "until" until: When = WHEN, "none comes at or after it";
        may "up to" most: u32 = count::<1, MOST_IN_STREAM>(), "at most so many orders";
        /// Only in opening hours.
        may "only" only: () = words!("opening hours" => ()),
            "opening hours: the time between orders runs only while the shop is open";
        /// On these weekdays, counted from Monday as 0; none if all.
        may own "on" on: Vec<Spanned<usize>> = Kind::Some(&WEEKDAY.kind) => |f| weekdays(f),
            "only on these weekdays, in opening hours, such as [Monday, Thursday]";
        may "fewest" fewest: u32 = PIECES, "pieces vary evenly from so many to the order's count, such as 20";
    }
}

impl Order {
    /// The same order, once, under a name and with times of its own.
    pub(crate) fn once(&self, id: String, arrives: When, due: Option<When>) -> Self {
        let at = |spot: &Option<Spanned<String>>| spot.as_ref().map_or(self.places.at, |s| s.at);
        let comes = match &self.arrives {
            Some(Arrives::Weekly(spot)) => spot.at,
            _ => self.places.at,
        };
        let due_at = self.due.as_ref().map_or(self.places.at, |d| d.at);
        Self {
            id: Some(Spanned::new(id, at(&self.id))),
            part: self.part.clone(),
            route: self.route.clone(),
            count: self.count,
            arrives: Some(Arrives::Once(Spanned::new(arrives, comes))),
            due: due.map(|due| Spanned::new(due, due_at)),
            due_after: self.due_after,
            tanks: self.tanks.clone(),
            looks: self.looks,
            weight: self.weight,
            places: self.places.clone(),
        }
    }
}

impl Stream {
    /// The weekdays that it comes on, counted from Monday as 0.
    pub(crate) fn weekdays(&self) -> Vec<usize> {
        self.on.iter().map(|day| day.value).collect()
    }
}

/// The weekdays of a stream.
fn weekdays(f: &mut Fields) -> Vec<Spanned<usize>> {
    let Some(node) = f.node(&Stream::on) else {
        return Vec::new();
    };
    let read = |n: &_, w: &mut _| (WEEKDAY.read)(n, w).map(|day| Spanned::new(day, n.at));
    f.walk.list(node, "weekdays", 7, read)
}
