//! Days that only stations hold together: each task begins once the one before it in its lot and the one before it at its
//! station are over. What sets the end of such a day is a path of tasks without a gap. Nothing ends earlier unless a block
//! of tasks that follow each other at one station on that path gets another first or last task; so a tabu search tries
//! these changes only (M. Dell'Amico, M. Trubian, Applying tabu search to the job-shop scheduling problem, Annals of
//! Operations Research 41, 1993). The line judges what it finds.

use super::gaps::FAR;
use super::model::{Bench, Evaluated, SearchContext, Solution};
use rand::rngs::ChaCha8Rng;
use rand::{RngExt, SeedableRng};
use rayon::prelude::*;
use std::sync::atomic::{AtomicBool, Ordering};
use tankday_base::units::Moment;

/// Searches side by side.
const ISLANDS: u64 = 4;
/// Days of a graph for each day that the line may be asked for: one of the line takes about that much longer.
const DAYS: u64 = 30;
/// A change is not taken back for so many changes; a little longer or shorter by chance.
const TABU: std::ops::Range<u64> = 10..24;
/// After so many changes without anything better it begins again from the best, with a few changes by chance.
const STALE: u64 = 3_000;
const SHAKEN: u64 = 8;

/// A task in the graph.
#[derive(Debug, Clone)]
struct Node {
    /// Its number in the plan.
    task: u32,
    order: usize,
    takes: i64,
    station: usize,
    /// When its lot is there; the next task of the lot, and how many of the lot come before it.
    there: i64,
    next: Option<u32>,
    nth: u8,
}

/// A task goes to another place in the sequence of its station.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Shift {
    station: usize,
    from: usize,
    to: usize,
}

impl Shift {
    const fn back(self) -> Self {
        Self {
            from: self.to,
            to: self.from,
            ..self
        }
    }
}

/// The tasks of a day, and in which order each station takes its own.
#[derive(Clone)]
struct Graph<'w, 'a> {
    world: &'w SearchContext<'a>,
    nodes: Vec<Node>,
    sequences: Vec<Vec<u32>>,
    place: Vec<usize>,
    begins: Vec<i64>,
    /// Tasks that are still waited for, and which wait for nothing.
    waits: Vec<u8>,
    free: Vec<u32>,
    ready: Vec<i64>,
}

impl<'w, 'a> Graph<'w, 'a> {
    /// None where anything but one place at a station can keep a task waiting.
    fn of(world: &'w SearchContext<'a>) -> Option<Self> {
        let hours = world.shop.calendar.days.as_slice();
        let always = hours.len() == 1 && hours.iter().all(|d| d.breaks.is_empty());
        let settled = world.now > Moment::ZERO || world.blank.pinned.contains(&true);
        if !always || settled || !world.tanks.is_empty() || !world.shop.aim.overtaking {
            return None;
        }
        let mut nodes = Vec::new();
        for lot in 0..world.lots() {
            let [ops, in_bath] = &world.own[lot];
            let plain = ops
                .iter()
                .all(|op| !op.throughout && op.put == 0 && op.take == 0 && op.room == 1 && op.within >= FAR);
            if !plain || !in_bath.is_empty() || ops.len() > usize::from(u8::MAX) {
                return None;
            }
            for (op, nth) in ops.iter().zip(0u8..) {
                nodes.push(Node {
                    task: op.task,
                    order: world.blank.lots[lot].order as usize,
                    takes: op.least,
                    station: op.place.index(),
                    there: world.there(lot as u32),
                    next: (usize::from(nth) + 1 < ops.len()).then_some(nodes.len() as u32 + 1),
                    nth,
                });
            }
        }
        Some(Self {
            sequences: vec![Vec::new(); world.shop.stations.len()],
            place: vec![0; nodes.len()],
            begins: vec![0; nodes.len()],
            waits: vec![0; nodes.len()],
            free: Vec::new(),
            ready: vec![0; world.dues.len()],
            nodes,
            world,
        })
    }

    /// Stations take their tasks in the order of a day that was run.
    fn follow(&mut self, tried: &Evaluated) {
        self.sequences.iter_mut().for_each(Vec::clear);
        let mut all: Vec<u32> = (0..self.nodes.len() as u32).collect();
        let begun = |n: &u32| tried.begun[self.nodes[*n as usize].task as usize];
        all.sort_by_key(|n| (begun(n), self.nodes[*n as usize].nth, *n));
        for n in all {
            let sequence = &mut self.sequences[self.nodes[n as usize].station];
            self.place[n as usize] = sequence.len();
            sequence.push(n);
        }
    }

