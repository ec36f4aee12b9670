//! The best point where the values are two, or words: the best mean, and the points that cannot be told from it.

use super::{Point, Setting, Sweep};
use crate::compare::LEVEL;
use crate::{Better, Measure};
use tankday_base::stats::{mean, paired_difference};

/// The best point of one figure.
#[derive(Debug, Clone, PartialEq)]
pub struct BestCell {
    /// Which figure.
    pub measure: Measure,
    /// Its values.
    pub at: Vec<Setting>,
    /// The least values of points that cannot be told from it.
    pub low: Vec<Setting>,
    /// The largest ones.
    pub high: Vec<Setting>,
    /// It, and the points that cannot be told from it.
    pub alike: Vec<Vec<Setting>>,
    /// In words.
    pub text: String,
}

/// The best points of all judged figures, where the sweep has two keys, or one whose values are words.
#[must_use]
pub fn best_cells(sweep: &Sweep) -> Vec<BestCell> {
    let curve = sweep.keys.len() == 1 && sweep.keys.iter().all(|k| k.form.is_some());
    if curve {
        return Vec::new();
    }
    Measure::ALL.iter().filter_map(|m| best(sweep, *m)).collect()
}

fn best(sweep: &Sweep, measure: Measure) -> Option<BestCell> {
    let sign = match measure.better() {
        Better::Lower => 1.0,
        Better::Higher => -1.0,
        Better::Neither => return None,
    };
    let sound: Vec<(&Point, Vec<f64>)> = sweep
        .points
        .iter()
        .filter(|p| !sweep.loses_orders(p))
        .filter_map(|p| Some((p, p.column(measure)?)))
        .collect();
    let of = |column: &Vec<f64>| sign * mean(column).unwrap_or(f64::MAX);
    let (at, best) = sound.iter().min_by(|a, b| of(&a.1).total_cmp(&of(&b.1)))?;
    let level = 1.0 - (1.0 - LEVEL) / (sound.len().saturating_sub(1).max(1)) as f64;
    let alike: Vec<&Point> = sound
        .iter()
        .filter(|(_, column)| paired_difference(column, best, level).is_none_or(|d| d.interval.contains(0.0)))
        .map(|(p, _)| *p)
        .collect();
    if alike.len() == sound.len() {
        return None;
    }
    let end = |largest: bool| -> Vec<Setting> {
        let keys = 0..sweep.keys.len();
        let pick = |key: usize| {
            let values = alike.iter().filter_map(|p| p.settings.get(key));
            let by = |a: &&Setting, b: &&Setting| a.at.total_cmp(&b.at);
            if largest {
                values.max_by(by)
            } else {
                values.min_by(by)
            }
            .cloned()
        };
        keys.filter_map(pick).collect()
    };
    let values: Vec<&str> = at.settings.iter().map(|s| s.text.as_str()).collect();
    let good = if measure.better() == Better::Lower {
        "least"
    } else {
        "most"
    };
    let same = sound.iter().filter(|(_, column)| column == best).count();
    let others = match alike.len() {
        1 => "every other point is worse".to_owned(),
        n if same == n => format!("{} of {} points are exactly the same", n - 1, sound.len()),
        n => format!("{} of {} points cannot be told from it", n - 1, sound.len()),
    };
    let list = tankday_base::print::list;
    let edge = match edges_of(sweep, at).as_slice() {
        [] => String::new(),
        keys => format!(
            " That is the edge of what was tried for {}: it may get better beyond it.",
            list(keys)
        ),
    };
    let level = match level_in(sweep, &sound, at, best).as_slice() {
        [] => String::new(),
        keys => format!(
            " Up to the edge of what was tried for {} it stays the same.",
            list(keys)
        ),
    };
    let text = format!(
        "{} is {good} at {}; {others}, 95 % sure of all of them together.{edge}{level}",
        tankday_base::print::capital(measure.words()),
        values.join(", "),
    );
    Some(BestCell {
        measure,
        at: at.settings.clone(),
        low: end(false),
        high: end(true),
        alike: alike.iter().map(|p| p.settings.clone()).collect(),
        text,
    })
}

/// Keys of numbers along which the best value lies inside, and every point from there to an edge has the very same figure
/// on every simulated day.
fn level_in(sweep: &Sweep, sound: &[(&Point, Vec<f64>)], best: &Point, column: &[f64]) -> Vec<String> {
    let inside = edges_of(sweep, best);
    let keys = sweep.keys.iter().enumerate();
    let numbers = keys.filter(|(_, key)| key.form.is_some() && !inside.contains(&key.name()));
    let level = |(at, _): &(usize, &super::Varied)| {
        let along = sound.iter().filter(|(p, _)| {
            let mut others = p.settings.iter().zip(&best.settings).enumerate();
            others.all(|(i, (one, own))| i == *at || one == own)
        });
        let here = best.settings.get(*at).map_or(0.0, |s| s.at);
        let side = |way: f64| {
            let beyond = |p: &Point| p.settings.get(*at).is_some_and(|s| way * (s.at - here) > 0.0);
            let mut those = along.clone().filter(|(p, _)| beyond(p)).peekable();
            those.peek().is_some() && those.all(|(_, c)| c == column)
        };
        side(1.0) || side(-1.0)
    };
    numbers.filter(level).map(|(_, key)| key.name()).collect()
}

/// Keys of numbers whose least or largest value a point has.
fn edges_of(sweep: &Sweep, point: &Point) -> Vec<String> {
    let at_edge = |(key, setting): (&super::Varied, &Setting)| {
        key.form.as_ref()?;
        let ends = [key.values.first()?, key.values.last()?];
        ends.iter().any(|end| end.at == setting.at).then(|| key.name())
    };
    sweep
        .keys
        .iter()
        .zip(&point.settings)
        .filter_map(at_edge)
        .collect()
}
