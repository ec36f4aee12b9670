//! A plan as a value: which lots go into a tank together, into which tank, and in which order everything starts.
//!
//! Everything is numbered flat. A *lot* is one of the parts into which an order was divided; an *op* is a step of a
//! lot; a *task* is one half of an op, the even one its start, the odd one its taking out. From the bath on a load's
//! tasks are those of its first lot, its *head*.
//!
//! # Known and left
//!
//! - Lots, ops and tasks are plain numbers here, as in the search that moves them about (`plan`, 30 files): a task is
//!   reckoned from an op and an op from a lot, and heads, ranks and tanks are copied by the slice. `u32::MAX` is none.

use super::Line;
use super::state::NONE;
use crate::ids::{LineIx, bit};
use std::collections::BTreeMap;
use std::sync::Arc;
use tankday_base::shop::{Arrival, Hands, Keeping, OrderId, RouteId, StationId, StepIx};
use tankday_base::units::{Concentration, Moment, Span, Strength, Temperature, Volume};
use tankday_record::CareKind;

/// One lot of a stated order.
#[derive(Debug, Clone, PartialEq)]
pub struct PlanLot {
    /// Its order, by index.
    pub order: u32,
    /// Which of the order's lots, from 0.
    pub nth: u32,
    /// Pieces.
    pub pieces: u32,
    /// Its part, by index.
    pub part: u32,
    /// Its route, by index.
    pub route: u32,
    /// Number of its first op.
    pub first_op: u32,
    /// Steps of its route.
    pub steps: u32,
    /// Steps that do not concern it, a bit each.
    pub skip: u64,
    /// Steps that were done before anything is simulated, a bit each.
    pub past: u64,
    /// When the last of them was done; never, if nothing is known of it.
    pub past_until: Moment,
    /// Its first step in a bath, if there is one.
    pub bath_step: Option<u32>,
    /// Area m2, mass kg, basket room m3.
    pub bulk: [f64; 3],
    /// Its own dwell window.
    pub window: (Span, Span),
}

impl PlanLot {
    /// Whether it still passes a step, as far as is known from the start.
    #[must_use]
    pub const fn passes(&self, step: u32) -> bool {
        (self.skip | self.past) & (1 << step) == 0
    }
}

/// How a bath was found to read.
#[derive(Debug, Clone, PartialEq)]
pub struct BathReading {
    /// Its tank.
    pub tank: StationId,
    /// When.
    pub at: Moment,
    /// Its temperature, if that was read.
    pub temperature: Option<Temperature>,
    /// Its total acid.
    pub total_acid: Option<Strength>,
    /// Its free acid.
    pub free_acid: Option<Strength>,
    /// Its iron.
    pub iron: Option<Concentration>,
    /// Its sludge.
    pub sludge: Option<Concentration>,
}

