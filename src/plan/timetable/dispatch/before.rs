//! What hands do with lots before their bath, and what goes on by itself. A lot does not go on so early that it would
//! wait too long before its bath.

use super::super::model::{FAR, NOWHERE, Secs};
use super::super::state::State;
use super::{Dispatcher, LOOK, Trace, Way, Window};

impl Dispatcher<'_> {
    /// Goes on with a lot before its bath: takes it out of where it stands (`clear`), or begins with the next.
    pub(super) fn prepare(&mut self, s: &State, clear: bool, trace: &mut impl Trace) -> bool {
        if clear && self.standing == 0 {
            return false;
        }
        let mut looked = 0;
        for i in 0..self.unprepared.len() {
            let lot = self.unprepared[i];
            let way = self.lots[lot as usize];
            if way.lo > self.now && way.stage == self.t.lots[lot as usize].prepares.0 {
                continue;
            }
            looked += 1;
            if looked > LOOK {
                break;
            }
            if way.lo <= self.now && (way.place != NOWHERE) == clear && self.prepares(s, lot, way, trace) {
                return true;
            }
        }
        false
    }

    pub(super) fn prepares(&mut self, s: &State, lot: u16, way: Way, trace: &mut impl Trace) -> bool {
        let t = self.t;
        let stage = &t.stages[way.stage as usize];
        if !stage.hands || !self.room(stage, way.place) {
            return false;
        }
        let work = t.work(way.stage as usize, t.lots[lot as usize].pieces);
        let end = self.ends(work, stage.pauses);
        if !self.before_closing(work, stage.pauses) || !self.leaves_time(end, Some((lot, true)), None) {
            return false;
        }
        if stage.place != NOWHERE {
            let out = way.stage as usize + 1;
            let until = end + stage.least + t.stages.get(out).map_or(0, |s| s.work);
            if !self.keeps_room(stage, (lot, until)) {
                return false;
            }
        }
        if self.too_early(s, lot, way) {
            self.put_off = true;
            return false;
        }
        self.is_prepared(s, lot, way, end, trace);
        true
    }

    pub(super) fn is_prepared(&mut self, s: &State, lot: u16, way: Way, end: Secs, trace: &mut impl Trace) {
        let t = self.t;
        let stage = &t.stages[way.stage as usize];
        let planned = &t.lots[lot as usize];
        let begin = if stage.hands { self.now } else { way.lo };
        if way.hi < FAR {
            self.unwatch(lot, true);
            self.breach(begin - way.hi);
        }
        if stage.hands {
            self.take_hands(end);
        }
        let place = self.moves(way, stage, end);
        trace.prepares(lot, way.stage, begin);
        self.standing += u32::from(place != NOWHERE);
        self.standing -= u32::from(way.place != NOWHERE);
        let next = Way {
            stage: way.stage + 1,
            lo: end + stage.least,
            hi: end.saturating_add(stage.most).min(FAR),
            place,
        };
        self.lots[lot as usize] = next;
        if next.stage < planned.prepares.1 {
            if next.hi < FAR {
                let work = t.work(next.stage as usize, planned.pieces);
                self.watch(Window {
                    lo: next.lo,
                    hi: next.hi,
                    work,
                    who: lot,
                    lot: true,
                });
            }
            return;
        }
        self.unprepared.retain(|l| *l != lot);
        if planned.pools == 0 {
            self.is_ready(planned.order, next.lo);
            return;
        }
        let load = s.load_of[lot as usize] as usize;
        self.todo[load] -= 1;
        let stands = &mut self.loads[load];
        stands.lo = stands.lo.max(next.lo);
        stands.hi = stands.hi.min(next.lo.saturating_add(planned.waits).min(FAR));
    }

    /// Whether a lot that goes on now would wait too long before its bath, as far as can be foreseen.
    pub(super) fn too_early(&self, s: &State, lot: u16, way: Way) -> bool {
        let planned = &self.t.lots[lot as usize];
        if planned.waits >= FAR {
            return false;
        }
        let load = s.load_of[lot as usize];
        let rest = self.rest[lot as usize][usize::from(way.stage - planned.prepares.0)];
        self.foreseen(s, load) - planned.waits - rest > self.now
    }

    /// When a load can go in at the earliest, as far as can be foreseen.
    pub(super) fn foreseen(&self, s: &State, load: u16) -> Secs {
        let pool = s.pool[load as usize] as usize;
        let tanks = self.t.pools[pool].hot.len() as Secs;
        let mut work = 0;
        for &k in &self.in_bath {
            if (self.tank[k as usize] >> 4) as usize == pool {
                work += (self.loads[k as usize].lo - self.now).max(0);
            }
        }
        if let Some(&next) = s.order.get(self.next[pool]) {
            work += (self.ahead[load as usize] - self.ahead[next as usize]).max(0);
        }
        let at = self.now + work / tanks.max(1);
        let hot = &self.t.pools[pool].hot;
        let open = |(w, now): (&Vec<(Secs, Secs)>, &u16)| {
            let later = w.get(*now as usize..).unwrap_or_default();
            later.iter().find(|w| w.1 > at).map_or(at, |w| w.0.max(at))
        };
        let first = hot.iter().zip(&self.stretch[pool]).map(open).min();
        first.unwrap_or(at).max(s.hold[load as usize])
    }

    /// What needs no hands begins as soon as there is room.
    pub(super) fn by_itself(&mut self, s: &State, trace: &mut impl Trace) -> bool {
        let t = self.t;
        for i in 0..self.after.len() {
            let load = self.after[i];
            let way = self.loads[load as usize];
            let stage = &t.stages[way.stage as usize];
            if !stage.hands && way.lo <= self.now && self.room(stage, way.place) {
                let work = t.work(way.stage as usize, self.sums[load as usize].pieces);
                self.goes(load, way.stage as usize, work, trace);
                return true;
            }
        }
        let mut looked = 0;
        for i in 0..self.unprepared.len() {
            let lot = self.unprepared[i];
            let way = self.lots[lot as usize];
            let planned = &t.lots[lot as usize];
            if way.lo > self.now {
                continue;
            }
            looked += 1;
            if looked > LOOK {
                break;
            }
            let stage = &t.stages[way.stage as usize];
            if !stage.hands && self.room(stage, way.place) {
                if self.too_early(s, lot, way) {
                    self.put_off = true;
                    continue;
                }
                let work = t.work(way.stage as usize, planned.pieces);
                self.is_prepared(s, lot, way, way.lo.max(planned.there) + work, trace);
                return true;
            }
        }
        false
    }

    /// How long loads stay, and how much time those take that go before them.
    pub(super) fn foresee(&mut self, s: &State) {
        let t = self.t;
        let mut sum = [0; 32];
        for &load in &s.order {
            let l = load as usize;
            let own = &self.sums[l];
            let seen = (!t.seen.is_empty()).then(|| t.seen.get(&own.name)).flatten();
            self.stays[l] = seen.copied().unwrap_or(own.dwell.0);
            let Some(before) = sum.get_mut(s.pool[l] as usize) else {
                continue;
            };
            self.ahead[l] = *before;
            let at = t.goes_on[own.class as usize].0 as usize;
            *before += self.stays[l] + t.stages[at].work + t.stages[at + 1].frees;
        }
    }
}
