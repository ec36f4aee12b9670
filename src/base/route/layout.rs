//! Places for drawing: steps in layers, edges as chains of points.
//!
//! Layers by longest distance from a start; places within a layer by the mean place of the neighbours, swept to and fro
//! (after Sugiyama, Tagawa, Toda, IEEE Trans. Syst. Man Cybern. 11, 1981, 109-125; from memory).

use super::graph::{Edge, ProcessGraph};
use crate::shop::StepIx;

/// A point of the drawing: along the way of the work, and across it. One layer is one unit along, the height of one
/// step is one unit across.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point {
    /// Layer, from 0; between two layers it has a fraction.
    pub along: f64,
    /// Row, 0 being the middle line.
    pub across: f64,
}

/// Where a step stands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct NodePlace {
    /// Which.
    pub step: StepIx,
    /// Its layer.
    pub layer: usize,
    /// Its middle.
    pub at: Point,
}

/// How an edge runs.
#[derive(Debug, Clone, PartialEq)]
pub struct EdgePlace {
    /// From this step.
    pub from: StepIx,
    /// To this one.
    pub to: StepIx,
    /// What it means.
    pub edge: Edge,
    /// From the middle of the one step to the middle of the other; points between are bends.
    pub points: Vec<Point>,
}

/// The whole drawing.
#[derive(Debug, Clone, PartialEq)]
pub struct Layout {
    /// Number of layers.
    pub layers: usize,
    /// Steps, in the order of the route.
    pub nodes: Vec<NodePlace>,
    /// Edges, forward ones first.
    pub edges: Vec<EdgePlace>,
    /// Lowest and highest row in use, bends included.
    pub rows: (f64, f64),
}

/// A step, or the place where a long edge crosses a layer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Slot {
    Step(usize),
    Bend(usize),
}

struct Sketch {
    layers: Vec<Vec<Slot>>,
    /// Links between slots of neighbouring layers, as (layer of the first, first, second).
    links: Vec<(usize, Slot, Slot)>,
}

impl ProcessGraph {
    /// Places for every step and edge. Where forward edges make a loop, those against the order of the route are bent
    /// back like returns.
    #[must_use]
    pub fn layout(&self) -> Layout {
        let layer = self.layer_of_each();
        let straight = |from: StepIx, to: StepIx| pick(&layer, from) < pick(&layer, to);
        let edges: Vec<(StepIx, StepIx, Edge)> = self.edges().collect();
        let long: Vec<bool> = edges
            .iter()
            .map(|&(from, to, edge)| edge == Edge::Forward && straight(from, to))
            .collect();
        let mut sketch = Sketch::new(&layer, &edges, &long);
        sketch.sort();
        let nodes = sketch.nodes(&layer);
        let foot = sketch
            .layers
            .iter()
            .map(Vec::len)
            .max()
            .unwrap_or_default()
            .saturating_sub(1) as f64
            / 2.0;
        let mut lanes: Vec<(f64, f64)> = Vec::new();
        let place = |(i, (&(from, to, edge), &long)): (usize, (&(StepIx, StepIx, Edge), &bool))| {
            let ends = (
                sketch.place(Slot::Step(from.index())),
                sketch.place(Slot::Step(to.index())),
            );
            let points = if long {
                sketch.way(i, ends)
            } else {
                back(ends, foot, &mut lanes)
            };
            EdgePlace {
                from,
                to,
                edge,
                points,
            }
        };
        let edges = edges.iter().zip(&long).enumerate().map(place).collect();
        let below = if lanes.is_empty() {
            0.0
        } else {
            GAP + lanes.len() as f64 * LANE
        };
        Layout {
            layers: sketch.layers.len(),
            nodes,
            edges,
            rows: (-foot, foot + below),
        }
    }

    /// Longest distance from a start along edges that go on in the order of the route, or along all forward edges
    /// where they make no loop.
    fn layer_of_each(&self) -> Vec<usize> {
        let order = self.in_order();
        let looped = order.is_none();
        let mut layer = vec![0; self.len()];
        for step in order.unwrap_or_else(|| self.steps().collect()) {
            let before = self.before(step).filter(|&b| !looped || b < step);
            let least = before.map(|b| pick(&layer, b) + 1).max().unwrap_or_default();
            if let Some(l) = layer.get_mut(step.index()) {
                *l = least;
            }
        }
        layer
    }
}

fn pick(layer: &[usize], step: StepIx) -> usize {
    layer.get(step.index()).copied().unwrap_or_default()
}

