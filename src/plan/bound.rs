//! What no plan can beat: the longest way of an order, the work of hands and of each station, the fewest loads that
//! the room of the tanks allows. Each is a bound by itself; the largest counts. Loose where waiting, heat and
//! company decide, and told so.

use super::rooms::fewest;
use crate::luck::Spread;
use crate::shop::{Arrival, CoatRule, Hands, Order, Shop, Step, StepTime};
use crate::units::{Moment, Quantity, Span};

/// Bounds of one shop for mean times.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bounds {
    /// The last load cannot be ready earlier.
    pub finish: Moment,
    /// All orders together cannot be less late.
    pub late: Span,
    /// Orders that are late whatever is done.
    pub late_orders: u32,
}

impl Bounds {
    /// Bounds that say nothing.
    #[must_use]
    pub fn none(shop: &Shop) -> Self {
        Self {
            finish: shop.calendar.days.first().map_or(Moment::ZERO, |d| d.open),
            late: Span::ZERO,
            late_orders: 0,
        }
    }

    /// The least that the aim can come to.
    #[must_use]
    pub fn cost(&self, shop: &Shop) -> f64 {
        let open = shop.calendar.days.first().map_or(Moment::ZERO, |d| d.open);
        shop.aim.late_order * f64::from(self.late_orders)
            + shop.aim.late_minute * self.late.in_minutes()
            + shop.aim.finish_minute * (self.finish - open).in_minutes()
    }
}

/// The times of one order's way: for each step that concerns it, what comes before at least, the step, what comes after.
struct Way<'a> {
    order: &'a Order,
    arrives: Moment,
    steps: Vec<(&'a Step, Span)>,
}

/// The bounds of a shop.
#[must_use]
pub fn bounds(shop: &Shop) -> Bounds {
    let open = shop.calendar.days.first().map_or(Moment::ZERO, |d| d.open);
    let ways: Vec<Way<'_>> = shop.orders.iter().filter_map(|o| way(shop, o)).collect();
    let mut finish = open;
    let (mut late, mut late_orders) = (Span::ZERO, 0);
    for way in &ways {
        let ready = way.arrives.max(open) + total(&way.steps);
        finish = finish.max(ready);
        if let Some(after) = way.order.due_after {
            let by = ready - (way.arrives + after);
            if by > Span::ZERO {
                late += by;
                late_orders += 1;
            }
        }
    }
    for (i, _) in shop.stations.iter().enumerate() {
        finish = finish.max(station_bound(shop, &ways, i, open));
    }
    finish = finish
        .max(hands_bound(shop, &ways, open))
        .max(tank_bound(shop, &ways, open));
    Bounds {
        finish,
        late,
        late_orders,
    }
}

fn way<'a>(shop: &'a Shop, order: &'a Order) -> Option<Way<'a>> {
    let Arrival::At(arrives) = order.arrival else {
        return None;
    };
    let steps = shop.routes.get(order.route.index())?.steps.iter();
    let own = steps.filter(|s| s.only.is_empty() || s.only.contains(&order.part));
    Some(Way {
        order,
        arrives,
        steps: own.map(|s| (s, stay(shop, order, s))).collect(),
    })
}

fn total(steps: &[(&Step, Span)]) -> Span {
    steps.iter().fold(Span::ZERO, |sum, s| sum + s.1 + ends(s.0))
}

fn ends(step: &Step) -> Span {
    if step.hands == Hands::Ends {
        step.put_in + step.take_out
    } else {
        Span::ZERO
    }
}

/// The least that an order spends at a step in one place: work of its smallest part, or the shortest dwell.
fn stay(shop: &Shop, order: &Order, step: &Step) -> Span {
    match &step.time {
        StepTime::Work { load, each } => {
            let pieces = if divisible(shop) { 1 } else { order.count };
            spread(load) + each.times(f64::from(pieces))
        }
        StepTime::Coat => {
            let bath = step.stations.first().and_then(|s| shop.stations[s.index()].tank);
            let own = shop.parts[order.part.index()].dwell.map_or(Span::ZERO, |d| d.0);
            bath.map_or(Span::ZERO, |t| {
                let recipe = &shop.baths[t.bath.index()];
                let drawn = match &recipe.coat {
                    CoatRule::Time(time) => spread(time),
                    CoatRule::Target(_) => Span::ZERO,
                };
                recipe.least.max(own).max(drawn).min(recipe.most)
            })
        }
    }
}

