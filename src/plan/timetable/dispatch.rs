//! Turns a decision into a complete day. At every moment at which hands are free they turn to the first thing that may
//! begin; before anything begins, every lift and every other thing that has its latest moment must still be in time
//! afterwards, taken in the order of their latest moments. So no load stays too long, whatever was decided.

use super::model::{FAR, Lot, NOWHERE, Secs, Stage, Timetable};
use super::state::{Kind, State, Sum};

/// So many lots in preparation are looked at for the next thing to do.
const LOOK: usize = 4;
/// After so long it is foreseen anew when a bath will be free.
const AGAIN: Secs = 300;
/// What a limit costs that is not kept, and each minute of it; what an order costs that is not ready.
const BREACH: f64 = 1e6;
const BREACH_MINUTE: f64 = 1e3;
const UNREADY: f64 = 1e9;

/// Something that must begin within a window.
#[derive(Debug, Clone, Copy)]
struct Window {
    lo: Secs,
    hi: Secs,
    work: Secs,
    /// A load, or a lot in preparation.
    who: u16,
    lot: bool,
}

/// A load or a lot on its way.
#[derive(Debug, Clone, Copy)]
struct Way {
    /// Its next stage.
    stage: u16,
    /// When that may begin, at the earliest and at the latest.
    lo: Secs,
    hi: Secs,
    /// Where it stays until then.
    place: u8,
}

const OFF: Way = Way {
    stage: 0,
    lo: 0,
    hi: FAR,
    place: NOWHERE,
};

/// Hears what begins when.
pub(super) trait Trace {
    /// A stage of a lot before its bath.
    fn prepares(&mut self, _lot: u16, _stage: u16, _at: Secs) {}
    /// A stage of a load from its bath on, and the tank within its pool.
    fn goes_on(&mut self, _load: u16, _stage: u16, _at: Secs, _tank: u8) {}
}

impl Trace for () {}

/// How a day came out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Day {
    pub(super) cost: f64,
    pub(super) finish: Secs,
    pub(super) late: i64,
    pub(super) breaches: u32,
    pub(super) unready: u32,
}

/// Room for a day, used again for the next.
pub(super) struct Dispatcher<'t> {
    t: &'t Timetable,
    pub(super) sums: Vec<Sum>,
    position: Vec<u16>,
    queue: Vec<u16>,
    keys: Vec<i32>,
    lots: Vec<Way>,
    loads: Vec<Way>,
    todo: Vec<u16>,
    tank: Vec<u8>,
    in_bath: Vec<u16>,
    after: Vec<u16>,
    used: Vec<u32>,
    leaving: Vec<(Secs, u8)>,
    free: Vec<[Secs; 16]>,
    next: Vec<usize>,
    windows: Vec<Window>,
    hands: Vec<Secs>,
    scratch: Vec<Secs>,
    left: Vec<u16>,
    done: Vec<Secs>,
    per_order: Vec<u16>,
    first: usize,
    duty: usize,
    now: Secs,
    open_orders: usize,
    day: Day,
    plain: bool,
    over: Vec<u16>,
    /// For each load how long it stays at least, and the time of the loads before it in its pool.
    stays: Vec<Secs>,
    ahead: Vec<Secs>,
    /// For each lot and stage before its bath how long it takes from there on at least, stage by stage.
    rest: Vec<Vec<Secs>>,
    /// For each tank which of its stretches is now or comes next.
    stretch: Vec<[u16; 16]>,
    /// Something was put off that must be looked at again.
    put_off: bool,
    /// How many lots stand somewhere before their bath.
    standing: u32,
}

impl<'t> Dispatcher<'t> {
    pub(super) fn new(t: &'t Timetable) -> Self {
        let lots = t.lots.len();
        let mut per_order = vec![0u16; t.due.len()];
        for lot in &t.lots {
            per_order[lot.order as usize] += 1;
        }
        let always = t.duty.len() == 1 && t.duty[0].until >= FAR;
        Self {
            t,
            sums: vec![Sum::EMPTY; lots],
            position: vec![0; lots],
            queue: Vec::with_capacity(lots),
            keys: vec![0; lots],
            lots: vec![OFF; lots],
            loads: vec![OFF; lots],
            todo: vec![0; lots],
            tank: vec![0; lots],
            in_bath: Vec::new(),
            after: Vec::new(),
            used: vec![0; t.rooms.len()],
            leaving: Vec::new(),
            free: vec![[0; 16]; t.pools.len()],
            next: vec![0; t.pools.len()],
            windows: Vec::new(),
            hands: vec![0; t.hands.max(1)],
            scratch: Vec::new(),
            left: Vec::new(),
            done: Vec::new(),
            per_order,
            first: 0,
            duty: 0,
            now: 0,
            open_orders: 0,
            day: Day {
                cost: 0.0,
                finish: 0,
                late: 0,
                breaches: 0,
                unready: 0,
            },
            plain: always && t.hands <= 1 && t.stages.iter().all(|s| s.hands && !s.leaves),
            over: Vec::new(),
            stays: vec![0; lots],
            ahead: vec![0; lots],
            rest: t.lots.iter().map(|l| rest_of(t, l)).collect(),
            stretch: vec![[0; 16]; t.pools.len()],
            put_off: false,
            standing: 0,
        }
    }

