//! The shop prepared for running: masks instead of lists, waiting lines, lots. Made once, used by every run.

use super::behind::{ahead, behind};
use super::drag::after_dripping;
use super::lots::{lots, pieces_in, room_of};
pub(super) use super::prepared::{CompiledStep, OrderPlan, Paced, RetryPlan, RoutePlan, StationPlan};
use crate::ids::{LineIx, Of, TankIx};
use tankday_base::bath::Substrate;
use tankday_base::shop::{
    Arrival, BathId, Hands, OrderId, Part, PartId, Relieves, RouteId, Rules, Shop, StationId, Step, StepIx,
    StepKind, StepTime,
};
use tankday_base::units::{Area, Moment, Quantity, Span};

/// Longer than any stay: a part without a window of its own.
pub(super) const ANY_STAY: Span = Span::whole_minutes(60 * 24 * 365);

/// Everything prepared.
#[derive(Debug, Clone)]
pub(super) struct Compiled {
    pub(super) routes: Of<RouteId, RoutePlan>,
    pub(super) stations: Of<StationId, StationPlan>,
    /// For each waiting line, its stations in the order of preference.
    pub(super) lines: Of<LineIx, Vec<StationId>>,
    /// Whether the steps of a waiting line start under hands.
    pub(super) line_hands: Of<LineIx, bool>,
    pub(super) orders: Of<OrderId, OrderPlan>,
    pub(super) rules: Rules,
    /// Whether any step behind a bath must follow within a time.
    pub(super) keeps_back: bool,
    /// Waiting lines in which loads stand, behind a bath or wet, that hands must see to within a time.
    pub(super) bare_lines: Vec<LineIx>,
    /// Waiting lines in which loads stand before a bath into which they must go within a time.
    pub(super) bath_lines: Vec<LineIx>,
    /// Whether any inspection asks what happened to a load.
    pub(super) inspects: bool,
    pub(super) hands: u32,
    /// Room of a tank by index: area, mass, basket, in SI units; infinite where nobody cares.
    pub(super) room: Of<TankIx, [f64; 3]>,
    pub(super) tanks: Of<TankIx, StationId>,
    /// For each part, its kind of surface and the surface of one piece.
    pub(super) surfaces: Of<PartId, (Substrate, Area)>,
    /// For each tank, the orders that come to it.
    pub(super) arrivals: Of<TankIx, Arrivals>,
    /// Of these, the ones whose looks do not matter.
    pub(super) scrap: Of<TankIx, Arrivals>,
}

/// When stated orders come to a tank, in order; and the sources of those that come at random.
#[derive(Debug, Clone, Default)]
pub(super) struct Arrivals {
    pub(super) stated: Vec<Moment>,
    pub(super) streams: Vec<OrderId>,
}

impl Arrivals {
    fn add(&mut self, arrival: &Arrival, source: OrderId) {
        match arrival {
            Arrival::At(at) => self.stated.push(*at),
            Arrival::Every { .. } => self.streams.push(source),
        }
    }

    /// Whether a stated one comes from the first moment to the last.
    pub(super) fn come_between(&self, first: Moment, last: Moment) -> bool {
        let next = self.stated.partition_point(|at| *at < first);
        self.stated.get(next).is_some_and(|at| *at <= last)
    }
}

impl Compiled {
    pub(super) fn new(shop: &Shop) -> Self {
        let tanks: Of<TankIx, StationId> = shop.tanks().map(|(id, _, _)| id).collect();
        let room = shop.tanks().map(|(_, _, tank)| room_of(shop, tank)).collect();
        let mut compiled = Self {
            routes: Of::new(),
            stations: shop
                .stations
                .iter()
                .map(|s| station_plan(s, shop, &tanks))
                .collect(),
            lines: Of::new(),
            line_hands: Of::new(),
            orders: Of::new(),
            rules: shop.rules.clone(),
            keeps_back: false,
            bare_lines: Vec::new(),
            bath_lines: Vec::new(),
            inspects: shop
                .routes
                .iter()
                .flat_map(|r| &r.steps)
                .any(|s| s.retry.is_some_and(|r| r.odds.is_some())),
            hands: shop.hands,
            room,
            arrivals: Of::same(Arrivals::default(), tanks.len()),
            scrap: Of::same(Arrivals::default(), tanks.len()),
            tanks,
            surfaces: shop.parts.iter().map(|p| surface(shop, p)).collect(),
        };
        compiled.routes = shop.routes.iter().map(|r| compiled.route_plan(shop, r)).collect();
        compiled.connect_lines();
        let orders = (0..).map(OrderId).zip(&shop.orders);
        compiled.orders = orders.map(|(id, o)| compiled.order_plan(shop, id, o)).collect();
        compiled.connect_orders(shop);
        compiled
    }

