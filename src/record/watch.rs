//! Who watches a run: nobody, a tally, or a full record.

use super::event::Event;
use tankday_base::units::Moment;

/// Sees every event of a run in order.
pub trait Watcher {
    /// Whether anyone looks at all; where not, the engine does not even make the event.
    const WATCHES: bool = true;
    /// Whether bath samples are wanted; they are the larger part of a record.
    const SAMPLES: bool = true;
    /// So many events, and the run is stopped as one that will not end, or whose record would fill the memory.
    const MOST_EVENTS: u64 = 2_000_000_000;
    /// Whether it has seen enough; the run stops then.
    #[inline]
    fn has_enough(&self) -> bool {
        false
    }
    /// Something happened.
    fn note(&mut self, at: Moment, event: Event);
}

/// Watches nothing.
#[derive(Debug, Clone, Copy, Default)]
pub struct Nobody;

impl Watcher for Nobody {
    const WATCHES: bool = false;
    const SAMPLES: bool = false;
    fn note(&mut self, _at: Moment, _event: Event) {}
}

/// One line of a record.
#[derive(Debug, Clone, PartialEq)]
pub struct Entry {
    /// When.
    pub at: Moment,
    /// What.
    pub event: Event,
}

/// Everything that happened in one run, in order.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Record {
    /// The entries; their times never decrease.
    pub entries: Vec<Entry>,
}

impl Watcher for Record {
    const MOST_EVENTS: u64 = 2_000_000;
    fn note(&mut self, at: Moment, event: Event) {
        self.entries.push(Entry { at, event });
    }
}
