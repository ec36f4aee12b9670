//! What sets the end of the day: what each stretch waited for, along the clock and as sums, and what would help.

use super::bars::{Bar, Bars};
use super::clock_axis::{Clock, ClockAxis};
use super::frame::{BEYOND, Frame, Width};
use super::heading::Heading;
use super::lanes::{self, Lane, Style};
use super::pen::{Anchor, Pen, Type, picture};
use super::signs::pointer;
use super::spread::{dots, hairs, heap};
use super::svg::{Alt, Svg};
use super::theme::Token;
use super::view::{DayView, EndCause, EndPiece, EndView};
use super::words;
use tankday_base::print::minutes;
use tankday_base::stats::{QuantileRule, quantile};
use tankday_base::units::Span;
use tankday_record::Cause;

/// Height of the strip, of the days' ends below it, and of a line of words above bars.
const STRIP: f64 = 30.0;
const ENDS: f64 = 58.0;
const WORDS: f64 = 30.0;
/// Stretches shorter than this, or narrower than so many pixels, are drawn as part of a neighbour.
const SHORT: Span = Span::whole_minutes(5);
const NARROW: f64 = 5.0;
/// Causes and easings beyond these are left out.
const MOST_CAUSES: usize = 14;
const MOST_GAINS: usize = 6;

/// Draws it; none if nothing was ready after the opening.
#[must_use]
pub fn sets_the_end(view: &DayView, width: Width) -> Option<Svg> {
    let end = view.end.as_ref()?;
    let finding = finding(end);
    let heading = Heading::new("What sets the end?", &finding, view, width);
    let days = view.days_with(end.ends.iter().copied());
    let clock = Clock::widened(&days, view);
    let side = width.side();
    let axis = ClockAxis::new(clock, side + 20.0, width.px() - side - BEYOND);
    let top = heading.height() + Frame::room_above(clock);
    let ends = if end.ends.len() > 1 { ENDS } else { 0.0 };
    let bottom = top + STRIP + 12.0 + ends;
    let sheet = Sheet {
        end,
        frame: Frame {
            clock,
            axis,
            top,
            bottom,
        },
        causes: causes(end, width),
        gains: gains(end, width),
        side,
        foot: bottom + Frame::room_below(clock) + 8.0,
    };
    let alt = Alt {
        id: "sets-the-end".to_owned(),
        title: "What sets the end?".to_owned(),
        desc: desc(end),
        finding,
    };
    let height = sheet.height().ceil() as u32;
    Some(picture((width.pixels(), height), alt, &heading, |pen| {
        sheet.draw(pen)
    }))
}

struct Sheet<'v> {
    end: &'v EndView,
    frame: Frame<'v>,
    causes: Bars,
    gains: Option<Bars>,
    side: f64,
    /// Where the bars begin.
    foot: f64,
}

