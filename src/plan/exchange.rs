//! Loads that were filled one after another are made better: first one load less, as long as that can be done
//! (`fewer.rs`), then lots change loads one at a time, very many times, so that the tank is taken up for as little time as
//! can be. On the way a load may hold more than its tank; that is charged for, more and more.

use super::pack::{Load, Packing};
use super::rooms::FULL;
use rand::RngExt;
use rand::rngs::ChaCha8Rng;
use std::sync::atomic::{AtomicBool, Ordering};

/// Moves for each step of the search that begins it.
const MOVES: u64 = 50;
/// After so many steps of the search before it, one load less is tried once more, each time twice as long.
const AGAIN: u32 = 30_000;

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
        let mut mix = Self {
            packing,
            takes: packing.shares(),
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
    fn step(&mut self, price: f64, heat: f64, rng: &mut ChaCha8Rng) -> bool {
        let a = rng.random_range(0..self.of.len());
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
        let sum = |w: Worth| w.cost + price * w.over;
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
        let least = self.fewest();
        let mut tries = 0..=steps / AGAIN;
        while best.len() > least && !stopped() {
            let Some(n) = tries.next() else { break };
            while let Some(fewer) = self.in_loads(best.len() - 1, moves << n, stop, rng) {
                best = fewer;
                if best.len() <= least {
                    break;
                }
            }
        }
        if best.len() > 1 && !stopped() && self.lots.iter().any(|l| l.dwell != self.lots[0].dwell) {
            best = self.shorter(best, moves, rng);
        }
        best
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
            if !mix.step(price, heat, rng) {
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
