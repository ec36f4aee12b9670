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
use super::state::{Hand, Load, NONE, Order, Phase, Place, Queue, Shelf, Station};
use super::tank::Tank;
use crate::bath::TankHeat;
use crate::kernel::{Agenda, ENDS, Handle, Hours};
use crate::record::{Breach, Event, Task, TaskKind, Watcher};
use crate::shop::{Frees, Hands, RouteId, Shop, StationId, StepIx, StepRef};
use crate::units::{Moment, Span};

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
    /// A bath comes to a threshold.
    Bath(u32),
    /// A heater is to be switched on.
    HeatOn(u32),
    /// The shop opens, closes, or a break begins or ends.
    Hours,
    /// Time to look whether a load has waited long enough for company.
    Look(u32),
    /// A bath is looked at for the record; changes nothing.
    Sample(u32),
}

/// Looking for the record comes last of all at an instant.
pub(super) const LOOKS: u8 = 255;

/// One run.
pub(super) struct Engine<'a, W: Watcher> {
    pub(super) shop: &'a Shop,
    pub(super) plan: &'a Compiled,
    pub(super) hours: &'a Hours,
    pub(super) heat: &'a [TankHeat],
    pub(super) chance: Chance<'a>,
    pub(super) watcher: &'a mut W,
    pub(super) agenda: Agenda<Due>,
    pub(super) now: Moment,
    pub(super) loads: Shelf<Load>,
    pub(super) orders: Shelf<Order>,
    pub(super) next_load: u32,
    pub(super) next_order: u32,
    /// For each source: orders that have come, and whether another is on the calendar.
    pub(super) come: Vec<u32>,
    /// Sources that will still bring something.
    pub(super) sources_left: u32,
    /// When the next order of each source comes; never, if none does.
    pub(super) stream_next: Vec<Moment>,
    pub(super) lines: Vec<Queue>,
    pub(super) stations: Vec<Station>,
    pub(super) tanks: Vec<Tank>,
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

