//! Hydrogen in hard steel: what a part needs before and after coating, and what must not be done to it.
//!
//! This orders work. It does not judge a part: whoever is to stress it decides, in writing.

use crate::units::{Length, Pressure, Share, Span, Temperature};

/// Rockwell hardness, scale C.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Hardness(f64);

impl Hardness {
    /// From a reading in HRC.
    #[must_use]
    pub const fn hrc(value: f64) -> Self {
        Self(value)
    }
    /// In HRC.
    #[must_use]
    pub const fn in_hrc(self) -> f64 {
        self.0
    }
}

/// Parts this hard are relieved (DOD-P-16232F, 3.3).
pub const RELIEVED_FROM: Hardness = Hardness::hrc(39.0);
/// Fasteners this hard are of concern (SAE AMS2759/9D, a scan partly misread).
pub const FASTENER_OF_CONCERN: Hardness = Hardness::hrc(34.0);
/// Steel this strong is of concern (ISO 9717, clause 4).
pub const STRENGTH_OF_CONCERN: Pressure = Pressure::pascals(1_000e6);
/// Fasteners this strong are (SAE AMS2759/9D).
pub const FASTENER_STRENGTH_OF_CONCERN: Pressure = Pressure::pascals(1_034e6);
/// A manganese phosphate coating must not get hotter: 250 °F (MIL-DTL-16232G, 6.1.1).
pub const COATING_NOT_ABOVE: Temperature = Temperature::celsius(121.0);

/// What is known of a part. What is not known of hardness and strength is to be found out first.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Steel {
    /// Hardness.
    pub hardness: Option<Hardness>,
    /// Tensile strength.
    pub strength: Option<Pressure>,
    /// Case-hardened or carburised.
    pub case_hardened: bool,
    /// A spring.
    pub spring: bool,
    /// A fastener.
    pub fastener: bool,
    /// Ground, cold formed or straightened after hardening.
    pub worked_cold: bool,
    /// Welded.
    pub welded: bool,
}

/// A long step that needs no hands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bake {
    /// Coolest temperature of the part's core, not of the air of the oven.
    pub least: Temperature,
    /// Hottest.
    pub most: Temperature,
    /// Time of the core between them.
    pub time: Span,
}

/// Relief of hydrogen after coating: 98 to 107 °C for 8 h (from memory; the paragraphs of DOD-P-16232F and
/// MIL-DTL-16232G were not seen).
pub const RELIEF: Bake = Bake {
    least: Temperature::celsius(98.0),
    most: Temperature::celsius(107.0),
    time: Span::whole_minutes(8 * 60),
};
/// Or so long at room temperature (from memory, as above).
pub const RELIEF_AT_REST: Span = Span::whole_minutes(120 * 60);
/// Relief starts within this time after coating. Common practice, no source; an old rule said 24 h.
pub const RELIEF_STARTS_WITHIN: Span = Span::whole_minutes(4 * 60);

/// What a part needs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Needs {
    /// Stress relief, before coating.
    pub stress_relief: Option<Bake>,
    /// Whether hydrogen is to be relieved after coating and before it is stressed.
    pub relief: bool,
    /// Whether acid must be kept from it before the bath.
    pub no_pickle: bool,
    /// Whether the customer's written release is needed.
    pub release: bool,
}

impl Steel {
    /// Whether hydrogen is of concern in it.
    #[must_use]
    pub fn is_of_concern(&self) -> bool {
        let hard = if self.fastener {
            FASTENER_OF_CONCERN
        } else {
            RELIEVED_FROM
        };
        let strong = if self.fastener {
            FASTENER_STRENGTH_OF_CONCERN
        } else {
            STRENGTH_OF_CONCERN
        };
        self.case_hardened
            || self.spring
            || self.hardness.is_some_and(|h| h >= hard)
            || self.strength.is_some_and(|s| s >= strong)
    }

    /// Whether it must be relieved after coating: from HRC 39, case-hardened, springs always.
    #[must_use]
    pub fn must_be_relieved(&self) -> bool {
        self.case_hardened || self.spring || self.hardness.is_some_and(|h| h >= RELIEVED_FROM)
    }

