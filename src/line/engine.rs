//! The loop, and what every event does to the line.
//!
//! One event, one calendar, one loop. At every instant:
//!
//! 1. the clock moves to the earliest event;
//! 2. everything due at this instant is applied, ends and returns before starts, then in the order of scheduling;
//!    nothing new begins meanwhile;
//! 3. then everything that has become possible starts (`start.rs`): first what needs no hands, then what free hands
//!    turn to, until nothing more can.

use super::Outcome;
use super::baths::Baths;
use super::chance::Chance;
use super::compile::{Compiled, StepPlan};
use super::day::Day;
use super::state::{Hand, Load, NONE, Order, Queue, Shelf, Station};
use tankday_base::shop::{RouteId, Shop, StationId, StepIx, StepRef};
use tankday_base::units::{Moment, Span};
use tankday_record::{Event, Task, TaskKind};

/// What can be due.
#[derive(Debug, Clone, Copy)]
pub(super) enum Due {
    /// An order of this source comes.
    Arrival(u32),
    /// A load has been put in.
    PutIn(u32),
    /// The work on a load, or on the group that it leads, is over.
    Work(u32),
    /// A load has been taken out.
    TakenOut(u32),
    /// A tank has been topped up by these hands.
    ToppedUp(u32, u32),
    /// The water of a rinse has been renewed by these hands.
    Renewed(u32, u32),
    /// A stage of a tank's care is over that stands by itself.
    Care(u32),
    /// Hands are done with a stage of a tank's care.
    Tended(u32, u32),
    /// A vessel has settled or is filtered.
    Vessel(u32),
    /// Hands are done with a stage in a vessel.
    VesselTended(u32, u32),
    /// A time of day at which care is called for.
    CareClock,
    /// A bath comes to a threshold.
    Bath(u32),
    /// A heater is to be switched on.
    HeatOn(u32),
    /// The shop opens, closes, or a break begins or ends.
    Hours,
    /// Time to look whether a load has waited long enough for company.
    Look(u32),
    /// A load has been held back long enough in this line, or hands have walked.
    Hold(u32),
    /// A load that was kept back for want of a place behind the bath may start at this station.
    Kept(u32),
    /// A bath is from now on as it was read.
    Reading(u32),
    /// A load is ready that was so before anything was simulated.
    Ready(u32),
    /// A bath is looked at for the record; changes nothing.
    Sample(u32),
}

/// Looking for the record comes last of all at an instant.
pub(super) const LOOKS: u8 = 255;

/// One run.
pub(super) struct Engine<'a> {
    pub(super) shop: &'a Shop,
    pub(super) plan: &'a Compiled,
    pub(super) chance: Chance<'a>,
    /// The plan that is followed, if there is one.
    pub(super) follow: Option<super::follow::Following<'a>>,
    /// When hands under way will be there.
    pub(super) walking: Moment,
    pub(super) day: Day<'a>,
    /// So many events, and the run is stopped.
    pub(super) most_events: u64,
    pub(super) loads: Shelf<Load>,
    pub(super) orders: Shelf<Order>,
    pub(super) next_load: u32,
    pub(super) next_order: u32,
    pub(super) stamps: u64,
    /// For each source: orders that have come, and whether another is on the calendar.
    pub(super) come: Vec<u32>,
    /// Sources that will still bring something.
    pub(super) sources_left: u32,
    pub(super) lines: Vec<Queue>,
    pub(super) stations: Vec<Station>,
    pub(super) baths: Baths<'a>,
    pub(super) hands: Vec<Hand>,
    pub(super) free_hands: u32,
    /// Loads that are done and wait to be taken out, as asked.
    pub(super) done: std::collections::VecDeque<u32>,
    /// Loads whose work was laid down.
    pub(super) paused: Vec<u32>,
    /// Loads that somebody must take out before a certain time.
    pub(super) watched: Vec<u32>,
    pub(super) scratch: Vec<(Moment, Moment, Span)>,
    /// Loads that share the place of another.
    pub(super) shared: Vec<u32>,
    pub(super) events: u64,
}

