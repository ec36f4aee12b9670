//! Physics of heat and water in a tank, and growth of the coating: plain functions, and one [`Bath`] state.
//!
//! - [`water`], [`air`], [`film`]: properties and natural convection
//! - [`surface`], [`wall`], [`tank`]: what leaves an open surface, a wall, a lid, a whole tank
//! - [`TankHeat`]: a tank in a room with its losses tabulated, built once
//! - [`Bath`]: temperature, water, heater, lid and work; advances in time and says when it will be where
//! - [`Lump`], [`Load`], [`SolidHeat`]: cold work
//! - [`Growth`]: the coating
//! - [`settle`], [`filter`]: how sludge is got out
//! - [`rinse`], [`dry`], [`hydrogen`]: what comes after
//! - [`chemistry`]: what is dissolved, what falls out, what a load does to it
//!
//! The equations are those of a lumped bath: `(m cp + C) dT/dt = heater - losses` and `dm/dt = -evaporation`.
//! Nothing here knows events, orders, clocks or luck.

mod advance;
pub mod air;
pub mod chemistry;
mod content;
pub mod dry;
pub mod film;
pub mod filter;
mod flow;
mod grow;
pub mod hydrogen;
mod ledger;
mod load;
mod loss_table;
mod ode;
mod predict;
pub mod rinse;
mod root;
pub mod settle;
mod state;
pub mod surface;
pub mod tank;
mod tank_heat;
mod tubs;
pub mod wall;
pub mod water;

pub use crate::shop::Growth;
pub use grow::{Cannot, Substrate};
pub use ledger::{Balance, Ledger};
pub use load::{Load, Lump, PACKED_BASKET, Piece, SolidHeat, steel_conductivity};
pub use loss_table::Leaving;
pub use predict::Cycle;
pub use state::{Bath, Heater, Heating};
pub use tank::Lid;
pub use tank_heat::{HIGHEST, HOT, SOLIDS, TankHeat};
pub use tubs::Tubs;
