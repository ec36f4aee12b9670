//! What stands on a day while a load looks for its place: hands at work, and who is where.

use super::chain::Op;
use super::gaps::{FAR, Set, after, begin_within, clip, free, joined, meet};
use super::model::{Evaluated, NONE, SearchContext};
use tankday_base::shop::StationId;
use tankday_base::units::Moment;

/// Hands at work: from, until, where they stand before and after.
type Work = (i64, i64, StationId, StationId);

/// What stands: hands at work, and who is where.
pub(super) struct FixedTimetable<'w, 'a> {
    world: &'w SearchContext<'a>,
    off: Vec<(i64, i64)>,
    /// When the shop is open.
    open: Set,
    /// In order of their beginning.
    work: Vec<Work>,
    /// The same, by station.
    stays: Vec<Vec<(i64, i64)>>,
    /// Before this a place was never used: its bath is not yet hot.
    first: Vec<i64>,
}

impl<'w, 'a> FixedTimetable<'w, 'a> {
    pub(super) fn new(world: &'w SearchContext<'a>) -> Self {
        let stations = world.shop.stations.len();
        let off = world.off_hours();
        Self {
            world,
            open: free(&off, 1, 0),
            off,
            work: Vec::new(),
            stays: vec![Vec::new(); stations],
            first: vec![0; stations],
        }
    }

    /// When no hands work, and from when on each place was used.
    pub(super) fn told(self) -> (Vec<(i64, i64)>, Vec<i64>) {
        (self.off, self.first)
    }

    /// A load as it was when the day was run.
    pub(super) fn as_run(&mut self, ops: &[Op], tank: u32, tried: &Evaluated, stands: bool) {
        for op in ops {
            let place = if op.coats && tank != NONE {
                StationId(tank)
            } else {
                op.place
            };
            let t = op.task as usize;
            let (a, b) = (tried.begun[t], tried.begun[t + 1]);
            if a == Moment::NEVER {
                continue;
            }
            let end = [tried.ended[t + 1], tried.ended[t], a]
                .into_iter()
                .find(|m| *m < Moment::NEVER);
            let (a, end) = (a.in_micros(), end.unwrap_or(a).in_micros());
            if self.world.shop.stations[place.index()].tank.is_some() {
                let first = &mut self.first[place.index()];
                *first = if *first == 0 { a } else { a.min(*first) };
            }
            if !stands {
                continue;
            }
            self.stays[place.index()].push((a, end));
            if op.throughout {
                self.work.push((a, end, place, place));
            } else if op.put > 0 {
                self.work.push((a, a + op.put, place, place));
            }
            if op.take > 0 && b < Moment::NEVER {
                // Where no step follows, hands stay where they were.
                let next = if op.next == op.place { place } else { op.next };
                self.work.push((b.in_micros(), end, place, next));
            }
        }
    }

    /// A load at the times that were found for it.
    pub(super) fn as_found(&mut self, ops: &[Op], times: &[(i64, i64)]) {
        for (op, &(a, b)) in ops.iter().zip(times) {
            let stays = &mut self.stays[op.place.index()];
            let stay = (a, b + op.take);
            stays.insert(stays.partition_point(|s| *s <= stay), stay);
            if op.throughout {
                self.works((a, b, op.place, op.place));
            } else if op.put > 0 {
                self.works((a, a + op.put, op.place, op.place));
            }
            if op.take > 0 {
                self.works((b, b + op.take, op.place, op.next));
            }
        }
    }

    fn works(&mut self, work: Work) {
        let before = |w: &Work| (w.0, w.1) <= (work.0, work.1);
        self.work.insert(self.work.partition_point(before), work);
    }

    /// Everything in order of its beginning.
    pub(super) fn in_order(&mut self) {
        self.work.sort_unstable_by_key(|w| (w.0, w.1));
        self.stays.iter_mut().for_each(|s| s.sort_unstable());
    }

