//! The same lots in one load less. All loads but two are kept, never too full, and what finds no room in them lies apart;
//! lots go to and fro, so that the loads that are nearly full become full and what lies apart becomes little. Whenever it
//! could be no more than the last two loads hold, it is tried whether it goes into them. Leaving two loads to the end
//! is what makes loads possible that must be full to the last gram: what lies apart can be divided in several ways.

use super::pack::{Load, Packing};
use super::rooms::{FULL, fewest};
use rand::RngExt;
use rand::rngs::ChaCha8Rng;
use std::sync::atomic::{AtomicBool, Ordering};

/// Loads that are filled at the end only.
const LAST: usize = 2;
/// Ways to fill the last loads that are looked at.
const WAYS: u32 = 2_000;
/// Heat at the first move and at the last, in squares of full loads.
const HEAT: (f64, f64) = (0.05, 0.000_05);

/// A load, and which shares of the room of its tank it takes.
struct Kept {
    items: Vec<usize>,
    takes: [f64; 3],
}

/// One lot or two, or none.
#[derive(Clone, Copy)]
struct Few([usize; 2], usize);

impl Few {
    fn of(list: &[usize], many: usize, rng: &mut ChaCha8Rng) -> Option<Self> {
        if many > list.len() {
            return None;
        }
        let mut few = Self([usize::MAX; 2], many);
        for k in 0..many {
            few.0[k] = list[rng.random_range(0..list.len())];
        }
        (many < 2 || few.0[0] != few.0[1]).then_some(few)
    }

    fn all(&self) -> &[usize] {
        &self.0[..self.1]
    }

    /// These leave a list, and others come.
    fn change_for(&self, others: &Self, list: &mut Vec<usize>) {
        list.retain(|i| !self.all().contains(i));
        list.extend(others.all());
    }
}

struct Fewer<'p, 'w> {
    packing: &'p Packing<'w>,
    takes: Vec<[f64; 3]>,
    /// Whether all lots bear the same dwells.
    alike: bool,
    loads: Vec<Kept>,
    apart: Vec<usize>,
}

impl<'p, 'w> Fewer<'p, 'w> {
    /// First the largest, each into the first load with room for it.
    fn new(packing: &'p Packing<'w>, many: usize) -> Self {
        let empty = || Kept {
            items: Vec::new(),
            takes: [0.0; 3],
        };
        let mut fewer = Self {
            takes: packing.shares(),
            alike: packing.lots.windows(2).all(|w| w[0].window == w[1].window),
            loads: (0..many.saturating_sub(LAST)).map(|_| empty()).collect(),
            apart: Vec::new(),
            packing,
        };
        let mut order: Vec<usize> = (0..packing.lots.len()).collect();
        order.sort_by(|&a, &b| most(&fewer.takes[b]).total_cmp(&most(&fewer.takes[a])));
        for i in order {
            let one = Few([i, usize::MAX], 1);
            let none = Few([usize::MAX; 2], 0);
            let at = (0..fewer.loads.len()).find(|&n| fewer.with(n, &none, &one).is_some());
            match at {
                Some(n) => fewer.put(n, &none, &one),
                None => fewer.apart.push(i),
            }
        }
        fewer
    }

    fn sum(&self, items: &[usize]) -> [f64; 3] {
        items
            .iter()
            .fold([0.0; 3], |sum, &i| [0, 1, 2].map(|k| sum[k] + self.takes[i][k]))
    }

    /// What a load takes once some have left it and others have come; none if it could not be.
    fn with(&self, load: usize, out: &Few, into: &Few) -> Option<[f64; 3]> {
        let (less, more) = (self.sum(out.all()), self.sum(into.all()));
        let load = &self.loads[load];
        let takes = [0, 1, 2].map(|k| load.takes[k] - less[k] + more[k]);
        if takes.iter().any(|t| *t > 1.0 + FULL) {
            return None;
        }
        (self.alike || self.bear(load, out, into)).then_some(takes)
    }

    /// Whether some dwell is borne by all.
    fn bear(&self, load: &Kept, out: &Few, into: &Few) -> bool {
        let stay = load.items.iter().filter(|i| !out.all().contains(i));
        let window = stay.chain(into.all()).fold((0, i64::MAX), |w, &i| {
            let own = self.packing.lots[i].window;
            (w.0.max(own.0), w.1.min(own.1))
        });
        window.0 <= window.1
    }

    fn put(&mut self, load: usize, out: &Few, into: &Few) {
        out.change_for(into, &mut self.loads[load].items);
        // Summed anew, so that nothing is lost to rounding over millions of moves.
        self.loads[load].takes = self.sum(&self.loads[load].items);
    }

    /// Lots go between a load and what lies apart.
    fn take_in(&mut self, heat: f64, rng: &mut ChaCha8Rng) -> Option<()> {
        let load = rng.random_range(0..self.loads.len());
        let into = Few::of(&self.apart, rng.random_range(1..3), rng)?;
        let out = Few::of(&self.loads[load].items, rng.random_range(0..3), rng)?;
        let takes = self.with(load, &out, &into)?;
        let share = |few: &Few| few.all().iter().map(|&i| most(&self.takes[i])).sum::<f64>();
        let worse = worth(&self.loads[load].takes) - worth(&takes) + share(&out) - share(&into);
        if !taken(worse, heat, rng) {
            return None;
        }
        self.put(load, &out, &into);
        into.change_for(&out, &mut self.apart);
        Some(())
    }