    /// The day of a decision; none if it costs more than the limit.
    pub(super) fn day(&mut self, s: &State, limit: f64, trace: &mut impl Trace) -> Option<Day> {
        self.begin(s);
        loop {
            if self.open_orders == 0 {
                break;
            }
            if self.turn(s, trace) {
                if !self.over.is_empty() {
                    self.tell_ready(s);
                }
                continue;
            }
            let next = self.next_time(s);
            if next >= FAR {
                break;
            }
            self.now = next;
            let least = self.day.cost + self.t.weights.finish_minute * self.minutes_since_opening(next);
            if least > limit {
                return None;
            }
        }
        self.day.unready = self.open_orders as u32;
        self.day.cost += UNREADY * self.open_orders as f64;
        self.day.cost += self.t.weights.finish_minute * self.minutes_since_opening(self.day.finish);
        (self.day.cost <= limit).then_some(self.day)
    }

    fn minutes_since_opening(&self, at: Secs) -> f64 {
        f64::from(at - self.t.duty[0].from) / 60.0
    }

    fn begin(&mut self, s: &State) {
        let t = self.t;
        for &load in &s.order {
            self.sums[load as usize] = Sum::EMPTY;
        }
        for (lot, &load) in s.load_of.iter().enumerate() {
            self.sums[load as usize].add(t, lot as u16);
        }
        for (at, &load) in s.order.iter().enumerate() {
            self.position[load as usize] = at as u16;
            self.todo[load as usize] = self.sums[load as usize].lots;
            self.loads[load as usize] = OFF;
        }
        self.sort_queue(s);
        self.foresee(s);
        for (way, lot) in self.lots.iter_mut().zip(&t.lots) {
            *way = Way {
                stage: lot.prepares.0,
                lo: lot.there,
                hi: FAR,
                place: NOWHERE,
            };
        }
        for lot in 0..t.lots.len() {
            // What needs no preparation stands before the bath as soon as it is there.
            let (from, to) = t.lots[lot].prepares;
            if from == to {
                let load = s.load_of[lot] as usize;
                self.todo[load] -= 1;
                self.loads[load].lo = self.loads[load].lo.max(t.lots[lot].there);
            }
        }
        self.in_bath.clear();
        self.after.clear();
        self.used.iter_mut().for_each(|u| *u = 0);
        self.leaving.clear();
        self.free.iter_mut().for_each(|f| *f = [0; 16]);
        self.next.iter_mut().for_each(|n| *n = 0);
        self.stretch.iter_mut().for_each(|f| *f = [0; 16]);
        self.windows.clear();
        self.hands.fill(0);
        self.left.clone_from(&self.per_order);
        self.done.clear();
        self.done.resize(t.due.len(), 0);
        self.first = 0;
        self.standing = 0;
        self.duty = 0;
        self.open_orders = self.left.iter().filter(|l| **l > 0).count();
        self.now = t.duty[0].from;
        self.day = Day {
            cost: 0.0,
            finish: self.now,
            late: 0,
            breaches: 0,
            unready: 0,
        };
        for pool in 0..self.next.len() {
            self.skip_others(s, pool);
        }
        self.over.clear();
    }

    /// Lots in the order of their preparation; nearly in order already.
    fn sort_queue(&mut self, s: &State) {
        for lot in 0..self.lots.len() {
            self.keys[lot] = 64 * i32::from(self.position[s.load_of[lot] as usize]) + i32::from(s.shift[lot]);
        }
        let keys = &self.keys;
        if self.queue.len() != self.lots.len() {
            self.queue = (0..self.lots.len() as u16).collect();
        }
        // Insertion: the queue of the day before is nearly that of this.
        for i in 1..self.queue.len() {
            let lot = self.queue[i];
            let key = (keys[lot as usize], lot);
            let mut j = i;
            while j > 0 && (keys[self.queue[j - 1] as usize], self.queue[j - 1]) > key {
                self.queue[j] = self.queue[j - 1];
                j -= 1;
            }
            self.queue[j] = lot;
        }
    }

    fn skip_others(&mut self, s: &State, pool: usize) {
        let order = &s.order;
        let mut at = self.next[pool];
        while at < order.len() && s.pool[order[at] as usize] as usize != pool {
            at += 1;
        }
        self.next[pool] = at;
    }

