//! Where the warm-up of a run ends: MSER-5.

/// What MSER-5 finds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Warmup {
    /// So many readings at the start belong to the warm-up.
    pub cut: usize,
    /// The statistic at that cut.
    pub statistic: f64,
    /// The best cut lies at half the run: the run is too short to tell.
    pub too_short: bool,
}

/// Finds the end of the warm-up of a run: in batches of five, the cut that makes the standard error of the mean of the
/// rest least, up to half the run, the first one on a tie. `None` of fewer than ten readings; up to four at the end
/// that fill no batch are not used.
///
/// MSER(d) = sum over j > d of (z_j - mean)^2 / (k - d)^2: K. P. White, Simulation 69 (1997) 323-334; K. P. White, M. J.
/// Cobb, S. C. Spratt, Winter Simulation Conference 2000.
#[must_use]
pub fn mser5(values: &[f64]) -> Option<Warmup> {
    const SIZE: usize = 5;
    let batches: Vec<f64> = values
        .chunks_exact(SIZE)
        .map(|five| five.iter().sum::<f64>() / SIZE as f64)
        .collect();
    let last = batches.len() / 2;
    if last == 0 {
        return None;
    }
    let (cut, statistic) = least_mser(&batches, last)?;
    Some(Warmup {
        cut: cut * SIZE,
        statistic,
        too_short: cut == last,
    })
}

/// The cut from 0 to `last` with the least statistic. Goes backwards, adding one batch at a time to the rest by the
/// update of Welford (1962), so that the whole takes one pass.
fn least_mser(batches: &[f64], last: usize) -> Option<(usize, f64)> {
    let (mut mean, mut squares) = (0.0, 0.0);
    let mut best: Option<(usize, f64)> = None;
    for (cut, &value) in batches.iter().enumerate().rev() {
        let count = (batches.len() - cut) as f64;
        let off = value - mean;
        mean += off / count;
        squares += off * (value - mean);
        let statistic = squares / (count * count);
        if cut <= last && best.is_none_or(|(_, least)| statistic <= least) {
            best = Some((cut, statistic));
        }
    }
    best
}
