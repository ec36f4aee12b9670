//! What each alternative coats, and what each cause keeps it from coating, as one stacked bar for each.

use super::frame::{Heading, SIDE, Width};
use super::hatch::{Hatch, strokes};
use super::level::Level;
use super::pen::{Anchor, Pen, Type, picture};
use super::svg::{Alt, Svg};
use super::theme::Token;
use super::width::fitted;
use crate::print::number;
use crate::study::Measure;

/// A bar: its name, and the mean of every figure.
pub struct Bar {
    /// What it is called.
    pub name: String,
    /// Output and what was lost, in m2 a day, in the order of [`PARTS`].
    pub parts: [f64; 6],
}

/// The figures of the parts of a bar.
pub const PARTS: [Measure; 6] = [
    Measure::Area,
    Measure::LostHeatUp,
    Measure::LostRecovery,
    Measure::LostCare,
    Measure::LostHands,
    Measure::LostPlaces,
];

/// How a part looks: fill, edge, hatch, name.
type Look = (Token, Token, Hatch, &'static str);

const LOOKS: [Look; 6] = [
    (Token::Coat, Token::CoatE, Hatch::None, "coated"),
    (Token::Heat, Token::HeatE, Hatch::Rising(7.0), "heat-up"),
    (Token::Rec, Token::RecE, Hatch::Upright(4.0), "recovery"),
    (
        Token::Care,
        Token::CareE,
        Hatch::Crossed(13.0),
        "care, filter stops",
    ),
    (Token::Hand, Token::Hand, Hatch::None, "hands"),
    (
        Token::Wait,
        Token::WaitE,
        Hatch::None,
        "waiting for a place before",
    ),
];

const ROW: f64 = 30.0;
const NAME: f64 = 150.0;
/// Bars beyond this are left out.
const MOST_BARS: usize = 40;

/// Draws them.
#[must_use]
pub fn lost(bars: &[Bar], width: Width) -> Svg {
    let finding = finding(bars);
    let shown = bars.get(..bars.len().min(MOST_BARS)).unwrap_or_default();
    let place = format!(
        "m² a day: coated, and what the same tank would have coated at its own pace in the time that each cause took{}",
        if shown.len() < bars.len() {
            "; the table lists the rest"
        } else {
            ""
        }
    );
    let heading = Heading::plain("Output, and what it was lost to", &finding, &place, width);
    let top = heading.height() + 40.0;
    let (left, right) = (SIDE + NAME, width.px() - SIDE - 24.0);
    let sums = shown.iter().map(|b| b.parts.iter().sum::<f64>());
    let axis = Level::new(sums.chain([0.0]), left, right);
    let bottom = top + ROW * shown.len() as f64 + 4.0;
    let alt = Alt {
        id: "lost",
        title: "Output, and what it was lost to".to_owned(),
        desc: format!(
            "One stacked bar for each of {} alternatives. {finding}",
            bars.len()
        ),
    };
    picture((width.pixels(), (bottom + 30.0) as u32), &alt, |pen| {
        heading.draw(pen);
        key(pen, heading.height() + 14.0, width);
        axis.draw(pen, top - 6.0, bottom);
        for (i, bar) in shown.iter().enumerate() {
            draw(pen, &axis, bar, top + ROW * i as f64);
        }
    })
}

/// The largest loss of the first, and the change of it that is largest.
fn finding(bars: &[Bar]) -> String {
    let Some(first) = bars.first() else {
        return "Nothing to show.".to_owned();
    };
    let losses = || first.parts.iter().zip(LOOKS).skip(1);
    match losses().max_by(|a, b| a.0.total_cmp(b.0)) {
        Some((most, look)) if *most > 0.0 => format!(
            "{} loses most to {}: {} m² a day, beside {} coated.",
            first.name,
            look.3,
            number(*most, 2),
            number(first.parts[0], 2)
        ),
        _ => format!("{} loses nothing.", first.name),
    }
}

fn key(pen: &Pen<'_>, top: f64, width: Width) {
    let how = Type::note(Token::Ink2);
    let mut x = SIDE;
    for look in LOOKS {
        if x + 22.0 + how.width(look.3) > width.px() - SIDE {
            break;
        }
        part(pen, (x, top), (16.0, 12.0), look);
        pen.text(look.3, (x + 21.0, top + 10.5), how);
        x += 21.0 + how.width(look.3) + 14.0;
    }
}

fn draw(pen: &Pen<'_>, axis: &Level, bar: &Bar, top: f64) {
    let how = Type::note(Token::Ink);
    pen.text(
        &fitted(&bar.name, how.size, how.weight, NAME - 8.0),
        (SIDE, top + 15.0),
        how,
    );
    let mut sum = 0.0;
    for (value, look) in bar.parts.iter().zip(LOOKS) {
        let (from, to) = (axis.place(sum), axis.place(sum + value));
        sum += value;
        if to - from < 0.5 {
            continue;
        }
        part(pen, (from, top), (to - from, ROW - 8.0), look);
        let words = number(*value, 2);
        let colour = match look.0 {
            Token::Coat => Token::OnCoat,
            Token::Hand => Token::OnHand,
            _ => Token::Ink,
        };
        let how = Type::note(colour).anchored(Anchor::Middle);
        if how.width(&words) + 8.0 <= to - from {
            pen.plated(&words, (0.5 * (from + to), top + 15.0), how, look.0);
        }
    }
}

/// One piece of a bar; narrow ones in the colour of their edge alone.
fn part(pen: &Pen<'_>, (x, y): (f64, f64), (w, h): (f64, f64), (fill, edge, hatch, _): Look) {
    if w < 4.0 {
        pen.rect((x, y), (w, h), edge);
        return;
    }
    pen.rect((x, y), (w, h), fill);
    let shape = [(x, y), (x + w, y), (x + w, y + h), (x, y + h)];
    for (from, to) in strokes(&shape, hatch) {
        pen.line(from, to, edge, 1.1);
    }
    pen.outline(
        &[
            (x + 0.5, y + 0.5),
            (x + w - 0.5, y + 0.5),
            (x + w - 0.5, y + h - 0.5),
            (x + 0.5, y + h - 0.5),
        ],
        edge,
        1.0,
    );
}
