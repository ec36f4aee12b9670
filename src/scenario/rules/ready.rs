//! Whether orders can be ready when they are due, and at all. Each is followed by itself, with a place and hands always free,
//! every step at its shortest, and baths that get hot as quickly as they can: what is late even so is always late.
//!
//! Left out, so that more is late than is said: other orders, care, topping up, shared supplies, heaters that are off in
//! breaks, and that steps which may be done in either order come one after the other.

use super::Facts;
use super::grows::shortest;
use super::heats::{Heats, night};
use super::orders::in_words;
use super::warms::Warm;
use crate::finding::{Code, Finding};
use crate::node::SourceSpan;
use crate::written;
use tankday_base::print::how_long;
use tankday_base::shop::{
    Arrival, AtBreak, Hands, HeatOff, HeatOn, Order, Part, Route, SHORT_WAIT, Shop, Step, StepTime,
};
use tankday_base::units::{Moment, Span};

/// What can be said of the orders, and of steps that no day is long enough for.
pub(super) fn found(f: &Facts, tanks: &[Warm], shop: &Shop) -> Vec<Finding> {
    if shop.hands == 0 || shop.calendar.days.is_empty() {
        return Vec::new();
    }
    let steps = f
        .steps()
        .filter_map(|(route, step)| no_day_for(shop, route, step));
    let mut found: Vec<Finding> = steps.collect();
    let endless: Vec<SourceSpan> = found.iter().map(|f| f.at).collect();
    let line = Line {
        shop,
        heats: tanks.iter().map(|warm| Heats::of(warm, shop)).collect(),
        tanks,
        hours: on_duty(shop),
    };
    for (written, order) in f.file.orders.iter().zip(&shop.orders) {
        let route = written.route.as_ref().and_then(|r| f.route(&r.value));
        let waits = |s: &written::Step| s.time.as_ref().is_some_and(|t| endless.contains(&t.at));
        if !route.is_some_and(|r| r.steps.iter().any(waits)) {
            found.extend(line.in_time(f, written, order));
        }
    }
    found
}

/// The stretches in which hands are on duty, in order.
fn on_duty(shop: &Shop) -> Vec<(Moment, Moment)> {
    let mut all = Vec::new();
    for day in &shop.calendar.days {
        let mut from = day.open;
        for pause in &day.breaks {
            all.push((from, pause.from));
            from = pause.until;
        }
        all.push((from, day.close));
    }
    all.retain(|s| s.0 < s.1);
    all
}

/// A step that holds hands for longer than any day, or than all days together where it is laid down overnight: what is
/// not done before closing is begun by nobody who looks at the clock.
fn no_day_for(shop: &Shop, route: &written::Route, step: &written::Step) -> Option<Finding> {
    let meant = find(shop, route, step)?;
    let time = step.time.as_ref().filter(|_| meant.hands == Hands::Throughout)?;
    let takes = least_work(meant)?;
    let hours = on_duty(shop);
    let stretches = hours.iter().map(|h| h.1 - h.0);
    let (most, what, label) = match meant.at_break {
        AtBreak::Pause if !begins_urgent(meant) => (stretches.sum(), "all days together have", "never done"),
        AtBreak::StartAgain if !begins_urgent(meant) => (
            stretches.max()?,
            "the longest stretch without a break is",
            "never done",
        ),
        _ => (
            shop.calendar.days.iter().map(|d| d.close - d.open).max()?,
            "the longest day has",
            "longer than any day",
        ),
    };
    (takes > most).then(|| {
        let name = step.name().map_or("this", |n| n.value.as_str());
        let message = format!(
            "`{name}` takes {} of hands: {what} {}",
            how_long(takes),
            how_long(most)
        );
        Finding::warning(Code::Time, time.at, message)
            .label(label)
            .help("is a digit or the unit wrong? what goes on by itself is written `hands: ends`")
    })
}

/// A step as meant.
fn find<'s>(shop: &'s Shop, route: &written::Route, step: &written::Step) -> Option<&'s Step> {
    let meant = shop.routes.iter().find(|r| r.name == route.name.value)?;
    let name = step.name()?;
    meant.steps.iter().find(|s| s.name == name.value)
}

/// The least that a load of one piece is worked on; none in a bath.
fn least_work(step: &Step) -> Option<Span> {
    match &step.time {
        StepTime::Work { load, each } => Some(load.least() + *each),
        StepTime::Coat => None,
    }
}

/// Whether hands do it whatever the hour: what is wet or hot must not wait.
fn begins_urgent(step: &Step) -> bool {
    step.time != StepTime::Coat && (step.at_once || step.within.is_some_and(|w| w <= SHORT_WAIT))
}

/// The same for taking out.
fn out_urgent(step: &Step) -> bool {
    step.time == StepTime::Coat || step.most.is_some()
}

