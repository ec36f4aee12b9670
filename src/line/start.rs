//! What becomes possible, starts: first what needs no hands, then what free hands turn to.

use super::day::Event;
use super::dispatch::Pick;
use super::engine::Engine;
use super::state::{Phase, Place, Waiting};
use crate::ids::{HandIx, LineIx, LoadIx};
use tankday_base::shop::{Hands, StationId, StepIx, StepRef};
use tankday_base::units::{Moment, Span};
use tankday_record::{Breach, LogEntry, Task, TaskKind};

impl Engine<'_> {
    /// Phase 3: starts everything that has become possible.
    pub(super) fn settle(&mut self) {
        self.floor.baths.share_supply(&mut self.floor.day);
        let dispatch = &self.dispatch;
        self.floor
            .baths
            .care_begins(&mut self.floor.day, |station| dispatch.is_empty(station));
        loop {
            while let Some(station) = self.floor.day.take_marked() {
                self.start_alone(station);
            }
            if !self.hands_turn() && !self.floor.day.any_marked() {
                return self.floor.baths.share_supply(&mut self.floor.day);
            }
        }
    }

    /// Starts what needs no hands at a station while there is room.
    fn start_alone(&mut self, station: StationId) {
        let plan = self.plan;
        while self.dispatch.has_place(&self.floor, station) {
            let mut best: Option<(i64, LineIx, usize)> = None;
            for &line in &plan.stations[station].lines {
                if plan.line_hands[line] {
                    continue;
                }
                if let Some(at) = self.dispatch.first_alone(&mut self.floor, station, line) {
                    let key = self.dispatch.waiting(line, at).key;
                    if best.is_none_or(|b| key < b.0) {
                        best = Some((key, line, at));
                    }
                }
            }
            let Some((_, line, at)) = best else { return };
            self.start(station, line, at, None);
        }
    }

    /// A load leaves its line and goes in, with its company.
    pub(super) fn start(&mut self, station: StationId, line: LineIx, at: usize, hand: Option<HandIx>) {
        let Some(entry) = self.dispatch.take(line, at) else {
            return;
        };
        if self.plan.stations[station].tank.is_some() {
            self.dispatch.join_company(&mut self.floor, station, line, &entry);
        }
        let together = self.plan.stations[station].together;
        if together <= 1 || hand.is_some() {
            self.set_in(entry.load, entry.step, station, hand);
            return;
        }
        self.start_group(entry, station, line, together);
    }

    /// Up to `together` waiting loads start as one group; the time is drawn for the first.
    fn start_group(&mut self, first: Waiting, station: StationId, line: LineIx, together: u32) {
        let mut members = 1;
        let mut last = first.load;
        self.enter(first.load, first.step, station, Place::Held);
        let group = self.floor.flow[first.load].generation;
        self.floor.flow[first.load].held.group = group;
        let mut at = 0;
        while members < together
            && let Some(entry) = self.dispatch.next_of_group(&self.floor, &first, line, &mut at)
        {
            self.floor.flow.shares(last);
            self.enter(entry.load, entry.step, station, Place::Shared);
            self.floor.flow.joins_group(entry.load, last, group);
            last = entry.load;
            members += 1;
        }
        self.work_begins(first.load);
        self.group_begins(first.load);
    }

    /// The rest of a group begins with its leader and has its times.
    fn group_begins(&mut self, leader: LoadIx) {
        let (planned, until) = (
            self.floor.flow[leader].times.planned,
            self.floor.flow[leader].times.until,
        );
        let mut load = self.floor.flow[leader].held.next_in_group;
        while load != LoadIx::NONE {
            let most = self.floor.flow.most_stay(load, self.floor.flow[load].step);
            let lies = self.floor.flow.step_of(load).lies;
            let now = self.floor.day.now();
            let l = &mut self.floor.flow[load];
            l.phase = Phase::Working;
            l.times.begun = now;
            l.times.planned = planned;
            l.times.until = until;
            l.times.latest = most
                .or(lies.map(|lies| planned + lies))
                .map_or(Moment::NEVER, |m| now + m);
            let (no, station, next) = (l.no, l.station, l.held.next_in_group);
            if self.floor.day.is_told() {
                let step = self.floor.flow.step_ref(load);
                self.floor.day.note(|| LogEntry::WorkBegins {
                    load: no,
                    step,
                    station,
                    planned,
                    most,
                });
            }
            self.floor.dips(load);
            load = next;
        }
    }

    /// A load takes a place at a station.
    fn enter(&mut self, load: LoadIx, step: StepIx, station: StationId, place: Place) {
        self.floor.put_off(load, false);
        let now = self.floor.day.now();
        let generation = self.floor.flow.next_generation();
        let l = &mut self.floor.flow[load];
        l.generation = generation;
        l.step = step;
        l.station = station;
        l.held.place = place;
        let (no, route) = (l.no, l.route);
        self.dispatch.place_taken(station, route, place == Place::Held);
        self.dispatch.planned_start(&mut self.floor, load, step, 0);
        let step_ref = StepRef { route, step };
        self.floor.day.note(|| LogEntry::SetIn {
            load: no,
            step: step_ref,
            station,
        });
        let within = self.floor.flow.step_of(load).within;
        let ended = self.floor.flow.step_of(load).waits_from(&self.floor.flow[load]);
        if let Some(by) = within.map(|w| now - (ended + w)).filter(|by| *by > Span::ZERO) {
            self.floor.flow.waited(load, step);
            self.floor.day.note(|| LogEntry::Breaks {
                load: no,
                step: step_ref,
                what: Breach::WaitedTooLong { by },
            });
        }
    }

    /// A load goes in at a station, alone or with its company joined to it; `hand` does it where hands are needed.
    pub(super) fn set_in(&mut self, load: LoadIx, step: StepIx, station: StationId, hand: Option<HandIx>) {
        self.enter(load, step, station, Place::Held);
        let plan = self.floor.flow.step_of(load);
        let expected = plan.expected.of(&self.floor.flow[load].cargo);
        let (hands, put_in) = (plan.hands, plan.put_in);
        let must_watch =
            hands == Hands::Ends && (plan.most.is_some() || plan.lies.is_some()) && !plan.overnight;
        if must_watch {
            self.watch(load);
        }
        match (hands, hand) {
            (Hands::Throughout, Some(hand)) => {
                let until = self.floor.day.now() + expected;
                self.dispatch
                    .take_hand(&mut self.floor, hand, load, TaskKind::Work, until);
                self.work_begins(load);
            }
            (Hands::Ends, Some(hand)) => {
                let until = self.floor.day.now() + put_in;
                self.dispatch
                    .take_hand(&mut self.floor, hand, load, TaskKind::PutIn, until);
                if let Some(tank) = self.plan.stations[station].tank {
                    self.floor.baths.putting_in(tank, true);
                }
                self.floor.flow[load].phase = Phase::PuttingIn;
                self.floor.flow[load].times.until = until;
                self.floor.day.move_at(until, Event::PutIn(load));
            }
            _ => self.work_begins(load),
        }
    }

    fn watch(&mut self, load: LoadIx) {
        self.dispatch.watch(load);
        let step = self.floor.flow.step_of(load);
        let begins = self.floor.day.now() + step.put_in;
        let lies = step.lies.map_or(Moment::NEVER, |lies| {
            begins + step.expected.of(&self.floor.flow[load].cargo) + lies
        });
        let most = self.floor.flow.most_stay(load, self.floor.flow[load].step);
        let latest = most.map_or(lies, |m| begins + m);
        self.floor.flow[load].times.latest = match self.plan.stations[self.floor.flow[load].station].tank {
            Some(tank) => {
                let over = begins
                    + self
                        .floor
                        .baths
                        .expected_dwell(tank, &self.floor.flow[load].cargo);
                self.floor
                    .day
                    .lifted_by(over, latest, self.floor.flow.step_of(load).take_out)
            }
            None => latest,
        };
        self.floor.flow[load].times.until = begins;
    }

    /// Free hands turn to the most pressing thing that they may do now. False if there is none.
    pub(super) fn hands_turn(&mut self) -> bool {
        let pick = self.dispatch.next_for_hands(&mut self.floor);
        let Some((pick, rank)) = pick else { return false };
        let Some(hand) = self.dispatch.hand_for(&mut self.floor, pick, rank) else {
            return false;
        };
        self.carry_out(pick, hand);
        true
    }

    fn carry_out(&mut self, pick: Pick, hand: HandIx) {
        match pick {
            Pick::TakeOut(i) => {
                if let Some(load) = self.dispatch.take_done(i) {
                    let until = self.floor.day.now() + self.floor.flow.step_of(load).take_out;
                    let step = self.floor.flow[load].step;
                    self.dispatch.planned_start(&mut self.floor, load, step, 1);
                    self.dispatch
                        .take_hand(&mut self.floor, hand, load, TaskKind::TakeOut, until);
                    self.lift(load);
                    self.floor.day.move_at(until, Event::TakenOut(load));
                }
            }
            Pick::Start { station, line, at } => self.start(station, line, at, Some(hand)),
            Pick::Resume(i) => {
                let load = self.dispatch.take_paused(i);
                self.dispatch.resume(&mut self.floor, load, hand);
            }
            Pick::Renew(station) => {
                if let Some(takes) = self.floor.baths.renew_rinse(&self.floor.day, station) {
                    let task = at_station(TaskKind::Renew, station);
                    let until = self.floor.day.now() + takes;
                    self.tend(hand, task, until, Event::Renewed(station, hand));
                }
            }
            Pick::Care(tank) => {
                if let Some((kind, until)) = self.floor.baths.take_care(&mut self.floor.day, tank) {
                    let task = at_station(kind, self.plan.tanks[tank]);
                    self.tend(hand, task, until, Event::Tended(tank, hand));
                }
            }
            Pick::Vessel(vessel) => {
                if let Some((kind, station, until)) = self.floor.baths.take_vessel(&self.floor.day, vessel) {
                    let task = Task {
                        vessel: Some(vessel),
                        ..at_station(kind, station)
                    };
                    self.tend(hand, task, until, Event::VesselTended(vessel, hand));
                }
            }
            Pick::TopUp(tank) => {
                let until = self.floor.day.now() + self.plan.rules.top_up.takes;
                let task = at_station(TaskKind::TopUp, self.plan.tanks[tank]);
                self.tend(hand, task, until, Event::ToppedUp(tank, hand));
                self.floor.baths.top_up(tank);
            }
        }
    }

    /// Hands turn to a bath, a vessel or a rinse.
    fn tend(&mut self, hand: HandIx, task: Task, until: Moment, over: Event) {
        self.dispatch
            .take_hand_for(&mut self.floor, hand, task, until, LoadIx::NONE);
        self.floor.day.move_at(until, over);
    }
}

/// A task at a station that concerns no load.
fn at_station(kind: TaskKind, station: StationId) -> Task {
    Task {
        kind,
        station,
        load: None,
        vessel: None,
    }
}
