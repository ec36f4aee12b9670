//! Where a curve turns: its best point, or the place where it bends; with an interval from resampled replications that
//! reaches to the neighbouring points, since between two points nothing was tried.

use super::step::Step;
use super::{Form, Sweep, why};
use crate::compare::LEVEL;
use crate::{Better, Measure};
use tankday_base::random::{Purpose, Streams};
use tankday_base::stats::{MeanInterval, QuantileRule, mean, paired_difference, quantile};

/// Resamplings. B. Efron, The Annals of Statistics 7 (1979) 1-26; whole replications are drawn, so that what the
/// points of one replication share stays together.
const RESAMPLES: u64 = 400;
/// What lies under this share of the curve's mean does not count as a rise.
const SMALL: f64 = 0.005;

/// How it turns.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// It is best there and worse on either side.
    Best,
    /// It goes on beyond, more steeply or less so.
    Bend,
    /// Between two neighbours it steps from one level to another, and on neither side it changes by more than noise or a trifle.
    Step,
}

/// A turning point.
#[derive(Debug, Clone, PartialEq)]
pub struct Turning {
    /// Which figure turns.
    pub measure: Measure,
    /// How.
    pub kind: Kind,
    /// Where, in the number typed.
    pub at: f64,
    /// The ends of its 95 % interval.
    pub low: f64,
    /// Its upper end.
    pub high: f64,
    /// What happens there, and why.
    pub text: String,
}

/// One figure at every point that can be: where the points lie, and replications point by point.
pub(super) struct Curve {
    pub(super) at: Vec<f64>,
    pub(super) columns: Vec<Vec<f64>>,
}

impl Curve {
    pub(super) fn of(sweep: &Sweep, measure: Measure) -> Option<Self> {
        let sound: Vec<_> = sweep.points.iter().filter(|p| p.outcome.is_ok()).collect();
        let at = sound
            .iter()
            .map(|p| p.settings.first().map(|s| s.at))
            .collect::<Option<_>>()?;
        let columns = sound.iter().map(|p| p.column(measure)).collect::<Option<_>>()?;
        Some(Self { at, columns })
    }

    /// The same without the points at which what is varied does nothing, and those that lose orders.
    pub(super) fn acting(sweep: &Sweep, measure: Measure) -> Option<Self> {
        let whole = Self::of(sweep, measure)?;
        let points = whole.at.into_iter().zip(whole.columns);
        let sound = sweep.points.iter().filter(|p| p.outcome.is_ok());
        let loses = sound.map(|p| sweep.loses_orders(p));
        let kept = points
            .zip(loses)
            .filter(|((at, _), loses)| !loses && !sweep.idle.holds(*at));
        let (at, columns) = kept.map(|(point, _)| point).unzip();
        Some(Self { at, columns })
    }

    pub(super) fn means(&self) -> Vec<f64> {
        self.columns.iter().map(|c| mean(c).unwrap_or(0.0)).collect()
    }

    /// Means over resampled replications, the same for every point.
    fn resampled(&self, sample: u64) -> Vec<f64> {
        let many = self.columns.first().map_or(0, Vec::len) as u64;
        let stream = Streams::new(0, sample).stream(Purpose::named("resampled replications"));
        let drawn: Vec<usize> = (0..many).map(|i| (stream.word(i, 0) % many) as usize).collect();
        let mean_of =
            |column: &Vec<f64>| drawn.iter().filter_map(|i| column.get(*i)).sum::<f64>() / many.max(1) as f64;
        self.columns.iter().map(mean_of).collect()
    }

    /// Where the points outside an interval lie that are no worse than the best one but by noise or a trifle.
    fn others(&self, best: usize, [low, high]: [f64; 2], means: &[f64]) -> Vec<f64> {
        let others = self.at.iter().enumerate();
        let good = others.filter(|(i, x)| (**x < low || **x > high) && !self.differs(*i, best, means));
        good.map(|(_, x)| *x).collect()
    }

    /// Whether the figure at one point differs from that at another by more than noise and more than a trifle.
    pub(super) fn differs(&self, one: usize, two: usize, means: &[f64]) -> bool {
        let (Some(a), Some(b)) = (self.columns.get(one), self.columns.get(two)) else {
            return false;
        };
        let size = means.iter().map(|m| m.abs()).sum::<f64>() / means.len().max(1) as f64;
        paired(a, b).is_some_and(|d| !d.contains(0.0) && d.mean.abs() > SMALL * size)
    }
}

/// The mean difference of two points over the same replications, with its interval.
pub(super) fn paired(one: &[f64], other: &[f64]) -> Option<MeanInterval> {
    paired_difference(one, other, LEVEL).map(|d| d.interval)
}

/// Finds the place on a curve, and the point that is nearest to it: where the points lie, their means, and the sign that
/// makes the best the least.
type Locate = fn(&[f64], &[f64], f64) -> Option<(f64, usize)>;

