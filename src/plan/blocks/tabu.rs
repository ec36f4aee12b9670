//! Tabu search: of all changes along the path that sets the end the best is made, also one for the worse, and none is
//! taken back soon.

use super::{Graph, Shift};
use rand::RngExt;
use rand::rngs::ChaCha8Rng;
use std::sync::atomic::{AtomicBool, Ordering};

/// A change is not taken back for so many changes; a little longer or shorter by chance.
const TABU: std::ops::Range<u64> = 10..24;
/// After so many changes without anything better it begins again from the best, with a few changes by chance.
const STALE: u64 = 3_000;
const SHAKEN: u64 = 8;

/// What a search remembers.
struct Memory {
    /// For each pair of tasks until which change the first does not come before the second again.
    until: Vec<u64>,
    tasks: usize,
    /// Changes so far, those since something better was found, and those still to be made by chance.
    changes: u64,
    stale: u64,
    shaken: u64,
    /// The best sequences, and what their day costs.
    best: (Vec<Vec<u32>>, Vec<usize>),
    least: f64,
}

impl Memory {
    fn forbids(&self, graph: &Graph<'_, '_>, shift: Shift) -> bool {
        graph
            .turned(shift)
            .any(|(a, b)| self.until[b as usize * self.tasks + a as usize] > self.changes)
    }

    fn forbid(&mut self, graph: &Graph<'_, '_>, shift: Shift, tenure: u64) {
        for (a, b) in graph.turned(shift) {
            self.until[a as usize * self.tasks + b as usize] = self.changes + tenure;
        }
    }
}

impl Graph<'_, '_> {
    /// Searches from the sequences as they are, for so many days or until no day can cost less; leaves the best.
    pub(super) fn search(&mut self, (days, enough): (u64, f64), mut rng: ChaCha8Rng, stop: &AtomicBool) {
        let Some(least) = self.day() else { return };
        let tasks = self.nodes.len();
        let mut memory = Memory {
            until: vec![0; tasks * tasks],
            tasks,
            changes: 0,
            stale: 0,
            shaken: 0,
            best: (self.sequences.clone(), self.place.clone()),
            least,
        };
        let mut spent = 0;
        while spent < days && memory.least > enough + 1e-9 && !stop.load(Ordering::Relaxed) {
            let shifts = self.shifts(&self.path(&mut rng));
            spent += 1 + shifts.len() as u64;
            memory.changes += 1;
            if let Some((cost, shift)) = self.best_of(&shifts, &memory, &mut rng) {
                memory.forbid(self, shift, rng.random_range(TABU));
                self.shift(shift);
                self.remember(cost, &mut memory);
            }
            memory.shaken = memory.shaken.saturating_sub(1);
            memory.stale += 1;
            if memory.stale > STALE || shifts.is_empty() {
                (self.sequences, self.place) = memory.best.clone();
                (memory.stale, memory.shaken) = (0, SHAKEN);
            }
            self.day();
        }
        (self.sequences, self.place) = memory.best;
        self.day();
    }

    fn remember(&self, cost: f64, memory: &mut Memory) {
        if cost < memory.least - 1e-9 {
            (memory.least, memory.stale) = (cost, 0);
            memory.best = (self.sequences.clone(), self.place.clone());
        }
    }

    /// The change after which the day costs least; by chance one of them, while the search is shaken.
    fn best_of(&mut self, shifts: &[Shift], memory: &Memory, rng: &mut ChaCha8Rng) -> Option<(f64, Shift)> {
        let mut found: Option<(f64, Shift)> = None;
        for &shift in shifts {
            let forbidden = memory.forbids(self, shift);
            self.shift(shift);
            let cost = self.day();
            self.shift(shift.back());
            // What is better than all so far is never forbidden.
            let Some(cost) = cost.filter(|c| !forbidden || *c < memory.least - 1e-9) else {
                continue;
            };
            let luck = memory.shaken > 0 || found.is_some_and(|f| f.0 == cost);
            if found.is_none_or(|f| cost < f.0) || (luck && rng.random::<bool>()) {
                found = Some((cost, shift));
            }
        }
        found
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
}
