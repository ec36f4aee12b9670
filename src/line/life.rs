//! The life of a load at a step: work begins, work ends, it is lifted, its place is free, on it goes.

use super::baths::Lifted;
use super::engine::{Due, Engine};
use super::state::{NONE, Phase, Place};
use tankday_base::shop::{Frees, Hands, RouteId, StationId, StepIx, StepRef};
use tankday_base::units::{Moment, Span};
use tankday_record::{Breach, Event};

impl Engine<'_> {
    /// Putting in is over, or there was nothing to put in.
    pub(super) fn work_begins(&mut self, load: u32) {
        let step = self.step_of(load);
        let (hands, overnight, take_out) = (step.hands, step.overnight, step.take_out);
        let most = self.most_stay(load, self.loads[load].step);
        if hands != Hands::Throughout && self.loads[load].hand != NONE {
            self.free_hand(load);
            if let Some(tank) = self.plan.stations[self.loads[load].station as usize].tank {
                self.baths.putting_in(tank, false);
            }
        }
        let planned = self.planned_time(load);
        let planned = self.noted_time(load).map_or(planned, |noted| noted.min(planned));
        let now = self.day.now();
        let l = &mut self.loads[load];
        l.phase = Phase::Working;
        l.begun = now;
        l.planned = planned;
        l.until = now + planned;
        l.latest = most.filter(|_| !overnight).map_or(Moment::NEVER, |m| now + m);
        if self.day.is_told() {
            let (no, at, step) = (l.no, StationId(l.station), self.step_ref(load));
            self.day.note(|| Event::WorkBegins {
                load: no,
                step,
                station: at,
                planned,
                most,
            });
        }
        match self.plan.stations[self.loads[load].station as usize].tank {
            Some(tank) => {
                self.meets_bath(tank, load);
                let (over, latest) = (self.loads[load].until, self.loads[load].latest);
                self.loads[load].latest = self.day.lifted_by(over, latest, take_out);
            }
            None => self.dips(load),
        }
        let at = self.loads[load].until;
        let wake = self.day.move_at(at, Due::Work(load));
        self.loads[load].wake = Some(wake);
    }

    /// The work on a load and on all of its group is over.
    pub(super) fn work_ends(&mut self, leader: u32) {
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
        let now = self.day.now();
        let l = &mut self.loads[load];
        l.phase = Phase::Done;
        l.wake = None;
        l.asked = now;
        let (no, station) = (l.no, l.station);
        if self.day.is_told() {
            let step = self.step_ref(load);
            self.day.note(|| Event::WorkEnds {
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
            self.planned_done(load);
        } else {
            self.lift(load);
            self.step_done(load);
        }
    }

    /// Taking out begins: the stay ends here.
    pub(super) fn lift(&mut self, load: u32) {
        let l = &self.loads[load];
        let (no, station) = (l.no, l.station);
        if self.day.is_told() {
            let step = self.step_ref(load);
            self.day.note(|| Event::LiftBegins {
                load: no,
                step,
                station: StationId(station),
            });
        }
        let stayed = self.day.now() - self.loads[load].begun;
        let over_night = self.step_of(load).overnight && self.day.closed_since(self.loads[load].begun);
        let most = self
            .most_stay(load, self.loads[load].step)
            .filter(|most| stayed > *most && !over_night);
        if let Some(most) = most {
            let (step, by) = (self.step_ref(load), stayed - most);
            self.day.note(|| Event::Breaks {
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
            self.told_of_break(load);
            let l = &self.loads[load];
            let lifted = Lifted {
                load,
                no,
                cargo: &l.cargo,
                drag: self.drag_out(load),
                stay: stayed,
                lot: l.lot,
            };
            self.baths.lift_from_bath(&mut self.day, tank, &lifted);
            self.wetted(load, self.baths.strength(tank));
            self.left_bath(tank, load);
        } else {
            self.out_of_rinse(load);
        }
    }

    /// Gives the load's place back. Of a group that shares one place only the last that leaves does.
    fn free_place(&mut self, load: u32) {
        let l = &mut self.loads[load];
        let (no, station, group) = (l.no, l.station, std::mem::take(&mut l.group));
        let place = std::mem::replace(&mut l.place, Place::None);
        self.day.note(|| Event::PlaceFree {
            load: no,
            station: StationId(station),
        });
        if place == Place::Shared {
            self.shared.retain(|&other| other != load);
        }
        if place == Place::Held && !self.passes_place_on(group) {
            let s = &mut self.stations[station as usize];
            s.used -= 1;
            s.free_since = self.day.now();
            self.day.mark(station);
            self.wake_kept();
        }
    }

    /// Whether another load of the group is still in the place: it holds it now.
    fn passes_place_on(&mut self, group: u64) -> bool {
        let Some(i) = self.shared.iter().position(|&l| self.loads[l].group == group) else {
            return false;
        };
        let heir = self.shared.swap_remove(i);
        self.loads[heir].place = Place::Held;
        true
    }

    /// The load has left the station; on it goes.
    pub(super) fn step_done(&mut self, load: u32) {
        if self.loads[load].place != Place::None {
            self.free_place(load);
        }
        let station = self.loads[load].station;
        let step = self.step_ref(load);
        let no = self.loads[load].no;
        self.day.note(|| Event::StepDone {
            load: no,
            step,
            station: StationId(station),
        });
        let now = self.day.now();
        let coats = self.step_of(load).bath.is_some();
        let l = &mut self.loads[load];
        l.ended = now;
        if coats {
            l.coated = now;
        }
        l.done |= 1 << l.step;
        l.phase = Phase::Waiting;
        self.day.work_is_over();
        self.inspect(load);
        self.go_on(load);
    }

    fn inspect(&mut self, load: u32) {
        let step = self.step_ref(load);
        let Some(retry) = self.step_of(load).retry else {
            return;
        };
        if !self.fails_inspection(load) {
            return;
        }
        let no = self.loads[load].no;
        let back_to = StepRef {
            route: step.route,
            step: retry.back_to,
        };
        self.day.note(|| Event::Fails {
            load: no,
            step,
            back_to,
        });
        let before = self.loads[load].done;
        let skip = self.skip_of(load);
        self.loads[load].done = (before & !retry.redo) | skip;
        self.coming_again(load, before);
    }

    /// Steps that concern no lot of the load.
    fn skip_of(&self, load: u32) -> u64 {
        let mut skip = u64::MAX;
        let mut lot = load;
        while lot != NONE {
            let l = &self.loads[lot];
            skip &= self.plan.routes[l.route as usize].skip[l.part as usize];
            lot = l.next_lot;
        }
        skip
    }

    /// On to the steps that are open now, or ready.
    pub(super) fn go_on(&mut self, load: u32) {
        let route = &self.plan.routes[self.loads[load].route as usize];
        let done = self.loads[load].done;
        if done == route.all {
            self.drop_hand(load);
            if !self.is_ready_later(load) {
                self.ready(load);
            }
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
            let before = route.steps[step as usize].before;
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
                && s.before & !done == 0
                && s.at_once
                && s.bath.is_none()
                && s.starts_with_hands()
        });
        let Some(step) = next else { return false };
        let stations = &self.plan.lines[route.steps[step].line as usize];
        let free = stations.iter().find(|s| self.has_place(s.0));
        let Some(&station) = free else { return false };
        let hand = self.loads[load].hand;
        self.free_hand(load);
        let step_ref = StepRef {
            route: RouteId(self.loads[load].route),
            step: StepIx(step as u32),
        };
        let no = self.loads[load].no;
        self.day.note(|| Event::Waits {
            load: no,
            step: step_ref,
        });
        self.set_in(load, step as u32, station.0, Some(hand));
        true
    }

    /// Every step is done.
    fn ready(&mut self, load: u32) {
        let no = self.loads[load].no;
        self.day.note(|| Event::LoadReady { load: no });
        let mut lot = load;
        while lot != NONE {
            let (order, pieces, next) = {
                let l = &self.loads[lot];
                (l.order, l.lot_pieces, l.next_lot)
            };
            self.orders[order].left -= pieces;
            if self.orders[order].left == 0 {
                let no = self.orders[order].no;
                self.day.note(|| Event::OrderReady { order: no });
                self.orders.remove(order);
            }
            self.loads[lot].phase = Phase::Gone;
            self.loads.remove(lot);
            lot = next;
        }
    }
}
