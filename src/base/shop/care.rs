//! How a bath is kept: what is done to it, and when.

use super::ids::VesselId;
use crate::units::{
    Area, CakeResistance, Concentration, Length, Mass, MediumResistance, Share, Span, Strength, Temperature,
    Volume, VolumeFlow,
};

/// A reading that passes a mark.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Reads {
    /// Total acid below.
    StrengthBelow(Strength),
    /// Total by free acid below.
    RatioBelow(f64),
    /// Total by free acid above.
    RatioAbove(f64),
    /// Iron below.
    IronBelow(Concentration),
    /// Iron above.
    IronAbove(Concentration),
    /// Sludge by volume above.
    SludgeAbove(Share),
    /// Foreign metal or oil in it.
    Contaminated,
}

/// When something is done to a bath.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Trigger {
    /// After so many loads since it was done last.
    Loads(u32),
    /// After so much surface coated since it was done last.
    Coated(Area),
    /// As soon as a reading passes a mark.
    Reads(Reads),
    /// Each day at this time of day, work or not.
    Clock(Span),
    /// Each day when its first break begins, work or not, and in later breaks where loads came since.
    AtBreak,
    /// Each day after its last load.
    AfterLast,
    /// Each day when its last load is out or the shop closes, work or not, so that it cools and settles in the night.
    Overnight,
}

impl Trigger {
    /// Whether the time of day calls, and not the work.
    #[must_use]
    pub const fn by_the_clock(self) -> bool {
        matches!(self, Self::Clock(_) | Self::AtBreak | Self::Overnight)
    }
}

/// How long a bath is left to settle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Settle {
    /// A time.
    For(Span),
    /// Until no more than this share of the stirred-up sludge is left in it.
    ClearTo(Share),
}

/// A filter stop: cool, settle, decant, filter the heel, fill back.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stop {
    /// Cooled down to this before anybody handles it.
    pub cool_to: Temperature,
    /// How long it settles.
    pub settle: Settle,
    /// Share of the volume that stays over the sludge when it is decanted.
    pub heel: Share,
    /// Whether the heel is filtered and goes back, or is thrown away.
    pub filtered: bool,
    /// Area of the filter.
    pub area: Area,
    /// Head of liquid above it.
    pub head: Length,
    /// Resistance of its medium when new.
    pub medium: MediumResistance,
    /// Resistance of the cake.
    pub cake: CakeResistance,
    /// Share of the volume lost in filter and vessels.
    pub lost: Share,
    /// How fast hands decant and fill back.
    pub pour: VolumeFlow,
    /// Hands' time to set up the filter, and to clean up.
    pub set_up: Span,
    /// The vessel in which its own bath settles and is filtered, while the tank goes on with what was kept there.
    pub into: Option<VesselId>,
}

/// What moves the free acid of a bath.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Trimming {
    /// Down, with manganese carbonate.
    ManganeseCarbonate,
    /// Down, with soda ash.
    SodaAsh,
    /// Up, with phosphoric acid from a bottle of this strength.
    PhosphoricAcid(AcidBought),
}

impl Trimming {
    /// The chemical by its full name.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::ManganeseCarbonate => "manganese carbonate",
            Self::SodaAsh => "soda ash",
            Self::PhosphoricAcid(_) => "phosphoric acid",
        }
    }
}

/// Density of phosphoric acid at room temperature by its share of mass, kg/L: registration dossier of phosphoric acid at
/// ECHA, density endpoint, which sums up ten handbooks; to 1 %.
pub const ACID_DENSITY: [(f64, f64); 5] = [
    (0.10, 1.052),
    (0.30, 1.18),
    (0.50, 1.335),
    (0.75, 1.575),
    (0.85, 1.69),
];

/// Phosphoric acid as the shop buys it: its share of the bottle's mass, from 10 to 85 %.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AcidBought(Share);

impl AcidBought {
    /// Of a share by mass; none outside of what its density is known for.
    #[must_use]
    pub fn of(share: Share) -> Option<Self> {
        (0.10..=0.85)
            .contains(&share.in_fraction())
            .then_some(Self(share))
    }

    /// How much of the bottle holds so much pure acid; the density between two known ones on a straight line.
    #[must_use]
    pub fn holds(self, pure: Mass) -> Volume {
        let share = self.0.in_fraction();
        let pair = ACID_DENSITY.windows(2).find_map(|pair| match pair {
            &[low, high] if share <= high.0 => Some((low, high)),
            _ => None,
        });
        let [.., last] = ACID_DENSITY;
        let density = pair.map_or(last.1, |(low, high)| {
            low.1 + (high.1 - low.1) * (share - low.0) / (high.0 - low.0)
        });
        Volume::litres(pure.in_kilograms() / share / density)
    }

    /// `75 %`
    #[must_use]
    pub fn words(self) -> String {
        format!("{} %", (self.0.in_percent() * 10.0).round() / 10.0)
    }
}

/// What is done to a bath.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Chore {
    /// Concentrate is added up to a strength.
    Replenish {
        /// Strength afterwards.
        to: Strength,
        /// Hands' time.
        takes: Span,
    },
    /// The free acid is brought where total by free acid is this.
    Trim {
        /// By what.
        by: Trimming,
        /// Ratio afterwards.
        to: f64,
        /// Hands' time.
        takes: Span,
    },
    /// Steel wool is dissolved until the bath holds so much iron.
    Condition {
        /// Iron afterwards.
        to: Concentration,
        /// Temperature at which the wool goes in.
        at: Temperature,
        /// How long it stays.
        stays: Span,
        /// Hands' time to put it in and to take the rest out, together.
        takes: Span,
    },
    /// Cooled, settled, decanted, filtered.
    Stop(Stop),
    /// A part of it, from the bottom, or all of it is thrown away and made up anew.
    Renew {
        /// How much of it.
        share: Share,
        /// Cooled down to this before anybody handles it.
        cool_to: Temperature,
        /// Hands' time.
        takes: Span,
    },
}

/// A rule of care: what, and whenever any of these is met.
#[derive(Debug, Clone, PartialEq)]
pub struct Care {
    /// What is done.
    pub chore: Chore,
    /// When.
    pub when: Vec<Trigger>,
}

#[cfg(test)]
mod tests {
    use super::{AcidBought, Mass, Share};

    /// 25.48 g of acid are 17.74 mL of 85 % and 21.57 mL of 75 %: worked out by hand from the densities of the dossier,
    /// 1.69 and 1.575.
    #[test]
    fn pure_acid_as_a_bottle_holds_it() {
        for (percent, millilitres) in [(85.0, 17.74), (75.0, 21.57)] {
            let bottle = AcidBought::of(Share::percent(percent)).unwrap();
            let got = bottle.holds(Mass::grams(25.48)).in_litres() * 1e3;
            assert!((got - millilitres).abs() < 0.01, "{percent} %: {got}");
        }
        assert_eq!(AcidBought::of(Share::percent(9.9)), None);
        assert_eq!(AcidBought::of(Share::percent(86.0)), None);
        assert_eq!(AcidBought::of(Share::percent(75.0)).unwrap().words(), "75 %");
    }
}
