//! When to heat: as the scenario says, or later, so that a bath is hot just before a load goes in; and off again until
//! the next load, where that saves more than it costs. What that saves in power is judged by the aim, and under luck.

use super::choose::{Held, Score, UnderLuck, one_day};
use super::model::{NONE, SearchContext};
use tankday_base::shop::{Keeping, StationId};
use tankday_base::units::{Moment, Span};
use tankday_line::Plan;

/// By how much a bath is in its band before a load goes in. Never just as it gets there: a cold load would take it out
/// again, and who comes a little early would wait. Ours, no source.
const AHEAD: Span = Span::whole_minutes(10);
/// Where that pays it is tried so much later, and where it does not so much earlier.
const LATER: Span = Span::whole_minutes(5);
/// Of more heatings only the usual is tried.
const FEW: usize = 8;
/// Between two loads nobody switches a bath off for less (ours, no source).
const LEAST_GAP: Span = Span::whole_minutes(30);
/// What costs more by this on the mean day, in the units of the aim, is not looked at under luck.
const SPARE: f64 = 1.0;
/// At most so many heatings are tried, the longest first.
const MOST: usize = 40;

impl SearchContext<'_> {
    /// A plan whose baths are heated later, or off between loads, if that is better and not worse than `most` on the mean
    /// day; and what it costs under luck.
    pub(super) fn heated_later(
        &self,
        held: &Held,
        (score, most): (Score, f64),
        luck: UnderLuck,
    ) -> Option<(Held, Score)> {
        // Of a day that is under way it is known when heaters went on.
        let own_rules = held.0.keeping == Keeping::OwnRules;
        if own_rules || self.shop.aim.power_kwh <= 0.0 || self.now > Moment::ZERO {
            return None;
        }
        // Which heatings may pay is looked at on few days; that they pay, on all.
        let few = luck.first();
        let mut best = (held.clone(), few.score(self, held));
        let mut better = Vec::new();
        let heatings = self.heatings(held);
        for heating in heatings.iter().take(MOST / self.weight() as usize) {
            let from = best.0.0.clone();
            let mut pays = |ahead: Span| {
                let mut plan = from.clone();
                plan.heat
                    .push((heating.tank, whole_minute(heating.first - ahead)));
                plan.heat.sort_by_key(|h| (h.1, h.0.0));
                let (judged, begun) = one_day(self, &plan, None);
                if judged.cost > most.max(held.1.cost) + 1e-9 || judged.cost > best.0.1.cost + SPARE {
                    return false;
                }
                let later = (plan, judged, begun);
                let under_luck = few.score(self, &later);
                let pays = under_luck.better(&best.1);
                if pays {
                    best = (later.clone(), under_luck);
                    better.push(later);
                }
                pays
            };
            let usual = pays(AHEAD);
            if heatings.len() <= FEW {
                pays(if usual { AHEAD - LATER } else { AHEAD + LATER });
            }
        }
        let scored = better.into_iter().rev().map(|later| {
            let by = luck.score(self, &later);
            (later, by)
        });
        scored.into_iter().find(|(_, by)| by.better(&score))
    }

    /// Moments at which a bath could come to be hot: before the first load of a day, and before loads for which it could be
    /// off since the one before; the longest time without a load first.
    fn heatings(&self, held: &Held) -> Vec<Heating> {
        let mut all = Vec::new();
        for (tank, _) in &self.tanks {
            let mut before = Moment::ZERO;
            for (into, out) in loads(&held.0, &held.2, *tank) {
                let opens = self
                    .shop
                    .calendar
                    .days
                    .iter()
                    .rev()
                    .find(|d| d.open <= into)
                    .map(|d| d.open);
                let since = opens.map_or(before, |o| before.max(o));
                let first_of_day = before <= since && opens == Some(since);
                if first_of_day || into - since >= LEAST_GAP {
                    all.push(Heating {
                        tank: *tank,
                        first: into,
                        idle: into - since,
                    });
                }
                before = before.max(out);
            }
        }
        all.sort_by_key(|h| (Span::ZERO - h.idle, h.first, h.tank.0));
        all
    }
}

/// A load before which a bath could be heated.
struct Heating {
    tank: StationId,
    first: Moment,
    /// How long no load is in it before.
    idle: Span,
}

/// Rounded down, as a person would say it.
fn whole_minute(at: Moment) -> Moment {
    let minute = Span::whole_minutes(1).in_micros();
    Moment::micros(at.in_micros().div_euclid(minute) * minute)
}

/// When each load goes into a tank and is lifted, in order.
fn loads(plan: &Plan, begun: &[Moment], tank: StationId) -> Vec<(Moment, Moment)> {
    let heads = (0..plan.lots.len() as u32).filter(|&l| plan.head[l as usize] == l);
    let mut all: Vec<(Moment, Moment)> = heads
        .filter(|&l| plan.tank[l as usize] == tank.0 && tank.0 != NONE)
        .filter_map(|l| {
            let task = plan.task(l, plan.lots[l as usize].bath_step?) as usize;
            Some((begun[task], begun[task + 1]))
        })
        .filter(|l| l.0 < Moment::NEVER && l.1 < Moment::NEVER)
        .collect();
    all.sort_unstable();
    all
}
