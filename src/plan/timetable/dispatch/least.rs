//! What a day costs at least, as far as it has come: loads go into their baths one after the other, and hands prepare all
//! that a load holds before it goes in. A decision that cannot come out well is given up long before its day is over.

use super::super::model::Secs;
use super::super::state::State;
use super::Dispatcher;

/// Room for what is reckoned, used again.
#[derive(Debug, Default)]
pub(super) struct Least {
    /// For each lot and stage before its bath how long hands work from there on.
    pub(super) hands: Vec<Vec<Secs>>,
    /// For each load how long hands have still to work before it goes in.
    before: Vec<Secs>,
    /// For each load the earliest moment at which it is ready.
    ready: Vec<Secs>,
    /// For each order the earliest moment at which it is.
    orders: Vec<Secs>,
}

/// What goes into the tanks of a pool before a load.
#[derive(Debug, Clone, Copy, Default)]
struct Ahead {
    tanks: Secs,
    /// Before this none goes in.
    from: Secs,
    /// How long hands work before, and loads are in the tanks; the longest of them.
    work: Secs,
    takes: Secs,
    longest: Secs,
    /// The same of lifting: before a load goes in, all were lifted but one fewer than there are tanks.
    lifts: Secs,
    longest_lift: Secs,
}

impl Ahead {
    /// A load that is in a tank for so long, and that hands lift for so long.
    fn holds(&mut self, takes: Secs, lift: Secs) {
        self.takes += takes;
        self.longest = self.longest.max(takes);
        self.lifts += lift;
        self.longest_lift = self.longest_lift.max(lift);
    }

    /// When a tank is free.
    fn free(&self, now: Secs) -> Secs {
        if self.tanks == 1 {
            return self.from;
        }
        self.from
            .max(now + (self.takes - (self.tanks - 1) * self.longest).max(0) / self.tanks)
    }

    /// How long hands have worked by then, on lifting too.
    fn worked(&self) -> Secs {
        self.work + (self.lifts - (self.tanks - 1) * self.longest_lift).max(0)
    }
}

