//! Hatches: strokes clipped to a convex shape, since a pattern fill is not drawn alike everywhere.

/// A point in pixels.
pub(super) type Point = (f64, f64);

/// Which way the strokes of a hatch run, and how far apart along the axis they are counted on, in pixels.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Hatch {
    /// None.
    None,
    /// `/`, counted level.
    Rising(f64),
    /// `\`, counted level.
    Falling(f64),
    /// Both, counted level.
    Crossed(f64),
    /// Upright, counted level.
    Upright(f64),
    /// Level, counted upright.
    Level(f64),
}

impl Hatch {
    /// Turned by a quarter, for lanes that run downwards.
    pub(super) const fn turned(self) -> Self {
        match self {
            Self::Upright(gap) => Self::Level(gap),
            Self::Level(gap) => Self::Upright(gap),
            other => other,
        }
    }
}

/// More strokes than this of one kind on a bar would only be grey; the gap is doubled until there are fewer.
const MOST_STROKES: f64 = 40.0;

/// The strokes of a hatch on a convex shape, each from one edge to another.
pub(super) fn strokes(shape: &[Point], hatch: Hatch) -> Vec<(Point, Point)> {
    // Each stroke lies on n . p = c with the normal n; rising strokes have the normal (1, 1) as y grows downwards.
    match hatch {
        Hatch::None => Vec::new(),
        Hatch::Rising(gap) => along(shape, (1.0, 1.0), gap),
        Hatch::Falling(gap) => along(shape, (1.0, -1.0), gap),
        Hatch::Crossed(gap) => {
            let mut both = along(shape, (1.0, 1.0), gap);
            both.extend(along(shape, (1.0, -1.0), gap));
            both
        }
        Hatch::Upright(gap) => along(shape, (1.0, 0.0), gap),
        Hatch::Level(gap) => along(shape, (0.0, 1.0), gap),
    }
}

fn along(shape: &[Point], normal: Point, gap: f64) -> Vec<(Point, Point)> {
    let at = |p: Point| p.0 * normal.0 + p.1 * normal.1;
    let least = shape.iter().map(|p| at(*p)).fold(f64::INFINITY, f64::min);
    let most = shape.iter().map(|p| at(*p)).fold(f64::NEG_INFINITY, f64::max);
    if gap <= 0.0 || !(most - least).is_finite() {
        return Vec::new();
    }
    let mut gap = gap;
    while (most - least) / gap > MOST_STROKES {
        gap *= 2.0;
    }
    let count = ((most - least) / gap) as u32;
    // The strokes keep the same distance to either end.
    let first = least + (most - least - f64::from(count) * gap) / 2.0;
    (0..=count)
        .filter_map(|k| clipped(shape, normal, first + f64::from(k) * gap))
        .collect()
}

/// The part of the line `n . p = c` inside a convex shape.
fn clipped(shape: &[Point], normal: Point, c: f64) -> Option<(Point, Point)> {
    let mut cuts: Vec<Point> = Vec::new();
    for (i, a) in shape.iter().enumerate() {
        let b = shape.get(i + 1).or(shape.first())?;
        let (da, db) = (
            a.0 * normal.0 + a.1 * normal.1 - c,
            b.0 * normal.0 + b.1 * normal.1 - c,
        );
        if (da < 0.0) != (db < 0.0) {
            let t = da / (da - db);
            cuts.push((a.0 + t * (b.0 - a.0), a.1 + t * (b.1 - a.1)));
        }
    }
    match cuts.as_slice() {
        [a, b] if (a.0 - b.0).abs() + (a.1 - b.1).abs() > 0.5 => Some((*a, *b)),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const SQUARE: [Point; 4] = [(0.0, 0.0), (20.0, 0.0), (20.0, 20.0), (0.0, 20.0)];

    #[test]
    fn strokes_end_on_the_edge_of_the_shape() {
        let wedge = [(0.0, 20.0), (60.0, 20.0), (60.0, 0.0), (0.0, 17.0)];
        let found = strokes(&wedge, Hatch::Rising(7.0));
        assert_eq!(
            found.len(),
            8,
            "ten from 17 to 80 in steps of 7, less the two that only touch a corner"
        );
        for (a, b) in found {
            for (x, y) in [a, b] {
                let top = 17.0 - x * 17.0 / 60.0;
                let on = [x, 60.0 - x, 20.0 - y, y - top];
                assert!(on.iter().all(|d| *d > -1e-9), "({x}, {y}) lies outside");
                assert!(on.iter().any(|d| d.abs() < 1e-9), "({x}, {y}) is not on the edge");
            }
            assert!((a.0 + a.1 - b.0 - b.1).abs() < 1e-9, "runs like /");
        }
    }

    #[test]
    fn level_lines_are_spread_evenly() {
        let heights: Vec<f64> = strokes(&SQUARE, Hatch::Level(8.0))
            .iter()
            .map(|s| s.0.1)
            .collect();
        assert_eq!(heights, [2.0, 10.0, 18.0]);
    }

    #[test]
    fn a_long_bar_has_at_most_forty_strokes_and_one() {
        let long = [(0.0, 0.0), (3_000.0, 0.0), (3_000.0, 20.0), (0.0, 20.0)];
        assert!(strokes(&long, Hatch::Upright(4.0)).len() <= 41);
        assert!(strokes(&long, Hatch::Upright(0.0)).is_empty());
    }
}
