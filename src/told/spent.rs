//! What the day costs and leaves behind.

use super::Results;
use crate::print::{litres, number};

/// Kinds of cost, in the shop's currency, those of nothing left out.
#[must_use]
pub fn kinds(results: &Results<'_>) -> Vec<(&'static str, f64)> {
    let cost = &results.figures.cost;
    let kinds = [
        ("power", cost.power),
        ("water", cost.water),
        ("chemicals", cost.chemicals),
        ("filter media", cost.filter),
        ("waste", cost.waste),
        ("hands", cost.hands),
    ];
    kinds.into_iter().filter(|(_, money)| *money >= 0.005).collect()
}

/// Streams of waste, in words; empty if nothing is left behind.
#[must_use]
pub fn waste(results: &Results<'_>) -> Vec<String> {
    let waste = &results.figures.waste;
    let mut streams = Vec::new();
    let mut add = |some: bool, words: String| {
        if some {
            streams.push(words);
        }
    };
    add(
        waste.rinse.in_litres() >= 0.05,
        format!("{} of spent rinse", litres(waste.rinse)),
    );
    add(
        waste.bath.in_litres() >= 0.05,
        format!("{} of bath", litres(waste.bath)),
    );
    let sludge = waste.sludge.in_grams();
    add(sludge >= 0.5, format!("{} g of dry sludge", number(sludge, 0)));
    let media = waste.media;
    let filters = if media == 1 {
        "filter medium"
    } else {
        "filter media"
    };
    add(media > 0, format!("{media} {filters}"));
    streams
}