    fn connect_orders(&mut self, shop: &Shop) {
        for (i, tank) in self.tanks.ids().zip(&self.tanks) {
            let bath = shop.stations[tank.index()].tank.as_ref().map(|t| t.bath);
            for (source, order) in self.orders.ids().zip(&self.orders) {
                let route = &self.routes[order.route];
                let own = route.all & !route.skip[order.part];
                let uses = route
                    .steps
                    .iter()
                    .enumerate()
                    .any(|(s, step)| own & (1 << s) != 0 && step.bath == bath && order.takes[i]);
                if uses {
                    self.arrivals[i].add(&order.arrival, source);
                }
                if uses && !order.looks {
                    self.scrap[i].add(&order.arrival, source);
                }
            }
            self.arrivals[i].stated.sort_unstable();
            self.scrap[i].stated.sort_unstable();
        }
    }

    fn route_plan(&mut self, shop: &Shop, route: &tankday_base::shop::Route) -> RoutePlan {
        let mut steps: Vec<CompiledStep> = route
            .steps
            .iter()
            .map(|s| self.step_plan(shop, route, s))
            .collect();
        let chains: Vec<Paced> = (0..steps.len()).map(|i| chain(&steps, i)).collect();
        for (step, chain) in steps.iter_mut().zip(chains) {
            step.chain = chain;
        }
        for (i, step) in steps.iter_mut().enumerate() {
            step.before = ancestors(route, i);
            step.lies = route.lies_at_most(StepIx(i as u32));
        }
        let after: Vec<_> = (0..steps.len()).map(|i| behind(&steps, i)).collect();
        for (step, behind) in steps.iter_mut().zip(after) {
            self.keeps_back |= !behind.is_empty();
            step.behind = behind;
        }
        let before: Vec<_> = (0..steps.len()).map(|i| ahead(&steps, i)).collect();
        for (step, ahead) in steps.iter_mut().zip(before) {
            step.ahead = ahead;
        }
        let coats = mask(
            steps
                .iter()
                .enumerate()
                .filter(|(_, s)| s.bath.is_some())
                .map(|(i, _)| i),
        );
        for step in &steps {
            let behind = step.bath.is_none() && (step.before & coats != 0 || step.wet());
            let timed = step.within.is_some() && step.starts_with_hands();
            let lines = match step.bath {
                Some(_) => &mut self.bath_lines,
                None => &mut self.bare_lines,
            };
            if timed && (behind || step.bath.is_some()) && !lines.contains(&step.line) {
                lines.push(step.line);
            }
        }
        let skip = (0..shop.parts.len() as u32)
            .map(|p| {
                let other = |s: &Step| !s.only.is_empty() && !s.only.contains(&PartId(p));
                mask(
                    route
                        .steps
                        .iter()
                        .enumerate()
                        .filter(|(_, s)| other(s))
                        .map(|(i, _)| i),
                )
            })
            .collect();
        RoutePlan {
            all: mask(0..steps.len()),
            coats,
            skip,
            steps: steps.into_iter().collect(),
        }
    }

    fn step_plan(&mut self, shop: &Shop, route: &tankday_base::shop::Route, step: &Step) -> CompiledStep {
        let bath = bath_of(shop, step);
        let recipe = bath.map(|b| &shop.baths[b.index()]);
        let (work, expected) = match &step.time {
            StepTime::Work { load, each } => (
                Some((load.clone(), *each)),
                Paced {
                    flat: load.mean(),
                    each: *each,
                },
            ),
            StepTime::Coat => (None, recipe.map_or(Span::ZERO, |r| r.least).into()),
        };
        let retry = step.retry.map(|r| RetryPlan {
            share: r.share.in_fraction(),
            odds: r.odds,
            back_to: r.back_to,
            redo: descendants(route, r.back_to),
        });
        CompiledStep {
            line: self.line_for(&step.stations, starts_with_hands(step)),
            work,
            expected,
            hands: step.hands,
            put_in: if step.hands == Hands::Ends {
                step.put_in
            } else {
                Span::ZERO
            },
            take_out: if step.hands == Hands::Ends {
                step.take_out
            } else {
                Span::ZERO
            },
            most: recipe.map_or(step.most, |r| Some(r.most)),
            waits_inside: step.waits_inside(),
            lies: None,
            within: step.within,
            at_once: step.at_once,
            at_break: step.at_break,
            overnight: step.overnight,
            after: mask(step.after.iter().map(|s| s.index())),
            before: 0,
            retry,
            bath,
            rinses: step.kind == StepKind::Rinse,
            from_bath: step.relief.is_some_and(|r| r.what == Relieves::Hydrogen),
            drips: after_dripping(step.drip),
            chain: Paced::default(),
            behind: Vec::new(),
            ahead: None,
        }
    }

    /// Steps that the same stations do share a line; those that start under hands stand in one of their own, so that
    /// loads waiting for hands do not keep others.
    fn line_for(&mut self, stations: &[StationId], with_hands: bool) -> LineIx {
        let mut lines = self.lines.ids();
        let found = lines.find(|&l| self.lines[l] == stations && self.line_hands[l] == with_hands);
        found.unwrap_or_else(|| {
            self.lines.push(stations.to_vec());
            self.line_hands.push(with_hands);
            LineIx((self.lines.len() - 1) as u32)
        })
    }

