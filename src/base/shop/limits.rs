//! Where a bath warns and where it stops.

use crate::units::{Concentration, Share, Strength, Temperature};

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
            stop_below: iron(0.0),
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
            warn_below: percent(90.0),
            warn_above: percent(105.0),
            stop_above: percent(110.0),
        },
    };
}

impl Default for Limits {
    fn default() -> Self {
        Self::DEFAULT
    }
}
