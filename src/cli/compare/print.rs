//! A comparison for the terminal.

use super::Told;
use crate::summary::rule;
use tankday_base::print::{Line, Style, columns_of, fitted, list, number, padded, right, wrap};
use tankday_output::narrative::{
    Assumed, assumed, baths_left, better_on, decimals, following, following_notes, hangs_on, paid, rules_say,
    short, standings, unsharpened,
};
use tankday_study::compare::{Assumption, Comparison, Difference, Finding, Leaning, payback, verdict};

/// The verdict alone.
pub(super) fn answer(told: &Told<'_>, columns: usize) -> Vec<Line> {
    let comparison = &told.comparison;
    let mut lines = bold(&verdict(comparison), columns);
    let hangs_on = hangs_on(comparison, &told.assumptions);
    lines.extend(hangs_on.iter().flat_map(|words| bold(words, columns)));
    let rules = told.by_rules.as_ref().map(|rules| rules_say(comparison, rules));
    lines.extend(rules.iter().flat_map(|words| bold(words, columns)));
    lines
}

fn bold(words: &str, columns: usize) -> Vec<Line> {
    let lines = wrap(words, columns).into_iter();
    lines.map(|w| Line::of(Style::Bold, w)).collect()
}

fn dim(words: &str, columns: usize) -> Vec<Line> {
    let lines = wrap(words, columns).into_iter();
    lines.map(|w| Line::of(Style::Dim, w)).collect()
}

/// All of it.
pub(super) fn lines(told: &Told<'_>, columns: usize) -> Vec<Line> {
    let (comparison, assumptions, setting) = (&told.comparison, &told.assumptions, told.setting);
    let names: Vec<String> = comparison.alternatives.iter().map(|a| a.name.clone()).collect();
    let mut lines = vec![
        Line::of(Style::Bold, fitted(&list(&names), columns)),
        Line::of(
            Style::Dim,
            format!(
                "{} each, the same for all, seed {}",
                comparison.each.simulated(comparison.replications()),
                setting.seed
            ),
        ),
        Line::of(Style::Dim, following(&setting.following)),
        rule(columns),
    ];
    lines.extend(answer(told, columns));
    for alternative in 1..names.len() {
        lines.push(Line::empty());
        lines.extend(block(comparison, alternative));
        if let Some(payback) = payback(comparison, alternative, 0) {
            lines.extend(
                wrap(&paid(comparison, &payback, &setting.currency), columns)
                    .into_iter()
                    .map(Line::plain),
            );
        }
    }
    if !assumptions.is_empty() {
        for alternative in 1..names.len() {
            lines.push(Line::empty());
            lines.extend(table(comparison, assumptions, alternative, columns));
        }
    }
    let left = left(comparison, columns);
    if !left.is_empty() {
        lines.push(Line::empty());
        lines.extend(left);
    }
    if names.len() > 2 {
        lines.push(Line::empty());
        lines.extend(best(comparison, columns));
    }
    lines.push(Line::empty());
    lines.extend(notes(told, columns));
    lines
}

/// Columns of the table: figure, the first, this one, difference, interval, better on, together.
const WIDTHS: [usize; 6] = [9, 9, 9, 18, 7, 6];
/// And of the name of the figure.
const NAME: usize = 22;

fn row(name: &str, cells: [String; 6], style: Style) -> Line {
    let cells = cells.iter().zip(WIDTHS);
    let text: String = cells.map(|(cell, width)| right(cell, width)).collect();
    Line::of(style, format!("{}{text}", padded(&fitted(name, NAME), NAME)))
}

/// One alternative against the first.
fn block(comparison: &Comparison, alternative: usize) -> Vec<Line> {
    let name = |i: usize| comparison.alternatives.get(i).map_or("", |a| a.name.as_str());
    let head = ["first", "this", "change", "95 % interval", "better", "moves"];
    let mut lines = vec![
        Line::of(
            Style::Bold,
            fitted(&format!("{} AGAINST {}", name(alternative), name(0)), 80),
        ),
        row("", head.map(str::to_owned), Style::Dim),
    ];
    let told = |d: &&Difference| d.finding() != Finding::Identical || d.other != 0.0;
    lines.extend(
        comparison
            .of_alternative(alternative)
            .filter(told)
            .map(difference),
    );
    lines
}

fn difference(d: &Difference) -> Line {
    let measure = d.measure;
    let unit = measure.unit();
    let unit = if unit.is_empty() {
        String::new()
    } else {
        format!(", {unit}")
    };
    let name = format!("{}{unit}", short(measure));
    let finding = d.finding();
    // As many decimals as the interval calls for, fewer where they would fill a column.
    let usual = measure.decimals();
    let all = (usual..=decimals(d)).rev().map(|places| figures(d, places));
    let fit = |cells: &[String; 4]| {
        cells
            .iter()
            .zip(WIDTHS)
            .all(|(cell, wide)| columns_of(cell) < wide)
    };
    let cells = all.into_iter().find(fit).unwrap_or_else(|| figures(d, usual));
    let [first, this, apart, interval] = cells;
    let style = if finding == Finding::Noise || finding == Finding::Identical {
        Style::Dim
    } else {
        Style::Plain
    };
    let together = d.correlation.map_or_else(|| "-".to_owned(), |r| number(r, 2));
    row(
        &name,
        [first, this, apart, interval, better_on(d), together],
        style,
    )
}

