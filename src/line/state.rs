//! The line at one moment: loads, orders, stations, hands.

use super::rinse::Wet;
use crate::kernel::Handle;
use std::collections::VecDeque;
use tankday_base::shop::Mishaps;
use tankday_base::shop::StationId;
use tankday_base::units::{Moment, Span};
use tankday_record::{LoadNo, OrderNo, Task};

/// No load, no hand, no station.
pub(super) const NONE: u32 = u32::MAX;

/// Where a load is in the life of its step.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Phase {
    Waiting,
    PuttingIn,
    Working,
    Paused,
    Done,
    TakingOut,
    Gone,
}

/// What a load has of a place at its station.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Place {
    None,
    /// Shares the place that another load of its group holds.
    Shared,
    Held,
}

/// What moves together: one lot, or several that met in a tank.
#[derive(Debug, Clone)]
pub(super) struct Load {
    pub(super) no: LoadNo,
    pub(super) order: u32,
    /// The order as written in the scenario.
    pub(super) source: u32,
    /// Which order of its stream it is of, from 1, and which lot of that, from 0.
    pub(super) nth: (u32, u32),
    /// Its number in a plan, if there is one.
    pub(super) lot: u32,
    /// The dwell window of its parts.
    pub(super) window: (Span, Span),
    pub(super) lot_pieces: u32,
    /// The next of the lots joined to it.
    pub(super) next_lot: u32,
    /// How many lots it has.
    pub(super) lots: u32,
    pub(super) route: u32,
    pub(super) part: u32,
    pub(super) done: u64,
    /// New with every step begun; entries in lines with another stamp are stale.
    pub(super) stamp: u64,
    pub(super) luck: u64,
    /// Inspections failed so far: a step done again has fresh luck.
    pub(super) tries: u32,
    pub(super) pieces: u32,
    /// Area m2, mass kg, basket room m3.
    pub(super) bulk: [f64; 3],
    /// Mass times heat capacity, J/K.
    pub(super) heat: f64,
    /// Liquid that leaves a bath on its pieces, m3, when they have dripped as stated.
    pub(super) drags: f64,
    /// What happened to it since it went into a bath.
    pub(super) mishaps: Mishaps,
    /// What its parts bring with them.
    pub(super) brings: Mishaps,
    /// What it is wet with.
    pub(super) wet: Wet,
    pub(super) slower: f64,
    pub(super) heavier: f64,
    pub(super) due: Moment,
    /// Whether the looks of any of it matter.
    pub(super) looks: bool,
    /// Conversion that the bath had summed when the load went in.
    pub(super) entered: [f64; 2],
    /// When the step before was over; never, if there was none.
    pub(super) ended: Moment,
    /// When the step in a bath was over that it was last in; never, if it was in none.
    pub(super) coated: Moment,
    pub(super) step: u32,
    pub(super) station: u32,
    pub(super) place: Place,
    pub(super) phase: Phase,
    pub(super) begun: Moment,
    pub(super) planned: Span,
    pub(super) left: Span,
    pub(super) latest: Moment,
    /// When hands were asked for.
    pub(super) asked: Moment,
    /// When the work under way will be over.
    pub(super) until: Moment,
    /// Steps at which it was told that it is kept back, a bit each.
    pub(super) kept: u64,
    /// When somebody looks whether it may start now.
    pub(super) look: Moment,
    pub(super) wake: Option<Handle>,
    pub(super) hand: u32,
    /// Marks those that share one place: the stamp of the first of them; nothing for a load alone.
    pub(super) group: u64,
    /// The next load of a group that works together.
    pub(super) next_in_group: u32,
}

/// One order under way.
#[derive(Debug, Clone, Copy)]
pub(super) struct Order {
    pub(super) no: OrderNo,
    pub(super) left: u32,
}

/// A load that waits for a step.
#[derive(Debug, Clone, Copy)]
pub(super) struct Waiting {
    pub(super) load: u32,
    pub(super) stamp: u64,
    pub(super) step: u32,
    pub(super) key: i64,
    pub(super) since: Moment,
    /// When it should have begun at the latest.
    pub(super) latest: Moment,
}

/// One station under way.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Station {
    pub(super) used: u32,
    pub(super) free_since: Moment,
    pub(super) dirty: bool,
    /// Route of the load that was in last.
    pub(super) last_route: u32,
}

/// One pair of hands.
#[derive(Debug, Clone, Copy)]
pub(super) struct Hand {
    pub(super) task: Option<Task>,
    /// When its task is expected to be over.
    pub(super) until: Moment,
    pub(super) load: u32,
    /// Where they stand, or stood last.
    pub(super) at: StationId,
    pub(super) free_since: Moment,
}

/// Things kept by index and used again when freed.
#[derive(Debug, Clone)]
pub(super) struct Shelf<T> {
    things: Vec<T>,
    free: Vec<u32>,
}

impl<T> Default for Shelf<T> {
    fn default() -> Self {
        Self {
            things: Vec::new(),
            free: Vec::new(),
        }
    }
}

impl<T> Shelf<T> {
    /// With room for so many before it grows.
    pub(super) fn with_room(many: usize) -> Self {
        Self {
            things: Vec::with_capacity(many),
            free: Vec::new(),
        }
    }

    pub(super) fn add(&mut self, thing: T) -> u32 {
        if let Some(i) = self.free.pop() {
            self.things[i as usize] = thing;
            return i;
        }
        self.things.push(thing);
        (self.things.len() - 1) as u32
    }
    pub(super) fn remove(&mut self, i: u32) {
        self.free.push(i);
    }
    /// All that were ever put here and whose place was not taken by another, with their numbers.
    pub(super) fn all(&self) -> impl Iterator<Item = (u32, &T)> {
        (0..).zip(&self.things)
    }
    pub(super) fn len(&self) -> usize {
        self.things.len() - self.free.len()
    }
}

impl<T> std::ops::Index<u32> for Shelf<T> {
    type Output = T;
    #[inline]
    fn index(&self, i: u32) -> &T {
        &self.things[i as usize]
    }
}

impl<T> std::ops::IndexMut<u32> for Shelf<T> {
    #[inline]
    fn index_mut(&mut self, i: u32) -> &mut T {
        &mut self.things[i as usize]
    }
}

/// A waiting line in the order in which its loads would be taken.
#[derive(Debug, Clone, Default)]
pub(super) struct Queue(pub(super) VecDeque<Waiting>);

impl Queue {
    /// Joins behind all with the same key.
    pub(super) fn join(&mut self, entry: Waiting) {
        let at = if self.0.back().is_none_or(|b| b.key <= entry.key) {
            self.0.len()
        } else {
            self.0.partition_point(|w| w.key <= entry.key)
        };
        if at == self.0.len() {
            self.0.push_back(entry);
        } else {
            self.0.insert(at, entry);
        }
    }

    pub(super) fn take(&mut self, at: usize) -> Option<Waiting> {
        if at == 0 {
            self.0.pop_front()
        } else {
            self.0.remove(at)
        }
    }
}