/// The turning point of one figure along one key of numbers; none if it does not turn, or fewer than four points can
/// be.
#[must_use]
pub fn turning(sweep: &Sweep, measure: Measure) -> Option<Turning> {
    let [key] = sweep.keys.as_slice() else {
        return None;
    };
    let form = key.form.as_ref()?;
    let curve = Curve::acting(sweep, measure).filter(|c| c.at.len() >= 4)?;
    let means = curve.means();
    let sign = match measure.better() {
        Better::Lower => 1.0,
        Better::Higher => -1.0,
        Better::Neither => return None,
    };
    if let Some(step) = Step::of(&curve, &means) {
        return Some(step.told((measure, form)));
    }
    let best = least(&means, sign)?;
    let last = means.len() - 1;
    let inside =
        best > 0 && best < last && curve.differs(best, 0, &means) && curve.differs(best, last, &means);
    let (kind, place): (Kind, Locate) = if inside {
        (Kind::Best, vertex)
    } else if bends(&curve, &means) {
        (Kind::Bend, |at, means, _| bend(at, means).map(|b| (b.at, b.knot)))
    } else {
        return None;
    };
    if form.whole && kind == Kind::Best {
        return Some(best_of_whole(sweep, (measure, form), &curve, best));
    }
    let (between, point) = place(&curve.at, &means, sign)?;
    // Of whole numbers none lies between two points: it turns at one of them.
    let at = if form.whole {
        curve.at.get(point).copied().unwrap_or(between)
    } else {
        between
    };
    let around = |point: usize| around(&curve.at, point, form.whole);
    let spans: Vec<(f64, f64)> = (0..RESAMPLES)
        .filter_map(|sample| place(&curve.at, &curve.resampled(sample), sign))
        .map(|(_, point)| around(point))
        .collect();
    let tail = (1.0 - LEVEL) / 2.0;
    let lows: Vec<f64> = spans.iter().map(|s| s.0).collect();
    let highs: Vec<f64> = spans.iter().map(|s| s.1).collect();
    let own = around(point);
    let low = quantile(&lows, tail, QuantileRule::Linear)?.min(own.0);
    let high = quantile(&highs, 1.0 - tail, QuantileRule::Linear)?.max(own.1);
    let mut text = why::text(sweep, measure, kind, [at, low, high], form);
    if kind == Kind::Best {
        text.push_str(&why::hardly_worse(&curve.others(best, [low, high], &means), form));
    }
    Some(Turning {
        measure,
        kind,
        at,
        low,
        high,
        text,
    })
}

/// The best of whole numbers is one of them, and around it lie those that cannot be told from it: no curve runs between.
fn best_of_whole(sweep: &Sweep, (measure, form): (Measure, &Form), curve: &Curve, best: usize) -> Turning {
    let means = curve.means();
    let alike = |i: &usize| !curve.differs(*i, best, &means);
    let x = |i: usize| curve.at.get(i).copied().unwrap_or_default();
    let first = (0..best).rev().take_while(alike).last().unwrap_or(best);
    let last = (best + 1..means.len()).take_while(alike).last().unwrap_or(best);
    let [at, low, high] = [best, first, last].map(x);
    let mut text = why::text(sweep, measure, Kind::Best, [at, low, high], form);
    text.push_str(&why::hardly_worse(&curve.others(best, [low, high], &means), form));
    Turning {
        measure,
        kind: Kind::Best,
        at,
        low,
        high,
        text,
    }
}

/// What lies between a point and its neighbours: there the curve was not tried, and it may turn anywhere. Of whole numbers
/// one apart nothing lies between.
fn around(at: &[f64], point: usize, whole: bool) -> (f64, f64) {
    let x = at.get(point).copied().unwrap_or_default();
    let to = |other: Option<&f64>| match other {
        Some(o) if !(whole && (o - x).abs() <= 1.0) => *o,
        _ => x,
    };
    (
        to(point.checked_sub(1).and_then(|i| at.get(i))),
        to(at.get(point + 1)),
    )
}

/// The index of the best mean.
pub(super) fn least(means: &[f64], sign: f64) -> Option<usize> {
    (0..means.len()).min_by(|a, b| {
        let of = |i: &usize| means.get(*i).map_or(f64::MAX, |m| sign * m);
        of(a).total_cmp(&of(b))
    })
}

/// The vertex of the parabola through the best point and its neighbours, at most halfway to them; the point itself at
/// either end.
fn vertex(at: &[f64], means: &[f64], sign: f64) -> Option<(f64, usize)> {
    let best = least(means, sign)?;
    let x = *at.get(best)?;
    if best == 0 || best + 1 >= at.len() {
        return Some((x, best));
    }
    let (left, right) = (x - at.get(best - 1)?, at.get(best + 1)? - x);
    let y = *means.get(best)?;
    let (down, up) = (
        (means.get(best - 1)? - y) / left,
        (means.get(best + 1)? - y) / right,
    );
    let curvature = (down + up) / (left + right);
    if curvature == 0.0 {
        return Some((x, best));
    }
    let slope = (up * left - down * right) / (left + right);
    let off = (-slope / (2.0 * curvature)).clamp(-0.5 * left, 0.5 * right);
    Some((x + off, best))
}

