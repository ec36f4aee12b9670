//! What a shop charges with beside its prices: what steps use up, overhead, margin, the least that an order costs.

use super::kind::StepKind;
use super::route::Step;
use crate::units::Share;

/// What a rate is counted by.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Per {
    /// An hour that a load is at the step's station.
    Hour,
    /// A square decimetre of the pieces that pass the step.
    SquareDecimetre,
    /// A kilogram of them.
    Kilogram,
    /// A load that passes it.
    Load,
    /// A piece that passes it.
    Piece,
}

impl Per {
    /// As it stands behind an amount: `per dm²`.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Hour => "per h",
            Self::SquareDecimetre => "per dm²",
            Self::Kilogram => "per kg",
            Self::Load => "per load",
            Self::Piece => "per piece",
        }
    }
}

/// An amount of the shop's currency for one of something.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rate {
    /// How much.
    pub amount: f64,
    /// For one of what.
    pub per: Per,
}

/// What a step uses up beside hands and what a bath takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Supplies {
    /// Solvent or cleaner.
    Degreaser,
    /// Acid for pickling.
    Acid,
    /// Grit, bead or shot.
    BlastMedia,
    /// Chips and compound of a barrel.
    TumbleMedia,
    /// Rags for wiping.
    Rags,
    /// Sealer.
    Sealer,
    /// Oil.
    Oil,
    /// Power of an oven.
    Oven,
}

impl Supplies {
    /// All of them, as the scenario calls them.
    pub const ALL: [(&'static str, Self); 8] = [
        ("degreaser", Self::Degreaser),
        ("acid", Self::Acid),
        ("blast media", Self::BlastMedia),
        ("tumble media", Self::TumbleMedia),
        ("rags", Self::Rags),
        ("sealer", Self::Sealer),
        ("oil", Self::Oil),
        ("oven", Self::Oven),
    ];

    /// As the scenario calls it.
    #[must_use]
    pub fn words(self) -> &'static str {
        Self::ALL.iter().find(|(_, s)| *s == self).map_or("", |(w, _)| w)
    }

    /// What a step uses up; none where it is hands, water or a bath alone. Relief in the room needs no oven.
    #[must_use]
    pub fn of(step: &Step) -> Option<Self> {
        Some(match step.kind {
            StepKind::Degrease | StepKind::DegreaseHotAlkaline => Self::Degreaser,
            StepKind::Pickle => Self::Acid,
            StepKind::Blast => Self::BlastMedia,
            StepKind::Tumble => Self::TumbleMedia,
            StepKind::Wipe => Self::Rags,
            StepKind::Seal | StepKind::SealHexavalent => Self::Sealer,
            StepKind::Oil | StepKind::OilHot => Self::Oil,
            StepKind::DryByOven | StepKind::Preheat => Self::Oven,
            StepKind::Relieve if step.relief.is_none_or(|r| r.heat.is_some()) => Self::Oven,
            _ => return None,
        })
    }
}

/// The shop's rates. What is none was not stated.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Rates {
    /// What steps use up.
    pub supplies: Vec<(Supplies, Rate)>,
    /// Overhead for one hour that a load is in a tank.
    pub tank_hour: Option<f64>,
    /// Share of the price that is not cost.
    pub margin: Option<Share>,
    /// The least that an order costs.
    pub minimum: Option<f64>,
}

impl Rates {
    /// The rate of what a step uses up, if one was stated.
    #[must_use]
    pub fn of(&self, supplies: Supplies) -> Option<Rate> {
        self.supplies
            .iter()
            .find(|(s, _)| *s == supplies)
            .map(|(_, rate)| *rate)
    }
}
