//! How much work is finished by when.

use super::analysis::Analysis;
use tankday_base::units::{Area, Moment};

/// A sum of work that holds from its moment on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Finished {
    /// Since when.
    pub at: Moment,
    /// Pieces.
    pub pieces: u64,
    /// Their surface.
    pub area: Area,
}

/// Pieces and surface in loads that are ready, summed up in order of time.
#[must_use]
pub fn finished(read: &Analysis<'_>) -> Vec<Finished> {
    summed(read.loads_ready.iter().map(|&(at, load)| Finished {
        at,
        pieces: u64::from(read.cargo.pieces(load)),
        area: read.cargo.area(read.shop, load),
    }))
}

/// Steps in order of time as sums; those of one moment are one.
#[must_use]
pub fn summed(steps: impl IntoIterator<Item = Finished>) -> Vec<Finished> {
    let mut sums: Vec<Finished> = Vec::new();
    let (mut pieces, mut area) = (0, Area::ZERO);
    for step in steps {
        pieces += step.pieces;
        area += step.area;
        let sum = Finished {
            at: step.at,
            pieces,
            area,
        };
        match sums.last_mut() {
            Some(last) if last.at == step.at => *last = sum,
            _ => sums.push(sum),
        }
    }
    sums
}
