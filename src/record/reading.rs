//! How a bath stands, and what a load did in it.

use tankday_base::shop::CoatsFrom;
use tankday_base::units::{Area, Concentration, Energy, Mass, Strength, Temperature, Volume};

/// What a heater is doing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum HeaterState {
    /// Off.
    Off,
    /// On its way to the holding temperature with all the power that it may draw.
    Heating,
    /// Thermostat working around the holding temperature.
    Holding,
}

/// A bath at one moment. Energies, masses and volumes are sums since the start of the run.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BathSample {
    /// Bath temperature.
    pub temperature: Temperature,
    /// Volume at that temperature.
    pub volume: Volume,
    /// Mass of water now.
    pub water: Mass,
    /// Heater.
    pub heater: HeaterState,
    /// Whether the lid is on.
    pub lid: bool,
    /// Drawn from the supply.
    pub drawn: Energy,
    /// Given to the bath by the heater.
    pub heated: Energy,
    /// Lost to the room through surface, lid, walls and bottom, evaporation's latent heat included; where water leaves
    /// or joins at other than 0 °C the enthalpy it carries is counted in `carried`.
    pub lost: Energy,
    /// Enthalpy (above liquid water at 0 °C) of water that came in by top-up, less that of water that left as vapour
    /// or with loads.
    pub carried: Energy,
    /// Taken up by cold work.
    pub to_loads: Energy,
    /// Evaporated.
    pub evaporated: Mass,
    /// Topped up.
    pub topped_up: Mass,
    /// Taken away: dragged out on work, or thrown away in care.
    pub dragged_out: Mass,
    /// How it reads; none where the bath does not wear.
    pub readings: Option<BathReadings>,
}

/// How a bath reads.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BathReadings {
    /// Total acid.
    pub total_acid: Strength,
    /// Free acid.
    pub free_acid: Strength,
    /// Ferrous iron.
    pub iron: Concentration,
    /// Stirred-up sludge, dry.
    pub stirred: Mass,
    /// Settled sludge, dry.
    pub settled: Mass,
    /// Surface coated since it was made up.
    pub area: Area,
    /// Loads since it was made up.
    pub uses: u32,
}

/// What a load did in a bath.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Coated {
    /// Conversion of its coating on steel, the integral of dt / tau: the weight on each surface follows from it.
    pub conversion: f64,
    /// The same on cast iron, which takes a coating from a lower temperature on.
    pub on_cast_iron: f64,
    /// Coating formed.
    pub coating: Mass,
    /// Metal dissolved; with the hydrogen and the drag-out nothing where the bath does not wear.
    pub metal: Mass,
    /// Hydrogen set free, at 20 °C.
    pub hydrogen: Volume,
    /// Bath that left with it.
    pub dragged_out: Volume,
    /// The bath was too weak to do all of it.
    pub exhausted: bool,
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