/// What the line follows.
#[derive(Debug, Clone, PartialEq)]
pub struct Plan {
    /// For each order its first lot; [`u32::MAX`] for a stream.
    pub(super) first_lot: Vec<u32>,
    /// For each order of a stream that has come, by its source and its number there, its first lot.
    pub(super) came: BTreeMap<(u32, u32), u32>,
    /// The lots.
    pub lots: Vec<PlanLot>,
    /// For each lot the head of its load.
    pub head: Vec<u32>,
    /// For each lot the tank of its load, by station; [`u32::MAX`] for any.
    pub tank: Vec<u32>,
    /// For each lot the name of its load, where it has one.
    pub names: Vec<Option<Arc<str>>>,
    /// For each lot, how many lots its load has, kept at the head.
    size: Vec<u32>,
    /// For each task its place in the sequence; [`u32::MAX`] if it has none.
    pub rank: Vec<u32>,
    /// No task starts before this.
    pub hold: Vec<Moment>,
    /// Whether each station and the hands keep strictly to the sequence, only prefer it, or go by the shop's own rules.
    pub keeping: Keeping,
    /// Care that does not begin before its time: the first named of a kind at a tank is the first that is done.
    pub care: Vec<(StationId, CareKind, Moment)>,
    /// Care that is brought forward: once the load of this lot is out of the tank it is called for, before its rule
    /// would call for it.
    pub calls: Vec<(StationId, CareKind, u32)>,
    /// Baths that are to be hot at a moment, not as early as the rule would have it; the heaters go on so that they just are.
    pub heat: Vec<(StationId, Moment)>,
    /// Tasks that began as noted: nothing keeps them from beginning at their time.
    pub pinned: Vec<bool>,
    /// For each op when its work was over as noted; never, where it takes the time that it takes.
    pub over: Vec<Moment>,
    /// How baths read.
    pub readings: Vec<BathReading>,
    /// No care begins before this: of a day under way none was done that is not noted.
    pub care_from: Moment,
    /// Care that was done before, as noted: of which tank, which, when it was over.
    pub cared: Vec<(StationId, CareKind, Moment)>,
    /// Water that was made good, as noted: in which tank, how much, when. Such a tank was topped up before no other time.
    pub watered: Vec<(StationId, Volume, Moment)>,
    /// For each task the queue that it stands in, and whether hands start it.
    queue_of: Vec<u32>,
    by_hand: Vec<bool>,
    /// For each op the waiting line of its step.
    line_of: Vec<u32>,
    /// The tasks of each queue in their order; the last queue is that of the hands.
    queues: Vec<Vec<u32>>,
}

impl Plan {
    /// A plan that says nothing: each lot a load, no order of tasks. Orders are divided by the shop's rule.
    #[must_use]
    pub fn of(line: &Line<'_>) -> Self {
        let lots: Vec<Vec<u32>> = line.plan.orders.iter().map(|o| o.lots.clone()).collect();
        Self::divided(line, &lots)
    }

    /// The same with orders divided otherwise: for each order the pieces of each of its lots.
    #[must_use]
    pub fn divided(line: &Line<'_>, pieces: &[Vec<u32>]) -> Self {
        let compiled = &line.plan;
        let mut lots = Vec::new();
        let mut first_lot = Vec::new();
        let mut ops = 0;
        for (i, order) in compiled.orders.iter().enumerate() {
            if !matches!(order.arrival, Arrival::At(_)) {
                first_lot.push(NONE);
                continue;
            }
            first_lot.push(lots.len() as u32);
            let route = &compiled.routes[order.route];
            let skip = route.skip[order.part];
            let own = pieces.get(i).filter(|p| !p.is_empty()).unwrap_or(&order.lots);
            for (nth, &pieces) in own.iter().enumerate() {
                let n = f64::from(pieces);
                lots.push(PlanLot {
                    order: i as u32,
                    nth: nth as u32,
                    pieces,
                    part: order.part.0,
                    route: order.route.0,
                    first_op: ops,
                    steps: route.steps.len() as u32,
                    skip,
                    past: 0,
                    past_until: Moment::NEVER,
                    bath_step: route
                        .steps
                        .ids()
                        .find(|&s| route.steps[s].bath.is_some() && skip & bit(s) == 0)
                        .map(|s| s.0),
                    bulk: order.piece.map(|p| p * n),
                    window: order.window,
                });
                ops += route.steps.len() as u32;
            }
        }
        let tasks = 2 * ops as usize;
        let mut plan = Self {
            first_lot,
            came: BTreeMap::new(),
            head: (0..lots.len() as u32).collect(),
            tank: vec![NONE; lots.len()],
            names: vec![None; lots.len()],
            size: vec![1; lots.len()],
            lots,
            rank: vec![NONE; tasks],
            hold: vec![Moment::ZERO; tasks],
            keeping: Keeping::Loosely,
            care: Vec::new(),
            calls: Vec::new(),
            heat: Vec::new(),
            pinned: vec![false; tasks],
            over: vec![Moment::NEVER; tasks / 2],
            readings: Vec::new(),
            care_from: Moment::ZERO,
            cared: Vec::new(),
            watered: Vec::new(),
            queue_of: vec![NONE; tasks],
            by_hand: vec![false; tasks],
            line_of: vec![NONE; tasks / 2],
            queues: vec![Vec::new(); compiled.lines.len() + compiled.stations.len() + 1],
        };
        plan.sort_tasks(line);
        plan
    }

