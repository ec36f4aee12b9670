//! Stations, and tanks as stations that hold a bath.

use super::ids::BathId;
use super::rinse::Rinse;
use crate::units::{Conductivity, HeatTransfer, Length, Mass, Power, Share, TempDiff, Temperature, Volume};

/// When a place is free for the next load.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Frees {
    /// As soon as the work is done: the load is set aside by itself.
    WhenDone,
    /// When the load has been taken out.
    WhenEmptied,
}

/// A place where a step happens.
#[derive(Debug, Clone, PartialEq)]
pub struct Station {
    /// Its name.
    pub name: String,
    /// Loads it has room for at once; with `together` above 1, groups of loads.
    pub places: u32,
    /// So many loads, at most, start together and end together in one place; each goes its own way afterwards.
    pub together: u32,
    /// When a place is free again.
    pub frees: Frees,
    /// The bath in it, if it is a tank.
    pub tank: Option<Tank>,
    /// The water in it, if it is a rinse whose water is counted.
    pub rinse: Option<Rinse>,
}

/// Shape of the inside of a tank.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Inside {
    /// Straight walls.
    Box {
        /// Length of the opening.
        length: Length,
        /// Width of the opening.
        width: Length,
        /// Height of the walls.
        height: Length,
    },
    /// A round pot.
    Round {
        /// Diameter of the opening.
        diameter: Length,
        /// Height of the walls.
        height: Length,
    },
}

/// What the wall is, for its radiation.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WallMaterial {
    /// Bright stainless steel.
    Stainless,
    /// Painted, enamelled, oxidised or plastic.
    Dull,
}

/// A layer around wall or lid.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Insulation {
    /// Thickness; zero for none.
    pub thickness: Length,
    /// Its heat conductivity.
    pub conductivity: Conductivity,
}

/// The walls of a tank.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wall {
    /// Surface.
    pub material: WallMaterial,
    /// Insulation.
    pub insulation: Insulation,
    /// Mass of the empty vessel, which is heated with the bath.
    pub vessel: Mass,
    /// Heat that goes through the bottom; zero where it stands on something that does not conduct.
    pub bottom_loss: HeatTransfer,
}

/// What covers a tank.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum LidKind {
    /// Nothing.
    None,
    /// A lid; so much of the opening stays open round its edge.
    Lid {
        /// Share that stays open.
        leak: Share,
        /// Its outer face.
        material: WallMaterial,
        /// Insulation.
        insulation: Insulation,
    },
}

/// How the heat gets in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum HeaterKind {
    /// In the bath: all of it arrives.
    Immersion,
    /// Under a pot.
    HotPlate,
    /// Under a pot, induction.
    Induction,
}

/// A heater with its thermostat.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Heater {
    /// Rated power.
    pub power: Power,
    /// Kind.
    pub kind: HeaterKind,
    /// Share of the rated power that reaches the bath.
    pub efficiency: Share,
    /// The thermostat's differential, top to bottom.
    pub swing: TempDiff,
    /// Share of the fill down to which it heats: below, it switches itself off.
    pub cut_off: Share,
}

/// A tank: what a station needs to hold a bath.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tank {
    /// Which bath.
    pub bath: BathId,
    /// Inside.
    pub inside: Inside,
    /// Volume when full to the mark, at room temperature.
    pub fill: Volume,
    /// Volume at the start.
    pub volume: Volume,
    /// Temperature at the start.
    pub temperature: Temperature,
    /// Walls.
    pub wall: Wall,
    /// Lid.
    pub lid: LidKind,
    /// Heater.
    pub heater: Heater,
    /// Inside of the basket; zero where nobody cares.
    pub basket: Volume,
    /// Factor on evaporation for draughts and the like, 1 by default.
    pub draught: f64,
}
