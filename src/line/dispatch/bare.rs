//! What waits bare for hands, behind a bath or stripped before it: it would lie too long if they turned to something long before
//! it.

use super::Dispatch;
use super::ahead::Promise;
use super::charge::holds;
use super::places::reserve;
use crate::floor::Floor;
use crate::ids::{LineIx, LoadIx, TankIx};

use crate::state::{Load, Phase, Place, Waiting};
use tankday_base::shop::{SHORT_WAIT, StationId};
use tankday_base::units::{Moment, Span};

impl Dispatch<'_> {
    /// Adds what hands must begin at loads that wait behind a bath or wet, but not at one of them, and what they must clear away
    /// for it; what is too late already keeps hands from nothing.
    pub(super) fn bare_waiting(&self, floor: &Floor<'_>, but: Option<LoadIx>, all: &mut Vec<Promise>) {
        for &line in &self.plan.bare_lines {
            let waits = self.lines[line].0.iter();
            let mut fresh = waits
                .filter(|w| floor.flow.fresh(w) && Some(w.load) != but)
                .peekable();
            if fresh.peek().is_none() {
                continue;
            }
            let places = self.free_places(floor, line);
            let cleared = match places {
                0 => self.cleared(floor, line),
                _ => Some((floor.day.now(), Span::ZERO)),
            };
            if let Some(cleared) = cleared {
                all.extend(
                    fresh
                        .filter_map(|w| self.must_begin(floor, w, cleared))
                        .take(places.max(1)),
                );
            }
        }
    }

    /// When the first place of a line could be cleared that is taken, and how long that takes hands.
    fn cleared(&self, floor: &Floor<'_>, line: LineIx) -> Option<(Moment, Span)> {
        let here = |l: &&Load| l.held.place != Place::None && self.plan.lines[line].contains(&l.station);
        let over = |l: &Load| {
            let over = match l.phase {
                Phase::Working => l.times.until,
                Phase::Done => floor.day.now(),
                _ => return None,
            };
            Some((
                over.max(floor.day.now()),
                floor.flow.step_plan(l, l.step).take_out,
            ))
        };
        floor
            .flow
            .all()
            .map(|(_, l)| l)
            .filter(here)
            .filter_map(over)
            .min()
    }

    /// Adds when hands must put the next load into each bath before which loads wait, stripped, that may wait only so long: in
    /// time for all of them, one after the other. Only what presses while hands would be busy for a time counts.
    pub(super) fn bath_waiting(
        &self,
        floor: &Floor<'_>,
        (but, time): (LoadIx, Span),
        all: &mut Vec<Promise>,
    ) {
        let free = floor.day.now() + time;
        for &line in &self.plan.bath_lines {
            if !self.may_press(floor, line, free) {
                continue;
            }
            let fresh = |w: &&Waiting| floor.flow.fresh(w) && w.load != but && w.latest < Moment::NEVER;
            let waits: Vec<&Waiting> = self.lines[line].0.iter().filter(fresh).collect();
            all.extend(self.must_go_in(floor, line, &waits).filter(|p| p.1 < free));
        }
    }

    /// Whether a load of a line could press before a moment, if each before it stayed as long as it may: asked first, since it
    /// costs little.
    fn may_press(&self, floor: &Floor<'_>, line: LineIx, free: Moment) -> bool {
        let tanks = self.plan.lines[line]
            .iter()
            .filter_map(|s| self.plan.stations[*s].tank);
        let most = tanks.map(|t| floor.baths.most_dwell(t)).max().unwrap_or_default() + SHORT_WAIT;
        let waits = self.lines[line].0.iter().enumerate();
        let now = floor.day.now();
        let breaks = floor
            .day
            .alone_in_breaks()
            .map(|a| a.from)
            .filter(|from| *from > now);
        let ends = std::iter::once(floor.day.closes()).chain(breaks);
        waits.filter(|(_, w)| w.latest < Moment::NEVER).any(|(i, w)| {
            let before = ends.clone().map(|end| end - most).filter(|end| *end < w.latest);
            before.min().unwrap_or(w.latest) - most.times(i as f64) < free
        })
    }

    /// When hands must begin at a load that lies bare, or put one into its bath that may wait only so long; none where it need
    /// not be soon.
    pub(super) fn begins_by(&self, floor: &Floor<'_>, waits: &Waiting, line: LineIx) -> Option<Promise> {
        if self.plan.bath_lines.contains(&line) && waits.latest < Moment::NEVER {
            return self.must_go_in(floor, line, &[waits]);
        }
        self.must_begin(floor, waits, (floor.day.now(), Span::ZERO))
    }

    fn must_go_in(&self, floor: &Floor<'_>, line: LineIx, waits: &[&Waiting]) -> Option<Promise> {
        let first = waits.first()?;
        let tanks: Vec<TankIx> = self.tanks_for(floor, line, first).collect();
        let next = tanks
            .iter()
            .filter_map(|t| Some((self.next_in(floor, *t, floor.day.now())?.from, *t)));
        let (from, tank) = next.min()?;
        let from = from.max(first.hold);
        let (mut by, mut before) = (Moment::NEVER, Span::ZERO);
        for w in waits {
            let load = &floor.flow[w.load];
            let stay = self.keeps_tank(floor, tank, load);
            if w.latest >= floor.day.now() {
                let within = floor.flow.plan_of(w).within.unwrap_or_default();
                by = by.min(self.goes_in_by(floor, w, (tank, stay)) - before - reserve(within));
            }
            before += stay.times(1.0 / tanks.len() as f64);
        }
        // What is in comes out first.
        let out = self.taken_out(floor, tank);
        let (from, by) = (from - out, by - out);
        (by < Moment::NEVER).then(|| (from, by.max(from), out + floor.flow.plan_of(first).put_in))
    }

    /// How long hands take to take out what is in a tank.
    fn taken_out(&self, floor: &Floor<'_>, tank: TankIx) -> Span {
        let chain = self
            .inside(floor, tank)
            .map(|l| floor.flow.step_plan(l, l.step).chain.of(&l.cargo));
        chain.max().unwrap_or_default()
    }

    /// Tanks of a line into which a load may go, and that hold it.
    fn tanks_for(&self, floor: &Floor<'_>, line: LineIx, waits: &Waiting) -> impl Iterator<Item = TankIx> {
        let bulk = floor.flow[waits.load].cargo.bulk;
        let tanks = self.plan.lines[line].iter();
        let tanks = tanks.filter_map(|s| self.plan.stations[*s].tank);
        tanks.filter(move |t| floor.flow.admits(*t, waits.load) && holds(self.plan.room[*t], bulk))
    }

    /// By when a stripped load must be in its bath: before it has waited too long, and so that it is out before closing, and
    /// before a break that nobody stays for, if it cannot wait for what comes after.
    pub(super) fn goes_in_by(
        &self,
        floor: &Floor<'_>,
        waits: &Waiting,
        (tank, stay): (TankIx, Span),
    ) -> Moment {
        let closes = floor.day.closes();
        let over_night = floor.day.next_opening(closes).unwrap_or(Moment::NEVER) > waits.latest;
        let by = match over_night {
            true => floor.day.works_until(waits.latest).min(closes - stay),
            false => waits.latest,
        };
        clear_of_breaks(floor, by, (tank, stay))
    }

    /// By when somebody must begin at a station at a load that waits bare for a place there, all being taken.
    pub(super) fn wanted_by(&self, floor: &Floor<'_>, station: StationId) -> Moment {
        let here = |line: &&LineIx| self.plan.lines[**line].contains(&station);
        let full = self.plan.bare_lines.iter().filter(here);
        let full = full.filter(|line| self.free_places(floor, **line) == 0);
        let waits = full.flat_map(|line| self.lines[*line].0.iter());
        let bare = waits.filter(|w| floor.flow.fresh(w) && self.is_coated(floor, w));
        bare.map(|w| w.latest).min().unwrap_or(Moment::NEVER)
    }

    /// Whether a load lies bare behind a bath, or wet, and may wait only so long.
    pub(super) fn lies_bare(&self, floor: &Floor<'_>, waits: &Waiting) -> bool {
        waits.latest < Moment::NEVER
            && floor.flow.fresh(waits)
            && (floor.flow.plan_of(waits).wet() || self.is_coated(floor, waits))
    }

    pub(super) fn is_coated(&self, floor: &Floor<'_>, waits: &Waiting) -> bool {
        let load = &floor.flow[waits.load];
        load.done & self.plan.routes[load.route].coats != 0
    }

    fn free_places(&self, floor: &Floor<'_>, line: LineIx) -> usize {
        let stations = self.plan.lines[line].iter();
        let free = stations.filter(|s| self.has_place(floor, **s));
        let places = free.map(|s| self.plan.stations[*s].places - self.stations[*s].used);
        places.sum::<u32>() as usize
    }

    /// When hands must begin a step of a load that waits, its place cleared first, if it still can be in time.
    fn must_begin(
        &self,
        floor: &Floor<'_>,
        waits: &Waiting,
        (free, clears): (Moment, Span),
    ) -> Option<Promise> {
        let from = free.max(waits.hold);
        if !self.lies_bare(floor, waits) {
            return None;
        }
        let by = floor.day.works_until(waits.latest) - clears;
        (by >= from).then(|| {
            (
                from,
                by,
                clears
                    + floor
                        .flow
                        .plan_of(waits)
                        .hands_at_start()
                        .of(&floor.flow[waits.load].cargo),
            )
        })
    }
}

/// By when a load goes in at the latest, if it must by a moment, so that it is out before a break that nobody stays for: where
/// the bath is not hot again behind it by then. A load for which no stretch is long enough waits for none.
fn clear_of_breaks(floor: &Floor<'_>, by: Moment, (tank, stay): (TankIx, Span)) -> Moment {
    let longest = floor.baths.longest_stretch(tank);
    if longest.is_some_and(|longest| stay > longest) {
        return by;
    }
    let hot = |until: Moment| floor.baths.hot_after(&floor.day, tank, until).max(until);
    let mut coming = floor.day.alone_in_breaks().filter(|a| a.from > floor.day.now());
    let between = coming.find(|a| a.from - stay < by && by < hot(a.until));
    between.map_or(by, |away| away.from - stay)
}
