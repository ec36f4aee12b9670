//! The flow of work: orders, the loads they become, and what is known of each load on its way. It knows no tanks and no
//! hands.
//!
//! # Known and left
//!
//! - A load is shown whole (`flow[load]`), to be changed by whoever takes a step with it (`life.rs`, `start.rs`,
//!   `dispatch/hands.rs`): its phase and times change with hands and baths in one go, a setter for each would say the same
//!   in more words.
//! - A kind of step has no file of its own: what a load does at a station hangs on that (a tank, a rinse), not on the
//!   kind, and `floor.rs` asks the baths for either.

mod arrive;
mod fate;
mod planned;

use crate::ids::{ComeIx, LoadIx, Of, TankIx, bit};
pub(crate) use arrive::Arrived;

use crate::chance::Chance;
use crate::compile::{Compiled, CompiledStep};
use crate::day::Day;
use crate::plan::Plan;
use crate::state::{Load, Order, Phase, Place, Slab, Waiting};
use tankday_base::shop::{AtBreak, Hands, OrderId, StationId, StepIx, StepRef};
use tankday_base::units::Span;
use tankday_record::LogEntry;

/// Orders and loads under way.
pub(crate) struct Flow<'a> {
    plan: &'a Compiled,
    /// The plan that is followed, if there is one.
    written: Option<&'a Plan>,
    chance: Chance<'a>,
    loads: Slab<LoadIx, Load>,
    orders: Slab<ComeIx, Order>,
    next_load: u32,
    next_order: u32,
    stamps: u64,
    /// For each source so many orders that have come.
    come: Of<OrderId, u32>,
    /// Sources that will still bring something.
    sources_left: u32,
    /// Loads that share the place of another.
    shared: Vec<LoadIx>,
}

impl std::ops::Index<LoadIx> for Flow<'_> {
    type Output = Load;
    #[inline]
    fn index(&self, load: LoadIx) -> &Load {
        &self.loads[load]
    }
}

impl std::ops::IndexMut<LoadIx> for Flow<'_> {
    #[inline]
    fn index_mut(&mut self, load: LoadIx) -> &mut Load {
        &mut self.loads[load]
    }
}

impl<'a> Flow<'a> {
    pub(crate) fn new(plan: &'a Compiled, written: Option<&'a Plan>, chance: Chance<'a>) -> Self {
        Self {
            plan,
            written,
            chance,
            loads: Slab::with_room(written.map_or(0, |p| p.lots.len())),
            orders: Slab::default(),
            next_load: 0,
            next_order: 0,
            stamps: 0,
            come: Of::same(0, plan.orders.len()),
            sources_left: 0,
            shared: Vec::new(),
        }
    }

    /// From here on this plan is followed, or none: loads under way have their numbers in it.
    pub(crate) fn follow_from_now(&mut self, numbers: &Plan, written: Option<&'a Plan>) {
        self.written = written;
        let all: Vec<LoadIx> = self.loads.all().map(|(i, _)| i).collect();
        for load in all {
            let of = &mut self.loads[load].of;
            of.lot = numbers.lot_of(of.source.0, of.nth.0, of.nth.1);
        }
    }

    /// Loads that are not ready.
    #[inline]
    pub(crate) fn under_way(&self) -> usize {
        self.loads.len()
    }

    /// Orders that have come.
    #[inline]
    pub(crate) fn orders_come(&self) -> u32 {
        self.next_order
    }

    /// Whether any source will still bring something.
    #[inline]
    pub(crate) fn more_to_come(&self) -> bool {
        self.sources_left > 0
    }

    /// All loads, those that are gone among them.
    #[inline]
    pub(crate) fn all(&self) -> impl Iterator<Item = (LoadIx, &Load)> {
        self.loads.all()
    }

    /// A load shares the place of another of its group.
    #[inline]
    pub(crate) fn shares(&mut self, load: LoadIx) {
        self.loads[load].held.place = Place::Shared;
        self.shared.push(load);
    }

    /// A load shares the place of another no longer.
    #[inline]
    pub(crate) fn shares_no_more(&mut self, load: LoadIx) {
        self.shared.retain(|&other| other != load);
    }
}

impl<'a> Flow<'a> {
    #[inline]
    pub(crate) fn step_of(&self, load: LoadIx) -> &CompiledStep {
        let load = &self.loads[load];
        &self.plan.routes[load.route].steps[load.step]
    }

    #[inline]
    pub(crate) fn step_ref(&self, load: LoadIx) -> StepRef {
        let load = &self.loads[load];
        StepRef {
            route: load.route,
            step: load.step,
        }
    }

    #[inline]
    pub(crate) fn plan_of(&self, entry: &Waiting) -> &super::compile::CompiledStep {
        &self.plan.routes[self.loads[entry.load].route].steps[entry.step]
    }

    /// Whether the entry still stands for its load: a load in several lines leaves all when it starts in one.
    #[inline]
    pub(crate) fn fresh(&self, entry: &Waiting) -> bool {
        let l = &self.loads[entry.load];
        l.generation == entry.generation && l.phase == Phase::Waiting
    }

    /// Whether two loads wait for the same step of the same route, so that they may work together.
    #[inline]
    pub(crate) fn same_step(&self, a: &Waiting, b: &Waiting) -> bool {
        a.step == b.step && self.loads[a.load].route == self.loads[b.load].route
    }

