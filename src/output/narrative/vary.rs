//! What is told of a sweep: where it turns.

use tankday_study::sweep::{Sweep, statements};

/// Where the figures that matter turn, each in a sentence or two, and which are best at the edge of what was tried.
#[must_use]
pub fn turns(sweep: &Sweep) -> Vec<String> {
    let words: Vec<String> = statements(sweep).into_iter().map(|s| s.text).collect();
    if words.is_empty() {
        vec![tankday_study::sweep::NOTHING_TURNS.to_owned()]
    } else {
        words
    }
}
