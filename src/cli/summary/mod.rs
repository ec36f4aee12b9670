//! The summary: the answer first, then figures, what to watch, orders, the day in signs, what sets its end.

mod baths;
mod day;
mod ends;
mod orders;
mod spent;
mod stations;
mod waits;
mod watch;

pub(crate) use ends::folded as what_sets_the_end;
pub(crate) use stations::stations;
pub(crate) use tankday_output::narrative::{Promise, Results, Sure, promises, watch as watch_words};
pub(crate) use waits::waits;

use super::terminal::Terminal;
use tankday_base::print::{Line, Style, columns_of, fitted, wrap};
use tankday_output::narrative::{self, three};

/// The answer alone: one sentence, and one for each order at risk.
#[must_use]
pub(crate) fn answer(results: &Results<'_>, columns: usize) -> Vec<Line> {
    let lines = narrative::answer(results).into_iter();
    lines.flat_map(|line| wrapped(line, columns)).collect()
}

/// What to watch, the same for every command that tells of a day.
#[must_use]
pub(crate) fn warned(results: &Results<'_>, columns: usize) -> Vec<Line> {
    watch::lines(results, columns)
}

/// A line as it is if it fits; otherwise broken into several, all as its first words are.
fn wrapped(line: Line, columns: usize) -> Vec<Line> {
    if line.width() <= columns {
        return vec![line];
    }
    let style = line.pieces().next().map_or(Style::Plain, |(style, _)| style);
    let words: String = line.pieces().map(|(_, words)| words).collect();
    let broken = wrap(&words, columns).into_iter();
    broken.map(|w| Line::of(style, w)).collect()
}

/// The whole summary.
#[must_use]
pub(crate) fn lines(results: &Results<'_>, terminal: Terminal) -> Vec<Line> {
    let columns = terminal.columns;
    let promises = promises(results);
    let mut lines = head(results, columns);
    lines.extend(answer(results, columns));
    lines.push(Line::empty());
    lines.extend(three_figures(results, &promises));
    for block in [
        warned(results, columns),
        orders::lines(results, &promises, columns),
        day::lines(results, columns),
        baths::lines(results, columns),
        ends::lines(results, columns),
        spent::lines(results, columns),
    ] {
        if !block.is_empty() {
            lines.push(Line::empty());
            lines.extend(block);
        }
    }
    lines
}

/// A rule across the page.
#[must_use]
pub(crate) fn rule(columns: usize) -> Line {
    Line::plain("-".repeat(columns))
}

fn head(results: &Results<'_>, columns: usize) -> Vec<Line> {
    let (when, how) = (results.when(), results.how());
    let title = &results.shop.title;
    let right = columns.saturating_sub(columns_of(&how));
    let told = |words: String| {
        Line::of(Style::Bold, words)
            .to_column(right)
            .and(Style::Dim, how.clone())
    };
    let whole = format!("{title}, {when}");
    if columns_of(&whole) + 2 <= right {
        return vec![told(whole), rule(columns)];
    }
    let title = Line::of(Style::Bold, fitted(title, columns));
    vec![title, told(when), rule(columns)]
}

fn three_figures(results: &Results<'_>, promises: &[Promise]) -> Vec<Line> {
    let figures = three(results, promises);
    figures
        .iter()
        .map(|f| figure(&f.name, &f.value, &f.note))
        .collect()
}

fn figure(name: &str, value: &str, note: &str) -> Line {
    Line::plain(format!("  {name:<14}"))
        .and(Style::Bold, format!(" {value:>9}"))
        .and(Style::Plain, "  ")
        .and(Style::Dim, note)
}

#[cfg(test)]
mod tests;
