//! Charging a tank: when it is worth it, who goes in together, how long it stays.
//!
//! # Known and left
//!
//! - A load that cannot reach its target stays until 95 % of what its material bears, and is warned of.

use super::Dispatch;
use super::places::reserve;
use crate::floor::Floor;
use crate::ids::{LineIx, LoadIx, TankIx};
use crate::state::{Phase, Waiting};
use tankday_base::shop::{Combine, StationId, StepRef};
use tankday_base::units::{Moment, Span};
use tankday_record::{Breach, LogEntry};

/// Whether a tank has room for that much; a hair of rounding is forgiven.
pub(super) fn holds(room: [f64; 3], bulk: [f64; 3]) -> bool {
    bulk.iter().zip(room).all(|(b, r)| *b <= r * (1.0 + 1e-9))
}

impl Dispatch<'_> {
    /// Whether the load at this place of the line may go into the tank now.
    pub(super) fn may_charge(
        &mut self,
        floor: &mut Floor<'_>,
        tank: TankIx,
        line: LineIx,
        at: usize,
    ) -> bool {
        if floor.flow.is_pinned(&self.lines[line].0[at]) {
            return true;
        }
        if !floor.baths.fit(&floor.day, tank) || !floor.flow.admits(tank, self.lines[line].0[at].load) {
            return false;
        }
        let fill = self.plan.rules.fill;
        let entry = self.lines[line].0[at];
        if !holds(self.plan.room[tank], floor.flow[entry.load].cargo.bulk)
            || (floor.flow[entry.load].cargo.looks && floor.baths.takes_scrap_only(tank))
            || !self.out_in_time(floor, tank, line, &entry)
        {
            return false;
        }
        if floor.flow.is_planned(entry.load) {
            return true;
        }
        let waits_until = (entry.since + fill.wait_at_most).min(self.bare_until(floor, tank, line));
        let alone = self.plan.rules.combine == Combine::Never;
        // What has one end coated joins none that has not.
        if alone
            || self.is_coated(floor, &entry)
            || floor.day.now() >= waits_until
            || self.share_filled(floor, tank, line, &entry) >= fill.at_least.in_fraction()
        {
            return true;
        }
        let in_line = self.lines[line]
            .0
            .iter()
            .filter(|w| floor.flow.fresh(w) && floor.flow.admits(tank, w.load))
            .count();
        if !floor.baths.may_more_come(&floor.day, tank, in_line) {
            return true;
        }
        let waits_until = self.waits_at_most(floor, tank, line, &entry, waits_until);
        if floor.day.now() >= waits_until {
            return true;
        }
        floor.baths.look_for_company(&mut floor.day, tank, waits_until);
        false
    }

    /// The most pressing of the loads that would wait too long for a tank, stripped, if this one went in before, where this one can
    /// wait until that is out again.
    pub(super) fn more_pressing(
        &self,
        floor: &Floor<'_>,
        tank: TankIx,
        line: LineIx,
        entry: &Waiting,
    ) -> Option<Waiting> {
        let now = floor.day.now();
        let stays = |w: &Waiting| self.keeps_tank(floor, tank, &floor.flow[w.load]);
        let by = |w: &Waiting| match w.latest < Moment::NEVER {
            true => self.goes_in_by(floor, w, (tank, stays(w))),
            false => Moment::NEVER,
        };
        let (over, may_wait) = (now + stays(entry), by(entry));
        let bulk = floor.flow[entry.load].cargo.bulk;
        let goes_in = |w: &Waiting| {
            let takes =
                floor.flow.admits(tank, w.load) && holds(self.plan.room[tank], floor.flow[w.load].cargo.bulk);
            takes && self.company(floor, tank, entry, w, bulk).is_none()
        };
        let presses = |w: &&Waiting| {
            let waits = w.load != entry.load && w.latest < Moment::NEVER && w.hold <= now;
            waits
                && floor.flow.fresh(w)
                && goes_in(w)
                && (now..over).contains(&by(w))
                && now + stays(w) <= may_wait
        };
        let others = self.lines[line].0.iter().filter(presses);
        others.min_by_key(|w| w.latest).copied()
    }

    /// Until when loads that wait for a bath may wait for company, stripped as they are, with some time left for hands and for
    /// the others that wait, one after the other, and so that they are out before closing or a break if they cannot wait for
    /// what comes after.
    fn bare_until(&self, floor: &Floor<'_>, tank: TankIx, line: LineIx) -> Moment {
        let waits = self.lines[line].0.iter();
        let goes_in = |w: &&Waiting| {
            floor.flow.admits(tank, w.load) && holds(self.plan.room[tank], floor.flow[w.load].cargo.bulk)
        };
        let here: Vec<&Waiting> = waits.filter(|w| floor.flow.fresh(w)).filter(goes_in).collect();
        let stays = |w: &&Waiting| self.keeps_tank(floor, tank, &floor.flow[w.load]);
        let all = here.iter().map(stays).fold(Span::ZERO, |sum, stay| sum + stay);
        let within = |w: &Waiting| floor.flow.plan_of(w).within.unwrap_or_default();
        let until = |w: &&Waiting| {
            self.goes_in_by(floor, w, (tank, stays(w))) - reserve(within(w)) - (all - stays(w))
        };
        let timed = here.iter().filter(|w| w.latest < Moment::NEVER);
        timed.map(until).min().unwrap_or(Moment::NEVER)
    }

    /// The largest share of the tank's room that this load and its company would take.
    fn share_filled(&self, floor: &Floor<'_>, tank: TankIx, line: LineIx, leader: &Waiting) -> f64 {
        let room = self.plan.room[tank];
        let mut bulk = floor.flow[leader.load].cargo.bulk;
        for entry in &self.lines[line].0 {
            if let Some(sum) = self.company(floor, tank, leader, entry, bulk) {
                bulk = sum;
            }
        }
        bulk.iter().zip(room).map(|(b, r)| b / r).fold(0.0, f64::max)
    }

    /// What is in the tank when this load joins its leader; none if it may not, or there is no room.
    pub(super) fn company(
        &self,
        floor: &Floor<'_>,
        tank: TankIx,
        leader: &Waiting,
        entry: &Waiting,
        bulk: [f64; 3],
    ) -> Option<[f64; 3]> {
        if entry.load == leader.load || !floor.flow.fresh(entry) || entry.step != leader.step {
            return None;
        }
        if !floor.flow.admits(tank, entry.load) {
            return None;
        }
        let (a, b) = (&floor.flow[leader.load], &floor.flow[entry.load]);
        let [own, other] = [a, b].map(|l| self.plan.orders[l.of.source].company);
        let window = a.cargo.window_with(&b.cargo);
        if own.is_none() || own != other || a.done != b.done || window.0 > window.1 {
            return None;
        }
        if floor.flow.planned_together(leader.load, entry.load) == Some(false) {
            return None;
        }
        let sum = a.cargo.bulk_with(&b.cargo, bulk);
        holds(self.plan.room[tank], sum).then_some(sum)
    }

    /// The waiting loads that fit join the leader; they are one load from now on.
    pub(crate) fn join_company(
        &mut self,
        floor: &mut Floor<'_>,
        station: StationId,
        line: LineIx,
        leader: &Waiting,
    ) {
        let Some(tank) = self.plan.stations[station].tank else {
            return;
        };
        floor.put_off(leader.load, false);
        let mut at = 0;
        while at < self.lines[line].0.len() {
            let entry = self.lines[line].0[at];
            match self.company(floor, tank, leader, &entry, floor.flow[leader.load].cargo.bulk) {
                Some(_) => {
                    self.lines[line].take(at);
                    self.merge(floor, leader.load, &entry);
                }
                None => at += 1,
            }
        }
        let plan = self.plan;
        let leader = &floor.flow[leader.load];
        let takes = &plan.orders[leader.of.source].takes;
        let (bath, scrap) = (floor.baths.bath_in(tank), !leader.cargo.looks);
        floor.baths.coming_to(&mut floor.day, bath, takes, scrap, -1);
    }

    fn merge(&mut self, floor: &mut Floor<'_>, into: LoadIx, entry: &Waiting) {
        floor.put_off(entry.load, false);
        floor.coming(entry.load, -1);
        let joined = floor.flow[entry.load].clone();
        if entry.latest < floor.day.now() {
            let step = StepRef {
                route: joined.route,
                step: entry.step,
            };
            let by = floor.day.now() - entry.latest;
            floor.day.note(|| LogEntry::Breaks {
                load: joined.no,
                step,
                what: Breach::WaitedTooLong { by },
            });
        }
        let j = &mut floor.flow[entry.load];
        j.phase = Phase::Gone;
        let mut end = into;
        while floor.flow[end].of.next_lot != LoadIx::NONE {
            end = floor.flow[end].of.next_lot;
        }
        floor.flow[end].of.next_lot = entry.load;
        let l = &mut floor.flow[into];
        l.cargo.join(&joined.cargo);
        l.of.lots += joined.of.lots;
        l.due = l.due.min(joined.due);
        l.fate.brings = l.fate.brings.and(joined.fate.brings);
        let no = l.no;
        floor.day.note(|| LogEntry::Joins {
            load: joined.no,
            into: no,
        });
    }
}
