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
//!
//! # Known and left
//!
//! - What is foreign in a bath (`now: contaminated`) is named, not measured: no source gives amounts. It stops the
//!   bath until all of it is renewed; a jug that takes part of it holds it too.
//! - Nothing grows at and below the limit of a material (`shop::CoatsFrom`: steel 82 °C, cast iron 70 °C); growth
//!   comes up to its law within 3 K above it. A bath sums one conversion for each limit. Sludge settles by one
//!   half-life, from the depth of the tank unless stated.
//! - With the defaults small parts take 16.1 min to 16 g/m2 at 88 °C, a minute over the ten to fifteen of common
//!   practice; from 89 °C on they keep it (`tests/bath_practice.rs`).
//! - The thermostat is averaged: a bath that holds has its set temperature; the switching times are a function
//!   (`Bath::cycle`).
//! - `check --defaults` lists no coefficients of the tables of water and of the formulas of natural convection: they
//!   stand with their sources in `bath/water.rs` and `bath/film.rs`. A bath is looked at for the record every five
//!   minutes (`line/look.rs`).

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
