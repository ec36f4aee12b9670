//! The key below a picture: samples of the states that occur in it, and no others.

use super::frame::Width;
use super::lanes::{Lane, Style};
use super::pen::{Pen, Type};
use super::theme::Token;

const ROW: f64 = 22.0;
const SAMPLE: f64 = 24.0;
const HEIGHT: f64 = 14.0;

/// A key laid out in rows.
pub(super) struct Key {
    rows: Vec<Vec<(f64, Style, &'static str)>>,
}

impl Key {
    /// Puts as many samples in a row as fit into the width of the picture.
    pub(super) fn new(samples: impl IntoIterator<Item = (Style, &'static str)>, width: Width) -> Self {
        let words = Type::note(Token::Ink2);
        let mut rows: Vec<Vec<(f64, Style, &'static str)>> = Vec::new();
        let mut x = f64::INFINITY;
        for (style, name) in samples {
            let wide = SAMPLE + 6.0 + words.width(name);
            if x + wide > width.px() - width.side() {
                x = width.side();
                rows.push(Vec::new());
            }
            if let Some(row) = rows.last_mut() {
                row.push((x, style, name));
            }
            x += wide + 16.0;
        }
        Self { rows }
    }

    /// Pixels that it needs.
    pub(super) fn height(&self) -> f64 {
        ROW * self.rows.len() as f64
    }

    pub(super) fn draw(&self, pen: &Pen<'_>, top: f64) {
        for (i, row) in self.rows.iter().enumerate() {
            let y = top + ROW * i as f64;
            for (x, style, name) in row {
                Lane::new(pen, y, HEIGHT).bar((*x, x + SAMPLE), *style);
                pen.text(name, (x + SAMPLE + 6.0, y + 11.0), Type::note(Token::Ink2));
            }
        }
    }
}
