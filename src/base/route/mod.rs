//! The process graph of a route: what must come before what, what goes back after a failed inspection.
//!
//! Steps are nodes. A *forward* edge leads from a step to one that must come after it; a *return* edge from an
//! inspecting step to the one where a failed load begins again. A load does its steps one after the other; steps with
//! no forward path between them may be done in either order.

mod dot;
mod graph;
mod layout;
mod problem;
mod time;
mod words;

pub use graph::{Edge, ProcessGraph};
pub use layout::{EdgePlace, Layout, NodePlace, Point};
pub use problem::{RouteProblem, problems};
pub use time::{Guess, step_time, time_for_part};
pub use words::{description, summary};
