//! Grouping lots into loads before anything is run: as few loads as can be, and as little time in the tank. A quick
//! estimate only; what it finds is judged by the line.

use super::change::set_load;
use super::model::{SearchContext, Solution, full, holds, share};
use rand::rngs::ChaCha8Rng;
use rand::{RngExt, SeedableRng};
use std::sync::atomic::{AtomicBool, Ordering};
use tankday_base::units::Span;

/// Loads of one class in one kind of tank.
pub(super) struct Packing<'a> {
    pub(super) lots: Vec<Item>,
    pub(super) room: [f64; 3],
    extra: i64,
    typical: f64,
    world: &'a SearchContext<'a>,
}

#[derive(Clone, Copy)]
pub(super) struct Item {
    lot: u32,
    pub(super) bulk: [f64; 3],
    share: f64,
    pub(super) window: (i64, i64),
    pub(super) dwell: i64,
}

#[derive(Clone)]
pub(super) struct Load {
    pub(super) items: Vec<usize>,
    bulk: [f64; 3],
    window: (i64, i64),
    dwell: i64,
}

/// In which order lots are taken, and into which load each goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Taking {
    DueFirst,
    LongestDwellFirst,
    LargestFirst,
    BestFit,
}

impl SearchContext<'_> {
    /// Groups the lots of a decision by a plain rule.
    pub(super) fn pack_plainly(&self, g: &mut Solution, taking: Taking) {
        for packing in self.packings() {
            let mut order: Vec<usize> = (0..packing.lots.len()).collect();
            order.sort_by(|&a, &b| {
                let (a, b) = (&packing.lots[a], &packing.lots[b]);
                let due = |i: &Item| self.dues[self.blank.lots[i.lot as usize].order as usize];
                match taking {
                    Taking::DueFirst => due(a).cmp(&due(b)),
                    Taking::LongestDwellFirst => b.dwell.cmp(&a.dwell),
                    _ => b.share.total_cmp(&a.share),
                }
                .then(a.lot.cmp(&b.lot))
            });
            let mut loads = Vec::new();
            for i in order {
                packing.put(&mut loads, i, taking == Taking::BestFit);
            }
            packing.tell(g, &loads);
        }
    }

    /// Groups the lots as closely as a search over so many steps can.
    pub(super) fn pack_closely(&self, g: &mut Solution, steps: u32, seed: u64, stop: &AtomicBool) {
        for (i, packing) in self.packings().into_iter().enumerate() {
            let mut rng = ChaCha8Rng::seed_from_u64(seed.wrapping_mul(31).wrapping_add(i as u64));
            let loads = packing.search(steps, stop, &mut rng);
            let loads = packing.exchanged(loads, steps, stop, &mut rng);
            packing.tell(g, &loads);
        }
    }

    fn packings(&self) -> Vec<Packing<'_>> {
        let classes = self.class.iter().copied().max().map_or(0, |c| c + 1);
        let of = |class: u32| {
            let lots: Vec<u32> = (0..self.lots() as u32)
                .filter(|&l| self.class[l as usize] == class && !self.fits[l as usize].is_empty())
                .collect();
            let largest = |&t: &u32| self.tanks[t as usize].1;
            let tank = lots
                .iter()
                .flat_map(|&l| self.fits[l as usize].first())
                .map(largest)
                .max_by(|a, b| a[0].total_cmp(&b[0]))?;
            let handling = self.handling(*lots.first()?);
            let item = |&lot: &u32| {
                let planned = &self.blank.lots[lot as usize];
                Item {
                    lot,
                    bulk: planned.bulk,
                    share: share(tank, planned.bulk),
                    window: (planned.window.0.in_micros(), planned.window.1.in_micros()),
                    dwell: self.dwell[lot as usize].in_micros(),
                }
            };
            let lots: Vec<Item> = lots.iter().map(item).collect();
            let extra = handling.in_micros();
            let sum: i64 = lots.iter().map(|i| i.dwell + extra).sum();
            Some(Packing {
                typical: (sum as f64 / lots.len().max(1) as f64).max(1.0),
                lots,
                room: tank,
                extra,
                world: self,
            })
        };
        (0..classes).filter_map(of).collect()
    }

    /// Time of hands for each load at its bath.
    fn handling(&self, lot: u32) -> Span {
        let planned = &self.blank.lots[lot as usize];
        let step = planned.bath_step.map_or(0, |b| b as usize);
        let route = &self.shop.routes[planned.route as usize];
        route
            .steps
            .get(step)
            .map_or(Span::ZERO, |s| s.put_in + s.take_out)
    }
}

