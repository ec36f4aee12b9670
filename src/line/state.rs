//! The line at one moment: loads, orders, stations, hands.

use super::cargo::{Cargo, Wet};
use crate::ids::{ComeIx, HandIx, Id, LoadIx};
use crate::kernel::Handle;
use std::collections::VecDeque;
use tankday_base::shop::{Mishaps, OrderId, PartId, RouteId, StationId, StepIx};
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

/// Where the pieces of a load come from.
#[derive(Debug, Clone)]
pub(super) struct Origin {
    pub(super) order: ComeIx,
    /// The order as written in the scenario.
    pub(super) source: OrderId,
    /// Which order of its stream it is of, from 1, and which lot of that, from 0.
    pub(super) nth: (u32, u32),
    pub(super) part: PartId,
    /// Its number in a plan, if there is one.
    pub(super) lot: u32,
    pub(super) lot_pieces: u32,
    /// The next of the lots joined to it.
    pub(super) next_lot: LoadIx,
    /// How many lots it has.
    pub(super) lots: u32,
}

/// What luck and the way that it goes do to a load.
#[derive(Debug, Clone)]
pub(super) struct Fate {
    pub(super) luck: u64,
    /// Inspections failed so far: a step done again has fresh luck.
    pub(super) tries: u32,
    /// What happened to it since it went into a bath.
    pub(super) mishaps: Mishaps,
    /// What its parts bring with them.
    pub(super) brings: Mishaps,
    /// What it is wet with.
    pub(super) wet: Wet,
}

/// When what of a load was, is or is to be.
#[derive(Debug, Clone)]
pub(super) struct Times {
    pub(super) begun: Moment,
    pub(super) planned: Span,
    /// Of work that was laid down.
    pub(super) left: Span,
    /// When it must be lifted at the latest.
    pub(super) latest: Moment,
    /// When hands were asked for.
    pub(super) asked: Moment,
    /// When the work under way will be over.
    pub(super) until: Moment,
    /// When the step before was over; never, if there was none.
    pub(super) ended: Moment,
    /// When work was over that was then left in overnight, though it may not be; never, if it was not.
    pub(super) left_in: Moment,
    /// When the step in a bath was over that it was last in; never, if it was in none.
    pub(super) coated: Moment,
    /// When somebody looks whether it may start now.
    pub(super) look: Moment,
}

/// What a load holds, and what holds it.
#[derive(Debug, Clone)]
pub(super) struct Held {
    pub(super) place: Place,
    pub(super) hand: HandIx,
    /// Marks those that share one place: the stamp of the first of them; nothing for a load alone.
    pub(super) group: u64,
    /// The next load of a group that works together.
    pub(super) next_in_group: LoadIx,
    /// The end of its work, on the calendar.
    pub(super) completion: Option<Handle>,
}

/// What moves together: one lot, or several that met in a tank.
#[derive(Debug, Clone)]
pub(super) struct Load {
    pub(super) no: LoadNo,
    pub(super) of: Origin,
    pub(super) cargo: Cargo,
    pub(super) fate: Fate,
    pub(super) due: Moment,
    pub(super) route: RouteId,
    pub(super) done: u64,
    /// New with every step begun; entries in lines with another stamp are stale.
    pub(super) generation: u64,
    pub(super) step: StepIx,
    pub(super) station: StationId,
    pub(super) phase: Phase,
    pub(super) held: Held,
    pub(super) times: Times,
    /// Steps at which it was told that it is kept back, a bit each.
    pub(super) kept: u64,
    /// Steps at which it was told that nobody would be there behind them, a bit each.
    pub(super) nobody: u64,
    /// Kept out of its bath for the rest of the day: not counted among those that come to it.
    pub(super) put_off: bool,
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
    pub(super) load: LoadIx,
    pub(super) generation: u64,
    pub(super) step: StepIx,
    pub(super) key: i64,
    pub(super) since: Moment,
    /// When it should have begun at the latest.
    pub(super) latest: Moment,
    /// It does not begin before, by a plan.
    pub(super) hold: Moment,
}

/// One station under way.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Station {
    pub(super) used: u32,
    pub(super) free_since: Moment,
    /// Route of the load that was in last.
    pub(super) last_route: RouteId,
}

/// One pair of hands.
#[derive(Debug, Clone, Copy)]
pub(super) struct Hand {
    pub(super) task: Option<Task>,
    /// When its task is expected to be over.
    pub(super) until: Moment,
    pub(super) load: LoadIx,
    /// Where they stand, or stood last.
    pub(super) at: StationId,
    pub(super) free_since: Moment,
}

/// Things kept by index and used again when freed.
#[derive(Debug, Clone)]
pub(super) struct Slab<I, T> {
    things: Vec<T>,
    free: Vec<I>,
}

impl<I, T> Default for Slab<I, T> {
    fn default() -> Self {
        Self {
            things: Vec::new(),
            free: Vec::new(),
        }
    }
}

impl<I: Id, T> Slab<I, T> {
    /// With room for so many before it grows.
    pub(super) fn with_room(many: usize) -> Self {
        Self {
            things: Vec::with_capacity(many),
            free: Vec::new(),
        }
    }

    pub(super) fn add(&mut self, thing: T) -> I {
        if let Some(id) = self.free.pop() {
            self[id] = thing;
            return id;
        }
        self.things.push(thing);
        I::at((self.things.len() - 1) as u32)
    }

    pub(super) fn remove(&mut self, id: I) {
        self.free.push(id);
    }

    /// All that were ever put here and whose place was not taken by another, with their numbers.
    pub(super) fn all(&self) -> impl Iterator<Item = (I, &T)> {
        (0..).map(I::at).zip(&self.things)
    }

    pub(super) fn len(&self) -> usize {
        self.things.len() - self.free.len()
    }
}

impl<I: Id, T> std::ops::Index<I> for Slab<I, T> {
    type Output = T;
    #[inline]
    fn index(&self, id: I) -> &T {
        &self.things[id.place()]
    }
}

impl<I: Id, T> std::ops::IndexMut<I> for Slab<I, T> {
    #[inline]
    fn index_mut(&mut self, id: I) -> &mut T {
        &mut self.things[id.place()]
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
