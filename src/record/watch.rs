//! Who watches a run: nobody, a tally, or a full record.

use super::event::LogEntry;
use tankday_base::units::Moment;

/// What a watcher wants to see.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Looks {
    /// Nothing: the engine does not even make the events.
    Nothing,
    /// Everything but how baths are from time to time, which is the larger part of a record.
    Events,
    /// Everything.
    EventsAndBaths,
}

/// Sees every event of a run in order.
pub trait Observer {
    /// What it wants to see. The same for a whole run.
    fn looks(&self) -> Looks {
        Looks::EventsAndBaths
    }
    /// So many events, and the run is stopped as one that will not end, or whose record would fill the memory. The same
    /// for a whole run.
    fn most_events(&self) -> u64 {
        2_000_000_000
    }
    /// Whether it has seen enough; the run stops then.
    fn has_enough(&self) -> bool {
        false
    }
    /// Whether the run stops before anything new begins at this moment: what was due has been applied.
    fn pauses(&self) -> bool {
        false
    }
    /// Something happened.
    fn note(&mut self, at: Moment, event: LogEntry);
}

/// Watches nothing.
#[derive(Debug, Clone, Copy, Default)]
pub struct NullObserver;

impl Observer for NullObserver {
    fn looks(&self) -> Looks {
        Looks::Nothing
    }

    fn note(&mut self, _at: Moment, _event: LogEntry) {}
}

/// One line of a record.
#[derive(Debug, Clone, PartialEq)]
pub struct Entry {
    /// When.
    pub at: Moment,
    /// What.
    pub event: LogEntry,
}

/// Everything that happened in one run, in order.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Record {
    /// The entries; their times never decrease.
    pub entries: Vec<Entry>,
}

impl Observer for Record {
    fn most_events(&self) -> u64 {
        2_000_000
    }

    fn note(&mut self, at: Moment, event: LogEntry) {
        self.entries.push(Entry { at, event });
    }
}
