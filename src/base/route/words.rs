//! What a route asks for, in a sentence or two.

use super::graph::{Edge, ProcessGraph};
use super::time::{Guess, step_time, time_for_part};
use crate::print::how_long;
use crate::shop::{PartId, Route, RouteId, Shop, StepIx, StepRef};
use crate::units::Span;

/// How many steps, and the shortest possible time in the shop for one piece: all steps that concern it, one after the
/// other. Where the longest chain of steps that must follow each other is shorter, it is named too.
#[must_use]
pub fn summary(shop: &Shop, id: RouteId) -> String {
    let Some(route) = shop.routes.get(id.index()) else {
        return String::new();
    };
    let steps = match route.steps.len() {
        1 => "1 step".to_owned(),
        n => format!("{n} steps"),
    };
    let ordered = shop.orders.iter().filter(|o| o.route == id).map(|o| o.part);
    let parts: Vec<PartId> = if ordered.clone().count() > 0 {
        ordered.collect()
    } else {
        (0..shop.parts.len() as u32).map(PartId).collect()
    };
    let least = parts
        .iter()
        .map(|&p| time_for_part(shop, id, p, 1, Guess::Least))
        .min()
        .unwrap_or_default();
    let graph = ProcessGraph::of(route);
    let chain = graph.longest_path(|step| step_time(shop, StepRef { route: id, step }, 1, Guess::Least));
    let mut text = format!("{steps}; one piece needs at least {} in the shop.", spoken(least));
    if let Some((longest, path)) = chain.filter(|c| c.0 < least) {
        let names = names(route, &path);
        text.push_str(&format!(
            " The longest chain of steps, {names}, takes {} of it.",
            spoken(longest)
        ));
    }
    text
}

/// The steps in order, what only some parts pass, and what goes back.
#[must_use]
pub fn description(shop: &Shop, id: RouteId) -> String {
    let Some(route) = shop.routes.get(id.index()) else {
        return String::new();
    };
    let graph = ProcessGraph::of(route);
    let all: Vec<StepIx> = graph.steps().collect();
    let mut text = format!("Steps in order: {}.", names(route, &all));
    for step in route.steps.iter().filter(|s| !s.only.is_empty()) {
        let parts = step
            .only
            .iter()
            .filter_map(|p| shop.parts.get(p.index()))
            .map(|p| p.name.clone());
        let parts: Vec<String> = parts.collect();
        text.push_str(&format!(
            " Only {} go through {}.",
            parts.join(" and "),
            step.name
        ));
    }
    for (from, to, edge) in graph.edges() {
        if let Edge::Return(share) = edge {
            let (from, to) = (names(route, &[from]), names(route, &[to]));
            text.push_str(&format!(
                " {:.0} per cent go back from {from} to {to}.",
                share.in_percent()
            ));
        }
    }
    text
}

fn names(route: &Route, steps: &[StepIx]) -> String {
    let known = steps.iter().filter_map(|s| route.steps.get(s.index()));
    known.map(|s| s.name.as_str()).collect::<Vec<_>>().join(", ")
}

/// Minutes begun count whole.
fn spoken(span: Span) -> String {
    how_long(Span::whole_minutes(span.in_minutes().ceil() as i64))
}
