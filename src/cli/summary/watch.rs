//! What to watch: a bold fact, and the deed on the next line.

use super::Results;
use tankday_base::print::{Line, Style, wrap};
use tankday_base::units::POINT;
use tankday_output::narrative::watch;

/// What a point is, under what first names one.
pub(super) fn point(columns: usize) -> impl Iterator<Item = Line> {
    let words = wrap(POINT, columns.saturating_sub(4)).into_iter();
    words.map(|w| Line::of(Style::Dim, format!("    {w}")))
}

/// Whether the warnings that are told name points.
pub(super) fn says_points(results: &Results<'_>) -> bool {
    let mut warnings = results.figures.warnings.iter();
    warnings.any(|w| watch(results, w).0.contains(" points"))
}

pub(super) fn lines(results: &Results<'_>, columns: usize) -> Vec<Line> {
    let mut lines = vec![Line::of(Style::Watch, "WATCH")];
    let warnings = &results.figures.warnings;
    if warnings.is_empty() {
        lines.push(Line::plain(
            "  Nothing unusual. The usual cautions stand on the day sheet.",
        ));
    }
    for warning in warnings {
        let (fact, deed) = watch(results, warning);
        for (i, part) in wrap(&fact, columns.saturating_sub(4)).into_iter().enumerate() {
            let mark = if i == 0 { "  ! " } else { "    " };
            lines.push(Line::of(Style::Watch, mark).and(Style::Plain, part));
        }
        lines.extend(
            wrap(deed, columns.saturating_sub(4))
                .into_iter()
                .map(|d| Line::plain(format!("    {d}"))),
        );
    }
    if says_points(results) {
        lines.extend(point(columns));
    }
    lines
}
