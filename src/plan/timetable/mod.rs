//! The first of two levels on which a day is planned: a timetable of the shop without its baths. A decision there is a
//! list of loads in the order of charging; a dispatcher turns it into a complete day in a few microseconds, and never into
//! one in which a load stays too long. The best few days are then judged by the line, and what the line says of durations
//! goes back into the timetable.
//!
//! `model.rs` is the timetable, `compile.rs` makes it from a shop (`stages.rs`: the way of lots and loads), `state.rs` is a
//! decision, `dispatch` its day, `change.rs` changes it, `anneal.rs` searches, `rolling.rs` does so day after day where there
//! are many, `level.rs` goes back and forth between timetable and line, `pace.rs` shares out the days, `learn.rs` takes what
//! the line says of durations, `rate.rs` is for the benchmark.
//!
//! # Known and left
//!
//! - A timetable knows no walks between stations, no care of baths and no luck; steps that branch are done in the
//!   order written. A shop without hands or tanks, and more than 16 kinds of tanks are planned by the line's own
//!   search alone. Heaters stay on between two waves of work as the rules say.

mod anneal;
mod change;
mod compile;
mod dispatch;
mod learn;
mod level;
mod model;
mod pace;
mod rate;
mod rolling;
mod stages;
mod state;

pub use rate::days_laid_out;
