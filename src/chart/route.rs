//! The process graph of a route: steps in layers from left to right, folded to bands; what must come after is an arrow,
//! what goes back a dashed one.

use super::frame::Width;
use super::hatch::Point;
use super::heading::Heading;
use super::pen::{Anchor, Pen, Type, picture};
use super::svg::{Alt, Svg};
use super::theme::Token;
use super::width::{Weight, fitted, wrapped};
use crate::record::{Bottleneck, Figures};
use crate::route::{self, Edge, EdgePlace, Layout, ProcessGraph};
use crate::shop::{Hands, Route, RouteId, Shop, Step};
use crate::units::Span;

/// Layers in one band: four on a page, as many more as fit a wide screen at the same size.
const fn columns(width: Width) -> usize {
    match width {
        Width::Phone => 1,
        Width::Page => 4,
        Width::Wide => 6,
    }
}

/// Between two boxes of neighbouring layers, for arrows and what stands at them.
const GAP: f64 = 54.0;
/// Height of a box, and from one box to the next below it.
const BOX: f64 = 66.0;
const ROW: f64 = 84.0;
/// Between two bands, for edges that lead from one to the next.
const BAND: f64 = 26.0;
/// From the lowest box to the first lane of returns, and from lane to lane.
const BELOW: f64 = 16.0;
const LANE: f64 = 22.0;
/// Height of a bar that tells when hands are needed.
const BAR: f64 = 5.0;
/// Length of an arrow's head.
const HEAD: f64 = 7.0;

/// Draws a route of a shop; with the figures of a run also which station was busiest.
#[must_use]
pub fn route(shop: &Shop, id: RouteId, run: Option<&Figures>, width: Width) -> Svg {
    let busiest = run.and_then(|figures| figures.bottleneck(shop, id));
    let empty = Route {
        name: String::new(),
        steps: Vec::new(),
    };
    let drawn = shop.routes.get(id.index()).unwrap_or(&empty);
    let layout = ProcessGraph::of(drawn).layout();
    let title = format!("Route {}", drawn.name);
    let summary = summary(shop, id, busiest.as_ref());
    let heading = Heading::plain(&title, &summary, &shop.title, width);
    let map = Map::new(&layout, heading.height() + 20.0, width);
    let alt = Alt {
        id: format!("route-{}", id.index()),
        title,
        finding: summary,
        desc: route::description(shop, id),
    };
    picture((width.pixels(), map.foot().ceil() as u32), alt, &heading, |pen| {
        for edge in &layout.edges {
            map.edge(pen, drawn, edge);
        }
        for node in &layout.nodes {
            if let Some(step) = drawn.steps.get(node.step.index()) {
                let corner = map.corner(node.layer, node.at.across);
                map.step(pen, shop, step, corner);
                if busiest.is_some_and(|b| step.stations.contains(&b.station)) {
                    map.mark(pen, corner);
                }
            }
        }
    })
}

/// The shortest time, and what was busiest in a run.
fn summary(shop: &Shop, id: RouteId, busiest: Option<&Bottleneck>) -> String {
    let summary = route::summary(shop, id);
    let Some(busiest) = busiest else { return summary };
    let name = shop.stations.get(busiest.station.index());
    let name = name.map_or("", |s| s.name.as_str());
    let share = |share: crate::units::Share| format!("{:.0} %", share.in_percent());
    let wait = busiest.wait.map_or_else(String::new, |wait| {
        format!("; loads wait {} for it on average", super::words::minutes(wait))
    });
    let hands = if busiest.hands > busiest.at_work {
        format!(" Hands are busier: {}.", share(busiest.hands))
    } else {
        String::new()
    };
    format!(
        "{summary} Busiest is {name}, at work {} of the open hours{wait}.{hands}",
        share(busiest.at_work)
    )
}

/// From layers and rows to pixels.
struct Map {
    side: f64,
    columns: usize,
    bands: usize,
    top: f64,
    /// From one layer to the next.
    pitch: f64,
    /// Height of one band, the lanes of returns included.
    band: f64,
    /// Row at the top of a band, and the row below the last step of a band.
    rows: (f64, f64),
}

impl Map {
    fn new(layout: &Layout, top: f64, width: Width) -> Self {
        let columns = columns(width);
        let bands = layout.layers.div_ceil(columns).max(1);
        let last = layout.nodes.iter().map(|n| n.at.across).fold(0.0, f64::max);
        let rows = (layout.rows.0, last.max(-layout.rows.0));
        let lanes = lane(layout.rows.1 - rows.1);
        let band = (rows.1 - rows.0 + 1.0) * ROW + lanes * LANE + BAND;
        let pitch = (width.px() - width.side() - GAP) / columns as f64;
        Self {
            side: width.side(),
            columns,
            bands,
            top,
            pitch,
            band,
            rows,
        }
    }

    fn foot(&self) -> f64 {
        self.top + self.band * self.bands as f64
    }

    fn wide(&self) -> f64 {
        self.pitch - GAP
    }

    /// Upper left corner of the box at a layer and row.
    fn corner(&self, layer: usize, across: f64) -> Point {
        let (band, column) = (layer / self.columns, layer % self.columns);
        let x = self.side + GAP + column as f64 * self.pitch;
        (
            x,
            self.top + band as f64 * self.band + (across - self.rows.0) * ROW,
        )
    }

