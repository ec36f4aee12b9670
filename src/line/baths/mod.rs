//! The baths: tanks with their heat and chemistry, storage vessels, the filter, the supply, the water of rinses, and their
//! care. They know no hands, no lines and no orders: they are told what goes in and comes out, and say how long it stays,
//! whether a load may go in, and what is to be done.
//!
//! A bath is advanced only when something touches it. How a bath lives: `chem.rs` keeps its chemistry in step with its heat,
//! `due.rs` says when care is due, `care.rs` and `stages.rs` in which stages it goes, `care_hands.rs` what hands do in them,
//! `tend.rs` what each stage does to the bath, `vessel.rs` what goes on in a storage vessel. A chore is a list of stages
//! (reach a temperature, stand, hands); no load goes in from the first to the last.

mod away;
mod care;
mod care_ahead;
mod care_hands;
mod cared;
mod charge;
mod chem;
mod due;
mod foresee;
mod heat;
mod look;
mod met;
mod planned;
mod rinse;
mod stages;
mod supply;
mod takes_ahead;
mod tank;
mod tend;
mod vessel;
mod water;
mod wool;

use crate::ids::{Of, TankIx};
pub(crate) use away::longest;
pub(crate) use charge::{Lifted, stay, window};
pub(crate) use chem::{leaves, on_kind, start};
pub(crate) use due::chore_of;
pub(crate) use tank::tables;
pub(crate) use tend::{conditioned, means, replenished, trimmed};

use crate::compile::Compiled;
use crate::plan::Plan;
use tankday_base::bath::TankHeat;
use tankday_base::bath::filter::Medium;
use tankday_base::shop::{OrderId, Shop, StationId, VesselId};
use tankday_base::units::Span;

/// All that is wet.
pub(crate) struct Baths<'a> {
    shop: &'a Shop,
    plan: &'a Compiled,
    /// The tables of heat losses, by tank.
    heat: &'a Of<TankIx, TankHeat>,
    /// For each tank the longest time that a load can take with somebody there throughout.
    longest: &'a Of<TankIx, Span>,
    /// The plan that is followed, as far as it speaks of baths.
    follows: Option<planned::Follows<'a>>,
    /// For each source of orders whether it will still bring something.
    streams: Of<OrderId, bool>,
    tanks: Of<TankIx, tank::Tank>,
    /// By station; empty where none is a rinse.
    rinses: Of<StationId, Option<rinse::RinseRun>>,
    vessels: Of<VesselId, vessel::VesselRun>,
    /// Who has the filter.
    filter: Option<vessel::Filtering>,
    /// The filter's medium; none before it was used.
    medium: Option<Medium>,
    /// Whether a heater, a lid or a load has changed what the supply must bear.
    supply_moved: bool,
}

impl<'a> Baths<'a> {
    /// From here on this plan is followed, or none; what of it has begun has begun.
    pub(crate) fn follow_from_now(&mut self, written: Option<&'a Plan>) {
        self.follows = written.map(|p| planned::Follows::new(p, self.plan));
        for task in written.into_iter().flat_map(Plan::begun) {
            self.task_starts(task);
        }
    }

    pub(crate) fn new(
        shop: &'a Shop,
        plan: &'a Compiled,
        heat: &'a Of<TankIx, TankHeat>,
        longest: &'a Of<TankIx, Span>,
        follow: Option<&'a Plan>,
    ) -> Self {
        Self {
            shop,
            plan,
            heat,
            longest,
            follows: follow.map(|p| planned::Follows::new(p, plan)),
            streams: Of::same(false, plan.orders.len()),
            tanks: Of::new(),
            rinses: rinse::rinses(shop),
            vessels: Of::new(),
            filter: None,
            medium: None,
            supply_moved: false,
        }
    }
}
