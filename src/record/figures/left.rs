//! What a run leaves undone in its baths, at what doing it would cost: so that putting care off is not free.

use crate::analysis::Analysis;
use crate::event::{BathReadings, BathSample};
use tankday_base::bath::water::measuring_density;
use tankday_base::shop::{BathRecipe, Chore, Prices, Shop, Stop, Tank};
use tankday_base::units::{Quantity, Span, Temperature, Volume};

/// kWh that warm a litre of bath by one kelvin: 4.19 kJ (from memory).
const KWH_BY_LITRE_KELVIN: f64 = 4.19 / 3_600.0;

/// What a run leaves behind, in the shop's currency: its end against its start, so that a bath that was better at the end
/// counts below nothing. Of each bath that wears are counted:
///
/// - the concentrate that would bring its total acid back to what it was,
/// - the share of a stop that its sludge is due, by its limit: hands, what is lost, and heating up again,
/// - iron above its warning, at the cost of renewing half the bath for half the iron at the limit.
///
/// A choice of ours, no source. Not counted: the acid ratio, carbonate and steel wool, for which no prices are known.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct LeftBehind {
    /// Acid used up.
    pub acid: f64,
    /// Sludge: its share of a stop.
    pub sludge: f64,
    /// Iron beyond its warning.
    pub iron: f64,
}

impl LeftBehind {
    /// All of it.
    #[must_use]
    pub fn total(&self) -> f64 {
        self.acid + self.sludge + self.iron
    }
}

pub(super) fn of(read: &Analysis<'_>) -> LeftBehind {
    let shop = read.shop;
    let mut left = LeftBehind::default();
    for (id, _, tank) in shop.tanks() {
        let mut looks = read
            .samples(id)
            .iter()
            .filter_map(|(_, s)| Some((s, s.readings?)));
        let (Some(recipe), Some(first)) = (shop.baths.get(tank.bath.index()), looks.next()) else {
            continue;
        };
        let last = looks.next_back().unwrap_or(first);
        let bath = Wear { shop, tank, recipe };
        left.acid += bath.acid(first, last);
        left.sludge += bath.sludge(&first.1, &last.1);
        left.iron += bath.iron(first, last);
    }
    left
}

/// What it costs to throw a tank's bath away and make it up anew: hands, what goes, heating up again.
pub(super) fn renewal(shop: &Shop, tank: &Tank, recipe: &BathRecipe) -> f64 {
    Wear { shop, tank, recipe }.renewal(1.0)
}

type Look<'a> = (&'a BathSample, BathReadings);

/// One tank and its bath.
struct Wear<'a> {
    shop: &'a Shop,
    tank: &'a Tank,
    recipe: &'a BathRecipe,
}

impl Wear<'_> {
    fn prices(&self) -> &Prices {
        &self.shop.prices
    }

    fn acid(&self, first: Look, last: Look) -> f64 {
        let held = |(sample, r): Look| r.total_acid.in_points() * litres(sample);
        let concentrate =
            (held(first) - held(last)) * self.recipe.chemistry.concentrate_per_point.in_fraction();
        concentrate * self.prices().concentrate_per_litre
    }

    fn sludge(&self, first: &BathReadings, last: &BathReadings) -> f64 {
        let bed = self.recipe.chemistry.sludge_bed.in_grams_per_litre();
        let most = self.recipe.limits.sludge.stop_above.in_fraction() * bed * self.tank.fill.in_litres();
        let held = |r: &BathReadings| (r.stirred + r.settled).in_grams();
        if most <= 0.0 {
            return 0.0;
        }
        (held(last) - held(first)) / most * self.stop()
    }

    fn iron(&self, first: Look, last: Look) -> f64 {
        let limit = &self.recipe.limits.iron;
        let fill = self.tank.fill.in_litres();
        let beyond = |(sample, r): Look| {
            let iron = r.iron.in_grams_per_litre() * (litres(sample) / fill).min(1.0);
            (iron - limit.warn_above.in_grams_per_litre()).max(0.0)
        };
        let half = limit.stop_above.in_grams_per_litre() / 2.0;
        if half <= 0.0 || fill <= 0.0 {
            return 0.0;
        }
        (beyond(last) - beyond(first)) / half * self.renewal(0.5)
    }

    /// One stop by the shop's own rule; half a renewal where it has none that clears a bath.
    fn stop(&self) -> f64 {
        let rules = self.shop.rules.care.iter().filter(|c| !c.when.is_empty());
        let stop = rules.rev().find_map(|care| match care.chore {
            Chore::Stop(stop) => Some(stop),
            _ => None,
        });
        stop.map_or_else(|| self.renewal(0.5), |stop| self.clearing(&stop))
    }

    fn clearing(&self, stop: &Stop) -> f64 {
        let gone = if stop.filtered { stop.lost } else { stop.heel };
        let poured = 2.0 - stop.heel.in_fraction();
        let pouring = Span::seconds(self.tank.fill.base() * poured / stop.pour.base());
        self.hands(pouring + stop.set_up) + self.thrown(gone.in_fraction()) + self.heating(stop.cool_to)
    }

    /// A share of the bath made up anew, by the shop's own rule or the usual one.
    fn renewal(&self, share: f64) -> f64 {
        let all = self.shop.rules.care.iter();
        let rule = all.rev().find_map(|care| match care.chore {
            Chore::Renew { takes, cool_to, .. } => Some((takes, cool_to)),
            _ => None,
        });
        let (takes, cool_to) = rule.unwrap_or((Span::whole_minutes(20), Temperature::celsius(45.0)));
        self.hands(takes) + self.thrown(share) + self.heating(cool_to)
    }

    fn hands(&self, time: Span) -> f64 {
        time.in_hours() * self.prices().hands_per_hour
    }

    /// So much of the bath goes, and is made good with water and concentrate.
    fn thrown(&self, share: f64) -> f64 {
        let gone = self.tank.fill.in_litres() * share;
        let prices = self.prices();
        let concentrate = gone
            * self.recipe.chemistry.make_up.in_points()
            * self.recipe.chemistry.concentrate_per_point.in_fraction();
        gone * (prices.waste_per_litre + prices.water_per_litre) + concentrate * prices.concentrate_per_litre
    }

    fn heating(&self, from: Temperature) -> f64 {
        let warmer = (self.recipe.band.hold - from).in_kelvin().max(0.0);
        let litres = self.tank.fill.in_litres();
        let efficiency = self.tank.heater.efficiency.in_fraction().max(0.01);
        litres * warmer * KWH_BY_LITRE_KELVIN / efficiency * self.prices().power_per_kwh
    }
}

fn litres(sample: &BathSample) -> f64 {
    let volume: Volume = sample.water / measuring_density();
    volume.in_litres()
}