    fn shift(&mut self, shift: Shift) {
        let (first, last) = (shift.from.min(shift.to), shift.from.max(shift.to));
        let part = &mut self.sequences[shift.station][first..=last];
        if shift.from < shift.to {
            part.rotate_left(1);
        } else {
            part.rotate_right(1);
        }
        for (n, at) in part.iter().zip(first..) {
            self.place[*n as usize] = at;
        }
    }

    /// When every task begins, and what the day costs; none if tasks wait for each other in a circle.
    fn day(&mut self) -> Option<f64> {
        self.free.clear();
        for (n, node) in self.nodes.iter().enumerate() {
            self.begins[n] = node.there;
            self.waits[n] = u8::from(node.nth > 0) + u8::from(self.place[n] > 0);
            if self.waits[n] == 0 {
                self.free.push(n as u32);
            }
        }
        self.ready.fill(0);
        let mut done = 0;
        while let Some(n) = self.free.pop() {
            done += 1;
            let (node, place) = (&self.nodes[n as usize], self.place[n as usize]);
            let over = self.begins[n as usize] + node.takes;
            let ready = &mut self.ready[node.order];
            *ready = (*ready).max(over);
            let behind = self.sequences[node.station].get(place + 1).copied();
            for next in [node.next, behind].into_iter().flatten() {
                let next = next as usize;
                self.begins[next] = self.begins[next].max(over);
                self.waits[next] -= 1;
                if self.waits[next] == 0 {
                    self.free.push(next as u32);
                }
            }
        }
        (done == self.nodes.len()).then(|| self.cost())
    }

    fn cost(&self) -> f64 {
        let (aim, minute) = (&self.world.shop.aim, 60e6);
        let last = self.ready.iter().copied().max().unwrap_or(0);
        let mut cost = aim.finish_minute * (last - self.world.opens().in_micros()) as f64 / minute;
        for ((ready, due), order) in self
            .ready
            .iter()
            .zip(&self.world.dues)
            .zip(&self.world.shop.orders)
        {
            let late = *ready - due.in_micros();
            if late > 0 {
                cost += order.weight * (aim.late_order + aim.late_minute * late as f64 / minute);
            }
        }
        cost
    }

    /// A path without a gap to what is ready last, or to the end of an order that is late.
    fn path(&self, rng: &mut ChaCha8Rng) -> Vec<u32> {
        let over = |n: u32| self.begins[n as usize] + self.nodes[n as usize].takes;
        let last = self.ready.iter().copied().max().unwrap_or(0);
        let sets = |n: &u32| {
            let order = self.nodes[*n as usize].order;
            let late = self.ready[order] > self.world.dues[order].in_micros();
            over(*n) == last || (late && over(*n) == self.ready[order])
        };
        let ends: Vec<u32> = (0..self.nodes.len() as u32).filter(sets).collect();
        let mut path = Vec::new();
        let mut at = (!ends.is_empty()).then(|| ends[rng.random_range(0..ends.len())]);
        while let Some(n) = at {
            path.push(n);
            let (node, place) = (&self.nodes[n as usize], self.place[n as usize]);
            let own = (node.nth > 0).then(|| n - 1);
            let ahead = place.checked_sub(1).map(|p| self.sequences[node.station][p]);
            let meets = |b: &u32| over(*b) == self.begins[n as usize];
            at = match (own.filter(meets), ahead.filter(meets)) {
                (Some(own), Some(ahead)) => Some(if rng.random::<bool>() { own } else { ahead }),
                (own, ahead) => own.or(ahead),
            };
        }
        path.reverse();
        path
    }

    /// What brings a task of a block to its beginning or to its end.
    fn shifts(&self, path: &[u32]) -> Vec<Shift> {
        let mut shifts = Vec::new();
        let station = |n: &u32| self.nodes[*n as usize].station;
        let place = |n: &u32| self.place[*n as usize];
        for block in path.chunk_by(|a, b| station(a) == station(b) && place(a) + 1 == place(b)) {
            let (Some(first), Some(last)) = (block.first(), block.last()) else {
                continue;
            };
            let (station, first, last) = (station(first), place(first), place(last));
            let shift = |from, to| Shift { station, from, to };
            shifts.extend((first..last).map(|from| shift(from, last)));
            // Of two neighbours one change is the same as the other.
            shifts.extend(
                (first + 1..=last)
                    .filter(|_| last > first + 1)
                    .map(|from| shift(from, first)),
            );
        }
        shifts
    }

