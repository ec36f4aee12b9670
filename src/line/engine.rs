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
use super::compile::Compiled;
use super::day::Event;
use super::dispatch::Dispatch;
use super::floor::Floor;
use super::plan::Plan;
use super::shifts::ShiftBoundary;
use tankday_base::units::Moment;

/// One run: the loop, the floor of the shop, and dispatch.
pub(super) struct Engine<'a> {
    pub(super) plan: &'a Compiled,
    pub(super) floor: Floor<'a>,
    pub(super) dispatch: Dispatch<'a>,
    /// Plans that take over later, each at its moment.
    pub(super) later: &'a [(Moment, Plan)],
    /// So many events, and the run is stopped.
    most_events: u64,
    events: u64,
}

impl<'a> Engine<'a> {
    pub(super) fn new(
        floor: Floor<'a>,
        dispatch: Dispatch<'a>,
        later: &'a [(Moment, Plan)],
        most_events: u64,
    ) -> Self {
        Self {
            plan: floor.plan,
            floor,
            dispatch,
            later,
            most_events,
            events: 0,
        }
    }
}

impl Engine<'_> {
    pub(super) fn run(mut self) -> Outcome {
        self.begin_run();
        while let Some(at) = self.floor.day.next_time() {
            if at > self.plan.rules.stop
                || self.over()
                || self.events > self.most_events
                || self.floor.day.watcher_has_enough()
            {
                break;
            }
            self.floor.day.move_to(at);
            let mut changed = false;
            while let Some(due) = self.floor.day.next_due() {
                self.events += 1;
                changed |= !matches!(due, Event::Sample(_));
                self.apply(due);
            }
            if self.floor.day.watcher_pauses() {
                break;
            }
            self.take_over();
            if changed {
                self.settle();
            }
        }
        self.end_run()
    }

    /// Nothing can move any more.
    fn over(&self) -> bool {
        let idle = !self.floor.day.any_moving() && !self.floor.flow.more_to_come();
        idle && self.floor.day.hours_are_over()
            && (self.floor.flow.under_way() == 0 || !self.floor.baths.tank_may_help(&self.floor.day))
    }

    fn apply(&mut self, due: Event) {
        match due {
            Event::Arrival(source) => self.arrive(source),
            Event::PutIn(load) => {
                self.floor.day.moved();
                self.work_begins(load);
            }
            Event::Work(load) => {
                self.floor.day.moved();
                self.work_ends(load);
            }
            Event::TakenOut(load) => {
                self.floor.day.moved();
                self.step_done(load);
            }
            Event::ToppedUp(tank, hand) => {
                self.floor.day.moved();
                self.floor.baths.topped_up(&mut self.floor.day, tank);
                self.dispatch.release(&mut self.floor, hand);
                self.floor.baths.full_again(&mut self.floor.day, tank);
            }
            Event::Renewed(station, hand) => {
                self.floor.day.moved();
                self.floor.baths.rinse_renewed(&mut self.floor.day, station);
                self.dispatch.release(&mut self.floor, hand);
                self.floor.day.mark(station);
            }
            Event::Care(tank) => {
                if self.floor.baths.stage_is_over(&mut self.floor.day, tank) {
                    self.floor.baths.care_goes_on(&mut self.floor.day, tank);
                }
            }
            Event::Tended(tank, hand) => {
                if self.floor.baths.stage_is_over(&mut self.floor.day, tank) {
                    self.floor.day.moved();
                    self.dispatch.release(&mut self.floor, hand);
                    self.floor.baths.care_goes_on(&mut self.floor.day, tank);
                }
            }
            Event::Vessel(vessel) => self.floor.baths.vessel_goes_on(&mut self.floor.day, vessel),
            Event::VesselTended(vessel, hand) => {
                self.floor.day.moved();
                self.dispatch.release(&mut self.floor, hand);
                self.floor.baths.vessel_goes_on(&mut self.floor.day, vessel);
            }
            Event::CareClock => {
                let work_to_come = self.floor.day.any_moving() || self.floor.flow.more_to_come();
                self.floor.baths.care_clock(&mut self.floor.day, work_to_come);
            }
            Event::Bath(tank) => self.floor.baths.bath_due(&mut self.floor.day, tank),
            Event::HeatOn(tank) => self.floor.baths.heat_on(&mut self.floor.day, tank),
            Event::Hours => self.hours_due(),
            Event::Look(station) => self.floor.day.mark(station),
            Event::Kept(station) => {
                self.floor.day.moved();
                self.dispatch.wake_kept(&mut self.floor);
                self.floor.day.mark(station);
            }
            Event::Hold(line) => {
                self.floor.day.moved();
                if let Some(line) = line {
                    for i in 0..self.plan.lines[line].len() {
                        self.floor.day.mark(self.plan.lines[line][i]);
                    }
                }
            }
            Event::Reading(nth) => self.floor.baths.read_bath(&mut self.floor.day, nth),
            Event::Cared(nth) => self.floor.baths.care_was_done(&mut self.floor.day, nth),
            Event::Watered(nth) => self.floor.baths.water_was_added(&mut self.floor.day, nth),
            Event::Ready(load) => {
                self.floor.day.moved();
                self.go_on(load);
            }
            Event::Sample(tank) => self.floor.baths.sample_due(&mut self.floor.day, tank),
        }
    }

    /// Begins a run: tanks as they stand, orders and hours on the calendar.
    pub(super) fn begin_run(&mut self) {
        self.floor.day.expect_hours();
        for source in self.plan.orders.ids() {
            let floor = &mut self.floor;
            let comes = floor.flow.expect_first(&mut floor.day, source);
            floor.baths.stream_goes_on(source, comes);
        }
        self.floor.baths.make_tanks(&mut self.floor.day);
        self.floor.baths.expect_readings(&mut self.floor.day);
        self.floor.baths.make_vessels(&self.floor.day);
    }

    /// Ends it: a last look at the baths, and how it came out.
    pub(super) fn end_run(mut self) -> super::Outcome {
        let endless = self.events > self.most_events;
        let drawn = self.floor.baths.drawn_in_all(&mut self.floor.day);
        super::Outcome {
            finish: self.floor.day.last_work(),
            stopped: self.floor.day.now(),
            unfinished: self.floor.flow.under_way() as u32,
            orders: self.floor.flow.orders_come(),
            events: self.events,
            drawn,
            endless,
        }
    }

    pub(super) fn hours_due(&mut self) {
        let Some(mark) = self.floor.day.pass_mark() else {
            return;
        };
        if self.floor.day.on_duty() {
            self.dispatch.crew_comes(&self.floor);
        } else {
            self.dispatch.lay_down_all(&mut self.floor);
        }
        match mark {
            ShiftBoundary::Opens => {
                self.dispatch.wake_kept(&mut self.floor);
                self.floor.baths.tanks_at_opening(&mut self.floor.day);
                self.floor.baths.rinses_at_opening(&self.floor.day);
            }
            ShiftBoundary::Closes => self.floor.baths.tanks_at_closing(&mut self.floor.day),
            _ => self.floor.baths.tanks_looked_at(&mut self.floor.day),
        }
    }
}
