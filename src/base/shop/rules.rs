//! The rules by which the shop runs when nobody plans ahead.

use super::care::Care;
use super::ids::{PartId, RouteId};
use crate::units::{Moment, Share, Span};

/// Which waiting load goes next.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NextLoad {
    /// The one promised earliest; ties by arrival.
    DueFirst,
    /// The one that has waited longest for this step.
    ArrivedFirst,
    /// The one that stays longest in the bath; elsewhere as promised.
    LongestDwellFirst,
    /// The one of the same route as the load before, then as promised.
    SameRouteTogether,
}

/// Which of several tasks free hands turn to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum HandsFirst {
    /// What must not wait first (loads that are done, wet loads), then what goes into a tank, then the rest.
    Urgent,
    /// Strictly in the order in which hands were asked for.
    InOrderAsked,
}

/// Until when hands are paid on a day.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum HandsPaid {
    /// To the end of their last work; not at all on a day without work.
    ToEndOfWork,
    /// To closing, on every day that the shop opens; longer if they work longer.
    ToClosing,
}

/// How an order too large for one load is divided.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Split {
    /// Into equal loads.
    Evenly,
    /// Full loads, then the rest.
    FillFirst,
}

/// Which loads may go into a tank together.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Combine {
    /// None.
    Never,
    /// Those of the same part and route.
    SamePart,
    /// Those of the same route.
    SameRoute,
}

/// What all work that goes into a bath together has in common.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Company {
    /// Its route.
    pub route: RouteId,
    /// Its part, if parts are kept apart.
    pub part: Option<PartId>,
    /// Whether its looks matter, if scrap goes through a fresh bath first.
    pub looks: Option<bool>,
}

/// When a tank is worth charging.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fill {
    /// As soon as the waiting work takes this share of its room.
    pub at_least: Share,
    /// Or when something has waited so long, or nothing more can come.
    pub wait_at_most: Span,
}

/// How far a plan is kept to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Keeping {
    /// Each place and the hands keep to the order of the tasks.
    Strictly,
    /// The order is kept as far as it goes.
    Loosely,
    /// Nothing is planned: the day goes by the shop's own rules.
    OwnRules,
}

/// When the heaters go on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum HeatOn {
    /// By hand, at opening.
    AtOpening,
    /// So that the band is reached at this time of day, before opening by a timer if need be.
    ReadyBy(Span),
    /// At this time of day.
    At(Span),
}

/// When the heaters go off.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum HeatOff {
    /// When no more work can come to the tank that day, or at closing.
    AfterLast,
    /// At closing.
    AtClosing,
    /// Never: the tank stays hot overnight.
    Never,
}

/// When the lid is on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LidRule {
    /// Whenever no load is in.
    BetweenLoads,
    /// Only while the heater is off.
    WhenOff,
    /// Never.
    Never,
}

/// When and how a tank is heated.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Heat {
    /// On.
    pub on: HeatOn,
    /// Off.
    pub off: HeatOff,
    /// Lid.
    pub lid: LidRule,
    /// Whether a hot tank may be left alone: allowed, but always a warning.
    pub unattended: bool,
}

/// When water is made good.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TopUp {
    /// Below this share of the fill; never, if zero.
    pub below: Share,
    /// Hands' time for one top-up.
    pub takes: Span,
}

/// What becomes of a load that a station behind the bath has no place for that day.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WhenFull {
    /// It waits before the bath.
    Wait,
    /// It goes in, and lies bare until there is a place.
    Go,
}

/// All of them.
#[derive(Debug, Clone, PartialEq)]
pub struct Rules {
    /// Which load goes next.
    pub next: NextLoad,
    /// What hands do first.
    pub hands: HandsFirst,
    /// Whether hands keep clear of work that would let a load in a tank pass its longest dwell.
    pub look_ahead: bool,
    /// What becomes of a load that would lie bare behind the bath for want of a place.
    pub when_full: WhenFull,
    /// Dividing orders.
    pub split: Split,
    /// Combining loads.
    pub combine: Combine,
    /// When a tank is charged.
    pub fill: Fill,
    /// Heating.
    pub heat: Heat,
    /// Topping up.
    pub top_up: TopUp,
    /// Whether a bath with too little iron takes only work whose looks do not matter.
    pub hold_back: bool,
    /// Keeping the baths.
    pub care: Vec<Care>,
    /// The simulation stops here at the latest, whatever is left.
    pub stop: Moment,
}
