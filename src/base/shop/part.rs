//! Parts and what they are made of.

use super::fit::Goes;
use super::growth::CoatsFrom;
use super::ids::MaterialId;
use super::odds::Mishaps;
use crate::shape::Estimate;
use crate::units::{Area, Density, HeatCapacity, Length, Mass, Share, Span, Volume, VolumePerArea};

/// Whether a material takes the coating.
#[derive(Debug, Clone, PartialEq)]
pub enum Coats {
    /// It does.
    Yes,
    /// It may: a trial piece goes in before a load; why.
    AfterTrial(String),
    /// It must stay out of the bath; the reason.
    No(String),
}

/// A material.
#[derive(Debug, Clone, PartialEq)]
pub struct Material {
    /// Its name.
    pub name: String,
    /// Whether it takes the coating.
    pub coats: Coats,
    /// Mean heat capacity between room and bath temperature.
    pub heat_capacity: HeatCapacity,
    /// Density.
    pub density: Density,
    /// How many times longer than blasted plain steel its coating takes.
    pub slower: f64,
    /// How many times heavier its full coating is than on blasted plain steel.
    pub heavier: f64,
    /// From which bath temperature it takes a coating.
    pub from: CoatsFrom,
    /// Above about HRC 39 or a spring: hydrogen matters.
    pub hardened: bool,
}

/// How pieces are held in a tank.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Held {
    /// Loose in a basket.
    Basket,
    /// One by one on wires.
    Wire,
}

/// The time of dripping for which the drag-out of a part is stated.
pub const DRIPPED: Span = Span::micros(10_000_000);
/// Dripping beyond it gains nothing: weighed panels gained nothing beyond 40 s, much before 30 s.
pub const DRIPS_UNTIL: Span = Span::micros(40_000_000);
/// Mass from which on a piece that hangs by itself counts as heavy (a choice of ours).
pub const HEAVY_PIECE: Mass = Mass::kilograms(0.5);
/// Share of a tank's room by mass from which on a load with such a piece is worth a warning (a choice of ours).
pub const HEAVY_SHARE: Share = Share::percent(75.0);

/// From this mass on a lift over a bath is one for two or for a hoist: 23 kg close to the body, 25 cm away, and so
/// much less at 63 cm, an arm's length (revised NIOSH lifting equation, from memory).
pub const HEAVY_LIFT: Mass = Mass::kilograms(23.0 * 25.0 / 63.0);

/// One kind of piece.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// Its name.
    pub name: String,
    /// What it is made of.
    pub material: MaterialId,
    /// Mass of one piece.
    pub mass: Mass,
    /// Surface of one piece.
    pub area: Area,
    /// Room that one piece takes in a basket, air between pieces included; zero where nobody cares.
    pub bulk: Volume,
    /// How it is held.
    pub held: Held,
    /// What its shape gives, where mass or surface were not measured.
    pub shape: Option<Estimate>,
    /// Liquid that leaves a tank on its surface when it has dripped for [`DRIPPED`].
    pub drag_out: VolumePerArea,
    /// Greatest thickness; zero where nobody said.
    pub thick: Length,
    /// Ground, cold formed or straightened after hardening.
    pub worked_cold: bool,
    /// What of it makes its loads fail more often, whatever is done with them.
    pub brings: Mishaps,
    /// Its own shortest and longest dwell, where the bath's window is too wide for it.
    pub dwell: Option<(Span, Span)>,
    /// Into which tanks it goes.
    pub goes: Goes,
}
