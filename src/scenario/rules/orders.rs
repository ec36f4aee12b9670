//! Orders: when they come and when they are due.

use super::{Facts, Rule};
use crate::finding::{Code, Finding};
use crate::node::{SourceSpan, Spanned};
use crate::thing::Thing;
use crate::time::When;
use crate::written::{Arrives, File, Order, Stream};
use tankday_base::random::Spread;
use tankday_base::units::{Moment, Span};

pub(super) const ALL: &[Rule] = &[
    Rule::Once(some_orders),
    Rule::Order(one_due),
    Rule::Order(due_after_each),
    Rule::Order(due_after_arrival),
    Rule::Whole(known_days),
    Rule::Whole(said_days),
    Rule::Order(comes_in_time),
    Rule::Order(streams_end),
    Rule::Order(streams_begin),
    Rule::Order(streams_come),
    Rule::Order(streams_vary),
    Rule::Order(streams_move),
    Rule::Once(stop_in_time),
];

/// There is something to do.
fn some_orders(f: &Facts) -> Option<Finding> {
    let none = f.file.orders.is_empty() && !f.file.orders_unread;
    let at = f.file.place(&File::orders).filter(|_| none)?;
    Some(
        Finding::new(Code::Missing, at, "there are no orders")
            .help("write at least one: `- {id: A1, part: wood screw, count: 400, route: small steel}`"),
    )
}

/// `due` or `due after`, not both; a stream has only the second.
fn one_due(_: &Facts, order: &Order) -> Option<Finding> {
    let (due, after) = order.both(&Order::due, &Order::due_after)?;
    let finding = Finding::new(Code::Contradiction, after, "the order has two due times");
    Some(finding.label("one of the two").and(due, "or this"))
}

fn due_after_each(_: &Facts, order: &Order) -> Option<Finding> {
    let (due, stream) = (order.due.as_ref()?, stream(order)?);
    Some(
        Finding::error(Code::Order, due.at)
            .says("orders that come again and again cannot all be due at one time")
            .label("one time for all")
            .and(stream.places.at, "again and again")
            .help("write `due after: 4 h`, counted from each arrival"),
    )
}

/// How it comes again and again, if it does.
fn stream(order: &Order) -> Option<&Stream> {
    match order.arrives.as_ref()? {
        Arrives::Once(_) | Arrives::Weekly(_) => None,
        Arrives::Every(stream) => Some(stream),
    }
}

/// When an order comes first, and where that is written.
fn arrival(f: &Facts, order: &Order) -> Option<(Moment, SourceSpan)> {
    match order.arrives.as_ref()? {
        Arrives::Once(when) => Some((f.hours?.moment(when.value)?, when.at)),
        Arrives::Weekly(_) => None,
        Arrives::Every(s) => Some((f.hours?.moment(s.from.as_ref()?.value)?, s.places.at)),
    }
}

/// Nothing is due before it has come.
fn due_after_arrival(f: &Facts, order: &Order) -> Option<Finding> {
    let due = order.due.as_ref()?;
    let (arrives, at) = arrival(f, order)?;
    let moment = f.hours?.moment(due.value)?;
    (moment <= arrives && matches!(order.arrives, Some(Arrives::Once(_)))).then(|| {
        let finding = Finding::new(Code::Order, due.at, "the order is due before it arrives");
        let finding = finding.label(format!("due {}", in_words(f, moment)));
        let help = "a time without a date is one of the first day: write `2026-03-06 15:00` or `day 2 15:00` for another";
        finding.and(at, format!("arrives {}", in_words(f, arrives))).help(help)
    })
}

pub(super) fn in_words(f: &Facts, at: Moment) -> String {
    let date = f
        .hours
        .map(|h| h.calendar.date(at).to_string())
        .unwrap_or_default();
    format!("{date} {}", at.clock())
}