impl Dispatcher<'_> {
    /// At least so much more than what is counted already.
    pub(super) fn least_left(&mut self, s: &State) -> f64 {
        let t = self.t;
        let mut least = std::mem::take(&mut self.least);
        least.before.clear();
        least.before.resize(t.lots.len(), 0);
        least.ready.clear();
        least.ready.resize(t.lots.len(), 0);
        for (lot, &load) in s.load_of.iter().enumerate() {
            let done = usize::from(self.lots[lot].stage - t.lots[lot].prepares.0);
            least.before[load as usize] += least.hands[lot][done];
        }
        self.goes_in_at_least(s, &mut least);
        least.orders.clear();
        least.orders.resize(t.due.len(), 0);
        let (mut finish, mut late) = (self.day.finish, 0.0);
        for (lot, &load) in s.load_of.iter().enumerate() {
            let ready = least.ready[load as usize];
            let order = &mut least.orders[t.lots[lot].order as usize];
            *order = (*order).max(ready);
            finish = finish.max(ready);
        }
        let w = &t.weights;
        for ((o, (&ready, &due)), &left) in least.orders.iter().zip(&t.due).enumerate().zip(&self.left) {
            if left > 0 && ready > due {
                late += t.matters[o] * (w.late_order + w.late_minute * f64::from(ready - due) / 60.0);
            }
        }
        self.least = least;
        late + w.finish_minute * (self.minutes_since_opening(finish) + f64::from(self.earlier) / 60.0)
    }

    /// The earliest moments at which loads that are not in yet can be ready.
    fn goes_in_at_least(&self, s: &State, least: &mut Least) {
        let t = self.t;
        let mut pools: [Ahead; 16] = std::array::from_fn(|p| self.ahead_in(p));
        for &load in &self.in_bath {
            let l = usize::from(load);
            let left = (self.loads[l].lo - self.now).max(0);
            let (lift, blocked) = self.lifting_least(load);
            let pool = &mut pools[usize::from(self.tank[l] >> 4)];
            pool.holds(left, lift);
            if pool.tanks == 1 {
                pool.from = pool.from.max(self.now + left + blocked);
            }
            least.ready[l] = self.loads[l].lo + self.still(load);
        }
        for &load in &self.after {
            least.ready[usize::from(load)] = self.loads[usize::from(load)].lo + self.still(load);
        }
        let hands = t.hands.max(1) as Secs;
        for (at, &load) in s.order.iter().enumerate() {
            let l = load as usize;
            let p = usize::from(s.pool[l]);
            if p >= t.pools.len() || at < self.next[p] {
                continue;
            }
            let (lift, blocked) = self.lifting_least(load);
            let (sum, pool) = (&self.sums[l], &mut pools[p]);
            let first = usize::from(t.goes_on[usize::from(sum.class)].0);
            let charge = t.work(first, sum.pieces);
            let takes = charge + self.stays[l] + blocked;
            pool.work += least.before[l];
            let into = pool
                .free(self.now)
                .max(self.now + pool.worked() / hands)
                .max(self.loads[l].lo)
                .max(s.hold[l]);
            // One after the other, in their order.
            pool.from = if pool.tanks == 1 { into + takes } else { into };
            pool.work += charge;
            pool.holds(takes, lift);
            least.ready[l] = into + charge + self.stays[l] + self.after_lift(load);
        }
    }

    /// How long hands lift a load before the next goes in, and how long its tank is taken from the moment at which it can
    /// be lifted. The only hands go on with a load before they turn to the next.
    fn lifting_least(&self, load: u16) -> (Secs, Secs) {
        let t = self.t;
        let sum = &self.sums[usize::from(load)];
        let at = usize::from(t.goes_on[usize::from(sum.class)].0) + 1;
        let (work, frees) = (t.work(at, sum.pieces), t.stages[at].frees);
        if t.hands <= 1 {
            (work, work.max(frees))
        } else {
            (work.min(frees), frees)
        }
    }

    /// How long a load takes at least from the beginning of its next stage, which is one from its lifting on.
    fn still(&self, load: u16) -> Secs {
        let t = self.t;
        let sum = &self.sums[usize::from(load)];
        let to = t.goes_on[usize::from(sum.class)].1;
        (self.loads[usize::from(load)].stage..to)
            .map(|at| t.work(usize::from(at), sum.pieces) + t.stages[usize::from(at)].least)
            .sum()
    }

    /// A pool as it is now.
    fn ahead_in(&self, pool: usize) -> Ahead {
        let Some(kind) = self.t.pools.get(pool) else {
            return Ahead::default();
        };
        let hot = kind.hot.iter().zip(&self.stretch[pool]);
        let opens = hot
            .map(|(w, at)| w.get(usize::from(*at)).map_or(self.now, |w| w.0))
            .min();
        Ahead {
            tanks: kind.hot.len() as Secs,
            from: opens.map_or(self.now, |o| o.max(self.now)),
            ..Ahead::default()
        }
    }

    /// How long a load takes from the moment at which it can be lifted until it is ready, at least.
    pub(super) fn after_lift(&self, load: u16) -> Secs {
        let t = self.t;
        let sum = &self.sums[load as usize];
        let (first, to) = t.goes_on[usize::from(sum.class)];
        (first + 1..to)
            .map(|at| t.work(usize::from(at), sum.pieces) + t.stages[usize::from(at)].least)
            .sum()
    }
}

impl Least {
    pub(super) fn of(t: &super::super::model::Timetable) -> Self {
        let of = |lot: &super::super::model::Lot| -> Vec<Secs> {
            let work = |at: u16| {
                let stage = &t.stages[usize::from(at)];
                if stage.hands {
                    t.work(usize::from(at), lot.pieces)
                } else {
                    0
                }
            };
            (lot.prepares.0..=lot.prepares.1)
                .map(|from| (from..lot.prepares.1).map(work).sum())
                .collect()
        };
        Self {
            hands: t.lots.iter().map(of).collect(),
            ..Self::default()
        }
    }
}
