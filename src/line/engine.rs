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
use super::chance::Chance;
use super::compile::{Compiled, StepPlan};
use super::rinse::RinseRun;
use super::state::{Hand, Load, NONE, Order, Queue, Shelf, Station};
use super::tank::Tank;
use crate::kernel::{Agenda, ENDS, Handle, Hours};
use tankday_base::bath::TankHeat;
use tankday_base::shop::{RouteId, Shop, StationId, StepIx, StepRef};
use tankday_base::units::{Moment, Span};
use tankday_record::{Event, Looks, Task, TaskKind, Watcher};

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
    /// A tank has been topped up.
    ToppedUp(u32),
    /// The water of a rinse has been renewed.
    Renewed(u32),
    /// A stage of a tank's care is over.
    Care(u32),
    /// A stage of settling and filtering in a vessel is over.
    Vessel(u32),
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
    pub(super) hours: &'a Hours,
    pub(super) heat: &'a [TankHeat],
    /// Times when nobody is there, in order, and the first that is not over.
    pub(super) aways: &'a [super::away::Away],
    pub(super) next_away: usize,
    /// For each tank the longest time that a load can take with somebody there throughout.
    pub(super) longest: &'a [Span],
    pub(super) chance: Chance<'a>,
    /// The plan that is followed, if there is one.
    pub(super) follow: Option<super::follow::Following<'a>>,
    /// Plans that take over later, each at its moment.
    pub(super) later: &'a [(Moment, super::plan::Plan)],
    /// When hands under way will be there.
    pub(super) walking: Moment,
    pub(super) watcher: &'a mut dyn Watcher,
    /// What the watcher wants to see, asked once.
    pub(super) looks: Looks,
    /// So many events, and the run is stopped.
    pub(super) most_events: u64,
    pub(super) agenda: Agenda<Due>,
    pub(super) now: Moment,
    pub(super) loads: Shelf<Load>,
    pub(super) orders: Shelf<Order>,
    pub(super) next_load: u32,
    pub(super) next_order: u32,
    pub(super) stamps: u64,
    /// For each source: orders that have come, and whether another is on the calendar.
    pub(super) come: Vec<u32>,
    /// Sources that will still bring something.
    pub(super) sources_left: u32,
    /// When the next order of each source comes; never, if none does.
    pub(super) stream_next: Vec<Moment>,
    pub(super) lines: Vec<Queue>,
    pub(super) stations: Vec<Station>,
    pub(super) tanks: Vec<Tank>,
    /// By station; empty where none is a rinse.
    pub(super) rinses: Vec<Option<RinseRun>>,
    pub(super) hands: Vec<Hand>,
    pub(super) free_hands: u32,
    /// Loads that are done and wait to be taken out, as asked.
    pub(super) done: std::collections::VecDeque<u32>,
    /// Loads whose work was laid down.
    pub(super) paused: Vec<u32>,
    /// Loads that somebody must take out before a certain time.
    pub(super) watched: Vec<u32>,
    /// Stations where something may start without hands.
    pub(super) dirty: Vec<u32>,
    pub(super) scratch: Vec<(Moment, Moment, Span)>,
    pub(super) on_duty: bool,
    pub(super) last_close: Moment,
    pub(super) calendar: &'a [(Moment, Mark)],
    pub(super) next_mark: usize,
    /// Events pending that move a load.
    pub(super) moving: u32,
    /// Loads that share the place of another.
    pub(super) shared: Vec<u32>,
    /// Whether a heater, a lid or a load has changed what the supply must bear.
    pub(super) supply_moved: bool,
    /// Storage vessels.
    pub(super) vessels: Vec<super::vessel::VesselRun>,
    /// Who has the filter.
    pub(super) filter: Option<super::vessel::Filtering>,
    /// The filter's medium; none before it was used.
    pub(super) medium: Option<tankday_base::bath::filter::Medium>,
    pub(super) last_work: Moment,
    pub(super) events: u64,
}

/// A point in the shop's hours.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Mark {
    Opens,
    BreakBegins,
    BreakEnds,
    Closes,
}

impl Engine<'_> {
    pub(super) fn run(mut self) -> Outcome {
        self.begin_run();
        while let Some(at) = self.agenda.peek_time() {
            if at > self.plan.rules.stop
                || self.over()
                || self.events > self.most_events
                || self.watcher.has_enough()
            {
                break;
            }
            self.now = at;
            let mut changed = false;
            while let Some((_, due)) = self.agenda.next_until(at) {
                self.events += 1;
                changed |= !matches!(due, Due::Sample(_));
                self.apply(due);
            }
            if self.watcher.pauses() {
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
        let hours_over = self.next_mark >= self.calendar.len();
        let idle = self.moving == 0 && self.sources_left == 0;
        idle && (hours_over || self.never_closes()) && (self.loads.len() == 0 || !self.tank_may_help())
    }

    fn never_closes(&self) -> bool {
        self.calendar
            .get(self.next_mark)
            .is_some_and(|m| m.0 == Moment::NEVER)
    }

    fn apply(&mut self, due: Due) {
        match due {
            Due::Arrival(source) => self.arrive(source),
            Due::PutIn(load) => {
                self.moving -= 1;
                self.work_begins(load);
            }
            Due::Work(load) => {
                self.moving -= 1;
                self.work_ends(load);
            }
            Due::TakenOut(load) => {
                self.moving -= 1;
                self.step_done(load);
            }
            Due::ToppedUp(tank) => self.topped_up(tank),
            Due::Renewed(station) => self.renewed(station),
            Due::Care(tank) => self.care_goes_on(tank),
            Due::Vessel(vessel) => self.vessel_goes_on(vessel),
            Due::CareClock => self.care_clock(),
            Due::Bath(tank) => self.bath_due(tank),
            Due::HeatOn(tank) => self.heat_on(tank),
            Due::Hours => self.hours_due(),
            Due::Look(station) => self.mark(station),
            Due::Kept(station) => {
                self.moving -= 1;
                self.mark(station);
            }
            Due::Hold(line) => {
                self.moving -= 1;
                if line != NONE {
                    for i in 0..self.plan.lines[line as usize].len() {
                        self.mark(self.plan.lines[line as usize][i].0);
                    }
                }
            }
            Due::Reading(nth) => self.read_bath(nth),
            Due::Ready(load) => {
                self.moving -= 1;
                self.go_on(load);
            }
            Due::Sample(tank) => self.sample_due(tank),
        }
    }

    #[inline]
    pub(super) fn note(&mut self, event: impl FnOnce() -> Event) {
        if self.looks != Looks::Nothing {
            self.watcher.note(self.now, event());
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

    /// Puts an event that moves a load on the calendar.
    #[inline]
    pub(super) fn move_at(&mut self, at: Moment, due: Due) -> Handle {
        self.moving += 1;
        self.agenda.schedule(at, ENDS, due)
    }

    /// Remembers that something may start at a station.
    #[inline]
    pub(super) fn mark(&mut self, station: u32) {
        let s = &mut self.stations[station as usize];
        if !s.dirty {
            s.dirty = true;
            self.dirty.push(station);
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
            free_since: self.now,
        };
        self.note(|| Event::HandsTake { hand, task });
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
        self.hands[hand as usize].free_since = self.now;
        self.last_work = self.now;
        self.note(|| Event::HandsFree { hand });
    }
}
