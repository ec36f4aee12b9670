//! A route from left to right: steps in layers, folded to bands.

use super::frame::Width;
use super::hatch::Point;
use super::pen::{Anchor, Pen, Type};
use super::route_box::{head, limit};
use super::theme::Token;
use tankday_base::route::{Edge, EdgePlace, Layout};
use tankday_base::shop::Route;

/// Layers in one band: four on a page, as many more as fit a wide screen at the same size.
const fn columns(width: Width) -> usize {
    match width {
        Width::Phone | Width::Page => 4,
        Width::Wide => 6,
    }
}

/// From one layer to the next.
fn pitch(width: Width) -> f64 {
    (width.px() - 2.0 * width.side() - LEFT - 24.0 + GAP) / columns(width) as f64
}

/// Between two boxes of neighbouring layers, for arrows and what stands at them.
const GAP: f64 = 54.0;
/// Left of the first, for edges that come from the band before.
const LEFT: f64 = 34.0;
/// Between a box and the next below it.
const BETWEEN: f64 = 18.0;
/// Between two bands, for edges that lead from one to the next.
const BAND: f64 = 26.0;
/// From the lowest box to the first lane of returns, and from lane to lane.
const BELOW: f64 = 16.0;
const LANE: f64 = 22.0;

/// From layers and rows to pixels.
pub(super) struct Map {
    side: f64,
    columns: usize,
    bands: usize,
    top: f64,
    /// From one layer to the next.
    pitch: f64,
    /// Height of a box.
    high: f64,
    /// Height of one band, the lanes of returns included.
    band: f64,
    /// Row at the top of a band, and the row below the last step of a band.
    rows: (f64, f64),
}

impl Map {
    pub(super) fn new(layout: &Layout, high: f64, top: f64, width: Width) -> Self {
        let columns = columns(width);
        let bands = layout.layers.div_ceil(columns).max(1);
        let last = layout.nodes.iter().map(|n| n.at.across).fold(0.0, f64::max);
        let rows = (layout.rows.0, last.max(-layout.rows.0));
        let lanes = lane(layout.rows.1 - rows.1);
        let band = (rows.1 - rows.0 + 1.0) * (high + BETWEEN) + lanes * LANE + BAND;
        let pitch = pitch(width);
        Self {
            side: width.side(),
            columns,
            bands,
            top,
            pitch,
            high,
            band,
            rows,
        }
    }

    pub(super) fn foot(&self) -> f64 {
        self.top + self.band * self.bands as f64 - BAND + 6.0
    }

    fn wide(&self) -> f64 {
        self.pitch - GAP
    }

    /// Width of the boxes.
    pub(super) fn wide_at(width: Width) -> f64 {
        pitch(width) - GAP
    }

    /// Upper left corner of the box at a layer and row.
    pub(super) fn corner(&self, layer: usize, across: f64) -> Point {
        let (band, column) = (layer / self.columns, layer % self.columns);
        let x = self.side + LEFT + column as f64 * self.pitch;
        (
            x,
            self.top + band as f64 * self.band + (across - self.rows.0) * (self.high + BETWEEN),
        )
    }

    pub(super) fn edge(&self, pen: &Pen<'_>, route: &Route, edge: &EdgePlace) {
        match edge.edge {
            Edge::Forward => self.forward(pen, route, edge),
            Edge::Return(share) => {
                let points = self.back(edge);
                pen.dashed(&points, Token::Late, 1.6, (5.0, 3.0));
                head(pen, &points, Token::Late);
                if let Some(&(x, y)) = points.get(2) {
                    let words = format!("{:.0} % back", share.in_percent());
                    let how = Type::note(Token::Late).anchored(Anchor::End);
                    pen.plated(&words, (x - 10.0, y + 4.0), how, Token::Paper);
                }
            }
        }
    }