    /// Begins something, or moves the clock to free hands. False if nothing can begin now.
    fn turn(&mut self, s: &State, trace: &mut impl Trace) -> bool {
        if self.t.hands > 0 {
            let free = self.hands.iter().copied().min().unwrap_or(0);
            if free > self.now {
                self.now = free;
            }
        }
        self.put_off = false;
        if !self.plain {
            while self.t.duty.get(self.duty).is_some_and(|d| d.until <= self.now) {
                self.duty += 1;
            }
            self.stretches_pass();
            if !self.leaving.is_empty() {
                self.let_go();
            }
            if self.by_itself(s, trace) {
                return true;
            }
        }
        let on = self.t.duty.get(self.duty).is_some_and(|d| d.from <= self.now);
        if !on {
            return self.lift(trace, true) || self.go_on(trace, true);
        }
        s.first.iter().any(|kind| match kind {
            Kind::Lift => self.lift(trace, false),
            Kind::Charge => self.charge(s, trace),
            Kind::GoOn => self.go_on(trace, false),
            Kind::Clear => self.prepare(s, true, trace),
            Kind::Prepare => self.prepare(s, false, trace),
        })
    }

    fn stretches_pass(&mut self) {
        for (now, pool) in self.stretch.iter_mut().zip(&self.t.pools) {
            for (at, hot) in now.iter_mut().zip(&pool.hot) {
                while hot.get(*at as usize + 1).is_some() && hot[*at as usize].1 <= self.now {
                    *at += 1;
                }
            }
        }
    }

    fn let_go(&mut self) {
        let now = self.now;
        let used = &mut self.used;
        self.leaving.retain(|&(at, place)| {
            if at <= now {
                used[place as usize] -= 1;
            }
            at > now
        });
    }

    /// When hands are back on duty.
    fn back(&self) -> Secs {
        self.t.duty.get(self.duty).map_or(FAR, |d| d.from.max(self.now))
    }

    /// When work is over that begins now.
    fn ends(&self, work: Secs, pauses: bool) -> Secs {
        if !pauses {
            return self.now + work;
        }
        let (mut at, mut left, mut d) = (self.now, work, self.duty);
        while let Some(duty) = self.t.duty.get(d) {
            at = at.max(duty.from);
            if at + left <= duty.until {
                return at + left;
            }
            left -= duty.until - at;
            d += 1;
        }
        FAR
    }

    /// Whether what begins now is over before closing, or may be laid down.
    fn before_closing(&self, work: Secs, pauses: bool) -> bool {
        pauses
            || self.plain
            || self
                .t
                .duty
                .get(self.duty)
                .is_some_and(|d| self.now + work <= d.closes)
    }

