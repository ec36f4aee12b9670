//! From SVG to PNG, with the font in the program.

use super::outline::outlined;
use super::svg::Svg;
use resvg::tiny_skia::{Pixmap, Transform};
use resvg::usvg::{Options, Tree};
use thiserror::Error;

/// Pictures larger than this many pixels are not made: 40 million take 160 MB.
const MOST_PIXELS: f64 = 4.0e7;

/// Why there is no PNG.
#[derive(Debug, Error)]
pub enum PngError {
    /// Too many pixels, or none.
    #[error("a picture of {0:.0} by {1:.0} pixels is not made")]
    Size(f64, f64),
    /// The fonts in the program do not read.
    #[error("the font does not read: {0}")]
    Font(String),
    /// The SVG does not read.
    #[error("the drawing does not read: {0}")]
    Drawing(String),
    /// The pixels cannot be packed.
    #[error("the pixels cannot be packed: {0}")]
    Packing(String),
}

/// Draws a picture in pixels, `scale` of them to one of the SVG.
///
/// # Errors
/// When it would have no pixels or too many; when the SVG is broken.
pub fn render(svg: &Svg, scale: f64) -> Result<Vec<u8>, PngError> {
    let (width, height) = (f64::from(svg.width()) * scale, f64::from(svg.height()) * scale);
    let too_big = PngError::Size(width, height);
    if !(width >= 1.0 && height >= 1.0 && width * height <= MOST_PIXELS) {
        return Err(too_big);
    }
    let drawn = outlined(svg.as_str()).map_err(|e| PngError::Font(e.to_string()))?;
    let tree = Tree::from_str(&drawn, &Options::default()).map_err(|e| PngError::Drawing(e.to_string()))?;
    let mut pixels = Pixmap::new(width.ceil() as u32, height.ceil() as u32).ok_or(too_big)?;
    resvg::render(
        &tree,
        Transform::from_scale(scale as f32, scale as f32),
        &mut pixels.as_mut(),
    );
    pixels.encode_png().map_err(|e| PngError::Packing(e.to_string()))
}

#[cfg(test)]
mod tests;