/// What orders are followed with.
struct Line<'a> {
    shop: &'a Shop,
    tanks: &'a [Warm<'a>],
    /// How long each of them takes to get hot.
    heats: Vec<Heats>,
    hours: Vec<(Moment, Moment)>,
}

/// How far an order comes at best.
struct Best {
    ready: Moment,
    /// When the bath was hot that it had to wait for, and where.
    hot: Option<(Moment, String)>,
    /// All its steps at their shortest.
    takes: Span,
}

impl Line<'_> {
    /// The first stretch that is not over at a moment.
    fn later(&self, at: Moment) -> usize {
        self.hours.partition_point(|h| h.1 <= at)
    }

    /// The first moment from one on at which hands begin what can wait; none after the last closing.
    fn begin(&self, at: Moment) -> Option<Moment> {
        let next = self.hours.get(self.later(at))?;
        Some(at.max(next.0))
    }

    /// When work is over that is laid down in breaks and at closing; none where the days are over before.
    fn paused(&self, at: Moment, work: Span) -> Option<Moment> {
        let mut left = work;
        for (from, until) in self.hours.get(self.later(at)..).unwrap_or_default() {
            let from = at.max(*from);
            if left <= *until - from {
                return Some(from + left);
            }
            left -= *until - from;
        }
        None
    }

    /// What is wrong with the due time of an order.
    fn in_time(&self, f: &Facts, written: &written::Order, order: &Order) -> Option<Finding> {
        let part = self.shop.parts.get(order.part.index())?;
        let route = self.shop.routes.get(order.route.index())?;
        let at = match (&written.due, &written.due_after) {
            (_, Some(after)) => Some(after.at),
            (due, None) => due.as_ref().map(|d| d.at),
        };
        let Arrival::At(arrives) = order.arrival else {
            return self.streams_in_time(order, route, part, at?);
        };
        let Some(best) = self.best(order, route, part, arrives) else {
            let takes = self.steps(order, route).map(|s| self.whole(s, part)).sum();
            return Some(never_ready(written, at, takes));
        };
        let due = arrives + order.due_after?;
        (minute(best.ready) > due).then(|| late(f, written, &best, due, at.unwrap_or(written.places.at)))
    }

    /// Of orders that come again and again only how long their route takes is known.
    fn streams_in_time(&self, order: &Order, route: &Route, part: &Part, at: SourceSpan) -> Option<Finding> {
        let after = order.due_after?;
        let takes = self.steps(order, route).map(|s| self.whole(s, part)).sum();
        (after < takes).then(|| {
            let message = format!(
                "these orders are always late: their route takes {} at the least",
                how_long(takes)
            );
            Finding::warning(Code::Order, at, message)
                .label("too soon")
                .help("write a longer `due after`")
        })
    }

    /// The steps that an order passes, in an order in which they may be done.
    fn steps<'r>(&self, order: &Order, route: &'r Route) -> impl Iterator<Item = &'r Step> + use<'r> {
        let part = order.part;
        let passes = move |s: &&Step| s.only.is_empty() || s.only.contains(&part);
        route.steps.iter().filter(passes)
    }

    /// A step from first to last at its shortest.
    fn whole(&self, step: &Step, part: &Part) -> Span {
        let moved = if step.hands == Hands::Ends {
            step.put_in + step.take_out
        } else {
            Span::ZERO
        };
        moved + self.work(step, part)
    }

    /// What a step works at its shortest.
    fn work(&self, step: &Step, part: &Part) -> Span {
        let dwell = || {
            let baths = step.stations.iter().filter_map(|s| {
                let tank = self.shop.stations.get(s.index())?.tank?;
                self.shop.baths.get(tank.bath.index())
            });
            let stays = baths.map(|b| shortest(self.shop, b, part)).min();
            stays.unwrap_or(Span::ZERO)
        };
        least_work(step).unwrap_or_else(dwell)
    }

    /// Follows an order; none if hands that it needs are not there any more.
    fn best(&self, order: &Order, route: &Route, part: &Part, arrives: Moment) -> Option<Best> {
        let mut best = Best {
            ready: arrives,
            hot: None,
            takes: self.steps(order, route).map(|s| self.whole(s, part)).sum(),
        };
        let last = route.steps.len();
        let mut ends = vec![arrives; last];
        for (i, step) in route.steps.iter().enumerate() {
            let before = step.after.iter().filter_map(|a| ends.get(a.index()).copied());
            let from = before.fold(arrives, Moment::max);
            let own = step.only.is_empty() || step.only.contains(&order.part);
            let end = if own {
                self.end(step, part, from, &mut best)?
            } else {
                from
            };
            if let Some(slot) = ends.get_mut(i) {
                *slot = end;
            }
        }
        best.ready = ends.into_iter().fold(arrives, Moment::max);
        Some(best)
    }

    /// When a step that may begin at a moment is over.
    fn end(&self, step: &Step, part: &Part, from: Moment, best: &mut Best) -> Option<Moment> {
        let by_hand = match step.hands {
            Hands::None => false,
            Hands::Ends => step.put_in > Span::ZERO,
            Hands::Throughout => true,
        };
        let opens = self.hours.first()?.0;
        let begin = |at: Moment| match (by_hand, begins_urgent(step)) {
            (false, _) => Some(at),
            (true, true) => Some(at.max(opens)),
            (true, false) => self.begin(at),
        };
        let mut start = begin(from)?;
        if step.time == StepTime::Coat
            && let Some((hot, tank)) = self.hot(step, start).filter(|(hot, _)| *hot > start)
        {
            start = begin(hot)?;
            best.hot = Some((hot, tank));
        }
        let work = self.work(step, part);
        let pauses =
            step.hands == Hands::Throughout && step.at_break != AtBreak::FinishFirst && !begins_urgent(step);
        let ends = step.hands == Hands::Ends;
        let over = match pauses {
            true => self.paused(start, work)?,
            false => start + if ends { step.put_in } else { Span::ZERO } + work,
        };
        if !ends || step.take_out <= Span::ZERO || out_urgent(step) {
            return Some(over + if ends { step.take_out } else { Span::ZERO });
        }
        match self.begin(over) {
            Some(out) => Some(out + step.take_out),
            // What may stay overnight stays.
            None => step.overnight.then_some(over),
        }
    }

    /// From when on a load can go into the first of the baths that it may go into; none where that is not known.
    fn hot(&self, step: &Step, from: Moment) -> Option<(Moment, String)> {
        let all = step.stations.iter().map(|station| {
            let station = self.shop.stations.get(station.index())?;
            let tank = station.tank.as_ref()?;
            let nth = self.tanks.iter().position(|w| std::ptr::eq(w.tank, tank))?;
            Some((self.hot_in(self.heats.get(nth)?, from)?, station.name.clone()))
        });
        let all: Option<Vec<(Moment, String)>> = all.collect();
        all?.into_iter().min_by_key(|(hot, _)| *hot)
    }

    /// When a bath that is heated by hand from opening on is in its band at the earliest.
    fn hot_in(&self, heats: &Heats, from: Moment) -> Option<Moment> {
        let days = &self.shop.calendar.days;
        let heat = &self.shop.rules.heat;
        let nth = days.partition_point(|d| d.open <= from).checked_sub(1)?;
        let (day, eve) = (days.get(nth)?, nth.checked_sub(1).and_then(|e| days.get(e)));
        let tended = eve.is_some_and(|eve| eve.stays || eve.close == Moment::NEVER);
        if heat.on != HeatOn::AtOpening || heat.off == HeatOff::Never || tended {
            return None;
        }
        let takes = match eve {
            None => heats.first,
            Some(eve) => *heats.later.get(&night(eve, day))?,
        };
        Some(from.max(day.open + takes?))
    }
}

