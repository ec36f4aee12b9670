//! Routes: steps and what must come before what.

use super::ids::{PartId, StationId, StepIx};
use super::kind::StepKind;
use super::odds::Odds;
use crate::random::Spread;
use crate::units::{Share, Span, Temperature};

/// A wait this short cannot be bridged by other work in between: the load is wet or hot. Common practice, no source.
pub const SHORT_WAIT: Span = Span::whole_minutes(10);

/// So long after closing hands still see to what cannot wait; later, and before the first opening, nobody is there.
/// Assumption of this program, no source.
pub const STAYS: Span = Span::whole_minutes(240);

/// When a step needs hands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Hands {
    /// Not at all.
    None,
    /// To put in and to take out; in between it goes on by itself.
    Ends,
    /// From beginning to end.
    Throughout,
}

/// What happens to work under hands when a break or closing comes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum AtBreak {
    /// The break waits until the work is done.
    FinishFirst,
    /// It is laid down and taken up again where it was.
    Pause,
    /// It is laid down and done again from its beginning.
    StartAgain,
}

/// What the time of a step follows from.
#[derive(Debug, Clone, PartialEq)]
pub enum StepTime {
    /// A spread, and so much more for each piece.
    Work {
        /// For the load as a whole.
        load: Spread,
        /// For each piece in it.
        each: Span,
    },
    /// What the bath says: its coating rule and its dwell window.
    Coat,
}

/// What happens to a load that fails inspection.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Retry {
    /// Share of loads that fail.
    pub share: Share,
    /// The step it goes back to; everything from there on is done again.
    pub back_to: StepIx,
    /// Where what happened to a load counts: by how much. The share is then that of loads to which nothing happened.
    pub odds: Option<Odds>,
}

/// What a long step without hands relieves.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Relieves {
    /// Stress, before coating.
    Stress,
    /// Hydrogen, after coating.
    Hydrogen,
}

/// A long step that relieves.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Relief {
    /// What.
    pub what: Relieves,
    /// Temperature of the work; none where it lies in the room.
    pub heat: Option<Temperature>,
}

/// One step of a route.
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    /// What is done: `blast`.
    pub name: String,
    /// What it is: cautions and rules go by it.
    pub kind: StepKind,
    /// Stations that can do it, at least one, in the order of preference. For a coating step every tank with the bath.
    pub stations: Vec<StationId>,
    /// Its time.
    pub time: StepTime,
    /// Whether hands are needed.
    pub hands: Hands,
    /// Time to put in, under hands unless zero; only for [`Hands::Ends`].
    pub put_in: Span,
    /// Time to take out, under hands unless zero; only for [`Hands::Ends`].
    pub take_out: Span,
    /// Longest stay at the station counted from the end of putting in; beyond it the work suffers.
    pub most: Option<Span>,
    /// Longest wait between the end of the step before and the start of this one.
    pub within: Option<Span>,
    /// Follows the step before at once, the same hands going on without laying the load down.
    pub at_once: bool,
    /// At breaks and closing.
    pub at_break: AtBreak,
    /// May stay where it is overnight instead, to be taken out at the next opening.
    pub overnight: bool,
    /// Steps that must be done before it; none for a start.
    pub after: Vec<StepIx>,
    /// Only these parts pass it; empty for all.
    pub only: Vec<PartId>,
    /// Inspection that can send a load back.
    pub retry: Option<Retry>,
    /// How long a load drips over the tank before it goes on, within the time to take it out.
    pub drip: Span,
    /// What it relieves, if that is what it is for.
    pub relief: Option<Relief>,
}

impl Step {
    /// Whether the wait for what follows counts from the end of its work, though nobody has taken the load out yet: it lies
    /// wet or bare, and nothing says how long it may. What lies before anything was done to it lies as it came.
    #[must_use]
    pub fn waits_inside(&self) -> bool {
        let free = self.most.is_none() && !self.overnight && self.relief.is_none();
        let by_hand = self.time != StepTime::Coat && self.hands == Hands::Ends;
        let as_it_came = matches!(self.kind, StepKind::Rest | StepKind::Inspect | StepKind::Other);
        let untouched = self.after.is_empty() && as_it_came;
        free && by_hand && !untouched && self.kind.lies_open()
    }
}

/// A way through the shop.
#[derive(Debug, Clone, PartialEq)]
pub struct Route {
    /// Its name.
    pub name: String,
    /// Its steps, at most 64, in an order in which they may be done.
    pub steps: Vec<Step>,
}

impl Route {
    /// How long a load may lie at a step once its work there is over: as long as it may wait for what follows, where that
    /// counts from the end of the work.
    #[must_use]
    pub fn lies_at_most(&self, at: StepIx) -> Option<Span> {
        let step = self.steps.get(at.index()).filter(|s| s.waits_inside())?;
        let next = self.steps.iter().filter(|s| s.after.contains(&at));
        let within = next.filter_map(|s| s.within);
        within
            .min()
            .map(|within| (within - step.take_out).max(Span::ZERO))
    }
}
