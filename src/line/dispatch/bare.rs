//! What waits bare for hands, behind a bath or stripped before it: it would lie too long if they turned to something long before
//! it.

use super::Dispatch;
use super::ahead::Promise;
use crate::floor::Floor;
use crate::ids::{LineIx, LoadIx};
use crate::state::Waiting;
use tankday_base::units::{Moment, Span};

impl Dispatch<'_> {
    /// Adds what hands must begin at loads that wait behind a bath, but not at one of them; what is too late already, or has no
    /// place, keeps hands from nothing.
    pub(super) fn bare_waiting(&self, floor: &Floor<'_>, but: Option<LoadIx>, all: &mut Vec<Promise>) {
        for &line in &self.plan.bare_lines {
            let places = self.free_places(floor, line);
            if places > 0 {
                let waits = self.lines[line].0.iter();
                let fresh = waits.filter(|w| floor.flow.fresh(w) && Some(w.load) != but);
                all.extend(fresh.filter_map(|w| self.must_begin(floor, w)).take(places));
            }
        }
    }

    /// Adds what hands must put into a bath that takes it while they would be busy for a time: it waits, stripped, and may wait
    /// only so long.
    pub(super) fn bath_waiting(
        &self,
        floor: &Floor<'_>,
        (but, time): (Option<LoadIx>, Span),
        all: &mut Vec<Promise>,
    ) {
        let free = floor.day.now() + time;
        for &line in &self.plan.bath_lines {
            let presses = |w: &&Waiting| {
                w.latest >= floor.day.now() && w.latest < free && floor.flow.fresh(w) && Some(w.load) != but
            };
            let first = self.lines[line].0.iter().find(presses);
            all.extend(first.and_then(|w| self.must_go_in(floor, line, w)));
        }
    }

    fn must_go_in(&self, floor: &Floor<'_>, line: LineIx, waits: &Waiting) -> Option<Promise> {
        let tanks = self.plan.lines[line].iter();
        let tanks = tanks.filter_map(|s| self.plan.stations[*s].tank);
        let takes = tanks.filter(|t| floor.flow.admits(*t, waits.load));
        let from = takes.filter_map(|t| {
            let hot = floor.baths.hot_by(&floor.day, t)?;
            Some(self.next_in(floor, t, hot).from)
        });
        let from = from.min()?.max(waits.hold);
        let by = floor.day.works_until(waits.latest);
        (by >= from).then(|| (from, by, floor.flow.plan_of(waits).put_in))
    }

    fn free_places(&self, floor: &Floor<'_>, line: LineIx) -> usize {
        let stations = self.plan.lines[line].iter();
        let free = stations.filter(|s| self.has_place(floor, **s));
        let places = free.map(|s| self.plan.stations[*s].places - self.stations[*s].used);
        places.sum::<u32>() as usize
    }

    /// When hands must begin a step of a load that waits, if it still can be in time.
    fn must_begin(&self, floor: &Floor<'_>, waits: &Waiting) -> Option<Promise> {
        let load = &floor.flow[waits.load];
        let coated = load.done & self.plan.routes[load.route].coats != 0;
        let from = floor.day.now().max(waits.hold);
        if !coated || waits.latest == Moment::NEVER {
            return None;
        }
        let by = floor.day.works_until(waits.latest);
        (by >= from).then(|| (from, by, floor.flow.plan_of(waits).hands_at_start()))
    }
}
