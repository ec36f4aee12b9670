//! The simulation kernel: a handful of small parts, put together by whoever simulates.
//!
//! - [`Agenda`]: the event calendar, ordered by (time, class, serial), with cancellation
//! - [`Clock`]: the time it is
//! - [`WaitingLine`]: who waits, and who is next
//! - [`Batch`]: a server that takes several at once
//! - [`Hours`]: when somebody works, and when a job ends under each rule for breaks
//! - [`LevelTally`], [`LevelTimes`], [`SpanTally`], [`Tally`]: what is counted
//!
//! A simulation is a loop of the caller's own: take the next event, move the clock, apply everything that is due at
//! that instant, then let everything start that has become possible. `tests/programs/textbook_queue.rs` is the
//! smallest one.

mod agenda;
mod batch;
mod clock;
mod hours;
mod tally;
mod waiting;

pub use agenda::{ARRAY_MOST, Agenda, ENDS, Handle, MOST_PENDING, STARTS};
pub use batch::Batch;
pub use clock::Clock;
pub use hours::{BreakRule, Hours, Interval};
pub use tally::{LevelTally, LevelTimes, SpanTally, Tally};
pub use waiting::{Discipline, Waiting, WaitingLine};
