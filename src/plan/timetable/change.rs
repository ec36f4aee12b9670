//! Changes of a decision: loads swapped or put elsewhere, lots moved, exchanged or split off, and the freedom of the
//! dispatcher. A change that no tank takes is not made.

use super::model::{NOWHERE, Secs, Timetable};
use super::state::{NONE, State, Sum};
use rand::RngExt;
use rand::rngs::ChaCha8Rng;

/// A change in so many is one of the dispatcher's freedom.
const FREEDOM: f64 = 0.25;
/// Of the changes of the order so many are between loads that are at most so far apart.
const NEAR: f64 = 0.4;
const REACH: usize = 4;

/// Changes a decision a little. False if the change that was drawn cannot be made.
pub(super) fn change(
    t: &Timetable,
    s: &mut State,
    sums: &[Sum],
    reach: (Secs, Secs),
    rng: &mut ChaCha8Rng,
) -> bool {
    if rng.random::<f64>() < FREEDOM {
        return set_free(s, reach, rng);
    }
    let u: f64 = rng.random();
    let loads = s.order.len();
    if u < 0.25 {
        if loads < 2 {
            return false;
        }
        let (a, b) = places(loads, rng);
        s.order.swap(a, b);
        true
    } else if u < 0.45 {
        if loads < 2 {
            return false;
        }
        let (from, to) = places(loads, rng);
        let load = s.order.remove(from);
        s.order.insert(to, load);
        true
    } else if u < 0.72 {
        move_lot(t, s, sums, rng)
    } else if u < 0.94 {
        exchange(t, s, sums, rng)
    } else {
        split(t, s, sums, rng)
    }
}

fn two(n: usize, rng: &mut ChaCha8Rng) -> (usize, usize) {
    let a = rng.random_range(0..n);
    let b = rng.random_range(0..n - 1);
    (a, if b >= a { b + 1 } else { b })
}

/// Two places in the order of loads, often near each other.
fn places(n: usize, rng: &mut ChaCha8Rng) -> (usize, usize) {
    if rng.random::<f64>() >= NEAR {
        return two(n, rng);
    }
    let a = rng.random_range(0..n);
    let by = rng.random_range(1..=REACH);
    let later = (a + by < n).then_some(a + by);
    let earlier = a.checked_sub(by);
    let near = if rng.random::<bool>() {
        later.or(earlier)
    } else {
        earlier.or(later)
    };
    near.map_or_else(|| two(n, rng), |b| (a, b))
}

/// What hands turn to first, when a lot is prepared, how long a load waits on purpose.
fn set_free(s: &mut State, (from, to): (Secs, Secs), rng: &mut ChaCha8Rng) -> bool {
    let u: f64 = rng.random();
    if u < 0.05 {
        let (a, b) = two(5, rng);
        s.first.swap(a, b);
    } else if u < 0.9 {
        let lot = rng.random_range(0..s.shift.len());
        s.shift[lot] = match rng.random_range(0..3) {
            0 => rng.random_range(-160..=160),
            _ => 0,
        };
    } else {
        let load = s.order[rng.random_range(0..s.order.len())] as usize;
        s.hold[load] = match rng.random::<bool>() {
            true => 0,
            // To the whole minute: a person follows it.
            false => from + 60 * rng.random_range(0..=((to - from) / 60).max(1)),
        };
    }
    true
}

fn with(t: &Timetable, sum: &Sum, lot: u16) -> Sum {
    let mut sum = *sum;
    sum.add(t, lot);
    sum
}

/// Whether a load takes a lot as it is.
pub(super) fn takes(t: &Timetable, s: &State, sums: &[Sum], load: u16, lot: u16) -> bool {
    let sum = &sums[load as usize];
    sum.class == t.lots[lot as usize].class
        && t.lots[lot as usize].pools != 0
        && with(t, sum, lot).pool(t, s.pool[load as usize]).is_some()
}

fn move_lot(t: &Timetable, s: &mut State, sums: &[Sum], rng: &mut ChaCha8Rng) -> bool {
    let from = s.order[rng.random_range(0..s.order.len())];
    let Some(lot) = any_of(s, sums, from, rng) else {
        return false;
    };
    let mut chosen = None;
    let mut many = 0;
    for &load in &s.order {
        if load != from && takes(t, s, sums, load, lot) {
            many += 1;
            if rng.random_range(0..many) == 0 {
                chosen = Some(load);
            }
        }
    }
    let Some(load) = chosen else { return false };
    s.put(t, lot, load);
    true
}

fn any_of(s: &State, sums: &[Sum], load: u16, rng: &mut ChaCha8Rng) -> Option<u16> {
    let lots = sums[load as usize].lots as usize;
    s.members(load).nth(rng.random_range(0..lots.max(1)))
}

fn exchange(t: &Timetable, s: &mut State, sums: &[Sum], rng: &mut ChaCha8Rng) -> bool {
    if s.order.len() < 2 {
        return false;
    }
    let (a, b) = two(s.order.len(), rng);
    let (a, b) = (s.order[a], s.order[b]);
    if sums[a as usize].class != sums[b as usize].class || s.pool[a as usize] == NOWHERE {
        return false;
    }
    let (Some(i), Some(j)) = (any_of(s, sums, a, rng), any_of(s, sums, b, rng)) else {
        return false;
    };
    let fits = |load: u16, gone: u16, new: u16| {
        let mut sum = Sum::EMPTY;
        s.members(load).filter(|l| *l != gone).for_each(|l| sum.add(t, l));
        sum.add(t, new);
        sum.pool(t, s.pool[load as usize])
    };
    let (Some(pa), Some(pb)) = (fits(a, i, j), fits(b, j, i)) else {
        return false;
    };
    s.load_of[i as usize] = b;
    s.load_of[j as usize] = a;
    s.pool[a as usize] = pa;
    s.pool[b as usize] = pb;
    true
}

fn split(t: &Timetable, s: &mut State, sums: &[Sum], rng: &mut ChaCha8Rng) -> bool {
    let load = s.order[rng.random_range(0..s.order.len())];
    if sums[load as usize].lots < 2 {
        // The tank instead, where there is a choice.
        return other_pool(t, s, sums, load, rng);
    }
    let Some(lot) = any_of(s, sums, load, rng) else {
        return false;
    };
    s.load_of[lot as usize] = NONE;
    let at = rng.random_range(0..=s.order.len());
    s.new_load(t, lot, at);
    true
}

fn other_pool(t: &Timetable, s: &mut State, sums: &[Sum], load: u16, rng: &mut ChaCha8Rng) -> bool {
    if t.pools.len() < 2 || s.pool[load as usize] == NOWHERE {
        return false;
    }
    let pool = rng.random_range(0..t.pools.len()) as u8;
    if pool == s.pool[load as usize] || sums[load as usize].pool(t, pool) != Some(pool) {
        return false;
    }
    s.pool[load as usize] = pool;
    true
}
