//! What all pictures against the clock share: widths, clock, breaks, closing, words at the foot.

use super::clock_axis::{Clock, ClockAxis, Level, date};
use super::pen::{Anchor, Pen, Type};
use super::theme::Token;
use super::view::DayHours;

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

/// Of more days than this closing is a thin line, and the hours are told once.
const FEW: usize = 3;
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
        if self.clock.days.len() > 1 {
            self.dates(pen);
        }
    }

    /// The date of each day above its hours, as long as there is room; in the row of the times if there are none.
    fn dates(&self, pen: &Pen<'_>) {
        let words = Type::note(Token::Ink).bold();
        let lift = if self.axis.writes_dates_above() {
            28.0
        } else {
            10.0
        };
        let mut free = f64::NEG_INFINITY;
        for day in self.clock.days {
            let x = self.axis.place(day.open);
            let name = date(self.clock.calendar, day.open);
            let end = x + words.width(&name);
            if x >= free && end <= self.axis.ends().1 + BEYOND {
                pen.text(&name, (x, self.top - lift), words);
                free = end + 8.0;
            }
        }
    }

    /// Closing lines, and the words at the foot.
    pub(super) fn closing(&self, pen: &Pen<'_>) {
        // Of many days only the hours are told; thick lines would hide what they bound.
        let many = self.clock.days.len() > FEW;
        let (colour, width) = if many {
            (Token::Axis, 1.0)
        } else {
            (Token::Ink, 2.0)
        };
        for day in self.clock.days {
            if let Some(close) = day.close {
                let x = self.axis.place(close);
                pen.line((x, self.top - 3.0), (x, self.bottom), colour, width);
            }
        }
        let mut foot = Foot::new(pen, self.bottom + 16.0, self.axis.ends().1);
        let mut over = Foot::new(pen, self.bottom + 32.0, self.axis.ends().1);
        if let Some(hours) = self.each_day().filter(|_| many) {
            foot.word(&hours, self.axis.ends().0, Anchor::Start, Token::Ink2);
        }
        for day in self.clock.days {
            if !many {
                self.hours(&mut foot, day);
            }
            if let Some((to, minutes)) = self.clock.over_by(day) {
                let words = format!("{}, {minutes:.0} min over", to.clock());
                over.word(&words, self.axis.place(to), Anchor::Middle, Token::Late);
            }
        }
    }

    /// Opening, breaks and closing of one day.
    fn hours(&self, foot: &mut Foot<'_, '_>, day: &DayHours) {
        let open = self.axis.place(day.open);
        let words = format!("open {}", day.open.clock());
        foot.word(&words, open, Anchor::Start, Token::Ink2);
        for (from, to) in &day.breaks {
            let (a, b) = (self.axis.place(*from), self.axis.place(*to));
            if b - a >= 30.0 {
                foot.word("break", (a + b) / 2.0, Anchor::Middle, Token::Ink2);
            }
        }
        if let Some(close) = day.close {
            let words = format!("closing {}", close.clock());
            foot.word(&words, self.axis.place(close), Anchor::End, Token::Ink);
        }
    }

    /// The hours of all days, if they are the same.
    fn each_day(&self) -> Option<String> {
        let clock = |day: &DayHours| Some((day.open.clock(), day.close?.clock()));
        let first = clock(self.clock.days.first()?)?;
        let same = self
            .clock
            .days
            .iter()
            .all(|day| clock(day).as_ref() == Some(&first));
        same.then(|| format!("each day open {} to {}", first.0, first.1))
    }

    /// Pixels that the words at the foot need.
    pub(super) fn room_below(clock: Clock<'_>) -> f64 {
        let over = clock.days.iter().any(|day| clock.over_by(day).is_some());
        if over { 40.0 } else { 24.0 }
    }
}

/// No word at the foot begins before this pixel.
const LEAST: f64 = 4.0;

/// A row of words from left to right; one that has no room is left out.
struct Foot<'p, 'a> {
    pen: &'p Pen<'a>,
    y: f64,
    free: f64,
    end: f64,
}

impl<'p, 'a> Foot<'p, 'a> {
    fn new(pen: &'p Pen<'a>, y: f64, end: f64) -> Self {
        Self {
            pen,
            y,
            free: f64::NEG_INFINITY,
            end: end + BEYOND,
        }
    }

    fn word(&mut self, text: &str, x: f64, anchor: Anchor, colour: Token) {
        let how = Type::note(colour);
        let wide = how.width(text);
        let left = match anchor {
            Anchor::Start => x,
            Anchor::Middle => x - wide / 2.0,
            Anchor::End => x - wide,
        };
        // Words that would leave the picture begin where it begins, or end where it ends.
        let (left, x, anchor) = if left < LEAST {
            (LEAST, LEAST, Anchor::Start)
        } else if left + wide > self.end {
            (self.end - wide, self.end, Anchor::End)
        } else {
            (left, x, anchor)
        };
        if left < self.free {
            return;
        }
        self.pen.text(text, (x, self.y), how.anchored(anchor));
        self.free = left + wide + 8.0;
    }
}
