//! What is watched in a bath, and where it warns and stops. Stable codes and plain words belong to the record.

use super::state::Chemistry;
use crate::shop::{Limits, Recipe, Window};
use crate::units::{Share, Temperature};

/// What is watched.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Watched {
    /// Total acid.
    Strength,
    /// Total by free acid.
    Ratio,
    /// Ferrous iron.
    Iron,
    /// Sludge, as a share of the volume.
    Sludge,
    /// Temperature.
    Temperature,
    /// Volume, as a share of the fill.
    Level,
    /// Oil, zinc, aluminium, copper.
    Contaminants,
}

impl Watched {
    /// What passes its limit, in words.
    #[must_use]
    pub const fn words(self, side: Side) -> &'static str {
        match (self, side) {
            (Self::Strength, Side::Below) => "total acid too low",
            (Self::Strength, Side::Above) => "total acid too high",
            (Self::Ratio, Side::Below) => "acid ratio too low",
            (Self::Ratio, Side::Above) => "acid ratio too high",
            (Self::Iron, Side::Below) => "too little iron",
            (Self::Iron, Side::Above) => "too much iron",
            (Self::Sludge, _) => "too much sludge",
            (Self::Temperature, Side::Below) => "too cold",
            (Self::Temperature, Side::Above) => "too hot",
            (Self::Level, Side::Below) => "level too low",
            (Self::Level, Side::Above) => "level too high",
            (Self::Contaminants, _) => "foreign metal or oil in it",
        }
    }

    /// The same as a sentence goes on: `then total acid is too low`.
    #[must_use]
    pub const fn sentence(self, side: Side) -> &'static str {
        match (self, side) {
            (Self::Strength, Side::Below) => "total acid is too low",
            (Self::Strength, Side::Above) => "total acid is too high",
            (Self::Ratio, Side::Below) => "the acid ratio is too low",
            (Self::Ratio, Side::Above) => "the acid ratio is too high",
            (Self::Iron, Side::Below) => "it holds too little iron",
            (Self::Iron, Side::Above) => "it holds too much iron",
            (Self::Sludge, _) => "it holds too much sludge",
            (Self::Temperature, Side::Below) => "it is too cold",
            (Self::Temperature, Side::Above) => "it is too hot",
            (Self::Level, Side::Below) => "its level is too low",
            (Self::Level, Side::Above) => "its level is too high",
            (Self::Contaminants, _) => "there is foreign metal or oil in it",
        }
    }
}

/// On which side a limit was passed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// Too little.
    Below,
    /// Too much.
    Above,
}

/// How grave it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Gravity {
    /// Work may go on; something is to be done.
    Warn,
    /// No lot goes in.
    Stop,
}

/// A limit passed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Breach {
    /// What.
    pub what: Watched,
    /// How grave.
    pub gravity: Gravity,
    /// Which side.
    pub side: Side,
}

impl<T: PartialOrd + Copy> Window<T> {
    /// Where a value passes it; a value that compares with nothing stops.
    pub fn check(&self, value: T) -> Option<(Gravity, Side)> {
        match value {
            v if v < self.stop_below => Some((Gravity::Stop, Side::Below)),
            v if v > self.stop_above => Some((Gravity::Stop, Side::Above)),
            v if v < self.warn_below => Some((Gravity::Warn, Side::Below)),
            v if v > self.warn_above => Some((Gravity::Warn, Side::Above)),
            v if v >= self.warn_below => None,
            _ => Some((Gravity::Stop, Side::Above)),
        }
    }
}

impl Limits {
    /// Where the defaults come from. The limits of strength and ratio belong to the product bought.
    pub const SOURCES: [(Watched, &'static str); 7] = [
        (
            Watched::Strength,
            "30 to 50 points: a supplier's product page; warnings one step inside are assumed",
        ),
        (
            Watched::Ratio,
            "5.5 to 7: a supplier's trade article of May 2025; warnings one step inside are assumed",
        ),
        (
            Watched::Iron,
            "at most 4 g/L: two supplier sheets; below 0.5 doubtful and below 0.2 thin and patchy are assumed",
        ),
        (
            Watched::Sludge,
            "5 % by volume: a trade figure for zinc baths; the warning at 4 % is assumed",
        ),
        (
            Watched::Temperature,
            "88 to 98 °C: an encyclopaedia entry and two supplier sheets, never below 90 °C in one of them",
        ),
        (
            Watched::Level,
            "the work must be covered: assumed shares of the fill",
        ),
        (
            Watched::Contaminants,
            "none: aluminium is called a bath poison in a patent application on zinc baths; the rest is common \
             practice, no source",
        ),
    ];

    /// Everything that a bath passes; `fill` is what its tank should hold.
    #[must_use]
    pub fn breaches(
        &self,
        recipe: &Recipe,
        bath: &Chemistry,
        at: Temperature,
        fill: crate::units::Volume,
    ) -> Vec<Breach> {
        let poisoned = bath.contaminants.any().then_some((Gravity::Stop, Side::Above));
        [
            (Watched::Strength, self.strength.check(bath.total_acid())),
            (Watched::Ratio, self.ratio.check(bath.ratio())),
            (Watched::Iron, self.iron.check(bath.iron())),
            (Watched::Sludge, self.sludge.check(bath.sludge_volume(recipe))),
            (Watched::Temperature, self.temperature.check(at)),
            (
                Watched::Level,
                self.level.check(Share::fraction(bath.volume() / fill)),
            ),
            (Watched::Contaminants, poisoned),
        ]
        .into_iter()
        .filter_map(|(what, passed)| passed.map(|(gravity, side)| Breach { what, gravity, side }))
        .collect()
    }
}