    fn connect_lines(&mut self) {
        for line in self.lines.ids() {
            let hands = self.line_hands[line];
            for id in &self.lines[line] {
                let station = &mut self.stations[*id];
                station.lines.push(line);
                station.with_hands |= hands;
            }
        }
    }

    fn order_plan(&self, shop: &Shop, id: OrderId, order: &tankday_base::shop::Order) -> OrderPlan {
        let part = &shop.parts[order.part.index()];
        let material = &shop.materials[part.material.index()];
        let piece = [part.area.base(), part.mass.base(), part.bulk.base()];
        let takes: Of<TankIx, bool> = self.tanks.iter().map(|t| shop.takes(id, *t)).collect();
        let most = self.most_pieces(order.route, order.part, piece, &takes);
        OrderPlan {
            takes,
            lots: lots(order.count, most, self.rules.split),
            most_in_lot: most,
            route: order.route,
            part: order.part,
            count: order.count,
            arrival: order.arrival.clone(),
            due_after: order.due_after,
            looks: order.looks,
            company: shop.company(id),
            brings: part.brings,
            piece,
            drags: (part.drag_out * part.area).base(),
            slower: material.slower,
            heat_capacity: material.heat_capacity.base(),
            window: part.dwell.unwrap_or((Span::ZERO, ANY_STAY)),
        }
    }

    /// How many pieces fit the smallest bath step of the route, each step taken at its largest tank that takes
    /// them.
    fn most_pieces(&self, route: RouteId, part: PartId, piece: [f64; 3], takes: &Of<TankIx, bool>) -> u32 {
        let plan = &self.routes[route];
        let mut most = u32::MAX;
        for (i, step) in plan.steps.iter().enumerate() {
            if step.bath.is_none() || plan.skip[part] & (1 << i) != 0 {
                continue;
            }
            let tanks = self.lines[step.line]
                .iter()
                .filter_map(|s| self.stations[*s].tank)
                .filter(|t| takes[*t]);
            let fits = tanks
                .map(|t| pieces_in(self.room[t], piece))
                .max()
                .unwrap_or(u32::MAX);
            most = most.min(fits);
        }
        most.max(1)
    }
}

fn surface(shop: &Shop, part: &Part) -> (Substrate, Area) {
    let material = &shop.materials[part.material.index()];
    (Substrate::of(material), part.area)
}

fn station_plan(
    station: &tankday_base::shop::Station,
    shop: &Shop,
    tanks: &Of<TankIx, StationId>,
) -> StationPlan {
    let id = shop
        .stations
        .iter()
        .position(|s| std::ptr::eq(s, station))
        .unwrap_or(0);
    StationPlan {
        places: station.places,
        together: station.together.max(1),
        frees: station.frees,
        lines: Vec::new(),
        with_hands: false,
        tank: tanks.ids().find(|t| tanks[*t].index() == id),
    }
}

fn bath_of(shop: &Shop, step: &Step) -> Option<BathId> {
    let first = step.stations.first()?;
    shop.stations[first.index()].tank.as_ref().map(|t| t.bath)
}

fn mask(bits: impl IntoIterator<Item = usize>) -> u64 {
    bits.into_iter().fold(0, |m, i| m | (1u64 << (i & 63)))
}

/// The step and every step that comes after it.
fn descendants(route: &tankday_base::shop::Route, from: StepIx) -> u64 {
    let mut found = mask([from.index()]);
    loop {
        let more = route
            .steps
            .iter()
            .enumerate()
            .filter(|(_, s)| mask(s.after.iter().map(|a| a.index())) & found != 0);
        let grown = found | mask(more.map(|(i, _)| i));
        if grown == found {
            return found;
        }
        found = grown;
    }
}

/// Every step that comes before the step.
fn ancestors(route: &tankday_base::shop::Route, step: usize) -> u64 {
    let is_before = |i: &usize| *i != step && descendants(route, StepIx(*i as u32)) & mask([step]) != 0;
    mask((0..route.steps.len()).filter(is_before))
}

/// Whether hands are needed at the moment a step starts.
fn starts_with_hands(step: &Step) -> bool {
    match step.hands {
        Hands::None => false,
        Hands::Ends => step.put_in > Span::ZERO,
        Hands::Throughout => true,
    }
}

/// Hands' time from the lift at step `from` until the load may be laid down.
fn chain(steps: &[CompiledStep], from: usize) -> Paced {
    let mut total = Paced::from(steps[from].take_out);
    let mut at = from;
    while let Some(next) =
        (0..steps.len()).find(|&i| i != at && steps[i].after & (1 << at) != 0 && steps[i].wet())
    {
        total += steps[next].hands_at_start();
        if steps[next].hands != Hands::Throughout || next <= at {
            break;
        }
        at = next;
    }
    total
}
