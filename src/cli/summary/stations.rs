//! Stations, for those who want to know more.

use super::Results;
use tankday_base::print::{Line, Style, fitted, number, padded};

/// How busy each station is and how long loads wait for it.
#[must_use]
pub(crate) fn stations(results: &Results<'_>) -> Vec<Line> {
    let mut lines = vec![Line::of(Style::Bold, "STATIONS").to_column(26).and(
        Style::Plain,
        format!("{:>8}{:>8}{:>12}{:>12}", "loads", "busy", "mean wait", "in line"),
    )];
    for figure in &results.figures.stations {
        let name = results.shop.station_name(figure.station);
        let wait = figure
            .wait
            .mean()
            .map_or("-".to_owned(), |w| format!("{} min", number(w.in_minutes(), 1)));
        lines.push(Line::plain(format!(
            "  {}{:>8}{:>8}{wait:>12}{:>12}",
            padded(&fitted(name, 23), 24),
            figure.served,
            format!("{} %", number(figure.busy.in_percent(), 0)),
            number(figure.in_line, 2),
        )));
    }
    lines
}
