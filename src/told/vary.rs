//! What is told of a sweep: where it turns.

use crate::study::Measure;
use crate::sweep::{Sweep, best_cells, turning};

/// Where the figures that matter turn, each in a sentence or two.
#[must_use]
pub fn turns(sweep: &Sweep) -> Vec<String> {
    let judged = Measure::ALL
        .iter()
        .filter(|m| m.is_headline() || **m == Measure::LateOrders);
    let mut words: Vec<String> = judged
        .filter_map(|m| turning(sweep, *m))
        .map(|t| t.text)
        .collect();
    words.extend(
        best_cells(sweep)
            .into_iter()
            .filter(|b| b.measure.is_headline())
            .map(|b| b.text),
    );
    if words.is_empty() {
        words.push(
            "Nothing turns: no figure has a best place inside, or bends, by more than its noise.".to_owned(),
        );
    }
    words
}
