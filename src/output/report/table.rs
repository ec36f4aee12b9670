//! Tables: the full text alternative of every picture.

use maud::{Markup, html};
use tankday_base::print::number;
use tankday_base::shop::Calendar;
use tankday_base::units::Moment;

/// One cell.
pub(super) struct Cell {
    content: Markup,
    /// Set right, as numbers are, or kept on one line.
    class: Option<&'static str>,
    /// What it is sorted by, where its words are more than one number: `109 min early` comes before `31 h early`.
    value: Option<f64>,
    /// Whether it is a difference of temperatures: two degrees are 3.6 °F then, and not 36.
    difference: bool,
}

impl Cell {
    fn of(content: Markup, class: Option<&'static str>) -> Self {
        Self {
            content,
            class,
            value: None,
            difference: false,
        }
    }

    pub(super) fn words(words: impl Into<String>) -> Self {
        let words: String = words.into();
        Self::of(html! { (words) }, None)
    }

    /// Words with marks in them.
    pub(super) fn marked(content: Markup) -> Self {
        Self::of(content, Some("k"))
    }

    /// The same, sorted by a value.
    pub(super) fn sorted(self, value: f64) -> Self {
        Self {
            // Six digits behind the point tell any two apart that anybody can see.
            value: value.is_finite().then_some((value * 1e6).round() / 1e6),
            ..self
        }
    }

    /// The same, told to be a difference of temperatures.
    pub(super) fn difference(self, difference: bool) -> Self {
        Self { difference, ..self }
    }

    /// A number with so many decimals.
    pub(super) fn number(value: f64, decimals: usize) -> Self {
        Self::text(number(value, decimals).replace('-', "\u{2212}"))
    }

    /// Words that are set right, as numbers are.
    pub(super) fn text(words: impl Into<String>) -> Self {
        let words: String = words.into();
        Self::of(html! { (words) }, Some("r"))
    }

    /// A time with its full form behind it; words where there is none.
    pub(super) fn time(calendar: &Calendar, at: Option<Moment>, none: &str) -> Self {
        let content = match at {
            Some(at) => time(calendar, at),
            None => html! { (none) },
        };
        Self::of(content, Some("r"))
    }
}

/// A time as it is read, with the full one for machines.
pub(super) fn time(calendar: &Calendar, at: Moment) -> Markup {
    html! {
        time datetime={ (calendar.date(at)) "T" (at.clock()) } { (tankday_base::print::clock_or_date(calendar, at)) }
    }
}

/// A column's heading and whether it holds numbers.
pub(super) struct Column {
    name: String,
    number: bool,
    /// Whether the table sorts by it: not where there is no order among its words.
    sorts: bool,
}

impl Column {
    pub(super) fn words(name: impl Into<String>) -> Self {
        Self {
            name: name.into(),
            number: false,
            sorts: true,
        }
    }

    /// Words of which none comes before another, such as amounts of different things.
    pub(super) fn mixed(name: impl Into<String>) -> Self {
        Self {
            sorts: false,
            ..Self::words(name)
        }
    }

    pub(super) fn number(name: impl Into<String>) -> Self {
        Self {
            number: true,
            ..Self::words(name)
        }
    }

    fn class(&self) -> Option<&'static str> {
        match (self.number, self.sorts) {
            (true, _) => Some("r"),
            (_, false) => Some("u"),
            _ => None,
        }
    }
}

/// A table of more columns is set smaller on paper, and its words are broken where it would be cut.
const MOST_AT_SIZE: usize = 8;

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
            div.tw.wide[self.columns.len() > MOST_AT_SIZE] tabindex="0" role="region" aria-label=(self.caption) {
                table.sorts[self.rows.len() > 2] {
                    caption { (self.caption) }
                    thead { tr { @for c in &self.columns { th scope="col" class=[c.class()] { (c.name) } } } }
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
                td class=[cell.class] data-sort=[cell.value] data-difference=[cell.difference.then_some("")] { (cell.content) }
            }
        }
    }
}

/// A bold id and what belongs to it.
pub(super) fn named(id: &str, what: &str) -> Markup {
    html! { b { (id) } @if !what.is_empty() { " " span { (what) } } }
}
