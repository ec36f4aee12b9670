//! One calendar on which a time was looked for: the plans that push no other order aside, and the time that they give
//! for each number of days on which it must hold.

use super::sample::Sample;
use tankday_base::shop::Shop;
use tankday_base::units::{Moment, Span};
use tankday_line::Plan;

/// So much earlier than the plans that place the order into a day without it, and no more, may the day by the shop's own
/// rules be: with a smaller or an earlier order these rules may have less luck.
const AHEAD: Span = Span::whole_minutes(5);

/// Nothing surer is promised.
const MOST_SURE: f64 = 0.99;

/// A plan that pushes nobody aside, and its many days.
#[derive(Debug, Clone)]
pub(super) struct Kept {
    pub(super) plan: Plan,
    pub(super) sample: Sample,
    /// For each other order the days on which it is kept without the new one.
    pub(super) without: std::rc::Rc<[u32]>,
    /// Whether it is the day by the shop's own rules.
    pub(super) by_rules: bool,
}

/// What was tried on one calendar.
#[derive(Debug, Clone)]
pub(super) struct Stage {
    pub(super) shop: Shop,
    pub(super) more_days: usize,
    /// Plans that come about in the same way for every order: what serves one serves a smaller one.
    pub(super) placed: Vec<Kept>,
    /// The day by the shop's own rules.
    pub(super) by_rules: Vec<Kept>,
}

impl Stage {
    /// The time that can be told so that it holds on so many days, and by which plan.
    pub(super) fn on(&self, days: usize) -> Option<(Moment, &Kept)> {
        let first = |all: &'_ [Kept]| -> Option<usize> {
            (0..all.len()).min_by_key(|&i| all.get(i).map_or(Moment::NEVER, |k| k.sample.on(days)))
        };
        let placed = self.placed.get(first(&self.placed)?)?;
        let at = placed.sample.on(days);
        if at == Moment::NEVER {
            return None;
        }
        if let Some(own) = first(&self.by_rules).and_then(|i| self.by_rules.get(i))
            && own.sample.on(days) < at
        {
            let midnight = at - at.day_and_time().1;
            return Some((own.sample.on(days).max(at - AHEAD).max(midnight), own));
        }
        Some((at, placed))
    }

    /// When it is ready as surely as anybody asks for.
    pub(super) fn surely_by(&self, days: u32) -> Moment {
        let all = libm::ceil(MOST_SURE * f64::from(days)) as usize;
        self.on(all).map_or(Moment::NEVER, |t| t.0)
    }

    /// The latest time that was told here for any number of days.
    pub(super) fn latest(&self, days: usize) -> Moment {
        let told = (1..=days).rev().find_map(|d| self.on(d));
        told.map_or(Moment::ZERO, |t| t.0)
    }
}
