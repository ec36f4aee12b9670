//! What no plan can beat: the longest way of an order, heating up, the work of hands and of each station, the fewest loads
//! that the room of the tanks allows. Each is a bound by itself; the largest counts. Loose where waiting, heat and
//! company decide, and told so.

use super::hot::first_hot;
use super::rooms::fewest;
use crate::route::ProcessGraph;
use crate::shop::{Arrival, CoatRule, Frees, Hands, Order, Part, Shop, StationId, Step, StepIx, StepTime};
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

/// One step of an order's way.
struct Stage<'a> {
    step: &'a Step,
    /// The least that a part spends there in one place.
    stay: Span,
    /// It cannot begin before.
    earliest: Moment,
    /// What must come after it takes so long at least.
    after: Span,
}

impl Stage<'_> {
    fn whole(&self) -> Span {
        self.stay + ends(self.step)
    }
}

/// The times of one order's way, step by step.
struct Way<'a> {
    order: &'a Order,
    steps: Vec<Stage<'a>>,
    /// The earliest moment at which it can be ready: all its steps come one after the other.
    ready: Moment,
}

/// Before when nothing can be done.
struct Closed {
    /// Nobody is there before.
    open: Moment,
    /// For each station when its bath is hot.
    hot: Vec<Moment>,
}

impl Closed {
    /// Before this a step can begin nowhere.
    fn until(&self, step: &Step) -> Moment {
        let at = |s: &StationId| self.hot.get(s.index()).copied().unwrap_or(Moment::ZERO);
        let hot = match step.time {
            StepTime::Coat => step.stations.iter().map(at).min().unwrap_or(Moment::ZERO),
            StepTime::Work { .. } => Moment::ZERO,
        };
        // Putting in that takes no time is done by nobody.
        let by_hand = match step.hands {
            Hands::None => false,
            Hands::Ends => step.put_in > Span::ZERO,
            Hands::Throughout => true,
        };
        if by_hand { hot.max(self.open) } else { hot }
    }
}

impl<'a> Way<'a> {
    fn of(shop: &'a Shop, order: &'a Order, closed: &Closed) -> Option<Self> {
        let Arrival::At(arrives) = order.arrival else {
            return None;
        };
        // What comes after the last moment that is simulated is nobody's.
        if arrives > shop.rules.stop {
            return None;
        }
        let route = shop.routes.get(order.route.index())?;
        let graph = ProcessGraph::of(route);
        let concerns = |s: StepIx| {
            let step = &route.steps[s.index()];
            step.only.is_empty() || step.only.contains(&order.part)
        };
        let whole = |s: StepIx| {
            let step = &route.steps[s.index()];
            if concerns(s) {
                stay(shop, order, step) + ends(step)
            } else {
                Span::ZERO
            }
        };
        let sum = |steps: &mut dyn Iterator<Item = StepIx>| steps.fold(Span::ZERO, |sum, s| sum + whole(s));
        let stages: Vec<Stage<'a>> = graph
            .steps()
            .filter(|s| concerns(*s))
            .map(|s| {
                let above = graph.upstream(s);
                // From each step before it: when that can begin, and what lies between.
                let from = |first: StepIx| {
                    let below = graph.downstream(first);
                    let between = above.iter().copied().filter(|b| *b != s && below.contains(b));
                    arrives.max(closed.until(&route.steps[first.index()])) + sum(&mut between.into_iter())
                };
                let all_before = arrives + sum(&mut above.iter().copied().filter(|b| *b != s));
                let through = above.iter().copied().filter(|b| concerns(*b)).map(from);
                Stage {
                    step: &route.steps[s.index()],
                    stay: stay(shop, order, &route.steps[s.index()]),
                    earliest: through.fold(all_before, Moment::max),
                    after: sum(&mut graph.downstream(s).into_iter().filter(|b| *b != s)),
                }
            })
            .collect();
        let all = sum(&mut graph.steps());
        let through = stages.iter().map(|s| s.earliest + s.whole() + s.after);
        Some(Self {
            order,
            ready: through.fold(arrives + all, Moment::max),
            steps: stages,
        })
    }

