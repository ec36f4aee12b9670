//! What is decided in a timetable: which lots are a load, in which order loads are charged, and the freedom of the
//! dispatcher: in which order lots are prepared, what hands turn to first, how long a load waits on purpose.

use super::model::{FAR, NOWHERE, Secs, Timetable};

/// No load.
pub(super) const NONE: u16 = u16::MAX;

/// A decision.
#[derive(Debug, PartialEq)]
pub(super) struct State {
    /// For each lot the number of its load; numbers mean nothing but themselves.
    pub(super) load_of: Vec<u16>,
    /// Loads in the order of charging.
    pub(super) order: Vec<u16>,
    /// Numbers that no load has.
    pub(super) unused: Vec<u16>,
    /// For each load its pool, and the moment before which it is not charged.
    pub(super) pool: Vec<u8>,
    pub(super) hold: Vec<Secs>,
    /// For each lot by how many 64ths of a load its preparation is brought forward or put off.
    pub(super) shift: Vec<i16>,
    /// What hands turn to first.
    pub(super) first: [Kind; 5],
}

/// What hands can turn to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    Lift,
    Charge,
    GoOn,
    Clear,
    Prepare,
}

pub(super) const USUAL: [Kind; 5] = [Kind::Lift, Kind::Charge, Kind::GoOn, Kind::Clear, Kind::Prepare];

impl Clone for State {
    fn clone(&self) -> Self {
        Self {
            load_of: self.load_of.clone(),
            order: self.order.clone(),
            unused: self.unused.clone(),
            pool: self.pool.clone(),
            hold: self.hold.clone(),
            shift: self.shift.clone(),
            first: self.first,
        }
    }

    fn clone_from(&mut self, from: &Self) {
        self.load_of.clone_from(&from.load_of);
        self.order.clone_from(&from.order);
        self.unused.clone_from(&from.unused);
        self.pool.clone_from(&from.pool);
        self.hold.clone_from(&from.hold);
        self.shift.clone_from(&from.shift);
        self.first = from.first;
    }
}

/// What a load is as a whole.
#[derive(Debug, Clone, Copy)]
pub(super) struct Sum {
    pub(super) bulk: [u32; 3],
    pub(super) dwell: (Secs, Secs),
    pub(super) pools: u32,
    pub(super) class: u16,
    pub(super) lots: u16,
    pub(super) pieces: u32,
    pub(super) name: u64,
}

impl Sum {
    pub(super) const EMPTY: Self = Self {
        bulk: [0; 3],
        dwell: (0, FAR),
        pools: u32::MAX,
        class: NONE,
        lots: 0,
        pieces: 0,
        name: 0,
    };

    pub(super) fn add(&mut self, t: &Timetable, lot: u16) {
        let l = &t.lots[lot as usize];
        for (sum, bulk) in self.bulk.iter_mut().zip(l.bulk) {
            *sum += bulk;
        }
        self.dwell = (self.dwell.0.max(l.dwell.0), self.dwell.1.min(l.dwell.1));
        self.pools &= l.pools;
        self.class = l.class;
        self.lots += 1;
        self.pieces += l.pieces;
        self.name = self.name.wrapping_add(l.name);
    }

    /// The pool that takes it: the one that it has, or the first that does.
    pub(super) fn pool(&self, t: &Timetable, has: u8) -> Option<u8> {
        let takes = |p: u8| {
            let room = t.pools.get(p as usize)?.room;
            let fits = self.bulk.iter().zip(room).all(|(b, r)| *b <= r);
            (fits && self.pools & (1 << p) != 0).then_some(p)
        };
        if self.dwell.0 > self.dwell.1 {
            return None;
        }
        takes(has).or_else(|| (0..t.pools.len() as u8).find_map(takes))
    }
}

impl State {
    /// Each lot by itself, in the order given.
    pub(super) fn apart(t: &Timetable, order: &[u16]) -> Self {
        let lots = t.lots.len();
        let mut state = Self {
            load_of: (0..lots as u16).collect(),
            order: order.to_vec(),
            unused: Vec::new(),
            pool: vec![NOWHERE; lots],
            hold: vec![0; lots],
            shift: vec![0; lots],
            first: USUAL,
        };
        for lot in 0..lots as u16 {
            let mut sum = Sum::EMPTY;
            sum.add(t, lot);
            state.pool[lot as usize] = sum.pool(t, NOWHERE).unwrap_or(NOWHERE);
        }
        state
    }

    /// Loads as given, in their order.
    pub(super) fn of(t: &Timetable, loads: &[Vec<u16>]) -> Self {
        let mut state = Self::apart(t, &[]);
        state.order = (0..loads.len() as u16).collect();
        state.unused = (loads.len() as u16..t.lots.len() as u16).rev().collect();
        for (k, load) in loads.iter().enumerate() {
            let mut sum = Sum::EMPTY;
            for &lot in load {
                state.load_of[lot as usize] = k as u16;
                sum.add(t, lot);
            }
            state.pool[k] = sum.pool(t, NOWHERE).unwrap_or(NOWHERE);
        }
        state
    }

    pub(super) fn members(&self, load: u16) -> impl Iterator<Item = u16> + '_ {
        let mine = move |l: &(usize, &u16)| *l.1 == load;
        self.load_of.iter().enumerate().filter(mine).map(|l| l.0 as u16)
    }

    pub(super) fn sum(&self, t: &Timetable, load: u16) -> Sum {
        let mut sum = Sum::EMPTY;
        for lot in self.members(load) {
            sum.add(t, lot);
        }
        sum
    }

    /// Takes a load that is empty out of the order.
    pub(super) fn drop_load(&mut self, load: u16) {
        self.order.retain(|l| *l != load);
        self.unused.push(load);
    }

    /// A new load for a lot at a place in the order.
    pub(super) fn new_load(&mut self, t: &Timetable, lot: u16, at: usize) {
        let Some(load) = self.unused.pop() else { return };
        self.load_of[lot as usize] = load;
        self.pool[load as usize] = self.sum(t, load).pool(t, NOWHERE).unwrap_or(NOWHERE);
        self.hold[load as usize] = 0;
        self.order.insert(at.min(self.order.len()), load);
    }

    /// Puts a lot into a load; what it leaves empty goes.
    pub(super) fn put(&mut self, t: &Timetable, lot: u16, load: u16) {
        let from = std::mem::replace(&mut self.load_of[lot as usize], load);
        if from != NONE && from != load && self.members(from).next().is_none() {
            self.drop_load(from);
        }
        let pool = self.pool[load as usize];
        self.pool[load as usize] = self.sum(t, load).pool(t, pool).unwrap_or(NOWHERE);
    }
}
