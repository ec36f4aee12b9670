//! Builds a day deed by deed. Several beginnings of a day are kept side by side, the most promising of them, and each is
//! carried on by every load in turn. The times of a beginning are the earliest that keep all limits: the least and the
//! longest stays, the hands and their walks, the room of each station. A deed that comes late because of others moves
//! the deeds before it that may not wait so long, and so on until nothing moves; what never comes to rest cannot be.
//! Where limits are narrow, hardly any sequence keeps them, and small changes find none; so days are begun well here.
//! For one pair of hands. The line judges what comes of it.
//!
//! # Known and left
//!
//! - Days are built side by side for one pair of hands only, and not for a day that is under way.

use super::gaps::FAR;
use super::lanes::{Lane, LaneTask, Lanes};
use super::model::{Evaluated, SearchContext, Solution};
use super::try_out::Bench;
use std::collections::BTreeSet;
use std::sync::atomic::{AtomicBool, Ordering};
use tankday_base::units::Moment;

/// None of the deeds.
const NO_DEED: u32 = u32::MAX;
/// Days that are carried to the line at the end.
const TOLD: usize = 4;
/// Most beginnings side by side, and fewest.
const WIDEST: u64 = 600;
const NARROWEST: usize = 4;

/// A deed in its place in the sequence.
#[derive(Debug, Clone, Copy)]
struct Done {
    lane: u16,
    deed: u16,
    at: i64,
    /// The deed of the same lane before.
    before: u32,
    /// The deed of the hands before, if hands are needed.
    hands: u32,
    /// The deed that makes room.
    room: u32,
}

/// The beginning of a day.
#[derive(Debug, Clone)]
struct Begun {
    done: Vec<Done>,
    /// For each lane its next deed, and its last in the sequence.
    next: Vec<u16>,
    last: Vec<u32>,
    /// The last deed of the hands.
    hands: u32,
    /// For each station how many have come, and the deeds by which they left.
    came: Vec<u32>,
    left: Vec<Vec<u32>>,
    /// What the day costs at least, and by how much its loads end late in sum.
    least: f64,
    ends: f64,
}

impl Begun {
    fn none(lanes: &Lanes<'_, '_>) -> Self {
        let stations = lanes.stations();
        Self {
            done: Vec::new(),
            next: vec![0; lanes.all.len()],
            last: vec![NO_DEED; lanes.all.len()],
            hands: NO_DEED,
            came: vec![0; stations],
            left: vec![Vec::new(); stations],
            least: 0.0,
            ends: 0.0,
        }
    }

    fn end(&self, lanes: &Lanes<'_, '_>, at: u32) -> i64 {
        let done = &self.done[at as usize];
        done.at + lanes.deed(done.lane, done.deed).long
    }

    /// Whether a lane is through.
    fn is_through(&self, lanes: &Lanes<'_, '_>, lane: usize) -> bool {
        self.next[lane] as usize >= lanes.all[lane].deeds.len()
    }

    /// Whether the next deed of a lane may come next: it has one, those that it waits for are through, and there is room
    /// for it, and for what follows without any wait.
    fn may(&self, lanes: &Lanes<'_, '_>, lane: usize) -> bool {
        let next = self.next[lane] as usize;
        let Some(deed) = lanes.all[lane].deeds.get(next) else {
            return false;
        };
        let gathered = next > 0 || lanes.all[lane].after.iter().all(|&l| self.is_through(lanes, l));
        let then = lanes.all[lane].deeds.get(next + 1);
        let at_once = then.filter(|d| !d.hands && d.most == 0 && d.enters.map(|e| e.0) != deed.leaves);
        gathered && self.has_room(deed) && at_once.is_none_or(|d| self.has_room(d))
    }

    /// Whether somebody has left, in this sequence, where a deed leads to.
    fn has_room(&self, deed: &LaneTask) -> bool {
        deed.enters
            .is_none_or(|(place, room)| self.left[place].len() as u32 + room > self.came[place])
    }

    /// The next deed of a lane, and with it all that follow without hands.
    fn go_on(&mut self, lanes: &Lanes<'_, '_>, lane: usize) {
        loop {
            self.put(lanes, lane);
            let next = lanes.all[lane].deeds.get(self.next[lane] as usize);
            if next.is_none_or(|d| d.hands) || !self.may(lanes, lane) {
                break;
            }
        }
    }

    fn put(&mut self, lanes: &Lanes<'_, '_>, lane: usize) {
        let deed = &lanes.all[lane].deeds[self.next[lane] as usize];
        let here = self.done.len() as u32;
        let mut room = NO_DEED;
        if let Some((place, most)) = deed.enters {
            let nth = self.came[place].checked_sub(most);
            room = nth
                .and_then(|n| self.left[place].get(n as usize).copied())
                .unwrap_or(NO_DEED);
            self.came[place] += 1;
        }
        if let Some(place) = deed.leaves {
            self.left[place].push(here);
        }
        self.done.push(Done {
            lane: lane as u16,
            deed: self.next[lane],
            at: 0,
            before: self.last[lane],
            hands: if deed.hands { self.hands } else { NO_DEED },
            room,
        });
        if deed.hands {
            self.hands = here;
        }
        self.next[lane] += 1;
        self.last[lane] = here;
    }