    /// From when on baths are hot, where that is known and not only when they were used first.
    pub(super) fn hot_from(&mut self, hot: &[Moment]) {
        for (first, hot) in self.first.iter_mut().zip(hot) {
            let hot = hot.in_micros();
            if hot > 0 && (*first == 0 || hot < *first) {
                *first = hot;
            }
        }
    }

    /// When hands are free and the shop is open.
    fn idle(&self) -> Set {
        let busy: Vec<(i64, i64)> = self.work.iter().map(|w| (w.0, w.1)).collect();
        meet(&self.open, &free(&busy, self.world.shop.hands.max(1), 0))
    }

    /// Whether it matters where hands stand.
    fn walks(&self) -> bool {
        self.world.shop.hands <= 1 && !self.world.shop.walks.is_none()
    }

    /// When hands that walk can begin work of so long that leads from one place to another.
    fn walking(&self, long: i64, from: StationId, to: StationId) -> Set {
        if long <= 0 {
            return vec![(0, FAR)];
        }
        let walks = &self.world.shop.walks;
        let mut gaps = Set::new();
        let mut since = (0, None);
        for w in &self.work {
            let begin = since
                .1
                .map_or(since.0, |at| since.0 + walks.between(at, from).in_micros());
            let end = w.0 - walks.between(to, w.2).in_micros() - long;
            if begin <= end {
                gaps.push((begin, end));
            }
            since = (w.1, Some(w.3));
        }
        let begin = since
            .1
            .map_or(since.0, |at| since.0 + walks.between(at, from).in_micros());
        gaps.push((begin, FAR));
        begin_within(&joined(gaps), &self.open, long)
    }

    /// When hands can begin an op, and when they can take it out.
    fn hands<'s>(&self, op: &Op, idle: &'s Set) -> [Begins<'s>; 2] {
        let long = if op.throughout { op.least } else { op.put };
        if self.walks() {
            let into = self.walking(long, op.place, op.place);
            return [into, self.walking(op.take, op.place, op.next)].map(Begins::At);
        }
        [Begins::Within(idle, long), Begins::Within(idle, op.take)]
    }

    /// When each task of a load can begin, from `start` on: for each step the moments to go in, for each gap of its place
    /// the moments to go out.
    pub(super) fn fit(&self, ops: &[Op], start: &Set) -> Option<Vec<Fit>> {
        let idle = self.idle();
        let mut fits: Vec<Fit> = Vec::with_capacity(ops.len());
        let mut can = start.clone();
        for op in ops {
            let [into, leave] = self.hands(op, &idle);
            let into = into.among(&can);
            let first = self.first[op.place.index()];
            let mut fit = Fit {
                into,
                gaps: Vec::new(),
            };
            let mut out = Set::new();
            for (from, to) in free(&self.stays[op.place.index()], op.room, first) {
                let here = clip(&fit.into, from, to);
                if here.is_empty() {
                    continue;
                }
                let done = after(&here, op.put + op.least, op.put + op.most);
                let done = clip(&done, from, to.saturating_sub(op.take));
                let done = leave.among(&done);
                out.extend(&done);
                fit.gaps.push((from, to, done));
            }
            fits.push(fit);
            can = joined(out);
            if can.is_empty() {
                return None;
            }
            let within = ops.get(fits.len()).map_or(FAR, |n| n.within);
            can = after(&can, op.take, op.take.saturating_add(within).min(FAR));
        }
        Some(fits)
    }
}

/// When hands can begin something.
enum Begins<'s> {
    /// At these moments.
    At(Set),
    /// Where it lies, so long, within one of these.
    Within(&'s Set, i64),
}

impl Begins<'_> {
    /// Those of these moments at which they can.
    fn among(&self, can: &Set) -> Set {
        match self {
            Begins::At(set) => meet(can, set),
            Begins::Within(_, long) if *long <= 0 => meet(can, &vec![(0, FAR)]),
            Begins::Within(gaps, long) => begin_within(can, gaps, *long),
        }
    }
}

/// The moments for one step.
pub(super) struct Fit {
    pub(super) into: Set,
    pub(super) gaps: Vec<(i64, i64, Set)>,
}
