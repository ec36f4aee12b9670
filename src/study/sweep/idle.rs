//! Where what is varied does nothing any more: a stop after more loads than the days have never comes. Such values are no
//! part of the curve, on which it turns; they are said as what they are.

use super::edge::edges;
use super::turn::{Curve, least};
use super::why::bare;
use super::{Form, Setting, Statement, Sweep, Varied};
use crate::{Better, Measure, Reading};
use std::cell::OnceCell;
use tankday_base::print::{capital, list};

/// Halvings of the stretch between a value that acts and one that does not.
const HALVINGS: usize = 12;
/// Of the stretch tried: a limit between is known no finer.
const FINE: f64 = 0.01;

/// Values at which what is varied does nothing on any of the simulated days: every figure is the same, however far one goes on.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Idle {
    /// From here on; none where it acts up to the largest value looked at.
    pub from: Option<f64>,
    /// Up to here; none where it acts down to the least value looked at.
    pub to: Option<f64>,
}

impl Idle {
    /// Whether nothing is done at a value.
    #[must_use]
    pub fn holds(&self, at: f64) -> bool {
        self.from.is_some_and(|from| at >= from) || self.to.is_some_and(|to| at <= to)
    }
}

/// How many of the replications are looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Depth {
    /// The first: most values differ there already.
    First,
    /// All.
    All,
}

/// Looks for values at which a key of numbers does nothing, on both sides of those tried and as far as one would go on.
/// `readings` runs a value; none where that cannot be.
pub fn idle(
    key: &Varied,
    tried: &[Setting],
    (least, most): (f64, f64),
    readings: impl Fn(&Setting, Depth) -> Option<Vec<Reading>>,
) -> Idle {
    let Some(form) = key.form.as_ref() else {
        return Idle::default();
    };
    let mut at: Vec<f64> = tried.iter().map(|s| s.at).collect();
    at.sort_by(f64::total_cmp);
    at.dedup();
    let side = |far: f64| Side {
        form,
        readings: &readings,
        far: form.at(far).at,
        far_out: [OnceCell::new(), OnceCell::new()],
    };
    let from = side(most).begins(&at);
    at.reverse();
    Idle {
        from,
        to: side(least).begins(&at),
    }
}

/// One side of what was tried.
struct Side<'a, R> {
    form: &'a Form,
    readings: &'a R,
    /// As far as one would go on.
    far: f64,
    /// What comes out there, of the first replication and of all.
    far_out: [OnceCell<Option<Vec<u64>>>; 2],
}

impl<R: Fn(&Setting, Depth) -> Option<Vec<Reading>>> Side<'_, R> {
    /// The first value, on the way outwards, from which on all is as it is far out. Two values at least must be alike, and one
    /// must not: where all are, nothing is known of what the key does.
    fn begins(&self, outwards: &[f64]) -> Option<f64> {
        let edge = *outwards.last()?;
        let mut all = outwards.to_vec();
        if edge == self.far {
            all.pop();
        } else {
            all.extend(self.between(edge, self.far));
        }
        let alike = all.iter().rev().take_while(|at| self.alike(**at)).count();
        let first = all.len().checked_sub(alike).filter(|_| alike > 0)?;
        let acts = first.checked_sub(1)?;
        Some(self.nearer(
            *all.get(acts)?,
            *all.get(first)?,
            (edge - outwards.first()?).abs(),
        ))
    }

    /// Whether at a value all is as it is far out, on all days.
    fn alike(&self, at: f64) -> bool {
        [Depth::First, Depth::All]
            .into_iter()
            .zip(&self.far_out)
            .all(|(depth, far)| {
                let far = far.get_or_init(|| self.bits(self.far, depth));
                far.is_some() && *far == self.bits(at, depth)
            })
    }

    fn bits(&self, at: f64, depth: Depth) -> Option<Vec<u64>> {
        let readings = (self.readings)(&self.form.at(at), depth)?;
        Some(readings.iter().flat_map(|r| r.0.map(f64::to_bits)).collect())
    }

    /// A value that can be between two others, in the middle or the whole number next to it.
    fn between(&self, one: f64, other: f64) -> Option<f64> {
        let middle = f64::midpoint(one, other);
        let can = |at: &f64| (self.readings)(&self.form.at(*at), Depth::First).is_some();
        let between = |at: &f64| at.min(one).min(other) != *at && at.max(one).max(other) != *at;
        let near = [middle, middle.round(), middle.floor(), middle.ceil()];
        near.map(|at| self.form.at(at).at)
            .into_iter()
            .filter(between)
            .find(can)
    }

    /// The limit between a value that acts and one that does not, on the side of the latter.
    fn nearer(&self, mut acts: f64, mut idle: f64, tried: f64) -> f64 {
        for _ in 0..HALVINGS {
            if (idle - acts).abs() <= FINE * tried {
                break;
            }
            let Some(middle) = self.between(acts, idle) else {
                break;
            };
            match self.alike(middle) {
                true => idle = middle,
                false => acts = middle,
            }
        }
        idle
    }
}

