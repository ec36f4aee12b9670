//! What is wrong with a route as a graph.

use super::graph::ProcessGraph;
use crate::shop::{Route, StepIx};

/// One thing wrong with a route; names steps by their place in it.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum RouteProblem {
    /// No step at all.
    NoSteps,
    /// A step is said to come after one, or to send back to one, that the route does not have.
    NoSuchStep {
        /// Whose `after` or `back to` it is.
        step: StepIx,
        /// What it names.
        names: StepIx,
    },
    /// Each of these steps waits for another of them: none can ever begin. One alone waits for itself.
    Loop {
        /// The steps, in the order of the route.
        steps: Vec<StepIx>,
    },
    /// This step can never begin, since it waits for steps in a loop.
    Unreachable {
        /// The step.
        step: StepIx,
        /// One of the steps in a loop that must come before it.
        behind: StepIx,
    },
    /// From this step no load ever gets to an end of the route.
    NoWayOut {
        /// The step.
        step: StepIx,
    },
    /// Inspection sends every load back: none ever leaves.
    AlwaysBack {
        /// The inspecting step.
        step: StepIx,
    },
    /// Inspection sends back to a step that does not come before it.
    BackNotUpstream {
        /// The inspecting step.
        step: StepIx,
        /// Where it sends to.
        back_to: StepIx,
    },
}

impl RouteProblem {
    /// The step at which it shows best; none if there is no step.
    #[must_use]
    pub fn step(&self) -> Option<StepIx> {
        match self {
            Self::NoSteps => None,
            Self::Loop { steps } => steps.last().copied(),
            Self::NoSuchStep { step, .. }
            | Self::Unreachable { step, .. }
            | Self::NoWayOut { step }
            | Self::AlwaysBack { step }
            | Self::BackNotUpstream { step, .. } => Some(*step),
        }
    }

    /// A sentence for people, with the names of the steps.
    #[must_use]
    pub fn message(&self, route: &Route) -> String {
        let name = |s: &StepIx| {
            let known = route.steps.get(s.index());
            known.map_or_else(|| format!("step {}", s.0 + 1), |step| format!("`{}`", step.name))
        };
        match self {
            Self::NoSteps => format!("route `{}` has no steps", route.name),
            Self::NoSuchStep { step, names } => {
                format!(
                    "{} names step {}, which the route does not have",
                    name(step),
                    names.0 + 1
                )
            }
            Self::Loop { steps } if steps.len() == 1 => {
                format!("{} waits for itself and can never begin", list(steps, name))
            }
            Self::Loop { steps } => {
                format!(
                    "{} wait for each other: none of them can ever begin",
                    list(steps, name)
                )
            }
            Self::Unreachable { step, behind } => {
                format!(
                    "{} can never begin: it comes after {}, which never ends",
                    name(step),
                    name(behind)
                )
            }
            Self::NoWayOut { step } => {
                format!("from {} no load ever gets to the end of the route", name(step))
            }
            Self::AlwaysBack { step } => format!("{} sends every load back: none ever leaves", name(step)),
            Self::BackNotUpstream { step, back_to } => {
                format!(
                    "{} sends back to {}, which does not come before it",
                    name(step),
                    name(back_to)
                )
            }
        }
    }
}

fn list(steps: &[StepIx], name: impl Fn(&StepIx) -> String) -> String {
    let names: Vec<String> = steps.iter().map(name).collect();
    match names.split_last() {
        Some((last, [])) => last.clone(),
        Some((last, rest)) => format!("{} and {last}", rest.join(", ")),
        None => String::new(),
    }
}

/// Everything wrong with a route as a graph, in the order of its steps.
///
/// Sending back to the inspecting step itself is allowed: the inspection is repeated.
#[must_use]
pub fn problems(route: &Route) -> Vec<RouteProblem> {
    if route.steps.is_empty() {
        return vec![RouteProblem::NoSteps];
    }
    let graph = ProcessGraph::of(route);
    let mut found = Vec::new();
    let looped: Vec<StepIx> = graph.loops().into_iter().flatten().collect();
    found.extend(
        graph
            .loops()
            .into_iter()
            .map(|steps| RouteProblem::Loop { steps }),
    );
    for step in graph.steps() {
        missing(route, step, &mut found);
        retries(route, &graph, step, &mut found);
        if looped.contains(&step) {
            continue;
        }
        if let Some(&behind) = graph.upstream(step).iter().find(|s| looped.contains(s)) {
            found.push(RouteProblem::Unreachable { step, behind });
        } else if stuck(&graph, step) {
            found.push(RouteProblem::NoWayOut { step });
        }
    }
    found.sort_by_key(|p| p.step());
    found
}

fn missing(route: &Route, step: StepIx, found: &mut Vec<RouteProblem>) {
    let Some(written) = route.steps.get(step.index()) else {
        return;
    };
    let named = written
        .after
        .iter()
        .copied()
        .chain(written.retry.map(|r| r.back_to));
    let absent = named.filter(|n| n.index() >= route.steps.len());
    found.extend(absent.map(|names| RouteProblem::NoSuchStep { step, names }));
}

fn always_back(route: &Route, step: StepIx) -> bool {
    let retry = route.steps.get(step.index()).and_then(|s| s.retry);
    retry.is_some_and(|r| r.share.in_fraction() >= 1.0)
}

fn retries(route: &Route, graph: &ProcessGraph, step: StepIx, found: &mut Vec<RouteProblem>) {
    let Some(retry) = route.steps.get(step.index()).and_then(|s| s.retry) else {
        return;
    };
    if always_back(route, step) {
        found.push(RouteProblem::AlwaysBack { step });
    }
    let back_to = retry.back_to;
    let known = back_to.index() < route.steps.len();
    if known && back_to != step && !graph.comes_before(back_to, step) {
        found.push(RouteProblem::BackNotUpstream { step, back_to });
    }
}

/// Whether no end of the route lies downstream.
fn stuck(graph: &ProcessGraph, step: StepIx) -> bool {
    let ends = graph.ends();
    !graph.downstream(step).iter().any(|s| ends.contains(s))
}
