//! What a comparison hangs on, as a part of its report.

use super::compare::{Compare, squared};
use super::page::Part;
use super::table::{Cell, Column, Table};
use crate::narrative::{Assumed, assumed, hangs_on};
use maud::{Markup, html};
use tankday_study::compare::Leaning;

/// The part; nothing where nothing was taken otherwise.
pub(super) fn part(told: &Compare<'_>) -> Markup {
    if told.assumptions.is_empty() {
        return Markup::default();
    }
    let tables = (1..told.comparison.alternatives.len()).map(|i| table(told, i));
    let tables: Vec<Markup> = tables.collect();
    Part {
        id: "assumed",
        heading: "What the answer depends on",
        found: html! { (hangs_on(told.comparison, told.assumptions).join(" ")) },
        read: &format!(
            "Each line takes one thing otherwise, in every scenario that knows it, and compares anew on the same simulated {}.",
            told.comparison.each.many()
        ),
        pictures: html! { @for table in &tables { (table) } },
        beside: false,
        table: Markup::default(),
    }
    .section()
}

fn table(told: &Compare<'_>, alternative: usize) -> Markup {
    let name = |i: usize| {
        told.comparison
            .alternatives
            .get(i)
            .map_or("", |a| a.name.as_str())
    };
    let (figures, rows) = assumed(told.comparison, told.assumptions, alternative);
    let caption = format!("{} less {}, with 95 % intervals", name(alternative), name(0));
    let figure = |m: &tankday_study::Measure| match m.unit() {
        "" => Column::number(squared(m.words())),
        unit => Column::number(squared(&format!("{}, {unit}", m.words()))),
    };
    let table = Table {
        caption: &caption,
        columns: std::iter::once(Column::words("if"))
            .chain(figures.iter().map(figure))
            .chain([Column::words("take")])
            .collect(),
        rows: rows
            .into_iter()
            .map(|row| line(row, figures.len(), [name(0), name(alternative)]))
            .collect(),
        sum: None,
    };
    table.html()
}

fn line(row: Assumed, figures: usize, [first, this]: [&str; 2]) -> (Markup, Vec<Cell>) {
    let answer = match row.take {
        Some(Leaning::Take) => this.to_owned(),
        Some(Leaning::Stay) => first.to_owned(),
        _ => "either".to_owned(),
    };
    let words = if row.words.is_empty() {
        "as the scenarios are".to_owned()
    } else {
        row.words
    };
    let (cells, answer) = match row.cells {
        Ok(cells) => (cells, answer),
        Err(why) => (vec![String::new(); figures], format!("cannot be: {why}")),
    };
    let values = row.values.into_iter().chain(std::iter::repeat(f64::NAN));
    let cells = cells
        .into_iter()
        .zip(values)
        .map(|(c, value)| Cell::text(c.replace('-', "\u{2212}")).sorted(value));
    let answer = Cell::words(answer);
    (
        html! { @if row.turns { b { (words) } } @else { (words) } },
        cells.chain([answer]).collect(),
    )
}
