//! Orders: when they come and when they are due.

use super::{Facts, Rule};
use crate::finding::{Code, Finding};
use crate::node::{Place, Spot};
use crate::time::When;
use crate::written::{Arrives, Order};
use tankday_base::luck::Spread;
use tankday_base::units::{Moment, Span};

pub(super) const ALL: &[Rule] = &[
    some_orders,
    one_due,
    due_after_arrival,
    known_days,
    comes_in_time,
    streams_end,
    streams_come,
    streams_move,
    stop_in_time,
];

/// There is something to do.
fn some_orders(f: &Facts) -> Vec<Finding> {
    let none = f.file.orders.is_empty();
    let at = f.file.orders_at;
    at.filter(|_| none && !f.file.orders_unread)
        .map(|at| {
            Finding::new(Code::Missing, at, "there are no orders")
                .help("write at least one: `- {id: A1, part: wood screw, count: 400, route: small steel}`")
        })
        .into_iter()
        .collect()
}

/// `due` or `due after`, not both; a stream has only the second.
fn one_due(f: &Facts) -> Vec<Finding> {
    let mut found = Vec::new();
    for order in &f.file.orders {
        if let Some((due, after)) = order.both {
            let finding = Finding::new(Code::Contradiction, after, "the order has two due times")
                .label("one of the two");
            found.push(finding.and(due, "or this"));
        }
        if let (Some(due), Some(Arrives::Every(stream))) = (&order.due, &order.arrives) {
            found.push(
                Finding::new(
                    Code::Order,
                    due.at,
                    "orders that come again and again cannot all be due at one time",
                )
                .label("one time for all")
                .and(stream.at, "again and again")
                .help("write `due after: 4 h`, counted from each arrival"),
            );
        }
    }
    found
}

/// When an order comes first, and where that is written.
fn arrival(f: &Facts, order: &Order) -> Option<(Moment, Place)> {
    match order.arrives.as_ref()? {
        Arrives::Once(when) => Some((f.hours?.moment(when.value)?, when.at)),
        Arrives::Every(s) => Some((f.hours?.moment(s.from.as_ref()?.value)?, s.at)),
    }
}

/// Nothing is due before it has come.
fn due_after_arrival(f: &Facts) -> Vec<Finding> {
    let early = |order: &Order| {
        let due = order.due.as_ref()?;
        let (arrives, at) = arrival(f, order)?;
        let moment = f.hours?.moment(due.value)?;
        (moment <= arrives && matches!(order.arrives, Some(Arrives::Once(_)))).then(|| {
            let finding = Finding::new(Code::Order, due.at, "the order is due before it arrives");
            let finding = finding.label(format!("due {}", in_words(f, moment)));
            let help = "a time without a date is one of the first day: write `2026-03-06 15:00` or `day 2 15:00` for another";
            finding.and(at, format!("arrives {}", in_words(f, arrives))).help(help)
        })
    };
    f.file.orders.iter().filter_map(early).collect()
}

fn in_words(f: &Facts, at: Moment) -> String {
    let date = f
        .hours
        .map(|h| h.calendar.date(at).to_string())
        .unwrap_or_default();
    format!("{date} {}", at.clock())
}

/// All times that are written.
fn times<'a>(f: &Facts<'a>) -> impl Iterator<Item = &'a Spot<When>> + use<'a> {
    let of = |o: &'a Order| {
        let (once, from, until) = match &o.arrives {
            Some(Arrives::Once(when)) => (Some(when), None, None),
            Some(Arrives::Every(s)) => (None, s.from.as_ref(), s.until.as_ref()),
            None => (None, None, None),
        };
        [once, from, until, o.due.as_ref()].into_iter().flatten()
    };
    let stop = f.file.rules.iter().filter_map(|r| r.stop.as_ref());
    f.file.orders.iter().flat_map(of).chain(stop)
}

/// `day 3` is one of the days.
fn known_days(f: &Facts) -> Vec<Finding> {
    let Some(hours) = f.hours else { return Vec::new() };
    let days = hours.calendar.days.len();
    let unknown = times(f).filter(|t| matches!(t.value, When::Nth(n, _) if n as usize > days));
    unknown
        .map(|t| {
            let have = if days == 1 {
                "the scenario has 1 day".to_owned()
            } else {
                format!("the scenario has {days} days")
            };
            Finding::new(Code::Time, t.at, "there is no such day")
                .label("no such day")
                .help(have)
        })
        .collect()
}