/// All times that are written.
fn times<'a>(f: &Facts<'a>) -> impl Iterator<Item = &'a Spanned<When>> + use<'a> {
    let of = |o: &'a Order| {
        let (once, from, until) = match &o.arrives {
            Some(Arrives::Once(when)) => (Some(when), None, None),
            Some(Arrives::Every(s)) => (None, s.from.as_ref(), s.until.as_ref()),
            Some(Arrives::Weekly(_)) | None => (None, None, None),
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

/// `Tue 24 Mar` is a Tuesday, and there is such a day at all.
fn said_days(f: &Facts) -> Vec<Finding> {
    let Some(hours) = f.hours else { return Vec::new() };
    let odd = |t: &Spanned<When>| {
        let When::Said(said, _) = t.value else {
            return None;
        };
        let Some(date) = said.on_or_after(hours.calendar.first) else {
            return Some(Finding::new(Code::Time, t.at, "no month has this day").label("no such day"));
        };
        let wrong = said.weekday.is_some_and(|day| day != date.weekday());
        let is = date.strftime("%A %-d %B %Y").to_string();
        wrong.then(|| {
            Finding::new(Code::Time, t.at, "day and date don't agree")
                .label("another weekday")
                .help(format!("it is {is}"))
        })
    };
    times(f).filter_map(odd).collect()
}

/// Orders come while somebody can still take them.
fn comes_in_time(f: &Facts, order: &Order) -> Option<Finding> {
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
}

/// A stream ends at some time or number.
fn streams_end(_: &Facts, order: &Order) -> Option<Finding> {
    let stream = stream(order).filter(|s| s.first(&[&Stream::until, &Stream::most]).is_none())?;
    Some(
        Finding::new(Code::Order, stream.places.at, "these orders never end")
            .label("no end")
            .help("write `until: 16:00`, or `up to: 100` orders"),
    )
}

/// Nor does it end before it begins.
fn streams_begin(f: &Facts, order: &Order) -> Option<Finding> {
    let (stream, hours) = (stream(order)?, f.hours?);
    let (from, until) = (stream.from.as_ref()?, stream.until.as_ref()?);
    (hours.moment(until.value)? <= hours.moment(from.value)?).then(|| {
        Finding::new(Code::Order, until.at, "the orders end before they begin")
            .label("until")
            .and(stream.places.at, "these orders")
    })
}

/// A stream comes on days that there are.
fn streams_come(f: &Facts, order: &Order) -> Option<Finding> {
    let (stream, hours) = (stream(order)?, f.hours?);
    let first = stream.on.first()?;
    hours.open_on(&stream.weekdays()).is_empty().then(|| {
        Finding::new(Code::Order, first.at, "the shop opens on none of these weekdays")
            .label("never open then")
    })
}

/// No more pieces than its count come at once.
fn streams_vary(_: &Facts, order: &Order) -> Option<Finding> {
    let (fewest, count) = (stream(order)?.fewest.as_ref()?, order.count.as_ref()?);
    (fewest.value > count.value).then(|| {
        Finding::error(Code::Order, fewest.at)
            .says("the fewest pieces are more than the order's count")
            .label("more than the count")
            .and(count.at, "the most")
            .help("pieces vary from `fewest` to `count`")
    })
}

/// Time passes between the orders of a stream.
fn streams_move(_: &Facts, order: &Order) -> Option<Finding> {
    let gap = stream(order)?.gap.as_ref()?;
    stands_still(&gap.value).then(|| {
        Finding::new(Code::Order, gap.at, "no time passes between these orders")
            .help("write the time from one order to the next: `every: exponential 45 min`")
    })
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
fn stop_in_time(f: &Facts) -> Option<Finding> {
    let stop = f.file.rules.as_ref()?.stop.as_ref()?;
    let hours = f.hours?;
    let (moment, first) = (hours.moment(stop.value)?, hours.calendar.days.first()?.open);
    (moment <= first).then(|| Finding::new(Code::Time, stop.at, "the simulation stops before the shop opens"))
}
