//! Values up the side of a picture.

use super::hatch::Point;
use super::pen::{Anchor, Pen, Type};
use super::theme::Token;

/// Pixels between two written values at the least.
pub(super) const ROOM: f64 = 15.0;
/// Pixels of the cut between full scale and squeezed scale.
const CUT: f64 = 12.0;

/// A scale from top to bottom; below `low` it may be squeezed, with a cut between.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Scale {
    pub(super) top: f64,
    /// Pixels at full scale.
    pub(super) height: f64,
    /// Value at the top.
    pub(super) high: f64,
    /// Value where full scale ends.
    pub(super) low: f64,
    /// Least value and pixels of the squeezed part.
    pub(super) squeezed: Option<(f64, f64)>,
}

impl Scale {
    /// The pixel of a value; on the cut that of full scale.
    pub(super) fn place(&self, value: f64) -> f64 {
        match self.squeezed {
            Some((least, height)) if value < self.low => {
                let share = (self.low - value.max(least)) / (self.low - least).max(1e-9);
                self.top + self.height + CUT + share * height
            }
            _ => {
                let share = (self.high - value) / (self.high - self.low).max(1e-9);
                self.top + share.clamp(0.0, 1.0) * self.height
            }
        }
    }

    pub(super) fn bottom(&self) -> f64 {
        self.top + self.height + self.squeezed.map_or(0.0, |(_, height)| CUT + height)
    }

    /// A curve through values, in pieces where it crosses the cut.
    pub(super) fn curve(&self, points: &[Point]) -> Vec<Vec<Point>> {
        let below = |v: f64| self.squeezed.is_some() && v < self.low;
        let mut pieces: Vec<Vec<Point>> = Vec::new();
        let mut last: Option<Point> = None;
        for &(x, v) in points {
            if let Some((x0, v0)) = last.filter(|(_, v0)| below(*v0) != below(v)) {
                let crossing = x0 + (x - x0) * (self.low - v0) / (v - v0);
                let (full, squeezed) = (self.top + self.height, self.top + self.height + CUT);
                let (end, start) = if below(v0) {
                    (squeezed, full)
                } else {
                    (full, squeezed)
                };
                if let Some(piece) = pieces.last_mut() {
                    piece.push((crossing, end));
                }
                pieces.push(vec![(crossing, start)]);
            } else if last.is_none() {
                pieces.push(Vec::new());
            }
            if let Some(piece) = pieces.last_mut() {
                piece.push((x, self.place(v)));
            }
            last = Some((x, v));
        }
        pieces
    }

    /// The upright line at `x` with ticks and written values to its left.
    pub(super) fn axis(&self, pen: &Pen<'_>, x: f64, values: &[f64]) {
        let full = self.top + self.height;
        pen.line((x, self.top), (x, full), Token::Axis, 1.0);
        if self.squeezed.is_some() {
            pen.line((x, full + CUT), (x, self.bottom()), Token::Axis, 1.0);
            for y in [full + 1.5, full + CUT - 1.5] {
                pen.line((x - 5.0, y + 2.5), (x + 5.0, y - 2.5), Token::Axis, 1.0);
            }
        }
        let words = Type::note(Token::Ink2).anchored(Anchor::End);
        for value in values {
            let y = self.place(*value);
            pen.line((x - 4.0, y), (x, y), Token::Axis, 1.0);
            pen.text(&number(*value), (x - 8.0, y + 4.5), words);
        }
    }
}

/// Pixels of the column that values are written in, with their ticks.
pub(super) fn column(values: &[f64]) -> f64 {
    let how = Type::note(Token::Ink2);
    let widest = values.iter().map(|v| how.width(&number(*v)));
    widest.fold(0.0, f64::max) + 10.0
}

/// A value on an axis: without needless places.
fn number(value: f64) -> String {
    if value >= 10_000.0 {
        return super::words::thousands(value.round() as u64);
    }
    let text = format!("{value:.2}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// Values from nothing to at least `most`, about `count` of them, in steps of 1, 2, 2.5 or 5 times a power of ten.
pub(super) fn round_values(most: f64, count: u32, whole: bool) -> Vec<f64> {
    let least = most.max(1e-6) / f64::from(count.max(1));
    let mut power = if whole { 1.0 } else { 0.01 };
    let step = loop {
        let fits = [1.0, 2.0, 2.5, 5.0]
            .into_iter()
            .map(|k| k * power)
            .find(|s| *s >= least && !(whole && s.fract() > 0.0));
        match fits {
            Some(step) => break step,
            None if power > 1e15 => break power,
            None => power *= 10.0,
        }
    };
    let last = (most / step).ceil().max(1.0) as u32;
    (0..=last).map(|k| f64::from(k) * step).collect()
}

/// Pushes places apart that are nearer than `room`, the lower ones downwards; the order stays.
pub(super) fn apart(places: &mut [f64], room: f64) {
    let mut free = f64::NEG_INFINITY;
    for place in places {
        *place = place.max(free);
        free = *place + room;
    }
}
