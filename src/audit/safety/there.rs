//! Who is where: when somebody is in sight of the tanks, and when a pair of hands has nothing to do.
//!
//! Hands are there while the shop is open, but for its breaks. In a break or after closing they are there only while they
//! work, unless the shop says that somebody stays. After closing whoever sees to what cannot wait stays until the last
//! task of that evening is done, for as long as [`STAYS`] at most.

use super::spell::{Spell, common, joined, without};
use crate::hands::Doing;
use tankday_base::shop::{STAYS, Shop};
use tankday_base::units::Moment;

/// When somebody is there, and when hands are free to act.
pub(super) struct There {
    /// Somebody is in sight of the tanks.
    pub(super) somebody: Vec<Spell>,
    /// The shop works, and a pair of hands is at no task.
    pub(super) idle: Vec<Spell>,
    /// The first opening.
    pub(super) opens: Moment,
}

impl There {
    pub(super) fn of(shop: &Shop, tasks: &[Doing], end: Moment) -> Self {
        let all = |list: Vec<Spell>| {
            let seen = |s: Spell| Spell::new(s.from, s.to.min(end));
            joined(list.into_iter().map(seen).collect())
        };
        let works = all(working(shop));
        let at_work = tasks.iter().map(|t| Spell::new(t.from, t.to.unwrap_or(end)));
        let mut somebody: Vec<Spell> = works.iter().copied().chain(at_work).collect();
        somebody.extend(watched_breaks(shop));
        somebody.extend(evenings(shop, tasks));
        Self {
            somebody: all(somebody),
            opens: shop.calendar.days.first().map_or(end, |d| d.open),
            idle: common(&works, &all(idle(shop, tasks, end))),
        }
    }
}

/// Opening hours without their breaks.
fn working(shop: &Shop) -> Vec<Spell> {
    let open = shop.calendar.days.iter().map(|d| Spell::new(d.open, d.close));
    let breaks = shop.calendar.days.iter().flat_map(|d| &d.breaks);
    let breaks = breaks.map(|b| Spell::new(b.from, b.until)).collect();
    without(&joined(open.collect()), &joined(breaks))
}

/// Breaks and nights in which the shop says that somebody stays.
fn watched_breaks(shop: &Shop) -> Vec<Spell> {
    let days = &shop.calendar.days;
    let opens = days.iter().skip(1).map(|d| d.open).chain([Moment::NEVER]);
    let nights = days.iter().zip(opens).filter(|(d, _)| d.stays);
    let nights = nights.map(|(d, opens)| Spell::new(d.close, opens));
    // What the first day says of its night holds for the night before it, too.
    let first = days.first().filter(|d| d.stays);
    let nights = nights.chain(first.map(|d| Spell::new(Moment::ZERO, d.open)));
    let breaks = days.iter().flat_map(|d| &d.breaks).filter(|b| b.stays);
    breaks
        .map(|b| Spell::new(b.from, b.until))
        .chain(nights)
        .collect()
}

/// After each closing: until the last task of that evening.
fn evenings(shop: &Shop, tasks: &[Doing]) -> Vec<Spell> {
    let days = &shop.calendar.days;
    let next = |i: usize| days.get(i + 1).map_or(Moment::NEVER, |d| d.open);
    let evening = |(i, day): (usize, &tankday_base::shop::Day)| {
        let until = (day.close + STAYS).min(next(i));
        let late = tasks.iter().filter(|t| day.close <= t.from && t.from < until);
        let last = late.filter_map(|t| t.to).max()?;
        Some(Spell::new(day.close, last.min(until)))
    };
    days.iter().enumerate().filter_map(evening).collect()
}

/// When fewer pairs of hands are at tasks than are there.
fn idle(shop: &Shop, tasks: &[Doing], end: Moment) -> Vec<Spell> {
    let mut turns: Vec<(Moment, i64)> = Vec::with_capacity(2 * tasks.len());
    for task in tasks {
        turns.push((task.from, 1));
        turns.push((task.to.unwrap_or(end), -1));
    }
    turns.extend(shop.calendar.crews.iter().map(|c| (c.from, 0)));
    turns.retain(|(at, _)| *at <= end);
    turns.sort_unstable();
    let (mut busy, mut since, mut idle) = (0, Moment::ZERO, Vec::new());
    for (at, turn) in turns {
        if busy < i64::from(shop.hands_at(since)) {
            idle.push(Spell::new(since, at));
        }
        busy += turn;
        since = at;
    }
    if busy < i64::from(shop.hands_at(since)) {
        idle.push(Spell::new(since, end));
    }
    idle
}
