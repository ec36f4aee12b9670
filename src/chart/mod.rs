//! Pictures of a run, as SVG and PNG: functions from results to bytes. Nothing here simulates or writes files.

mod clock_axis;
mod day;
mod frame;
mod hatch;
mod key;
mod lanes;
mod marks;
mod output;
mod pen;
#[cfg(feature = "png")]
pub mod png;
mod route;
mod scale;
mod svg;
mod temperature;
pub mod theme;
pub mod view;
pub mod width;
mod words;

pub use day::day;
pub use frame::Width;
pub use output::output;
pub use route::route;
pub use svg::Svg;
pub use temperature::temperature;
pub use view::DayView;