/// A broken line of two pieces.
pub(super) struct Bend {
    pub(super) at: f64,
    /// Which of the points it is.
    knot: usize,
    pub(super) before: f64,
    pub(super) behind: f64,
    /// What of the squares about one straight line is left about the broken one.
    left: f64,
}

/// The broken line that lies nearest to the means, broken at one of the inner points.
pub(super) fn bend(at: &[f64], means: &[f64]) -> Option<Bend> {
    let straight = squares(at, means, None)?.1;
    let mut best: Option<(f64, Bend)> = None;
    for (knot, x) in at.iter().enumerate().skip(1).take(at.len().saturating_sub(2)) {
        let Some(([_, slope, change], rest)) = squares(at, means, Some(*x)) else {
            continue;
        };
        if best.as_ref().is_none_or(|(least, _)| rest < *least) {
            let left = if straight > 0.0 { rest / straight } else { 1.0 };
            best = Some((
                rest,
                Bend {
                    at: *x,
                    knot,
                    before: slope,
                    behind: slope + change,
                    left,
                },
            ));
        }
    }
    best.map(|(_, bend)| bend)
}

/// Whether a curve bends: the broken line leaves less than a quarter of the squares about the straight one, its slopes
/// differ by half at least, and the curve as a whole is more than noise.
fn bends(curve: &Curve, means: &[f64]) -> bool {
    let (Some(low), Some(high)) = (least(means, 1.0), least(means, -1.0)) else {
        return false;
    };
    let Some(bend) = bend(&curve.at, means) else {
        return false;
    };
    let steeper = bend.before.abs().max(bend.behind.abs());
    curve.differs(low, high, means) && bend.left < 0.25 && (bend.before - bend.behind).abs() > 0.5 * steeper
}

/// Least squares of y = a + b x, or of a + b x + c max(0, x - knot): the coefficients and the squares that are left.
fn squares(at: &[f64], means: &[f64], knot: Option<f64>) -> Option<([f64; 3], f64)> {
    let size = if knot.is_some() { 3 } else { 2 };
    let row = |x: f64| [1.0, x, knot.map_or(0.0, |k| (x - k).max(0.0))];
    let mut system = [[0.0f64; 4]; 3];
    for (x, y) in at.iter().zip(means) {
        let row = row(*x);
        for (line, a) in system.iter_mut().zip(row).take(size) {
            for (cell, b) in line.iter_mut().zip(row) {
                *cell += a * b;
            }
            line[3] += a * y;
        }
    }
    let solved = solve(system, size)?;
    let miss = |(x, y): (&f64, &f64)| {
        let line: f64 = row(*x).iter().zip(solved).map(|(a, b)| a * b).sum();
        (y - line) * (y - line)
    };
    Some((solved, at.iter().zip(means).map(miss).sum()))
}

/// Gauss with pivots.
fn solve(mut m: [[f64; 4]; 3], size: usize) -> Option<[f64; 3]> {
    for column in 0..size {
        let pivot = (column..size).max_by(|a, b| m[*a][column].abs().total_cmp(&m[*b][column].abs()))?;
        m.swap(column, pivot);
        let head = m[column];
        if head[column].abs() < 1e-12 {
            return None;
        }
        for (i, line) in m.iter_mut().enumerate().take(size) {
            if i != column {
                let factor = line[column] / head[column];
                line.iter_mut().zip(head).for_each(|(a, b)| *a -= factor * b);
            }
        }
    }
    let mut solved = [0.0; 3];
    for (i, place) in solved.iter_mut().enumerate().take(size) {
        *place = m[i][3] / m[i][i];
    }
    Some(solved)
}

#[cfg(test)]
mod tests {
    use super::{around, bend, vertex};

    #[test]
    fn the_vertex_of_a_parabola_is_found() {
        let at = [0.0, 1.0, 2.0, 4.0];
        let means = at.map(|x| (x - 1.3) * (x - 1.3));
        assert!((vertex(&at, &means, 1.0).unwrap().0 - 1.3).abs() < 1e-12);
        let upside_down = means.map(|m| -m);
        assert!((vertex(&at, &upside_down, -1.0).unwrap().0 - 1.3).abs() < 1e-12);
    }

    #[test]
    fn an_interval_reaches_to_the_neighbours() {
        let at = [1.0, 2.0, 4.0, 5.0];
        assert_eq!(around(&at, 1, false), (1.0, 4.0));
        assert_eq!(around(&at, 1, true), (2.0, 4.0));
        assert_eq!(around(&at, 0, false), (1.0, 2.0));
        assert_eq!(around(&at, 3, true), (5.0, 5.0));
    }

    #[test]
    fn a_broken_line_is_found_at_its_break() {
        let at: Vec<f64> = (0..9).map(f64::from).collect();
        let means: Vec<f64> = at.iter().map(|x| 3.0 * x - 2.5 * (x - 5.0).max(0.0)).collect();
        let bend = bend(&at, &means).unwrap();
        assert!((bend.at - 5.0).abs() < 1e-12);
        assert!((bend.before - 3.0).abs() < 1e-9 && (bend.behind - 0.5).abs() < 1e-9);
    }
}