fn never_ready(written: &written::Order, due: Option<SourceSpan>, takes: Span) -> Finding {
    let id = written.id.as_ref().map_or("?", |i| i.value.as_str());
    let at = due.or(written.id.as_ref().map(|i| i.at));
    let message = format!(
        "`{id}` is never ready: its route takes {} at the least, and needs hands after the last closing",
        how_long(takes)
    );
    Finding::warning(Code::Order, at.unwrap_or(written.places.at), message)
        .label("never ready")
        .help("give the shop more days or longer hours, or let the order come earlier")
}

fn late(f: &Facts, written: &written::Order, best: &Best, due: Moment, at: SourceSpan) -> Finding {
    let id = written.id.as_ref().map_or("?", |i| i.value.as_str());
    let same = best.ready.day_and_time().0 == due.day_and_time().0;
    let words = |at: Moment| if same { at.clock() } else { in_words(f, at) };
    let message = format!(
        "`{id}` can't be ready by {}: at {} at the earliest",
        words(due),
        words(best.ready)
    );
    let route = format!("its route takes {} at the least", how_long(best.takes));
    let why = match &best.hot {
        Some((hot, tank)) => format!("{route}, and `{tank}` isn't hot before {}", words(*hot)),
        None => route,
    };
    Finding::warning(Code::Order, at, message)
        .label("too soon")
        .help(format!("{why}: write a later `due`, or let it come earlier"))
}

/// The minute that has begun, as it is printed: what is late by seconds is not said to be late.
fn minute(at: Moment) -> Moment {
    const MINUTE: i64 = 60_000_000;
    Moment::micros(at.in_micros().div_euclid(MINUTE) * MINUTE)
}
