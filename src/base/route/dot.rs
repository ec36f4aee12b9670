//! The graph as text in the DOT language.

use super::graph::{Edge, ProcessGraph};
use crate::shop::{Hands, Route, Shop, Step};

impl ProcessGraph {
    /// The graph in the DOT language, left to right: a box for each step with its stations and hands, an arrow for what
    /// must come after, a dashed one with its share for what goes back.
    #[must_use]
    pub fn dot(&self, shop: &Shop, route: &Route) -> String {
        let mut out = format!(
            "digraph {} {{\n    rankdir=LR;\n    node [shape=box];\n",
            quoted(&route.name)
        );
        for (i, step) in route.steps.iter().enumerate() {
            out.push_str(&format!("    s{i} [label={}];\n", quoted(&label(shop, step))));
        }
        for (from, to, edge) in self.edges() {
            let (from, to) = (from.0, to.0);
            match edge {
                Edge::Forward => {
                    let note = route.steps.get(to as usize).map(waits).unwrap_or_default();
                    out.push_str(&format!("    s{from} -> s{to}{note};\n"));
                }
                Edge::Return(share) => {
                    let percent = format!("{} %", tidy(share.in_percent()));
                    let look = format!("style=dashed, constraint=false, label={}", quoted(&percent));
                    out.push_str(&format!("    s{from} -> s{to} [{look}];\n"));
                }
            }
        }
        out.push_str("}\n");
        out
    }
}

/// Name, stations, hands and parts, one a line.
fn label(shop: &Shop, step: &Step) -> String {
    let names = |ids: Vec<Option<&str>>| ids.into_iter().flatten().collect::<Vec<_>>().join(" or ");
    let stations = step
        .stations
        .iter()
        .map(|s| shop.stations.get(s.index()).map(|s| s.name.as_str()))
        .collect();
    let hands = match step.hands {
        Hands::None => "no hands",
        Hands::Ends => "hands at the ends",
        Hands::Throughout => "hands throughout",
    };
    let mut lines = vec![step.name.clone(), names(stations), hands.to_owned()];
    if !step.only.is_empty() {
        let parts = step
            .only
            .iter()
            .map(|p| shop.parts.get(p.index()).map(|p| p.name.as_str()))
            .collect();
        lines.push(format!("only {}", names(parts)));
    }
    lines.retain(|l| !l.is_empty());
    lines.join("\n")
}

fn waits(step: &Step) -> String {
    match step.within {
        _ if step.at_once => " [label=\"at once\"]".to_owned(),
        Some(limit) => format!(
            " [label={}]",
            quoted(&format!("within {} min", tidy(limit.in_minutes())))
        ),
        None => String::new(),
    }
}

/// At most two decimals, none that say nothing.
fn tidy(value: f64) -> String {
    let text = format!("{value:.2}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// A quoted string of the DOT language, in which only the quote must be escaped; a line break is written `\n`. A
/// backslash is doubled so that a label shows it.
fn quoted(text: &str) -> String {
    format!(
        "\"{}\"",
        text.replace('\\', "\\\\")
            .replace('"', "\\\"")
            .replace('\n', "\\n")
    )
}
