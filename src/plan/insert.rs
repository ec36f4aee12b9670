//! Takes loads out of a day and puts them back where they fit among the others. For one load among loads whose times
//! stand, the moments at which each of its tasks can begin form a few intervals, carried forward from step to step with
//! the least and the longest stay; the earliest end is read off the last and followed back. Exact for one load; the line
//! judges the whole.

use super::chain::Op;
use super::gaps::{FAR, Set, clip, joined};
use super::model::{Evaluated, NONE, SearchContext, Solution};
use super::standing::{Fit, FixedTimetable};
use rand::RngExt;
use rand::rngs::ChaCha8Rng;
use tankday_base::units::Moment;

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

impl<'a> SearchContext<'a> {
    /// Takes one load or a few out of a day and puts each back where it ends earliest among the others, or a little
    /// later. The time of each task, if that can be.
    pub(super) fn put_back(
        &self,
        g: &mut Solution,
        tried: &Evaluated,
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
        Some(self.at_times(g, tried, &times))
    }

    /// Takes loads out of a day and puts each back, in this order, where it ends earliest among those that stand, and none
    /// before `from`. `hot` says from when on baths are hot, where that is known. The time of each task, if that can be.
    pub(super) fn rebuilt(
        &self,
        g: &mut Solution,
        (tried, hot): (&Evaluated, &[Moment]),
        order: &[u32],
        from: i64,
    ) -> Option<Vec<Moment>> {
        let mut standing = self.standing(g, tried, order);
        standing.hot_from(hot);
        let mut times = Vec::new();
        for &head in order {
            let there = self.members(g, head).into_iter().map(|l| self.there(l)).min();
            let wait = from.saturating_sub(there.unwrap_or(0)).max(0);
            if !self.insert(g, head, wait, &mut standing, &mut times, &mut Pick::Last) {
                return None;
            }
        }
        Some(self.at_times(g, tried, &times))
    }

    /// The time of each task of a day in which some have new ones; the keys follow them.
    fn at_times(&self, g: &mut Solution, tried: &Evaluated, times: &[(u32, i64)]) -> Vec<Moment> {
        let mut at: Vec<Moment> = tried.begun.clone();
        for &(task, begins) in times {
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
        at
    }

    /// Builds a day load by load, each where it ends earliest among those before it. The day that was run says from when
    /// on each bath is hot. False if a load finds no place.
    pub(super) fn build(&self, g: &mut Solution, order: &[u32], run: &Evaluated) -> bool {
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
    pub(super) fn standing<'w>(
        &'w self,
        g: &Solution,
        tried: &Evaluated,
        out: &[u32],
    ) -> FixedTimetable<'w, 'a> {
        let mut standing = FixedTimetable::new(self);
        for lot in 0..self.lots() as u32 {
            let head = g.head[lot as usize];
            let stands = !out.contains(&head);
            let [before, within] = &self.own[lot as usize];
            standing.as_run(before, NONE, tried, stands);
            if head == lot {
                standing.as_run(within, g.tank[lot as usize], tried, stands);
            }
        }
        standing.in_order();
        standing
    }

    pub(super) fn own_ops(&self, lot: u32) -> Vec<Op> {
        self.own[lot as usize][0].clone()
    }

    /// Finds a place for all tasks of a load. With luck, not the earliest but any that fits.
    fn insert(
        &self,
        g: &Solution,
        head: u32,
        wait: i64,
        standing: &mut FixedTimetable<'_, '_>,
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
