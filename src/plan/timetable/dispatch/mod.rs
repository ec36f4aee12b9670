//! Turns a decision into a complete day. At every moment at which hands are free they turn to the first thing that may
//! begin; before anything begins, every lift and every other thing that has its latest moment must still be in time
//! afterwards, taken in the order of their latest moments. So no load stays too long, whatever was decided.

mod bath;
mod before;
mod due;
mod hands;
mod least;

use super::model::{FAR, Lot, NOWHERE, Secs, Timetable};
use super::state::{Kind, State, Sum};
use least::Least;

/// So many lots in preparation are looked at for the next thing to do.
const LOOK: usize = 4;
/// After so long it is foreseen anew when a bath will be free.
const AGAIN: Secs = 300;
/// What a limit costs that is not kept, and each minute of it; what an order costs that is not ready.
const BREACH: f64 = 1e6;
const BREACH_MINUTE: f64 = 1e3;
const UNREADY: f64 = 1e9;

/// So many times on a day it is reckoned what it costs at least.
const LOOKS: usize = 3;
/// Sums may differ by so much from what they would be in another order.
const TOLERANCE: f64 = 1e-6;

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
    /// All lots in the order of their preparation, and those of them that stand not yet before their bath.
    queue: Vec<u16>,
    unprepared: Vec<u16>,
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
    /// Loads charged so far.
    charged: usize,
    /// How many lots stand somewhere before their bath.
    standing: u32,
    /// Whether anything goes on without hands.
    unaided: bool,
    /// Of several days: when this one opened, when hands last come free on it, and how long those before were, nights
    /// left out.
    /// What a day costs at least.
    least: Least,
    today: Secs,
    worked: Secs,
    earlier: Secs,
}

impl<'t> Dispatcher<'t> {
    pub(super) fn new(t: &'t Timetable) -> Self {
        let lots = t.lots.len();
        let mut per_order = vec![0u16; t.due.len()];
        for lot in &t.lots {
            per_order[lot.order as usize] += 1;
        }
        Self {
            t,
            sums: vec![Sum::EMPTY; lots],
            position: vec![0; lots],
            queue: Vec::with_capacity(lots),
            unprepared: Vec::with_capacity(lots),
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
            plain: t.is_plain(),
            over: Vec::new(),
            stays: vec![0; lots],
            ahead: vec![0; lots],
            rest: t.lots.iter().map(|l| rest_of(t, l)).collect(),
            stretch: vec![[0; 16]; t.pools.len()],
            put_off: false,
            charged: 0,
            standing: 0,
            unaided: t.stages.iter().any(|s| !s.hands),
            least: Least::of(t),
            today: 0,
            worked: 0,
            earlier: 0,
        }
    }

    /// The day of a decision; none if it costs more than the limit.
    pub(super) fn day(&mut self, s: &State, limit: f64, trace: &mut impl Trace) -> Option<Day> {
        self.begin(s);
        // A few times are enough: to reckon it after each load costs more than it saves.
        let mut look = match limit < f64::INFINITY {
            true => 0,
            false => usize::MAX,
        };
        loop {
            if self.open_orders == 0 {
                break;
            }
            if self.charged >= look {
                if self.day.cost + self.least_left(s) > limit + TOLERANCE {
                    return None;
                }
                look = self.charged + s.order.len().div_ceil(LOOKS);
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
            let minutes = self.minutes_since_opening(next) + f64::from(self.earlier) / 60.0;
            let least = self.day.cost + self.t.weights.finish_minute * minutes;
            if least > limit {
                return None;
            }
        }
        self.day.unready = self.open_orders as u32;
        self.day.cost += UNREADY * self.open_orders as f64;
        let minutes = self.minutes_since_opening(self.day.finish) + f64::from(self.earlier) / 60.0;
        self.day.cost += self.t.weights.finish_minute * minutes;
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
        let stages = |lot: &u16| t.lots[*lot as usize].prepares;
        let unprepared = self.queue.iter().copied().filter(|l| stages(l).0 < stages(l).1);
        self.unprepared.clear();
        self.unprepared.extend(unprepared);
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
        self.charged = 0;
        self.standing = 0;
        self.duty = 0;
        self.today = t.duty[0].opens;
        self.worked = self.today;
        self.earlier = 0;
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
            if self.unaided && self.by_itself(s, trace) {
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
        let (now, used) = (self.now, &mut self.used);
        self.leaving.retain(|&(at, place)| {
            if at <= now {
                used[place as usize] -= 1;
            }
            at > now
        });
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
