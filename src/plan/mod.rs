//! Planning a day: what goes in with what, in which order. The planner sees the line as a function from shop, plan and
//! luck to a record: every candidate is judged by the same simulation.
//!
//! `model.rs` knows what can be decided, `settled.rs` what is already, `mend.rs` holds back what came too early, `judge.rs` watches a run and says what
//! it costs, `start.rs` makes first plans by rules of thumb, `pack.rs` and `exchange.rs` group lots into loads, `change.rs`
//! changes a plan a little, `insert.rs` takes a load out and puts it back where it fits (`chain.rs` knows its tasks,
//! `gaps.rs` sets of moments), `search.rs` looks for a better one and `ways.rs` remembers which changes pay, `bound.rs` says
//! how good a plan could be at best.
//! `written` makes a plan a file and a file a plan, `promise` asks what can be promised for one more order.

mod bound;
mod chain;
mod change;
mod exchange;
mod gaps;
mod insert;
mod judge;
mod mend;
mod model;
mod pack;
mod promise;
mod search;
mod settled;
mod start;
mod ways;
mod written;

pub use bound::{Bounds, bounds};
pub use judge::Judged;
pub use promise::{Asked, Promised, Refused, promise};
pub use search::{Choice, Effort, Found, RuleResult, plan};
pub use written::{Meant, Rest, delays, judged, repair, rest_of_day, rests_on, understand, write};
