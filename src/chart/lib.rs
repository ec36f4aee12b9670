//! Pictures of a run, as SVG and PNG: functions from results to bytes. Nothing here simulates or writes files.
//!
//! # How pictures are drawn
//!
//! A picture is a function of what is seen and of a width: `chart::day(&view, Width::Phone)`. It is laid out anew for each of the three widths
//! (336, 720, 1080 px), never shrunk; `chart::OF_A_DAY` lists those of a day. `Svg::as_str` is the file, with heading and ground; `Svg::inline` is for a page
//! that says title and finding itself, with colours as `var(--token)`.
//!
//! Rules, tested on every picture at every width and at the extremes (`tests/chart_extremes.rs`: one load, 300 orders, ten days, names of sixty letters, all
//! late, nothing done): only token colours; no text under 12 px; every text inside the picture and none on another, by our table of widths; a name, a
//! description and ids of its own.
//!
//! - A state is told by height and shape of its bar, then by its hatch, then by its colour (`lanes.rs`), the same in every picture:
//!
//! | state | shape | hatch | colour |
//! | --- | --- | --- | --- |
//! | heating, recovering | wedge | rising, upright | `heat`, `rec` |
//! | hot and waiting | low and hollow | none | `wait` |
//! | coating | full, solid | none | `coat` |
//! | care | full | crossed | `care` |
//! | station in hand, by itself, held up | full | none, level, falling | `stat`, `alone`, `wait` |
//! | hands at work, in a break | full | none, level | `hand`, `panel` |
//! | order on time, tight, late, not to be done | disc, square half filled, triangle point down, cross | | `ok`, `tight`, `late` |
//!
//! - A dash is `stroke-dasharray` in the file. plotters draws none and writes nothing of its own; so the dash travels in the width of
//!   its stroke (`pen.rs`) and is read from there when the file is written (`svg.rs`).
//! - An axis on which there is one value begins at nothing; of counts there are no halves (`level.rs`). A figure that is the same
//!   for all alternatives is told in a line, not drawn.
//! - Uncertainty is shown: a hair for each replication as long as there are no more than 250, twenty dots at the quantiles (each one in twenty), a filled
//!   pointer at the median and an open one at nine in ten, a black bar for the 95 % interval of a mean (`spread.rs`).
//! - Labels stand at the thing. One that finds no room is left out and counted in the note below.
//! - Colours stand once, in `theme.rs`, by what they are for, each in three looks: light, dark, print. Every value is unique within its look, so that a finished
//!   picture takes another look by replacement. They start from the eight hues of Okabe and Ito (Color Universal Design, 2002), darkened or lightened until
//!   `tests/chart_palette.rs` held: WCAG 2.2 contrasts of at least 4.5 for text and 3 for marks in all looks; CIEDE2000 distances of at least 9.5 within every group of
//!   states for full sight and the three kinds of dichromacy (Machado, Oliveira, Fernandes 2009), the formula checked against pairs of Sharma, Wu, Dalal 2005.
//!   In grey alone heating and care, and on time and late, are not told apart: there shape, hatch and word do.
//!
//! # Known and left
//!
//! - On a phone the picture of the day leaves the stations out; of more tanks and hands than fit side by side the
//!   rest is counted in a note.

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
mod one_load;
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
mod sweep_shown;
mod tank_lane;
mod temperature;
pub mod theme;
pub mod view;
mod wear;
pub mod width;
mod words;

pub use compare::{caption as compare_caption, compare};
pub use cost::cost;
pub use day::day;
pub use day_places::{LaneOf, Places};
pub use frame::Width;
pub use lost::{Bar, PARTS, lost};
pub use one_load::one_load;
pub use output::output;
pub use promises::promises;
pub use route::route;
pub use sets_the_end::sets_the_end;
pub use svg::Svg;
pub use sweep::sweep;
pub use sweep_shown::SweepShown;
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