impl Engine<'_> {
    pub(super) fn run(mut self) -> Outcome {
        self.begin_run();
        while let Some(at) = self.day.next_time() {
            if at > self.plan.rules.stop
                || self.over()
                || self.events > self.most_events
                || self.day.watcher_has_enough()
            {
                break;
            }
            self.day.move_to(at);
            let mut changed = false;
            while let Some(due) = self.day.next_due() {
                self.events += 1;
                changed |= !matches!(due, Due::Sample(_));
                self.apply(due);
            }
            if changed {
                self.settle();
            }
        }
        self.end_run()
    }

    /// Nothing can move any more.
    fn over(&self) -> bool {
        let idle = !self.day.any_moving() && self.sources_left == 0;
        idle && self.day.hours_are_over() && (self.loads.len() == 0 || !self.baths.tank_may_help(&self.day))
    }

    fn apply(&mut self, due: Due) {
        match due {
            Due::Arrival(source) => self.arrive(source),
            Due::PutIn(load) => {
                self.day.moved();
                self.work_begins(load);
            }
            Due::Work(load) => {
                self.day.moved();
                self.work_ends(load);
            }
            Due::TakenOut(load) => {
                self.day.moved();
                self.step_done(load);
            }
            Due::ToppedUp(tank, hand) => {
                self.day.moved();
                self.baths.topped_up(&mut self.day, tank);
                self.release(hand);
                self.baths.full_again(&mut self.day, tank);
            }
            Due::Renewed(station, hand) => {
                self.day.moved();
                self.baths.rinse_renewed(&mut self.day, station);
                self.release(hand);
                self.day.mark(station);
            }
            Due::Care(tank) => {
                if self.baths.stage_is_over(&mut self.day, tank) {
                    self.baths.care_goes_on(&mut self.day, tank);
                }
            }
            Due::Tended(tank, hand) => {
                if self.baths.stage_is_over(&mut self.day, tank) {
                    self.day.moved();
                    self.release(hand);
                    self.baths.care_goes_on(&mut self.day, tank);
                }
            }
            Due::Vessel(vessel) => self.baths.vessel_goes_on(&mut self.day, vessel),
            Due::VesselTended(vessel, hand) => {
                self.day.moved();
                self.release(hand);
                self.baths.vessel_goes_on(&mut self.day, vessel);
            }
            Due::CareClock => {
                let work_to_come = self.day.any_moving() || self.sources_left > 0;
                self.baths.care_clock(&mut self.day, work_to_come);
            }
            Due::Bath(tank) => self.baths.bath_due(&mut self.day, tank),
            Due::HeatOn(tank) => self.baths.heat_on(&mut self.day, tank),
            Due::Hours => self.hours_due(),
            Due::Look(station) => self.day.mark(station),
            Due::Kept(station) => {
                self.day.moved();
                self.day.mark(station);
            }
            Due::Hold(line) => {
                self.day.moved();
                if line != NONE {
                    for i in 0..self.plan.lines[line as usize].len() {
                        self.day.mark(self.plan.lines[line as usize][i].0);
                    }
                }
            }
            Due::Reading(nth) => self.baths.read_bath(&mut self.day, nth),
            Due::Ready(load) => {
                self.day.moved();
                self.go_on(load);
            }
            Due::Sample(tank) => self.baths.sample_due(&mut self.day, tank),
        }
    }

    #[inline]
    pub(super) fn step_of(&self, load: u32) -> &StepPlan {
        let load = &self.loads[load];
        &self.plan.routes[load.route as usize].steps[load.step as usize]
    }

    #[inline]
    pub(super) fn step_ref(&self, load: u32) -> StepRef {
        let load = &self.loads[load];
        StepRef {
            route: RouteId(load.route),
            step: StepIx(load.step),
        }
    }

    /// Hands turn to a task with a load.
    pub(super) fn take_hand(&mut self, hand: u32, load: u32, kind: TaskKind, until: Moment) {
        let station = StationId(self.loads[load].station);
        let task = Task {
            kind,
            station,
            load: Some((self.loads[load].no, self.step_ref(load))),
            vessel: None,
        };
        self.loads[load].hand = hand;
        self.take_hand_for(hand, task, until, load);
    }

    pub(super) fn take_hand_for(&mut self, hand: u32, task: Task, until: Moment, load: u32) {
        self.free_hands -= 1;
        self.hands[hand as usize] = Hand {
            task: Some(task),
            until,
            load,
            at: task.station,
            free_since: self.day.now(),
        };
        self.day.note(|| Event::HandsTake { hand, task });
    }

    pub(super) fn free_hand(&mut self, load: u32) {
        let hand = self.loads[load].hand;
        self.loads[load].hand = NONE;
        self.release(hand);
    }

    pub(super) fn release(&mut self, hand: u32) {
        self.free_hands += 1;
        if !self.shop.walks.is_none() {
            let h = self.hands[hand as usize];
            let out = h.task.is_some_and(|t| t.kind == TaskKind::TakeOut);
            if h.load != NONE {
                self.hands[hand as usize].at = self.stands_at(h.load, out);
            }
        }
        self.hands[hand as usize].task = None;
        self.hands[hand as usize].load = NONE;
        self.hands[hand as usize].free_since = self.day.now();
        self.day.work_is_over();
        self.day.note(|| Event::HandsFree { hand });
    }
}
