//! What has its latest moment, and when something can change next.

use super::super::model::{FAR, Secs};
use super::super::state::State;
use super::{AGAIN, Dispatcher, LOOK, Window};

impl Dispatcher<'_> {
    /// Whether everything with a latest moment is still in time if hands are busy until `after`, something new included.
    pub(super) fn leaves_time(&mut self, after: Secs, but: Option<(u16, bool)>, new: Option<Window>) -> bool {
        let now = self.now;
        if self.hands.len() > 1 {
            return self.leaves_time_to_all(after, but, new);
        }
        let (mut at, mut new) = (after, new);
        for w in &self.windows {
            if let Some(n) = new.filter(|n| n.hi < w.hi) {
                at = at.max(n.lo);
                if at > n.hi {
                    return false;
                }
                at += n.work;
                new = None;
            }
            if but.is_some_and(|b| (w.who, w.lot) == b) || w.hi < now {
                continue;
            }
            at = at.max(w.lo);
            if at > w.hi {
                return false;
            }
            at += w.work;
        }
        new.is_none_or(|n| at.max(n.lo) <= n.hi)
    }

    pub(super) fn leaves_time_to_all(
        &mut self,
        after: Secs,
        but: Option<(u16, bool)>,
        new: Option<Window>,
    ) -> bool {
        let now = self.now;
        self.scratch.clone_from(&self.hands);
        take_first(&mut self.scratch, now, after - now);
        let mut new = new;
        for i in 0..self.windows.len() {
            let w = self.windows[i];
            if let Some(n) = new.filter(|n| n.hi < w.hi) {
                if take_first(&mut self.scratch, n.lo, n.work) > n.hi {
                    return false;
                }
                new = None;
            }
            if but.is_some_and(|b| (w.who, w.lot) == b) || w.hi < now {
                continue;
            }
            if take_first(&mut self.scratch, w.lo, w.work) > w.hi {
                return false;
            }
        }
        new.is_none_or(|n| take_first(&mut self.scratch, n.lo, n.work) <= n.hi)
    }

    pub(super) fn watch(&mut self, w: Window) {
        let at = self.windows.partition_point(|o| (o.hi, o.lo) <= (w.hi, w.lo));
        self.windows.insert(at, w);
    }

    pub(super) fn unwatch(&mut self, who: u16, lot: bool) {
        if let Some(at) = self.windows.iter().position(|w| w.who == who && w.lot == lot) {
            self.windows.remove(at);
        }
    }

    /// When something can change next.
    pub(super) fn next_time(&self, s: &State) -> Secs {
        let now = self.now;
        let mut next = FAR;
        let mut at = |time: Secs| {
            if time > now && time < next {
                next = time;
            }
        };
        for &load in self.in_bath.iter().chain(&self.after) {
            at(self.loads[load as usize].lo);
        }
        let duty = self.t.duty.get(self.duty);
        if let Some(duty) = duty.filter(|d| d.from > now) {
            // Nobody is there: only what is in a bath, or wet, goes on.
            at(duty.from);
            return next;
        }
        if duty.is_none() {
            return next;
        }
        if self.put_off {
            // What is foreseen moves with the clock.
            at(now + AGAIN);
        }
        let mut looked = 0;
        for &lot in &self.unprepared {
            let way = &self.lots[lot as usize];
            let planned = &self.t.lots[lot as usize];
            at(way.lo);
            if way.stage == planned.prepares.0 && way.lo > now {
                continue;
            }
            looked += 1;
            if looked > LOOK {
                break;
            }
        }
        for (pool, &cursor) in self.next.iter().enumerate() {
            let Some(&load) = s.order.get(cursor) else {
                continue;
            };
            if self.todo[load as usize] > 0 {
                continue;
            }
            at(self.loads[load as usize].lo);
            at(s.hold[load as usize]);
            for (tank, hot) in self.t.pools[pool].hot.iter().enumerate() {
                at(self.free[pool][tank]);
                let stretch = self.stretch[pool][tank] as usize;
                at(hot[stretch].0);
                if let Some(w) = hot.get(stretch + 1) {
                    at(w.0);
                }
            }
        }
        if !self.plain {
            self.leaving.iter().for_each(|l| at(l.0));
            self.hands.iter().for_each(|h| at(*h));
            if let Some(duty) = duty.filter(|d| d.until < FAR) {
                at(duty.until);
            }
        }
        next
    }
}

/// The hands that are free first turn to something that may begin at `from`. Returns when they begin.
fn take_first(free: &mut [Secs], from: Secs, takes: Secs) -> Secs {
    let Some(first) = free.iter_mut().min() else {
        return FAR;
    };
    let begins = from.max(*first);
    *first = begins + takes;
    begins
}
