//! Takes loads out of a day and puts them back where they fit among the others. For one load among loads whose times
//! stand, the moments at which each of its tasks can begin form a few intervals, carried forward from step to step with
//! the least and the longest stay; the earliest end is read off the last and followed back. Exact for one load; the line
//! judges the whole.

use super::chain::Op;
use super::gaps::{FAR, Set, after, begin_within, clip, free, joined, meet};
use super::model::{Genome, NONE, Tried, World};
use crate::shop::StationId;
use crate::units::Moment;
use rand::RngExt;
use rand::rngs::ChaCha8Rng;

/// Hands at work: from, until, where they stand before and after.
type Work = (i64, i64, StationId, StationId);

/// What stands: hands at work, and who is where.
pub(super) struct Standing<'w, 'a> {
    world: &'w World<'a>,
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

impl<'w, 'a> Standing<'w, 'a> {
    fn new(world: &'w World<'a>) -> Self {
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
    fn as_run(&mut self, ops: &[Op], tried: &Tried, stands: bool) {
        for op in ops {
            let t = op.task as usize;
            let (a, b) = (tried.begun[t], tried.begun[t + 1]);
            if a == Moment::NEVER {
                continue;
            }
            let end = [tried.ended[t + 1], tried.ended[t], a]
                .into_iter()
                .find(|m| *m < Moment::NEVER);
            let (a, end) = (a.in_micros(), end.unwrap_or(a).in_micros());
            if self.world.shop.stations[op.place.index()].tank.is_some() {
                let first = &mut self.first[op.place.index()];
                *first = if *first == 0 { a } else { a.min(*first) };
            }
            if !stands {
                continue;
            }
            self.stays[op.place.index()].push((a, end));
            if op.throughout {
                self.work.push((a, end, op.place, op.place));
            } else if op.put > 0 {
                self.work.push((a, a + op.put, op.place, op.place));
            }
            if op.take > 0 && b < Moment::NEVER {
                self.work.push((b.in_micros(), end, op.place, op.next));
            }
        }
    }

    /// A load at the times that were found for it.
    fn as_found(&mut self, ops: &[Op], times: &[(i64, i64)]) {
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
    fn in_order(&mut self) {
        self.work.sort_unstable_by_key(|w| (w.0, w.1));
        self.stays.iter_mut().for_each(|s| s.sort_unstable());
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
    fn fit(&self, ops: &[Op], start: &Set) -> Option<Vec<Fit>> {
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
struct Fit {
    into: Set,
    gaps: Vec<(i64, i64, Set)>,
}

/// Follows the earliest end back, or with luck one of the later ones: going in and out of each step.
fn followed(ops: &[Op], fits: &[Fit], mut pick: impl FnMut(&Set) -> Option<i64>) -> Option<Vec<(i64, i64)>> {
    let mut times = vec![(0, 0); ops.len()];
    let ends = fits.last()?.gaps.iter().flat_map(|g| &g.2).map(|g| g.0).min()?;
    let mut range = (ends, ends);
    for (k, (op, fit)) in ops.iter().zip(fits).enumerate().rev() {
        let out: Set = joined(
            fit.gaps
                .iter()
                .flat_map(|g| clip(&g.2, range.0, range.1))
                .collect(),
        );
        let leave = if k + 1 == ops.len() { ends } else { pick(&out)? };
        let stay = |g: &&(i64, i64, Set)| g.2.iter().any(|s| s.0 <= leave && leave <= s.1);
        let mut into = Set::new();
        for gap in fit.gaps.iter().filter(stay) {
            let (from, to) = (leave - op.put - op.most, leave - op.put - op.least);
            into.extend(clip(&fit.into, from.max(gap.0), to.min(gap.1)));
        }
        let into = pick(&joined(into))?;
        times[k] = (into, leave);
        if k > 0 {
            let before = ops[k - 1].take;
            range = (
                into.saturating_sub(before.saturating_add(op.within)),
                into - before,
            );
        }
    }
    Some(times)
}

impl<'a> World<'a> {
    /// Takes one load or a few out of a day and puts each back where it ends earliest among the others, or a little
    /// later. The time of each task, if that can be.
    pub(super) fn put_back(
        &self,
        g: &mut Genome,
        tried: &Tried,
        rng: &mut ChaCha8Rng,
    ) -> Option<Vec<Moment>> {
        let heads: Vec<u32> = (0..self.lots() as u32)
            .filter(|&l| g.head[l as usize] == l)
            .collect();
        let many = 1 + [0, 0, 0, 1, 1, 2][rng.random_range(0..6)].min(heads.len() - 1);
        let mut out: Vec<u32> = Vec::new();
        while out.len() < many {
            let head = heads[rng.random_range(0..heads.len())];
            if !out.contains(&head) {
                out.push(head);
            }
        }
        let mut standing = self.standing(g, tried, &out);
        let reach = (tried.judged.finish - Moment::ZERO).in_micros().max(8);
        let mut times: Vec<(u32, i64)> = Vec::new();
        for head in out {
            let wait = match rng.random_range(0..4) {
                0 => rng.random_range(0..reach / 2),
                1 => rng.random_range(0..reach / 8),
                _ => 0,
            };
            let mut pick = match rng.random_range(0..4) {
                0 => Pick::First,
                1 => Pick::Any(&mut *rng),
                _ => Pick::Last,
            };
            if !self.insert(g, head, wait, &mut standing, &mut times, &mut pick) {
                return None;
            }
        }
        let mut at: Vec<Moment> = tried.begun.clone();
        for &(task, begins) in &times {
            at[task as usize] = Moment::micros(begins);
        }
        for (key, at) in g.key.iter_mut().zip(&mut at) {
            if *at < Moment::NEVER {
                *key = at.in_micros() * 4 + 2;
            } else {
                *at = Moment::ZERO;
            }
        }
        self.share_keys(g);
        self.push_later(g);
        Some(at)
    }

    /// Builds a day load by load, each where it ends earliest among those before it. The day that was run says from when
    /// on each bath is hot. False if a load finds no place.
    pub(super) fn build(&self, g: &mut Genome, order: &[u32], run: &Tried) -> bool {
        let mut standing = self.standing(g, run, order);
        let mut times = Vec::new();
        for &head in order {
            if !self.insert(g, head, 0, &mut standing, &mut times, &mut Pick::Last) {
                return false;
            }
        }
        for (task, at) in times {
            g.key[task as usize] = at * 4 + 2;
        }
        self.share_keys(g);
        self.push_later(g);
        true
    }

    /// All loads of a day but some.
    pub(super) fn standing<'w>(&'w self, g: &Genome, tried: &Tried, out: &[u32]) -> Standing<'w, 'a> {
        let mut standing = Standing::new(self);
        for lot in 0..self.lots() as u32 {
            let head = g.head[lot as usize];
            let stands = !out.contains(&head);
            standing.as_run(&self.own_ops(lot), tried, stands);
            if head == lot {
                let members = self.members(g, head);
                let ops = self.ops(&members, true, g.tank[lot as usize]);
                standing.as_run(&ops, tried, stands);
            }
        }
        standing.in_order();
        standing
    }

    pub(super) fn own_ops(&self, lot: u32) -> Vec<Op> {
        self.ops(&[lot], false, NONE)
    }

    /// Finds a place for all tasks of a load. With luck, not the earliest but any that fits.
    fn insert(
        &self,
        g: &Genome,
        head: u32,
        wait: i64,
        standing: &mut Standing<'_, '_>,
        times: &mut Vec<(u32, i64)>,
        luck: &mut Pick<'_>,
    ) -> bool {
        let members = self.members(g, head);
        let together = self.ops(&members, true, g.tank[head as usize]);
        let mut from = members.iter().map(|&l| self.there(l)).max().unwrap_or(0) + wait;
        let mut chains: Vec<Vec<Op>> = members.iter().map(|&l| self.own_ops(l)).collect();
        if let [only] = &mut chains[..] {
            // One lot by itself: what may not wait on the way to the bath is kept too.
            only.extend(together);
        } else {
            chains.push(together);
        }
        let last = chains.len() - 1;
        for (i, ops) in chains.iter().enumerate().filter(|c| !c.1.is_empty()) {
            let start = match members.get(i) {
                Some(&lot) if i < last || members.len() == 1 => self.there(lot) + wait,
                _ => from,
            };
            let Some(found) = standing
                .fit(ops, &vec![(start, FAR)])
                .and_then(|fits| followed(ops, &fits, |s| luck.of(s)))
            else {
                return false;
            };
            standing.as_found(ops, &found);
            let end = found.last().map_or(0, |f| f.1) + ops.last().map_or(0, |o| o.take);
            from = from.max(end);
            times.extend(
                ops.iter()
                    .zip(&found)
                    .flat_map(|(o, f)| [(o.task, f.0), (o.task + 1, f.1)]),
            );
        }
        true
    }
}

/// Which of the moments that fit.
enum Pick<'r> {
    First,
    Last,
    Any(&'r mut ChaCha8Rng),
}

impl Pick<'_> {
    fn of(&mut self, set: &Set) -> Option<i64> {
        match self {
            Pick::First => set.first().map(|s| s.0),
            Pick::Last => set.last().map(|s| s.1),
            Pick::Any(_) if set.is_empty() => None,
            Pick::Any(rng) => {
                let (a, b) = set[rng.random_range(0..set.len())];
                Some(if a < b { rng.random_range(a..=b) } else { a })
            }
        }
    }
}
