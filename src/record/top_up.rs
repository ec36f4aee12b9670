//! Top-ups, each with the one time that it is called by: when hands begin it.

use super::event::{LogEntry, TaskKind};
use super::watch::Record;
use std::collections::BTreeMap;
use tankday_base::shop::StationId;
use tankday_base::units::{Moment, Volume};

/// Water made good.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ToppedUp {
    /// The tank.
    pub tank: StationId,
    /// When hands begin it: the time that sheet, watch list and pictures call it by.
    pub from: Moment,
    /// When the water is in.
    pub to: Moment,
    /// How much, at room temperature.
    pub volume: Volume,
}

/// All of a record, in order of their end. One that no hands began has its end for its beginning.
#[must_use]
pub fn top_ups(record: &Record) -> Vec<ToppedUp> {
    let mut begun: BTreeMap<StationId, Moment> = BTreeMap::new();
    let mut all = Vec::new();
    for entry in &record.entries {
        match entry.event {
            LogEntry::HandsTake { task, .. } if task.kind == TaskKind::TopUp => {
                begun.insert(task.station, entry.at);
            }
            LogEntry::ToppedUp { tank, volume } => all.push(ToppedUp {
                tank,
                from: begun.remove(&tank).unwrap_or(entry.at),
                to: entry.at,
                volume,
            }),
            _ => {}
        }
    }
    all
}
