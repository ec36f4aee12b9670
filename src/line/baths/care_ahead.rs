//! When a bath takes loads again after its care, foreseen before that is over: hands are supposed to come at once when the shop
//! is open.

use super::Baths;
use super::care_hands::hands_take;
use super::due::Track;
use super::stages::{Stage, stage};
use super::tank::at_least;
use crate::day::Day;
use crate::ids::TankIx;
use tankday_base::bath::settle::time_to_share;
use tankday_base::bath::{Bath, Heater};
use tankday_base::shop::{Care, Chore, Settle, Stop, Trigger};
use tankday_base::units::{Moment, Span};

impl Baths<'_> {
    /// How many more loads a bath takes before a rule calls for care, and by which, as far as rules go by loads; after the care
    /// that is under way or due.
    fn next_by_loads(&self, tank: TankIx) -> Option<(u32, usize)> {
        let t = &self.tanks[tank];
        let now = t.care.map(|job| job.rule).or_else(|| self.care_due(tank));
        let rules = self.plan.rules.care.iter().zip(&t.tracks);
        let left = |(i, (rule, track)): (usize, (&Care, &Track))| {
            let since = if now == Some(i) { 0 } else { track.loads };
            let loads = rule.when.iter().filter_map(|w| match w {
                Trigger::Loads(n) => Some(n.saturating_sub(since)),
                _ => None,
            });
            loads.min().map(|left| (left, i))
        };
        rules.enumerate().filter_map(left).min()
    }

    /// How many more loads a bath takes before a rule calls for care, as far as rules go by loads.
    pub(crate) fn loads_until_care(&self, tank: TankIx) -> Option<u32> {
        self.next_by_loads(tank).map(|next| next.0)
    }

    /// How long the care lasts that loads call for next, and the heating-up after it, of a bath as hot as it is held.
    pub(crate) fn care_by_loads_takes(&self, tank: TankIx) -> Span {
        let Some((_, rule)) = self.next_by_loads(tank) else {
            return Span::ZERO;
        };
        let (band, table) = (self.band(tank), &self.heat[tank]);
        let mut heat = self.tanks[tank].heat;
        heat.read_as(table, band.hold);
        let (over, heat) = self.after_care(None, tank, (rule, Moment::ZERO, Moment::ZERO), heat);
        over - Moment::ZERO + self.heats_up(tank, heat)
    }

    /// When the care of a tank is over that is under way or due, if it begins at a moment and hands come from then on, and the bath as it is then; none
    /// where nothing is due. What is due and may not begin today keeps the bath until the shop opens again.
    pub(super) fn kept_by_care(
        &self,
        day: &Day<'_>,
        tank: TankIx,
        (from, heat): (Moment, Bath),
    ) -> Option<(Moment, Bath)> {
        if let Some(job) = self.tanks[tank].care {
            return Some(self.after_care(Some(day), tank, (job.rule, day.now(), from), heat));
        }
        let rule = self.care_due(tank)?;
        if !self.worth_it(day, tank, rule) || !self.wool_fits(day, tank, rule) {
            let opens = day.next_opening(day.closes()).unwrap_or(Moment::NEVER);
            return Some((opens, heat));
        }
        Some(self.after_care(Some(day), tank, (rule, from, from), heat))
    }

    /// When care by a rule that goes on from a moment is over, and the bath as it is then; hands come when the shop is open, and
    /// not before they are free of what they do first.
    pub(super) fn after_care(
        &self,
        day: Option<&Day<'_>>,
        tank: TankIx,
        (rule, from, hands): (usize, Moment, Moment),
        mut heat: Bath,
    ) -> (Moment, Bath) {
        let job = self.tanks[tank].care.filter(|j| j.rule == rule);
        let (chore, table) = (self.chore(tank, rule), &self.heat[tank]);
        let (mut at, mut nth) = (from, job.map_or(0, |j| j.stage));
        while let Some(next) = stage(&chore, nth) {
            let under_way = job.filter(|j| j.stage == nth && j.until < Moment::NEVER);
            let takes = match under_way {
                Some(job) => (job.until - at).max(Span::ZERO),
                None => self.stage_takes(tank, (&chore, next, nth), &mut heat),
            };
            let waits = match (day, next) {
                (Some(day), Stage::Hands(_)) if under_way.is_none() => {
                    hands_come(day, at.max(hands), takes) - at
                }
                _ => Span::ZERO,
            };
            heat.advance(table, waits + takes);
            (at, nth) = (at + waits + takes, nth + 1);
        }
        if matches!(chore, Chore::Renew { .. }) {
            heat.read_as(table, self.shop.air.temperature);
        }
        (at, heat)
    }

    fn stage_takes(&self, tank: TankIx, (chore, next, nth): (&Chore, Stage, u8), heat: &mut Bath) -> Span {
        match (next, chore) {
            (Stage::Reach(to), _) => {
                let warms = matches!(chore, Chore::Condition { .. }) && heat.temperature() < to;
                heat.switch(if warms { Heater::Keep(to) } else { Heater::Off });
                let there = !warms && heat.temperature() <= to;
                let takes = (!there).then(|| heat.time_until_temperature(&self.heat[tank], to));
                takes.flatten().unwrap_or_default()
            }
            (Stage::Stands, Chore::Condition { stays, .. }) => *stays,
            (Stage::Stands, Chore::Stop(stop)) if nth == 1 => self.settles(tank, stop),
            (Stage::Stands, Chore::Stop(stop)) => self.tanks[tank].chemistry.map_or(Span::ZERO, |bath| {
                self.heel_through(&bath, heat.volume(), heat.temperature(), stop)
                    .0
            }),
            (Stage::Stands, _) => Span::ZERO,
            (Stage::Hands(kind), _) => hands_take(chore, kind, heat.volume()),
        }
    }

    /// How long a bath settles in a stop by its rule.
    pub(super) fn settles(&self, tank: TankIx, stop: &Stop) -> Span {
        match stop.settle {
            Settle::For(time) => time,
            Settle::ClearTo(left) => time_to_share(self.tanks[tank].settling_half, left),
        }
    }

    /// How long a bath takes from here into its band.
    pub(super) fn heats_up(&self, tank: TankIx, mut heat: Bath) -> Span {
        let band = self.band(tank);
        heat.switch(Heater::Keep(band.hold));
        let warm = at_least(heat.temperature(), band.least);
        let takes = (!warm).then(|| heat.time_until_temperature(&self.heat[tank], band.least));
        takes.flatten().unwrap_or_default()
    }
}

/// When hands come for something that takes them so long, not before a moment: not in a break, and so that it is done before
/// closing; a day that is not on the calendar is left out.
fn hands_come(day: &Day<'_>, at: Moment, takes: Span) -> Moment {
    let open = day.next_opening(at).unwrap_or(at);
    let closes = day.closes();
    if open <= closes && open + takes > closes {
        day.next_opening(closes).unwrap_or(open)
    } else {
        open
    }
}
