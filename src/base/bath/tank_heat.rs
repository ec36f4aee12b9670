//! A tank in a room, made ready for a simulation.

use super::content::Solids;
use super::load::SolidHeat;
use super::loss_table::{Leaving, LossTable};
use super::tank::{Lid, arriving, vessel_heat};
use super::water;
use crate::shop::{Air, LidKind, Tank};
use crate::units::{Mass, Power, Share, TempDiff, Temperature};

/// A bath hotter than this is a hot bath: it scalds. Common practice, no source.
pub const HOT: Temperature = Temperature::celsius(60.0);
/// Steel wool, carbonate or soda ash that goes into a hotter bath makes it froth over. Common practice, no source.
pub const SOLIDS: Temperature = Temperature::celsius(70.0);
/// Boiling is not modelled; no bath is warmer than this, nor than its boiling point.
pub const HIGHEST: Temperature = Temperature::celsius(98.5);
/// Share of the full mark at which a heater cuts out and evaporation ends: the models know no empty tank.
const DRY: f64 = 0.01;

/// The thermal side of a tank in a room: losses tabulated, heater and limits. Built once for a scenario.
#[derive(Debug, Clone, PartialEq)]
pub struct TankHeat {
    table: LossTable,
    limit: Temperature,
    net: Power,
    efficiency: Share,
    swing: TempDiff,
    full: Mass,
    pub(super) vessel: Solids,
    has_lid: bool,
}

impl TankHeat {
    /// Tabulates a tank in the air of a room.
    #[must_use]
    pub fn new(tank: &Tank, air: &Air) -> Self {
        let limit = HIGHEST.min(water::boiling_point(air.pressure));
        let efficiency = arriving(tank);
        let mut vessel = Solids::default();
        vessel.add(
            &SolidHeat::constant(vessel_heat(tank.wall.material)),
            tank.wall.vessel.in_kilograms(),
        );
        Self {
            table: LossTable::new(tank, air, limit),
            limit,
            net: tank.heater.power * efficiency.in_fraction(),
            efficiency,
            swing: tank.heater.swing,
            full: water::measuring_density() * tank.fill,
            vessel,
            has_lid: tank.lid != LidKind::None,
        }
    }

    /// The highest temperature a bath may take here: 98.5 °C, or the boiling point where that is lower.
    #[must_use]
    pub fn limit(&self) -> Temperature {
        self.limit
    }

    /// Temperature of the room's air.
    #[must_use]
    pub fn air(&self) -> Temperature {
        self.table.air()
    }

    /// Whether the tank has a lid at all: without one it is open whatever the rule of lids says.
    #[must_use]
    pub const fn has_lid(&self) -> bool {
        self.has_lid
    }

    /// What leaves at a bath temperature, from the table.
    #[must_use]
    pub fn leaving(&self, bath: Temperature, lid: Lid) -> Leaving {
        self.table.at(bath, lid)
    }

    /// The most water that can leave.
    #[must_use]
    pub fn most_evaporation(&self, lid: Lid) -> crate::units::MassFlow {
        self.table.most_evaporation(lid)
    }

    /// Power of the heater that arrives in the bath.
    #[must_use]
    pub fn net_power(&self) -> Power {
        self.net
    }

    /// Power that the heater draws from the mains.
    #[must_use]
    pub fn rated_power(&self) -> Power {
        self.net / self.efficiency.in_fraction()
    }

    /// Share of the heater's power that arrives in the bath.
    #[must_use]
    pub fn efficiency(&self) -> Share {
        self.efficiency
    }

    /// The thermostat's differential, top to bottom.
    #[must_use]
    pub fn swing(&self) -> TempDiff {
        self.swing
    }

    /// Water when full to the mark.
    #[must_use]
    pub fn full(&self) -> Mass {
        self.full
    }

    /// Water at and below which the tank counts as dry: the heater cuts out, nothing evaporates.
    #[must_use]
    pub fn dry(&self) -> Mass {
        self.full * DRY
    }
}
