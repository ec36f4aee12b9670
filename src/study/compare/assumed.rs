//! What a comparison hangs on: the same alternatives under the same luck, something taken otherwise.

use super::rank::DECIDING;
use super::{Comparison, Difference, Finding, leaning};
use crate::Measure;

/// One thing taken otherwise in all alternatives.
#[derive(Debug, Clone, PartialEq)]
pub struct Assumption {
    /// What, in words or as it was typed.
    pub words: String,
    /// As it was typed.
    pub typed: String,
    /// How the alternatives compare then; why they cannot, where they cannot be.
    pub outcome: Result<Comparison, String>,
}

/// What a comparison says of one alternative against the first.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Leaning {
    /// Take it.
    Take,
    /// Stay with the first.
    Stay,
    /// No difference that matters is larger than its noise.
    Same,
}

impl Assumption {
    /// Whether the answer about one alternative is another than usually; none where the alternatives cannot be.
    #[must_use]
    pub fn turns(&self, usual: &Comparison, alternative: usize) -> Option<bool> {
        let here = self.outcome.as_ref().ok()?;
        Some(leaning(here, alternative) != leaning(usual, alternative))
    }
}

/// The two figures that tell most of one alternative: the first that decides, and the next that differs.
#[must_use]
pub fn telling(usual: &Comparison, alternative: usize) -> Vec<Measure> {
    let more = [Measure::Cost, Measure::Power, Measure::Hands];
    let of = |m: &Measure| usual.difference(alternative, *m);
    let all = || DECIDING.iter().chain(&more).filter_map(of);
    let sure = |d: &&Difference| !matches!(d.finding(), Finding::Noise | Finding::Identical);
    let differs = |d: &&Difference| d.finding() == Finding::Noise;
    let mut told: Vec<Measure> = all()
        .filter(sure)
        .chain(all().filter(differs))
        .map(|d| d.measure)
        .collect();
    // Costs say what the rest is worth.
    if let Some(at) = told.iter().position(|m| *m == Measure::Cost).filter(|at| *at > 1) {
        let cost = told.remove(at);
        told.insert(1, cost);
    }
    told.truncate(2);
    told
}
