//! Lots change loads one at a time, very many times: first into one load less, as long as that can be done, then so that
//! the tank is taken up for as little time as can be. On the way a load may hold more than its tank; that is charged for,
//! more and more.

use super::pack::{Load, Packing};
use rand::RngExt;
use rand::rngs::ChaCha8Rng;
use std::sync::atomic::{AtomicBool, Ordering};

/// Moves for each step of the search that begins it.
const MOVES: u64 = 50;
/// Less than this much too full is full.
const FULL: f64 = 1e-9;

/// Lots in loads that may be too full.
struct Mix<'p, 'w> {
    packing: &'p Packing<'w>,
    /// For each lot the shares of the room that it takes.
    takes: Vec<[f64; 3]>,
    of: Vec<usize>,
    loads: Vec<Vec<usize>>,
    worth: Vec<Worth>,
}

/// What a load costs, and by how much it is too full.
#[derive(Clone, Copy, Default)]
struct Worth {
    cost: f64,
    over: f64,
}

impl<'p, 'w> Mix<'p, 'w> {
    fn new(packing: &'p Packing<'w>, loads: &[Load]) -> Self {
        let share = |i: usize| {
            let bulk = packing.lots[i].bulk;
            [0, 1, 2].map(|k| {
                if packing.room[k] > 0.0 {
                    bulk[k] / packing.room[k]
                } else {
                    0.0
                }
            })
        };
        let mut mix = Self {
            packing,
            takes: (0..packing.lots.len()).map(share).collect(),
            of: vec![0; packing.lots.len()],
            loads: loads.iter().map(|l| l.items.clone()).collect(),
            worth: Vec::new(),
        };
        for (n, load) in mix.loads.iter().enumerate() {
            load.iter().for_each(|&i| mix.of[i] = n);
        }
        mix.worth = (0..mix.loads.len()).map(|n| mix.value(n, None, None)).collect();
        mix
    }

    /// A load without one lot and with another.
    fn value(&self, load: usize, without: Option<usize>, with: Option<usize>) -> Worth {
        let (mut takes, mut window, mut dwell) = ([0.0; 3], (0, i64::MAX), 0);
        let mut any = false;
        let stay = self.loads[load].iter().copied().filter(|&i| Some(i) != without);
        for i in stay.chain(with) {
            let lot = &self.packing.lots[i];
            takes.iter_mut().zip(self.takes[i]).for_each(|(t, s)| *t += s);
            window = (window.0.max(lot.window.0), window.1.min(lot.window.1));
            dwell = dwell.max(lot.dwell);
            any = true;
        }
        if !any {
            return Worth::default();
        }
        let apart = (window.0 - window.1).max(0) as f64 / self.packing.typical();
        let fill = takes.iter().copied().fold(0.0, f64::max).min(1.0);
        Worth {
            cost: self.packing.worth(dwell, fill),
            over: takes.iter().map(|t| (t - 1.0).max(0.0)).sum::<f64>() + apart,
        }
    }

    fn sum(&self) -> Worth {
        self.worth.iter().fold(Worth::default(), |a, w| Worth {
            cost: a.cost + w.cost,
            over: a.over + w.over,
        })
    }

    /// One lot goes to another load, or two change places, if luck lets them. Returns whether they did.
    fn step(&mut self, price: (f64, f64), heat: f64, rng: &mut ChaCha8Rng) -> bool {
        let a = if price.0 == 0.0 { self.crowded(rng) } else { None };
        let a = a.unwrap_or_else(|| rng.random_range(0..self.of.len()));
        let from = self.of[a];
        let to = rng.random_range(0..self.loads.len());
        if to == from {
            return false;
        }
        let back = match self.loads[to].len() {
            0 => None,
            n if rng.random_range(0..4) > 0 => Some(self.loads[to][rng.random_range(0..n)]),
            _ => None,
        };
        let new = (self.value(from, Some(a), back), self.value(to, back, Some(a)));
        let sum = |w: Worth| price.0 * w.cost + price.1 * w.over;
        let worse = sum(new.0) + sum(new.1) - sum(self.worth[from]) - sum(self.worth[to]);
        if worse > 0.0 && rng.random::<f64>() >= libm::exp(-worse / heat) {
            return false;
        }
        self.loads[from].retain(|&i| i != a);
        self.loads[to].push(a);
        self.of[a] = to;
        if let Some(b) = back {
            self.loads[to].retain(|&i| i != b);
            self.loads[from].push(b);
            self.of[b] = from;
        }
        (self.worth[from], self.worth[to]) = new;
        true
    }

