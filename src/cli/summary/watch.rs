//! What to watch: a bold fact, and the deed on the next line.

use super::Results;
use crate::print::{Line, Style, wrap};
use crate::told::watch;

/// Warnings in a summary.
const MOST: usize = 5;

pub(super) fn lines(results: &Results<'_>) -> Vec<Line> {
    let mut lines = vec![Line::of(Style::Watch, "WATCH")];
    let warnings = &results.figures.warnings;
    if warnings.is_empty() {
        lines.push(Line::plain(
            "  Nothing unusual. The usual cautions stand on the day sheet.",
        ));
    }
    for warning in warnings.iter().take(MOST) {
        let (fact, deed) = watch(results, warning);
        for (i, part) in wrap(&fact, 76).into_iter().enumerate() {
            let mark = if i == 0 { "  ! " } else { "    " };
            lines.push(Line::of(Style::Watch, mark).and(Style::Plain, part));
        }
        lines.extend(
            wrap(deed, 76)
                .into_iter()
                .map(|d| Line::plain(format!("    {d}"))),
        );
    }
    if warnings.len() > MOST {
        lines.push(Line::plain(format!(
            "    and {} more: see summary.json",
            warnings.len() - MOST
        )));
    }
    lines
}
