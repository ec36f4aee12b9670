//! Planning a day: what goes in with what, in which order. The planner sees the line as a function from shop, plan and
//! luck to a record: every candidate is judged by the same simulation.
//!
//! `model.rs` knows what can be decided, `settled.rs` what is already, `mend.rs` holds back what came too early, `judge.rs`
//! watches a run and says what it costs. `canonical.rs` numbers orders so that their place in a file does
//! not matter, `divide.rs` cuts up orders that are too large, `start.rs` makes first plans by rules
//! of thumb, `pack.rs`, `fewer.rs` and `exchange.rs` group lots into loads, `abreast.rs` builds days side by side where limits
//! are narrow (`lanes.rs` says of what). `change.rs` changes a plan a little, `insert.rs` takes a load out and puts it back
//! where it fits (`standing.rs` knows the others, `chain.rs` its tasks, `gaps.rs` sets of moments), `search.rs` looks for a
//! better plan and `ways.rs` remembers which changes pay. `choose.rs` makes the last choice under luck, `warm.rs` says when
//! to heat, `bound` how good a plan could be at best (`rooms.rs`: in how many loads), `timed.rs` follows one once. `effort.rs` says how much is tried,
//! `weight.rs` by how much less where a day takes long.
//! `promise` asks what can be promised for one more order.

pub mod plan_file;
pub mod planned;

mod abreast;
mod bound;
mod canonical;
mod chain;
mod change;
mod choose;
mod divide;
mod effort;
mod exchange;
mod fewer;
mod gaps;
mod hot;
mod insert;
mod judge;
mod lanes;
mod mend;
mod model;
mod pack;
mod promise;
mod rooms;
mod search;
mod serve;
mod settled;
mod standing;
mod start;
mod timed;
mod timetable;
mod warm;
mod ways;
mod weight;

pub use bound::{Bounds, bounds, earliest_ready};
pub use choose::{Chances, Choice};
pub use effort::Effort;
pub use judge::Judged;
pub use promise::{Asked, Promised, Refused, promise};
pub(crate) use search::plan_on;
pub use search::{Found, RuleResult, plan};
pub(crate) use timed::{Timed, timed};
pub use timed::{by_own_rules, cost_under_luck, judged};
