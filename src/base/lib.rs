//! What everything stands on: quantities, randomness, shapes, the checked model of a shop, its graph, and plain words.

pub mod bath;
pub mod fingerprint;
pub mod print;
pub mod random;
pub mod route;
pub mod shape;
pub mod shop;
pub mod stats;
pub mod units;
