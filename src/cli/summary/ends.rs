//! What sets the end, and what would help.

use super::Results;
use tankday_base::print::{Line, Style, columns_of, how_long, padded, wrap};
use tankday_output::narrative::{Ends, ends, hours_early, in_minutes};

/// Stands for a blank at which no line ends, between a number and its unit.
const TOGETHER: &str = "\u{a0}";

/// Easings that are named.
const NAMED: usize = 3;

/// In one line where every order is hours early.
pub(super) fn lines(results: &Results<'_>, columns: usize) -> Vec<Line> {
    match hours_early(results) {
        Some(early) => {
            let words = format!(
                "  every order is at least {} early; --verbose tells",
                how_long(early)
            );
            vec![Line::of(Style::Bold, HEAD).and(Style::Plain, words)]
        }
        None => whole(results, columns),
    }
}

/// All of it, where it was told in one line.
pub(crate) fn folded(results: &Results<'_>, columns: usize) -> Vec<Line> {
    match hours_early(results) {
        Some(_) => whole(results, columns),
        None => Vec::new(),
    }
}

const HEAD: &str = "WHAT SETS THE END";

fn whole(results: &Results<'_>, columns: usize) -> Vec<Line> {
    let Some(ends) = ends(results) else {
        return Vec::new();
    };
    let words = format!("  {}", ends.headline());
    let mut lines = match HEAD.len() + words.chars().count() <= columns {
        true => vec![Line::of(Style::Bold, HEAD).and(Style::Plain, words)],
        false => {
            let mut lines = vec![Line::of(Style::Bold, HEAD)];
            let below = wrap(words.trim(), columns.saturating_sub(2));
            lines.extend(below.into_iter().map(|l| Line::plain(format!("  {l}"))));
            lines
        }
    };
    lines.extend(all_causes(&ends, columns));
    lines.extend(helps(&ends, columns));
    lines
}

fn all_causes(ends: &Ends, columns: usize) -> Vec<Line> {
    let said = ends.causes.iter().filter(|(_, m)| *m > 0);
    let words: Vec<String> = said
        .map(|(cause, m)| format!("{cause} {}", in_minutes(*m).replace(' ', TOGETHER)))
        .collect();
    let lines = wrap(&words.join(", "), columns - 2);
    lines
        .into_iter()
        .map(|l| Line::of(Style::Dim, format!("  {}", l.replace(TOGETHER, " "))))
        .collect()
}

fn helps(ends: &Ends, columns: usize) -> Vec<Line> {
    let named = || ends.helps.iter().take(NAMED);
    let widest = named().map(|(what, _)| columns_of(what)).max().unwrap_or(0);
    let row = |(what, gained): &(String, String)| {
        let gained = wrap(gained, columns.saturating_sub(widest + 4));
        let whats = std::iter::once(what.as_str()).chain(std::iter::repeat(""));
        let line =
            |(what, gained): (&str, String)| Line::plain(format!("  {}  {gained}", padded(what, widest)));
        whats.zip(gained).map(line).collect::<Vec<Line>>()
    };
    named().flat_map(row).collect()
}