    fn sort_tasks(&mut self, line: &Line<'_>) {
        for lot in &self.lots {
            for (s, step) in line.plan.routes[RouteId(lot.route)].steps.iter().enumerate() {
                let task = 2 * (lot.first_op as usize + s);
                self.line_of[task / 2] = step.line.0;
                if lot.skip & (1 << s) != 0 {
                    continue;
                }
                let places: u64 = line.plan.lines[step.line]
                    .iter()
                    .map(|s| u64::from(line.plan.stations[*s].places))
                    .sum();
                // Where all find room at once the order does not matter.
                if places < self.lots.len() as u64 {
                    self.queue_of[task] = step.line.0;
                }
                self.by_hand[task] = step.starts_with_hands();
                self.by_hand[task + 1] = step.hands == Hands::Ends && step.take_out > Span::ZERO;
            }
        }
    }

    /// The start task of a step of a lot; the next number is its taking out.
    #[must_use]
    pub fn task(&self, lot: u32, step: u32) -> u32 {
        2 * (self.lots[lot as usize].first_op + step)
    }

    /// Whether the order of a task can matter: it needs hands, or a place that others need.
    #[must_use]
    pub fn matters(&self, task: u32) -> bool {
        self.queue_of[task as usize] != NONE || self.by_hand[task as usize]
    }

    /// Whether a step of a lot's route must be done before another, directly or through others.
    #[must_use]
    pub fn comes_before(&self, line: &Line<'_>, lot: u32, first: u32, then: u32) -> bool {
        let route = &line.plan.routes[RouteId(self.lots[lot as usize].route)];
        route.steps[StepIx(then)].before & (1 << first) != 0
    }

    /// Whether two tasks need the same hands or the same station.
    #[must_use]
    pub fn same_queue(&self, a: u32, b: u32) -> bool {
        let (a, b) = (a as usize, b as usize);
        (self.by_hand[a] && self.by_hand[b])
            || (self.queue_of[a] != NONE && self.queue_of[a] == self.queue_of[b])
    }

    /// Whether a task needs hands.
    #[must_use]
    pub fn by_hand(&self, task: u32) -> bool {
        self.by_hand[task as usize]
    }

    /// Puts lots into loads: the head of each lot, and the tank of each. A head is the first lot of its load.
    pub fn group(&mut self, head: &[u32], tank: &[u32]) {
        self.head.copy_from_slice(head);
        self.tank.copy_from_slice(tank);
        self.size.fill(0);
        for &h in head {
            self.size[h as usize] += 1;
        }
    }

    /// Puts the tasks into a sequence. What is not in it has no place.
    pub fn sequence(&mut self, tasks: &[u32]) {
        self.rank.fill(NONE);
        self.queues.iter_mut().for_each(Vec::clear);
        let hands = self.queues.len() - 1;
        for (i, &task) in tasks.iter().enumerate() {
            let t = task as usize;
            self.rank[t] = i as u32;
            if self.queue_of[t] != NONE {
                let queue = self.queue_of[t] as usize;
                self.queues[queue].push(task);
            }
            if self.by_hand[t] {
                self.queues[hands].push(task);
            }
        }
    }

    /// The tank that a load is meant for.
    pub(super) fn tank_of(&self, lot: u32) -> u32 {
        self.tank[self.head[lot as usize] as usize]
    }

    pub(super) fn load_size(&self, lot: u32) -> u32 {
        self.size[self.head[lot as usize] as usize]
    }

