//! The pages: functions from results to HTML. Each is whole in itself: nothing is fetched, and the script only adds to
//! what is there without it. What is said stands in `told`, what is drawn in `chart`; here is how a page is laid out.

mod assumed;
mod compare;
mod first;
mod look;
mod page;
mod picture;
mod run;
mod sheet;
mod sweep;
mod table;

pub use compare::{Compare, compare};
pub use run::{Run, run};
pub use sheet::{Before, day_sheet, sheets_alone};
pub use sweep::{Sweep, sweep};
