//! Rows of a name, something drawn, and words: side by side, or on a phone the drawing below its name and words.

use super::frame::Width;
use super::pen::{Anchor, Pen, Type};
use super::theme::Token;
use super::width::fitted;

/// Pixels of the line that carries name and words where they stand above.
const ABOVE: f64 = 19.0;
/// Between the drawing and the words beside it.
const ASIDE: f64 = 10.0;

/// Where rows lie.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Rows {
    /// Ends of what is drawn.
    pub(super) left: f64,
    pub(super) right: f64,
    /// From one row to the next.
    pub(super) each: f64,
    /// From the top of a row to the top of what is drawn in it.
    pub(super) below: f64,
    side: f64,
    edge: f64,
}

impl Rows {
    /// Rows with so many pixels for names, for words, and from row to row where they stand beside.
    pub(super) fn new(width: Width, names: f64, words: f64, each: f64) -> Self {
        let (side, edge) = (width.side(), width.px() - width.side());
        if width == Width::Phone {
            return Self {
                left: side + 20.0,
                right: edge - 20.0,
                each: each + ABOVE,
                below: ABOVE,
                side,
                edge,
            };
        }
        Self {
            left: side + names,
            right: edge - words,
            each,
            below: 0.0,
            side,
            edge,
        }
    }

    /// The top of a row, counted from the top of the first.
    pub(super) fn top(&self, row: usize) -> f64 {
        self.each * row as f64
    }

    /// Name and words of the row at `top`; `base` is where the words stand on, from the top of what is drawn.
    pub(super) fn label(
        &self,
        pen: &Pen<'_>,
        top: f64,
        base: f64,
        (name, how): (&str, Type),
        (words, told): (&str, Type),
    ) {
        if self.below > 0.0 {
            let y = top + ABOVE - 5.0;
            let words = fitted(words, told.size, told.weight, 0.62 * (self.edge - self.side));
            let taken = if words.is_empty() {
                0.0
            } else {
                told.width(&words) + 8.0
            };
            let room = self.edge - self.side - taken;
            let name = fitted(name, how.size, how.weight, room);
            let told = told.anchored(Anchor::End);
            for (words, x, how) in [(&name, self.side, how), (&words, self.edge, told)] {
                if !words.is_empty() {
                    pen.plated(words, (x, y), how, Token::Paper);
                }
            }
            return;
        }
        let y = top + base;
        let room = self.left - self.side - 8.0;
        pen.text(&fitted(name, how.size, how.weight, room), (self.side, y), how);
        let room = self.edge - self.right - ASIDE;
        pen.text(
            &fitted(words, told.size, told.weight, room),
            (self.right + ASIDE, y),
            told,
        );
    }
}
