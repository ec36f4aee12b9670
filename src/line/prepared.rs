//! What the loop knows of steps, routes, stations and orders.

use super::behind::{Ahead, Behind};
use crate::cargo::Cargo;
use crate::ids::{LineIx, Of, TankIx};
use std::ops::AddAssign;
use tankday_base::random::Spread;
use tankday_base::shop::{
    Arrival, AtBreak, BathId, Company, Frees, Hands, Mishaps, Odds, PartId, RouteId, SHORT_WAIT, StepIx,
};
use tankday_base::units::{Moment, Span};

/// A time that grows with the pieces of a load.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Paced {
    /// Whatever the load.
    pub(super) flat: Span,
    /// For each of its pieces.
    pub(super) each: Span,
}

impl Paced {
    /// The time for a load.
    pub(super) fn of(self, cargo: &Cargo) -> Span {
        self.flat + self.each.times(f64::from(cargo.pieces))
    }
}

impl From<Span> for Paced {
    fn from(flat: Span) -> Self {
        Self {
            flat,
            each: Span::ZERO,
        }
    }
}

impl AddAssign for Paced {
    fn add_assign(&mut self, more: Self) {
        self.flat += more.flat;
        self.each += more.each;
    }
}

/// One step, ready for the loop.
#[derive(Debug, Clone)]
pub(super) struct CompiledStep {
    pub(super) line: LineIx,
    /// Spread of its time and the time for each piece; none where the bath decides.
    pub(super) work: Option<(Spread, Span)>,
    /// What the shop expects it to take, for looking ahead.
    pub(super) expected: Paced,
    pub(super) hands: Hands,
    pub(super) put_in: Span,
    pub(super) take_out: Span,
    pub(super) most: Option<Span>,
    /// Whether the wait for what follows counts from the end of its work, not from when it is taken out.
    pub(super) waits_inside: bool,
    /// How long the load may lie here then.
    pub(super) lies: Option<Span>,
    pub(super) within: Option<Span>,
    pub(super) at_once: bool,
    pub(super) at_break: AtBreak,
    pub(super) overnight: bool,
    /// Steps that must be done right before.
    pub(super) after: u64,
    /// All that must be done before, directly or through others: a step that does not concern a part is passed
    /// over, what stands before it is not.
    pub(super) before: u64,
    pub(super) retry: Option<RetryPlan>,
    pub(super) bath: Option<BathId>,
    /// Whether it rinses.
    pub(super) rinses: bool,
    /// Whether its `within` counts from the bath and not from the step before: hydrogen is to be relieved soon.
    pub(super) from_bath: bool,
    /// What its dripping leaves of the drag-out as stated.
    pub(super) drips: f64,
    /// Hands' time from the lift on until the load may be laid down: taking out and the wet steps behind it.
    pub(super) chain: Paced,
    /// What behind a bath must follow on it within a time.
    pub(super) behind: Vec<Behind>,
    /// The bath for which a load may wait only so long from this step on.
    pub(super) ahead: Option<Ahead>,
}

impl CompiledStep {
    /// Whether hands are needed at the moment it starts.
    pub(super) fn starts_with_hands(&self) -> bool {
        match self.hands {
            Hands::None => false,
            Hands::Ends => self.put_in > Span::ZERO,
            Hands::Throughout => true,
        }
    }

    /// Hands' time at the start of it.
    pub(super) fn hands_at_start(&self) -> Paced {
        match self.hands {
            Hands::None => Paced::default(),
            Hands::Ends => self.put_in.into(),
            Hands::Throughout => self.expected,
        }
    }

    /// From when on the wait of a load for it counts.
    pub(super) fn waits_from(&self, load: &super::state::Load) -> Moment {
        if self.from_bath && load.times.coated < Moment::NEVER {
            load.times.coated
        } else {
            load.times.ended
        }
    }

    /// Whether the load is wet or hot when it comes here.
    pub(super) fn wet(&self) -> bool {
        self.at_once || self.within.is_some_and(|w| w <= SHORT_WAIT)
    }
}

/// Inspection, ready for the loop.
#[derive(Debug, Clone, Copy)]
pub(super) struct RetryPlan {
    pub(super) share: f64,
    pub(super) odds: Option<Odds>,
    pub(super) back_to: StepIx,
    /// Steps to be done again.
    pub(super) redo: u64,
}

/// One route, ready for the loop.
#[derive(Debug, Clone)]
pub(super) struct RoutePlan {
    pub(super) steps: Of<StepIx, CompiledStep>,
    /// A bit for every step.
    pub(super) all: u64,
    /// For each part, the steps that do not concern it.
    pub(super) skip: Of<PartId, u64>,
    /// Steps in a bath.
    pub(super) coats: u64,
}

/// One station, ready for the loop.
#[derive(Debug, Clone)]
pub(super) struct StationPlan {
    pub(super) places: u32,
    pub(super) together: u32,
    pub(super) frees: Frees,
    pub(super) lines: Vec<LineIx>,
    /// Whether any of its steps needs hands to start.
    pub(super) with_hands: bool,
    /// Index among the tanks.
    pub(super) tank: Option<TankIx>,
}

/// One order of the scenario, ready for the loop.
#[derive(Debug, Clone)]
pub(super) struct OrderPlan {
    /// Pieces of each lot, where the order has its full count.
    pub(super) lots: Vec<u32>,
    /// Pieces that fit one lot.
    pub(super) most_in_lot: u32,
    /// For each tank, whether its pieces may go in: they fit, and are not meant for another.
    pub(super) takes: Of<TankIx, bool>,
    pub(super) route: RouteId,
    pub(super) part: PartId,
    pub(super) count: u32,
    pub(super) arrival: Arrival,
    pub(super) due_after: Option<Span>,
    pub(super) looks: bool,
    /// What goes into a bath with it, if anything does.
    pub(super) company: Option<Company>,
    /// What its part brings with it.
    pub(super) brings: Mishaps,
    /// Area, mass and basket room of one piece, in SI units, and how much slower its material coats.
    pub(super) piece: [f64; 3],
    /// Liquid that leaves a bath on one piece, m3.
    pub(super) drags: f64,
    pub(super) slower: f64,
    pub(super) heat_capacity: f64,
    /// Its own dwell window; zero to [`ANY_STAY`] where the bath decides alone.
    pub(super) window: (Span, Span),
}
