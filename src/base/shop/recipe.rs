//! The constants of a bath's chemistry. Every one is an input; the defaults are here and nowhere else.

use crate::units::{Concentration, MassFlux, Share, Span, Strength, VolumePerArea};

/// How dissolved iron goes over into yellow sludge: counted by load or by hour, never both.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Oxidation {
    /// This share of the iron that a load leaves in the bath, before the next use.
    ByLoad(Share),
    /// These shares of the iron held, in each hour hot and in each hour idle.
    ByHour {
        /// Hot.
        hot: Share,
        /// Idle and cold.
        idle: Share,
    },
}

/// How the strength of a bath sets its pace: make-up strength by strength, between two bounds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StrengthEffect {
    /// Least factor on the time.
    pub least: f64,
    /// Greatest factor on the time.
    pub most: f64,
}

/// How a bath short of iron is slow. The effect fades over a fifth of the mark on either side of it: with the mark at
/// 0.5 g/L it is whole at 0.4 g/L and below, and none at 0.6 g/L and above. That it fades so is assumed: a bath does not
/// jump from slow to quick.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct IronEffect {
    /// About so much iron.
    pub below: Concentration,
    /// With less the time is so many times longer.
    pub slower: f64,
}

impl IronEffect {
    /// Share of the mark over which the effect fades, on either side of it.
    pub const FADES: f64 = 0.2;

    /// How many times longer it takes with so much iron.
    #[must_use]
    pub fn at(self, iron: Concentration) -> f64 {
        let mark = self.below.in_grams_per_litre();
        let width = mark * Self::FADES;
        if width <= 0.0 {
            return 1.0;
        }
        let above = (iron.in_grams_per_litre() - mark) / (2.0 * width) + 0.5;
        self.slower + (1.0 - self.slower) * above.clamp(0.0, 1.0)
    }
}

/// The constants of one product in one bath. `bath::chemistry::CONSTANTS` explains each of them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Recipe {
    /// Total acid of a fresh bath.
    pub make_up: Strength,
    /// Coating formed for each mass of metal dissolved.
    pub attack_ratio: f64,
    /// Iron's share of the metal in the coating.
    pub iron_in_coat: Share,
    /// How iron goes over into sludge.
    pub oxidation: Oxidation,
    /// Share of the free acid deficit that hydrolysis makes good.
    pub hydrolysed: Share,
    /// Bath that leaves on the work.
    pub drag_out: VolumePerArea,
    /// Equivalents of total acid that one mole of a metal's primary phosphate counts.
    pub metal_counts: f64,
    /// Share of a bath's volume in concentrate that raises it by one point.
    pub concentrate_per_point: Share,
    /// Total by free acid of the concentrate.
    pub concentrate_ratio: f64,
    /// Share of new sludge that stays stirred up at first.
    pub suspended: Share,
    /// Time in which half of the stirred-up sludge settles in an idle bath: the one law of settling, whatever a bath stands for.
    pub settling_half: Span,
    /// Whether that time is taken from the depth of each tank instead, where the tank is known (`bath::settle::half_life`).
    pub settles_by_depth: bool,
    /// Dry solids in a settled bed of sludge.
    pub sludge_bed: Concentration,
    /// Metal that goes on dissolving under a finished coating.
    pub residual_attack: MassFlux,
    /// Stay after which it does.
    pub finished_after: Span,
    /// Pace by strength.
    pub strength_effect: StrengthEffect,
    /// Pace by iron.
    pub iron_effect: IronEffect,
}

impl Recipe {
    /// An unaccelerated hot manganese bath.
    pub const DEFAULT: Self = Self {
        make_up: Strength::points(36.0),
        attack_ratio: 2.0,
        iron_in_coat: Share::fraction(0.2),
        oxidation: Oxidation::ByLoad(Share::fraction(0.3)),
        hydrolysed: Share::fraction(0.4),
        drag_out: VolumePerArea::litres_per_square_metre(0.15),
        metal_counts: 2.4,
        concentrate_per_point: Share::percent(0.475),
        concentrate_ratio: 6.0,
        suspended: Share::fraction(0.5),
        settling_half: Span::whole_minutes(240),
        settles_by_depth: true,
        sludge_bed: Concentration::grams_per_litre(100.0),
        residual_attack: MassFlux::kilograms_per_square_metre_second(0.02e-3 / 60.0),
        finished_after: Span::whole_minutes(45),
        strength_effect: StrengthEffect {
            least: 0.7,
            most: 1.5,
        },
        iron_effect: IronEffect {
            below: Concentration::grams_per_litre(0.5),
            slower: 1.3,
        },
    };

    /// Iron counted by the hour instead of by the load: 1 % in a hot hour, 0.1 % in an idle one (assumed).
    pub const BY_HOUR: Oxidation = Oxidation::ByHour {
        hot: Share::percent(1.0),
        idle: Share::percent(0.1),
    };

    /// Share of a load's iron that oxidises with it.
    pub(crate) fn oxidised_by_load(&self) -> f64 {
        match self.oxidation {
            Oxidation::ByLoad(share) => share.in_fraction(),
            Oxidation::ByHour { .. } => 0.0,
        }
    }

    /// Shares of the iron held that oxidise in a hot and in an idle hour.
    pub(crate) fn oxidised_by_hour(&self) -> (f64, f64) {
        match self.oxidation {
            Oxidation::ByLoad(_) => (0.0, 0.0),
            Oxidation::ByHour { hot, idle } => (hot.in_fraction(), idle.in_fraction()),
        }
    }
}

impl Default for Recipe {
    fn default() -> Self {
        Self::DEFAULT
    }
}