    /// Lots go between two loads.
    fn between(&mut self, heat: f64, rng: &mut ChaCha8Rng) -> Option<()> {
        let (a, b) = (
            rng.random_range(0..self.loads.len()),
            rng.random_range(0..self.loads.len()),
        );
        if a == b {
            return None;
        }
        let out = Few::of(&self.loads[a].items, rng.random_range(0..3), rng)?;
        let back = Few::of(&self.loads[b].items, rng.random_range(0..3), rng)?;
        let takes = (self.with(a, &out, &back)?, self.with(b, &back, &out)?);
        let before = worth(&self.loads[a].takes) + worth(&self.loads[b].takes);
        if !taken(before - worth(&takes.0) - worth(&takes.1), heat, rng) {
            return None;
        }
        self.put(a, &out, &back);
        self.put(b, &back, &out);
        Some(())
    }

    /// All loads, if what lies apart goes into the last ones.
    fn whole(&self) -> Option<Vec<Load>> {
        let sum = self.sum(&self.apart);
        if sum.iter().any(|s| *s > LAST as f64 * (1.0 + FULL)) {
            return None;
        }
        let mut left = self.apart.clone();
        left.sort_by(|&a, &b| most(&self.takes[b]).total_cmp(&most(&self.takes[a])));
        let mut last = vec![Packing::empty(); LAST];
        if !self.fill(&left, &mut last, &mut { WAYS }) {
            return None;
        }
        let kept = self.loads.iter().map(|l| &l.items);
        kept.chain(last.iter().map(|l| &l.items))
            .filter(|items| !items.is_empty())
            .map(|items| self.packing.of(items))
            .collect()
    }

    /// Puts what is left into the last loads, one lot after the other.
    fn fill(&self, left: &[usize], last: &mut [Load], ways: &mut u32) -> bool {
        let Some((&first, rest)) = left.split_first() else {
            return true;
        };
        if *ways == 0 {
            return false;
        }
        *ways -= 1;
        for n in 0..last.len() {
            if let Some(mut fuller) = self.packing.with(&last[n], first) {
                fuller.items.clone_from(&last[n].items);
                fuller.items.push(first);
                let before = std::mem::replace(&mut last[n], fuller);
                if self.fill(rest, last, ways) {
                    return true;
                }
                last[n] = before;
            }
            // Empty loads are alike.
            if last[n].items.is_empty() {
                break;
            }
        }
        false
    }
}

/// Of the kinds of room the share of the one that is taken most.
fn most(takes: &[f64; 3]) -> f64 {
    takes.iter().copied().fold(0.0, f64::max)
}

/// Full loads and empty ones are better than half full ones.
fn worth(takes: &[f64; 3]) -> f64 {
    let full = most(takes);
    full * full
}

/// Whether something worse by so much is taken all the same.
fn taken(worse: f64, heat: f64, rng: &mut ChaCha8Rng) -> bool {
    worse <= 0.0 || rng.random::<f64>() < libm::exp(-worse / heat)
}

impl Packing<'_> {
    /// The lots in so many loads, if such are found within so many moves.
    pub(super) fn in_loads(
        &self,
        many: usize,
        moves: u64,
        stop: &AtomicBool,
        rng: &mut ChaCha8Rng,
    ) -> Option<Vec<Load>> {
        let mut fewer = Fewer::new(self, many);
        if many == 0 || fewer.loads.is_empty() || fewer.apart.is_empty() {
            return fewer.whole().filter(|loads| loads.len() <= many);
        }
        let cool = libm::pow(HEAT.1 / HEAT.0, 1.0 / moves.max(1) as f64);
        let mut heat = HEAT.0;
        for n in 0..moves {
            if n % 1024 == 0 && stop.load(Ordering::Relaxed) {
                break;
            }
            heat *= cool;
            if rng.random_range(0..2) == 0 {
                fewer.between(heat, rng);
            } else if fewer.take_in(heat, rng).is_some()
                && let Some(whole) = fewer.whole()
            {
                return Some(whole);
            }
        }
        None
    }

    /// No fewer loads than this, for the room of each kind and for dwells that leave nothing in common.
    pub(super) fn fewest(&self) -> usize {
        let shares = self.shares();
        let by_room = (0..3).map(|k| {
            let sizes: Vec<(f64, u32)> = shares.iter().map(|s| (s[k], 1)).collect();
            fewest(&sizes) as usize
        });
        by_room.max().unwrap_or(1).max(self.apart_by_dwell())
    }

    /// Lots of which no two bear the same dwell.
    fn apart_by_dwell(&self) -> usize {
        let mut windows: Vec<(i64, i64)> = self.lots.iter().map(|l| l.window).collect();
        windows.sort_unstable_by_key(|w| w.1);
        let mut many = 0;
        let mut until = i64::MIN;
        for (least, most) in windows {
            if least > until {
                many += 1;
                until = most;
            }
        }
        many.max(1)
    }
}
