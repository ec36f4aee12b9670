//! How a figure spreads over replications: a hair for each, twenty dots at their quantiles, the interval of the mean.

use super::heading::MOST_SHOWN;
use super::pen::Pen;
use super::theme::Token;
use tankday_base::stats::{QuantileRule, quantile_of_sorted};

/// Dots: each stands for one in twenty.
pub(super) const DOTS: u32 = 20;
const RADIUS: f64 = 2.6;

/// Places of the dots: the middles of twenty parts of the sorted values.
pub(super) fn dots(values: &[f64]) -> Vec<f64> {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    (0..DOTS)
        .filter_map(|i| {
            let p = (f64::from(i) + 0.5) / f64::from(DOTS);
            quantile_of_sorted(&sorted, p, QuantileRule::Linear)
        })
        .collect()
}

/// Hairs for every replication from `y` down, as long as they are few enough to be seen.
pub(super) fn hairs(pen: &Pen<'_>, places: &[f64], y: f64, high: f64) {
    if places.len() > MOST_SHOWN {
        return;
    }
    // Hairs that lie within half a pixel cannot be told apart.
    let mut halves: Vec<i64> = places.iter().map(|x| (2.0 * x).round() as i64).collect();
    halves.sort_unstable();
    halves.dedup();
    for x in halves.into_iter().map(|half| half as f64 / 2.0) {
        pen.line((x, y), (x, y + high), Token::Rep, 1.0);
    }
}

/// Twenty dots on a line; those that would hide each other are heaped upwards as far as `rise` pixels allow.
pub(super) fn heap(pen: &Pen<'_>, places: &[f64], y: f64, rise: f64) {
    let rows = ((rise / (2.0 * RADIUS)) as usize).max(1);
    let mut ends = vec![f64::NEG_INFINITY; rows];
    for x in places {
        let free = ends.iter().position(|end| x - end >= 1.8 * RADIUS);
        // Where all rows are taken here, the top one takes it: the heap is then as high as it can show.
        let row = free.unwrap_or(rows - 1);
        if let Some(end) = ends.get_mut(row) {
            *end = *x;
        }
        pen.disc((*x, y - 2.0 * RADIUS * row as f64), RADIUS, Token::Rep);
    }
}

/// The interval of a mean, at least 4 px wide.
pub(super) fn interval(pen: &Pen<'_>, (a, b): (f64, f64), y: f64) {
    let wide = (b - a).max(4.0);
    pen.rect((0.5 * (a + b - wide), y), (wide, 4.0), Token::Ink);
}
