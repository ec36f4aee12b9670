//! How a phosphate coating grows: w = w_full (1 - exp(-x)), where the conversion x is the integral of dt / tau.
//!
//! First order, since the bare area shrinks in proportion to itself as crystals cover it (Machu's rate law).
//! 10 K more make tau q10 times shorter. At the limit of its material and below nothing grows ([`CoatsFrom`]). Under a temperature that changes, x is what adds up; a bath sums it while
//! it advances.

use crate::shop::{CoatsFrom, Growth, Material};
use crate::units::{CoatWeight, Span, Temperature};

/// How a surface differs from blasted plain steel.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Substrate {
    /// How many times longer it takes.
    pub slower: f64,
    /// How many times heavier its full coating is.
    pub heavier: f64,
    /// From which bath temperature it is coated.
    pub from: CoatsFrom,
}

impl Substrate {
    /// Blasted plain steel.
    pub const PLAIN: Self = Self {
        slower: 1.0,
        heavier: 1.0,
        from: CoatsFrom::Steel,
    };

    /// Of pieces of a material.
    #[must_use]
    pub fn of(material: &Material) -> Self {
        Self {
            slower: material.slower,
            heavier: material.heavier,
            from: material.from,
        }
    }
}

/// A target that the coating does not reach however long it stays.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
#[error("the coating cannot reach {target:.1} g/m2: it ends at {full:.1} g/m2", target = .target.in_grams_per_square_metre(), full = .full.in_grams_per_square_metre())]
pub struct Cannot {
    /// What was asked for.
    pub target: CoatWeight,
    /// What a long stay approaches.
    pub full: CoatWeight,
}

/// The law made ready for many evaluations.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) struct Rate {
    at95: f64,
    slope: f64,
}

impl Rate {
    /// Conversion per second of a material at a bath temperature in °C; none where the law is no law.
    pub(super) fn at(self, from: CoatsFrom, celsius: f64) -> f64 {
        if self.at95 == 0.0 {
            return 0.0;
        }
        let rate = self.at95 * libm::exp(self.slope * (celsius - 95.0));
        if rate.is_finite() {
            rate.max(0.0) * from.share(celsius)
        } else {
            0.0
        }
    }

    /// Of every kind of material.
    pub(super) fn all(self, celsius: f64) -> [f64; 2] {
        CoatsFrom::ALL.map(|from| self.at(from, celsius))
    }
}

impl Growth {
    /// Time constant of plain steel at a bath temperature; for ever where it takes no coating.
    #[must_use]
    pub fn tau(&self, at: Temperature) -> Span {
        self.tau_on(CoatsFrom::Steel, at)
    }

    /// Time constant of a material at a bath temperature; for ever where it takes no coating.
    #[must_use]
    pub fn tau_on(&self, from: CoatsFrom, at: Temperature) -> Span {
        Span::seconds(1.0 / self.rate().at(from, at.in_celsius()))
    }

    pub(super) fn rate(&self) -> Rate {
        Rate {
            at95: 1.0 / self.tau95.in_seconds(),
            slope: libm::log(self.q10) / 10.0,
        }
    }

    /// Conversion reached on plain steel in a time at one temperature.
    #[must_use]
    pub fn conversion(&self, at: Temperature, time: Span) -> f64 {
        self.conversion_on(CoatsFrom::Steel, at, time)
    }

    /// Conversion reached on a material in a time at one temperature.
    #[must_use]
    pub fn conversion_on(&self, from: CoatsFrom, at: Temperature, time: Span) -> f64 {
        self.rate().at(from, at.in_celsius()) * time.in_seconds()
    }

    /// Weight on a surface after a conversion.
    #[must_use]
    pub fn weight(&self, conversion: f64, on: Substrate) -> CoatWeight {
        self.full * (on.heavier * -libm::expm1(-conversion.max(0.0) / on.slower))
    }

    /// Conversion that a surface needs to reach a weight.
    ///
    /// # Errors
    /// When the target is not below the weight that a long stay approaches.
    pub fn conversion_for(&self, target: CoatWeight, on: Substrate) -> Result<f64, Cannot> {
        let full = self.full * on.heavier;
        let bare = 1.0 - target / full;
        if bare.is_nan() || bare <= 0.0 {
            return Err(Cannot { target, full });
        }
        Ok((-libm::log(bare) * on.slower).max(0.0))
    }

    /// Time that a surface needs to reach a weight at one temperature; for ever where it takes no coating.
    ///
    /// # Errors
    /// As [`Growth::conversion_for`].
    pub fn time_for(&self, target: CoatWeight, on: Substrate, at: Temperature) -> Result<Span, Cannot> {
        let conversion = self.conversion_for(target, on)?;
        if conversion <= 0.0 {
            return Ok(Span::ZERO);
        }
        Ok(Span::seconds(
            conversion / self.rate().at(on.from, at.in_celsius()),
        ))
    }
}
