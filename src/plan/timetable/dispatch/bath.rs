//! What hands do with loads: lifting, going on after the bath, charging.

use super::super::model::{FAR, NOWHERE, Secs};
use super::super::state::State;
use super::{Dispatcher, Trace, Way, Window};

impl Dispatcher<'_> {
    /// Lifts the load whose latest moment comes first, of those that are due and have room where they go at once.
    pub(super) fn lift(&mut self, trace: &mut impl Trace, off_duty: bool) -> bool {
        let back = if off_duty { self.back() } else { FAR + 1 };
        let mut last = (-1, 0);
        loop {
            let mut best: Option<(Secs, u16)> = None;
            for &load in &self.in_bath {
                let way = &self.loads[load as usize];
                let key = (way.hi, load);
                if way.lo <= self.now && way.hi < back && key > last && best.is_none_or(|b| key < b) {
                    best = Some(key);
                }
            }
            let Some(key) = best else { return false };
            let load = key.1;
            let stage = self.loads[load as usize].stage as usize;
            let work = self.t.work(stage, self.sums[load as usize].pieces);
            let room = self.room(&self.t.stages[stage], NOWHERE);
            if room && self.leaves_time(self.now + work, Some((load, false)), None) {
                self.lifts(load, stage, work, trace);
                return true;
            }
            last = key;
        }
    }

    pub(super) fn lifts(&mut self, load: u16, stage: usize, work: Secs, trace: &mut impl Trace) {
        self.in_bath.retain(|l| *l != load);
        self.after.push(load);
        let (pool, tank) = (self.tank[load as usize] >> 4, self.tank[load as usize] & 15);
        let frees = self.t.stages[stage].frees;
        self.free[pool as usize][tank as usize] = self.now + frees + self.t.pools[pool as usize].recovers;
        self.goes(load, stage, work, trace);
    }

    /// A stage of a load begins.
    pub(super) fn goes(&mut self, load: u16, at: usize, work: Secs, trace: &mut impl Trace) {
        let t = self.t;
        let stage = &t.stages[at];
        let way = self.loads[load as usize];
        let begin = if stage.hands { self.now } else { way.lo };
        let end = if stage.hands {
            self.ends(work, stage.pauses)
        } else {
            begin + work
        };
        if way.hi < FAR {
            self.unwatch(load, false);
            self.breach(begin - way.hi);
        }
        if stage.hands {
            self.take_hands(end);
        }
        let place = self.moves(way, stage, end);
        trace.goes_on(load, at as u16, begin, self.tank[load as usize] & 15);
        let next = Way {
            stage: at as u16 + 1,
            lo: end + stage.least,
            hi: end.saturating_add(stage.most).min(FAR),
            place,
        };
        self.loads[load as usize] = next;
        if next.stage == t.goes_on[self.sums[load as usize].class as usize].1 {
            self.after.retain(|l| *l != load);
            self.over.push(load);
            return;
        }
        if next.hi < FAR {
            let work = t.work(next.stage as usize, self.sums[load as usize].pieces);
            self.watch(Window {
                lo: next.lo,
                hi: next.hi,
                work,
                who: load,
                lot: false,
            });
        }
    }

    /// A lot is ready at last.
    pub(super) fn is_ready(&mut self, order: u16, at: Secs) {
        let o = order as usize;
        self.day.finish = self.day.finish.max(at);
        self.done[o] = self.done[o].max(at);
        self.left[o] -= 1;
        if self.left[o] > 0 {
            return;
        }
        self.open_orders -= 1;
        let late = self.done[o] - self.t.due[o];
        if late > 0 {
            self.day.late += i64::from(late);
            let w = &self.t.weights;
            self.day.cost += self.t.matters[o] * (w.late_order + w.late_minute * f64::from(late) / 60.0);
        }
    }

    /// Loads that have passed their last stage.
    pub(super) fn tell_ready(&mut self, s: &State) {
        while let Some(load) = self.over.pop() {
            let at = self.loads[load as usize].lo;
            for lot in 0..s.load_of.len() {
                if s.load_of[lot] == load {
                    self.is_ready(self.t.lots[lot].order, at);
                }
            }
        }
    }

    /// Goes on with a load that has been in its bath: the one that has waited longest.
    pub(super) fn go_on(&mut self, trace: &mut impl Trace, off_duty: bool) -> bool {
        let back = if off_duty { self.back() } else { FAR + 1 };
        let mut last = (-1, 0);
        loop {
            let mut best: Option<(Secs, u16)> = None;
            for &load in &self.after {
                let way = &self.loads[load as usize];
                let key = (way.lo, load);
                if way.lo <= self.now && key > last && way.hi < back && best.is_none_or(|b| key < b) {
                    best = Some(key);
                }
            }
            let Some(key) = best else { return false };
            last = key;
            let way = self.loads[key.1 as usize];
            let stage = &self.t.stages[way.stage as usize];
            if !stage.hands || !self.room(stage, way.place) {
                continue;
            }
            let work = self.t.work(way.stage as usize, self.sums[key.1 as usize].pieces);
            let end = self.ends(work, stage.pauses);
            if (off_duty || self.before_closing(work, stage.pauses))
                && self.leaves_time(end, Some((key.1, false)), None)
            {
                self.goes(key.1, way.stage as usize, work, trace);
                return true;
            }
        }
    }

    /// The tank of a pool that is free now, and until when a load may be in it.
    pub(super) fn free_tank(&self, pool: usize) -> Option<(usize, Secs)> {
        let mut best: Option<(Secs, usize, Secs)> = None;
        for (tank, hot) in self.t.pools[pool].hot.iter().enumerate() {
            let free = self.free[pool][tank];
            if free > self.now {
                continue;
            }
            let window = hot[self.stretch[pool][tank] as usize];
            if window.0 <= self.now && self.now < window.1 && best.is_none_or(|b| free < b.0) {
                best = Some((free, tank, window.1));
            }
        }
        best.map(|b| (b.1, b.2))
    }

    pub(super) fn charge(&mut self, s: &State, trace: &mut impl Trace) -> bool {
        (0..self.next.len()).any(|pool| self.charge_in(pool, s, trace))
    }

    pub(super) fn charge_in(&mut self, pool: usize, s: &State, trace: &mut impl Trace) -> bool {
        let t = self.t;
        let Some(&load) = s.order.get(self.next[pool]) else {
            return false;
        };
        let l = load as usize;
        if self.todo[l] > 0 || self.loads[l].lo > self.now || s.hold[l] > self.now {
            return false;
        }
        let sum = self.sums[l];
        let at = t.goes_on[sum.class as usize].0 as usize;
        let Some((tank, until)) = self.free_tank(pool) else {
            return false;
        };
        let work = t.work(at, sum.pieces);
        let lift = t.work(at + 1, sum.pieces);
        let end = self.now + work;
        let least = self.stays[l];
        let most = sum.dwell.1.max(least);
        let (lo, hi) = (
            end + least,
            (end + most).min(until - self.lifting(until, at + 1, lift)),
        );
        let window = Window {
            lo,
            hi,
            work: lift,
            who: load,
            lot: false,
        };
        if lo > hi || !self.leaves_time(end, Some((load, false)), Some(window)) {
            return false;
        }
        self.breach(self.now - self.loads[l].hi);
        self.take_hands(end);
        self.tank[l] = ((pool as u8) << 4) | tank as u8;
        self.free[pool][tank] = FAR;
        self.loads[l] = Way {
            stage: at as u16 + 1,
            lo,
            hi,
            place: NOWHERE,
        };
        self.in_bath.push(load);
        self.watch(window);
        trace.goes_on(load, at as u16, self.now, tank as u8);
        self.charged += 1;
        self.next[pool] += 1;
        self.skip_others(s, pool);
        true
    }

    /// How long before the end of its time a load must be lifted at the latest: at closing what follows at once is over too.
    pub(super) fn lifting(&self, until: Secs, stage: usize, work: Secs) -> Secs {
        let closes = self.t.duty.get(self.duty).map_or(FAR, |d| d.closes);
        if until >= closes {
            work
        } else {
            self.t.stages[stage].frees
        }
    }
}