impl Packing<'_> {
    pub(super) fn empty() -> Load {
        Load {
            items: Vec::new(),
            bulk: [0.0; 3],
            window: (0, i64::MAX),
            dwell: 0,
        }
    }

    /// A load with one lot more, its items still to be told; none if it does not fit.
    pub(super) fn with(&self, load: &Load, i: usize) -> Option<Load> {
        let item = self.lots[i];
        let bulk = [0, 1, 2].map(|k| load.bulk[k] + item.bulk[k]);
        let window = (load.window.0.max(item.window.0), load.window.1.min(item.window.1));
        (holds(self.room, bulk) && window.0 <= window.1).then(|| Load {
            items: Vec::new(),
            bulk,
            window,
            dwell: load.dwell.max(item.dwell),
        })
    }

    pub(super) fn of(&self, items: &[usize]) -> Option<Load> {
        let mut load = Self::empty();
        for &i in items {
            load = self.with(&load, i)?;
        }
        load.items = items.to_vec();
        Some(load)
    }

    fn put(&self, loads: &mut Vec<Load>, i: usize, best: bool) {
        let mut found: Option<(usize, Load, f64)> = None;
        for (at, load) in loads.iter().enumerate() {
            if let Some(new) = self.with(load, i) {
                let left = 1.0 - share(self.room, new.bulk);
                if found.as_ref().is_none_or(|f| best && left < f.2) {
                    found = Some((at, new, left));
                }
                if !best {
                    break;
                }
            }
        }
        match found {
            Some((at, mut new, _)) => {
                new.items = std::mem::take(&mut loads[at].items);
                new.items.push(i);
                loads[at] = new;
            }
            None => loads.extend(self.of(&[i])),
        }
    }

    /// Time in the tank, and a little for room that is scattered.
    fn cost(&self, load: &Load) -> f64 {
        if load.items.is_empty() {
            return 0.0;
        }
        self.worth(load.dwell, share(self.room, load.bulk))
    }

    /// The same from the dwell and from how full it is.
    pub(super) fn worth(&self, dwell: i64, fill: f64) -> f64 {
        let time = (dwell + self.extra).max(1) as f64;
        time - 0.02 * self.typical * fill * fill
    }

    /// For each lot the shares of the room that it takes.
    pub(super) fn shares(&self) -> Vec<[f64; 3]> {
        let of = |room: f64, bulk: f64| if room > 0.0 { bulk / room } else { 0.0 };
        let all = self.lots.iter();
        all.map(|l| [0, 1, 2].map(|k| of(self.room[k], l.bulk[k])))
            .collect()
    }

    /// What a lot by itself takes in the mean.
    pub(super) fn typical(&self) -> f64 {
        self.typical
    }

    /// Takes some loads apart and fills them anew, each as full as can be, again and again.
    fn search(&self, steps: u32, stop: &AtomicBool, rng: &mut ChaCha8Rng) -> Vec<Load> {
        let mut order: Vec<usize> = (0..self.lots.len()).collect();
        order.sort_by(|&a, &b| {
            let key = |i: usize| (self.lots[i].dwell, self.lots[i].share);
            key(b).partial_cmp(&key(a)).unwrap_or(std::cmp::Ordering::Equal)
        });
        let mut loads = self.fill(order, rng, true);
        let mut cost: f64 = loads.iter().map(|l| self.cost(l)).sum();
        let (mut best, mut least) = (loads.clone(), cost);
        let mut heat = 0.05 * self.typical();
        let cool = libm::pow(0.002, 1.0 / f64::from(steps.max(1)));
        for _ in 0..steps {
            heat *= cool;
            if loads.len() < 2 || stop.load(Ordering::Relaxed) {
                break;
            }
            let (taken, pool) = self.take_apart(&loads, rng);
            let old: f64 = taken.iter().map(|&at| self.cost(&loads[at])).sum();
            let greedy = rng.random_range(0..4) > 0;
            let fresh = self.fill(pool, rng, greedy);
            let new: f64 = fresh.iter().map(|l| self.cost(l)).sum();
            let worse = new - old;
            if worse > 0.0 && rng.random::<f64>() >= libm::exp(-worse / heat) {
                continue;
            }
            let mut at = 0;
            loads.retain(|_| {
                at += 1;
                !taken.contains(&(at - 1))
            });
            loads.extend(fresh);
            cost += worse;
            if cost < least - 1e-6 {
                (best, least) = (loads.clone(), cost);
            }
        }
        best
    }

    fn take_apart(&self, loads: &[Load], rng: &mut ChaCha8Rng) -> (Vec<usize>, Vec<usize>) {
        let many = (2 + rng.random_range(0..4)).min(loads.len());
        let mut taken: Vec<usize> = Vec::with_capacity(many);
        if rng.random_range(0..3) > 0 {
            // One of the loads that are not full comes along: there something can be gained.
            let slack = |l: &Load| share(self.room, l.bulk);
            let tries = (0..4).map(|_| rng.random_range(0..loads.len()));
            let least = tries.min_by(|&a, &b| slack(&loads[a]).total_cmp(&slack(&loads[b])));
            taken.extend(least);
        }
        while taken.len() < many {
            let at = rng.random_range(0..loads.len());
            if !taken.contains(&at) {
                taken.push(at);
            }
        }
        let pool = taken.iter().flat_map(|&at| loads[at].items.clone()).collect();
        (taken, pool)
    }

    /// Fills load after load: each begins with the lot that stays longest or is largest, and is made as full as can be.
    fn fill(&self, mut pool: Vec<usize>, rng: &mut ChaCha8Rng, longest: bool) -> Vec<Load> {
        let mut loads = Vec::new();
        for i in (1..pool.len()).rev() {
            pool.swap(i, rng.random_range(0..=i));
        }
        let rank = |i: usize| (self.lots[i].dwell, self.lots[i].share);
        pool.sort_by(|&a, &b| {
            let order = if longest {
                rank(b).partial_cmp(&rank(a))
            } else {
                self.lots[b].share.partial_cmp(&self.lots[a].share)
            };
            order.unwrap_or(std::cmp::Ordering::Equal)
        });
        while let Some(&first) = pool.first() {
            let mut search = Fullest {
                packing: self,
                pool: &pool,
                most: self.room.map(full),
                best: vec![first],
                fill: -1.0,
                left: 400,
                noise: if rng.random_range(0..3) == 0 { 0.1 } else { 0.0 },
                salt: rng.random(),
            };
            if let Some(start) = self.of(&[first]) {
                search.go(start.bulk, start.window, 1, &mut vec![first]);
            }
            let chosen = search.best;
            pool.retain(|i| !chosen.contains(i));
            loads.extend(self.of(&chosen));
        }
        loads
    }

    fn tell(&self, g: &mut Solution, loads: &[Load]) {
        for (n, load) in loads.iter().enumerate() {
            let lots: Vec<u32> = load.items.iter().map(|&i| self.lots[i].lot).collect();
            let Some(&first) = lots.first() else { continue };
            let tanks: Vec<u32> = self.world.fits[first as usize]
                .iter()
                .map(|&t| self.world.tanks[t as usize].0.0)
                .filter(|&t| self.world.one_load(lots.iter().copied(), t))
                .collect();
            let tank = tanks
                .get(n % tanks.len().max(1))
                .copied()
                .unwrap_or(super::model::NONE);
            set_load(g, &lots, tank);
        }
    }
}

