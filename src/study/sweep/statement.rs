//! What a sweep says, in the order in which it is read: the terminal, the page and the pictures all begin with the first.

use super::left_over::left_over_statements;
use super::turn::{Curve, least};
use super::{Sweep, best_cells, edge_statements, idle_statements, turning};
use crate::Measure;

/// What is said where [`statements`] has nothing to say.
pub const NOTHING_TURNS: &str =
    "Nothing turns: no figure has a best place inside, or stops gaining, by more than its noise.";

/// A sentence or two, and the figures that they are about.
#[derive(Debug, Clone, PartialEq)]
pub struct Statement {
    /// The figures.
    pub measures: Vec<Measure>,
    /// In words.
    pub text: String,
}

/// Where orders aren't finished, then where the figures that matter turn, then the best points, then what is best at the edge of what was tried; empty where
/// no figure turns.
#[must_use]
pub fn statements(sweep: &Sweep) -> Vec<Statement> {
    let judged = |m: Measure| m.is_headline() || m == Measure::LateOrders;
    let one = |measure, text| Statement {
        measures: vec![measure],
        text,
    };
    let turns = Measure::ALL.iter().filter(|m| judged(**m));
    let turns = turns.filter_map(|m| turning(sweep, *m));
    let cells = best_cells(sweep).into_iter().filter(|b| b.measure.is_headline());
    left_over_statements(sweep)
        .into_iter()
        .chain(turns.map(|t| one(t.measure, t.text)))
        .chain(cells.map(|b| one(b.measure, b.text)))
        .chain(edge_statements(sweep, judged))
        .chain(idle_statements(sweep, judged))
        .collect()
}

/// What a figure does over the values tried.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Change {
    /// It is the same at every value, on every simulated day.
    None,
    /// It changes by no more than noise or a trifle: see [`turning`].
    Noise,
    /// It changes.
    Real,
}

/// What a figure does over the values tried; none where not every point that can be has it.
///
/// Every point is held against the one with the least mean and the one with the largest. Where each value has one simulated
/// day only, nobody knows its noise: any change counts as real.
#[must_use]
pub fn change(sweep: &Sweep, measure: Measure) -> Option<Change> {
    let curve = Curve::of(sweep, measure)?;
    let first = curve.columns.first()?;
    if curve.columns.iter().all(|c| c == first) {
        return Some(Change::None);
    }
    if first.len() < 2 {
        return Some(Change::Real);
    }
    let means = curve.means();
    let ends = [1.0, -1.0].map(|sign| least(&means, sign));
    let apart = |i: usize| ends.iter().flatten().any(|end| curve.differs(i, *end, &means));
    let real = (0..means.len()).any(apart);
    Some(if real { Change::Real } else { Change::Noise })
}
