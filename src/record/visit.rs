//! The way of each load through the shop, visit by visit.

use super::event::{LoadNo, LogEntry};
use std::collections::BTreeMap;
use tankday_base::shop::{StationId, StepRef};
use tankday_base::units::{Moment, Span};

/// One stay of a load at a station. Moments that the record does not reach are none.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Visit {
    /// For which step.
    pub step: StepRef,
    /// Where.
    pub station: StationId,
    /// Since when the load stood ready for it; [`Visit::set_in`] if the record does not say.
    pub waits: Moment,
    /// It took its place.
    pub set_in: Moment,
    /// Work or dwell began.
    pub begins: Option<Moment>,
    /// As planned then.
    pub planned: Span,
    /// Longest stay.
    pub most: Option<Span>,
    /// Stretches in which the work lay still.
    pub pauses: Vec<(Moment, Moment)>,
    /// Work done.
    pub ends: Option<Moment>,
    /// Taking out began: the dwell is over.
    pub lift: Option<Moment>,
    /// It has left the station.
    pub done: Option<Moment>,
}

impl Visit {
    /// From the beginning of the work to taking out.
    #[must_use]
    pub fn dwell(&self) -> Option<Span> {
        Some(self.lift? - self.begins?)
    }
}

/// A load's way.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Trajectory {
    /// When it was made.
    pub made: Moment,
    /// Its stays, in order.
    pub visits: Vec<Visit>,
    /// When it stood ready for which steps, as far as it took none of them up.
    pub waiting: Vec<(StepRef, Moment)>,
    /// Since when it has been ready.
    pub ready: Option<Moment>,
    /// When it joined which other load.
    pub joined: Option<(Moment, LoadNo)>,
}

/// Goes on with the ways of all loads by one event.
pub(super) fn follow(ways: &mut BTreeMap<LoadNo, Trajectory>, at: Moment, event: &LogEntry) {
    if let Some(load) = load_of(event) {
        let way = ways.entry(load).or_insert_with(|| Trajectory {
            made: at,
            ..Trajectory::default()
        });
        note(way, at, event);
    }
}

/// The load that an event is about.
fn load_of(event: &LogEntry) -> Option<LoadNo> {
    match *event {
        LogEntry::LoadMade { load, .. }
        | LogEntry::Joins { load, .. }
        | LogEntry::Waits { load, .. }
        | LogEntry::SetIn { load, .. }
        | LogEntry::WorkBegins { load, .. }
        | LogEntry::WorkPauses { load }
        | LogEntry::WorkResumes { load }
        | LogEntry::WorkEnds { load, .. }
        | LogEntry::LiftBegins { load, .. }
        | LogEntry::StepDone { load, .. }
        | LogEntry::LoadReady { load } => Some(load),
        _ => None,
    }
}

fn note(way: &mut Trajectory, at: Moment, event: &LogEntry) {
    match *event {
        LogEntry::Joins { into, .. } => way.joined = Some((at, into)),
        LogEntry::Waits { step, .. } => {
            way.waiting.retain(|(open, _)| *open != step);
            way.waiting.push((step, at));
        }
        LogEntry::SetIn { step, station, .. } => set_in(way, at, step, station),
        LogEntry::LoadReady { .. } => way.ready = Some(at),
        _ => {
            if let Some(visit) = way.visits.last_mut() {
                at_station(visit, at, event);
            }
        }
    }
    if matches!(event, LogEntry::StepDone { .. }) {
        for (_, since) in &mut way.waiting {
            *since = at;
        }
    }
}

fn set_in(way: &mut Trajectory, at: Moment, step: StepRef, station: StationId) {
    let open = way.waiting.iter().position(|(open, _)| *open == step);
    let waits = open.map_or(at, |i| way.waiting.swap_remove(i).1);
    way.visits.push(Visit {
        step,
        station,
        waits,
        set_in: at,
        begins: None,
        planned: Span::ZERO,
        most: None,
        pauses: Vec::new(),
        ends: None,
        lift: None,
        done: None,
    });
}

fn at_station(visit: &mut Visit, at: Moment, event: &LogEntry) {
    match *event {
        LogEntry::WorkBegins { planned, most, .. } => {
            visit.begins = Some(at);
            (visit.planned, visit.most) = (planned, most);
        }
        LogEntry::WorkPauses { .. } => visit.pauses.push((at, Moment::NEVER)),
        LogEntry::WorkResumes { .. } => {
            if let Some(pause) = visit.pauses.last_mut() {
                pause.1 = at;
            }
        }
        LogEntry::WorkEnds { .. } => visit.ends = Some(at),
        LogEntry::LiftBegins { .. } => visit.lift = Some(at),
        LogEntry::StepDone { .. } => visit.done = Some(at),
        _ => {}
    }
}
