//! The growth law of a coating.

use crate::units::{CoatWeight, Span, TempDiff, Temperature};

/// The growth law of one bath on blasted plain steel.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Growth {
    /// Weight that a long stay approaches.
    pub full: CoatWeight,
    /// Time constant at 95 °C.
    pub tau95: Span,
    /// How many times faster 10 K more make it.
    pub q10: f64,
}

impl Growth {
    /// Derived from published windows of time, temperature and weight, with q10 assumed.
    pub const DEFAULT: Self = Self {
        full: CoatWeight::grams_per_square_metre(18.0),
        tau95: Span::micros(270_000_000),
        q10: 2.0,
    };
}

/// Between which values published windows of time, temperature and weight leave a constant of growth: the least and the
/// greatest. The table of defaults names them.
type Open = (f64, f64);

/// Full weight, g/m2.
const FULL: Open = (16.0, 21.0);
/// Time constant, min.
const TAU95: Open = (1.8, 6.2);
/// Times by 10 K.
const Q10: Open = (1.0, 3.5);

impl Growth {
    /// The quickest and the slowest law that the published windows allow in a bath of a temperature. A constant that is
    /// not the default one was measured by the shop, and is taken as it is.
    #[must_use]
    pub fn believed(&self, at: Temperature) -> [Self; 2] {
        let (mut quick, mut slow) = (*self, *self);
        if self.full == Self::DEFAULT.full {
            quick.full = CoatWeight::grams_per_square_metre(FULL.1);
            slow.full = CoatWeight::grams_per_square_metre(FULL.0);
        }
        if self.tau95 == Self::DEFAULT.tau95 {
            quick.tau95 = Span::minutes(TAU95.0);
            slow.tau95 = Span::minutes(TAU95.1);
        }
        if self.q10 == Self::DEFAULT.q10 {
            let below = at < Temperature::celsius(95.0);
            (quick.q10, slow.q10) = if below { Q10 } else { (Q10.1, Q10.0) };
        }
        [quick, slow]
    }
}

/// From which bath temperature a material takes a coating.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub enum CoatsFrom {
    /// Steel of any kind: not at 82 °C and below (about 180 °F: Callais C., "Controlling Zinc and Manganese Phosphate
    /// Baths", Products Finishing, 2023).
    #[default]
    Steel,
    /// Grey, ductile and malleable iron: acceptable coatings from 70 to 95 °C (handbook chapter on phosphate coatings;
    /// ASM Handbook vol. 5, attribution from memory).
    CastIron,
}

impl CoatsFrom {
    /// Every one, in the order in which a bath sums them.
    pub const ALL: [Self; 2] = [Self::Steel, Self::CastIron];

    /// Growth comes up to its law within so many kelvin above the limit: assumed, so that it begins without a jump, and
    /// narrow enough for the law to hold from 85 °C on.
    pub const RAMP: TempDiff = TempDiff::kelvin(3.0);

    /// At and below this bath temperature nothing grows.
    #[must_use]
    pub const fn limit(self) -> Temperature {
        match self {
            Self::Steel => Temperature::celsius(82.0),
            Self::CastIron => Temperature::celsius(70.0),
        }
    }

    /// Share of the growth by the law at a bath temperature in °C: 0 at the limit and below, 1 from the end of the ramp
    /// on, straight between.
    #[must_use]
    pub fn share(self, celsius: f64) -> f64 {
        ((celsius - self.limit().in_celsius()) / Self::RAMP.in_kelvin()).clamp(0.0, 1.0)
    }
}
