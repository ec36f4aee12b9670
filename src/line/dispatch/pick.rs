//! What free hands turn to: everything that they may do now, in the order of its rank.

use super::Dispatch;
use super::ahead::Begins;
use super::follow::Choice;
use super::{FEED, MUST, Pick, REST, Rank};
use crate::floor::Floor;
use crate::ids::{LineIx, LoadIx};
use crate::state::{Phase, Waiting};
use tankday_base::shop::{AtBreak, Hands, HandsFirst, NextLoad, SHORT_WAIT, StationId, VesselId};
use tankday_base::units::Moment;

impl Dispatch<'_> {
    /// Hands in the order in which they were asked for.
    pub(super) fn first_asked(&mut self, floor: &mut Floor<'_>) -> Option<(Pick, Rank)> {
        if !floor.day.on_duty() {
            return self.out_of_bath(floor);
        }
        let mut best: Option<(Pick, Rank)> = None;
        if let Some(&load) = self.done.front() {
            best = Some((
                Pick::TakeOut(0),
                (REST, floor.flow[load].times.asked.in_micros(), 0),
            ));
        }
        for (i, &load) in self.paused.iter().enumerate() {
            better(
                &mut best,
                Pick::Resume(i),
                (REST, floor.flow[load].times.asked.in_micros(), 0),
            );
        }
        for station in self.plan.stations.ids() {
            if !self.plan.stations[station].with_hands || !self.has_place(floor, station) {
                continue;
            }
            if let Some((line, at, _)) = self.best_of_station(floor, station, None) {
                let since = self.lines[line].0[at].since;
                let asked = since.max(self.stations[station].free_since).in_micros();
                better(&mut best, Pick::Start { station, line, at }, (REST, asked, 1));
            }
        }
        self.offer_care(floor, &mut best);
        best
    }

    /// What comes out of a bath in a break or after closing: all where nobody should be away from it, else what would stay too
    /// long.
    fn out_of_bath(&self, floor: &Floor<'_>) -> Option<(Pick, Rank)> {
        let all = floor.day.away().is_some();
        let in_bath = |load: &LoadIx| {
            let l = &floor.flow[*load];
            let presses = all || l.times.latest < floor.day.back_on_duty();
            presses && self.plan.stations[l.station].tank.is_some()
        };
        let at = self.done.iter().position(in_bath)?;
        let asked = floor.flow[self.done[at]].times.asked.in_micros();
        Some((Pick::TakeOut(at), (MUST, asked, 0)))
    }

    /// The best of everything that hands may turn to.
    pub(super) fn most_urgent(&mut self, floor: &mut Floor<'_>) -> Option<(Pick, Rank)> {
        let mut best: Option<(Pick, Rank)> = None;
        for i in 0..self.done.len() {
            let load = self.done[i];
            if !self.turn_to_take_out(floor, load) {
                continue;
            }
            let station = floor.flow[load].station;
            let latest = self.out_by(floor, load);
            let class = if latest < Moment::NEVER { MUST } else { REST };
            let key = if class == MUST {
                latest
            } else {
                floor.flow[load].due
            };
            let rank = (class, key.in_micros(), floor.flow[load].times.asked.in_micros());
            if self.allowed(floor, class, latest, self.plan.stations[station].tank.is_some())
                && (class == MUST
                    || self.follows_strictly()
                    || self.leaves_time(floor, self.chain_of(floor, load), false, (None, None)))
            {
                better(&mut best, Pick::TakeOut(i), rank);
            }
        }
        if floor.day.on_duty() {
            for i in 0..self.paused.len() {
                let asked = floor.flow[self.paused[i]].times.asked.in_micros();
                better(&mut best, Pick::Resume(i), (REST, i64::MIN, asked));
            }
            self.offer_care(floor, &mut best);
        }
        self.offer_starts(floor, &mut best);
        best
    }

    /// By when a load should be taken out: before it has stayed too long; in working hours also before it has lain bare too long,
    /// and before one that waits bare for its place has.
    fn out_by(&self, floor: &Floor<'_>, load: LoadIx) -> Moment {
        let l = &floor.flow[load];
        let limited = floor.flow.most_stay(load, l.step).is_some();
        match (floor.day.on_duty(), limited) {
            (true, _) => l.times.latest.min(self.wanted_by(floor, l.station)),
            (false, true) => l.times.latest,
            (false, false) => Moment::NEVER,
        }
    }

    /// What may start at the stations.
    fn offer_starts(&mut self, floor: &mut Floor<'_>, best: &mut Option<(Pick, Rank)>) {
        let plan = self.plan;
        let choice = self.choice();
        for station in plan.stations.ids() {
            let here = &plan.stations[station];
            if !here.with_hands || !self.has_place(floor, station) {
                continue;
            }
            let only = match choice {
                Choice::All => None,
                Choice::Line(line) if here.lines.contains(&line) => Some(line),
                _ => {
                    debug_assert!(self.best_of_station(floor, station, None).is_none());
                    continue;
                }
            };
            let found = self.best_of_station(floor, station, only);
            debug_assert_eq!(found, self.best_of_station(floor, station, None));
            if let Some((line, at, rank)) = found {
                better(best, Pick::Start { station, line, at }, rank);
            }
        }
    }

    /// The load that would start next at a station under hands, if need be from one line only.
    fn best_of_station(
        &mut self,
        floor: &mut Floor<'_>,
        station: StationId,
        only: Option<LineIx>,
    ) -> Option<(LineIx, usize, Rank)> {
        let plan = self.plan;
        let mut best: Option<(LineIx, usize, Rank)> = None;
        for &line in &plan.stations[station].lines {
            if !plan.line_hands[line] || only.is_some_and(|o| o != line) {
                continue;
            }
            self.drop_stale(floor, line);
            let mut tries = self.tries();
            for at in 0..self.lines[line].0.len() {
                let entry = self.lines[line].0[at];
                if entry.hold > floor.day.now() || self.never_takes(floor, station, &entry) {
                    continue;
                }
                // What lies wet or bare is looked at however many are kept back before it.
                if tries == 0 && !self.lies_bare(floor, &entry) {
                    continue;
                }
                tries = tries.saturating_sub(1);
                if !floor.flow.fresh(&entry) || !floor.flow.plan_of(&entry).starts_with_hands() {
                    continue;
                }
                if !self.turn_to_start(floor, &entry, station) {
                    if self.ends_the_turns(floor, &entry) {
                        debug_assert!(self.none_behind(floor, line, at, station));
                        break;
                    }
                    continue;
                }
                let rank = self.rank(floor, &entry, station);
                if best.is_none_or(|b| rank < b.2) && self.may_start(floor, &entry, rank, station, line, at) {
                    best = Some((line, at, rank));
                }
            }
        }
        best.map(|(line, at, rank)| {
            let (at, rank) = self.gives_way(floor, station, (line, at, rank));
            (line, at, rank)
        })
    }

    /// A load that would go into a bath, or the one that it leaves the bath to. A plan answers for itself.
    fn gives_way(
        &mut self,
        floor: &mut Floor<'_>,
        station: StationId,
        (line, at, rank): (LineIx, usize, Rank),
    ) -> (usize, Rank) {
        let entry = self.lines[line].0[at];
        let by_rules = !floor.flow.is_pinned(&entry) && !floor.flow.is_planned(entry.load);
        let tank = self.plan.stations[station].tank.filter(|_| by_rules);
        let pressing = tank.and_then(|tank| self.more_pressing(floor, tank, line, &entry));
        let Some(pressing) = pressing else {
            return (at, rank);
        };
        let all = self.lines[line].0.iter();
        // A load may stand in a line for steps that it has left behind, too.
        let is_it = |w: &Waiting| w.load == pressing.load && floor.flow.fresh(w) && w.step == pressing.step;
        let first = all.enumerate().find(|(_, w)| is_it(w));
        let Some(first) = first.map(|(i, _)| i) else {
            return (at, rank);
        };
        let before = self.rank(floor, &pressing, station).min(rank);
        match self.may_start(floor, &pressing, before, station, line, first) {
            true => (first, before),
            false => (at, rank),
        }
    }

    /// Whether it is the turn of no load that stands behind one in a line. For checking.
    fn none_behind(&mut self, floor: &mut Floor<'_>, line: LineIx, at: usize, station: StationId) -> bool {
        (at + 1..self.lines[line].0.len()).all(|at| {
            let entry = self.lines[line].0[at];
            !floor.flow.fresh(&entry)
                || !floor.flow.plan_of(&entry).starts_with_hands()
                || !self.turn_to_start(floor, &entry, station)
        })
    }

    fn rank(&self, floor: &Floor<'_>, entry: &Waiting, station: StationId) -> Rank {
        let step = floor.flow.plan_of(entry);
        let since = entry.since.in_micros();
        if self.plan.rules.hands == HandsFirst::InOrderAsked && self.follow.is_none() {
            return (REST, entry.key, since);
        }
        if step.wet() && step.bath.is_none() {
            return (MUST, entry.latest.in_micros(), since);
        }
        if floor.flow.is_pinned(entry) {
            return (MUST, i64::MIN, since);
        }
        if floor.flow.is_planned(entry.load) {
            return (FEED, entry.key, since);
        }
        if self.soon_bare_too_long(floor, entry) {
            return (MUST, entry.latest.in_micros(), since);
        }
        let strange = self.plan.rules.next == NextLoad::SameRouteTogether
            && self.stations[station].last_route != floor.flow[entry.load].route;
        let key = if strange {
            entry.key.saturating_add(i64::MAX / 4)
        } else {
            entry.key
        };
        (if step.bath.is_some() { FEED } else { REST }, key, since)
    }

    /// Whether coated work would lie bare too long if hands turned to something else before it.
    fn soon_bare_too_long(&self, floor: &Floor<'_>, entry: &Waiting) -> bool {
        let load = &floor.flow[entry.load];
        let coated = load.done & self.plan.routes[load.route].coats != 0;
        if !coated || entry.latest == Moment::NEVER {
            return false;
        }
        // Where its time passes while nobody works, it must begin before.
        let last = floor.day.works_until(entry.latest);
        last - floor.day.now() <= SHORT_WAIT
    }

    fn may_start(
        &mut self,
        floor: &mut Floor<'_>,
        entry: &Waiting,
        rank: Rank,
        station: StationId,
        line: LineIx,
        at: usize,
    ) -> bool {
        if floor.flow.is_pinned(entry) {
            return true;
        }
        if self.is_vain(floor, entry) {
            return false;
        }
        if !self.allowed(floor, rank.0, entry.latest, false) || !self.may_enter(floor, station, line, at) {
            return false;
        }
        let step = floor.flow.plan_of(entry);
        if (rank.0 == MUST && step.wet())
            || (self.plan.rules.hands == HandsFirst::InOrderAsked && self.follow.is_none())
        {
            return true;
        }
        let pausable = step.hands == Hands::Throughout && step.at_break == AtBreak::Pause;
        let (time, put_in) = (
            step.hands_at_start().of(&floor.flow[entry.load].cargo),
            step.put_in,
        );
        let promise = self.promise_of(floor, entry, put_in, station);
        let own = Begins {
            load: entry.load,
            by: self.begins_by(floor, entry, line),
        };
        self.before_closing(floor, time, pausable, promise)
            && (self.follows_strictly() || self.leaves_time(floor, time, pausable, (Some(own), promise)))
    }

    /// Whether a load in a tank comes out so soon that water can wait for it.
    fn soon_empty(&self, floor: &Floor<'_>, station: StationId) -> bool {
        let soon = floor.day.now() + self.plan.rules.top_up.takes.times(2.0);
        let mut here = floor.flow.all().filter(|(_, l)| l.station == station);
        here.any(|(_, l)| match l.phase {
            Phase::Working => l.times.until <= soon,
            Phase::Done => true,
            _ => false,
        })
    }

    fn offer_bath_care(&mut self, floor: &mut Floor<'_>, best: &mut Option<(Pick, Rank)>) {
        for tank in self.plan.tanks.ids() {
            let takes = floor.baths.care_in_time(&floor.day, tank);
            if takes.is_some_and(|takes| self.leaves_time(floor, takes, false, (None, None))) {
                better(best, Pick::Care(tank), (FEED, i64::MIN, i64::from(tank.0)));
            }
        }
        for vessel in (0..self.shop.vessels.len() as u32).map(VesselId) {
            let takes = floor.baths.vessel_in_time(&floor.day, vessel);
            if takes.is_some_and(|takes| self.leaves_time(floor, takes, false, (None, None))) {
                better(best, Pick::Vessel(vessel), (FEED, i64::MIN, i64::from(vessel.0)));
            }
        }
    }

    fn offer_care(&mut self, floor: &mut Floor<'_>, best: &mut Option<(Pick, Rank)>) {
        self.offer_bath_care(floor, best);
        for tank in self.plan.tanks.ids() {
            let station = self.plan.tanks[tank];
            let used = self.stations[station].used > 0;
            if !(used && self.soon_empty(floor, station))
                && floor.baths.wants_water(&floor.day, tank, used)
                && self.leaves_time(floor, self.plan.rules.top_up.takes, false, (None, None))
            {
                better(best, Pick::TopUp(tank), (FEED, i64::MIN, i64::from(tank.0)));
            }
        }
        if floor.flow.under_way() == 0 && !floor.flow.more_to_come() {
            return;
        }
        for (station, takes) in floor.baths.spent_rinses() {
            if self.stations[station].used == 0 && self.leaves_time(floor, takes, false, (None, None)) {
                better(best, Pick::Renew(station), (FEED, i64::MIN, i64::from(station.0)));
            }
        }
    }
}

/// Keeps the better of two.
pub(super) fn better(best: &mut Option<(Pick, Rank)>, pick: Pick, rank: Rank) {
    if best.as_ref().is_none_or(|b| rank < b.1) {
        *best = Some((pick, rank));
    }
}