impl<W: Watcher> Engine<'_, W> {
    pub(super) fn run(mut self) -> Outcome {
        self.begin_run();
        while let Some(at) = self.agenda.peek_time() {
            if at > self.plan.rules.stop || self.over() || self.events > W::MOST_EVENTS {
                break;
            }
            self.now = at;
            let mut changed = false;
            while let Some((_, due)) = self.agenda.next_until(at) {
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
            Due::Bath(tank) => self.bath_due(tank),
            Due::HeatOn(tank) => self.heat_on(tank),
            Due::Hours => self.hours_due(),
            Due::Look(station) => self.mark(station),
            Due::Sample(tank) => self.sample_due(tank),
        }
    }

    #[inline]
    pub(super) fn note(&mut self, event: impl FnOnce() -> Event) {
        if W::WATCHES {
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

    /// Putting in is over, or there was nothing to put in.
    pub(super) fn work_begins(&mut self, load: u32) {
        let step = self.step_of(load);
        let (hands, most, overnight) = (step.hands, step.most, step.overnight);
        if hands != Hands::Throughout && self.loads[load].hand != NONE {
            self.free_hand(load);
        }
        let planned = self.planned_time(load);
        let now = self.now;
        let l = &mut self.loads[load];
        l.phase = Phase::Working;
        l.begun = now;
        l.planned = planned;
        l.until = now + planned;
        l.latest = most.filter(|_| !overnight).map_or(Moment::NEVER, |m| now + m);
        if W::WATCHES {
            let (no, at, step) = (l.no, StationId(l.station), self.step_ref(load));
            self.note(|| Event::WorkBegins {
                load: no,
                step,
                station: at,
                planned,
                most,
            });
        }
        let at = self.loads[load].until;
        let wake = self.move_at(at, Due::Work(load));
        self.loads[load].wake = Some(wake);
    }

    /// The work on a load and on all of its group is over.
    fn work_ends(&mut self, leader: u32) {
        let mut load = leader;
        while load != NONE {
            let next = self.loads[load].next_in_group;
            self.loads[load].next_in_group = NONE;
            self.one_work_ends(load);
            load = next;
        }
    }

    fn one_work_ends(&mut self, load: u32) {
        let step = self.step_of(load);
        let (hands, take_out) = (step.hands, step.take_out);
        let now = self.now;
        let l = &mut self.loads[load];
        l.phase = Phase::Done;
        l.wake = None;
        l.asked = now;
        let (no, station) = (l.no, l.station);
        if W::WATCHES {
            let step = self.step_ref(load);
            self.note(|| Event::WorkEnds {
                load: no,
                step,
                station: StationId(station),
            });
        }
        if self.plan.stations[station as usize].frees == Frees::WhenDone {
            self.free_place(load);
        }
        if hands == Hands::Ends && take_out > Span::ZERO {
            self.done.push_back(load);
        } else {
            self.lift(load);
            self.step_done(load);
        }
    }

    /// Taking out begins: the stay ends here.
    pub(super) fn lift(&mut self, load: u32) {
        let l = &self.loads[load];
        let (no, station, latest) = (l.no, l.station, l.latest);
        if W::WATCHES {
            let step = self.step_ref(load);
            self.note(|| Event::LiftBegins {
                load: no,
                step,
                station: StationId(station),
            });
        }
        if latest < self.now {
            let (step, by) = (self.step_ref(load), self.now - latest);
            self.note(|| Event::Breaks {
                load: no,
                step,
                what: Breach::StayedTooLong { by },
            });
        }
        if let Some(i) = self.watched.iter().position(|&w| w == load) {
            self.watched.swap_remove(i);
        }
        self.loads[load].phase = Phase::TakingOut;
        if let Some(tank) = self.plan.stations[station as usize].tank {
            self.lift_from_bath(tank, load);
        }
    }

    /// Gives the load's place back. Of a group that shares one place only its last load does.
    fn free_place(&mut self, load: u32) {
        let l = &mut self.loads[load];
        let (no, station, place) = (l.no, l.station, l.place);
        l.place = Place::None;
        self.note(|| Event::PlaceFree {
            load: no,
            station: StationId(station),
        });
        if place == Place::Held {
            let s = &mut self.stations[station as usize];
            s.used -= 1;
            s.free_since = self.now;
            self.mark(station);
        }
    }

    /// The load has left the station; on it goes.
    pub(super) fn step_done(&mut self, load: u32) {
        if self.loads[load].place != Place::None {
            self.free_place(load);
        }
        let station = self.loads[load].station;
        let step = self.step_ref(load);
        let no = self.loads[load].no;
        self.note(|| Event::StepDone {
            load: no,
            step,
            station: StationId(station),
        });
        let now = self.now;
        let l = &mut self.loads[load];
        l.ended = now;
        l.done |= 1 << l.step;
        l.phase = Phase::Waiting;
        self.last_work = now;
        self.inspect(load);
        self.go_on(load);
    }

    fn inspect(&mut self, load: u32) {
        let step = self.step_ref(load);
        let Some(retry) = self.step_of(load).retry else {
            return;
        };
        if !self.fails(load, retry.share) {
            return;
        }
        let no = self.loads[load].no;
        let back_to = StepRef {
            route: step.route,
            step: retry.back_to,
        };
        self.note(|| Event::Fails {
            load: no,
            step,
            back_to,
        });
        let before = self.loads[load].done;
        let skip = self.skip_of(load);
        self.loads[load].done = (before & !retry.redo) | skip;
        self.coming_again(load, before);
    }

    fn skip_of(&self, load: u32) -> u64 {
        let l = &self.loads[load];
        self.plan.routes[l.route as usize].skip[l.part as usize]
    }

    /// On to the steps that are open now, or ready.
    pub(super) fn go_on(&mut self, load: u32) {
        let route = &self.plan.routes[self.loads[load].route as usize];
        let done = self.loads[load].done;
        if done == route.all {
            self.drop_hand(load);
            self.ready(load);
            return;
        }
        if self.goes_on_at_once(load) {
            return;
        }
        self.drop_hand(load);
        let mut open = route.all & !done;
        while open != 0 {
            let step = open.trailing_zeros();
            open &= open - 1;
            let before = route.steps[step as usize].after;
            if before & !done == 0 {
                self.join_line(load, step);
            }
        }
    }

    fn drop_hand(&mut self, load: u32) {
        if self.loads[load].hand != NONE {
            self.free_hand(load);
        }
    }

    /// With an open step that follows at once, a place for it, and hands on the load already, it simply goes on.
    fn goes_on_at_once(&mut self, load: u32) -> bool {
        let l = &self.loads[load];
        if l.hand == NONE {
            return false;
        }
        let route = &self.plan.routes[l.route as usize];
        let done = l.done;
        let next = (0..route.steps.len()).find(|&i| {
            let s = &route.steps[i];
            done & (1 << i) == 0
                && s.after & !done == 0
                && s.at_once
                && s.bath.is_none()
                && s.starts_with_hands()
        });
        let Some(step) = next else { return false };
        let stations = &self.plan.lines[route.steps[step].line as usize];
        let free = stations
            .iter()
            .find(|s| self.stations[s.index()].used < self.plan.stations[s.index()].places);
        let Some(&station) = free else { return false };
        let hand = self.loads[load].hand;
        self.free_hand(load);
        let step_ref = StepRef {
            route: RouteId(self.loads[load].route),
            step: StepIx(step as u32),
        };
        let no = self.loads[load].no;
        self.note(|| Event::Waits {
            load: no,
            step: step_ref,
        });
        self.set_in(load, step as u32, station.0, Some(hand));
        true
    }

    /// Every step is done.
    fn ready(&mut self, load: u32) {
        let no = self.loads[load].no;
        self.note(|| Event::LoadReady { load: no });
        let mut lot = load;
        while lot != NONE {
            let (order, pieces, next) = {
                let l = &self.loads[lot];
                (l.order, l.lot_pieces, l.next_lot)
            };
            self.orders[order].left -= pieces;
            if self.orders[order].left == 0 {
                let no = self.orders[order].no;
                self.note(|| Event::OrderReady { order: no });
                self.orders.remove(order);
            }
            self.loads[lot].phase = Phase::Gone;
            self.loads[lot].stamp += 1;
            self.loads.remove(lot);
            lot = next;
        }
    }

    /// Hands turn to a task with a load.
    pub(super) fn take_hand(&mut self, hand: u32, load: u32, kind: TaskKind, until: Moment) {
        let station = StationId(self.loads[load].station);
        let task = Task {
            kind,
            station,
            load: Some((self.loads[load].no, self.step_ref(load))),
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
        self.hands[hand as usize].task = None;
        self.hands[hand as usize].load = NONE;
        self.last_work = self.now;
        self.note(|| Event::HandsFree { hand });
    }
}
