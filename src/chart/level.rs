//! An axis of values from left to right.

use super::pen::{Anchor, Pen, Type};
use super::theme::Token;

/// Pixels for one written value.
const EACH: f64 = 70.0;
/// The same up the side.
const UPRIGHT: f64 = 36.0;

/// Values between two pixels.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Level {
    pub(super) left: f64,
    pub(super) right: f64,
    low: f64,
    high: f64,
    ticks: Vec<f64>,
    decimals: usize,
}

impl Level {
    /// An axis that holds all values, with round ticks. Values that are not finite do not count.
    pub(super) fn new(values: impl Iterator<Item = f64>, left: f64, right: f64) -> Self {
        let (mut low, mut high, mut whole) = (f64::INFINITY, f64::NEG_INFINITY, true);
        for value in values.filter(|v| v.is_finite()) {
            low = low.min(value);
            high = high.max(value);
            whole &= value.fract() == 0.0;
        }
        if low > high {
            (low, high) = (0.0, 1.0);
        }
        let least = (low.abs().max(high.abs()) * 1e-6).max(1e-9);
        if high - low < least {
            (low, high) = from_nothing(0.5 * (low + high));
        }
        let each = if right < left { UPRIGHT } else { EACH };
        let count = ((right - left).abs() / each).clamp(1.0, 10.0);
        // Of counts there are no halves.
        let least = if whole { 1.0 } else { 0.0 };
        let (step, decimals) = match round_step(((high - low) / count).max(least)) {
            (step, _) if whole && step.fract() > 0.0 => (2.0 * step, 0),
            found => found,
        };
        let first = (low / step).ceil();
        let ticks = (0..=20)
            .map(|i| (first + f64::from(i)) * step)
            .take_while(|v| *v <= high + 1e-9 * step);
        let ticks = ticks.collect();
        Self {
            left,
            right,
            low,
            high,
            ticks,
            decimals,
        }
    }

    /// The pixel of a value.
    pub(super) fn place(&self, value: f64) -> f64 {
        let share = (value - self.low) / (self.high - self.low);
        self.left + share.clamp(0.0, 1.0) * (self.right - self.left)
    }

    /// Every written value, and how it is written.
    pub(super) fn written(&self) -> impl Iterator<Item = (f64, String)> + '_ {
        self.ticks
            .iter()
            .map(|tick| (*tick, tankday_base::print::number(*tick, self.decimals)))
    }

    /// Whether a value lies on it.
    pub(super) fn holds(&self, value: f64) -> bool {
        (self.low..=self.high).contains(&value)
    }

    /// The line at `y` with ticks and values below it, and grid lines up to `top`.
    pub(super) fn draw(&self, pen: &Pen<'_>, top: f64, y: f64) {
        for tick in &self.ticks {
            pen.line((self.place(*tick), top), (self.place(*tick), y), Token::Grid, 1.0);
        }
        pen.line((self.left, y), (self.right, y), Token::Axis, 1.0);
        let words = Type::note(Token::Ink2).anchored(Anchor::Middle);
        for tick in &self.ticks {
            let x = self.place(*tick);
            pen.line((x, y), (x, y + 4.0), Token::Axis, 1.0);
            pen.text(
                &tankday_base::print::number(*tick, self.decimals),
                (x, y + 17.0),
                words,
            );
        }
    }
}

impl Level {
    /// The same axis upright: its left is the foot, its right the top. Grid lines go from `left` to `right`.
    pub(super) fn draw_up(&self, pen: &Pen<'_>, (left, right): (f64, f64)) {
        let words = Type::note(Token::Ink2).anchored(Anchor::End);
        for tick in &self.ticks {
            let y = self.place(*tick);
            pen.line((left, y), (right, y), Token::Grid, 1.0);
            pen.text(
                &tankday_base::print::number(*tick, self.decimals),
                (left - 7.0, y + 4.5),
                words,
            );
        }
    }
}

/// The ends of an axis on which there is one value: from nothing to it; from nothing to one where it is nothing.
fn from_nothing(value: f64) -> (f64, f64) {
    if value.abs() < 1e-6 {
        (0.0, 1.0)
    } else {
        (value.min(0.0), value.max(0.0))
    }
}

/// The first of 1, 2, 2.5 or 5 times a power of ten that is at least this, and the decimals that it needs.
fn round_step(least: f64) -> (f64, usize) {
    let mut power = 1e-9;
    let mut exponent = -9i32;
    while power * 10.0 < least && exponent < 15 {
        power *= 10.0;
        exponent += 1;
    }
    let factor = [1.0, 2.0, 2.5, 5.0, 10.0]
        .into_iter()
        .find(|f| f * power >= least)
        .unwrap_or(10.0);
    let extra = i32::from(factor == 2.5) - i32::from(factor == 10.0);
    (
        factor * power,
        usize::try_from(extra - exponent).unwrap_or(0).min(9),
    )
}

#[cfg(test)]
mod tests {
    use super::{Level, round_step};

    #[test]
    fn ticks_are_round_and_inside() {
        let axis = Level::new([3.2, 96.0].into_iter(), 0.0, 500.0);
        assert_eq!(axis.ticks, [20.0, 40.0, 60.0, 80.0]);
        assert_eq!((axis.place(3.2), axis.place(96.0)), (0.0, 500.0));
        assert_eq!(round_step(0.03), (0.05, 2));
        assert_eq!(round_step(0.021).1, 3);
        assert_eq!(round_step(7.0), (10.0, 0));
    }

    #[test]
    fn one_value_or_none_has_an_axis_too() {
        for values in [vec![], vec![5.0], vec![0.0, 0.0], vec![f64::NAN, 1e12]] {
            let axis = Level::new(values.into_iter(), 0.0, 300.0);
            assert!(axis.place(5.0).is_finite() && axis.high > axis.low);
        }
        let written = |value: f64| -> Vec<String> {
            let axis = Level::new([value, value].into_iter(), 0.0, 300.0);
            axis.written().map(|(_, text)| text).collect()
        };
        assert_eq!(written(0.0), ["0", "1"]);
        assert_eq!(written(3.0), ["0", "1", "2", "3"]);
        assert_eq!(written(-0.25), ["-0.2", "-0.1", "0.0"]);
    }
}