impl Sheet<'_> {
    fn height(&self) -> f64 {
        let gains = self.gains.as_ref().map_or(0.0, |g| WORDS + 8.0 + g.height());
        self.foot + WORDS + self.causes.height() + gains + 8.0
    }

    fn draw(&self, pen: &Pen<'_>) {
        self.frame.breaks(pen);
        self.frame.grid(pen);
        self.frame.times(pen);
        self.frame.closing(pen);
        self.strip(pen);
        if self.end.ends.len() > 1 {
            self.ends(pen);
        }
        let how = Type::label(Token::Ink).bold();
        let words = "minutes by what they went into";
        pen.text(words, (self.side, self.foot + 16.0), how);
        self.causes.draw(pen, self.foot + WORDS);
        if let Some(gains) = &self.gains {
            let y = self.foot + WORDS + self.causes.height() + 8.0;
            pen.text("minutes gained, if", (self.side, y + 16.0), how);
            gains.draw(pen, y + WORDS);
        }
    }

    /// The stretches along the clock, each with its load or its cause if that fits.
    fn strip(&self, pen: &Pen<'_>) {
        let axis = &self.frame.axis;
        let top = self.frame.top + 6.0;
        let mut lane = Lane::new(pen, top, STRIP);
        for piece in joined(&self.end.pieces, axis) {
            let Some(cause) = self.end.causes.get(piece.cause) else {
                continue;
            };
            let style = style(cause);
            for (a, b) in axis.pieces(piece.from, piece.to) {
                lane.bar((a, b), style);
                let colour = match style.fill {
                    Token::Coat => Token::OnCoat,
                    Token::Hand => Token::OnHand,
                    _ => Token::Ink,
                };
                let how = Type::note(colour).anchored(Anchor::Middle);
                let idle = matches!(cause.cause, Cause::Break | Cause::NotThere | Cause::Closed);
                let load = piece.load.as_deref().filter(|_| !idle).unwrap_or_default();
                let names = [cause.words.as_str(), load];
                let fits = |n: &&&str| !n.is_empty() && how.width(n) + 8.0 <= b - a;
                if let Some(name) = names.iter().find(fits) {
                    pen.plated(name, ((a + b) / 2.0, top + STRIP / 2.0 + 4.5), how, style.fill);
                }
            }
        }
    }

    /// The end on every day reckoned.
    fn ends(&self, pen: &Pen<'_>) {
        let axis = &self.frame.axis;
        let y = self.frame.top + STRIP + 46.0;
        let (a, b) = axis.ends();
        pen.line((a, y), (b, y), Token::Axis, 1.0);
        let places: Vec<f64> = self.end.ends.iter().map(|at| axis.place(*at)).collect();
        hairs(pen, &places, y + 1.0, 7.0);
        heap(pen, &dots(&places), y - 4.0, 20.0);
        for (share, filled) in [(0.9, false), (0.5, true)] {
            if let Some(x) = quantile(&places, share, QuantileRule::Smallest) {
                pointer(pen, (x, y + 9.0), filled);
            }
        }
        let words = format!("end on {} {}", self.end.ends.len(), self.end.each.many());
        let how = Type::note(Token::Ink2);
        let first = places.iter().copied().fold(f64::INFINITY, f64::min);
        if a + how.width(&words) + 12.0 < first {
            pen.plated(&words, (a, y - 5.0), how, Token::Paper);
        }
    }
}

/// Stretches that are too short to be seen join the longer of their neighbours.
fn joined(pieces: &[EndPiece], axis: &ClockAxis) -> Vec<EndPiece> {
    let mut joined: Vec<EndPiece> = pieces.to_vec();
    let wide = |p: &EndPiece| axis.place(p.to) - axis.place(p.from);
    let short = |p: &EndPiece| p.to - p.from < SHORT || wide(p) < NARROW;
    while joined.len() > 1 {
        let shortest = (0..joined.len()).min_by_key(|i| joined.get(*i).map(|p| p.to - p.from));
        let Some(i) = shortest.filter(|i| joined.get(*i).is_some_and(short)) else {
            break;
        };
        let gone = joined.remove(i);
        let before = i.checked_sub(1);
        let span = |i: Option<usize>| {
            i.and_then(|i| joined.get(i))
                .map_or(Span::ZERO, |p| p.to - p.from)
        };
        let into = if span(before) >= span(Some(i)) {
            before
        } else {
            Some(i)
        };
        if let Some(piece) = into.and_then(|i| joined.get_mut(i)) {
            piece.from = piece.from.min(gone.from);
            piece.to = piece.to.max(gone.to);
        }
    }
    joined
}

/// How a cause looks: as the state that it is.
fn style(cause: &EndCause) -> Style {
    match &cause.cause {
        Cause::HeatUp => lanes::upright(lanes::HEATING),
        Cause::Recovery => lanes::upright(lanes::RECOVERING),
        Cause::Dwell => lanes::COATING,
        Cause::PutInTakeOut => lanes::HANDS,
        Cause::Work(_) if cause.alone => lanes::BY_ITSELF,
        Cause::Work(_) => lanes::IN_HAND,
        Cause::TopUp | Cause::Care => lanes::CARE,
        Cause::Hands | Cause::Place(_) => lanes::HELD_UP,
        Cause::Company | Cause::KeptBack | Cause::NotThere => lanes::upright(lanes::HOT),
        Cause::Break | Cause::Closed => lanes::BREAK,
    }
}

