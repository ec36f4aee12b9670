//! What is watched in a bath, and where it warns and stops. Stable codes and plain words belong to the record.

use super::recipe::Recipe;
use super::state::Chemistry;
use crate::units::{Concentration, Share, Strength, Temperature};

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

/// The values between which all is well, and those beyond which no lot goes in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Window<T> {
    /// No lot below.
    pub stop_below: T,
    /// A warning below.
    pub warn_below: T,
    /// A warning above.
    pub warn_above: T,
    /// No lot above.
    pub stop_above: T,
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

/// The limits of one bath.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limits {
    /// Temperature.
    pub temperature: Window<Temperature>,
    /// Total acid.
    pub strength: Window<Strength>,
    /// Total by free acid.
    pub ratio: Window<f64>,
    /// Ferrous iron.
    pub iron: Window<Concentration>,
    /// Settled sludge by volume.
    pub sludge: Window<Share>,
    /// Volume by fill.
    pub level: Window<Share>,
}

const fn celsius(t: f64) -> Temperature {
    Temperature::celsius(t)
}
const fn points(p: f64) -> Strength {
    Strength::points(p)
}
const fn iron(c: f64) -> Concentration {
    Concentration::grams_per_litre(c)
}
const fn percent(s: f64) -> Share {
    Share::percent(s)
}

impl Limits {
    /// Defaults; where each comes from is in [`Limits::SOURCES`].
    pub const DEFAULT: Self = Self {
        temperature: Window {
            stop_below: celsius(88.0),
            warn_below: celsius(90.0),
            warn_above: celsius(97.0),
            stop_above: celsius(98.0),
        },
        strength: Window {
            stop_below: points(30.0),
            warn_below: points(31.0),
            warn_above: points(48.0),
            stop_above: points(50.0),
        },
        ratio: Window {
            stop_below: 5.5,
            warn_below: 5.7,
            warn_above: 6.8,
            stop_above: 7.0,
        },
        iron: Window {
            stop_below: iron(0.2),
            warn_below: iron(0.5),
            warn_above: iron(3.0),
            stop_above: iron(4.0),
        },
        sludge: Window {
            stop_below: percent(0.0),
            warn_below: percent(0.0),
            warn_above: percent(4.0),
            stop_above: percent(5.0),
        },
        level: Window {
            stop_below: percent(85.0),
            warn_below: percent(95.0),
            warn_above: percent(103.0),
            stop_above: percent(110.0),
        },
    };

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

impl Default for Limits {
    fn default() -> Self {
        Self::DEFAULT
    }
}
