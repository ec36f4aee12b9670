//! How long loads would stay that went in together.

use super::Baths;
use crate::cargo::{Cargo, Together, work};
use crate::day::Day;
use crate::ids::TankIx;
use tankday_base::bath::Lid;
use tankday_base::random::Spread;
use tankday_base::shop::{CoatRule, CoatsFrom};
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

    /// How long a bath needs to come back into its band that a load has gone into as soon as it was there: the heat that the
    /// load takes, by what its heater brings beyond what the open bath loses there. Zero where it brings nothing.
    pub(crate) fn recovers(&self, tank: TankIx, cargo: &Cargo) -> Span {
        let (table, least) = (&self.heat[tank], self.band(tank).least);
        let takes = cargo.heat * (least - self.shop.air.temperature).in_kelvin().max(0.0);
        let brings = (table.net_power() - table.leaving(least, Lid::Off).heat).in_watts();
        if brings > 0.0 {
            Span::seconds(takes / brings)
        } else {
            Span::ZERO
        }
    }

    /// The longest time that a load can take at a tank with somebody there throughout; none where no break is without somebody.
    pub(crate) fn longest_stretch(&self, tank: TankIx) -> Option<Span> {
        self.longest.find(tank).copied()
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