    /// Whether everything with a latest moment is still in time if hands are busy until `after`, something new included.
    fn leaves_time(&mut self, after: Secs, but: Option<(u16, bool)>, new: Option<Window>) -> bool {
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

    fn leaves_time_to_all(&mut self, after: Secs, but: Option<(u16, bool)>, new: Option<Window>) -> bool {
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

    fn watch(&mut self, w: Window) {
        let at = self.windows.partition_point(|o| (o.hi, o.lo) <= (w.hi, w.lo));
        self.windows.insert(at, w);
    }

    fn unwatch(&mut self, who: u16, lot: bool) {
        if let Some(at) = self.windows.iter().position(|w| w.who == who && w.lot == lot) {
            self.windows.remove(at);
        }
    }

    fn take_hands(&mut self, until: Secs) {
        if let Some(free) = self.hands.iter_mut().min() {
            *free = until;
        }
    }

    fn room(&self, stage: &Stage, leaves: u8) -> bool {
        let free = |p: u8| p == NOWHERE || p == leaves || self.used[p as usize] < self.t.rooms[p as usize];
        free(stage.place) && stage.passes.iter().all(|p| free(*p))
    }

    /// Takes the place of a stage, gives that of the stage before.
    fn moves(&mut self, way: Way, stage: &Stage, end: Secs) -> u8 {
        if way.place != NOWHERE {
            if self.plain || stage.frees <= 0 {
                self.used[way.place as usize] -= 1;
            } else {
                self.leaving.push((self.now + stage.frees, way.place));
            }
        }
        if self.hands.len() > 1 {
            for p in stage.passes {
                if p != NOWHERE {
                    self.used[p as usize] += 1;
                    self.leaving.push((end, p));
                }
            }
        }
        if stage.place != NOWHERE {
            self.used[stage.place as usize] += 1;
            if stage.leaves {
                self.leaving.push((end + stage.least, stage.place));
                return NOWHERE;
            }
        }
        stage.place
    }

    fn breach(&mut self, by: Secs) {
        if by > 0 {
            self.day.breaches += 1;
            self.day.cost += BREACH + BREACH_MINUTE * f64::from(by) / 60.0;
        }
    }

    /// Lifts the load whose latest moment comes first, of those that are due.
    fn lift(&mut self, trace: &mut impl Trace, off_duty: bool) -> bool {
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
            if self.leaves_time(self.now + work, Some((load, false)), None) {
                self.lifts(load, stage, work, trace);
                return true;
            }
            last = key;
        }
    }

    fn lifts(&mut self, load: u16, stage: usize, work: Secs, trace: &mut impl Trace) {
        self.in_bath.retain(|l| *l != load);
        self.after.push(load);
        let (pool, tank) = (self.tank[load as usize] >> 4, self.tank[load as usize] & 15);
        let frees = self.t.stages[stage].frees;
        self.free[pool as usize][tank as usize] = self.now + frees + self.t.pools[pool as usize].recovers;
        self.goes(load, stage, work, trace);
    }

    /// A stage of a load begins.
    fn goes(&mut self, load: u16, at: usize, work: Secs, trace: &mut impl Trace) {
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
    fn is_ready(&mut self, order: u16, at: Secs) {
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
            self.day.cost += w.late_order + w.late_minute * f64::from(late) / 60.0;
        }
    }

    /// Loads that have passed their last stage.
    fn tell_ready(&mut self, s: &State) {
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
    fn go_on(&mut self, trace: &mut impl Trace, off_duty: bool) -> bool {
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
    fn free_tank(&self, pool: usize) -> Option<(usize, Secs)> {
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

    fn charge(&mut self, s: &State, trace: &mut impl Trace) -> bool {
        (0..self.next.len()).any(|pool| self.charge_in(pool, s, trace))
    }

    fn charge_in(&mut self, pool: usize, s: &State, trace: &mut impl Trace) -> bool {
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
        self.next[pool] += 1;
        self.skip_others(s, pool);
        true
    }

    /// How long before the end of its time a load must be lifted at the latest: at closing what follows at once is over too.
    fn lifting(&self, until: Secs, stage: usize, work: Secs) -> Secs {
        let closes = self.t.duty.get(self.duty).map_or(FAR, |d| d.closes);
        if until >= closes {
            work
        } else {
            self.t.stages[stage].frees
        }
    }

    /// How long loads stay, and how much time those take that go before them.
    fn foresee(&mut self, s: &State) {
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

    /// Goes on with a lot before its bath: takes it out of where it stands (`clear`), or begins with the next.
    fn prepare(&mut self, s: &State, clear: bool, trace: &mut impl Trace) -> bool {
        if clear && self.standing == 0 {
            return false;
        }
        let mut looked = 0;
        for i in self.first..self.queue.len() {
            let lot = self.queue[i];
            let way = self.lots[lot as usize];
            if way.stage == self.t.lots[lot as usize].prepares.1 {
                if i == self.first {
                    self.first += 1;
                }
                continue;
            }
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

    fn prepares(&mut self, s: &State, lot: u16, way: Way, trace: &mut impl Trace) -> bool {
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
        if self.too_early(s, lot, way) {
            self.put_off = true;
            return false;
        }
        self.is_prepared(s, lot, way, end, trace);
        true
    }

    fn is_prepared(&mut self, s: &State, lot: u16, way: Way, end: Secs, trace: &mut impl Trace) {
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
    fn too_early(&self, s: &State, lot: u16, way: Way) -> bool {
        let planned = &self.t.lots[lot as usize];
        if planned.waits >= FAR {
            return false;
        }
        let load = s.load_of[lot as usize];
        let rest = self.rest[lot as usize][usize::from(way.stage - planned.prepares.0)];
        self.foreseen(s, load) - planned.waits - rest > self.now
    }

    /// When a load can go in at the earliest, as far as can be foreseen.
    fn foreseen(&self, s: &State, load: u16) -> Secs {
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
    fn by_itself(&mut self, s: &State, trace: &mut impl Trace) -> bool {
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
        for i in self.first..self.queue.len() {
            let lot = self.queue[i];
            let way = self.lots[lot as usize];
            let planned = &t.lots[lot as usize];
            if way.stage == planned.prepares.1 || way.lo > self.now {
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

    /// When something can change next.
    fn next_time(&self, s: &State) -> Secs {
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
        for &lot in &self.queue[self.first..] {
            let way = &self.lots[lot as usize];
            let planned = &self.t.lots[lot as usize];
            if way.stage == planned.prepares.1 {
                continue;
            }
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

/// How long a lot takes from each of its stages before the bath on.
fn rest_of(t: &Timetable, lot: &Lot) -> Vec<Secs> {
    let of = |from: u16| -> Secs {
        (from..lot.prepares.1)
            .map(|at| t.work(at as usize, lot.pieces) + t.stages[at as usize].least)
            .sum()
    };
    (lot.prepares.0..=lot.prepares.1).map(of).collect()
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
