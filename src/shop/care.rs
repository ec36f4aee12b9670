//! How a bath is kept: what is done to it, and when.

use super::ids::VesselId;
use crate::units::{
    Area, CakeResistance, Concentration, Length, MediumResistance, Share, Span, Strength, Temperature,
    VolumeFlow,
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
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Trimming {
    /// Down, with manganese carbonate.
    ManganeseCarbonate,
    /// Down, with soda ash.
    SodaAsh,
    /// Up, with phosphoric acid.
    PhosphoricAcid,
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
