//! How long the tanks of each alternative coat, and what the rest of their working time goes to, as one stacked bar for each.

use super::frame::Width;
use super::heading::Heading;
use super::key::Key;
use super::lanes::{self, Lane, Style};
use super::level::Level;
use super::pen::{Anchor, Pen, Type, picture};
use super::rows::Rows;
use super::spread::interval;
use super::svg::{Alt, Svg};
use super::theme::Token;
use tankday_base::print::{how_long, number};
use tankday_base::stats::MeanInterval;
use tankday_base::units::Span;
use tankday_study::Measure;

/// A bar: its name, and the mean of every figure.
pub struct Bar {
    /// What it is called.
    pub name: String,
    /// Time coating and time lost, in minutes a day, in the order of [`PARTS`].
    pub parts: [f64; 6],
    /// The 95 % interval of the time coating.
    pub sure: Option<(f64, f64)>,
}

impl Bar {
    /// One bar, from the means of its figures; what is not told counts as nothing.
    #[must_use]
    pub fn of(name: &str, mean: impl Fn(Measure) -> Option<MeanInterval>) -> Self {
        Self {
            name: name.to_owned(),
            parts: PARTS.map(|m| mean(m).map_or(0.0, |i| i.mean)),
            sure: mean(Measure::Coating).map(|i| (i.low(), i.high())),
        }
    }
}

/// The figures of the parts of a bar.
pub const PARTS: [Measure; 6] = [
    Measure::Coating,
    Measure::LostHeatUp,
    Measure::LostRecovery,
    Measure::LostCare,
    Measure::LostHands,
    Measure::LostPlaces,
];

/// How each part looks, and what it is called.
const LOOKS: [(Style, &str); 6] = [
    (lanes::COATING, "coating"),
    (lanes::upright(lanes::HEATING), "heat-up"),
    (lanes::upright(lanes::RECOVERING), "recovery"),
    (lanes::CARE, "care, filter stops"),
    (lanes::HANDS, "hands"),
    (lanes::upright(lanes::HOT), "waiting for a place before"),
];

const ROW: f64 = 32.0;
/// Height of a bar.
const HIGH: f64 = 22.0;
const NAME: f64 = 150.0;
/// Bars beyond this are left out.
const MOST_BARS: usize = 40;

/// Draws them.
#[must_use]
pub fn lost(bars: &[Bar], width: Width) -> Svg {
    let finding = finding(bars);
    let shown = bars.get(..bars.len().min(MOST_BARS)).unwrap_or_default();
    let place = format!(
        "minutes a day, all tanks that coat together{}",
        if shown.len() < bars.len() {
            "; the table lists the rest"
        } else {
            ""
        }
    );
    let heading = Heading::plain("Where the time of the tanks goes", &finding, &place, width);
    let key = Key::new(LOOKS, width);
    let top = heading.height() + key.height() + 20.0;
    let rows = Rows::new(width, NAME, 24.0, ROW);
    let sums = shown.iter().map(|b| b.parts.iter().sum::<f64>());
    let axis = Level::new(sums.chain([0.0]), rows.left, rows.right);
    let bottom = top + rows.top(shown.len()) + 4.0;
    let alt = Alt {
        id: "lost".to_owned(),
        title: "Where the time of the tanks goes".to_owned(),
        desc: format!(
            "One stacked bar for each of {} alternatives. {finding}",
            bars.len()
        ),
        finding,
    };
    picture((width.pixels(), (bottom + 30.0) as u32), alt, &heading, |pen| {
        key.draw(pen, heading.height() + 6.0);
        axis.draw(pen, top - 6.0, bottom);
        for (i, bar) in shown.iter().enumerate() {
            draw(pen, &axis, &rows, bar, top + rows.top(i));
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
            "{} loses most to {}: {} a day, beside {} of coating.",
            first.name,
            look.1,
            how_long(Span::minutes(*most)),
            how_long(Span::minutes(first.parts[0]))
        ),
        _ => format!("{} loses nothing.", first.name),
    }
}

fn draw(pen: &Pen<'_>, axis: &Level, rows: &Rows, bar: &Bar, top: f64) {
    let how = Type::note(Token::Ink);
    rows.label(pen, top, 15.0, (&bar.name, how), ("", how));
    let top = top + rows.below;
    let mut lane = Lane::new(pen, top, HIGH);
    let mut sum = 0.0;
    for (value, (style, _)) in bar.parts.iter().zip(LOOKS) {
        let (from, to) = (axis.place(sum), axis.place(sum + value));
        sum += value;
        if to - from < 0.5 {
            continue;
        }
        lane.bar((from, to), style);
        let words = number(*value, 0);
        let colour = match style.fill {
            Token::Coat => Token::OnCoat,
            Token::Hand => Token::OnHand,
            _ => Token::Ink,
        };
        let how = Type::note(colour).anchored(Anchor::Middle);
        if how.width(&words) + 8.0 <= to - from {
            pen.plated(&words, (0.5 * (from + to), top + 15.0), how, style.fill);
        }
    }
    if let Some((low, high)) = bar.sure {
        interval(pen, (axis.place(low), axis.place(high)), top + HIGH);
    }
}