/// What is said of values at which nothing is done, side by side: from where on, and which of these figures are better there
/// than wherever it acts.
#[must_use]
pub fn idle_statements(sweep: &Sweep, of: impl Fn(Measure) -> bool) -> Vec<Statement> {
    let [key] = sweep.keys.as_slice() else {
        return Vec::new();
    };
    let Some(form) = key.form.as_ref() else {
        return Vec::new();
    };
    let sides = [(sweep.idle.from, "From", "on"), (sweep.idle.to, "From", "down")];
    let said = sides.into_iter().filter_map(|(at, from, on)| {
        let at = at?;
        let place = bare(form, at);
        let what = format!("{from} {place} {on} {}", nothing(&key.path));
        let up = on == "on";
        let tried = tried(sweep, |x| if up { x >= at } else { x <= at });
        let Some(tried) = tried else {
            // Nobody need go there where nothing pointed that way.
            if !key.path.starts_with("rules.care.") && !edges(sweep).iter().any(|e| e.idle_beyond) {
                return None;
            }
            return Some(Statement {
                measures: Vec::new(),
                text: format!("{what}; go on to {place} to try that."),
            });
        };
        let better: Vec<Measure> = Measure::ALL.iter().copied().filter(|m| of(*m)).collect();
        let better: Vec<Measure> = better
            .into_iter()
            .filter(|m| is_better(sweep, *m, tried))
            .collect();
        let names: Vec<String> = better.iter().map(|m| m.words().to_owned()).collect();
        let then = match names.len() {
            0 => "no figure is better there than where it acts".to_owned(),
            1 => format!("{} is better there than wherever it acts", list(&names)),
            _ => format!("{} are better there than wherever it acts", list(&names)),
        };
        Some(Statement {
            measures: better,
            text: format!("{what}. {}.", capital(&then)),
        })
    });
    said.collect()
}

/// What does not happen, in words.
fn nothing(path: &str) -> String {
    let parts: Vec<&str> = path.split('.').collect();
    match parts.as_slice() {
        [
            "rules",
            "care",
            stop @ ("filter" | "settle" | "renew half" | "renew"),
        ]
        | [
            "rules",
            "care",
            stop @ ("filter" | "settle" | "renew half" | "renew"),
            "when",
        ] => {
            format!("no stop to {stop} comes in these days")
        }
        ["rules", "care", _] | ["rules", "care", _, "when"] => {
            "that care never comes due in these days".to_owned()
        }
        _ => "it changes nothing more in these days".to_owned(),
    }
}

/// The place, among the points that can be, of one that was tried there.
fn tried(sweep: &Sweep, there: impl Fn(f64) -> bool) -> Option<usize> {
    let sound = sweep.points.iter().filter(|p| p.outcome.is_ok());
    let mut at = sound.map(|p| p.settings.first().map(|s| s.at));
    at.position(|at| at.is_some_and(&there))
}

/// Whether a figure is better at a point where nothing is done than at the best of those where something is, by more than
/// noise and a trifle.
fn is_better(sweep: &Sweep, measure: Measure, idle: usize) -> bool {
    let sign = match measure.better() {
        Better::Lower => 1.0,
        Better::Higher => -1.0,
        Better::Neither => return false,
    };
    let Some(curve) = Curve::of(sweep, measure) else {
        return false;
    };
    let means = curve.means();
    let sound: Vec<_> = sweep.points.iter().filter(|p| p.outcome.is_ok()).collect();
    let loses = |i: usize| sound.get(i).is_some_and(|p| sweep.loses_orders(p));
    let acting = |i: &usize| curve.at.get(*i).is_some_and(|at| !sweep.idle.holds(*at)) && !loses(*i);
    let those: Vec<usize> = (0..means.len()).filter(acting).collect();
    let of: Vec<f64> = those.iter().filter_map(|i| means.get(*i).copied()).collect();
    let best = least(&of, sign).and_then(|i| those.get(i).copied());
    best.filter(|_| !loses(idle)).is_some_and(|best| {
        let mean = |i: usize| means.get(i).map_or(f64::NAN, |m| sign * m);
        mean(idle) < mean(best) && curve.differs(idle, best, &means)
    })
}