    /// Moves every deed to the earliest time that keeps all limits. False if there is none.
    fn come_to_rest(&mut self, lanes: &Lanes<'_, '_>) -> bool {
        for _ in 0..self.done.len() + 4 {
            let moved = self.push_later(lanes) | self.draw_after(lanes) | self.draw_for_hands(lanes);
            if !moved {
                return true;
            }
        }
        false
    }

    /// Nothing begins before what it needs is there.
    fn push_later(&mut self, lanes: &Lanes<'_, '_>) -> bool {
        let mut moved = false;
        for i in 0..self.done.len() {
            let done = self.done[i];
            let lane = &lanes.all[done.lane as usize];
            let deed = &lane.deeds[done.deed as usize];
            let mut at = done.at;
            if done.before == NO_DEED {
                let gathered = lane.after.iter().map(|&l| self.last[l]);
                let there = gathered.filter(|&l| l != NO_DEED).map(|l| self.end(lanes, l));
                at = there.fold(at.max(lane.there), i64::max);
            } else {
                at = at.max(self.end(lanes, done.before) + deed.least);
            }
            if done.hands != NO_DEED {
                at = at.max(self.end(lanes, done.hands) + self.walk(lanes, done.hands, deed.from));
            }
            if done.room != NO_DEED {
                at = at.max(self.end(lanes, done.room));
            }
            if let Some((place, _)) = deed.enters {
                at = at.max(lanes.first(place));
            }
            if deed.hands {
                at = lanes.open(at, deed.long);
            }
            moved |= at > done.at;
            self.done[i].at = at;
        }
        moved
    }

    /// What may not wait so long for the next deed of its lane comes later.
    fn draw_after(&mut self, lanes: &Lanes<'_, '_>) -> bool {
        let mut moved = false;
        for i in (0..self.done.len()).rev() {
            let done = self.done[i];
            let lane = &lanes.all[done.lane as usize];
            let most = lane.deeds[done.deed as usize].most;
            if most >= FAR {
                continue;
            }
            if done.before != NO_DEED {
                moved |= self.draw(lanes, done.before, done.at - most);
            } else {
                for &l in &lane.after {
                    moved |= self.draw(lanes, self.last[l], done.at - most);
                }
            }
        }
        moved
    }

    /// The same for deeds to come: they are no earlier than hands are there.
    fn draw_for_hands(&mut self, lanes: &Lanes<'_, '_>) -> bool {
        let mut moved = false;
        if self.hands == NO_DEED {
            return false;
        }
        for (n, lane) in lanes.all.iter().enumerate() {
            let Some(deed) = lane
                .deeds
                .get(self.next[n] as usize)
                .filter(|d| d.hands && d.most < FAR)
            else {
                continue;
            };
            if self.last[n] != NO_DEED && self.last[n] != self.hands {
                let there = self.end(lanes, self.hands) + self.walk(lanes, self.hands, deed.from);
                moved |= self.draw(lanes, self.last[n], there - deed.most);
            }
        }
        moved
    }

    /// A deed ends no earlier than this.
    fn draw(&mut self, lanes: &Lanes<'_, '_>, at: u32, end: i64) -> bool {
        if at == NO_DEED {
            return false;
        }
        let by = end - self.end(lanes, at);
        if by > 0 {
            self.done[at as usize].at += by;
        }
        by > 0
    }

    fn walk(&self, lanes: &Lanes<'_, '_>, from: u32, to: usize) -> i64 {
        let done = &self.done[from as usize];
        lanes.walk(lanes.deed(done.lane, done.deed).to, to)
    }

    /// What the day comes to at least when it is carried on from here.
    fn reckon(&mut self, lanes: &Lanes<'_, '_>) {
        let free = if self.hands == NO_DEED {
            0
        } else {
            self.end(lanes, self.hands)
        };
        let mut ends = vec![0i64; lanes.all.len()];
        let mut work = 0;
        // Lanes stand behind those that they wait for.
        for (n, lane) in lanes.all.iter().enumerate() {
            let next = self.next[n] as usize;
            work += lane.work.get(next).copied().unwrap_or(0);
            let mut from = lane.after.iter().map(|&l| ends[l]).fold(lane.there, i64::max);
            if self.last[n] != NO_DEED {
                from = self.end(lanes, self.last[n]);
            }
            ends[n] = match lane.deeds.get(next) {
                None => from,
                Some(deed) => {
                    let mut at = from + if next > 0 { deed.least } else { 0 };
                    if deed.hands && self.hands != NO_DEED {
                        at = at.max(free + self.walk(lanes, self.hands, deed.from));
                    }
                    at + lane.rest[next]
                }
            };
        }
        let finish = ends.iter().copied().fold(free + work, i64::max);
        self.least = lanes.cost(&ends, finish);
        self.ends = ends.iter().map(|&e| e as f64).sum();
    }

