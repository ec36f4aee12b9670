//! What all pictures against the clock share: widths, clock, breaks, closing, words at the foot.

use super::clock_axis::{Clock, ClockAxis, Level, date};
use super::pen::{Anchor, Pen, Type};
use super::theme::Token;

/// For which width a picture is laid out. It is laid out anew for each, not shrunk.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Width {
    /// 336 px: a phone held upright.
    Phone,
    /// 720 px: a page.
    Page,
    /// 1080 px: a wide screen.
    Wide,
}

impl Width {
    /// All of them, the narrowest first.
    pub const ALL: [Self; 3] = [Self::Phone, Self::Page, Self::Wide];

    /// In pixels.
    #[must_use]
    pub const fn pixels(self) -> u32 {
        match self {
            Self::Phone => 336,
            Self::Page => 720,
            Self::Wide => 1080,
        }
    }

    pub(super) fn px(self) -> f64 {
        f64::from(self.pixels())
    }

    /// Pixels left free at either side.
    pub(super) const fn side(self) -> f64 {
        match self {
            Self::Phone => 6.0,
            Self::Page | Self::Wide => 18.0,
        }
    }
}

/// Pixels beyond the ends of a clock axis: half of a written time.
pub(super) const BEYOND: f64 = 22.0;

/// The clock above and through a picture.
pub(super) struct Frame<'v> {
    pub(super) clock: Clock<'v>,
    pub(super) axis: ClockAxis,
    /// Pixel of the axis line.
    pub(super) top: f64,
    /// Where grid and closing lines end.
    pub(super) bottom: f64,
}

impl Frame<'_> {
    /// Pixels that the written times need above the axis line.
    pub(super) fn room_above(clock: Clock<'_>) -> f64 {
        if clock.days.len() > 1 { 44.0 } else { 26.0 }
    }

    /// Breaks, under everything.
    pub(super) fn breaks(&self, pen: &Pen<'_>) {
        for (from, to) in self.clock.days.iter().flat_map(|d| &d.breaks) {
            for (a, b) in self.axis.pieces(*from, *to) {
                pen.rect((a, self.top), (b - a, self.bottom - self.top), Token::Panel);
            }
        }
    }

    /// Grid lines at hours.
    pub(super) fn grid(&self, pen: &Pen<'_>) {
        for (level, width) in [(Level::Hour, 1.0), (Level::Midnight, 2.0)] {
            for tick in self.axis.ticks().iter().filter(|t| t.grid && t.level == level) {
                pen.line((tick.at, self.top), (tick.at, self.bottom), Token::Grid, width);
            }
        }
    }

    /// The axis line with its ticks and written times.
    pub(super) fn times(&self, pen: &Pen<'_>) {
        for stretch in self.axis.stretches() {
            pen.line(
                (stretch.at.0, self.top),
                (stretch.at.1, self.top),
                Token::Axis,
                1.0,
            );
        }
        for tick in self.axis.ticks() {
            let length = match tick.level {
                Level::Quarter => 2.5,
                Level::Half => 4.0,
                Level::Hour | Level::Midnight => 6.0,
            };
            pen.line(
                (tick.at, self.top - length),
                (tick.at, self.top),
                Token::Axis,
                1.0,
            );
        }
        let words = Type::note(Token::Ink2).anchored(Anchor::Middle);
        for tick in self.axis.ticks() {
            if let Some(label) = &tick.label {
                pen.text(label, (tick.at, self.top - 10.0), words);
            }
        }
        if self.clock.days.len() > 1 && self.axis.writes_dates_above() {
            self.dates(pen);
        }
    }

    /// The date of each day above its hours, as long as there is room.
    fn dates(&self, pen: &Pen<'_>) {
        let words = Type::note(Token::Ink).bold();
        let mut free = f64::NEG_INFINITY;
        for day in self.clock.days {
            let x = self.axis.place(day.open);
            let name = date(self.clock.calendar, day.open);
            if x >= free {
                pen.text(&name, (x, self.top - 28.0), words);
                free = x + words.width(&name) + 8.0;
            }
        }
    }

    /// Closing lines, and the words at the foot.
    pub(super) fn closing(&self, pen: &Pen<'_>) {
        let mut foot = Foot {
            pen,
            y: self.bottom + 16.0,
            free: f64::NEG_INFINITY,
            end: self.axis.ends().1 + BEYOND,
        };
        for day in self.clock.days {
            if let Some(close) = day.close {
                let x = self.axis.place(close);
                pen.line((x, self.top - 3.0), (x, self.bottom), Token::Ink, 2.0);
            }
        }
        let mut over = Foot {
            pen,
            y: self.bottom + 32.0,
            free: f64::NEG_INFINITY,
            end: self.axis.ends().1 + BEYOND,
        };
        for day in self.clock.days {
            let open = self.axis.place(day.open);
            foot.word(
                &format!("open {}", day.open.clock()),
                open,
                Anchor::Start,
                Token::Ink2,
            );
            for (from, to) in &day.breaks {
                let (a, b) = (self.axis.place(*from), self.axis.place(*to));
                if b - a >= 30.0 {
                    foot.word("break", (a + b) / 2.0, Anchor::Middle, Token::Ink2);
                }
            }
            if let Some(close) = day.close {
                let x = self.axis.place(close);
                foot.word(&format!("closing {}", close.clock()), x, Anchor::End, Token::Ink);
                let minutes = (day.to - close).in_minutes();
                if minutes >= 1.0 {
                    let words = format!("{}, {minutes:.0} min over", day.to.clock());
                    over.word(&words, self.axis.place(day.to), Anchor::Middle, Token::Late);
                }
            }
        }
    }

    /// Pixels that the words at the foot need.
    pub(super) fn room_below(clock: Clock<'_>) -> f64 {
        let over = clock
            .days
            .iter()
            .any(|d| d.close.is_some_and(|close| (d.to - close).in_minutes() >= 1.0));
        if over { 40.0 } else { 24.0 }
    }
}

/// A row of words from left to right; one that has no room is left out.
struct Foot<'p, 'a> {
    pen: &'p Pen<'a>,
    y: f64,
    free: f64,
    end: f64,
}

impl Foot<'_, '_> {
    fn word(&mut self, text: &str, x: f64, anchor: Anchor, colour: Token) {
        let how = Type::note(colour);
        let wide = how.width(text);
        let left = match anchor {
            Anchor::Start => x,
            Anchor::Middle => x - wide / 2.0,
            Anchor::End => x - wide,
        };
        if left < self.free {
            return;
        }
        // Words that would leave the picture end where it ends.
        if left + wide > self.end {
            self.pen.text(text, (self.end, self.y), how.anchored(Anchor::End));
        } else {
            self.pen.text(text, (x, self.y), how.anchored(anchor));
        }
        self.free = left + wide + 8.0;
    }
}
