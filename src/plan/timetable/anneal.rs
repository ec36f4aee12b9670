//! The search in the timetable: simulated annealing over decisions, with now and then a few lots taken out and each put
//! back where the day comes out best.

use super::change::{change, takes};
use super::dispatch::{Day, Dispatcher};
use super::model::{NOWHERE, Timetable};
use super::state::{NONE, State, Sum};
use rand::rngs::ChaCha8Rng;
use rand::{RngExt, SeedableRng};
use std::sync::atomic::{AtomicBool, Ordering};

/// One change in so many is a rebuilding.
const REBUILDS: u32 = 150;
/// How hot a search begins, as a share of what the first day costs.
const HOT: f64 = 0.012;
/// Where it ends, in minutes: of lateness while orders are late, else of the finish. With lateness it ends well above
/// nothing: a search that is cold early stays in the first valley that it finds.
const COLD_LATE_MINUTES: f64 = 0.6;
const COLD_MINUTES: f64 = 0.2;
/// It cools down at least so many times.
const COOLS: f64 = 10.0;

/// Lots that come so many seconds apart do not wait for each other, by the rule that goes by arrival.
const APART: i32 = 3_600;

/// How a search goes.
#[derive(Debug, Clone, Copy)]
pub(super) struct Cooling {
    /// Days that may be dispatched.
    pub(super) days: u64,
    /// How hot it begins, as a part of the usual.
    pub(super) heat: f64,
    pub(super) seed: u64,
}

/// The best decision found from a first one, its day, and how many days it took.
pub(super) fn anneal(t: &Timetable, first: &State, how: Cooling, stop: &AtomicBool) -> (State, Day, u64) {
    let mut rng = ChaCha8Rng::seed_from_u64(how.seed);
    let mut table = Dispatcher::new(t);
    let mut now = first.clone();
    let Some(day) = table.day(&now, f64::INFINITY, &mut ()) else {
        return (now, Day::NEVER, 1);
    };
    let (mut best, mut best_day) = (now.clone(), day);
    let mut cost = day.cost;
    let mut sums = table.sums.clone();
    let minute = t.weights.finish_minute.max(1e-6);
    let hot = HOT * day.cost.max(60.0 * minute);
    // Once nothing is late the finish is what is weighed.
    let late = (COLD_LATE_MINUTES * t.weights.late_minute).min(hot / COOLS);
    let coldest = |best: &Day| (COLD_MINUTES * minute).max(if best.late > 0 { late } else { 0.0 });
    let hot = hot.max(coldest(&day)) * how.heat;
    let open = t.duty[0].from;
    let mut days = 1;
    let mut fresh = now.clone();
    let mut heat = hot;
    let mut tries = 0u64;
    while days < how.days && tries < 20 * how.days {
        if tries.is_multiple_of(64) {
            let gone = days as f64 / how.days as f64;
            heat = hot * libm::pow((coldest(&best_day) / hot).min(1.0), gone);
            if stop.load(Ordering::Relaxed) {
                break;
            }
        }
        tries += 1;
        fresh.clone_from(&now);
        if rng.random_range(0..REBUILDS) == 0 {
            days += rebuild(t, &mut fresh, &mut table, how.days - days, &mut rng);
        } else if !change(t, &mut fresh, &sums, (open, best_day.finish), &mut rng) {
            continue;
        }
        let luck: f64 = rng.random::<f64>().max(1e-12);
        days += 1;
        let Some(day) = table.day(&fresh, cost - heat * libm::log(luck), &mut ()) else {
            continue;
        };
        std::mem::swap(&mut now, &mut fresh);
        sums.clone_from(&table.sums);
        cost = day.cost;
        if cost < best_day.cost - 1e-9 {
            best.clone_from(&now);
            best_day = day;
        }
    }
    (best, best_day, days)
}

impl Day {
    /// A day that cannot be.
    pub(super) const NEVER: Self = Self {
        cost: f64::INFINITY,
        finish: 0,
        late: 0,
        breaches: 0,
        unready: u32::MAX,
    };
}

/// Takes a few lots or a whole load out and puts each back where the day comes out best. Returns how many days it took.
fn rebuild(t: &Timetable, s: &mut State, table: &mut Dispatcher<'_>, most: u64, rng: &mut ChaCha8Rng) -> u64 {
    let bathed = |l: &u16| t.lots[*l as usize].pools != 0;
    let mut out: Vec<u16> = if rng.random::<bool>() {
        let load = s.order[rng.random_range(0..s.order.len())];
        s.members(load).filter(bathed).collect()
    } else {
        let many = rng.random_range(1..=3);
        (0..many)
            .map(|_| rng.random_range(0..t.lots.len()) as u16)
            .filter(bathed)
            .collect()
    };
    out.sort_unstable();
    out.dedup();
    out.truncate(5);
    for i in (1..out.len()).rev() {
        out.swap(i, rng.random_range(0..=i));
    }
    let mut days = 0;
    for lot in out {
        days += put_best(t, s, table, lot, most.saturating_sub(days));
    }
    days
}