    /// The lot of an order, if it is planned.
    pub(super) fn lot_of(&self, source: u32, nth_order: u32, lot: u32) -> u32 {
        let came = || {
            self.came
                .get(&(source, nth_order))
                .map_or(NONE, |first| first + lot)
        };
        match self.first_lot[source as usize] {
            NONE => came(),
            _ if nth_order != 1 => NONE,
            first => first + lot,
        }
    }

    /// How the shop's rule divides so many pieces of an order.
    #[must_use]
    pub fn rest_of(line: &Line<'_>, order: usize, pieces: u32) -> Vec<u32> {
        let compiled = &line.plan.orders[OrderId(order as u32)];
        if pieces == 0 {
            return Vec::new();
        }
        super::lots::lots(pieces, compiled.most_in_lot, line.plan.rules.split)
    }

    /// Ways to divide an order that is too large for one load; none for one that is not.
    #[must_use]
    pub fn cuts_of(line: &Line<'_>, order: usize) -> Vec<Vec<u32>> {
        let compiled = &line.plan.orders[OrderId(order as u32)];
        let count: u32 = compiled.lots.iter().sum();
        if compiled.lots.len() < 2 {
            return Vec::new();
        }
        super::lots::cuts(count, compiled.most_in_lot)
    }

    /// Pieces of each lot of an order that is planned; nothing for one that is not.
    pub(super) fn pieces_of(&self, source: u32, nth_order: u32) -> impl Iterator<Item = (u32, u32)> + '_ {
        let first = self.first_lot[source as usize];
        let from = if nth_order == 1 && first != NONE {
            first as usize
        } else {
            self.lots.len()
        };
        self.lots[from..]
            .iter()
            .take_while(move |l| l.order == source)
            .map(|l| (l.nth, l.pieces))
    }

    /// Whether every task that stands in a queue has its place in the sequence, and every order its lots. From the bath on
    /// the tasks of a load are those of its head.
    pub(super) fn covers_all(&self) -> bool {
        let own = |lot: u32| {
            let l = &self.lots[lot as usize];
            let alone = self.head[lot as usize] == lot;
            l.bath_step.filter(|_| !alone).unwrap_or(l.steps)
        };
        let placed = |task: u32| self.rank[task as usize] != NONE || !self.matters(task);
        let all_of = |lot: u32| {
            (0..own(lot)).all(|step| {
                let task = self.task(lot, step);
                placed(task) && placed(task + 1)
            })
        };
        self.has_all_orders() && (0..self.lots.len() as u32).all(all_of)
    }

    /// Whether no order comes by chance.
    pub(super) fn has_all_orders(&self) -> bool {
        self.first_lot.iter().all(|lot| *lot != NONE)
    }

    /// The queues that a task stands in: that of its station, that of the hands.
    pub(super) fn queues_of(&self, task: u32) -> [Option<usize>; 2] {
        let station = self.queue_of[task as usize];
        [
            (station != NONE).then_some(station as usize),
            self.by_hand[task as usize].then_some(self.queues.len() - 1),
        ]
    }

    /// The waiting line of the step of a task.
    pub(super) fn line_of(&self, task: u32) -> LineIx {
        LineIx(self.line_of[task as usize / 2])
    }

    pub(super) fn queue(&self, queue: usize) -> &[u32] {
        &self.queues[queue]
    }

    pub(super) fn queue_count(&self) -> usize {
        self.queues.len()
    }

    /// Where every lot of an order starts in the numbering; none for a stream.
    #[must_use]
    pub fn first_lot(&self, order: usize) -> Option<u32> {
        self.first_lot.get(order).copied().filter(|&l| l != NONE)
    }

    /// The stations at which a step of a lot can be done.
    #[must_use]
    pub fn stations_of<'l>(&self, line: &'l Line<'_>, lot: u32, step: u32) -> &'l [StationId] {
        let route = &line.plan.routes[RouteId(self.lots[lot as usize].route)];
        &line.plan.lines[route.steps[StepIx(step)].line]
    }
}