    /// From the right side of a box, through the layers between, to the left side of another.
    fn forward(&self, pen: &Pen<'_>, route: &Route, edge: &EdgePlace) {
        let points = self.way(edge);
        let colour = if edge.points.len() > 2 {
            Token::Axis
        } else {
            Token::Ink
        };
        pen.curve(&points, colour, 1.4);
        head(pen, &points, colour);
        let limit = route.steps.get(edge.to.index()).map(limit).unwrap_or_default();
        if let (false, Some(&(x, y))) = (limit.is_empty(), points.last()) {
            if self.folds(edge) {
                // Left of a band there is no room: the words stand on the way there.
                let between = points.iter().rev().nth(2).map_or(y, |p| p.1);
                let how = Type::note(Token::Ink2);
                pen.plated(&limit.join(" "), (x, between + 4.0), how, Token::Paper);
                return;
            }
            let how = Type::note(Token::Ink2).anchored(Anchor::Middle);
            for (line, dy) in limit.iter().zip([-5.0, 15.0]) {
                pen.plated(line, (x - GAP / 2.0, y + dy), how, Token::Paper);
            }
        }
    }

    /// Whether the last piece of an edge comes from the band before.
    fn folds(&self, edge: &EdgePlace) -> bool {
        let band = |along: f64| along.max(0.0) as usize / self.columns;
        matches!(*edge.points, [.., a, b] if band(a.along) != band(b.along))
    }

    fn way(&self, edge: &EdgePlace) -> Vec<Point> {
        let places: Vec<(usize, Point)> = edge
            .points
            .iter()
            .map(|p| {
                let layer = p.along.max(0.0) as usize;
                let (x, y) = self.corner(layer, p.across);
                (layer, (x, y + self.high / 2.0))
            })
            .collect();
        // An edge that passes layers keeps aside of those that do not.
        let aside = if places.len() > 2 { 7.0 } else { 0.0 };
        let mut way = Vec::new();
        for pair in places.windows(2) {
            let &[(a, (ax, ay)), (b, (bx, by))] = pair else {
                continue;
            };
            let right = ax + self.wide();
            way.push((right, ay));
            if a / self.columns == b / self.columns {
                way.push((bx - GAP + 8.0, ay));
                way.push((bx - 14.0, by));
            } else {
                let between = self.top + (b / self.columns) as f64 * self.band - BAND / 2.0 - aside;
                way.extend([
                    (right + 14.0 + aside, ay),
                    (right + 14.0 + aside, between),
                    (bx - 18.0 - aside, between),
                    (bx - 18.0 - aside, by),
                ]);
            }
            way.push((bx, by));
        }
        way
    }

    /// Down in the gap right of a box, back along a lane below the band, up in the gap left of the other.
    fn back(&self, edge: &EdgePlace) -> Vec<Point> {
        let (Some(first), Some(last)) = (edge.points.first(), edge.points.last()) else {
            return Vec::new();
        };
        let lane = lane(edge.points.get(1).map_or(0.0, |p| p.across) - self.rows.1 - 0.25);
        let layer = |along: f64| along.max(0.0) as usize;
        let (from, to) = (layer(first.along), layer(last.along));
        let (ax, ay) = self.corner(from, first.across);
        let (bx, by) = self.corner(to, last.across);
        let low = |layer: usize| self.corner(layer, self.rows.1).1 + self.high + BELOW + lane * LANE;
        let (right, left) = (ax + self.wide() + 10.0, bx - 10.0);
        let mut points = vec![
            (ax + self.wide(), ay + self.high * 0.8),
            (right, ay + self.high * 0.8),
            (right, low(from)),
        ];
        if from / self.columns != to / self.columns {
            points.extend([(self.side / 2.0, low(from)), (self.side / 2.0, low(to))]);
        }
        points.extend([
            (left, low(to)),
            (left, by + self.high * 0.8),
            (bx, by + self.high * 0.8),
        ]);
        points
    }
}

/// Lanes of returns, counted from the depth below the lowest row at which the layout puts their far side.
fn lane(depth: f64) -> f64 {
    ((depth - 0.5) / 0.5).max(0.0)
}
