//! What the audit keeps of loads while it follows them, and of their stays at stations.

use super::ways::{Steps, Way};
use std::collections::BTreeMap;
use tankday_base::shop::{OrderId, PartId, StationId, StepIx, StepRef};
use tankday_base::units::{Moment, Span};
use tankday_record::LoadNo;

/// Where a load is in the life of its step.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Stage {
    Waiting,
    PuttingIn,
    Working,
    Paused,
    Done,
    TakingOut,
    Joined,
    Ready,
}

impl Stage {
    /// For a sentence: "while it …".
    pub(super) const fn words(self) -> &'static str {
        match self {
            Self::Waiting => "waits",
            Self::PuttingIn => "is being put in",
            Self::Working => "is being worked on",
            Self::Paused => "is laid down",
            Self::Done => "waits to be taken out",
            Self::TakingOut => "is being taken out",
            Self::Joined => "is part of another load",
            Self::Ready => "is ready",
        }
    }
}

/// Pieces of one order that were never divided since they came.
#[derive(Debug, Clone)]
pub(super) struct Lot {
    pub(super) order: usize,
    pub(super) part: PartId,
    pub(super) pieces: u32,
    pub(super) way: Way,
    pub(super) done: Steps,
}

/// A load at one moment.
#[derive(Debug, Clone)]
pub(super) struct Load {
    pub(super) no: LoadNo,
    pub(super) lots: Vec<usize>,
    pub(super) stage: Stage,
    /// Since when it is free to wait for its next step, or is in its stage at the end.
    pub(super) since: Moment,
    pub(super) waits: Vec<StepRef>,
    pub(super) visit: Option<usize>,
    pub(super) failed_at: Option<Moment>,
    pub(super) last: Option<(Moment, StepRef)>,
    /// Loads that joined it and must go in with it now, each with the end of the step before.
    pub(super) company: Vec<(Moment, LoadNo)>,
    /// Its events made no sense: nothing more is said of it.
    pub(super) lost: bool,
}

/// A stay of a load at a station.
#[derive(Debug, Clone)]
pub(super) struct Visit {
    pub(super) load: LoadNo,
    pub(super) lots: Vec<usize>,
    pub(super) step: StepRef,
    pub(super) station: StationId,
    pub(super) set_in: Moment,
    pub(super) begins: Option<Moment>,
    pub(super) planned: Span,
    pub(super) most: Option<Span>,
    pub(super) pauses: Vec<(Moment, Option<Moment>)>,
    pub(super) ends: Option<Moment>,
    pub(super) lift: Option<Moment>,
    pub(super) free: Option<Moment>,
    pub(super) done: Option<Moment>,
    /// Each load in it with the end of the step before it, where there was one.
    pub(super) waited_from: Vec<(LoadNo, Option<Moment>)>,
    /// Whether a step was done on the load before.
    pub(super) begun_before: bool,
}

/// An order that came.
#[derive(Debug, Clone)]
pub(super) struct Came {
    pub(super) source: OrderId,
    pub(super) nth: u32,
    pub(super) pieces: u32,
    pub(super) at: Moment,
    pub(super) ready: Option<Moment>,
}

/// A record retold load by load.
#[derive(Debug, Default)]
pub(super) struct Story {
    pub(super) orders: Vec<Came>,
    pub(super) lots: Vec<Lot>,
    pub(super) loads: Vec<Load>,
    pub(super) visits: Vec<Visit>,
    /// Takings (true) and givings back of places, in the order of the record, each with its visit.
    pub(super) moves: Vec<(Moment, usize, bool)>,
    /// When each lot was ready.
    pub(super) ready: BTreeMap<usize, Moment>,
}

impl Story {
    /// Steps that some lot of the load still has to pass.
    pub(super) fn pending(&self, load: &Load) -> Steps {
        self.lots_of(load)
            .fold(0, |all, lot| all | (lot.way.all & !lot.done))
    }

    /// Of these, the steps that may be done now.
    pub(super) fn open(&self, load: &Load) -> Vec<StepIx> {
        let pending = self.pending(load);
        let steps = (0..64)
            .map(StepIx)
            .filter(|&s| pending & super::ways::bit(s) != 0);
        steps
            .filter(|&s| self.lots_of(load).all(|lot| may(lot, s)))
            .collect()
    }

    fn lots_of(&self, load: &Load) -> impl Iterator<Item = &Lot> {
        load.lots.iter().filter_map(|&l| self.lots.get(l))
    }

    pub(super) fn load(&self, load: LoadNo) -> Option<&Load> {
        self.loads.get(load.0 as usize)
    }
}

/// Whether a lot may pass a step now; one that does not concern it, or is done, keeps nobody.
fn may(lot: &Lot, step: StepIx) -> bool {
    let wants = lot.way.all & !lot.done & super::ways::bit(step) != 0;
    !wants || lot.way.before(step) & !lot.done == 0
}
