//! When to heat: as the scenario says, or later, so that a bath is hot just before its first load goes in. What that saves
//! in power is judged by the aim, and under luck.

use super::choose::{Held, mean_cost, one_day};
use super::model::{NONE, World};
use crate::line::Plan;
use crate::shop::StationId;
use crate::units::{Moment, Span};

/// By how much a bath is hot before its first load goes in, in minutes.
const AHEAD: [i64; 4] = [15, 10, 5, 0];

impl World<'_> {
    /// A plan whose baths are heated later, if that is better and not worse than `most` on the mean day; and what it costs
    /// under luck.
    pub(super) fn heated_later(
        &self,
        held: &Held,
        (costs, most): (f64, f64),
        seed: u64,
        lucky: bool,
    ) -> Option<(Held, f64)> {
        // Of a day that is under way it is known when heaters went on.
        if self.shop.aim.power_kwh <= 0.0 || self.now > Moment::ZERO {
            return None;
        }
        let mut best: Option<(Held, f64)> = None;
        for (tank, _) in &self.tanks {
            let now = best.as_ref().map_or(held, |b| &b.0);
            let Some(first) = first_load(&now.0, &now.2, *tank) else {
                continue;
            };
            for minutes in AHEAD {
                let mut plan = best.as_ref().map_or(held, |b| &b.0).0.clone();
                plan.heat.retain(|h| h.0 != *tank);
                plan.heat
                    .push((*tank, whole_minute(first - Span::whole_minutes(minutes))));
                let (judged, begun) = one_day(self, &plan, None);
                let cost = if lucky {
                    mean_cost(self, &plan, seed)
                } else {
                    judged.cost
                };
                let no_worse = judged.cost <= most.max(held.1.cost) + 1e-9;
                if no_worse && cost < best.as_ref().map_or(costs, |b| b.1) - 1e-9 {
                    best = Some(((plan, judged, begun), cost));
                }
            }
        }
        best
    }
}

/// Rounded down, as a person would say it.
fn whole_minute(at: Moment) -> Moment {
    let minute = Span::whole_minutes(1).in_micros();
    Moment::micros(at.in_micros().div_euclid(minute) * minute)
}

/// When the first load goes into a tank.
fn first_load(plan: &Plan, begun: &[Moment], tank: StationId) -> Option<Moment> {
    let heads = (0..plan.lots.len() as u32).filter(|&l| plan.head[l as usize] == l);
    heads
        .filter(|&l| plan.tank[l as usize] == tank.0 && tank.0 != NONE)
        .filter_map(|l| Some(begun[plan.task(l, plan.lots[l as usize].bath_step?) as usize]))
        .min()
        .filter(|at| *at < Moment::NEVER)
}
