//! The finishing line on the kernel: orders become loads, loads go their routes through stations and tanks, hands
//! do what they are asked for, the shop opens and closes.
//!
//! [`Line::new`] prepares a shop once; [`Line::run`] runs it under one luck, and tells a
//! [`Watcher`] everything that happens. The loop and its phases stand at the top of
//! `engine.rs`; what may start, in which order, in `start.rs`; looking ahead in `ahead.rs`; hands and hours in
//! `hands.rs`; following a plan in `follow.rs`, plans that take over from each other in `again.rs`, its loads for each tank in `planned_loads.rs`; the life of a load in `life.rs`; tanks in `tank.rs`, `heat.rs`, `water.rs`, `charge.rs`.
//!
//! # Known and left
//!
//! - `within` counts from the step that the load did just before, that of hydrogen relief from the bath; the first
//!   differs from the graph only where steps go in either order.

pub mod kernel;

mod again;
mod ahead;
mod arrive;
mod away;
mod behind;
mod care;
mod care_hands;
mod chance;
mod charge;
mod chem;
mod compile;
mod drag;
mod engine;
mod faults;
mod follow;
mod hands;
mod heat;
mod life;
mod look;
mod lots;
mod pick;
mod plan;
mod planned_loads;
mod prepared;
mod read;
mod rinse;
mod stages;
mod start;
mod state;
mod supply;
mod tank;
mod tend;
mod vessel;
mod water;
mod wool;

pub use plan::{BathReading, Plan, PlanLot};

use crate::kernel::{Agenda, Hours};
use chance::{Addresses, Chance};
use compile::Compiled;
use engine::Engine;
use tankday_base::bath::TankHeat;
use tankday_base::luck::Luck;
use tankday_base::shop::{Keeping, Shop, StationId};
use tankday_base::units::{Energy, Moment};
use tankday_record::{CareKind, Watcher};

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
    hours: Hours,
    calendar: Vec<(Moment, engine::Mark)>,
    heat: Vec<TankHeat>,
    aways: Vec<away::Away>,
    /// For each tank the longest time that a load can take between two breaks that nobody stays for.
    longest: Vec<tankday_base::units::Span>,
    addresses: Addresses,
}

impl<'a> Line<'a> {
    /// Prepares a shop: waiting lines, lots, and the tables of its tanks' heat losses.
    #[must_use]
    pub fn new(shop: &'a Shop) -> Self {
        let (open, breaks) = hands::intervals(&shop.calendar);
        let heat = tank::tables(shop);
        Self {
            shop,
            plan: Compiled::new(shop),
            hours: Hours::new(&open, &breaks),
            calendar: hands::marks(&shop.calendar),
            aways: away::aways(&shop.calendar),
            longest: away::longest(shop, &heat),
            heat,
            addresses: Addresses::new(shop),
        }
    }

    /// Runs the shop from its first day to the end of its last, or until nothing can happen any more. With no luck
    /// every time is its mean. The same shop and luck give the same events.
    pub fn run(&self, luck: Option<Luck>, watcher: &mut dyn Watcher) -> Outcome {
        self.run_with((None, &[]), luck, watcher)
    }

    /// Runs the shop by a plan.
    pub fn follow(&self, plan: &Plan, luck: Option<Luck>, watcher: &mut dyn Watcher) -> Outcome {
        let planned = plan.keeping != Keeping::OwnRules;
        self.run_with((planned.then_some(plan), &[]), luck, watcher)
    }

    /// Runs the shop by plans that take over from each other, each at its moment: the first, in the order of time, from the
    /// beginning on. Until a plan takes over, nothing hangs on it.
    pub fn follow_each(
        &self,
        plans: &[(Moment, Plan)],
        luck: Option<Luck>,
        watcher: &mut dyn Watcher,
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
            rules.map(move |rule| stages::kind(&care::chore_of(rule, self.shop, bath)))
        };
        bath.is_some_and(|tank| kinds(tank.bath).any(|k| k == kind))
    }

    /// Room of every tank, in the order written: area m2, mass kg, basket m3.
    pub fn rooms(&self) -> impl Iterator<Item = [f64; 3]> + '_ {
        self.plan.room.iter().copied()
    }

    /// Whether pieces of an order may go into a tank: they fit, and are not meant for another.
    #[must_use]
    pub fn takes(&self, order: u32, tank: StationId) -> bool {
        let number = self.plan.stations.get(tank.index()).and_then(|s| s.tank);
        let takes = self.plan.orders.get(order as usize).map(|o| &o.takes);
        number
            .zip(takes)
            .is_some_and(|(t, takes)| takes.get(t as usize).is_some_and(|t| *t))
    }

    fn run_with(
        &self,
        (plan, later): (Option<&Plan>, &[(Moment, Plan)]),
        luck: Option<Luck>,
        watcher: &mut dyn Watcher,
    ) -> Outcome {
        let stations = self.plan.stations.len();
        Engine {
            shop: self.shop,
            plan: &self.plan,
            hours: &self.hours,
            heat: &self.heat,
            aways: &self.aways,
            longest: &self.longest,
            next_away: 0,
            chance: Chance::new(&self.addresses, luck),
            looks: watcher.looks(),
            most_events: watcher.most_events(),
            watcher,
            follow: plan.map(|p| follow::Following::new(p, &self.plan)),
            later,
            walking: Moment::ZERO,
            agenda: Agenda::new(),
            now: Moment::ZERO,
            loads: state::Shelf::with_room(plan.map_or(0, |p| p.lots.len())),
            orders: state::Shelf::default(),
            next_load: 0,
            next_order: 0,
            stamps: 0,
            come: vec![0; self.plan.orders.len()],
            sources_left: 0,
            stream_next: vec![Moment::NEVER; self.plan.orders.len()],
            lines: vec![state::Queue::default(); self.plan.lines.len()],
            stations: vec![state::Station::default(); stations],
            tanks: Vec::new(),
            rinses: rinse::rinses(self.shop),
            hands: vec![
                state::Hand {
                    task: None,
                    until: Moment::ZERO,
                    load: state::NONE,
                    at: StationId(0),
                    free_since: Moment::ZERO,
                };
                self.plan.hands as usize
            ],
            free_hands: self.plan.hands,
            done: std::collections::VecDeque::new(),
            paused: Vec::new(),
            watched: Vec::new(),
            dirty: Vec::new(),
            scratch: Vec::new(),
            on_duty: false,
            last_close: Moment::NEVER,
            calendar: &self.calendar,
            next_mark: 0,
            moving: 0,
            shared: Vec::new(),
            vessels: Vec::new(),
            supply_moved: false,
            filter: None,
            medium: None,
            last_work: Moment::ZERO,
            events: 0,
        }
        .run()
    }
}
