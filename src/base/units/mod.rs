//! Quantities as types: read, print, convert. Nothing else in the crate converts between units.
//!
//! Every quantity is a newtype over `f64` in its SI base unit; clock times ([`Moment`]) and lengths of time
//! ([`Span`]) are whole microseconds, so that "at the same time" is exact. Factors of customary units are those
//! of NIST Special Publication 811 (2008), appendix B, most of them exact by definition.

#[macro_use]
mod quantity;
mod chemical;
mod read;
mod temperature;
mod time;
mod transport;

pub use chemical::{Amount, CakeResistance, MediumResistance, MolarMass, Speed, VolumeFlow, VolumePerArea};
pub use quantity::{
    Area, AreaPerVolume, CoatWeight, Concentration, Conductivity, Density, Energy, HeatCapacity,
    HeatTransfer, Length, Mass, MassPerVolume, POINT, Power, Pressure, Quantity, Share, Strength, UnitName,
    Volume,
};
pub use read::{ReadError, number, read_quantity, split_number};
pub use temperature::{TempDiff, Temperature};
pub use time::{Moment, Span, read_clock, read_span};
pub use transport::{Diffusivity, Expansion, HeatFlux, MassFlow, MassFlux, SpecificHeat, Viscosity};
