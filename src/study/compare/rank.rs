//! Which alternatives to take and which to leave. Two are held against each other in one way, however many there are:
//! by the first deciding figure whose difference is more than noise and large enough to matter. Of several, one is left
//! if another is better than it in that way, and still beyond noise when the intervals of all pairs are widened after
//! Bonferroni so that they hold together; so what is said of many never contradicts what is said of two of them.

use super::{Alternative, Comparison, Difference, Finding, LEVEL};
use crate::{Better, Measure};
use tankday_base::stats::paired_difference;

/// Figures in the order in which they decide.
pub(super) const DECIDING: [Measure; 7] = [
    Measure::LateOrders,
    Measure::Bare,
    Measure::Unready,
    Measure::Area,
    Measure::Finish,
    Measure::InShop,
    Measure::CostPerArea,
];

/// Whether a difference speaks for the alternative, against it, or for neither.
pub(super) fn speaks(difference: &Difference) -> Option<bool> {
    let lower = match difference.finding() {
        Finding::Lower => true,
        Finding::Higher => false,
        _ => return None,
    };
    match difference.measure.better() {
        Better::Lower => Some(lower),
        Better::Higher => Some(!lower),
        Better::Neither => None,
    }
}

/// An alternative that is left, and why.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Left {
    /// Which.
    pub alternative: usize,
    /// One that is better.
    pub behind: usize,
    /// The figure that decides between the two.
    pub measure: Measure,
}

/// Which to take and which to leave.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Ranking {
    /// Those that no other is better than.
    pub take: Vec<usize>,
    /// All others.
    pub leave: Vec<Left>,
    /// Whether between any two of those to take no difference that matters is larger than its noise. Where not, some
    /// differ when only these two are looked at, and too little to be sure of all statements together.
    pub alike: bool,
}

/// Ranks the alternatives of a comparison.
#[must_use]
pub fn ranking(comparison: &Comparison) -> Ranking {
    let all = &comparison.alternatives;
    let count = all.len();
    let pairs = (count * count.saturating_sub(1) / 2).max(1) as f64;
    let level = 1.0 - (1.0 - LEVEL) / pairs;
    let better = |one: usize, other: usize| decides(all, one, other);
    let mut leave: Vec<Left> = Vec::new();
    for alternative in 0..count {
        let behind = (0..count).filter_map(|other| Some((other, better(other, alternative)?)));
        let mut sure = behind.filter(|(other, measure)| is_sure(all, *other, alternative, *measure, level));
        leave.extend(sure.next().map(|(behind, measure)| Left {
            alternative,
            behind,
            measure,
        }));
    }
    // What is worse than one that is left is left, too.
    let mut at = 0;
    while let Some(worse) = leave.get(at).copied() {
        at += 1;
        for alternative in 0..count {
            if leave.iter().any(|l| l.alternative == alternative) {
                continue;
            }
            leave.extend(better(worse.alternative, alternative).map(|measure| Left {
                alternative,
                behind: worse.alternative,
                measure,
            }));
        }
    }
    leave.sort_by_key(|l| l.alternative);
    let take: Vec<usize> = (0..count)
        .filter(|i| leave.iter().all(|l| l.alternative != *i))
        .collect();
    // Behind one that is taken, where it is so beyond doubt: that says most.
    for left in &mut leave {
        let one = left.alternative;
        let ahead = take.iter().filter_map(|best| Some((*best, better(*best, one)?)));
        let mut sure = ahead.filter(|(best, measure)| is_sure(all, *best, one, *measure, level));
        if let Some((behind, measure)) = sure.next() {
            (left.behind, left.measure) = (behind, measure);
        }
    }
    let alike = take
        .iter()
        .all(|one| take.iter().all(|other| better(*one, *other).is_none()));
    Ranking { take, leave, alike }
}

/// The figure by which one alternative is better than another; none where it is not.
fn decides(all: &[Alternative], one: usize, other: usize) -> Option<Measure> {
    let between = |m: &Measure| Some((*m, speaks(&Difference::of(all, one, other, *m)?)?));
    let (measure, better) = DECIDING.iter().find_map(between)?;
    better.then_some(measure)
}

/// Whether two differ in a figure beyond noise at a level.
fn is_sure(all: &[Alternative], one: usize, other: usize, measure: Measure, level: f64) -> bool {
    let column = |i: usize| all.get(i).and_then(|a| a.column(measure));
    let (Some(one), Some(other)) = (column(one), column(other)) else {
        return false;
    };
    paired_difference(&one, &other, level).is_some_and(|d| !d.interval.contains(0.0))
}
