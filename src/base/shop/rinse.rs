//! Rinses: stations whose water is counted.

use crate::units::{Share, Span, Strength, Temperature, Volume, VolumeFlow};

/// When the water of a rinse is renewed: at the first of these that comes. Where none is stated it never is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Renewal {
    /// When the last tub has this strength.
    pub at: Option<RinseLimit>,
    /// After so many loads.
    pub after: Option<u32>,
    /// At every opening after the first at which it was used.
    pub at_opening: bool,
    /// Hands' time for it.
    pub takes: Span,
}

/// The strength at which a rinse is spent.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum RinseLimit {
    /// Total acid of the rinse itself.
    Points(Strength),
    /// Share of the total acid of the bath that the load comes from.
    OfBath(Share),
}

/// The water of a rinse.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rinse {
    /// Volume of each tub.
    pub fill: Volume,
    /// Tubs, one after the other; at least one.
    pub tubs: u32,
    /// Clean water that runs while a load is in: into the last tub, and from tub to tub to the first. Zero for a still
    /// rinse.
    pub flow: VolumeFlow,
    /// When its water is renewed.
    pub renewal: Renewal,
    /// Temperature of its water; none where it is as the air.
    pub temperature: Option<Temperature>,
}

impl Rinse {
    /// Whether its water is so hot that it sets residues: above 50 °C (a handbook chapter on phosphate coatings: one clean
    /// rinse at 20 to 50 °C after coating).
    #[must_use]
    pub fn is_hot(&self) -> bool {
        self.temperature.is_some_and(|t| t > Self::HOTTEST)
    }

    /// The hottest rinse that sets no residues.
    pub const HOTTEST: Temperature = Temperature::celsius(50.0);
}