    /// The pairs of tasks that change their order: the one that was first is named first.
    fn turned(&self, shift: Shift) -> impl Iterator<Item = (u32, u32)> + '_ {
        let sequence = &self.sequences[shift.station];
        let moved = sequence[shift.from];
        let later = shift.from < shift.to;
        let passed = if later {
            shift.from + 1..shift.to + 1
        } else {
            shift.to..shift.from
        };
        sequence[passed]
            .iter()
            .map(move |&other| if later { (moved, other) } else { (other, moved) })
    }

    /// Searches from the sequences as they are, for so many days or until no day can cost less; leaves the best.
    fn search(&mut self, (days, enough): (u64, f64), mut rng: ChaCha8Rng, stop: &AtomicBool) {
        let nodes = self.nodes.len();
        let mut until = vec![0u64; nodes * nodes];
        let pair = |(a, b): (u32, u32)| a as usize * nodes + b as usize;
        let Some(mut least) = self.day() else { return };
        let mut best = (self.sequences.clone(), self.place.clone());
        let (mut spent, mut step, mut stale, mut shaken) = (0, 0, 0, 0);
        while spent < days && least > enough + 1e-9 && !stop.load(Ordering::Relaxed) {
            step += 1;
            let shifts = self.shifts(&self.path(&mut rng));
            let mut found: Option<(f64, Shift)> = None;
            for &shift in &shifts {
                let tabu = self.turned(shift).any(|(a, b)| until[pair((b, a))] > step);
                self.shift(shift);
                let cost = self.day();
                self.shift(shift.back());
                spent += 1;
                let Some(cost) = cost.filter(|c| !tabu || *c < least - 1e-9) else {
                    continue;
                };
                let luck = shaken > 0 || found.is_some_and(|f| f.0 == cost);
                if found.is_none_or(|f| cost < f.0) || (luck && rng.random::<bool>()) {
                    found = Some((cost, shift));
                }
            }
            shaken -= u64::from(shaken > 0);
            stale += 1;
            if let Some((cost, shift)) = found {
                let tenure = rng.random_range(TABU);
                for turned in self.turned(shift).map(pair).collect::<Vec<_>>() {
                    until[turned] = step + tenure;
                }
                self.shift(shift);
                if cost < least - 1e-9 {
                    (least, stale) = (cost, 0);
                    best = (self.sequences.clone(), self.place.clone());
                }
            }
            if stale > STALE || shifts.is_empty() {
                (self.sequences, self.place) = best.clone();
                (stale, shaken) = (0, SHAKEN);
                spent += 1;
            }
            self.day();
        }
        (self.sequences, self.place) = best;
        self.day();
    }

    /// The day as a decision.
    fn decision(&self) -> Solution {
        let mut g = self.world.plain();
        let mut all: Vec<usize> = (0..self.nodes.len()).collect();
        all.sort_by_key(|&n| (self.begins[n], self.place[n], n));
        for (n, at) in all.into_iter().zip(0i64..) {
            let task = self.nodes[n].task as usize;
            for t in [task, task + 1] {
                g.key[t] = at << 16;
            }
        }
        self.world.push_later(&mut g);
        g
    }
}

impl SearchContext<'_> {
    /// Days found by changes along the path that sets the end, begun from the best of these: as many as so many days of
    /// the line allow for, or until one costs no more than `enough`.
    pub(super) fn along_the_path(
        &self,
        starts: &[(Solution, Evaluated)],
        (days, enough, seed): (u64, f64, u64),
        (stop, bench): (&AtomicBool, &mut Bench),
    ) -> Vec<(Solution, Evaluated)> {
        let Some(graph) = Graph::of(self).filter(|_| !starts.is_empty()) else {
            return Vec::new();
        };
        let found: Vec<_> = (0..ISLANDS)
            .into_par_iter()
            .map(|i| {
                let mut graph = graph.clone();
                graph.follow(&starts[i as usize % starts.len()].1);
                let rng = ChaCha8Rng::seed_from_u64(seed ^ (i + 1).wrapping_mul(0x9e37_79b9_7f4a_7c15));
                graph.search((days * DAYS / ISLANDS, enough), rng, stop);
                let (g, mut bench) = (graph.decision(), self.bench());
                let tried = self.try_out(&g, true, f64::INFINITY, &mut bench);
                (tried.map(|t| (g, t)), bench.runs)
            })
            .collect();
        bench.runs += found.iter().map(|f| f.1).sum::<u64>();
        found.into_iter().filter_map(|f| f.0).collect()
    }
}
