//! The graph itself, and what can be read off it.

use crate::shop::{Route, StepIx};
use crate::units::{Share, Span};
use petgraph::algo::{tarjan_scc, toposort};
use petgraph::graph::{DiGraph, NodeIndex};
use petgraph::visit::{Dfs, EdgeFiltered, EdgeRef, Reversed};
use petgraph::{Direction, graph::EdgeReference};

/// What leads from one step to another.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Edge {
    /// The second must come after the first.
    Forward,
    /// So large a share of loads goes back from the first to the second.
    Return(Share),
}

/// The steps of one route as a graph. Edges that name a step which the route does not have are left out.
#[derive(Debug, Clone)]
pub struct ProcessGraph {
    graph: DiGraph<StepIx, Edge>,
}

fn is_forward(edge: EdgeReference<'_, Edge>) -> bool {
    *edge.weight() == Edge::Forward
}

impl ProcessGraph {
    /// The graph of a route.
    #[must_use]
    pub fn of(route: &Route) -> Self {
        let mut graph = DiGraph::new();
        let nodes: Vec<NodeIndex> = (0..route.steps.len())
            .map(|i| graph.add_node(StepIx(i as u32)))
            .collect();
        for (step, &node) in route.steps.iter().zip(&nodes) {
            for before in step.after.iter().filter_map(|b| nodes.get(b.index())) {
                graph.update_edge(*before, node, Edge::Forward);
            }
        }
        for (step, &node) in route.steps.iter().zip(&nodes) {
            let back = step
                .retry
                .and_then(|r| Some((nodes.get(r.back_to.index())?, r.share)));
            if let Some((&to, share)) = back {
                graph.add_edge(node, to, Edge::Return(share));
            }
        }
        Self { graph }
    }

    /// Number of steps.
    #[must_use]
    pub fn len(&self) -> usize {
        self.graph.node_count()
    }

    /// Whether there is no step at all.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }

