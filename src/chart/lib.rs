//! Pictures of a run, as SVG and PNG: functions from results to bytes. Nothing here simulates or writes files.

mod bars;
mod cells;
mod clock_axis;
mod compare;
mod cost;
mod day;
mod day_down;
mod day_places;
mod frame;
mod hatch;
mod heading;
mod key;
mod lanes;
mod level;
mod lost;
mod marks;
#[cfg(feature = "png")]
mod outline;
mod output;
mod pen;
#[cfg(feature = "png")]
pub mod png;
mod promise_heaps;
mod promise_rows;
mod promises;
mod route;
mod route_across;
mod route_box;
mod route_down;
mod rows;
mod scale;
mod sets_the_end;
mod signs;
mod spread;
mod svg;
mod sweep;
mod tank_lane;
mod temperature;
pub mod theme;
pub mod view;
mod wear;
pub mod width;
mod words;

pub use compare::compare;
pub use cost::cost;
pub use day::day;
pub use day_places::{LaneOf, Places};
pub use frame::Width;
pub use lost::{Bar, PARTS, lost};
pub use output::output;
pub use promises::promises;
pub use route::route;
pub use sets_the_end::sets_the_end;
pub use svg::Svg;
pub use sweep::sweep;
pub use temperature::temperature;
pub use view::DayView;
pub use wear::wear;
pub use words::of_baths;

/// One picture of a day; none where there is nothing to show.
pub type Draw = fn(&DayView, Width) -> Option<Svg>;

/// All pictures of a day with the names of their files, in the order in which they answer.
pub const OF_A_DAY: [(&str, Draw); 7] = [
    ("day", |view, width| Some(day(view, width))),
    ("promises", |view, width| Some(promises(view, width))),
    ("sets-the-end", sets_the_end),
    ("output", |view, width| Some(output(view, width))),
    ("temperature", |view, width| Some(temperature(view, width))),
    ("bath-wear", wear),
    ("cost", cost),
];