/// Searches the fullest load that begins with given lots, within so many tries.
struct Fullest<'a, 'p> {
    packing: &'p Packing<'a>,
    pool: &'p [usize],
    /// What the room holds at most.
    most: [f64; 3],
    best: Vec<usize>,
    fill: f64,
    left: u32,
    noise: f64,
    salt: u64,
}

impl Fullest<'_, '_> {
    fn go(&mut self, bulk: [f64; 3], window: (i64, i64), from: usize, chosen: &mut Vec<usize>) {
        self.left -= 1;
        let mut value = share(self.packing.room, bulk);
        if self.noise > 0.0 {
            let hash = chosen
                .iter()
                .fold(self.salt, |h, &i| (h ^ i as u64).wrapping_mul(0x0100_0000_01b3));
            value -= self.noise * (hash >> 40) as f64 / (1u64 << 24) as f64;
        }
        if value > self.fill {
            self.fill = value;
            self.best.clone_from(chosen);
        }
        for k in from..self.pool.len() {
            if self.left == 0 || self.fill >= 1.0 - 1e-9 {
                return;
            }
            let item = &self.packing.lots[self.pool[k]];
            let more = [0, 1, 2].map(|k| bulk[k] + item.bulk[k]);
            let both = (window.0.max(item.window.0), window.1.min(item.window.1));
            if more.iter().zip(self.most).all(|(b, m)| *b <= m) && both.0 <= both.1 {
                chosen.push(self.pool[k]);
                self.go(more, both, k + 1, chosen);
                chosen.pop();
            }
        }
    }
}