/// Puts a lot where the day comes out best: into a load that takes it, or into one of its own.
fn put_best(t: &Timetable, s: &mut State, table: &mut Dispatcher<'_>, lot: u16, most: u64) -> u64 {
    let mut days = 0;
    let mut best: Option<(f64, State)> = None;
    let mut limit = f64::INFINITY;
    let loads = s.order.clone();
    let from = s.load_of[lot as usize];
    let sums: Vec<_> = {
        let mut sums = vec![Sum::EMPTY; t.lots.len()];
        for &l in &loads {
            sums[l as usize] = s.sum(t, l);
        }
        sums
    };
    let mut tried = s.clone();
    for &load in &loads {
        if days >= most || (load != from && !takes(t, s, &sums, load, lot)) {
            continue;
        }
        tried.clone_from(s);
        if load != from {
            tried.put(t, lot, load);
        }
        days += 1;
        if let Some(day) = table.day(&tried, limit, &mut ()) {
            limit = day.cost;
            best = Some((day.cost, tried.clone()));
        }
    }
    if sums[from as usize].lots > 1 {
        for at in (0..=loads.len()).step_by(1 + loads.len() / 12) {
            if days >= most {
                break;
            }
            tried.clone_from(s);
            tried.load_of[lot as usize] = NONE;
            tried.new_load(t, lot, at);
            days += 1;
            if let Some(day) = table.day(&tried, limit, &mut ()) {
                limit = day.cost;
                best = Some((day.cost, tried.clone()));
            }
        }
    }
    if let Some((_, found)) = best {
        s.clone_from(&found);
    }
    days
}

/// First decisions by plain rules: lots taken in four orders, loads charged in three.
pub(super) fn by_rules(t: &Timetable) -> Vec<State> {
    let share = |l: u16| {
        let lot = &t.lots[l as usize];
        let pool = (lot.pools.trailing_zeros() as usize).min(t.pools.len().saturating_sub(1));
        let room = t.pools[pool].room;
        (0..3)
            .map(|k| 1_000_000 * u64::from(lot.bulk[k]) / u64::from(room[k].max(1)))
            .max()
            .unwrap_or(0) as i64
    };
    let due = |l: u16| i64::from(t.due[t.lots[l as usize].order as usize]);
    let dwell = |l: u16| i64::from(t.lots[l as usize].dwell.0);
    let there = |l: u16| i64::from(t.lots[l as usize].there);
    let mut found = Vec::new();
    for taking in 0..5 {
        let mut lots: Vec<u16> = (0..t.lots.len() as u16).collect();
        lots.sort_by_key(|&l| {
            let key = match taking {
                0 => (due(l), -share(l)),
                1 => (-share(l), due(l)),
                2 => (-dwell(l), -share(l)),
                3 => (dwell(l), -share(l)),
                _ => (there(l), due(l)),
            };
            (key, l)
        });
        for best_fit in [false, true] {
            let loads = grouped(t, &lots, best_fit, taking == 4);
            for going in 0..4 {
                let mut loads = loads.clone();
                let first_due = |l: &Vec<u16>| l.iter().map(|&x| due(x)).min().unwrap_or(0);
                let longest = |l: &Vec<u16>| l.iter().map(|&x| dwell(x)).max().unwrap_or(0);
                let last_there = |l: &Vec<u16>| l.iter().map(|&x| there(x)).max().unwrap_or(0);
                let prep = |l: &Vec<u16>| -> i64 {
                    l.iter()
                        .map(|&x| {
                            let lot = &t.lots[x as usize];
                            (lot.prepares.0..lot.prepares.1)
                                .map(|s| i64::from(t.work(s as usize, lot.pieces)))
                                .sum::<i64>()
                        })
                        .sum()
                };
                loads.sort_by_key(|l| match going {
                    0 => (first_due(l), -(l.len() as i64)),
                    1 => (-longest(l), first_due(l)),
                    2 => (prep(l), first_due(l)),
                    _ => (last_there(l), first_due(l)),
                });
                found.push(State::of(t, &loads));
            }
        }
    }
    found
}

/// Lots in their order into loads: each into the first that takes it, or into the fullest.
fn grouped(t: &Timetable, lots: &[u16], best_fit: bool, waits: bool) -> Vec<Vec<u16>> {
    let mut loads: Vec<(Vec<u16>, Sum, u8)> = Vec::new();
    for &lot in lots {
        let planned = &t.lots[lot as usize];
        let mut best: Option<(u64, usize)> = None;
        for (k, (members, sum, pool)) in loads.iter().enumerate() {
            if planned.pools == 0 || sum.class != planned.class {
                continue;
            }
            // A lot is not packed with one that comes long after it.
            let apart = |l: &u16| (t.lots[*l as usize].there - planned.there).abs() > APART;
            if waits && members.iter().any(apart) {
                continue;
            }
            let mut with = *sum;
            with.add(t, lot);
            let Some(p) = with.pool(t, *pool) else { continue };
            let room = t.pools[p as usize].room;
            let left: u64 = (0..3)
                .map(|i| 1_000_000 * u64::from(room[i] - with.bulk[i]) / u64::from(room[i].max(1)))
                .min()
                .unwrap_or(0);
            if best.is_none_or(|b| left < b.0) {
                best = Some((left, k));
                if !best_fit {
                    break;
                }
            }
        }
        match best {
            Some((_, k)) => {
                let (members, sum, pool) = &mut loads[k];
                members.push(lot);
                sum.add(t, lot);
                *pool = sum.pool(t, *pool).unwrap_or(NOWHERE);
            }
            None => {
                let mut sum = Sum::EMPTY;
                sum.add(t, lot);
                let pool = sum.pool(t, NOWHERE).unwrap_or(NOWHERE);
                loads.push((vec![lot], sum, pool));
            }
        }
    }
    loads.into_iter().map(|l| l.0).collect()
}