/// Causes that somebody could do something about, or rest in: not closed hours, nor the time before the order came.
fn worked(end: &EndView) -> impl Iterator<Item = &EndCause> {
    let idle = |c: &EndCause| matches!(c.cause, Cause::Closed | Cause::NotThere);
    end.causes.iter().filter(move |c| !idle(c))
}

/// Minutes by cause.
fn causes(end: &EndView, width: Width) -> Bars {
    let bar = |cause: &EndCause| Bar {
        name: cause.words.clone(),
        value: cause.span.in_minutes(),
        words: words::minutes(cause.span),
        style: style(cause),
        days: Vec::new(),
    };
    let bars = worked(end).take(MOST_CAUSES).map(bar).collect();
    Bars::new(bars, longest(end).in_minutes(), width)
}

/// What the longest bar of causes and gains stands for: both are drawn on one scale.
fn longest(end: &EndView) -> Span {
    let gains = end.gains.iter().take(MOST_GAINS).map(gained);
    worked(end)
        .map(|c| c.span)
        .chain(gains)
        .max()
        .unwrap_or(Span::ZERO)
}

/// What an easing gains first: less lateness, or else an earlier end.
fn gained(gain: &super::view::EndGain) -> Span {
    if gain.less_late > Span::ZERO {
        gain.less_late
    } else {
        gain.earlier
    }
}

/// What would help, on the scale of the causes.
fn gains(end: &EndView, width: Width) -> Option<Bars> {
    let bar = |gain: &super::view::EndGain| Bar {
        name: gain.words.clone(),
        value: gained(gain).in_minutes(),
        words: match (gain.more_orders, minutes(gain.less_late), minutes(gain.earlier)) {
            (0, 0, 0) => "nothing".to_owned(),
            (0, 0, _) => format!("{} earlier", words::minutes(gain.earlier)),
            (0, ..) => format!("{} less late", words::minutes(gain.less_late)),
            (n, ..) => format!("{} more ready", words::count(n as usize, "order", "orders")),
        },
        style: lanes::upright(lanes::HOT),
        days: Vec::new(),
    };
    let bars: Vec<Bar> = end.gains.iter().take(MOST_GAINS).map(bar).collect();
    (!bars.is_empty()).then(|| Bars::new(bars, longest(end).in_minutes(), width))
}

/// The largest cause and the largest gain.
fn finding(end: &EndView) -> String {
    let whole: Span = worked(end).map(|c| c.span).sum();
    let from = if whole < end.to - end.from {
        "once the order is there, closed hours left out"
    } else {
        "from opening to the end"
    };
    let first = worked(end).next().map_or_else(String::new, |cause| {
        let (whole, span) = (words::minutes(whole), words::minutes(cause.span));
        format!("Of {whole} {from}, {span} go into {}.", cause.words)
    });
    let helps = match end.gains.first() {
        Some(gain) if gain.more_orders > 0 => {
            let orders = words::count(gain.more_orders as usize, "more order", "more orders");
            format!(" With {}, {orders} will be finished.", gain.words)
        }
        Some(gain) if gain.less_late > Span::ZERO => {
            let by = words::minutes(gain.less_late);
            format!(" With {}, orders are {by} less late in all.", gain.words)
        }
        Some(gain) if gain.earlier > Span::ZERO => {
            format!(
                " With {}, the end is {} earlier.",
                gain.words,
                words::minutes(gain.earlier)
            )
        }
        Some(_) => " No single easing moves it.".to_owned(),
        None => String::new(),
    };
    format!("{first}{helps}")
}

fn desc(end: &EndView) -> String {
    let causes: Vec<String> = end
        .causes
        .iter()
        .take(MOST_CAUSES)
        .map(|c| format!("{} {}", c.words, words::minutes(c.span)))
        .collect();
    let gains: Vec<String> = end
        .gains
        .iter()
        .take(3)
        .map(|g| format!("{} {}", g.words, words::minutes(gained(g))))
        .collect();
    let whole = words::minutes(end.to - end.from);
    let helps = if gains.is_empty() {
        String::new()
    } else {
        format!(" Gained, if: {}.", gains.join(", "))
    };
    format!(
        "The {whole} from opening to the end, divided by what they wait for: {}.{helps}",
        causes.join(", ")
    )
}
