//! The growth law of a coating.

use crate::units::{CoatWeight, Span};

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
