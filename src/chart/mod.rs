//! Pictures of a run, as SVG and PNG: functions from results to bytes. Nothing here simulates or writes files.

mod cells;
mod clock_axis;
mod compare;
mod day;
mod frame;
mod hatch;
mod heading;
mod key;
mod lanes;
mod level;
mod lost;
mod marks;
mod output;
mod pen;
#[cfg(feature = "png")]
pub mod png;
mod route;
mod rows;
mod scale;
mod spread;
mod svg;
mod sweep;
mod temperature;
pub mod theme;
pub mod view;
mod wear;
pub mod width;
mod words;

pub use compare::compare;
pub use day::day;
pub use frame::Width;
pub use lost::{Bar, PARTS, lost};
pub use output::output;
pub use route::route;
pub use svg::Svg;
pub use sweep::sweep;
pub use temperature::temperature;
pub use view::DayView;
pub use wear::wear;
