//! The life of a load at a step: work begins, work ends, it is lifted, its place is free, on it goes.

use super::baths::Lifted;
use super::day::Event;
use super::engine::Engine;
use super::state::{Phase, Place};
use crate::ids::{HandIx, LoadIx, bit};
use tankday_base::shop::{Frees, Hands, StepIx, StepRef};
use tankday_base::units::{Moment, Span};
use tankday_record::{Breach, LogEntry};

impl Engine<'_> {
    /// Putting in is over, or there was nothing to put in.
    pub(super) fn work_begins(&mut self, load: LoadIx) {
        let step = self.floor.flow.step_of(load);
        let (hands, overnight, take_out) = (step.hands, step.overnight, step.take_out);
        let lies = step.lies;
        let most = self.floor.flow.most_stay(load, self.floor.flow[load].step);
        if hands != Hands::Throughout && self.floor.flow[load].held.hand != HandIx::NONE {
            self.dispatch.free_hand(&mut self.floor, load);
            if let Some(tank) = self.plan.stations[self.floor.flow[load].station].tank {
                self.floor.baths.putting_in(tank, false);
            }
        }
        let planned = self.floor.planned_time(load);
        let planned = self
            .floor
            .flow
            .noted_time(&self.floor.day, load)
            .map_or(planned, |noted| noted.min(planned));
        let now = self.floor.day.now();
        let l = &mut self.floor.flow[load];
        l.phase = Phase::Working;
        l.times.begun = now;
        l.times.planned = planned;
        l.times.until = now + planned;
        let done_by = lies.map_or(Moment::NEVER, |lies| now + planned + lies);
        l.times.latest = most.filter(|_| !overnight).map_or(done_by, |m| now + m);
        if self.floor.day.is_told() {
            let (no, at, step) = (l.no, l.station, self.floor.flow.step_ref(load));
            self.floor.day.note(|| LogEntry::WorkBegins {
                load: no,
                step,
                station: at,
                planned,
                most,
            });
        }
        match self.plan.stations[self.floor.flow[load].station].tank {
            Some(tank) => {
                self.floor.meets_bath(tank, load);
                let (over, latest) = (
                    self.floor.flow[load].times.until,
                    self.floor.flow[load].times.latest,
                );
                self.floor.flow[load].times.latest = self.floor.day.lifted_by(over, latest, take_out);
            }
            None => self.floor.dips(load),
        }
        let at = self.floor.flow[load].times.until;
        let completion = self.floor.day.move_at(at, Event::Work(load));
        self.floor.flow[load].held.completion = Some(completion);
    }

    /// The work on a load and on all of its group is over.
    pub(super) fn work_ends(&mut self, leader: LoadIx) {
        let mut load = leader;
        while load != LoadIx::NONE {
            let next = self.floor.flow[load].held.next_in_group;
            self.floor.flow[load].held.next_in_group = LoadIx::NONE;
            self.one_work_ends(load);
            load = next;
        }
    }

    fn one_work_ends(&mut self, load: LoadIx) {
        let step = self.floor.flow.step_of(load);
        let (hands, take_out) = (step.hands, step.take_out);
        let now = self.floor.day.now();
        let l = &mut self.floor.flow[load];
        l.phase = Phase::Done;
        l.held.completion = None;
        l.times.asked = now;
        let (no, station) = (l.no, l.station);
        if self.floor.day.is_told() {
            let step = self.floor.flow.step_ref(load);
            self.floor.day.note(|| LogEntry::WorkEnds {
                load: no,
                step,
                station,
            });
        }
        if self.plan.stations[station].frees == Frees::WhenDone {
            self.free_place(load);
        }
        if hands == Hands::Ends && take_out > Span::ZERO {
            self.dispatch.is_done(load);
            self.dispatch.planned_done(&mut self.floor, load);
        } else {
            self.lift(load);
            self.step_done(load);
        }
    }

    /// Taking out begins: the stay ends here.
    pub(super) fn lift(&mut self, load: LoadIx) {
        let l = &self.floor.flow[load];
        let (no, station) = (l.no, l.station);
        if self.floor.day.is_told() {
            let step = self.floor.flow.step_ref(load);
            self.floor.day.note(|| LogEntry::LiftBegins {
                load: no,
                step,
                station,
            });
        }
        let stayed = self.floor.day.now() - self.floor.flow[load].times.begun;
        let over_night = self.floor.flow.step_of(load).overnight
            && self.floor.day.closed_since(self.floor.flow[load].times.begun);
        let most = self
            .floor
            .flow
            .most_stay(load, self.floor.flow[load].step)
            .filter(|most| stayed > *most && !over_night);
        if let Some(most) = most {
            let (step, by) = (self.floor.flow.step_ref(load), stayed - most);
            self.floor.day.note(|| LogEntry::Breaks {
                load: no,
                step,
                what: Breach::StayedTooLong { by },
            });
        }
        self.dispatch.watches_no_more(load);
        self.left_inside(load);
        self.floor.flow[load].phase = Phase::TakingOut;
        if let Some(tank) = self.plan.stations[station].tank {
            self.floor.told_of_break(load);
            let l = &self.floor.flow[load];
            let lifted = Lifted {
                load,
                no,
                cargo: &l.cargo,
                drag: self.floor.flow.drag_out(load),
                stay: stayed,
                lot: l.of.lot,
            };
            self.floor
                .baths
                .lift_from_bath(&mut self.floor.day, tank, &lifted);
            self.floor.flow.wetted(load, self.floor.baths.strength(tank));
            self.floor.left_bath(tank, load);
        } else {
            self.floor.out_of_rinse(load);
        }
    }

    /// What is left in where it lies wet or bare, or overnight where it may not stay so long, waits for the step behind from
    /// when it is done: no rack keeps work from rusting, and no rinse.
    fn left_inside(&mut self, load: LoadIx) {
        let step = self.floor.flow.step_of(load);
        let (kept, take_out) = (step.overnight || step.bath.is_some(), step.take_out);
        let times = &self.floor.flow[load].times;
        if step.waits_inside || !kept && self.floor.day.opened_since(times.begun) {
            self.floor.flow[load].times.left_in = times.until + take_out;
        }
    }

    /// Gives the load's place back. Of a group that shares one place only the last that leaves does.
    fn free_place(&mut self, load: LoadIx) {
        let l = &mut self.floor.flow[load];
        let (no, station, group) = (l.no, l.station, std::mem::take(&mut l.held.group));
        let place = std::mem::replace(&mut l.held.place, Place::None);
        self.floor.day.note(|| LogEntry::PlaceFree { load: no, station });
        if place == Place::Shared {
            self.floor.flow.shares_no_more(load);
        }
        if place == Place::Held && !self.floor.flow.passes_place_on(group) {
            self.dispatch.place_given_back(&mut self.floor, station);
        }
    }

    /// The load has left the station; on it goes.
    pub(super) fn step_done(&mut self, load: LoadIx) {
        if self.floor.flow[load].held.place != Place::None {
            self.free_place(load);
        }
        let station = self.floor.flow[load].station;
        let step = self.floor.flow.step_ref(load);
        let no = self.floor.flow[load].no;
        self.floor.day.note(|| LogEntry::StepDone {
            load: no,
            step,
            station,
        });
        let now = self.floor.day.now();
        let coats = self.floor.flow.step_of(load).bath.is_some();
        let l = &mut self.floor.flow[load];
        l.times.ended = std::mem::replace(&mut l.times.left_in, Moment::NEVER).min(now);
        if coats {
            l.times.coated = now;
        }
        l.done |= bit(l.step);
        l.phase = Phase::Waiting;
        self.floor.day.work_is_over();
        self.inspect(load);
        self.go_on(load);
    }

    fn inspect(&mut self, load: LoadIx) {
        let step = self.floor.flow.step_ref(load);
        let Some(retry) = self.floor.flow.step_of(load).retry else {
            return;
        };
        if !self.floor.flow.fails_inspection(&mut self.floor.day, load) {
            return;
        }
        let no = self.floor.flow[load].no;
        let back_to = StepRef {
            route: step.route,
            step: retry.back_to,
        };
        self.floor.day.note(|| LogEntry::Fails {
            load: no,
            step,
            back_to,
        });
        let before = self.floor.flow[load].done;
        let skip = self.floor.flow.skip_of(load);
        self.floor.flow[load].done = (before & !retry.redo) | skip;
        self.floor.coming_again(load, before);
    }

    /// On to the steps that are open now, or ready.
    pub(super) fn go_on(&mut self, load: LoadIx) {
        let route = &self.plan.routes[self.floor.flow[load].route];
        let done = self.floor.flow[load].done;
        if done == route.all {
            self.drop_hand(load);
            if !self.floor.flow.is_ready_later(&mut self.floor.day, load) {
                self.floor.flow.ready(&mut self.floor.day, load);
            }
            return;
        }
        if self.goes_on_at_once(load) {
            return;
        }
        self.drop_hand(load);
        let mut open = route.all & !done;
        while open != 0 {
            let step = StepIx(open.trailing_zeros());
            open &= open - 1;
            let before = route.steps[step].before;
            if before & !done == 0 {
                self.dispatch.join_line(&mut self.floor, load, step);
            }
        }
    }

    fn drop_hand(&mut self, load: LoadIx) {
        if self.floor.flow[load].held.hand != HandIx::NONE {
            self.dispatch.free_hand(&mut self.floor, load);
        }
    }

    /// With an open step that follows at once, a place for it, and hands on the load already, it simply goes on.
    fn goes_on_at_once(&mut self, load: LoadIx) -> bool {
        let l = &self.floor.flow[load];
        if l.held.hand == HandIx::NONE {
            return false;
        }
        let route = &self.plan.routes[l.route];
        let done = l.done;
        let next = route.steps.ids().find(|&i| {
            let s = &route.steps[i];
            done & bit(i) == 0
                && s.before & !done == 0
                && s.at_once
                && s.bath.is_none()
                && s.starts_with_hands()
        });
        let Some(step) = next else { return false };
        let stations = &self.plan.lines[route.steps[step].line];
        let free = stations
            .iter()
            .find(|s| self.dispatch.has_place(&self.floor, **s));
        let Some(&station) = free else { return false };
        let hand = self.floor.flow[load].held.hand;
        self.dispatch.free_hand(&mut self.floor, load);
        let step_ref = StepRef {
            route: self.floor.flow[load].route,
            step,
        };
        let no = self.floor.flow[load].no;
        self.floor.day.note(|| LogEntry::Waits {
            load: no,
            step: step_ref,
        });
        self.set_in(load, step, station, Some(hand));
        true
    }
}