    /// The longest stay of a load at a step.
    pub(crate) fn most_stay(&self, load: LoadIx, step: StepIx) -> Option<Span> {
        let l = &self.loads[load];
        let plan = &self.plan.routes[l.route].steps[step];
        let own = plan.bath.is_some().then_some(l.cargo.window.1);
        match (plan.most, own) {
            (Some(a), Some(b)) => Some(a.min(b)),
            (most, _) => most,
        }
    }

    /// Whether every piece of a load may go into a tank: it fits, and is not meant for another.
    pub(crate) fn admits(&self, tank: TankIx, load: LoadIx) -> bool {
        let mut lot = load;
        while lot != LoadIx::NONE {
            let l = &self.loads[lot];
            if !self.plan.orders[l.of.source].takes[tank] {
                return false;
            }
            lot = l.of.next_lot;
        }
        true
    }

    /// A stamp that no other entry has: the place of a load that is gone is used again.
    #[inline]
    pub(crate) fn next_generation(&mut self) -> u64 {
        self.stamps += 1;
        self.stamps
    }

    /// Steps that concern no lot of the load.
    pub(crate) fn skip_of(&self, load: LoadIx) -> u64 {
        let mut skip = u64::MAX;
        let mut lot = load;
        while lot != LoadIx::NONE {
            let l = &self.loads[lot];
            skip &= self.plan.routes[l.route].skip[l.of.part];
            lot = l.of.next_lot;
        }
        skip
    }

    /// Whether another load of the group is still in the place: it holds it now.
    pub(crate) fn passes_place_on(&mut self, group: u64) -> bool {
        let Some(i) = self
            .shared
            .iter()
            .position(|&l| self.loads[l].held.group == group)
        else {
            return false;
        };
        let heir = self.shared.swap_remove(i);
        self.loads[heir].held.place = Place::Held;
        true
    }

    /// Whether the work on a load may be laid down.
    #[inline]
    pub(crate) fn may_lay_down(&self, load: LoadIx) -> bool {
        if load == LoadIx::NONE || self.loads[load].phase != Phase::Working {
            return false;
        }
        let step = self.step_of(load);
        step.hands == Hands::Throughout && step.at_break == AtBreak::Pause && !step.wet()
    }

    #[inline]
    pub(crate) fn stops_at_break(&self, load: LoadIx) -> bool {
        if load == LoadIx::NONE || self.loads[load].phase != Phase::Working {
            return false;
        }
        let step = self.step_of(load);
        step.hands == Hands::Throughout && step.at_break != AtBreak::FinishFirst && !step.wet()
    }

    /// A step of the route of a load.
    #[inline]
    pub(crate) fn step_plan(&self, l: &Load, step: StepIx) -> &'a CompiledStep {
        let plan = self.plan;
        &plan.routes[l.route].steps[step]
    }

    /// A load is kept back for want of a place: told once for each step.
    pub(crate) fn tell_kept(&mut self, day: &mut Day<'_>, entry: &Waiting, behind: StepIx) {
        let l = &mut self.loads[entry.load];
        if l.kept & bit(entry.step) != 0 {
            return;
        }
        l.kept |= bit(entry.step);
        let (no, route) = (l.no, l.route);
        let at = |step: StepIx| StepRef { route, step };
        day.note(|| LogEntry::KeptBack {
            load: no,
            step: at(entry.step),
            behind: at(behind),
        });
    }

    /// A load is kept out of a step for the day, since nobody would be there for one behind it: told once.
    pub(crate) fn tell_nobody(&mut self, day: &mut Day<'_>, entry: &Waiting, behind: StepIx) {
        let l = &mut self.loads[entry.load];
        if l.nobody & bit(entry.step) != 0 {
            return;
        }
        l.nobody |= bit(entry.step);
        let (no, route) = (l.no, l.route);
        let at = |step: StepIx| StepRef { route, step };
        day.note(|| LogEntry::NobodyThen {
            load: no,
            step: at(entry.step),
            behind: at(behind),
        });
    }

    /// Where hands stand after a task with a load: taking out carries it to the next station.
    pub(crate) fn stands_at(&self, load: LoadIx, taken_out: bool) -> StationId {
        let l = &self.loads[load];
        let route = &self.plan.routes[l.route];
        let here = l.station;
        if !taken_out {
            return here;
        }
        let done = l.done | bit(l.step);
        let next = route
            .steps
            .ids()
            .find(|&s| done & bit(s) == 0 && route.steps[s].before & !done == 0);
        next.and_then(|s| self.plan.lines[route.steps[s].line].first().copied())
            .unwrap_or(here)
    }

    /// Every step is done.
    pub(crate) fn ready(&mut self, day: &mut Day<'_>, load: LoadIx) {
        let no = self.loads[load].no;
        day.note(|| LogEntry::LoadReady { load: no });
        let mut lot = load;
        while lot != LoadIx::NONE {
            let (order, pieces, next) = {
                let l = &self.loads[lot];
                (l.of.order, l.of.lot_pieces, l.of.next_lot)
            };
            self.orders[order].left -= pieces;
            if self.orders[order].left == 0 {
                let no = self.orders[order].no;
                day.note(|| LogEntry::OrderReady { order: no });
                self.orders.remove(order);
            }
            self.loads[lot].phase = Phase::Gone;
            self.loads.remove(lot);
            lot = next;
        }
    }

    /// A load works together with the one that was the last of a group.
    #[inline]
    pub(crate) fn joins_group(&mut self, load: LoadIx, last: LoadIx, group: u64) {
        self.loads[load].held.place = Place::Held;
        self.loads[load].held.group = group;
        self.loads[last].held.next_in_group = load;
    }
}
