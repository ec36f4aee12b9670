//! Tables: the full text alternative of every picture.

use crate::print::number;
use crate::shop::Calendar;
use crate::units::Moment;
use maud::{Markup, html};

/// One cell.
pub(super) enum Cell {
    /// Words.
    Words(String),
    /// A number or a time, set right.
    Number(Markup),
    /// Words with marks in them.
    Marked(Markup),
}

impl Cell {
    pub(super) fn words(words: impl Into<String>) -> Self {
        Self::Words(words.into())
    }

    /// A number with so many decimals.
    pub(super) fn number(value: f64, decimals: usize) -> Self {
        Self::text(number(value, decimals).replace('-', "\u{2212}"))
    }

    /// Words that are set right, as numbers are.
    pub(super) fn text(words: impl Into<String>) -> Self {
        let words: String = words.into();
        Self::Number(html! { (words) })
    }

    /// A time with its full form behind it; words where there is none.
    pub(super) fn time(calendar: &Calendar, at: Option<Moment>, none: &str) -> Self {
        Self::Number(match at {
            Some(at) => time(calendar, at),
            None => html! { (none) },
        })
    }
}

/// A time as it is read, with the full one for machines.
pub(super) fn time(calendar: &Calendar, at: Moment) -> Markup {
    html! {
        time datetime={ (calendar.date(at)) "T" (at.clock()) } { (crate::print::clock_or_date(calendar, at)) }
    }
}

/// A column's heading and whether it holds numbers.
pub(super) struct Column {
    name: String,
    number: bool,
}

impl Column {
    pub(super) fn words(name: impl Into<String>) -> Self {
        let name = name.into();
        Self { name, number: false }
    }

    pub(super) fn number(name: impl Into<String>) -> Self {
        let name = name.into();
        Self { name, number: true }
    }
}

/// A table. The first cell of each row names it.
pub(super) struct Table<'a> {
    pub(super) caption: &'a str,
    pub(super) columns: Vec<Column>,
    pub(super) rows: Vec<(Markup, Vec<Cell>)>,
    /// The last row, if it sums up.
    pub(super) sum: Option<(Markup, Vec<Cell>)>,
}

impl Table<'_> {
    /// As HTML; nothing if it has no row.
    pub(super) fn html(&self) -> Markup {
        if self.rows.is_empty() {
            return Markup::default();
        }
        html! {
            div.tw tabindex="0" role="region" aria-label=(self.caption) {
                table.sorts[self.rows.len() > 2] {
                    caption { (self.caption) }
                    thead { tr { @for c in &self.columns { th scope="col" class=[c.number.then_some("r")] { (c.name) } } } }
                    tbody { @for row in &self.rows { (line(row)) } }
                    @if let Some(sum) = &self.sum { tfoot { (line(sum)) } }
                }
            }
        }
    }
}

fn line((name, cells): &(Markup, Vec<Cell>)) -> Markup {
    html! {
        tr {
            th scope="row" { (name) }
            @for cell in cells {
                @match cell {
                    Cell::Words(words) => td { (words) },
                    Cell::Number(words) => td.r { (words) },
                    Cell::Marked(words) => td.k { (words) },
                }
            }
        }
    }
}

/// A bold id and what belongs to it.
pub(super) fn named(id: &str, what: &str) -> Markup {
    html! { b { (id) } @if !what.is_empty() { " " span { (what) } } }
}
