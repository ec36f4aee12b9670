//! The places of one station, and what stands in them.

use super::{MeanSpan, clip};
use tankday_base::shop::{Station, StationId};
use tankday_base::units::{Moment, Share, Span};

/// A station over a stretch of time.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StationFigure {
    /// Which.
    pub station: StationId,
    /// Loads that have left it.
    pub served: u64,
    /// Times that work began there; fewer than loads where several go in together.
    pub starts: u64,
    /// Wait before it, from standing ready to taking a place; mean over the loads.
    pub wait: MeanSpan,
    /// Mean number of loads that wait for it.
    pub in_line: f64,
    /// Mean number of loads in it.
    pub in_place: f64,
    /// Mean number of its places that are taken.
    pub taken: f64,
    /// Mean number of its places in which work goes on.
    pub at_work: f64,
    /// Share of its places that is taken.
    pub busy: Share,
}

/// Loads that share one place.
#[derive(Debug, Clone, Copy, Default)]
struct Group {
    members: u32,
    since: Moment,
    working_since: Option<Moment>,
}

/// What a load knows of the place it has.
#[derive(Debug, Clone, Copy)]
pub(super) struct Held {
    pub(super) station: StationId,
    since: Moment,
    group: usize,
}

/// All places of one station.
#[derive(Debug, Clone)]
pub(super) struct Places {
    places: u32,
    together: u32,
    groups: Vec<Group>,
    spare: Vec<usize>,
    newest: Option<(usize, u32)>,
    served: u64,
    starts: u64,
    wait: MeanSpan,
    stayed: Span,
    taken: Span,
    worked: Span,
}

impl Places {
    pub(super) fn of(station: &Station) -> Self {
        Self {
            places: station.places,
            together: station.together,
            groups: Vec::new(),
            spare: Vec::new(),
            newest: None,
            served: 0,
            starts: 0,
            wait: MeanSpan::default(),
            stayed: Span::ZERO,
            taken: Span::ZERO,
            worked: Span::ZERO,
        }
    }

    pub(super) fn waited(&mut self, wait: Span) {
        self.wait.add(wait);
    }

    /// A load takes a place, or a share of one with those that came at the same moment.
    pub(super) fn set_in(&mut self, station: StationId, at: Moment) -> Held {
        if let Some((newest, came)) = self.newest
            && came < self.together
            && let Some(group) = self.groups.get_mut(newest)
            && group.since == at
        {
            group.members += 1;
            self.newest = Some((newest, came + 1));
            return Held {
                station,
                since: at,
                group: newest,
            };
        }
        let fresh = Group {
            members: 1,
            since: at,
            working_since: None,
        };
        let slot = match self.spare.pop() {
            Some(slot) => slot,
            None => {
                self.groups.push(fresh);
                self.groups.len() - 1
            }
        };
        if let Some(group) = self.groups.get_mut(slot) {
            *group = fresh;
        }
        self.newest = Some((slot, 1));
        Held {
            station,
            since: at,
            group: slot,
        }
    }

    pub(super) fn begin(&mut self, held: &Held, at: Moment) {
        self.starts += u64::from(self.resume(held, at));
    }

    /// Whether nobody else in the group had begun.
    pub(super) fn resume(&mut self, held: &Held, at: Moment) -> bool {
        if let Some(group) = self.groups.get_mut(held.group)
            && group.working_since.is_none()
        {
            group.working_since = Some(at);
            return true;
        }
        false
    }

    pub(super) fn end(&mut self, held: &Held, at: Moment, window: (Moment, Moment)) {
        if let Some(group) = self.groups.get_mut(held.group)
            && let Some(since) = group.working_since.take()
        {
            self.worked += clip(since, at, window);
        }
    }

    pub(super) fn leave(&mut self, held: &Held, at: Moment, window: (Moment, Moment)) {
        self.end(held, at, window);
        self.served += 1;
        self.depart(held, at, window);
    }

    /// Counts what is still there up to the end of the window.
    pub(super) fn cut_short(&mut self, held: &Held, window: (Moment, Moment)) {
        self.end(held, window.1, window);
        self.depart(held, window.1, window);
    }

    fn depart(&mut self, held: &Held, at: Moment, window: (Moment, Moment)) {
        self.stayed += clip(held.since, at, window);
        if let Some(group) = self.groups.get_mut(held.group) {
            group.members = group.members.saturating_sub(1);
            if group.members == 0 {
                self.taken += clip(group.since, at, window);
                self.spare.push(held.group);
                if self.newest.is_some_and(|(newest, _)| newest == held.group) {
                    self.newest = None;
                }
            }
        }
    }

    pub(super) fn figure(&self, station: StationId, window: (Moment, Moment)) -> StationFigure {
        let span = (window.1 - window.0).in_seconds();
        let mean = |sum: Span| if span > 0.0 { sum.in_seconds() / span } else { 0.0 };
        let taken = mean(self.taken);
        StationFigure {
            station,
            served: self.served,
            starts: self.starts,
            wait: self.wait,
            in_line: mean(self.wait.sum),
            in_place: mean(self.stayed),
            taken,
            at_work: mean(self.worked),
            busy: Share::fraction(taken / f64::from(self.places.max(1))),
        }
    }
}
