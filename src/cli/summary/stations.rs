//! Stations, for those who want to know more.

use super::Results;
use tankday_base::print::{Line, Style, fitted, number, padded, right};

/// How busy each station is and how long loads wait for it.
#[must_use]
pub(crate) fn stations(results: &Results<'_>) -> Vec<Line> {
    let heading = match results.many() {
        Some(_) => format!("STATIONS, {} drawn", results.each().one()),
        None => "STATIONS".to_owned(),
    };
    let mut lines = vec![Line::of(Style::Bold, heading).to_column(26).and(
        Style::Plain,
        cells(["loads", "busy", "mean wait", "in line"].map(str::to_owned)),
    )];
    for figure in &results.figures.stations {
        let name = results.shop.station_name(figure.station);
        let wait = figure
            .wait
            .mean()
            .map_or("-".to_owned(), |w| format!("{} min", number(w.in_minutes(), 1)));
        lines.push(Line::plain(format!(
            "  {}{}",
            padded(&fitted(name, 23), 24),
            cells([
                figure.served.to_string(),
                format!("{} %", number(figure.busy.in_percent(), 0)),
                wait,
                number(figure.in_line, 2),
            ])
        )));
    }
    lines
}

/// Loads, how busy, the mean wait, in line: in their columns.
fn cells(cells: [String; 4]) -> String {
    const WIDE: [usize; 4] = [8, 8, 12, 12];
    cells
        .iter()
        .zip(WIDE)
        .map(|(cell, wide)| right(cell, wide))
        .collect()
}