    /// What decides how it can go on: two beginnings that agree in it are one.
    fn mark(&self, lanes: &Lanes<'_, '_>) -> Vec<i64> {
        let mut each: Vec<[i64; 3]> = lanes
            .all
            .iter()
            .enumerate()
            .map(|(n, lane)| {
                let at = if self.last[n] == NO_DEED {
                    0
                } else {
                    self.end(lanes, self.last[n])
                };
                [i64::from(lane.kind), i64::from(self.next[n]), at]
            })
            .collect();
        each.sort_unstable();
        let mut mark: Vec<i64> = each.into_iter().flatten().collect();
        if self.hands != NO_DEED {
            let done = &self.done[self.hands as usize];
            mark.push(self.end(lanes, self.hands));
            mark.push(lanes.deed(done.lane, done.deed).to as i64);
        }
        mark
    }
}

impl SearchContext<'_> {
    /// Days that are built side by side from the loads of a decision; none where nothing may not wait.
    pub(super) fn abreast(
        &self,
        from: &(Solution, Evaluated),
        days: u64,
        stop: &AtomicBool,
        bench: &mut Bench,
    ) -> Vec<(Solution, Evaluated)> {
        let wide = |deeds: usize, lanes: usize| (days / (8 * deeds * lanes).max(1) as u64).min(WIDEST);
        let heads = (0..self.lots()).filter(|&l| from.0.head[l] as usize == l).count();
        if wide(heads, heads) < NARROWEST as u64 {
            return Vec::new();
        }
        let Some(lanes) = self.lanes(&from.0, &from.1) else {
            return Vec::new();
        };
        let deeds: usize = lanes.all.iter().map(Lane::steps).sum();
        // To look at a beginning takes about as long as an eighth of a simulated day.
        let widest = wide(deeds, lanes.all.len());
        // Where all beginnings end in nothing, others may not: which are kept depends on how many.
        [6, 5, 4, 3, 2]
            .into_iter()
            .map(|sixths| (widest * sixths / 6) as usize)
            .filter(|wide| *wide >= NARROWEST)
            .map(|wide| whole(&lanes, wide, stop))
            .find(|found| !found.is_empty())
            .into_iter()
            .flatten()
            .filter_map(|b| self.told(&b, &lanes, &from.0, bench))
            .collect()
    }

    /// A day that was built, as the line runs it.
    fn told(
        &self,
        begun: &Begun,
        lanes: &Lanes<'_, '_>,
        g: &Solution,
        bench: &mut Bench,
    ) -> Option<(Solution, Evaluated)> {
        let mut g = g.clone();
        let mut times = vec![Moment::ZERO; g.key.len()];
        for (i, done) in begun.done.iter().enumerate() {
            let task = lanes.deed(done.lane, done.deed).task as usize;
            times[task] = Moment::micros(done.at);
            g.key[task] = (i as i64) << 16;
        }
        self.share_keys(&mut g);
        self.push_later(&mut g);
        let at = self.try_at(&g, &times, f64::INFINITY, bench);
        let by_itself = self.try_out(&g, true, f64::INFINITY, bench);
        at.into_iter()
            .chain(by_itself)
            .min_by(|a, b| a.judged.cost.total_cmp(&b.judged.cost))
            .map(|tried| (g, tried))
    }
}

/// Whole days, built with so many beginnings side by side; the best first.
fn whole(lanes: &Lanes<'_, '_>, wide: usize, stop: &AtomicBool) -> Vec<Begun> {
    let mut begun = vec![Begun::none(lanes)];
    let mut through: Vec<Begun> = Vec::new();
    while !begun.is_empty() && !stop.load(Ordering::Relaxed) {
        let mut next: Vec<Begun> = Vec::new();
        for one in &begun {
            for lane in (0..lanes.all.len()).filter(|&l| one.may(lanes, l)) {
                let mut more = one.clone();
                more.go_on(lanes, lane);
                if more.come_to_rest(lanes) {
                    more.reckon(lanes);
                    next.push(more);
                }
            }
        }
        next.sort_by(|a, b| a.least.total_cmp(&b.least).then(a.ends.total_cmp(&b.ends)));
        let mut seen = BTreeSet::new();
        next.retain(|b| seen.len() < wide && seen.insert(b.mark(lanes)));
        let (ready, open): (Vec<Begun>, Vec<Begun>) = next
            .into_iter()
            .partition(|b| (0..lanes.all.len()).all(|l| b.is_through(lanes, l)));
        through.extend(ready);
        begun = open;
    }
    through.sort_by(|a, b| a.least.total_cmp(&b.least));
    through.truncate(TOLD);
    through
}
