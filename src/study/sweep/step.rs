//! A curve that steps: flat on both sides of one gap between two of the values tried. No curve is laid through it, and no
//! interval around it.

use super::turn::{Curve, least};
use super::{Form, Kind, Turning, why};
use crate::{Better, Measure};
use tankday_base::stats::mean;

/// The one pair of neighbours between which a curve steps.
pub(super) struct Step {
    /// The last point before the step, and the first behind it.
    between: [f64; 2],
    /// The levels before and behind.
    levels: [f64; 2],
}

impl Step {
    /// A step: one pair of neighbours differs, and on either side of it every point is alike.
    pub(super) fn of(curve: &Curve, means: &[f64]) -> Option<Self> {
        let differs = |i: &usize| curve.differs(*i - 1, *i, means);
        let mut steps = (1..means.len()).filter(differs);
        let (at, None) = (steps.next()?, steps.next()) else {
            return None;
        };
        let level = |from: usize, to: usize| -> Option<f64> {
            let side = means.get(from..to)?;
            let ends = [1.0, -1.0].map(|sign| least(side, sign).map(|i| i + from));
            let [Some(low), Some(high)] = ends else {
                return None;
            };
            (!curve.differs(low, high, means)).then(|| mean(side)).flatten()
        };
        Some(Self {
            between: [*curve.at.get(at - 1)?, *curve.at.get(at)?],
            levels: [level(0, at)?, level(at, means.len())?],
        })
    }

    /// As a turning point, on the side on which the figure is better.
    pub(super) fn told(&self, (measure, form): (Measure, &Form)) -> Turning {
        let [low, high] = self.between;
        let rises = self.levels[1] > self.levels[0];
        Turning {
            measure,
            kind: Kind::Step,
            at: if rises == (measure.better() == Better::Lower) {
                low
            } else {
                high
            },
            low,
            high,
            text: why::step(measure, (self.between, self.levels), form),
        }
    }
}