    /// What it needs, for its greatest thickness. Stress relief is for parts from HRC 39, carburised ones too, that
    /// were ground, cold formed or straightened: 177 to 204 °C, 1 h for each inch, at least half an hour
    /// (DOD-P-16232F, 3.3). It comes after all machining, forming and welding and before coating; relief of hydrogen
    /// comes after coating (MIL-DTL-16232G, 3.2).
    #[must_use]
    pub fn needs(&self, thickness: Length) -> Needs {
        let hard = self.must_be_relieved();
        let inches = thickness.in_millimetres() / 25.4;
        let stress_relief = (hard && self.worked_cold).then(|| Bake {
            least: Temperature::celsius(177.0),
            most: Temperature::celsius(204.0),
            time: Span::hours(inches.max(0.5)),
        });
        Needs {
            stress_relief,
            relief: hard,
            no_pickle: self.is_of_concern(),
            release: hard,
        }
    }
}

/// Why a bake must not be done.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum Refused {
    /// The coating does not stand it.
    #[error("{most:.0} °C is too hot for a coated part: the coating must stay below {limit:.0} °C", most = .0.in_celsius(), limit = COATING_NOT_ABOVE.in_celsius())]
    CoatingTooHot(Temperature),
    /// Too cold or too short to relieve.
    #[error("this bake does not relieve hydrogen: {least:.0} °C for {hours:.0} h are needed", least = RELIEF.least.in_celsius(), hours = RELIEF.time.in_hours())]
    TooLittle,
}

/// Whether a coated part may be baked so.
///
/// # Errors
/// Above 121 °C: the bakes that electroplaters use, 190 to 220 °C, among them.
pub fn coated_part_may_bake(bake: &Bake) -> Result<(), Refused> {
    if bake.most > COATING_NOT_ABOVE {
        return Err(Refused::CoatingTooHot(bake.most));
    }
    Ok(())
}

/// Whether a bake relieves a coated part of hydrogen.
///
/// # Errors
/// When it is too hot for the coating, too cold, or too short.
pub fn relieves(bake: &Bake) -> Result<(), Refused> {
    coated_part_may_bake(bake)?;
    if bake.least < RELIEF.least || bake.time < RELIEF.time {
        return Err(Refused::TooLittle);
    }
    Ok(())
}

/// One row of the electroplaters' table: strength, about so hard, baked so long at 190 to 220 °C.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PlatedRow {
    /// Strength above the row before.
    pub up_to: Pressure,
    /// About how hard.
    pub hardness: (Hardness, Hardness),
    /// Time.
    pub time: Span,
}

const fn row(mpa: f64, from: f64, to: f64, hours: i64) -> PlatedRow {
    PlatedRow {
        up_to: Pressure::pascals(mpa * 1e6),
        hardness: (Hardness::hrc(from), Hardness::hrc(to)),
        time: Span::whole_minutes(hours * 60),
    }
}

/// ASTM B850-98 (2009) as a plating shop quotes it. For electroplated steel: **never** for a part with this coating,
/// which it would spoil. It ranks the risk, no more.
pub const PLATED: [PlatedRow; 8] = [
    row(1_100.0, 31.0, 33.0, 8),
    row(1_200.0, 33.0, 36.0, 10),
    row(1_300.0, 36.0, 39.0, 12),
    row(1_400.0, 39.0, 43.0, 14),
    row(1_500.0, 43.0, 45.0, 16),
    row(1_600.0, 45.0, 47.0, 18),
    row(1_700.0, 47.0, 49.0, 20),
    row(1_800.0, 49.0, 51.0, 22),
];

/// Temperatures of [`PLATED`].
pub const PLATED_BETWEEN: (Temperature, Temperature) =
    (Temperature::celsius(190.0), Temperature::celsius(220.0));

/// Risk of a strength by its place in [`PLATED`], from nothing up to 1000 MPa to all at the last row.
#[must_use]
pub fn risk_rank(strength: Pressure) -> Share {
    if strength <= STRENGTH_OF_CONCERN {
        return Share::ZERO;
    }
    let rows = PLATED.len() as f64;
    let place = PLATED
        .iter()
        .position(|r| strength <= r.up_to)
        .unwrap_or(PLATED.len() - 1);
    Share::fraction((place as f64 + 1.0) / rows)
}
