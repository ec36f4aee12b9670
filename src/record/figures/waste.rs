//! Waste by stream: what must not go down a drain without asking.

use super::rinses::RinseFigure;
use crate::analysis::Analysis;
use tankday_base::units::{Mass, Volume};

/// What the work leaves behind. Rags and dust are not counted.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Waste {
    /// Rinse water: let out when it was renewed, and run over the rim.
    pub rinse: Volume,
    /// Bath thrown away or lost in care.
    pub bath: Volume,
    /// Sludge taken out, dry.
    pub sludge: Mass,
    /// Filter media.
    pub media: u32,
}

impl Waste {
    /// Liquid, all together.
    #[must_use]
    pub fn liquid(&self) -> Volume {
        self.rinse + self.bath
    }

    /// Whether there is none.
    #[must_use]
    pub fn is_none(&self) -> bool {
        self.liquid() <= Volume::ZERO && self.sludge <= Mass::ZERO && self.media == 0
    }
}

pub(super) fn of(read: &Analysis<'_>, rinses: &[RinseFigure]) -> Waste {
    let mut waste = Waste {
        rinse: rinses.iter().map(|r| r.water).sum(),
        bath: Volume::ZERO,
        sludge: Mass::ZERO,
        media: 0,
    };
    for used in &read.used {
        waste.bath += used.wasted;
        waste.sludge += used.sludge;
        waste.media += used.media;
    }
    waste
}