    fn due(&self) -> Moment {
        match (&self.order.arrival, self.order.due_after) {
            (Arrival::At(at), Some(after)) => *at + after,
            _ => Moment::NEVER,
        }
    }

    /// Work of hands before it meets others in a bath: each order has its own.
    fn work_of_hands(&self) -> Span {
        let own = self.steps.iter().take_while(|s| s.step.time != StepTime::Coat);
        own.fold(Span::ZERO, |sum, s| {
            sum + if s.step.hands == Hands::Throughout {
                s.stay
            } else {
                ends(s.step)
            }
        })
    }
}

/// The bounds of a shop.
#[must_use]
pub fn bounds(shop: &Shop) -> Bounds {
    let open = shop.calendar.days.first().map_or(Moment::ZERO, |d| d.open);
    let closed = Closed {
        open,
        hot: first_hot(shop),
    };
    let ways: Vec<Way<'_>> = shop
        .orders
        .iter()
        .filter_map(|o| Way::of(shop, o, &closed))
        .collect();
    let mut finish = Moment::ZERO;
    let (mut late, mut late_orders) = (Span::ZERO, 0);
    for way in &ways {
        finish = finish.max(way.ready);
        let by = way.ready - way.due();
        if by > Span::ZERO {
            late += by;
            late_orders += 1;
        }
    }
    for (i, _) in shop.stations.iter().enumerate() {
        finish = finish.max(station_bound(shop, &ways, i));
    }
    finish = finish.max(hands_bound(shop, &ways, open));
    for bath in 0..shop.baths.len() {
        let readies = one_after_another(shop, &ways, bath, open);
        finish = readies.last().map_or(finish, |last| finish.max(*last));
        late = late.max(least_late(&ways, bath, shop, &readies));
    }
    Bounds {
        finish,
        late,
        late_orders,
    }
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
            load.mean() + each.times(f64::from(pieces))
        }
        StepTime::Coat => {
            let bath = step.stations.first().and_then(|s| shop.stations[s.index()].tank);
            let own = shop.parts[order.part.index()].dwell.map_or(Span::ZERO, |d| d.0);
            bath.map_or(Span::ZERO, |t| {
                let recipe = &shop.baths[t.bath.index()];
                let drawn = match &recipe.coat {
                    CoatRule::Time(time) => time.mean(),
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

/// One station with its own work, the least before it and the least after it.
fn station_bound(shop: &Shop, ways: &[Way<'_>], station: usize) -> Moment {
    let s = &shop.stations[station];
    if s.tank.is_some() || s.together > 1 || divisible(shop) {
        return Moment::ZERO;
    }
    let mut work = Span::ZERO;
    let (mut head, mut tail) = (Moment::NEVER, Span::micros(i64::MAX));
    for way in ways {
        for stage in &way.steps {
            if stage.step.stations.len() != 1 || stage.step.stations[0].index() != station {
                continue;
            }
            let here = if s.frees == Frees::WhenDone {
                stage.stay + stage.step.put_in
            } else {
                stage.whole()
            };
            work += here;
            head = head.min(stage.earliest);
            tail = tail.min(stage.whole() - here + stage.after);
        }
    }
    if work == Span::ZERO {
        return Moment::ZERO;
    }
    head + Span::micros(work.in_micros() / i64::from(s.places.max(1))) + tail
}

fn hands_bound(shop: &Shop, ways: &[Way<'_>], open: Moment) -> Moment {
    let work = ways.iter().fold(Span::ZERO, |sum, w| sum + w.work_of_hands());
    by_hand(open, work, shop.hands)
}

/// When so much work of hands can be done at the earliest, shared evenly.
fn by_hand(open: Moment, work: Span, hands: u32) -> Moment {
    if work == Span::ZERO {
        return Moment::ZERO;
    }
    open + Span::micros(work.in_micros() / i64::from(hands.max(1)))
}

/// The step of a way that goes into a bath.
fn coats<'w, 'a>(shop: &Shop, way: &'w Way<'a>, bath: usize) -> Option<&'w Stage<'a>> {
    way.steps.iter().find(|s| {
        let tank = s
            .step
            .stations
            .first()
            .and_then(|s| shop.stations[s.index()].tank);
        s.step.time == StepTime::Coat && tank.is_some_and(|t| t.bath.index() == bath)
    })
}

/// Of the orders that pass a bath, the earliest moment at which one, two, three of them can be ready, whichever they are:
/// as many loads as the surface and the mass of the smallest need, one after another through all its tanks; the hands'
/// work for those that take the least of it; the shortest ways.
fn one_after_another(shop: &Shop, ways: &[Way<'_>], bath: usize, open: Moment) -> Vec<Moment> {
    let tanks: Vec<_> = shop.tanks().filter(|t| t.2.bath.index() == bath).collect();
    let recipe = &shop.baths[bath];
    let largest = tanks.iter().map(|t| t.2.fill.base()).fold(0.0, f64::max);
    let places: u32 = tanks.iter().map(|t| t.1.places).sum();
    let these: Vec<(&Way<'_>, &Stage<'_>)> = ways
        .iter()
        .filter_map(|w| Some((w, coats(shop, w, bath)?)))
        .collect();
    if largest <= 0.0 || places == 0 || these.is_empty() {
        return Vec::new();
    }
    let size = |base: fn(&Part) -> f64, room: f64| -> Vec<(f64, u32)> {
        let part = |w: &Way<'_>| &shop.parts[w.order.part.index()];
        let sizes = these.iter().map(|(w, _)| (base(part(w)) / room, w.order.count));
        smallest_first(sizes.collect(), |s| s.0 * f64::from(s.1))
    };
    let areas = size(|p| p.area.base(), recipe.room.area.base() * largest);
    let masses = size(|p| p.mass.base(), recipe.room.mass.base() * largest);
    let hands = smallest_first(these.iter().map(|(w, _)| w.work_of_hands()).collect(), |s| {
        s.in_minutes()
    });
    let mut alone: Vec<Moment> = these.iter().map(|(w, _)| w.ready).collect();
    alone.sort_unstable();
    let head = these
        .iter()
        .map(|(_, s)| s.earliest)
        .min()
        .unwrap_or(Moment::ZERO);
    let least = these.iter().map(|(_, s)| s.whole()).min().unwrap_or(Span::ZERO);
    let tail = these.iter().map(|(_, s)| s.after).min().unwrap_or(Span::ZERO);
    let mut work = Span::ZERO;
    let mut latest = Moment::ZERO;
    (0..these.len())
        .map(|k| {
            let loads = fewest_of(&areas, k + 1).max(fewest_of(&masses, k + 1)) as i64;
            let rounds = (loads + i64::from(places) - 1) / i64::from(places);
            work += hands[k];
            let in_tanks = head + Span::micros(least.in_micros() * rounds) + tail;
            latest = latest
                .max(in_tanks)
                .max(by_hand(open, work, shop.hands))
                .max(alone[k]);
            latest
        })
        .collect()
}

/// No fewer loads for so many orders, whichever they are, given those that take the least room first. Of some only the room
/// counts: what is large in one piece may be among the others.
fn fewest_of(sizes: &[(f64, u32)], many: usize) -> u64 {
    if many == sizes.len() {
        return fewest(sizes);
    }
    let room: f64 = sizes.iter().take(many).map(|s| s.0 * f64::from(s.1)).sum();
    libm::ceil(room - 1e-6).max(1.0) as u64
}

fn smallest_first<T>(mut all: Vec<T>, by: impl Fn(&T) -> f64) -> Vec<T> {
    all.sort_by(|a, b| by(a).total_cmp(&by(b)));
    all
}

/// The least lateness if the first that is ready were the first that is due, and so on: no other pairing has less.
fn least_late(ways: &[Way<'_>], bath: usize, shop: &Shop, readies: &[Moment]) -> Span {
    let these = ways.iter().filter(|w| coats(shop, w, bath).is_some());
    let mut dues: Vec<Moment> = these.map(Way::due).collect();
    dues.sort_unstable();
    let late = dues
        .iter()
        .zip(readies)
        .map(|(due, ready)| (*ready - *due).max(Span::ZERO));
    late.fold(Span::ZERO, |sum, by| sum + by)
}
