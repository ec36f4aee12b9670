//! Draws on a plotters canvas in pixels and tenths of them, in the colours of the theme only.

use super::hatch::Point;
use super::heading::Heading;
use super::svg::{Alt, Svg, finished, plain};
use super::theme::Token;
use super::width::{Weight, width};
use plotters::coord::Shift;
use plotters::prelude::{
    Circle, DrawingArea, IntoDrawingArea, IntoFont, PathElement, Polygon, Rectangle, SVGBackend, Text,
};
use plotters::style::text_anchor::{HPos, Pos, VPos};
use plotters::style::{Color, FontStyle, ShapeStyle, TextStyle};

/// Units of the canvas to one pixel.
pub(super) const PER_PIXEL: f64 = 10.0;
/// plotters divides a font size by this before it writes it.
pub(super) const SIZE_FACTOR: f64 = 1.24;

/// Which end of a text its place is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Anchor {
    Start,
    Middle,
    End,
}

/// How a text looks.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Type {
    pub(super) size: f64,
    pub(super) weight: Weight,
    pub(super) colour: Token,
    pub(super) anchor: Anchor,
}

impl Type {
    /// Regular, 12 px, from its start: ticks and notes.
    pub(super) const fn note(colour: Token) -> Self {
        Self {
            size: 12.0,
            weight: Weight::Regular,
            colour,
            anchor: Anchor::Start,
        }
    }
    /// Regular, 13 px, from its start: labels.
    pub(super) const fn label(colour: Token) -> Self {
        Self {
            size: 13.0,
            ..Self::note(colour)
        }
    }
    pub(super) const fn bold(self) -> Self {
        Self {
            weight: Weight::Bold,
            ..self
        }
    }
    pub(super) const fn anchored(self, anchor: Anchor) -> Self {
        Self { anchor, ..self }
    }
    /// Width of a text in it, with the allowance of the width table.
    pub(super) fn width(self, text: &str) -> f64 {
        width(text, self.size, self.weight)
    }
}

/// A canvas. Drawing into a string cannot fail, so what plotters returns is dropped.
pub(super) struct Pen<'a> {
    area: DrawingArea<SVGBackend<'a>, Shift>,
}