    /// All steps, in the order of the route.
    pub fn steps(&self) -> impl Iterator<Item = StepIx> + '_ {
        self.graph.node_indices().map(|n| self.step(n))
    }

    /// All edges, forward ones first, each as (from, to, kind).
    pub fn edges(&self) -> impl Iterator<Item = (StepIx, StepIx, Edge)> + '_ {
        self.graph
            .edge_references()
            .map(|e| (self.step(e.source()), self.step(e.target()), *e.weight()))
    }

    /// Steps that need no other before them.
    #[must_use]
    pub fn starts(&self) -> Vec<StepIx> {
        self.without(Direction::Incoming)
    }

    /// Steps after which no other must come.
    #[must_use]
    pub fn ends(&self) -> Vec<StepIx> {
        self.without(Direction::Outgoing)
    }

    /// Whether `from` must be done, directly or through others, before `to`; a step does not come before itself
    /// unless it stands in a loop of forward edges.
    #[must_use]
    pub fn comes_before(&self, from: StepIx, to: StepIx) -> bool {
        self.next_of(from)
            .any(|n| n == to || self.downstream(n).contains(&to))
    }

    /// This step and all that must come after it, in the order of the route.
    #[must_use]
    pub fn downstream(&self, from: StepIx) -> Vec<StepIx> {
        let forward = EdgeFiltered::from_fn(&self.graph, is_forward);
        self.sorted(Dfs::new(&forward, node(from)), |dfs| dfs.next(&forward))
    }

    /// This step and all that must come before it, in the order of the route.
    #[must_use]
    pub fn upstream(&self, from: StepIx) -> Vec<StepIx> {
        let forward = EdgeFiltered::from_fn(&self.graph, is_forward);
        let against = Reversed(&forward);
        self.sorted(Dfs::new(against, node(from)), |dfs| dfs.next(against))
    }

    /// Pairs of steps that may be done in either order.
    #[must_use]
    pub fn in_either_order(&self) -> Vec<(StepIx, StepIx)> {
        let steps: Vec<StepIx> = self.steps().collect();
        let below: Vec<Vec<StepIx>> = steps.iter().map(|&s| self.downstream(s)).collect();
        let mut pairs = Vec::new();
        for (i, (&a, below_a)) in steps.iter().zip(&below).enumerate() {
            for (&b, below_b) in steps.iter().zip(&below).skip(i + 1) {
                if !below_a.contains(&b) && !below_b.contains(&a) {
                    pairs.push((a, b));
                }
            }
        }
        pairs
    }

    /// Loops of forward edges: groups of steps of which each waits for another of the group, so that none can begin.
    #[must_use]
    pub fn loops(&self) -> Vec<Vec<StepIx>> {
        let forward = EdgeFiltered::from_fn(&self.graph, is_forward);
        let groups = tarjan_scc(&forward).into_iter();
        let looped = groups.filter(|g| g.len() > 1 || g.iter().any(|&n| self.follows_itself(n)));
        let mut loops: Vec<Vec<StepIx>> = looped
            .map(|g| {
                let mut steps: Vec<StepIx> = g.into_iter().map(|n| self.step(n)).collect();
                steps.sort_unstable();
                steps
            })
            .collect();
        loops.sort();
        loops
    }

    /// The steps in an order in which they may be done; none if there is a loop of forward edges.
    #[must_use]
    pub fn in_order(&self) -> Option<Vec<StepIx>> {
        let forward = EdgeFiltered::from_fn(&self.graph, is_forward);
        let order = toposort(&forward, None).ok()?;
        Some(order.into_iter().map(|n| self.step(n)).collect())
    }

    /// The longest chain of steps of which each must follow the one before, and the sum of their times; of equally
    /// long ones the first in the order of the route. None if there is a loop of forward edges; empty without steps.
    ///
    /// No order takes less, whatever is done at the same time. A load does *all* of its steps one after the other, so
    /// where some may be done in either order it needs more: see [`time_for_part`](super::time_for_part).
    #[must_use]
    pub fn longest_path(&self, time: impl Fn(StepIx) -> Span) -> Option<(Span, Vec<StepIx>)> {
        let mut best: Vec<(Span, Option<StepIx>)> = vec![(Span::ZERO, None); self.len()];
        for step in self.in_order()? {
            let before = self.before(step).map(|b| (total(&best, b), Some(b)));
            let (longest, from) = before.fold((Span::ZERO, None), |a, b| if later(b, a) { b } else { a });
            if let Some(entry) = best.get_mut(step.index()) {
                *entry = (longest + time(step), from);
            }
        }
        let last = self.steps().fold(None, |a: Option<StepIx>, s| match a {
            Some(a) if total(&best, a) >= total(&best, s) => Some(a),
            _ => Some(s),
        });
        let Some(last) = last else {
            return Some((Span::ZERO, Vec::new()));
        };
        let origin = |s: &StepIx| best.get(s.index()).and_then(|b| b.1);
        let mut path: Vec<StepIx> = std::iter::successors(Some(last), origin).collect();
        path.reverse();
        Some((total(&best, last), path))
    }

    /// Steps that must come right before it, in the order of the route.
    pub fn before(&self, step: StepIx) -> impl Iterator<Item = StepIx> {
        self.neighbours(step, Direction::Incoming).into_iter()
    }

    /// Steps that must come right after it, in the order of the route.
    pub fn next_of(&self, step: StepIx) -> impl Iterator<Item = StepIx> {
        self.neighbours(step, Direction::Outgoing).into_iter()
    }

    fn neighbours(&self, step: StepIx, way: Direction) -> Vec<StepIx> {
        let edges = self
            .graph
            .edges_directed(node(step), way)
            .filter(|e| is_forward(*e));
        let mut steps: Vec<StepIx> = edges
            .map(|e| {
                self.step(if way == Direction::Incoming {
                    e.source()
                } else {
                    e.target()
                })
            })
            .collect();
        steps.sort_unstable();
        steps
    }

    fn without(&self, way: Direction) -> Vec<StepIx> {
        self.steps()
            .filter(|&s| self.neighbours(s, way).is_empty())
            .collect()
    }

    fn follows_itself(&self, n: NodeIndex) -> bool {
        self.graph.edges_connecting(n, n).any(is_forward)
    }

    fn step(&self, n: NodeIndex) -> StepIx {
        self.graph.node_weight(n).copied().unwrap_or_default()
    }

    fn sorted<D>(&self, mut walk: D, mut next: impl FnMut(&mut D) -> Option<NodeIndex>) -> Vec<StepIx> {
        let mut steps: Vec<StepIx> = std::iter::from_fn(|| next(&mut walk))
            .map(|n| self.step(n))
            .collect();
        steps.sort_unstable();
        steps
    }
}

fn node(step: StepIx) -> NodeIndex {
    NodeIndex::new(step.index())
}

fn total(best: &[(Span, Option<StepIx>)], step: StepIx) -> Span {
    best.get(step.index()).map_or(Span::ZERO, |b| b.0)
}

/// A predecessor counts as soon as there is one; of equal ones the first stays.
fn later(new: (Span, Option<StepIx>), old: (Span, Option<StepIx>)) -> bool {
    old.1.is_none() || new.0 > old.0
}