/// Orders come while somebody can still take them.
fn comes_in_time(f: &Facts) -> Vec<Finding> {
    let outside = |order: &Order| {
        let (arrives, at) = arrival(f, order)?;
        let hours = f.hours?;
        if arrives < Moment::ZERO {
            let first = hours.calendar.first;
            return Some(
                Finding::new(Code::Order, at, "the order comes before the first day")
                    .help(format!("the first day is {first}")),
            );
        }
        let closing = hours.last_closing().or(hours.watched_until)?;
        (arrives >= closing).then(|| {
            Finding::new(Code::Order, at, "the order comes after the last closing")
                .label("too late")
                .help(format!(
                    "the shop closes for the last time {}",
                    in_words(f, closing)
                ))
        })
    };
    f.file.orders.iter().filter_map(outside).collect()
}

/// A stream ends at some time or number.
fn streams_end(f: &Facts) -> Vec<Finding> {
    let mut found = Vec::new();
    for order in &f.file.orders {
        let Some(Arrives::Every(stream)) = &order.arrives else {
            continue;
        };
        if !stream.ends {
            found.push(
                Finding::new(Code::Order, stream.at, "these orders never end")
                    .label("no end")
                    .help("write `until: 16:00`, or `up to: 100` orders"),
            );
        }
        let moment = |got: &Option<Spot<When>>| f.hours.and_then(|h| h.moment(got.as_ref()?.value));
        if let (Some(from), Some(until_at), Some(spot)) =
            (moment(&stream.from), moment(&stream.until), &stream.until)
            && until_at <= from
        {
            found.push(
                Finding::new(Code::Order, spot.at, "the orders end before they begin")
                    .label("until")
                    .and(stream.at, "these orders"),
            );
        }
    }
    found
}

/// A stream comes on days that there are, with no more than its count of pieces.
fn streams_come(f: &Facts) -> Vec<Finding> {
    let mut found = Vec::new();
    for order in &f.file.orders {
        let Some(Arrives::Every(stream)) = &order.arrives else {
            continue;
        };
        if let (Some(first), Some(hours)) = (stream.on.first(), f.hours)
            && hours.open_on(&stream.weekdays()).is_empty()
        {
            found.push(
                Finding::new(Code::Order, first.at, "the shop opens on none of these weekdays")
                    .label("never open then"),
            );
        }
        if let (Some(fewest), Some(count)) = (&stream.fewest, &order.count)
            && fewest.value > count.value
        {
            found.push(
                Finding::new(
                    Code::Order,
                    fewest.at,
                    "the fewest pieces are more than the order's count",
                )
                .label("more than the count")
                .and(count.at, "the most")
                .help("pieces vary from `fewest` to `count`"),
            );
        }
    }
    found
}

/// Time passes between the orders of a stream.
fn streams_move(f: &Facts) -> Vec<Finding> {
    let still = |order: &Order| match &order.arrives {
        Some(Arrives::Every(stream)) => {
            let gap = stream.gap.as_ref().filter(|gap| stands_still(&gap.value))?;
            let finding = Finding::new(Code::Order, gap.at, "no time passes between these orders");
            Some(finding.help("write the time from one order to the next: `every: exponential 45 min`"))
        }
        _ => None,
    };
    f.file.orders.iter().filter_map(still).collect()
}

fn stands_still(gap: &Spread) -> bool {
    match gap {
        Spread::Fixed(time) => *time <= Span::ZERO,
        Spread::Uniform { most, .. } | Spread::Triangular { most, .. } => *most <= Span::ZERO,
        Spread::Normal { mean, .. } | Spread::Exponential { mean } => *mean <= Span::ZERO,
        Spread::Lognormal { mean, .. } | Spread::Gamma { mean, .. } => *mean <= Span::ZERO,
        Spread::Readings(all) => all.iter().all(|t| *t <= Span::ZERO),
    }
}

/// The simulation does not stop before it begins.
fn stop_in_time(f: &Facts) -> Vec<Finding> {
    let stop = f.file.rules.as_ref().and_then(|r| r.stop.as_ref());
    let early = stop.and_then(|s| {
        let (moment, first) = (f.hours?.moment(s.value)?, f.hours?.calendar.days.first()?.open);
        (moment <= first)
            .then(|| Finding::new(Code::Time, s.at, "the simulation stops before the shop opens"))
    });
    early.into_iter().collect()
}
