//! Which of several is best, with one confidence for all statements together.
//!
//! Multiple comparisons with the best after J. C. Hsu, The Annals of Statistics 12 (1984) 1136-1144, here from paired
//! differences, whose correlations may be anything: the intervals of all pairs are widened after Bonferroni so that all
//! of them hold together at the level, and an alternative's distance from the best of the others lies between the
//! largest lower and the largest upper end of its own.

use super::{Alternative, LEVEL, trifle};
use crate::{Better, Measure};
use tankday_base::stats::{Selection, mean, paired_difference, select_lowest};

/// Where an alternative stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Standing {
    /// It is the best.
    Best,
    /// It may be the best.
    MayBeBest,
    /// Another is better.
    NotBest,
}

/// An alternative's distance from the best of the others; below zero it is ahead, whichever way is better.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Place {
    /// Which.
    pub alternative: usize,
    /// Least distance.
    pub low: f64,
    /// Largest distance.
    pub high: f64,
    /// Where it stands.
    pub standing: Standing,
}

/// The places of all alternatives in one figure, right together at the level of all intervals. None if the figure is
/// not judged, is not told everywhere, or there is nothing to compare.
#[must_use]
pub fn places(all: &[Alternative], measure: Measure) -> Option<Vec<Place>> {
    let sign = match measure.better() {
        Better::Lower => 1.0,
        Better::Higher => -1.0,
        Better::Neither => return None,
    };
    let columns: Vec<Vec<f64>> = all.iter().map(|a| a.column(measure)).collect::<Option<_>>()?;
    let count = columns.len();
    if count < 2 {
        return None;
    }
    let pairs = (count * (count - 1) / 2) as f64;
    let level = 1.0 - (1.0 - LEVEL) / pairs;
    let place = |alternative: usize| -> Option<Place> {
        let (mut low, mut high) = (f64::NEG_INFINITY, f64::NEG_INFINITY);
        for other in (0..count).filter(|o| *o != alternative) {
            let apart = paired_difference(columns.get(alternative)?, columns.get(other)?, level)?.interval;
            low = low.max(sign * apart.mean - apart.half_width);
            high = high.max(sign * apart.mean + apart.half_width);
        }
        let standing = if high < 0.0 {
            Standing::Best
        } else if low > 0.0 {
            Standing::NotBest
        } else {
            Standing::MayBeBest
        };
        Some(Place {
            alternative,
            low,
            high,
            standing,
        })
    };
    (0..count).map(place).collect()
}

/// Replications of the first stage of a selection, whose spread decides how many more are looked at.
const FIRST_STAGE: usize = 20;

/// Which alternative to take for one figure if what is too small to matter does not count: the best, or one within
/// `matters` of it, with the chance of [`LEVEL`] (Kim and Nelson; see [`select_lowest`]).
#[derive(Debug, Clone, PartialEq)]
pub struct Choice {
    /// What the replications say; its columns are the alternatives.
    pub selection: Selection,
    /// A difference below this does not matter.
    pub matters: f64,
}

/// The choice for one figure. None if the figure is not judged, is not told everywhere, or replications are too few.
#[must_use]
pub fn choice(all: &[Alternative], measure: Measure) -> Option<Choice> {
    let sign = match measure.better() {
        Better::Lower => 1.0,
        Better::Higher => -1.0,
        Better::Neither => return None,
    };
    let columns: Vec<Vec<f64>> = all.iter().map(|a| a.column(measure)).collect::<Option<_>>()?;
    let matters = trifle(measure, mean(columns.first()?)?);
    let columns: Vec<Vec<f64>> = columns
        .into_iter()
        .map(|c| c.into_iter().map(|x| sign * x).collect())
        .collect();
    let selection = select_lowest(&columns, FIRST_STAGE, matters, 1.0 - LEVEL)?;
    Some(Choice { selection, matters })
}
