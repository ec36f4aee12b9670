//! How the state of a bath and the surface of the work set the time; what the gas says; what cannot be reached.

use super::species::{IRON, gas_volume};
use super::state::Chemistry;
use crate::bath::{Cannot, Substrate};
use crate::shop::{CoatsFrom, Growth, Recipe};
use crate::units::{Area, CoatWeight, Concentration, Share, Span, Temperature, VolumeFlow};

/// Steel takes no coating below it, see [`CoatsFrom::Steel`].
pub const NO_COATING_BELOW: Temperature = CoatsFrom::Steel.limit();

/// Share of its full weight at which a coating counts as done: the gas has then all but ceased. Assumed, as a reading of
/// "done" in the published windows.
pub const DONE: Share = Share::percent(95.0);

/// Beyond it no coating grows, and acid goes on attacking (encyclopaedia entry: 5-45 min).
pub const NO_GROWTH_BEYOND: Span = Span::whole_minutes(45);

/// Blasted steel. All these factors are assumed: ranges only, to be calibrated.
pub const BLASTED: Substrate = Substrate::PLAIN;
/// Ground or polished steel: fewer places to start from.
pub const POLISHED: Substrate = Substrate {
    slower: 1.3,
    heavier: 0.8,
    from: CoatsFrom::Steel,
};
/// Pickled in acid without a conditioner after it: coarser and slower.
pub const PICKLED: Substrate = Substrate {
    slower: 1.3,
    heavier: 1.3,
    from: CoatsFrom::Steel,
};
/// Steel above HRC 39: thinner.
pub const HARDENED: Substrate = Substrate {
    slower: 1.3,
    heavier: 0.8,
    from: CoatsFrom::Steel,
};
/// Cast iron: heavy.
pub const CAST_IRON: Substrate = Substrate {
    slower: 1.0,
    heavier: 1.3,
    from: CoatsFrom::CastIron,
};

/// What its iron makes of a bath. The upper limits are those of two supplier sheets, the lower ones assumed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum IronGrade {
    /// Below 0.2 g/L: coats come out thin, patchy, light grey.
    Thin,
    /// 0.2 to 0.5 g/L: doubtful.
    Doubtful,
    /// 0.5 to 3 g/L.
    Good,
    /// 3 to 4 g/L: getting too much.
    High,
    /// Above 4 g/L: to be renewed in part or all.
    TooHigh,
}

impl IronGrade {
    /// Of an iron content.
    #[must_use]
    pub fn of(iron: Concentration) -> Self {
        match iron.in_grams_per_litre() {
            x if x < 0.2 => Self::Thin,
            x if x < 0.5 => Self::Doubtful,
            x if x <= 3.0 => Self::Good,
            x if x <= 4.0 => Self::High,
            _ => Self::TooHigh,
        }
    }

    /// Whether a bath with it coats well.
    #[must_use]
    pub fn is_workable(self) -> bool {
        matches!(self, Self::Good | Self::High)
    }
}

/// How many times longer than a bath of make-up strength, well aged, a bath takes.
#[must_use]
pub fn pace(recipe: &Recipe, bath: &Chemistry) -> f64 {
    let (strength, iron) = (recipe.strength_effect, recipe.iron_effect);
    let by_strength = recipe.make_up / bath.total_acid();
    let by_iron = iron.at(bath.iron());
    // Not `clamp`: bounds the wrong way round would end the program.
    by_strength.max(strength.least).min(strength.most) * by_iron
}

impl Growth {
    /// The same law in a bath that takes so many times longer.
    #[must_use]
    pub fn paced(&self, slower: f64) -> Self {
        Self {
            tau95: self.tau95.times(slower),
            ..*self
        }
    }
}

