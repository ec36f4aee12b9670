//! Everything that is tested from outside, one module for each behaviour.

mod luck_quantiles;
mod luck_spreads;
mod luck_streams;
