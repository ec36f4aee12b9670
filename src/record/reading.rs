//! How a bath stands, and what a load did in it.

use crate::csv::{Cell, Column, CsvError, Names, Row};
use crate::declared::{cells, words};
use tankday_base::shop::{CoatsFrom, Shop};
use tankday_base::units::{Area, Concentration, Energy, Mass, Strength, Temperature, Volume};

words! {
/// What a heater is doing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum HeaterState {
    /// Off.
    Off = "off",
    /// On its way to the holding temperature with all the power that it may draw.
    Heating = "heating",
    /// Thermostat working around the holding temperature.
    Holding = "holding",
}
}

cells! {
/// A bath at one moment. Energies, masses and volumes are sums since the start of the run.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BathSample {
    /// Bath temperature.
    pub temperature: Temperature = Temperature,
    /// Volume at that temperature.
    pub volume: Volume = Volume,
    /// Mass of water now.
    pub water: Mass = Water,
    /// Heater.
    pub heater: HeaterState = Heater,
    /// Whether the lid is on.
    pub lid: bool = Lid,
    /// Drawn from the supply.
    pub drawn: Energy = Drawn,
    /// Given to the bath by the heater.
    pub heated: Energy = Heated,
    /// Lost to the room through surface, lid, walls and bottom, evaporation's latent heat included; where water leaves
    /// or joins at other than 0 °C the enthalpy it carries is counted in `carried`.
    pub lost: Energy = Lost,
    /// Enthalpy (above liquid water at 0 °C) of water that came in by top-up, less that of water that left as vapour
    /// or with loads.
    pub carried: Energy = Carried,
    /// Taken up by cold work.
    pub to_loads: Energy = ToLoads,
    /// Evaporated.
    pub evaporated: Mass = Evaporated,
    /// Topped up.
    pub topped_up: Mass = ToppedUp,
    /// Taken away: dragged out on work, or thrown away in care.
    pub dragged_out: Mass = DraggedOut,
    /// How it reads; none where the bath does not wear.
    pub readings: Option<BathReadings> = TotalAcid,
}
}

cells! {
/// How a bath reads.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BathReadings {
    /// Total acid.
    pub total_acid: Strength = TotalAcid,
    /// Free acid.
    pub free_acid: Strength = FreeAcid,
    /// Ferrous iron.
    pub iron: Concentration = Iron,
    /// Stirred-up sludge, dry.
    pub stirred: Mass = Stirred,
    /// Settled sludge, dry.
    pub settled: Mass = Settled,
    /// Surface coated since it was made up.
    pub area: Area = Area,
    /// Loads since it was made up.
    pub uses: u32 = Uses,
}
}

cells! {
/// What a load did in a bath.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Coated {
    /// Conversion of its coating on steel, the integral of dt / tau: the weight on each surface follows from it.
    pub conversion: f64 = Conversion,
    /// The same on cast iron, which takes a coating from a lower temperature on.
    pub on_cast_iron: f64 = OnCastIron,
    /// Coating formed.
    pub coating: Mass = Coating,
    /// Metal dissolved; with the hydrogen and the drag-out nothing where the bath does not wear.
    pub metal: Mass = Metal,
    /// Hydrogen set free, at 20 °C.
    pub hydrogen: Volume = Hydrogen,
    /// Bath that left with it.
    pub dragged_out: Volume = Volume,
    /// The bath was too weak to do all of it.
    pub exhausted: bool = Exhausted,
}
}

impl Coated {
    /// Conversion on a material.
    #[must_use]
    pub const fn conversion_on(&self, from: CoatsFrom) -> f64 {
        match from {
            CoatsFrom::Steel => self.conversion,
            CoatsFrom::CastIron => self.on_cast_iron,
        }
    }
}
