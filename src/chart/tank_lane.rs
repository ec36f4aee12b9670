//! Bars along the clock, and the lane of a tank with the names of its loads.

use super::clock_axis::ClockAxis;
use super::lanes::{self, Lane, Style};
use super::pen::{Anchor, Pen, Type};
use super::theme::Token;
use super::view::BathLine;
use tankday_base::units::Moment;
use tankday_record::TankState;

/// Draws bars in one lane.
pub(super) fn bars(
    pen: &Pen<'_>,
    axis: &ClockAxis,
    (top, height): (f64, f64),
    states: impl IntoIterator<Item = (Moment, Moment, Style)>,
) {
    let mut lane = Lane::new(pen, top, height);
    for (from, to, style) in states {
        for piece in axis.pieces(from, to) {
            lane.bar(piece, style);
        }
    }
}

/// The longest piece of a bar on the axis.
pub(super) fn longest(axis: &ClockAxis, from: Moment, to: Moment) -> Option<(f64, f64)> {
    let pieces = axis.pieces(from, to);
    pieces
        .into_iter()
        .max_by(|x, y| (x.1 - x.0).total_cmp(&(y.1 - y.0)))
}

/// The lane of a tank, with the names of its loads.
pub(super) fn draw_tank(pen: &Pen<'_>, axis: &ClockAxis, tank: &BathLine, top: f64, height: f64) {
    let states = tank.bars.iter().map(|b| (b.from, b.to, lanes::of_tank(b.state)));
    bars(pen, axis, (top, height), states);
    let mut free = f64::NEG_INFINITY;
    for (i, bar) in tank.bars.iter().enumerate() {
        let Some((a, b)) = longest(axis, bar.from, bar.to) else {
            continue;
        };
        let middle = ((a + b) / 2.0, top + height / 2.0 + 4.5);
        match (bar.state, &bar.load) {
            (TankState::Coating(_), Some(load)) => {
                let words = [13.0, 12.0].map(|size| {
                    let words = Type {
                        size,
                        ..Type::label(Token::OnCoat)
                    };
                    words.bold().anchored(Anchor::Middle)
                });
                if let Some(words) = words.into_iter().find(|w| w.width(load) + 1.0 <= b - a) {
                    pen.text(load, middle, words);
                } else if b + 3.0 >= free {
                    free = beside(pen, axis, load, (b + 3.0, top + 11.0), quiet_until(tank, i));
                }
            }
            (TankState::Care, _) => {
                let words = Type::note(Token::Ink).anchored(Anchor::Middle);
                let topped =
                    |(at, _): &(Moment, tankday_base::units::Volume)| bar.from <= *at && *at <= bar.to;
                let what = if tank.top_ups.iter().any(topped) {
                    "top up"
                } else {
                    "care"
                };
                if words.width(what) + 6.0 <= b - a {
                    pen.plated(what, middle, words, Token::Care);
                }
            }
            _ => {}
        }
    }
}

/// Until when nothing higher than a low bar follows a bar of a tank.
fn quiet_until(tank: &BathLine, bar: usize) -> Moment {
    let quiet = |b: &&super::view::TankBar| matches!(b.state, TankState::Waiting | TankState::Off);
    let after = tank.bars.iter().skip(bar + 1).take_while(quiet);
    after.last().map_or(Moment::ZERO, |b| b.to)
}

/// Writes the name of a load beside its bar if it is free there; the pixel from which on it is free again.
fn beside(pen: &Pen<'_>, axis: &ClockAxis, load: &str, at: (f64, f64), quiet: Moment) -> f64 {
    let words = Type::note(Token::Ink).bold();
    let end = at.0 + words.width(load);
    if end > axis.place(quiet) {
        return f64::NEG_INFINITY;
    }
    pen.text(load, at, words);
    end
}
