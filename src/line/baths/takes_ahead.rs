//! When a bath takes its next load, foreseen: hot, and after all care that comes before.

use super::Baths;
use super::tank::{at_least, midnight};
use crate::day::Day;
use crate::ids::TankIx;
use tankday_base::bath::{Bath, Heater};
use tankday_base::shop::{Chore, HeatOn, Trigger};
use tankday_base::units::{Moment, Span};

impl Baths<'_> {
    /// When a bath takes loads, as far as can be seen, that is empty from a moment on: now, when its heater has brought it into its
    /// band, when the rules say that it is to be hot, or after care that is under way or due, or that the clock calls for by
    /// then; none where nobody knows yet.
    pub(crate) fn takes_loads_by(&self, day: &Day<'_>, tank: TankIx, empty: Moment) -> Option<Moment> {
        let t = &self.tanks[tank];
        let (now, mut heat) = (day.now(), t.heat);
        heat.advance(&self.heat[tank], (now - t.at).max(Span::ZERO));
        let first = t.care.map(|job| job.rule).or_else(|| self.care_due(tank));
        let (free, hot) = match self.kept_by_care(day, tank, (empty.max(now), heat)) {
            Some((over, after)) => {
                heat = after;
                (over, over + self.heats_up(tank, heat))
            }
            None => (now, self.hot_by(day, tank, heat)?.max(empty)),
        };
        Some(self.after_calls(day, tank, (first, now, empty), (free, hot, heat)))
    }

    /// From when on a bath takes a load that would go in at a moment, where it could have taken one since an earlier one: care
    /// that the clock calls for between the two comes first.
    pub(crate) fn after_clock(&self, day: &Day<'_>, tank: TankIx, (since, at): (Moment, Moment)) -> Moment {
        let mut heat = self.tanks[tank].heat;
        heat.read_as(&self.heat[tank], self.band(tank).hold);
        let first = self.tanks[tank].care.map(|job| job.rule);
        self.after_calls(day, tank, (first, since, at), (since, at, heat))
    }

    /// The same after all care, but one rule's, that is called for already or will be before the bath is hot: the bath is free
    /// from a moment on, hot at another, and as it is then.
    fn after_calls(
        &self,
        day: &Day<'_>,
        tank: TankIx,
        (but, since, hands): (Option<usize>, Moment, Moment),
        (mut free, mut hot, mut heat): (Moment, Moment, Bath),
    ) -> Moment {
        for (at, rule) in self.calls_of_today(day, tank, (but, since)) {
            if at > hot {
                break;
            }
            heat.switch(Heater::Keep(self.band(tank).hold));
            heat.advance(&self.heat[tank], (at - free).max(Span::ZERO));
            (free, heat) = self.after_care(Some(day), tank, (rule, free.max(at), hands), heat);
            hot = hot.max(free + self.heats_up(tank, heat));
        }
        hot
    }

    /// Care by the clock or at a break, but by one rule, that will be called for from a moment on before closing, or has been and waits for other
    /// care, in the order of its times.
    fn calls_of_today(
        &self,
        day: &Day<'_>,
        tank: TankIx,
        (but, since): (Option<usize>, Moment),
    ) -> Vec<(Moment, usize)> {
        let (today, closes) = (midnight(day.now()), day.closes());
        let tracks = &self.tanks[tank].tracks;
        let waits =
            |rule: usize| (but.is_some() && since <= day.now() && tracks[rule].called).then(|| day.now());
        let comes = |rule: usize, when: &Trigger| match when {
            Trigger::Clock(time) => Some(today + *time).filter(|at| *at > since && *at < closes),
            Trigger::AtBreak => self.break_that_calls(since, closes, tracks[rule].loads > 0),
            _ => None,
        };
        let rules = self.plan.rules.care.iter().enumerate();
        let mut all: Vec<(Moment, usize)> = rules
            .filter(|(rule, _)| Some(*rule) != but)
            .filter_map(|(i, rule)| {
                Some((
                    waits(i).or_else(|| rule.when.iter().filter_map(|w| comes(i, w)).min())?,
                    i,
                ))
            })
            .filter(|(_, rule)| self.may_have_work(tank, *rule))
            .collect();
        all.sort_unstable();
        all
    }

    /// When the next break begins that calls for care, from a moment on: the first of a day does, and any where loads came before.
    fn break_that_calls(&self, since: Moment, closes: Moment, loads: bool) -> Option<Moment> {
        let mut days = self.shop.calendar.days.iter();
        let today = days.find(|d| d.close == closes)?;
        let from = today.breaks.iter().map(|b| b.from);
        let calls = from.enumerate().filter(|(nth, _)| *nth == 0 || loads);
        calls.map(|(_, at)| at).find(|at| *at > since)
    }

    /// Whether care has something to do, or may by the time that it is called for: sludge comes with loads and with other care.
    fn may_have_work(&self, tank: TankIx, rule: usize) -> bool {
        matches!(self.chore(tank, rule), Chore::Stop(_)) || self.has_work(tank, rule)
    }

    fn hot_by(&self, day: &Day<'_>, tank: TankIx, mut heat: Bath) -> Option<Moment> {
        let t = &self.tanks[tank];
        let (table, band, now) = (&self.heat[tank], self.band(tank), day.now());
        let to_come = |clock: Span| {
            let at = midnight(now) + clock;
            (t.heater.heat_on.is_some() && at > now).then_some(at)
        };
        let on = match self.plan.rules.heat.on {
            _ if t.is_on() => now,
            HeatOn::At(clock) if to_come(clock).is_some() => midnight(now) + clock,
            HeatOn::ReadyBy(clock) if to_come(clock).is_some() => return to_come(clock),
            // Somebody lights it as soon as work is to come.
            _ if day.on_duty() && self.is_worth_heating(day, tank) => now,
            // Nobody lights it for an evening on which nothing can be out again.
            _ if !self.can_finish(day, tank) => return day.next_opening(day.closes()),
            _ => return None,
        };
        if !t.is_on() {
            heat.switch(Heater::Keep(band.hold));
        }
        if at_least(heat.temperature(), band.least) {
            return Some(now.max(on));
        }
        let takes = heat.time_until_temperature(table, band.least)?;
        (on >= now).then_some(on + takes)
    }
}
