//! The finishing line on the kernel: orders become loads, loads go their routes through stations and tanks, hands
//! do what they are asked for, the shop opens and closes.
//!
//! [`Line::new`] prepares a shop once (`compile.rs`, `prepared.rs`); [`Line::run`] runs it under one luck, and tells a
//! [`Observer`] everything that happens.
//!
//! A run is a loop and four parts that know nothing of one another. The loop (`engine.rs`) lends each of them the
//! `Day` (`day.rs`): the time, the calendar of what is due, the record that is told. The parts:
//!
//! - `shifts.rs`: hours, breaks, times when nobody is there
//! - `baths/`: tanks with heat and chemistry, their care, vessels, rinses, the supply; no hands, no lines, no orders
//! - `flow/`: orders, the loads they become, what is known of each on its way; no tanks, no hands
//! - `dispatch/`: waiting lines, stations, hands, and what starts next, by rules or by a plan, given the floor
//!   (`floor.rs`: day, flow and baths) as it is
//!
//! What concerns several of them is said where they meet: a load and a bath in `floor.rs`, the life of a load at a step in
//! `life.rs`, what starts in `start.rs`. The fields of a part are its own: others ask it, or tell it what has happened.
//! A load is known to a bath as its `Cargo`; hands are known to it not at all: what is due says whose hands are done.
//!
//! # Known and left
//!
//! - `within` counts from the step that the load did just before, that of hydrogen relief from the bath; the first
//!   differs from the graph only where steps go in either order.

pub mod kernel;

mod again;
mod arrive;
mod baths;
mod behind;
mod cargo;
mod chance;
mod compile;
mod day;
mod dispatch;
mod drag;
mod engine;
mod floor;
mod flow;
mod ids;
mod life;
mod lots;
mod one_load;
mod plan;
mod prepared;
mod shifts;
mod start;
mod state;

use crate::ids::{Of, TankIx};
pub use one_load::{Asked, Mixing, Unmixable, new_bath, one_load, set_right};
pub use plan::{BathReading, Plan, PlanLot};

use baths::Baths;
use chance::{Addresses, Chance};
use compile::Compiled;
use day::Day;
use dispatch::Dispatch;
use engine::Engine;
use floor::Floor;
use flow::Flow;
use shifts::Roster;
use tankday_base::bath::TankHeat;
use tankday_base::random::Streams;
use tankday_base::shop::{Keeping, Shop, StationId};
use tankday_base::units::{Energy, Moment};
use tankday_record::{CareKind, Observer};

/// How a run ended.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Outcome {
    /// When the last hands' work or step was over.
    pub finish: Moment,
    /// When the run stopped.
    pub stopped: Moment,
    /// Loads that were not ready then.
    pub unfinished: u32,
    /// Orders that came.
    pub orders: u32,
    /// Events that were worked off.
    pub events: u64,
    /// Drawn from the supply by all heaters.
    pub drawn: Energy,
    /// The run was cut off, since it would not have ended.
    pub endless: bool,
}

/// A shop prepared for running.
#[derive(Debug, Clone)]
pub struct Line<'a> {
    shop: &'a Shop,
    plan: Compiled,
    roster: Roster,
    heat: Of<TankIx, TankHeat>,
    /// For each tank the longest time that a load can take between two breaks that nobody stays for.
    longest: Of<TankIx, tankday_base::units::Span>,
    addresses: Addresses,
}

impl<'a> Line<'a> {
    /// Prepares a shop: waiting lines, lots, and the tables of its tanks' heat losses.
    #[must_use]
    pub fn new(shop: &'a Shop) -> Self {
        let heat = baths::tables(shop);
        Self {
            shop,
            plan: Compiled::new(shop),
            roster: Roster::new(&shop.calendar),
            longest: baths::longest(shop, &heat),
            heat,
            addresses: Addresses::new(shop),
        }
    }

    /// Runs the shop from its first day to the end of its last, or until nothing can happen any more. With no luck
    /// every time is its mean. The same shop and luck give the same events.
    pub fn run(&self, luck: Option<Streams>, watcher: &mut dyn Observer) -> Outcome {
        self.run_with((None, &[]), luck, watcher)
    }

    /// Runs the shop by a plan.
    pub fn follow(&self, plan: &Plan, luck: Option<Streams>, watcher: &mut dyn Observer) -> Outcome {
        let planned = plan.keeping != Keeping::OwnRules;
        self.run_with((planned.then_some(plan), &[]), luck, watcher)
    }

    /// Runs the shop by plans that take over from each other, each at its moment: the first, in the order of time, from the
    /// beginning on. Until a plan takes over, nothing hangs on it.
    pub fn follow_each(
        &self,
        plans: &[(Moment, Plan)],
        luck: Option<Streams>,
        watcher: &mut dyn Observer,
    ) -> Outcome {
        let Some(((_, first), later)) = plans.split_first() else {
            return self.run(luck, watcher);
        };
        let planned = first.keeping != Keeping::OwnRules;
        self.run_with((planned.then_some(first), later), luck, watcher)
    }

    /// Whether a rule says how this care is done at a tank.
    #[must_use]
    pub fn has_care(&self, tank: StationId, kind: CareKind) -> bool {
        let bath = self.shop.stations.get(tank.index()).and_then(|s| s.tank.as_ref());
        let kinds = |bath| {
            let rules = self.plan.rules.care.iter();
            rules.map(move |rule| CareKind::of(&baths::chore_of(rule, self.shop, bath)))
        };
        bath.is_some_and(|tank| kinds(tank.bath).any(|k| k == kind))
    }

    /// Room of every tank, in the order written: area m2, mass kg, basket m3.
    pub fn rooms(&self) -> impl Iterator<Item = [f64; 3]> + '_ {
        self.plan.room.iter().copied()
    }

    /// Most pieces of an order in one load of its route; none where no bath of the route limits them.
    #[must_use]
    pub fn full_load(&self, order: u32) -> Option<u32> {
        let order = self.plan.orders.get(order as usize)?;
        Some(order.most_in_lot).filter(|most| *most < u32::MAX)
    }

    /// Whether pieces of an order may go into a tank: they fit, and are not meant for another.
    #[must_use]
    pub fn takes(&self, order: u32, tank: StationId) -> bool {
        let number = self.plan.stations.find(tank).and_then(|s| s.tank);
        let takes = self.plan.orders.get(order as usize).map(|o| &o.takes);
        number
            .zip(takes)
            .is_some_and(|(t, takes)| takes.find(t).is_some_and(|t| *t))
    }

    fn run_with(
        &self,
        (plan, later): (Option<&Plan>, &[(Moment, Plan)]),
        luck: Option<Streams>,
        watcher: &mut dyn Observer,
    ) -> Outcome {
        let stations = self.plan.stations.len();
        let (shop, compiled) = (self.shop, &self.plan);
        let most_events = watcher.most_events();
        let chance = Chance::new(&self.addresses, luck);
        let floor = Floor {
            plan: compiled,
            day: Day::new(&self.roster, stations, watcher),
            flow: Flow::new(compiled, plan, chance),
            baths: Baths::new(shop, compiled, &self.heat, &self.longest, plan),
        };
        Engine::new(floor, Dispatch::new(shop, compiled, plan), later, most_events).run()
    }
}
