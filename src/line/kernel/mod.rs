//! The simulation kernel: the two parts that the loop of the line stands on.
//!
//! - [`EventCalendar`]: the event calendar, ordered by (time, class, serial), with cancellation
//! - [`Hours`]: when somebody works
//!
//! The loop is in `engine.rs`. Textbook queues are run through it as scenario files (`tests/queues`); lost calls and machine
//! repair are none, since nothing at a line is turned away and no machine of it breaks.

mod agenda;
mod hours;

pub use agenda::{ARRAY_MOST, ENDS, EventCalendar, Handle, MOST_PENDING, STARTS};
pub use hours::{Hours, Interval};
