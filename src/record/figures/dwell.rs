//! Between which times a load is done, by what is believed of growth, and what its gas says when it comes out.

use super::loads::TankLoad;
use crate::analysis::Analysis;
use crate::event::{BathSample, Coated};
use tankday_base::bath::Substrate;
use tankday_base::bath::chemistry::DONE;
use tankday_base::shop::{BathRecipe, CoatRule, Growth, Shop};
use tankday_base::units::{CoatWeight, Moment, Share, Span, Temperature};

/// The stay of a load whose coating is to reach a weight. The growth law is derived from published windows of time,
/// temperature and weight, which leave its constants open within a range ([`Growth::believed`]); a time to the minute is
/// no promise of chemistry.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DwellRange {
    /// The shortest stay that the bath and the parts allow.
    pub least: Span,
    /// The longest.
    pub most: Span,
    /// When the target is reached by the quickest law that is believed, not below `least`.
    pub quick: Span,
    /// When it is by the slowest, not above `most`.
    pub slow: Span,
    /// Gas that still rises as it comes out, as a share of what rose at first, from the surface that gasses longest.
    pub fizz: Share,
}

impl DwellRange {
    /// Whether gas has all but ceased when the load comes out.
    #[must_use]
    pub fn has_all_but_stopped(&self) -> bool {
        self.fizz <= ALL_BUT_STOPPED
    }
}

/// Gas counts as all but stopped at a seventh of its start or less. Assumed: where the trade says "all but stopped" nobody
/// counts bubbles; at 5 % a coating counts as done.
pub const ALL_BUT_STOPPED: Share = Share::percent(15.0);

/// The range of a load that has come out; none where a time is set, or nothing grew.
pub(super) fn range(read: &Analysis<'_>, load: &TankLoad, coated: &Coated) -> Option<DwellRange> {
    let shop = read.shop;
    let tank = shop.tank(load.tank)?;
    let recipe = shop.baths.get(tank.bath.index())?;
    let CoatRule::Target(target) = recipe.coat else {
        return None;
    };
    let dwell = load.dwell().filter(|d| *d > Span::ZERO)?;
    let (least, most) = window(shop, recipe, load);
    let at = mean(read.samples(load.tank), load.begins, load.begins + dwell)?;
    let laws = recipe.growth.believed(at);
    let (mut ends, mut fizz) = ([Span::ZERO; 2], 0.0_f64);
    for (id, _) in &load.parts {
        let material = shop.materials.get(shop.parts.get(id.index())?.material.index())?;
        let on = Substrate::of(material);
        let had = coated.conversion_on(on.from);
        if had <= 0.0 {
            return None;
        }
        fizz = fizz.max(libm::exp(-had / on.slower));
        for (end, law) in ends.iter_mut().zip(&laws) {
            let faster = pace(law, at) / pace(&recipe.growth, at);
            let time = dwell.times(needs(law, target, on) / (had * faster));
            *end = (*end).max(time);
        }
    }
    let [quick, slow] = ends;
    Some(DwellRange {
        least,
        most,
        quick: quick.min(dwell).max(least.min(dwell)),
        slow: slow.min(most).max(dwell),
        fizz: Share::fraction(fizz),
    })
}

/// Conversion by minute at a temperature, leaving aside where nothing grows.
fn pace(law: &Growth, at: Temperature) -> f64 {
    libm::pow(law.q10, (at.in_celsius() - 95.0) / 10.0) / law.tau95.in_minutes()
}

/// Conversion that a surface needs by a law; where it never gets so heavy, what leaves hardly any gas.
fn needs(law: &Growth, target: CoatWeight, on: Substrate) -> f64 {
    let done = -libm::log(1.0 - DONE.in_fraction()) * on.slower;
    law.conversion_for(target, on).unwrap_or(done).min(done)
}

/// The shortest and the longest stay of a load.
fn window(shop: &Shop, recipe: &BathRecipe, load: &TankLoad) -> (Span, Span) {
    let own = load
        .parts
        .iter()
        .filter_map(|(id, _)| shop.parts.get(id.index())?.dwell);
    let least = own.map(|w| w.0).fold(recipe.least, Span::max);
    (least, load.most.unwrap_or(recipe.most))
}

/// The mean temperature between two moments, each sample holding until the next.
fn mean(looks: &[(Moment, BathSample)], from: Moment, to: Moment) -> Option<Temperature> {
    let first = looks.partition_point(|(at, _)| *at <= from).checked_sub(1)?;
    let (mut sum, mut seconds) = (0.0, 0.0);
    for (i, (at, now)) in looks.iter().enumerate().skip(first) {
        if *at >= to {
            break;
        }
        let next = looks.get(i + 1).map_or(to, |l| l.0.min(to));
        let held = (next - (*at).max(from)).in_seconds();
        sum += now.temperature.in_celsius() * held;
        seconds += held;
    }
    (seconds > 0.0).then(|| Temperature::celsius(sum / seconds))
}