impl Sketch {
    fn new(layer: &[usize], edges: &[(StepIx, StepIx, Edge)], long: &[bool]) -> Self {
        let count = layer.iter().max().map_or(0, |m| m + 1);
        let mut layers: Vec<Vec<Slot>> = vec![Vec::new(); count];
        for (i, &l) in layer.iter().enumerate() {
            layers[l].push(Slot::Step(i));
        }
        let mut links = Vec::new();
        for (i, &(from, to, _)) in edges.iter().enumerate().filter(|(i, _)| long[*i]) {
            let (first, last) = (pick(layer, from), pick(layer, to));
            let mut at = Slot::Step(from.index());
            for (l, slots) in layers.iter_mut().enumerate().take(last).skip(first + 1) {
                slots.push(Slot::Bend(i));
                links.push((l - 1, at, Slot::Bend(i)));
                at = Slot::Bend(i);
            }
            links.push((last - 1, at, Slot::Step(to.index())));
        }
        Self { layers, links }
    }

    fn nodes(&self, layer: &[usize]) -> Vec<NodePlace> {
        let node = |(i, &layer)| NodePlace {
            step: StepIx(i as u32),
            layer,
            at: self.place(Slot::Step(i)),
        };
        layer.iter().enumerate().map(node).collect()
    }

    /// Sweeps to and fro, so often that small graphs come to rest.
    fn sort(&mut self) {
        for _ in 0..4 {
            for l in 1..self.layers.len() {
                self.sort_layer(l, true);
            }
            for l in (0..self.layers.len().saturating_sub(1)).rev() {
                self.sort_layer(l, false);
            }
        }
    }

    fn sort_layer(&mut self, l: usize, forward: bool) {
        let mut keyed: Vec<(f64, Slot)> = self.layers[l]
            .iter()
            .map(|&slot| {
                let near: Vec<f64> = self
                    .links
                    .iter()
                    .filter_map(|&(first, a, b)| match forward {
                        true if first + 1 == l && b == slot => Some(self.row(l - 1, a)),
                        false if first == l && a == slot => Some(self.row(l + 1, b)),
                        _ => None,
                    })
                    .collect();
                let own = self.row(l, slot);
                (
                    if near.is_empty() {
                        own
                    } else {
                        near.iter().sum::<f64>() / near.len() as f64
                    },
                    slot,
                )
            })
            .collect();
        keyed.sort_by(|a, b| a.0.total_cmp(&b.0));
        self.layers[l] = keyed.into_iter().map(|(_, slot)| slot).collect();
    }

    /// Row of a slot, its layer being centred on the middle line.
    fn row(&self, l: usize, slot: Slot) -> f64 {
        let slots = &self.layers[l];
        let i = slots.iter().position(|&s| s == slot).unwrap_or_default();
        i as f64 - (slots.len() as f64 - 1.0) / 2.0
    }

    fn place(&self, slot: Slot) -> Point {
        let l = self
            .layers
            .iter()
            .position(|slots| slots.contains(&slot))
            .unwrap_or_default();
        let across = if self.layers.is_empty() {
            0.0
        } else {
            self.row(l, slot)
        };
        Point {
            along: l as f64,
            across,
        }
    }

    /// The way of a forward edge through the layers between.
    fn way(&self, edge: usize, ends: (Point, Point)) -> Vec<Point> {
        let bends = self
            .layers
            .iter()
            .enumerate()
            .filter(|(_, slots)| slots.contains(&Slot::Bend(edge)));
        let bends = bends.map(|(l, _)| Point {
            along: l as f64,
            across: self.row(l, Slot::Bend(edge)),
        });
        std::iter::once(ends.0)
            .chain(bends)
            .chain(std::iter::once(ends.1))
            .collect()
    }
}

/// Between the lowest row and the first lane, in rows.
const GAP: f64 = 0.5;

/// Height of the lane of one return, in rows.
const LANE: f64 = 0.5;

/// The way of a return: down to a lane of its own below everything, back along it, up again. Returns that do not
/// overlap share a lane.
fn back((from, to): (Point, Point), foot: f64, lanes: &mut Vec<(f64, f64)>) -> Vec<Point> {
    let (low, high) = (from.along.min(to.along), from.along.max(to.along));
    let lane = lanes
        .iter()
        .position(|&(a, b)| high < a || low > b)
        .unwrap_or_else(|| {
            lanes.push((low, high));
            lanes.len() - 1
        });
    if let Some((a, b)) = lanes.get_mut(lane) {
        (*a, *b) = (a.min(low), b.max(high));
    }
    let across = foot + GAP + (lane as f64 + 0.5) * LANE;
    let turn = |p: Point| Point {
        along: p.along,
        across,
    };
    vec![from, turn(from), turn(to), to]
}
