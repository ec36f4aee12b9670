//! What to watch: a bold fact, and the deed on the next line.

use super::Results;
use tankday_base::print::{Line, Style, wrap};
use tankday_base::units::POINT;
use tankday_output::told::watch;
use tankday_record::Warning;

/// What a point is, under what first names one.
pub(super) fn point(columns: usize) -> impl Iterator<Item = Line> {
    let words = wrap(POINT, columns.saturating_sub(4)).into_iter();
    words.map(|w| Line::of(Style::Dim, format!("    {w}")))
}

/// Warnings in a summary.
const MOST: usize = 5;

/// Whether the warnings that are told name points.
pub(super) fn says_points(results: &Results<'_>) -> bool {
    told(results)
        .into_iter()
        .any(|w| watch(results, w).0.contains(" points"))
}

/// What is told here: the worst few, and whatever can hurt somebody or passes a limit that was set.
fn told<'a>(results: &'a Results<'_>) -> Vec<&'a Warning> {
    let all = results.figures.warnings.iter().enumerate();
    let told = all.filter(|(nth, w)| *nth < MOST || w.kind.is_pressing());
    told.map(|(_, w)| w).collect()
}

pub(super) fn lines(results: &Results<'_>) -> Vec<Line> {
    let mut lines = vec![Line::of(Style::Watch, "WATCH")];
    let warnings = &results.figures.warnings;
    if warnings.is_empty() {
        lines.push(Line::plain(
            "  Nothing unusual. The usual cautions stand on the day sheet.",
        ));
    }
    let told = told(results);
    for warning in &told {
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
    if warnings.len() > told.len() {
        lines.push(Line::plain(format!(
            "    and {} more: see summary.json",
            warnings.len() - told.len()
        )));
    }
    if says_points(results) {
        lines.extend(point(80));
    }
    lines
}