    fn step(&self, pen: &Pen<'_>, shop: &Shop, step: &Step, (x, y): Point) {
        let (w, h) = (self.wide(), BOX);
        pen.rect((x, y), (w, h), Token::Panel);
        pen.outline(
            &[(x, y), (x + w, y), (x + w, y + h), (x, y + h)],
            Token::Axis,
            1.0,
        );
        match step.hands {
            Hands::None => {}
            Hands::Throughout => pen.rect((x, y), (w, BAR), Token::Hand),
            Hands::Ends => {
                pen.rect((x, y), (w / 5.0, BAR), Token::Hand);
                pen.rect((x + w * 0.8, y), (w / 5.0, BAR), Token::Hand);
            }
        }
        let room = w - 12.0;
        let name = Type {
            size: 14.0,
            ..Type::label(Token::Ink)
        }
        .bold();
        let names = wrapped(&step.name, 14.0, Weight::Bold, room);
        let two = names.len() > 1;
        for (i, line) in names.iter().take(2).enumerate() {
            let line = fitted(line, 14.0, Weight::Bold, room);
            pen.text(&line, (x + 6.0, y + 22.0 + 16.0 * i as f64), name);
        }
        let first = y + if two { 55.0 } else { 39.0 };
        let notes = notes(shop, step);
        for (i, note) in notes.iter().take(if two { 1 } else { 2 }).enumerate() {
            let note = fitted(note, 12.0, Weight::Regular, room);
            pen.text(&note, (x + 6.0, first + 16.0 * i as f64), Type::note(Token::Ink2));
        }
    }

    /// A frame around the busiest.
    fn mark(&self, pen: &Pen<'_>, (x, y): Point) {
        let (w, h) = (self.wide(), BOX);
        let corners = [(x, y), (x + w, y), (x + w, y + h), (x, y + h)];
        pen.outline(&corners, Token::Ink, 3.0);
    }

    fn edge(&self, pen: &Pen<'_>, route: &Route, edge: &EdgePlace) {
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
            let how = Type::note(Token::Ink2).anchored(Anchor::Middle);
            for (line, dy) in limit.iter().zip([-5.0, 15.0]) {
                pen.plated(line, (x - GAP / 2.0, y + dy), how, Token::Paper);
            }
        }
    }

    fn way(&self, edge: &EdgePlace) -> Vec<Point> {
        let places: Vec<(usize, Point)> = edge
            .points
            .iter()
            .map(|p| {
                let layer = p.along.max(0.0) as usize;
                let (x, y) = self.corner(layer, p.across);
                (layer, (x, y + BOX / 2.0))
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
        let low = |layer: usize| self.corner(layer, self.rows.1).1 + BOX + BELOW + lane * LANE;
        let (right, left) = (ax + self.wide() + 10.0, bx - 10.0);
        let mut points = vec![
            (ax + self.wide(), ay + BOX * 0.8),
            (right, ay + BOX * 0.8),
            (right, low(from)),
        ];
        if from / self.columns != to / self.columns {
            points.extend([(self.side / 2.0, low(from)), (self.side / 2.0, low(to))]);
        }
        points.extend([(left, low(to)), (left, by + BOX * 0.8), (bx, by + BOX * 0.8)]);
        points
    }
}

/// Lanes of returns, counted from the depth below the lowest row at which the layout puts their far side.
fn lane(depth: f64) -> f64 {
    ((depth - 0.5) / 0.5).max(0.0)
}

/// An arrow's head at the end of a line that comes in from the left.
fn head(pen: &Pen<'_>, points: &[Point], colour: Token) {
    if let Some(&(x, y)) = points.last() {
        pen.shape(
            &[(x, y), (x - HEAD, y - HEAD / 2.0), (x - HEAD, y + HEAD / 2.0)],
            colour,
        );
    }
}

/// Stations, and the parts that alone pass it.
fn notes(shop: &Shop, step: &Step) -> Vec<String> {
    let stations = step
        .stations
        .iter()
        .filter_map(|s| shop.stations.get(s.index()))
        .map(|s| s.name.as_str());
    let mut notes = vec![stations.collect::<Vec<_>>().join(" or ")];
    if !step.only.is_empty() {
        let parts = step
            .only
            .iter()
            .filter_map(|p| shop.parts.get(p.index()))
            .map(|p| p.name.as_str());
        notes.push(format!("only {}", parts.collect::<Vec<_>>().join(", ")));
    }
    notes
}

/// What stands at the arrows to a step: how long it may wait.
fn limit(step: &Step) -> Vec<String> {
    match step.within {
        _ if step.at_once => vec!["at once".to_owned()],
        Some(within) => vec!["within".to_owned(), short(within)],
        None => Vec::new(),
    }
}

fn short(span: Span) -> String {
    let minutes = span.in_minutes();
    if minutes < 60.0 {
        return format!("{minutes:.0} min");
    }
    let hours = format!("{:.1}", minutes / 60.0);
    format!("{} h", hours.trim_end_matches(".0"))
}
