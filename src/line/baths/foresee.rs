//! How long loads would stay that went in together.

use super::Baths;
use super::tank::{at_least, midnight};
use crate::cargo::{Cargo, Together, work};
use crate::day::Day;
use crate::ids::TankIx;
use tankday_base::bath::{Heater, Lid};
use tankday_base::random::Spread;
use tankday_base::shop::{CoatRule, CoatsFrom, HeatOn};
use tankday_base::units::{CoatWeight, Moment, Span};

/// What a dwell that follows from the bath may take longer than foreseen.
const SLACK: Span = Span::micros(30_000_000);

impl Baths<'_> {
    /// How long loads would stay, at most, that went in together now.
    pub(crate) fn longest_dwell<'l>(
        &self,
        tank: TankIx,
        with: &Together,
        loads: impl Iterator<Item = &'l Cargo>,
    ) -> Span {
        let recipe = self.recipe(tank);
        let stay = match &recipe.coat {
            CoatRule::Time(spread) => at_most(spread),
            CoatRule::Target(weight) => self.coated_in(tank, *weight, with, loads),
        };
        stay.max(recipe.least.max(with.window.0))
            .min(recipe.most.min(with.window.1))
    }

    fn coated_in<'l>(
        &self,
        tank: TankIx,
        weight: CoatWeight,
        with: &Together,
        loads: impl Iterator<Item = &'l Cargo>,
    ) -> Span {
        let growth = self.growth(tank);
        let none = CoatsFrom::ALL.map(|from| (from, 0.0_f64));
        let needs = loads.fold(none, |mut all, cargo| {
            for (all, other) in all.iter_mut().zip(cargo.needs(&growth, weight)) {
                all.1 = all.1.max(other.1);
            }
            all
        });
        let mut bath = self.tanks[tank].heat;
        bath.set_lid(Lid::Off);
        bath.add_load(&work(with.bulk[1], with.heat), self.shop.air.temperature);
        bath.set_growth(Some(&growth));
        let table = &self.heat[tank];
        let times = needs.map(|(from, need)| bath.time_until_conversion_on(from, table, need));
        let time = times
            .into_iter()
            .try_fold(Span::ZERO, |longest, t| t.map(|t| longest.max(t)));
        time.map_or(self.recipe(tank).most, |t| t + SLACK)
    }

    /// The longest time that a load can take at a tank with somebody there throughout; none where no break is without somebody.
    pub(crate) fn longest_stretch(&self, tank: TankIx) -> Option<Span> {
        self.longest.find(tank).copied()
    }

    /// When a bath is in its band, as far as can be seen: now, when its heater has brought it there, or when the rules say that
    /// it is to be hot; none where nobody knows yet, or care is due.
    pub(crate) fn hot_by(&self, day: &Day<'_>, tank: TankIx) -> Option<Moment> {
        let t = &self.tanks[tank];
        if t.care.is_some() || self.care_due(tank).is_some() {
            return None;
        }
        let (table, band) = (&self.heat[tank], self.band(tank));
        let now = day.now();
        let mut heat = t.heat;
        heat.advance(table, (now - t.at).max(Span::ZERO));
        let on = match self.plan.rules.heat.on {
            _ if t.is_on() => now,
            HeatOn::At(clock) if t.heater.heat_on.is_some() => midnight(now) + clock,
            HeatOn::ReadyBy(clock) if t.heater.heat_on.is_some() => {
                return Some(midnight(now) + clock).filter(|hot| *hot > now);
            }
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

    /// When a bath is in its band again after a break that nobody stays for.
    pub(crate) fn hot_after(&self, day: &Day<'_>, tank: TankIx, until: Moment) -> Moment {
        self.hot_from(day, tank, day.now(), until)
    }

    /// The longest dwell in a tank.
    pub(crate) fn most_dwell(&self, tank: TankIx) -> Span {
        self.recipe(tank).most
    }
}

/// The longest time that a spread gives; where there is none its mean.
fn at_most(spread: &Spread) -> Span {
    match spread {
        Spread::Uniform { most, .. } | Spread::Triangular { most, .. } => *most,
        Spread::Readings(all) => all.iter().copied().max().unwrap_or_default(),
        _ => spread.mean(),
    }
}
