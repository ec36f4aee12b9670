//! Small changes of a decision: other tasks first, other loads, other tanks.

use super::model::{Evaluated, NONE, SearchContext, Solution};
use super::ways::{Move, Ways};
use rand::RngExt;
use rand::rngs::ChaCha8Rng;
use tankday_base::units::Moment;

/// Between two neighbours in a sequence there is room for this many keys.
const GAP: i64 = 1 << 16;

impl SearchContext<'_> {
    /// Keys in the order in which the tasks really began, so that neighbours in time are neighbours in the sequence.
    pub(super) fn in_order_of_time(&self, g: &mut Solution, tried: &Evaluated) {
        let mut tasks: Vec<u32> = (0..g.key.len() as u32)
            .filter(|&t| tried.begun[t as usize] < Moment::NEVER)
            .collect();
        tasks.sort_by_key(|&t| (tried.begun[t as usize], g.key[t as usize], t));
        for (i, &t) in tasks.iter().enumerate() {
            g.key[t as usize] = i as i64 * GAP;
        }
        self.share_keys(g);
        self.push_later(g);
    }

    /// All lots of a load carry its keys, so that any of them can become its head.
    pub(super) fn share_keys(&self, g: &mut Solution) {
        for lot in 0..self.lots() {
            let head = g.head[lot] as usize;
            if head != lot {
                for (own, of) in self.within[lot].iter().zip(&self.within[head]) {
                    g.key[*own as usize] = g.key[*of as usize];
                }
            }
        }
    }

    /// Changes something at random, with an eye to what keeps the last load or a late one waiting. Returns how,
    /// and the times of all tasks where they are known.
    pub(super) fn change(
        &self,
        g: &mut Solution,
        tried: &Evaluated,
        ways: &Ways,
        rng: &mut ChaCha8Rng,
    ) -> (Move, Option<Vec<Moment>>) {
        if !self.shop.aim.overtaking {
            self.move_load(g, rng);
            return (Move::PlaceLoad, None);
        }
        let mut times = None;
        let way = ways.pick(!self.tanks.is_empty(), !tried.care.is_empty(), rng);
        match way {
            Move::Regroup => self.regroup(g, rng),
            Move::PlaceLoad => self.move_load(g, rng),
            Move::PlaceTask => self.move_task(g, tried, rng),
            Move::ShiftLoad => self.shift_load(g, tried, rng),
            Move::Serve => self.serve_earlier(g, tried, rng),
            Move::PutBack => times = self.put_back(g, tried, rng),
            Move::Swap if self.swap_on_the_way(g, tried, rng) => {}
            Move::Swap => self.move_task(g, tried, rng),
        }
        (way, times)
    }

    /// Tasks that began, by time.
    fn sequence(&self, g: &Solution) -> Vec<u32> {
        let mut all = Vec::with_capacity(g.key.len());
        self.in_order(g, &mut all);
        all.into_iter().map(|k| k.1).collect()
    }

    /// One task goes earlier or later in the sequence.
    fn move_task(&self, g: &mut Solution, _tried: &Evaluated, rng: &mut ChaCha8Rng) {
        let all = self.sequence(g);
        if all.len() < 2 {
            return;
        }
        let from = rng.random_range(0..all.len());
        let far = if rng.random_range(0..4) == 0 { all.len() } else { 8 };
        let by = 1 + rng.random_range(0..far.min(all.len() - 1));
        let task = all[from] as usize;
        if rng.random_range(0..2) == 0 {
            let to = from.saturating_sub(by);
            g.key[task] = g.key[all[to] as usize] - 1;
            self.pull_earlier(g);
        } else {
            let to = (from + by).min(all.len() - 1);
            g.key[task] = g.key[all[to] as usize] + 1;
            self.push_later(g);
        }
    }

    /// Follows what keeps a load waiting back from its end, and lets two tasks that meet there change places.
    fn swap_on_the_way(&self, g: &mut Solution, tried: &Evaluated, rng: &mut ChaCha8Rng) -> bool {
        let mut found: Vec<(u32, u32)> = Vec::new();
        let all = self.sequence(g);
        let Some(mut task) = self.one_end(&all, tried, rng) else {
            return false;
        };
        for _ in 0..all.len() {
            let at = tried.begun[task as usize];
            let chain = self.just_before(task, g);
            let met = chain.is_some_and(|c| self.free_at(c, tried) >= at);
            let rival = all
                .iter()
                .copied()
                .filter(|&t| t != task && self.same_queue(t, task))
                .find(|&t| self.free_at(t, tried) == at && tried.begun[t as usize] < at);
            match (met, rival, chain) {
                (false, Some(r), _) => {
                    found.push((r, task));
                    task = r;
                }
                (true, Some(r), Some(c)) => {
                    found.push((r, task));
                    task = if rng.random_range(0..2) == 0 { r } else { c };
                }
                (_, None, Some(c)) => task = c,
                (_, None, None) | (true, Some(_), None) => break,
            }
        }
        if found.is_empty() {
            return false;
        }
        let (first, second) = found[rng.random_range(0..found.len())];
        if rng.random_range(0..8) > 0 {
            g.key[first as usize] = g.key[second as usize] + 1;
            self.push_later(g);
        } else {
            g.key[second as usize] = g.key[first as usize] - 1;
            self.pull_earlier(g);
        }
        true
    }

    /// The last task of a load that is late or ready last.
    fn one_end(&self, all: &[u32], tried: &Evaluated, rng: &mut ChaCha8Rng) -> Option<u32> {
        let late: Vec<u32> = (0..self.lots() as u32)
            .filter(|&l| {
                let order = self.blank.lots[l as usize].order as usize;
                let last = self.within[l as usize].last().or(self.before[l as usize].last());
                last.is_some_and(|&t| {
                    let end = tried.ended[t as usize];
                    end < Moment::NEVER && end > self.dues[order]
                })
            })
            .collect();
        if !late.is_empty() && rng.random_range(0..3) > 0 {
            let lot = late[rng.random_range(0..late.len())] as usize;
            return self.within[lot].last().or(self.before[lot].last()).copied();
        }
        all.iter()
            .copied()
            .filter(|&t| tried.begun[t as usize] < Moment::NEVER)
            .max_by_key(|&t| (self.free_at(t, tried), t))
    }

    /// When what a task holds is free again.
    fn free_at(&self, task: u32, tried: &Evaluated) -> Moment {
        let end = tried.ended[task as usize];
        if end < Moment::NEVER {
            end
        } else {
            tried.begun[task as usize]
        }
    }

    /// The task of the same load just before.
    fn just_before(&self, task: u32, g: &Solution) -> Option<u32> {
        let (lot, _) = self.owner[task as usize];
        let list = &self.within[lot as usize];
        if let Some(i) = list.iter().position(|&t| t == task) {
            if i > 0 {
                return Some(list[i - 1]);
            }
            return (0..self.lots())
                .filter(|&l| g.head[l] == g.head[lot as usize])
                .filter_map(|l| self.before[l].last().copied())
                .max_by_key(|&t| g.key[t as usize]);
        }
        let list = &self.before[lot as usize];
        let i = list.iter().position(|&t| t == task)?;
        i.checked_sub(1).map(|i| list[i])
    }

    fn same_queue(&self, a: u32, b: u32) -> bool {
        self.blank.same_queue(a, b)
    }

    /// All tasks of one load go earlier or later by the same time, past whatever stands there.
    fn shift_load(&self, g: &mut Solution, tried: &Evaluated, rng: &mut ChaCha8Rng) {
        let began = |t: usize| tried.begun[t] < Moment::NEVER;
        for t in (0..g.key.len()).filter(|&t| began(t)) {
            g.key[t] = tried.begun[t].in_micros() * 4 + 2;
        }
        self.share_keys(g);
        self.push_later(g);
        let lot = rng.random_range(0..self.lots());
        let tasks: Vec<u32> = self.before[lot]
            .iter()
            .chain(&self.within[lot])
            .copied()
            .collect();
        let from = if rng.random_range(0..2) == 0 {
            0
        } else {
            rng.random_range(0..tasks.len().max(1))
        };
        let reach = (tried.judged.finish - Moment::ZERO).in_micros().max(8);
        let far = reach / if rng.random_range(0..2) == 0 { 4 } else { 20 };
        let by = 4 * rng.random_range(-far - 1..far + 1);
        for &t in tasks.iter().skip(from) {
            g.key[t as usize] += by;
        }
        if by < 0 {
            self.pull_earlier(g);
        } else {
            self.push_later(g);
        }
        self.share_keys(g);
    }

    /// A whole load changes its place with another, or goes before or behind it.
    fn move_load(&self, g: &mut Solution, rng: &mut ChaCha8Rng) {
        let heads: Vec<u32> = (0..self.lots() as u32)
            .filter(|&l| g.head[l as usize] == l)
            .collect();
        if heads.len() < 2 {
            return;
        }
        let mut order = heads;
        let first = |w: &Self, h: u32, g: &Solution| {
            let list = if w.within[h as usize].is_empty() {
                &w.before[h as usize]
            } else {
                &w.within[h as usize]
            };
            list.first().map_or(0, |&t| g.key[t as usize])
        };
        order.sort_by_key(|&h| (first(self, h, g), h));
        let i = rng.random_range(0..order.len());
        let j = (i + 1 + rng.random_range(0..order.len() - 1)) % order.len();
        if !self.shop.aim.overtaking {
            if rng.random_range(0..3) == 0 {
                order.swap(i, j);
            } else {
                let load = order.remove(i);
                order.insert(j.min(order.len()), load);
            }
            for (place, &h) in order.iter().enumerate() {
                for (k, &t) in self.before[h as usize]
                    .iter()
                    .chain(&self.within[h as usize])
                    .enumerate()
                {
                    g.key[t as usize] = (place as i64) * GAP + k as i64;
                }
            }
            return;
        }
        let (a, b) = (order[i] as usize, order[j] as usize);
        for (&s, &t) in self.within[a].iter().zip(&self.within[b]) {
            g.key.swap(s as usize, t as usize);
        }
        // Loads that pass no bath have all their tasks before it.
        if self.within[a].is_empty() && self.within[b].is_empty() {
            for (&s, &t) in self.before[a].iter().zip(&self.before[b]) {
                g.key.swap(s as usize, t as usize);
            }
        }
        if rng.random_range(0..2) == 0 {
            self.push_later(g)
        } else {
            self.pull_earlier(g)
        }
        self.share_keys(g);
    }

    /// Lots change their loads.
    fn regroup(&self, g: &mut Solution, rng: &mut ChaCha8Rng) {
        let bathed: Vec<u32> = (0..self.lots() as u32)
            .filter(|&l| !self.fits[l as usize].is_empty())
            .collect();
        if bathed.is_empty() {
            return;
        }
        let a = bathed[rng.random_range(0..bathed.len())];
        let alike: Vec<u32> = bathed
            .iter()
            .copied()
            .filter(|&l| {
                self.class[l as usize] == self.class[a as usize] && g.head[l as usize] != g.head[a as usize]
            })
            .collect();
        let dice = rng.random_range(0..100);
        if dice < 5 || (alike.is_empty() && dice < 30) {
            return self.alone(g, a);
        }
        if dice < 15 || alike.is_empty() {
            return self.other_tank(g, a, rng);
        }
        let b = alike[rng.random_range(0..alike.len())];
        if dice < 60 {
            self.exchange(g, a, b)
        } else {
            self.join(g, a, b)
        }
    }

    pub(super) fn members(&self, g: &Solution, head: u32) -> Vec<u32> {
        (0..self.lots() as u32)
            .filter(|&l| g.head[l as usize] == head)
            .collect()
    }

    fn alone(&self, g: &mut Solution, lot: u32) {
        let old: Vec<u32> = self
            .members(g, g.head[lot as usize])
            .into_iter()
            .filter(|&l| l != lot)
            .collect();
        if old.is_empty() {
            return;
        }
        let tank = g.tank[g.head[lot as usize] as usize];
        set_load(g, &old, tank);
        set_load(g, &[lot], tank);
        self.push_later(g);
    }

    fn other_tank(&self, g: &mut Solution, lot: u32, rng: &mut ChaCha8Rng) {
        let fits = &self.fits[lot as usize];
        let tank = self.tanks[fits[rng.random_range(0..fits.len())] as usize].0.0;
        let head = g.head[lot as usize];
        let all = self.members(g, head);
        if self.one_load(all.iter().copied(), tank) {
            set_load(g, &all, tank);
        }
    }

    /// `a` goes to the load of `b`.
    fn join(&self, g: &mut Solution, a: u32, b: u32) {
        let (from, to) = (g.head[a as usize], g.head[b as usize]);
        let mut new = self.members(g, to);
        new.push(a);
        let tank = g.tank[to as usize];
        if !self.one_load(new.iter().copied(), tank) {
            return;
        }
        let old: Vec<u32> = self.members(g, from).into_iter().filter(|&l| l != a).collect();
        let old_tank = g.tank[from as usize];
        set_load(g, &old, old_tank);
        for (own, of) in self.within[a as usize].iter().zip(&self.within[to as usize]) {
            g.key[*own as usize] = g.key[*of as usize];
        }
        set_load(g, &new, tank);
        self.push_later(g);
    }

    fn exchange(&self, g: &mut Solution, a: u32, b: u32) {
        let (of_a, of_b) = (g.head[a as usize], g.head[b as usize]);
        let swap = |list: Vec<u32>, out: u32, into: u32| -> Vec<u32> {
            list.into_iter()
                .map(|l| if l == out { into } else { l })
                .collect()
        };
        let (tank_a, tank_b) = (g.tank[of_a as usize], g.tank[of_b as usize]);
        let new_a = swap(self.members(g, of_a), a, b);
        let new_b = swap(self.members(g, of_b), b, a);
        if !self.one_load(new_a.iter().copied(), tank_a) || !self.one_load(new_b.iter().copied(), tank_b) {
            return;
        }
        for (own, of) in self.within[a as usize].iter().zip(&self.within[b as usize]) {
            g.key.swap(*own as usize, *of as usize);
        }
        set_load(g, &new_a, tank_a);
        set_load(g, &new_b, tank_b);
        self.push_later(g);
    }
}

/// These lots are one load from now on.
pub(super) fn set_load(g: &mut Solution, lots: &[u32], tank: u32) {
    let head = lots.iter().copied().min().unwrap_or(NONE);
    for &l in lots {
        g.head[l as usize] = head;
        g.tank[l as usize] = tank;
    }
}
