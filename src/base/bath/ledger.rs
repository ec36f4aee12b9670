//! What went into a bath and what left it, summed from its start.

use crate::units::{Energy, Mass};

/// Sums since the start. Heat contents count from liquid water and solids at 0 °C.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Ledger {
    /// Heat content at the start, vessel included.
    pub heat_at_start: Energy,
    /// Heat that arrived from the heater.
    pub heater: Energy,
    /// Heat lost to the room, that of evaporation included.
    pub lost: Energy,
    /// Heat content of the water that evaporated, as liquid at bath temperature.
    pub vapour_heat: Energy,
    /// Heat content of water added.
    pub added_heat: Energy,
    /// Heat content of bath dragged out or taken away.
    pub removed_heat: Energy,
    /// Heat content that loads brought in.
    pub load_heat_in: Energy,
    /// Heat content that loads took along.
    pub load_heat_out: Energy,
    /// Water at the start.
    pub water_at_start: Mass,
    /// Water evaporated.
    pub evaporated: Mass,
    /// Water added.
    pub added: Mass,
    /// Water dragged out or taken away.
    pub removed: Mass,
}

impl Ledger {
    /// The heat content that these sums leave in the bath.
    #[must_use]
    pub fn heat(&self) -> Energy {
        self.heat_at_start + self.heater + self.added_heat + self.load_heat_in
            - self.lost
            - self.vapour_heat
            - self.removed_heat
            - self.load_heat_out
    }

    /// The water that these sums leave in the bath.
    #[must_use]
    pub fn water(&self) -> Mass {
        self.water_at_start + self.added - self.evaporated - self.removed
    }
}

/// What a bath holds less what its ledger says: rounding only.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Balance {
    /// Heat.
    pub heat: Energy,
    /// Water.
    pub water: Mass,
}