/// Whether an order may come in several lots: where there are tanks.
fn divisible(shop: &Shop) -> bool {
    shop.tanks().next().is_some()
}

fn spread(time: &Spread) -> Span {
    time.mean()
}

/// One station with its own work, the least before it and the least after it.
fn station_bound(shop: &Shop, ways: &[Way<'_>], station: usize, open: Moment) -> Moment {
    let s = &shop.stations[station];
    if s.tank.is_some() || s.together > 1 {
        return open;
    }
    let mut work = Span::ZERO;
    let (mut head, mut tail) = (Moment::NEVER, Span::micros(i64::MAX));
    for way in ways {
        let mut before = Span::ZERO;
        let all = total(&way.steps);
        for (step, stay) in &way.steps {
            let whole = *stay + ends(step);
            if step.stations.len() == 1 && step.stations[0].index() == station && way_is_chain(way) {
                let here = if s.frees == crate::shop::Frees::WhenDone {
                    *stay + step.put_in
                } else {
                    whole
                };
                work += here;
                head = head.min(way.arrives.max(open) + before);
                tail = tail.min(all - before - here);
            }
            before += whole;
        }
    }
    if work == Span::ZERO || shop.tanks().next().is_some() {
        return open;
    }
    head + Span::micros(work.in_micros() / i64::from(s.places.max(1))) + tail
}

/// Whether each step follows the one before.
fn way_is_chain(way: &Way<'_>) -> bool {
    way.steps.windows(2).all(|w| !w[1].0.after.is_empty())
}

/// All work of hands before a load meets others is done for each order by itself.
fn hands_bound(shop: &Shop, ways: &[Way<'_>], open: Moment) -> Moment {
    let mut work = Span::ZERO;
    for way in ways {
        for (step, stay) in &way.steps {
            if step.time == StepTime::Coat {
                break;
            }
            work += if step.hands == Hands::Throughout {
                *stay
            } else {
                ends(step)
            };
        }
    }
    let hands = i64::from(shop.hands.max(1));
    open + Span::micros(work.in_micros() / hands)
}

/// As many loads as the surface and the mass of all orders need, one after another through all tanks of a bath.
fn tank_bound(shop: &Shop, ways: &[Way<'_>], open: Moment) -> Moment {
    let mut latest = open;
    for bath in 0..shop.baths.len() {
        let tanks: Vec<_> = shop.tanks().filter(|t| t.2.bath.index() == bath).collect();
        let recipe = &shop.baths[bath];
        let largest = tanks.iter().map(|t| t.2.fill.base()).fold(0.0, f64::max);
        let places: u32 = tanks.iter().map(|t| t.1.places).sum();
        if largest <= 0.0 || places == 0 {
            continue;
        }
        let coats = |s: &&(&Step, Span)| {
            let tank = s.0.stations.first().and_then(|s| shop.stations[s.index()].tank);
            s.0.time == StepTime::Coat && tank.is_some_and(|t| t.bath.index() == bath)
        };
        let mut areas: Vec<(f64, u32)> = Vec::new();
        let mut masses = Vec::new();
        let (area, mass) = (
            recipe.room.area.base() * largest,
            recipe.room.mass.base() * largest,
        );
        let (mut least, mut head, mut tail) = (Span::micros(i64::MAX), Moment::NEVER, Span::micros(i64::MAX));
        for way in ways {
            let Some(at) = way.steps.iter().position(|s| coats(&s)) else {
                continue;
            };
            let part = &shop.parts[way.order.part.index()];
            areas.push((part.area.base() / area, way.order.count));
            masses.push((part.mass.base() / mass, way.order.count));
            least = least.min(way.steps[at].1 + ends(way.steps[at].0));
            head = head.min(way.arrives.max(open) + total(&way.steps[..at]));
            tail = tail.min(total(&way.steps[at + 1..]));
        }
        if head == Moment::NEVER {
            continue;
        }
        let loads = fewest(&areas).max(fewest(&masses)) as i64;
        let rounds = (loads + i64::from(places) - 1) / i64::from(places);
        latest = latest.max(head + Span::micros(least.in_micros() * rounds) + tail);
    }
    latest
}
