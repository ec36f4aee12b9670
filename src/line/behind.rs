//! Places behind the bath: no load goes in that would stand bare longer than it may, since a station behind the bath has
//! no place for it in time. What is in the way is what stands there longest; nothing is known of what comes later.
//!
//! # Known and left
//!
//! - A load that is kept out of a bath since a break begins before it would be out again waits for `the break` in
//!   what each order waits for; WATCH says nothing of it.
//! - Places behind the bath are looked for as far as every step on the way says `within`: a rinse that says none ends
//!   the chain, and a load may lie bare behind it for want of a place, which is told afterwards.

use super::compile::StepPlan;
use super::engine::{Due, Engine};
use super::state::{Load, NONE, Phase, Place, Waiting};
use tankday_base::shop::{Frees, Hands, RouteId, SHORT_WAIT, StationId, StepIx, StepRef, WhenFull};
use tankday_base::units::{Moment, Span};
use tankday_record::Event;

/// A step behind a bath that must begin within a time of the one before it, seen from a step from which on the way up
/// to it has no gap.
#[derive(Debug, Clone, Copy)]
pub(super) struct Behind {
    /// Its number on the route.
    pub(super) step: u32,
    /// From the start of the step on which this is noted to the end of the last one before it, as expected.
    lead: Span,
    /// So much later it may begin.
    slack: Span,
    /// Whether loads are kept back here: a bath lies on the way, and they are not wet yet.
    keeps: bool,
}

/// How long a step takes, as expected.
fn takes(step: &StepPlan) -> Span {
    match step.hands {
        Hands::Ends => step.put_in + step.expected + step.take_out,
        _ => step.expected,
    }
}

/// The steps behind a step that must follow within a time, as far as the chain of such steps reaches.
pub(super) fn behind(steps: &[StepPlan], from: usize) -> Vec<Behind> {
    let mut found = Vec::new();
    let first = &steps[from];
    let been = (0..steps.len()).any(|i| first.before & (1 << i) != 0 && steps[i].bath.is_some());
    let (mut on_the_way, mut since_bath) = (first.bath.is_some(), Span::ZERO);
    let (mut at, mut lead, mut slack) = (from, takes(first), Span::ZERO);
    while let Some((next, step, within)) =
        (at + 1..steps.len()).find_map(|i| follows(&steps[i], at).map(|within| (i, &steps[i], within)))
    {
        let own = if step.from_bath {
            (within - since_bath).max(Span::ZERO)
        } else {
            within
        };
        if been || on_the_way {
            found.push(Behind {
                step: next as u32,
                lead,
                slack: slack + own.max(SHORT_WAIT),
                keeps: on_the_way && !first.wet(),
            });
        }
        lead += takes(step);
        since_bath += takes(step);
        if !step.wet() {
            slack += own;
        }
        if step.bath.is_some() {
            (on_the_way, since_bath) = (true, Span::ZERO);
        }
        at = next;
    }
    found
}

/// How soon a step must follow another; none if it need not, or does not follow it.
fn follows(step: &StepPlan, other: usize) -> Option<Span> {
    step.within.filter(|_| step.after & (1 << other) != 0)
}

