//! What to add to a bath that reads so, by the means and to the marks of the shop's own care.

use crate::baths::{conditioned, means, replenished, start, trimmed};
use tankday_base::bath::Bath;
use tankday_base::bath::TankHeat;
use tankday_base::bath::chemistry::{Breach, Chemistry, Gravity, Side, Watched};
use tankday_base::shop::{AcidBought, BathRecipe, Chore, Shop, StationId, Tank, Trimming, Window};
use tankday_base::units::{Concentration, Mass, Share, Strength, Temperature, Volume};
use tankday_record::one_load::{PutIn, SetRight};

/// Iron that a bath without any is given: 0.5 to 1.5 g/L, assumed, as for a fresh bath.
const IRON: Concentration = Concentration::grams_per_litre(1.0);
/// Phosphoric acid is sold with 75 and with 85 % by mass: common practice, no source.
const BOTTLE: Share = Share::percent(75.0);
/// So often concentrate and the acid ratio are looked at, one after the other. A choice.
const ROUNDS: usize = 3;
/// Less than this of a tank's fill is not worth a jug.
const DROP: f64 = 0.001;

/// How the bath of a tank is set right at a temperature; none where it is no tank, or its bath does not wear.
#[must_use]
pub fn set_right(shop: &Shop, tank: StationId, at: Temperature) -> Option<SetRight> {
    let tank = shop.tank(tank)?;
    let recipe = shop.baths.get(tank.bath.index())?;
    let table = TankHeat::new(tank, &shop.air);
    let bath = start(recipe, &Bath::new(&table, tank.volume, at))?;
    let hand = Hand { shop, tank, recipe };
    let passes = hand.passes(&bath, at);
    let mut after = bath;
    let put_in = hand.adds(&mut after);
    Some(SetRight {
        before: bath.readings(),
        put_in,
        after: after.readings(),
        passes,
        still: hand.passes(&after, at),
    })
}

struct Hand<'a> {
    shop: &'a Shop,
    tank: &'a Tank,
    recipe: &'a BathRecipe,
}

impl Hand<'_> {
    /// Limits that are passed, whatever the temperature: that is the heater's work.
    fn passes(&self, bath: &Chemistry, at: Temperature) -> Vec<Breach> {
        let limits = &self.recipe.limits;
        let all = limits.breaches(&self.recipe.chemistry, bath, at, self.tank.fill);
        all.into_iter()
            .filter(|b| b.what != Watched::Temperature)
            .collect()
    }

    /// Water first, since all readings are taken at the mark; wool before acid, since it uses acid up.
    fn adds(&self, bath: &mut Chemistry) -> Vec<PutIn> {
        let mut all = vec![self.water(bath), self.wool(bath)];
        // What takes acid out may leave too little of it, and concentrate moves the ratio again.
        for _ in 0..ROUNDS {
            all.extend([self.concentrate(bath), self.trim(bath)]);
        }
        all.into_iter().flatten().collect()
    }

    fn water(&self, bath: &mut Chemistry) -> Option<PutIn> {
        let short = self.tank.fill - bath.volume();
        (short > self.tank.fill * DROP).then(|| {
            bath.top_up(short);
            PutIn::Water(short)
        })
    }

    fn wool(&self, bath: &mut Chemistry) -> Option<PutIn> {
        let low = self.recipe.limits.iron.warn_below;
        if bath.iron() >= low || self.must_go(bath) {
            return None;
        }
        let to = self.chore(|c| match c {
            Chore::Condition { to, .. } => Some(*to),
            _ => None,
        });
        let (wool, gas) = conditioned(bath, &self.recipe.chemistry, to.unwrap_or(IRON))?;
        Some(PutIn::Wool(wool, gas))
    }

    fn concentrate(&self, bath: &mut Chemistry) -> Option<PutIn> {
        let low = is(self.recipe.limits.strength, bath.total_acid(), Side::Below);
        if !low || self.must_go(bath) {
            return None;
        }
        let to = self.chore(|c| match c {
            Chore::Replenish { to, .. } => Some(*to),
            _ => None,
        });
        let to: Strength = to.unwrap_or(self.recipe.chemistry.make_up);
        let full = self.tank.fill.max(bath.volume());
        let added = replenished(bath, &self.recipe.chemistry, to, full);
        (added > Volume::ZERO).then_some(PutIn::Concentrate(added))
    }

    fn trim(&self, bath: &mut Chemistry) -> Option<PutIn> {
        let window = self.recipe.limits.ratio;
        let low = is(window, bath.ratio(), Side::Below);
        if !(low || is(window, bath.ratio(), Side::Above)) || self.must_go(bath) {
            return None;
        }
        let raises = |by: &Trimming| matches!(by, Trimming::PhosphoricAcid(_));
        let own = self.chore(|c| match c {
            Chore::Trim { by, to, .. } if raises(by) != low => Some((*by, *to)),
            _ => None,
        });
        let acid = || AcidBought::of(BOTTLE).map(Trimming::PhosphoricAcid);
        let usual = if low {
            Some(Trimming::ManganeseCarbonate)
        } else {
            acid()
        };
        let middle = (window.stop_below + window.stop_above) / 2.0;
        let (by, to) = own.or(usual.map(|by| (by, middle)))?;
        let pure = trimmed(bath, means(by), to);
        (pure > Mass::ZERO).then_some(PutIn::Trim(by, pure))
    }

    /// What is foreign, and too much iron, only go with the bath: nothing is added to what is thrown away.
    fn must_go(&self, bath: &Chemistry) -> bool {
        let iron = self.recipe.limits.iron.check(bath.iron());
        bath.contaminants.any() || iron == Some((Gravity::Stop, Side::Above))
    }

    /// What the shop's own care says.
    fn chore<T>(&self, of: impl Fn(&Chore) -> Option<T>) -> Option<T> {
        self.shop.rules.care.iter().find_map(|care| of(&care.chore))
    }
}

/// Whether a reading passes a warning or a limit on one side.
fn is<T: PartialOrd + Copy>(window: Window<T>, value: T, side: Side) -> bool {
    window.check(value).is_some_and(|(_, on)| on == side)
}
