//! Places behind the bath: no load goes in that would stand bare longer than it may, since a station behind the bath has
//! no place for it in time. What is in the way is what stands there longest; nothing is known of what comes later.
//!
//! # Known and left
//!
//! - A load that is kept out of a bath since a break begins before it would be out again waits for `the break` in
//!   what each order waits for; WATCH says nothing of it.
//! - Places behind the bath are looked for as far as every step on the way says `within`, or is a rinse: another that says
//!   none ends the chain, and a load may lie bare behind it for want of a place, which is told afterwards.

use super::Dispatch;
use super::early::{BEFORE_CLOSING, Foreseen};
use crate::behind::{Behind, takes};
use crate::cargo::Cargo;
use crate::compile::CompiledStep;
use crate::day::Event;
use crate::floor::Floor;
use crate::ids::{LoadIx, bit};
use crate::state::{Load, NONE, Phase, Place, Waiting};
use tankday_base::shop::{Frees, Hands, StationId, StepIx, WhenFull};
use tankday_base::units::{Moment, Span};

/// Sooner than after this nobody looks again whether there is room: what is in the way may move on with the clock.
pub(super) const SOONEST: Span = Span::micros(20_000_000);

impl Dispatch<'_> {
    /// Whether a load may start a step as far as the places behind the bath are concerned. A plan answers for itself.
    pub(super) fn has_place_behind(
        &mut self,
        floor: &mut Floor<'_>,
        station: StationId,
        (entry, foreseen): (&Waiting, Option<Foreseen>),
    ) -> bool {
        let plan = self.plan;
        let (route, done) = {
            let l = &floor.flow[entry.load];
            (l.route, l.done)
        };
        let steps = &plan.routes[route].steps;
        let here = &steps[entry.step];
        let open = |b: &&Behind| b.keeps && done & bit(b.step) == 0;
        if !here.behind.iter().any(|b| open(&b)) || floor.flow.is_planned(entry.load) {
            return true;
        }
        let tank = plan.stations[station].tank;
        let cargo = &floor.flow[entry.load].cargo;
        let expected = here.expected.of(cargo);
        let stay = tank.map_or(expected, |t| floor.baths.expected_dwell(t, cargo));
        let longer = (stay - expected).max(Span::ZERO);
        let (waits, longer) = foreseen.map_or((Span::ZERO, longer), |f| (f.waits(), f.longer));
        let spare = foreseen.map_or(Span::ZERO, |_| BEFORE_CLOSING);
        for b in here.behind.iter().filter(open) {
            let step = &steps[b.step];
            let ready = floor.day.now() + b.lead.of(&floor.flow[entry.load].cargo) + longer + waits;
            let free = self.place_from(floor, (step, entry.load), ready, tank.is_some());
            let begins = self.begins_from(floor, step, (ready.max(free), spare));
            // Half of what it may wait stripped is left, as where the bath itself is not free.
            let stripped = b.stripped.times(0.5).max(waits.min(b.stripped));
            let slack = b.slack(&floor.flow[entry.load].cargo) - stripped;
            let latest = ready + (slack - reserve(slack));
            if begins <= latest {
                continue;
            }
            // Room for it from this moment on, as far as can be seen.
            let again = if begins < Moment::NEVER {
                floor.day.now() + (begins - latest).max(SOONEST)
            } else {
                Moment::NEVER
            };
            let today = again < Moment::NEVER && again <= floor.day.closes() && again <= entry.latest;
            if !today && plan.rules.when_full == WhenFull::Go {
                continue;
            }
            let place = self.begins_from(floor, step, (ready, spare)) <= latest;
            if place {
                floor.flow.tell_kept(&mut floor.day, entry, b.step);
            } else if !today {
                floor.flow.tell_nobody(&mut floor.day, entry, b.step);
            }
            self.look_for_place(floor, station, entry.load, again);
            self.found_put_off(floor, entry.load, !today);
            return false;
        }
        self.found_put_off(floor, entry.load, false);
        true
    }

    /// Looking for a next task changes nothing: what is found of a load is noted, and holds once nothing more is found to do.
    fn found_put_off(&mut self, floor: &Floor<'_>, load: LoadIx, off: bool) {
        if floor.flow[load].put_off != off || self.put_off.iter().any(|p| p.0 == load) {
            self.put_off.push((load, off));
        }
    }

    /// What was found of loads holds from here on. Whether anything changed.
    pub(super) fn settle_put_off(&mut self, floor: &mut Floor<'_>) -> bool {
        let mut changed = false;
        for (load, off) in std::mem::take(&mut self.put_off) {
            let waits = floor.flow[load].phase == Phase::Waiting;
            if waits && floor.flow[load].put_off != off {
                floor.put_off(load, off);
                changed = true;
            }
        }
        changed
    }

    /// When hands can begin a step at the earliest; wet work is begun whatever the hour.
    fn hands_from(&self, floor: &Floor<'_>, step: &CompiledStep, at: Moment) -> Moment {
        if step.wet() || !step.starts_with_hands() {
            return at;
        }
        floor.day.next_opening(at).unwrap_or(Moment::NEVER)
    }

    /// The same with some time to spare before closing.
    fn begins_from(&self, floor: &Floor<'_>, step: &CompiledStep, (at, spare): (Moment, Span)) -> Moment {
        let (begins, closes) = (self.hands_from(floor, step, at), floor.day.closes());
        match begins < closes && begins + spare > closes {
            true => self.hands_from(floor, step, closes),
            false => begins,
        }
    }

    /// From when on, not before a moment, a load has a place for a step for as long as it takes: what stands at its stations,
    /// and what will stand there before this load, is there for a time; a place is free before one comes that comes later.
    fn place_from(
        &self,
        floor: &Floor<'_>,
        (step, load): (&CompiledStep, LoadIx),
        from: Moment,
        into_bath: bool,
    ) -> Moment {
        let stations = &self.plan.lines[step.line];
        let plan = |s: &StationId| &self.plan.stations[*s];
        if stations.iter().any(|s| plan(s).together > 1) {
            return from;
        }
        let places: usize = stations.iter().map(|s| plan(s).places as usize).sum();
        if places > floor.flow.under_way() {
            return from;
        }
        let (mut taken, mut coming) = (Vec::new(), Vec::new());
        for (_, l) in floor
            .flow
            .all()
            .filter(|(i, l)| *i != load && l.phase != Phase::Gone && !self.waits_behind(floor, l, load))
        {
            if l.held.place != Place::None && stations.contains(&l.station) {
                taken.push((floor.day.now(), self.leaves(floor, l)));
            } else if let Some((comes, its)) = self.comes(floor, l, stations, into_bath) {
                coming.push((comes, its, l));
            }
        }
        if taken.len() + coming.len() < places {
            return from;
        }
        // Each takes the first place that is free when it comes, for as long as it takes.
        coming.sort_by_key(|c| c.0);
        for (comes, its, l) in coming {
            let begins = self.first_free(floor, (&taken, places), comes, (its, &l.cargo));
            taken.push((begins, self.over(floor, its, &l.cargo, begins)));
        }
        self.first_free(floor, (&taken, places), from, (step, &floor.flow[load].cargo))
    }

    /// The first moment, not before one, from which on a step has one of so many places for as long as it takes.
    pub(super) fn first_free(
        &self,
        floor: &Floor<'_>,
        (taken, places): (&[(Moment, Moment)], usize),
        from: Moment,
        (step, cargo): (&CompiledStep, &Cargo),
    ) -> Moment {
        let ends = taken.iter().map(|t| t.1).filter(|end| *end > from);
        let mut tries: Vec<Moment> = std::iter::once(from).chain(ends).collect();
        tries.sort_unstable();
        let fits = |at: &Moment| {
            let begins = self.hands_from(floor, step, *at);
            most_at_once(taken, begins, self.over(floor, step, cargo, begins)) < places
        };
        let found = tries.into_iter().find(fits);
        found.map_or(Moment::NEVER, |at| self.hands_from(floor, step, at))
    }

    /// When a step is over that hands begin at a moment, the place free again.
    pub(super) fn over(
        &self,
        floor: &Floor<'_>,
        step: &CompiledStep,
        cargo: &Cargo,
        begins: Moment,
    ) -> Moment {
        if begins == Moment::NEVER {
            return begins;
        }
        let over = begins + step.put_in + step.expected.of(cargo);
        let station = self.plan.lines[step.line].first().map_or(StationId(0), |s| *s);
        self.lifted(floor, step, station, over)
    }

    /// When a load that stands at a station leaves its place.
    pub(super) fn leaves(&self, floor: &Floor<'_>, l: &Load) -> Moment {
        let step = floor.flow.step_plan(l, l.step);
        let over = match l.phase {
            Phase::PuttingIn => l.times.until + step.expected.of(&l.cargo),
            Phase::Working => l.times.until,
            Phase::Paused => floor.day.now() + l.times.left,
            _ => floor.day.now(),
        };
        self.lifted(floor, step, l.station, over.max(floor.day.now()))
    }

    /// When a place is free whose work is over at a moment: hands take the load out as soon as they are there.
    fn lifted(&self, floor: &Floor<'_>, step: &CompiledStep, station: StationId, over: Moment) -> Moment {
        let by_itself = self.plan.stations[station].frees == Frees::WhenDone;
        if by_itself || step.hands != Hands::Ends || step.take_out == Span::ZERO {
            return over;
        }
        let open = floor.day.next_opening(over);
        open.map_or(Moment::NEVER, |at| at + step.take_out)
    }

    /// Whether a load may be kept back where it waits, neither stripped nor wet, and has waited no longer than another: of such
    /// loads each is in the way of those behind it and of no other, or all would wait for each other.
    pub(super) fn waits_behind(&self, floor: &Floor<'_>, l: &Load, other: LoadIx) -> bool {
        if l.phase != Phase::Waiting || l.step == StepIx(NONE) {
            return false;
        }
        let steps = &self.plan.routes[l.route].steps;
        let next = steps.ids().find(|s| l.done & bit(*s) == 0);
        let keeps = next.is_some_and(|s| steps[s].bath.is_none() && !steps[s].wet());
        let other = &floor.flow[other];
        let since = |l: &Load| (l.times.ended, l.no);
        keeps && l.done & self.plan.routes[l.route].coats == 0 && since(l) > since(other)
    }

    /// When a load comes to one of these stations that is on its way there and can no longer wait, and for which step; none if
    /// it is not on its way. Where loads are kept out of a bath, only those that have gone in are before it.
    pub(super) fn comes<'f>(
        &self,
        floor: &'f Floor<'_>,
        l: &Load,
        stations: &[StationId],
        into_bath: bool,
    ) -> Option<(Moment, &'f CompiledStep)> {
        if l.step == StepIx(NONE) {
            return None;
        }
        let here = floor.flow.step_plan(l, l.step);
        let open = |b: &&Behind| l.done & bit(b.step) == 0;
        let goes_there = |b: &&Behind| {
            let line = &self.plan.lines[floor.flow.step_plan(l, b.step).line];
            line.iter().any(|s| stations.contains(s))
        };
        let b = here.behind.iter().filter(open).find(goes_there)?;
        let waits = l.phase == Phase::Waiting;
        let coats = self.plan.routes[l.route].coats;
        let wet = l.done & coats != 0 || (!waits && here.bath.is_some());
        if into_bath && !wet {
            return None;
        }
        let over = match l.phase {
            Phase::PuttingIn => l.times.until + here.expected.of(&l.cargo) + here.take_out,
            Phase::Working => l.times.until + here.take_out,
            Phase::Paused => floor.day.now() + l.times.left,
            Phase::Done | Phase::TakingOut => floor.day.now() + here.take_out,
            Phase::Waiting | Phase::Gone => floor.day.now(),
        };
        let comes = over.max(floor.day.now()) + (b.lead.of(&l.cargo) - takes(here).of(&l.cargo));
        let step = floor.flow.step_plan(l, b.step);
        Some((comes, step))
    }

    /// Looks at a station again when there may be room for a load.
    pub(super) fn look_for_place(
        &mut self,
        floor: &mut Floor<'_>,
        station: StationId,
        load: LoadIx,
        at: Moment,
    ) {
        let (now, look) = (floor.day.now(), floor.flow[load].times.look);
        // One look at a time: what is in the way may move on with the clock, and then each look would ask for another.
        if at > now && at < Moment::NEVER && (look <= now || at < look) {
            floor.flow[load].times.look = at;
            // As long as this is to come a run is not over.
            floor.day.move_at(at, Event::Kept(station));
        }
    }

    /// A place is free: loads kept back for want of it may start by themselves.
    pub(crate) fn wake_kept(&mut self, floor: &mut Floor<'_>) {
        if !self.plan.keeps_back {
            return;
        }
        // A bath that was switched off for want of one that may go in does not ask by itself.
        for line in self.plan.lines.ids() {
            for at in 0..self.lines[line].0.len() {
                let entry = self.lines[line].0[at];
                if floor.flow.fresh(&entry)
                    && floor.flow[entry.load].put_off
                    && let Some(&station) = self.plan.lines[line].first()
                {
                    let foreseen = self.bath_foreseen(floor, &entry);
                    self.has_place_behind(floor, station, (&entry, foreseen));
                }
            }
        }
        for station in self.plan.stations.ids() {
            floor.day.mark(station);
        }
    }
}

/// Of the time that a load may lie bare so much is left to hands, which may be busy when it comes: a seventh, five minutes at
/// most. A choice.
pub(super) fn reserve(slack: Span) -> Span {
    slack.times(1.0 / 7.0).min(Span::whole_minutes(5))
}

/// How many of these stand at a place at one moment, at most, between two moments.
fn most_at_once(taken: &[(Moment, Moment)], from: Moment, to: Moment) -> usize {
    let holds = |at: Moment| taken.iter().filter(|t| t.0 <= at && at < t.1).count();
    let come = taken.iter().map(|t| t.0).filter(|at| from < *at && *at < to);
    come.map(holds).max().unwrap_or(0).max(holds(from))
}
