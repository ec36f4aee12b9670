//! Selecting the best of several with a stated chance.
//!
//! The procedure of S.-H. Kim and B. L. Nelson (ACM TOMACS 11 (2001) 251-273) lets the replications of all alternatives
//! come in step, drops whoever has fallen clearly behind, and gains from common luck. Those of Dudewicz and Dalal and of
//! Rinott want independent luck, which nothing here has.

use super::mean::variance;

/// The constants eta and h^2 of Kim and Nelson for `k` alternatives, `first` replications in the first stage, and the
/// chance `alpha` of a wrong choice. `None` for fewer than two of either, or a chance not between 0 and 1.
#[must_use]
pub fn kim_nelson(k: u32, first: u32, alpha: f64) -> Option<(f64, f64)> {
    if k < 2 || first < 2 || alpha.is_nan() || alpha <= 0.0 || alpha >= 1.0 {
        return None;
    }
    let df = f64::from(first - 1);
    let eta = 0.5 * (libm::pow(2.0 * alpha / f64::from(k - 1), -2.0 / df) - 1.0);
    Some((eta, 2.0 * eta * df))
}

/// What the replications so far say about which column is lowest.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Selection {
    /// Columns that are still in the running, in order; one if the choice is made.
    pub left: Vec<usize>,
    /// Replications that were looked at until the choice was made, or all of them.
    pub used: usize,
    /// Replications after which it is made at the latest.
    pub at_most: u64,
}

impl Selection {
    /// The column chosen.
    #[must_use]
    pub fn chosen(&self) -> Option<usize> {
        match self.left.as_slice() {
            [one] => Some(*one),
            _ => None,
        }
    }
}

/// Chooses the column with the lowest mean, or one within `matters` of it, with chance 1 - `alpha`; columns hold the same
/// replications in order, `first` of them for the first stage. `None` for fewer than two columns, for no more replications
/// than the first stage, or where nothing matters.
#[must_use]
pub fn select_lowest(columns: &[Vec<f64>], first: usize, matters: f64, alpha: f64) -> Option<Selection> {
    let many = columns.iter().map(Vec::len).min()?;
    let k = columns.len();
    let (_, square) = kim_nelson(u32::try_from(k).ok()?, u32::try_from(first).ok()?, alpha)?;
    if many <= first || matters.is_nan() || matters <= 0.0 {
        return None;
    }
    // h^2 S^2 / d^2: the replications that a pair needs at most.
    let need = |i: usize, j: usize| -> Option<f64> {
        let (a, b) = (columns.get(i)?, columns.get(j)?);
        let apart: Vec<f64> = a.iter().zip(b).take(first).map(|(x, y)| x - y).collect();
        Some(square * variance(&apart)? / (matters * matters))
    };
    let mut needs = vec![vec![0.0; k]; k];
    for (i, row) in needs.iter_mut().enumerate() {
        for (j, cell) in row.iter_mut().enumerate().filter(|(j, _)| *j != i) {
            *cell = need(i, j)?;
        }
    }
    let longest = needs.iter().flatten().copied().fold(0.0, f64::max);
    let at_most = (longest.floor() as u64 + 1).max(first as u64);
    let mut left: Vec<usize> = (0..k).collect();
    let mut used = first;
    let mut sums: Vec<f64> = columns.iter().map(|c| c.iter().take(first).sum()).collect();
    while left.len() > 1 && used <= many {
        let means: Vec<f64> = sums.iter().map(|s| s / used as f64).collect();
        let behind = |i: usize, j: usize| {
            let r = used as f64;
            let room = (matters / (2.0 * r) * (needs[i][j] - r)).max(0.0);
            means[i] > means[j] + room
        };
        let still: Vec<usize> = left
            .iter()
            .copied()
            .filter(|i| !left.iter().any(|j| i != j && behind(*i, *j)))
            .collect();
        left = if used as u64 >= at_most {
            lowest(&still, &means)
        } else {
            still
        };
        for (sum, column) in sums.iter_mut().zip(columns) {
            *sum += column.get(used).copied().unwrap_or(0.0);
        }
        used += 1;
    }
    Some(Selection {
        left,
        used: (used - 1).min(many),
        at_most,
    })
}

/// The one with the lowest mean.
fn lowest(of: &[usize], means: &[f64]) -> Vec<usize> {
    let least = of.iter().copied().min_by(|a, b| means[*a].total_cmp(&means[*b]));
    least.into_iter().collect()
}