/// The first, this one, the change and its interval, with so many decimals.
fn figures(d: &Difference, places: usize) -> [String; 4] {
    let n = |value: f64| number(value, places);
    let (i, finding) = (&d.interval, d.finding());
    let mark = if finding == Finding::Noise { "~" } else { "" };
    let [apart, interval] = match finding {
        Finding::Identical => ["0".to_owned(), "exactly".to_owned()],
        _ => [
            format!("{mark}{}", n(i.mean)),
            format!("{} to {}", n(i.low()), n(i.high())),
        ],
    };
    [n(d.other), n(d.other + i.mean), apart, interval]
}

/// Columns of what the answer hangs on: the assumption, then two figures, then the answer.
const IF: usize = 26;
const APART: usize = 23;

/// One alternative less the first, under each assumption.
fn table(
    comparison: &Comparison,
    assumptions: &[Assumption],
    alternative: usize,
    columns: usize,
) -> Vec<Line> {
    let name = |i: usize| comparison.alternatives.get(i).map_or("", |a| a.name.as_str());
    let heading = format!("IF IT WERE OTHERWISE: {} less {}", name(alternative), name(0));
    let (figures, rows) = assumed(comparison, assumptions, alternative);
    let figure = |m: &tankday_study::Measure| match m.unit() {
        "" => fitted(short(*m), APART),
        unit => fitted(&format!("{}, {unit}", short(*m)), APART),
    };
    let cells: Vec<String> = figures.iter().map(figure).collect();
    let mut lines = vec![
        Line::of(Style::Bold, fitted(&heading, columns)),
        Line::of(Style::Dim, across("", &cells, "take")),
    ];
    for row in rows {
        let words = if row.words.is_empty() {
            "as the scenarios are"
        } else {
            row.words.as_str()
        };
        let (mut words, style) = (words, if row.turns { Style::Bold } else { Style::Plain });
        if columns_of(words) > IF {
            lines.extend(wrap(words, columns).into_iter().map(|w| Line::of(style, w)));
            words = "";
        }
        match &row.cells {
            Ok(cells) => lines.push(Line::of(style, across(words, cells, take(&row)))),
            Err(why) => lines.extend(
                wrap(&format!("{words} cannot be: {why}"), columns)
                    .into_iter()
                    .map(|w| Line::of(Style::Watch, w)),
            ),
        }
    }
    lines
}

/// Which to take, in the words of the table of differences.
fn take(row: &Assumed) -> &'static str {
    match row.take {
        Some(Leaning::Take) => "this",
        Some(Leaning::Stay) => "first",
        _ => "either",
    }
}

fn across(words: &str, cells: &[String], answer: &str) -> String {
    let mut text = padded(words, IF);
    for cell in cells {
        text.push_str(&right(cell, APART));
    }
    format!("{text}  {answer}")
}

/// How far the baths go at their present mix of work, and which limit comes first: means over all days.
fn left(comparison: &Comparison, columns: usize) -> Vec<Line> {
    let told = baths_left(comparison);
    if told.is_empty() {
        return Vec::new();
    }
    let mut lines = vec![Line::of(
        Style::Bold,
        "HOW FAR THE BATHS STILL GO without additions",
    )];
    for words in told {
        lines.extend(wrap(&words, columns).into_iter().map(Line::plain));
    }
    lines
}

/// Which is best, figure by figure.
fn best(comparison: &Comparison, columns: usize) -> Vec<Line> {
    let mut lines = vec![Line::of(
        Style::Bold,
        "WHICH IS BEST, 95 % sure of each line as a whole",
    )];
    for (measure, words) in standings(comparison) {
        let line = Line::plain(format!("  {}", short(measure))).to_column(26);
        lines.push(line.and(Style::Plain, fitted(&words, columns.saturating_sub(26))));
    }
    lines
}

fn notes(told: &Told<'_>, columns: usize) -> Vec<Line> {
    let (comparison, setting) = (&told.comparison, told.setting);
    let (one, many) = (comparison.each.one(), comparison.each.many());
    let read = format!(
        "~: noise, the interval holds zero. better: on so many of 100 {many}. moves: how closely the two move together from \
         {one} to {one} (1 fully, 0 not at all)."
    );
    let mut lines = dim(&read, columns);
    lines.extend(
        unsharpened(comparison)
            .iter()
            .flat_map(|words| dim(words, columns)),
    );
    let following = following_notes(&setting.following, &setting.names);
    lines.extend(following.iter().flat_map(|words| dim(words, columns)));
    if let Some(reached) = &setting.reached {
        lines.extend(dim(&format!("Precision: {reached}."), columns));
    }
    lines
}
