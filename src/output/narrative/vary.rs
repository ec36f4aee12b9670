//! What is told of a sweep: where it turns.

use tankday_study::Measure;
use tankday_study::sweep::{Sweep, best_cells, edge_words, turning};

/// Where the figures that matter turn, each in a sentence or two, and which are best at the edge of what was tried.
#[must_use]
pub fn turns(sweep: &Sweep) -> Vec<String> {
    let judged = |m: Measure| m.is_headline() || m == Measure::LateOrders;
    let mut words: Vec<String> = Measure::ALL
        .iter()
        .filter(|m| judged(**m))
        .filter_map(|m| turning(sweep, *m))
        .map(|t| t.text)
        .collect();
    words.extend(
        best_cells(sweep)
            .into_iter()
            .filter(|b| b.measure.is_headline())
            .map(|b| b.text),
    );
    words.extend(edge_words(sweep, judged));
    if words.is_empty() {
        words.push(
            "Nothing turns: no figure has a best place inside, or bends, by more than its noise.".to_owned(),
        );
    }
    words
}
