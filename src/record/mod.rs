//! What happened, in order. The engine only appends; every figure is computed from here alone.

mod event;
mod watch;

pub use event::{BathSample, Breach, Event, HeaterState, LoadNo, OrderNo, Task, TaskKind};
pub use watch::{Entry, Nobody, Record, Watcher};