    /// A lot of a load that is too full, in two tries of three.
    fn crowded(&self, rng: &mut ChaCha8Rng) -> Option<usize> {
        if rng.random_range(0..3) == 0 {
            return None;
        }
        for _ in 0..8 {
            let n = rng.random_range(0..self.loads.len());
            if self.worth[n].over > FULL && !self.loads[n].is_empty() {
                return Some(self.loads[n][rng.random_range(0..self.loads[n].len())]);
            }
        }
        None
    }

    fn told(&self) -> Option<Vec<Load>> {
        let some = self.loads.iter().filter(|l| !l.is_empty());
        some.map(|l| self.packing.of(l)).collect()
    }
}

impl Packing<'_> {
    /// Better loads than these, or the same.
    pub(super) fn exchanged(
        &self,
        loads: Vec<Load>,
        steps: u32,
        stop: &AtomicBool,
        rng: &mut ChaCha8Rng,
    ) -> Vec<Load> {
        let stopped = || stop.load(Ordering::Relaxed);
        let moves = u64::from(steps) * MOVES;
        let mut best = loads;
        while best.len() > self.fewest() && !stopped() {
            match self.one_less(&best, moves, rng) {
                Some(fewer) => best = fewer,
                None => break,
            }
        }
        if best.len() > 1 && !stopped() && self.lots.iter().any(|l| l.dwell != self.lots[0].dwell) {
            best = self.shorter(best, moves, rng);
        }
        best
    }

    /// No fewer loads than this.
    fn fewest(&self) -> usize {
        let mut least = 1.0f64;
        for k in 0..3 {
            let sum: f64 = self.lots.iter().map(|l| l.bulk[k]).sum();
            if self.room[k] > 0.0 {
                least = least.max(libm::ceil(sum / self.room[k] - 1e-6));
            }
        }
        least as usize
    }

    /// The same lots in one load less.
    fn one_less(&self, loads: &[Load], moves: u64, rng: &mut ChaCha8Rng) -> Option<Vec<Load>> {
        let mut fewer = loads.to_vec();
        fewer.sort_by_key(|l| l.items.len());
        let spilled = if fewer.len() > 1 {
            fewer.remove(0)
        } else {
            return None;
        };
        for (n, i) in spilled.items.into_iter().enumerate() {
            let at = n % fewer.len();
            fewer[at].items.push(i);
        }
        let mut mix = Mix::new(self, &fewer);
        let mut over = mix.sum().over;
        let cool = libm::pow(0.002, 1.0 / moves.max(1) as f64);
        let mut heat = 0.1;
        for n in 0..moves {
            heat *= cool;
            if (mix.step((0.0, 1.0), heat, rng) && n % 16 == 0) || n % 1024 == 0 {
                over = mix.sum().over;
            }
            if over <= FULL
                && let Some(done) = mix.told()
            {
                return Some(done);
            }
        }
        mix.told()
    }

    /// The same lots for less time in the tank.
    fn shorter(&self, loads: Vec<Load>, moves: u64, rng: &mut ChaCha8Rng) -> Vec<Load> {
        let mut mix = Mix::new(self, &loads);
        mix.loads.push(Vec::new());
        mix.worth.push(Worth::default());
        let (mut best, mut least) = (loads, mix.sum().cost);
        let typical = self.typical();
        let cool = libm::pow(0.005, 1.0 / moves.max(1) as f64);
        let mut heat = 0.2 * typical;
        for n in 0..moves {
            heat *= cool;
            let price = typical * (1.0 + 19.0 * n as f64 / moves as f64);
            if !mix.step((1.0, price), heat, rng) {
                continue;
            }
            if n % 8 == 0 || n + 64 > moves {
                let sum = mix.sum();
                if sum.over <= FULL
                    && sum.cost < least - 1e-6
                    && let Some(found) = mix.told()
                {
                    (best, least) = (found, sum.cost);
                }
            }
        }
        best
    }
}