/// Draws a picture below its heading.
pub(super) fn picture(size: (u32, u32), alt: Alt, heading: &Heading, draw: impl FnOnce(&Pen<'_>)) -> Svg {
    let head = canvas(size, |pen| heading.draw(pen));
    let body = canvas(size, draw);
    finished((&head, &body), size, heading.height() as u32, alt)
}

/// What plotters writes of a drawing.
fn canvas((width, height): (u32, u32), draw: impl FnOnce(&Pen<'_>)) -> String {
    let mut text = String::new();
    let scaled = |pixels: u32| pixels.saturating_mul(PER_PIXEL as u32);
    {
        let backend = SVGBackend::with_string(&mut text, (scaled(width), scaled(height)));
        let pen = Pen {
            area: backend.into_drawing_area(),
        };
        draw(&pen);
        pen.area.present().ok();
    }
    text
}

fn at((x, y): Point) -> (i32, i32) {
    ((x * PER_PIXEL).round() as i32, (y * PER_PIXEL).round() as i32)
}

fn stroke(colour: Token, width: f64) -> ShapeStyle {
    colour.rgb().stroke_width((width * PER_PIXEL).round() as u32)
}

impl Pen<'_> {
    /// A filled rectangle.
    pub(super) fn rect(&self, (x, y): Point, (w, h): Point, fill: Token) {
        let corners = [at((x, y)), at((x + w, y + h))];
        self.area.draw(&Rectangle::new(corners, fill.rgb().filled())).ok();
    }

    /// A filled shape.
    pub(super) fn shape(&self, points: &[Point], fill: Token) {
        let points: Vec<_> = points.iter().copied().map(at).collect();
        self.area.draw(&Polygon::new(points, fill.rgb().filled())).ok();
    }

    /// The outline of a shape.
    pub(super) fn outline(&self, points: &[Point], colour: Token, width: f64) {
        let mut closed = points.to_vec();
        closed.extend(points.first());
        self.curve(&closed, colour, width);
    }

    /// A straight line.
    pub(super) fn line(&self, from: Point, to: Point, colour: Token, width: f64) {
        self.curve(&[from, to], colour, width);
    }

    /// A line through points.
    pub(super) fn curve(&self, points: &[Point], colour: Token, width: f64) {
        if points.len() < 2 {
            return;
        }
        let points: Vec<_> = points.iter().copied().map(at).collect();
        self.area
            .draw(&PathElement::new(points, stroke(colour, width)))
            .ok();
    }

    /// A thin line through points that is seen through; many of them add up.
    pub(super) fn faint(&self, points: &[Point], colour: Token, width: f64, opacity: f64) {
        let points: Vec<_> = points.iter().copied().map(at).collect();
        let style = ShapeStyle {
            color: colour.rgb().mix(opacity),
            ..stroke(colour, width)
        };
        self.area.draw(&PathElement::new(points, style)).ok();
    }

    /// A line through points in dashes of `on` pixels with gaps of `off` between them.
    pub(super) fn dashed(&self, points: &[Point], colour: Token, width: f64, dash: Dash) {
        if points.len() < 2 {
            return;
        }
        let points: Vec<_> = points.iter().copied().map(at).collect();
        let style = ShapeStyle {
            stroke_width: with_dash((width * PER_PIXEL).round() as u32, dash),
            ..stroke(colour, width)
        };
        self.area.draw(&PathElement::new(points, style)).ok();
    }

    /// A disc.
    pub(super) fn disc(&self, centre: Point, radius: f64, fill: Token) {
        let radius = (radius * PER_PIXEL).round() as i32;
        self.area
            .draw(&Circle::new(at(centre), radius, fill.rgb().filled()))
            .ok();
    }

    /// A text that stands on a line at the height of `place`.
    pub(super) fn text(&self, text: &str, place: Point, how: Type) {
        let style = match how.weight {
            Weight::Regular => FontStyle::Normal,
            Weight::Bold => FontStyle::Bold,
        };
        let size = how.size * PER_PIXEL;
        let horizontal = match how.anchor {
            Anchor::Start => HPos::Left,
            Anchor::Middle => HPos::Center,
            Anchor::End => HPos::Right,
        };
        let colour = how.colour.rgb();
        let font = ("sans-serif", size * SIZE_FACTOR, style).into_font();
        let style = TextStyle::from(font)
            .color(&colour)
            .pos(Pos::new(horizontal, VPos::Top));
        let (x, y) = at(place);
        let top = y - (0.76 * size).round() as i32;
        self.area.draw(&Text::new(plain(text), (x, top), style)).ok();
    }

    /// A text on a plate of the ground's colour, so that what lies under it does not cross it.
    pub(super) fn plated(&self, text: &str, place: Point, how: Type, plate: Token) {
        let wide = how.width(text);
        let left = match how.anchor {
            Anchor::Start => place.0,
            Anchor::Middle => place.0 - wide / 2.0,
            Anchor::End => place.0 - wide,
        };
        let top = place.1 - how.size * 0.85;
        self.rect((left - 2.0, top), (wide + 4.0, how.size * 1.15), plate);
        self.text(text, place, how);
    }
}

/// Pixels of a dash and of the gap behind it.
pub(super) type Dash = (f64, f64);

/// Above the stroke widths that are drawn, in units of the canvas.
const WIDEST: u32 = 1_000;
/// Above the halves of a pixel that a dash or a gap has.
const LONGEST: u32 = 1_000;

/// plotters draws no dashes and writes nothing of its own into a file but what a stroke looks like. So a dash travels
/// in the width of its stroke, in halves of a pixel, above all widths that are drawn; see [`dash_of`].
fn with_dash(width: u32, (on, off): Dash) -> u32 {
    let halves = |pixels: f64| ((pixels * 2.0).round() as u32).clamp(1, LONGEST - 1);
    width.min(WIDEST - 1) + WIDEST * (halves(on) + LONGEST * halves(off))
}

/// The width of a stroke in units of the canvas, and its dash if it has one.
pub(super) fn dash_of(width: u32) -> (u32, Option<Dash>) {
    let (halves, width) = (width / WIDEST, width % WIDEST);
    let pixels = |halves: u32| f64::from(halves) / 2.0;
    let dash = (pixels(halves % LONGEST), pixels(halves / LONGEST));
    (width, (halves > 0).then_some(dash))
}

#[cfg(test)]
mod tests {
    use super::{dash_of, with_dash};

    #[test]
    fn a_dash_travels_in_the_width_of_its_stroke() {
        assert_eq!(dash_of(25), (25, None));
        assert_eq!(dash_of(with_dash(25, (7.0, 4.0))), (25, Some((7.0, 4.0))));
        assert_eq!(dash_of(with_dash(10, (2.5, 499.0))), (10, Some((2.5, 499.0))));
    }
}
