//! The pages: functions from results to HTML. Each is whole in itself: nothing is fetched, and the script only adds to
//! what is there without it. What is said stands in `told`, what is drawn in `chart`; here is how a page is laid out.
//!
//! # Known and left
//!
//! - The switch of units in a page turns words and tables, and is kept for the next page; the scales of pictures and the
//!   scenario stay as written. A page without its script, the text and the CSV of a sheet speak metric.
//! - More than 3,000 bars in the picture of the day are too fine to be pointed at: those of the tanks alone are told
//!   to the script.
//! - Reports of comparisons and sweeps hold what is common to all replications; to see one day, run its scenario.

mod assumed;
mod compare;
mod first;
mod look;
mod one_load;
mod page;
mod picture;
mod quote;
mod quote_list;
mod quote_tables;
mod run;
mod sheet;
mod sweep;
mod table;
mod units;

pub use compare::{Compare, compare};
pub use one_load::{OneLoadPage, one_load};
pub use quote::{QuotePage, Quotes, quote};
pub use quote_list::quote_csv;
pub use run::{Run, run};
pub use sheet::{Before, day_sheet, sheets_alone};
pub use sweep::{Sweep, sweep};
pub use units::Units;
