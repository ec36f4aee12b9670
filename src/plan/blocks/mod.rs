//! Days that only stations hold together: each task begins once the one before it in its lot and the one before it at its
//! station are over. What sets the end of such a day is a path of tasks without a gap. Nothing ends earlier unless a block
//! of tasks that follow each other at one station on that path gets another first or last task; so a tabu search tries
//! these changes only (M. Dell'Amico, M. Trubian, Applying tabu search to the job-shop scheduling problem, Annals of
//! Operations Research 41, 1993). The line judges what it finds.
//!
//! Here is the day as a graph, in `tabu.rs` the search.

mod tabu;

use super::chain::Op;
use super::gaps::FAR;
use super::model::{Evaluated, SearchContext, Solution};
use super::try_out::Bench;
use rand::SeedableRng;
use rand::rngs::ChaCha8Rng;
use rayon::prelude::*;
use std::sync::atomic::AtomicBool;
use tankday_base::units::Moment;

/// Searches side by side.
const ISLANDS: u64 = 4;
/// Days of a graph for each day that the line may be asked for: one of the line takes about that much longer.
const DAYS: u64 = 30;
/// Of more tasks than this a day takes that much longer; of many more the line has its own search only.
const TASKS: usize = 100;
const MOST: usize = 1_000;

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
            add_lot(world, lot, &mut nodes)?;
        }
        (nodes.len() <= MOST).then(|| Self {
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

/// The tasks of a lot; none if anything but its stations can keep one of them waiting.
fn add_lot(world: &SearchContext<'_>, lot: usize, nodes: &mut Vec<Node>) -> Option<()> {
    let [ops, in_bath] = &world.own[lot];
    let waits = |op: &Op| op.room == 1 && op.within >= FAR && !op.throughout && op.put + op.take == 0;
    if !ops.iter().all(waits) || !in_bath.is_empty() || ops.len() > usize::from(u8::MAX) {
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
    Some(())
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
        let days = days * DAYS * TASKS as u64 / graph.nodes.len().max(TASKS) as u64;
        let found: Vec<_> = (0..ISLANDS)
            .into_par_iter()
            .map(|i| {
                let mut graph = graph.clone();
                graph.follow(&starts[i as usize % starts.len()].1);
                let rng = ChaCha8Rng::seed_from_u64(seed ^ (i + 1).wrapping_mul(0x9e37_79b9_7f4a_7c15));
                graph.search((days / ISLANDS, enough), rng, stop);
                let (g, mut bench) = (graph.decision(), self.bench());
                let tried = self.try_out(&g, true, f64::INFINITY, &mut bench);
                (tried.map(|t| (g, t)), bench.runs)
            })
            .collect();
        bench.runs += found.iter().map(|f| f.1).sum::<u64>();
        found.into_iter().filter_map(|f| f.0).collect()
    }
}
