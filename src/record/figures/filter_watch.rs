//! Filters that are not through when the record ends: the tank stands without its solution.

use super::warning_kind::WarningKind;
use super::warnings::{Caution, at};
use crate::event::LogEntry;
use crate::task::{Task, TaskKind};
use std::collections::BTreeMap;
use tankday_base::shop::{StationId, VesselId};
use tankday_base::units::Moment;

/// Where what runs through a filter belongs: a tank, or a vessel beside it.
type Owner = (StationId, Option<VesselId>);

/// Filters that were set up, and from which nothing has been filled back yet.
#[derive(Debug, Clone, Default)]
pub(super) struct Filters {
    running: BTreeMap<Owner, Moment>,
}

impl Filters {
    pub(super) fn note(&mut self, now: Moment, event: &LogEntry) {
        let LogEntry::HandsTake {
            task:
                Task {
                    kind,
                    station,
                    vessel,
                    ..
                },
            ..
        } = *event
        else {
            return;
        };
        match kind {
            TaskKind::SetUpFilter => {
                self.running.insert((station, vessel), now);
            }
            TaskKind::FillBack => {
                self.running.remove(&(station, vessel));
            }
            _ => {}
        }
    }

    /// Each that still runs, from when it was set up.
    pub(super) fn found(&self) -> impl Iterator<Item = (WarningKind, Caution)> {
        let running = self.running.iter();
        running.map(|((tank, _), since)| (WarningKind::FilterRuns, at(*since, Some(*tank))))
    }
}
