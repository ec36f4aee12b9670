//! What sets the end, and what would help.

use super::Results;
use tankday_base::print::{Line, Style, columns_of, padded, wrap};
use tankday_output::narrative::{Ends, ends};

/// Easings that are named.
const NAMED: usize = 3;

pub(super) fn lines(results: &Results<'_>, columns: usize) -> Vec<Line> {
    let Some(ends) = ends(results) else {
        return Vec::new();
    };
    let (first, minutes) = &ends.first;
    let words = format!("  {first}, {minutes} of {}", ends.busy());
    let head = Line::of(Style::Bold, "WHAT SETS THE END").and(Style::Plain, words);
    let mut lines = super::wrapped(head, columns);
    lines.extend(all_causes(&ends, columns));
    lines.extend(helps(&ends));
    lines
}

fn all_causes(ends: &Ends, columns: usize) -> Vec<Line> {
    let said = ends.causes.iter().filter(|(_, m)| *m > 0);
    let words: Vec<String> = said.map(|(cause, m)| format!("{cause} {m}")).collect();
    let lines = wrap(&words.join(", "), columns - 2);
    lines
        .into_iter()
        .map(|l| Line::of(Style::Dim, format!("  {l}")))
        .collect()
}

fn helps(ends: &Ends) -> Vec<Line> {
    let named = || ends.helps.iter().take(NAMED);
    let widest = named().map(|(what, _)| columns_of(what)).max().unwrap_or(0);
    let line =
        |(what, gained): &(String, String)| Line::plain(format!("  {}  {gained}", padded(what, widest)));
    named().map(line).collect()
}
