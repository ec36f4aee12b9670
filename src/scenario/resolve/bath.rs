//! Baths as meant.

use crate::thing::{Thing, given};
use crate::written::{Bath, Chemistry, Start};
use tankday_base::random::Spread;
use tankday_base::shop::{
    Band, BathRecipe, BathState, CoatRule, Contaminants, Growth, IronEffect, Limits, Oxidation, Recipe, Room,
    StrengthEffect, Window,
};
use tankday_base::units::{AreaPerVolume, Concentration, Span};

/// A bath. Without a coating rule of its own, a stated window decides alone: a load stays its shortest.
pub(super) fn bath(written: &Bath) -> Option<BathRecipe> {
    let band = written.band.as_ref()?;
    let (coat, room) = (written.coat.as_ref()?, written.room.as_ref()?);
    let (least, most) = written.dwell.as_ref()?.value;
    let rule = match &coat.time {
        Some(time) => CoatRule::Time(time.value.clone()),
        None if written.place(&Bath::coat).is_none() && written.place(&Bath::dwell).is_some() => {
            CoatRule::Time(Spread::Fixed(least))
        }
        None => CoatRule::Target(coat.target.as_ref()?.value),
    };
    Some(BathRecipe {
        name: written.name.value.clone(),
        band: given! { band => Band { least, hold, most } }?,
        room: given! { room => Room { area, mass } }?,
        least: own_window(written, &rule, least),
        most,
        coat: rule,
        now: state(written)?,
        growth: growth(written)?,
        chemistry: chemistry(written.chemistry.as_ref()?)?,
        limits: limits(written)?,
        wears: written.wears.as_ref()?.value,
    })
}

/// The growth law.
pub(crate) fn growth(written: &Bath) -> Option<Growth> {
    given! { written.growth.as_ref()? => Growth { full, tau95, q10 } }
}

/// The constants. Iron is counted by the hour where that is written, else by the load.
pub(crate) fn chemistry(written: &Chemistry) -> Option<Recipe> {
    let pace = written.pace.as_ref()?.value;
    let settling = written.settling_half.as_ref()?.value;
    Some(Recipe {
        make_up: written.make_up.as_ref()?.value,
        attack_ratio: written.attack_ratio.as_ref()?.value,
        iron_in_coat: written.iron_in_coat.as_ref()?.value,
        oxidation: match (
            written.place(&Chemistry::by_load),
            written.first(&[&Chemistry::hot, &Chemistry::idle]),
        ) {
            (None, Some(_)) => Oxidation::ByHour {
                hot: written.hot.as_ref()?.value,
                idle: written.idle.as_ref()?.value,
            },
            _ => Oxidation::ByLoad(written.by_load.as_ref()?.value),
        },
        hydrolysed: written.hydrolysed.as_ref()?.value,
        drag_out: Recipe::DEFAULT.drag_out,
        metal_counts: written.metal_counts.as_ref()?.value,
        concentrate_per_point: written.concentrate_per_point.as_ref()?.value,
        concentrate_ratio: written.concentrate_ratio.as_ref()?.value,
        suspended: written.suspended.as_ref()?.value,
        settling_half: settling.unwrap_or(Recipe::DEFAULT.settling_half),
        settles_by_depth: settling.is_none(),
        sludge_bed: written.sludge_bed.as_ref()?.value,
        residual_attack: written.residual_attack.as_ref()?.value,
        finished_after: written.finished_after.as_ref()?.value,
        strength_effect: StrengthEffect {
            least: pace.0,
            most: pace.1,
        },
        iron_effect: IronEffect {
            below: written.slow_below.as_ref()?.value,
            slower: written.slower.as_ref()?.value,
        },
    })
}

/// Both sets of limits. Those of the temperature are the band.
fn limits(written: &Bath) -> Option<Limits> {
    let (stop, warn, band) = (
        written.limits.as_ref()?,
        written.warn.as_ref()?,
        written.band.as_ref()?,
    );
    let band = (band.least.as_ref()?.value, band.most.as_ref()?.value);
    Some(Limits {
        temperature: window(band, band),
        strength: window(stop.strength.as_ref()?.value, warn.strength.as_ref()?.value),
        ratio: window(stop.ratio.as_ref()?.value, warn.ratio.as_ref()?.value),
        iron: window(stop.iron.as_ref()?.value, warn.iron.as_ref()?.value),
        sludge: window(stop.sludge.as_ref()?.value, warn.sludge.as_ref()?.value),
        level: window(stop.level.as_ref()?.value, warn.level.as_ref()?.value),
    })
}

/// A warning does not lie outside its stop.
fn window<T: PartialOrd + Copy>(stop: (T, T), warn: (T, T)) -> Window<T> {
    Window {
        stop_below: stop.0,
        warn_below: if warn.0 < stop.0 { stop.0 } else { warn.0 },
        warn_above: if warn.1 > stop.1 { stop.1 } else { warn.1 },
        stop_above: stop.1,
    }
}

/// A time that is stated without a window is not held up by the usual shortest stay.
fn own_window(written: &Bath, rule: &CoatRule, least: Span) -> Span {
    match rule {
        CoatRule::Time(_) if written.place(&Bath::dwell).is_none() => Span::ZERO,
        _ => least,
    }
}

fn state(written: &Bath) -> Option<BathState> {
    let now = match written.now.as_ref()? {
        Start::Reads(now) => now,
        Start::Fresh => return fresh(written),
    };
    let (total_acid, free_acid) = now.acids()?;
    let read: Option<BathState> =
        given! { now => BathState { total_acid, free_acid, iron, sludge, uses, area, contaminants } };
    Some(BathState {
        total_acid,
        free_acid,
        ..read?
    })
}

/// A bath just made up.
fn fresh(written: &Bath) -> Option<BathState> {
    let recipe = chemistry(written.chemistry.as_ref()?)?;
    Some(BathState {
        total_acid: recipe.make_up,
        free_acid: recipe.make_up / recipe.concentrate_ratio,
        iron: Concentration::ZERO,
        sludge: Concentration::ZERO,
        uses: 0,
        area: AreaPerVolume::ZERO,
        contaminants: Contaminants::default(),
    })
}
