//! Long horizons, day after day: of the lots that are there, or come on the next day, the most urgent are planned as if
//! there were no others; what is charged on the day stays, the rest is planned again on the next. So the search grows
//! with the days, not with the square of the lots.

use super::anneal::{Cooling, anneal, by_rules};
use super::dispatch::{Dispatcher, Trace};
use super::model::{FAR, Secs, Timetable};
use super::state::State;
use rayon::prelude::*;
use std::sync::atomic::{AtomicBool, Ordering};

/// Fewer lots than this are planned as a whole.
pub(super) const MANY: usize = 120;
/// So many lots at most are planned for a day.
const MOST: usize = 96;
/// Searches side by side for each day.
const ISLANDS: u64 = 2;

/// A decision for all lots, found day after day with so many days dispatched in all; none for one day, or for few lots.
pub(super) fn rolled(t: &Timetable, (days, seed): (u64, u64), stop: &AtomicBool) -> Option<(State, u64)> {
    let openings: Vec<Secs> = {
        let mut all: Vec<Secs> = t.duty.iter().map(|d| d.opens).collect();
        all.dedup();
        all
    };
    if t.lots.len() < MANY || openings.len() < 2 {
        return None;
    }
    let mut left: Vec<u16> = (0..t.lots.len() as u16).collect();
    left.sort_by_key(|&l| (due(t, l), t.lots[l as usize].there, l));
    let mut loads: Vec<Vec<u16>> = Vec::new();
    let mut dispatched = 0;
    for (d, &opens) in openings.iter().enumerate() {
        let next = openings.get(d + 1).copied().unwrap_or(FAR);
        let after = openings.get(d + 2).copied().unwrap_or(FAR);
        let mut lots: Vec<u16> = left
            .iter()
            .copied()
            .filter(|&l| t.lots[l as usize].there < after)
            .take(MOST)
            .collect();
        if lots.is_empty() || stop.load(Ordering::Relaxed) {
            continue;
        }
        lots.sort_unstable();
        let today = of_day(t, opens, &lots);
        let share = days * lots.len() as u64 / (t.lots.len() as u64).max(1) / ISLANDS;
        let (charged, took) = best_day(&today, (share.max(50), seed.wrapping_add(d as u64 * 977)), stop);
        dispatched += took;
        for (at, load) in charged {
            if at < next {
                let load: Vec<u16> = load.into_iter().map(|l| lots[l as usize]).collect();
                left.retain(|l| !load.contains(l));
                loads.push(load);
            }
        }
    }
    // What no day has room for comes last, in the order of what is due.
    loads.extend(left.into_iter().map(|l| vec![l]));
    Some((State::of(t, &loads), dispatched))
}

fn due(t: &Timetable, lot: u16) -> Secs {
    t.due[t.lots[lot as usize].order as usize]
}

/// The timetable of these lots from an opening on.
fn of_day(t: &Timetable, opens: Secs, lots: &[u16]) -> Timetable {
    let mut day = t.clone();
    day.duty.retain(|d| d.opens >= opens);
    for hot in day.pools.iter_mut().flat_map(|p| &mut p.hot) {
        if hot.iter().any(|w| w.1 > opens) {
            hot.retain(|w| w.1 > opens);
        }
    }
    day.lots = lots.iter().map(|&l| t.lots[l as usize].clone()).collect();
    for lot in &mut day.lots {
        lot.there = lot.there.max(opens);
    }
    day
}

/// The best day found: when each load is charged, or begins where no bath takes it, and the lots that it holds; and how many
/// days it took.
fn best_day(t: &Timetable, (days, seed): (u64, u64), stop: &AtomicBool) -> (Vec<(Secs, Vec<u16>)>, u64) {
    let mut table = Dispatcher::new(t);
    let mut first: Vec<(f64, State)> = by_rules(t)
        .into_iter()
        .filter_map(|s| table.day(&s, f64::INFINITY, &mut ()).map(|d| (d.cost, s)))
        .collect();
    first.sort_by(|a, b| a.0.total_cmp(&b.0));
    let Some((_, start)) = first.into_iter().next() else {
        return (Vec::new(), 0);
    };
    let found: Vec<_> = (0..ISLANDS)
        .into_par_iter()
        .map(|i| {
            let how = Cooling {
                days,
                heat: 1.0,
                seed: seed ^ (i + 1).wrapping_mul(0x9e37_79b9_7f4a_7c15),
            };
            anneal(t, &start, how, stop)
        })
        .collect();
    let took = found.iter().map(|f| f.2).sum();
    let best = found
        .into_iter()
        .min_by(|a, b| a.1.cost.total_cmp(&b.1.cost))
        .map_or(start, |f| f.0);
    let mut begins = Begins(vec![FAR; t.lots.len()]);
    table.day(&best, f64::INFINITY, &mut begins);
    let mut charged: Vec<(Secs, Vec<u16>)> = best
        .order
        .iter()
        .map(|&load| {
            let members: Vec<u16> = best.members(load).collect();
            let bathed = members.first().is_some_and(|l| t.lots[*l as usize].pools != 0);
            let at = if bathed {
                begins.0[load as usize]
            } else {
                t.lots[members.first().copied().unwrap_or(0) as usize].there
            };
            (at, members)
        })
        .collect();
    charged.sort_by_key(|c| c.0);
    (charged, took)
}

/// Notes when each load is charged.
struct Begins(Vec<Secs>);

impl Trace for Begins {
    fn goes_on(&mut self, load: u16, _stage: u16, at: Secs, _tank: u8) {
        if let Some(first) = self.0.get_mut(load as usize) {
            *first = (*first).min(at);
        }
    }
}
