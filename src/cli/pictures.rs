//! The pictures of a run, drawn side by side.

use super::exit::Failure;
use crate::chart::{DayView, Svg, Width, day, output, temperature, wear};
use crate::record::Record;
use crate::shop::Shop;
use rayon::prelude::*;

/// One picture: from what is seen of a day to a drawing.
type Draw = fn(&DayView, Width) -> Svg;

const PICTURES: [(&str, Width, Draw); 3] = [
    ("day", Width::Wide, day),
    ("temperature", Width::Page, temperature),
    ("output", Width::Page, output),
];

/// All pictures as files: name and bytes.
///
/// # Errors
/// When a drawing cannot be turned into pixels.
pub(super) fn pictures(shop: &Shop, record: &Record) -> Result<Vec<(String, Vec<u8>)>, Failure> {
    let view = DayView::of(shop, record);
    let drawn: Result<Vec<_>, Failure> = PICTURES
        .par_iter()
        .map(|(name, width, draw)| files(name, &draw(&view, *width)))
        .collect();
    let mut all: Vec<_> = drawn?.into_iter().flatten().collect();
    if let Some(picture) = wear(&view, Width::Page) {
        all.extend(files("bath-wear", &picture)?);
    }
    Ok(all)
}

/// A drawing as files: name and bytes.
#[cfg(feature = "png")]
pub(super) fn files(name: &str, svg: &Svg) -> Result<Vec<(String, Vec<u8>)>, Failure> {
    /// Pixels for one of the drawing: sharp on paper at half a page.
    const SCALE: f64 = 2.0;
    let png = crate::chart::png::render(svg, SCALE);
    let png = png.map_err(|e| Failure::work(format!("cannot draw {name}.png: {e}")))?;
    Ok(vec![
        (format!("{name}.svg"), svg.as_str().as_bytes().to_vec()),
        (format!("{name}.png"), png),
    ])
}

/// A drawing as a file: name and bytes.
#[cfg(not(feature = "png"))]
pub(super) fn files(name: &str, svg: &Svg) -> Result<Vec<(String, Vec<u8>)>, Failure> {
    Ok(vec![(format!("{name}.svg"), svg.as_str().as_bytes().to_vec())])
}