impl Engine<'_> {
    /// Whether a load may start a step as far as the places behind the bath are concerned. A plan answers for itself.
    pub(super) fn has_place_behind(&mut self, station: u32, entry: &Waiting) -> bool {
        let plan = self.plan;
        let (route, done) = {
            let l = &self.loads[entry.load];
            (l.route, l.done)
        };
        let steps = &plan.routes[route as usize].steps;
        let here = &steps[entry.step as usize];
        let open = |b: &&Behind| b.keeps && done & (1 << b.step) == 0;
        if !here.behind.iter().any(|b| open(&b)) || self.is_planned(entry.load) {
            return true;
        }
        let tank = plan.stations[station as usize].tank;
        let stay = tank.map_or(here.expected, |t| {
            self.baths.expected_dwell(t, &self.loads[entry.load].cargo)
        });
        let longer = (stay - here.expected).max(Span::ZERO);
        for b in here.behind.iter().filter(open) {
            let step = &steps[b.step as usize];
            let ready = self.day.now() + b.lead + longer;
            let free = self.place_from(step, entry.load, tank.is_some());
            let begins = self.hands_from(step, ready.max(free));
            let latest = ready + b.slack;
            if begins <= latest {
                continue;
            }
            // Room for it from this moment on, as far as can be seen.
            let again = if begins < Moment::NEVER {
                self.day.now() + (begins - latest)
            } else {
                Moment::NEVER
            };
            let today = again < Moment::NEVER && again <= self.day.closes() && again <= entry.latest;
            if !today && plan.rules.when_full == WhenFull::Go {
                continue;
            }
            if self.hands_from(step, ready) <= latest {
                self.tell_kept(entry, b.step);
            }
            self.look_for_place(station, entry.load, again);
            return false;
        }
        true
    }

    /// When hands can begin a step at the earliest; wet work is begun whatever the hour.
    fn hands_from(&self, step: &StepPlan, at: Moment) -> Moment {
        if step.wet() || !step.starts_with_hands() {
            return at;
        }
        self.day.next_opening(at).unwrap_or(Moment::NEVER)
    }

    /// From when on a place for a step is free: what stands at its stations, and what will stand there before this load.
    fn place_from(&self, step: &StepPlan, load: u32, into_bath: bool) -> Moment {
        let stations = &self.plan.lines[step.line as usize];
        let plan = |s: &StationId| &self.plan.stations[s.index()];
        if stations.iter().any(|s| plan(s).together > 1) {
            return self.day.now();
        }
        let places: usize = stations.iter().map(|s| plan(s).places as usize).sum();
        if places > self.loads.len() {
            return self.day.now();
        }
        let mut free: Vec<Moment> = Vec::new();
        for (_, l) in self
            .loads
            .all()
            .filter(|(i, l)| *i != load && l.phase != Phase::Gone)
        {
            if l.place != Place::None && stations.contains(&StationId(l.station)) {
                free.push(self.leaves(l));
            } else if let Some(at) = self.comes_and_leaves(l, stations, into_bath) {
                free.push(at);
            }
        }
        if free.len() < places {
            return self.day.now();
        }
        free.sort_unstable();
        free[free.len() - places]
    }

    fn step_plan(&self, l: &Load, step: u32) -> &StepPlan {
        &self.plan.routes[l.route as usize].steps[step as usize]
    }

    /// When a load that stands at a station leaves its place.
    fn leaves(&self, l: &Load) -> Moment {
        let step = self.step_plan(l, l.step);
        let over = match l.phase {
            Phase::PuttingIn => l.until + step.expected,
            Phase::Working => l.until,
            Phase::Paused => self.day.now() + l.left,
            _ => self.day.now(),
        };
        self.lifted(step, l.station, over.max(self.day.now()))
    }

    /// When a place is free whose work is over at a moment: hands take the load out as soon as they are there.
    fn lifted(&self, step: &StepPlan, station: u32, over: Moment) -> Moment {
        let by_itself = self.plan.stations[station as usize].frees == Frees::WhenDone;
        if by_itself || step.hands != Hands::Ends || step.take_out == Span::ZERO {
            return over;
        }
        let open = self.day.next_opening(over);
        open.map_or(Moment::NEVER, |at| at + step.take_out)
    }

    /// When a load that is on its way to one of these stations and can no longer wait has left it again; none if it is
    /// not on its way. Where loads are kept out of a bath, only those that have gone in are before it.
    fn comes_and_leaves(&self, l: &Load, stations: &[StationId], into_bath: bool) -> Option<Moment> {
        if l.step == NONE {
            return None;
        }
        let here = self.step_plan(l, l.step);
        let open = |b: &&Behind| l.done & (1 << b.step) == 0;
        let goes_there = |b: &&Behind| {
            let line = &self.plan.lines[self.step_plan(l, b.step).line as usize];
            line.iter().any(|s| stations.contains(s))
        };
        let b = here.behind.iter().filter(open).find(goes_there)?;
        let waits = l.phase == Phase::Waiting;
        let coats = self.plan.routes[l.route as usize].coats;
        let wet = l.done & coats != 0 || (!waits && here.bath.is_some());
        if into_bath && !wet {
            return None;
        }
        let over = match l.phase {
            Phase::PuttingIn => l.until + here.expected + here.take_out,
            Phase::Working => l.until + here.take_out,
            Phase::Paused => self.day.now() + l.left,
            Phase::Done | Phase::TakingOut => self.day.now() + here.take_out,
            Phase::Waiting | Phase::Gone => self.day.now(),
        };
        let comes = over.max(self.day.now()) + (b.lead - takes(here));
        let step = self.step_plan(l, b.step);
        let begins = self.hands_from(step, comes);
        if begins == Moment::NEVER {
            return Some(Moment::NEVER);
        }
        let each = step.work.as_ref().map_or(Span::ZERO, |(_, each)| *each);
        let over = begins + step.put_in + step.expected + each.times(f64::from(l.cargo.pieces));
        let station = self.plan.lines[step.line as usize].first().map_or(0, |s| s.0);
        Some(self.lifted(step, station, over))
    }

    /// A load is kept back for want of a place: told once for each step.
    fn tell_kept(&mut self, entry: &Waiting, behind: u32) {
        let l = &mut self.loads[entry.load];
        if l.kept & (1 << entry.step) != 0 {
            return;
        }
        l.kept |= 1 << entry.step;
        let (no, route) = (l.no, RouteId(l.route));
        let at = |step: u32| StepRef {
            route,
            step: StepIx(step),
        };
        self.day.note(|| Event::KeptBack {
            load: no,
            step: at(entry.step),
            behind: at(behind),
        });
    }

    /// Looks at a station again when there may be room for a load.
    fn look_for_place(&mut self, station: u32, load: u32, at: Moment) {
        if at > self.day.now() && at < Moment::NEVER && self.loads[load].look != at {
            self.loads[load].look = at;
            // As long as this is to come a run is not over.
            self.day.move_at(at, Due::Kept(station));
        }
    }

    /// A place is free: loads kept back for want of it may start by themselves.
    pub(super) fn wake_kept(&mut self) {
        if !self.plan.keeps_back {
            return;
        }
        for station in 0..self.plan.stations.len() as u32 {
            self.day.mark(station);
        }
    }
}