/// Why a target is not met inside its window.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum Unreachable {
    /// Heavier than the coating ever gets.
    #[error(transparent)]
    TooHeavy(#[from] Cannot),
    /// No coating forms so cold.
    #[error("the bath has {at:.1} °C: steel takes no coating up to {steel:.0} °C, cast iron none up to {iron:.0} °C", at = .0.in_celsius(), steel = CoatsFrom::Steel.limit().in_celsius(), iron = CoatsFrom::CastIron.limit().in_celsius())]
    TooCold(Temperature),
    /// It takes longer than allowed.
    #[error("the coating takes {needs:.1} min and may take {most:.1} min", needs = .needs.in_minutes(), most = .most.in_minutes())]
    TooLong {
        /// What it takes.
        needs: Span,
        /// What is allowed.
        most: Span,
    },
}

/// What one kind of piece in a load wants.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wanted {
    /// Weight to reach.
    pub target: CoatWeight,
    /// Surface.
    pub on: Substrate,
}

/// The stays between which a load must leave.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Stay {
    /// Shortest.
    pub least: Span,
    /// Longest.
    pub most: Span,
}

/// When a load of mixed pieces is done.
#[derive(Debug, Clone, PartialEq)]
pub struct Done {
    /// The stay that its slowest piece needs, not below the shortest allowed.
    pub stay: Span,
    /// Which piece is the slowest; the first of several.
    pub slowest: usize,
    /// What each piece gets beyond its target.
    pub over: Vec<CoatWeight>,
}

/// When a load is done in a bath of one temperature; `growth` is the law of the bath as it is (see
/// [`Growth::paced`]). Nothing wanted is done at once.
///
/// # Errors
/// When a piece cannot reach its target, with the reason.
pub fn dwell(growth: &Growth, wanted: &[Wanted], at: Temperature, stay: Stay) -> Result<Done, Unreachable> {
    let cold = |from: CoatsFrom| from.share(at.in_celsius()) <= 0.0;
    if at.in_celsius().is_nan() || wanted.iter().any(|w| cold(w.on.from)) {
        return Err(Unreachable::TooCold(at));
    }
    let (mut needs, mut slowest) = (Span::ZERO, 0);
    for (i, w) in wanted.iter().enumerate() {
        let time = growth.time_for(w.target, w.on, at)?;
        if time > needs {
            (needs, slowest) = (time, i);
        }
    }
    if needs > stay.most {
        return Err(Unreachable::TooLong {
            needs,
            most: stay.most,
        });
    }
    let took = needs.max(stay.least);
    let gets = |on: Substrate| growth.weight(growth.conversion_on(on.from, at, took), on);
    let over = wanted.iter().map(|w| gets(w.on) - w.target);
    Ok(Done {
        stay: took,
        slowest,
        over: over.map(|o| o.max(CoatWeight::ZERO)).collect(),
    })
}

/// Hydrogen that rises from a surface while it is being coated, at 20 °C: the metal that dissolves for the full
/// coating, times the rate at which the coating closes. `conversion` is what the surface has had so far.
#[must_use]
pub fn gassing(recipe: &Recipe, growth: &Growth, w: Surface, at: Temperature, conversion: f64) -> VolumeFlow {
    let metal = growth.full * w.on.heavier / recipe.attack_ratio * w.area;
    let gas = gas_volume(metal / IRON);
    let pace = growth.rate().at(w.on.from, at.in_celsius()) / w.on.slower;
    let rate = libm::exp(-conversion.max(0.0) / w.on.slower) * pace;
    VolumeFlow::cubic_metres_per_second(gas.in_cubic_metres() * rate)
}

/// A surface of one kind.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Surface {
    /// Kind.
    pub on: Substrate,
    /// Size.
    pub area: Area,
}

/// Time after which the gassing is down to a share of its start at one temperature.
#[must_use]
pub fn gassing_down_to(growth: &Growth, on: Substrate, at: Temperature, share: f64) -> Span {
    growth
        .tau_on(on.from, at)
        .times(-libm::log(share.clamp(f64::MIN_POSITIVE, 1.0)) * on.slower)
}
