//! tankday: the working day of a small finishing line, simulated and planned.

pub mod audit;
pub mod bath;
pub mod chart;
pub mod cli;
pub mod compare;
pub mod ease;
mod fingerprint;
pub mod kernel;
pub mod line;
pub mod luck;
pub mod part;
pub mod plan;
pub mod plan_file;
pub mod planned;
pub mod print;
pub mod record;
pub mod report;
pub mod route;
pub mod scenario;
pub mod shape;
pub mod sheet;
pub mod shop;
pub mod stats;
pub mod study;
pub mod sweep;
pub mod told;
pub mod units;
