//! Bars from a common zero, one below the other, each with its name and its value in words.

use super::frame::Width;
use super::lanes::{Lane, Style};
use super::level::Level;
use super::pen::{Pen, Type};
use super::rows::Rows;
use super::spread::hairs;
use super::theme::Token;

const NAME: f64 = 190.0;
const WORDS: f64 = 150.0;
const ROW: f64 = 26.0;
const HIGH: f64 = 16.0;

/// One bar.
pub(super) struct Bar {
    pub(super) name: String,
    pub(super) value: f64,
    pub(super) words: String,
    pub(super) style: Style,
    /// The value on every day reckoned.
    pub(super) days: Vec<f64>,
}

/// Bars on one axis that begins at nothing.
pub(super) struct Bars {
    rows: Rows,
    axis: Level,
    bars: Vec<Bar>,
}

impl Bars {
    /// Bars on an axis that holds `most` too.
    pub(super) fn new(bars: Vec<Bar>, most: f64, width: Width) -> Self {
        let rows = Rows::new(width, NAME, WORDS, ROW);
        let left = match width {
            Width::Phone => width.side(),
            Width::Page | Width::Wide => rows.left,
        };
        let values = bars.iter().flat_map(|b| b.days.iter().copied().chain([b.value]));
        let axis = Level::new(values.chain([0.0, most]), left, rows.right);
        Self { rows, axis, bars }
    }

    pub(super) fn height(&self) -> f64 {
        self.rows.top(self.bars.len())
    }

    pub(super) fn draw(&self, pen: &Pen<'_>, top: f64) {
        let zero = self.axis.place(0.0);
        for (i, bar) in self.bars.iter().enumerate() {
            let y = top + self.rows.top(i);
            let (name, told) = (Type::label(Token::Ink), Type::label(Token::Ink2));
            self.rows
                .label(pen, y, 12.5, (&bar.name, name), (&bar.words, told));
            let y = y + self.rows.below;
            let to = self.axis.place(bar.value);
            let (over, under) = if self.rows.below > 0.0 {
                (1.0, 4.0)
            } else {
                (5.0, 5.0)
            };
            pen.line((zero, y - over), (zero, y + HIGH + under), Token::Axis, 1.0);
            if to - zero >= 0.5 {
                Lane::new(pen, y, HIGH).bar((zero, to), bar.style);
            }
            let places: Vec<f64> = bar.days.iter().map(|v| self.axis.place(*v)).collect();
            if places.len() > 1 {
                hairs(pen, &places, y + HIGH, 5.0);
            }
        }
    }
}
