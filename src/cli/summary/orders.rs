//! The table of orders.

use super::{Promise, Results, Sure};
use tankday_base::print::{Line, Style, clock_or_date, columns_of, fitted, padded, plural, right};
use tankday_base::units::Moment;

/// More orders than this are not listed one by one.
const MOST: usize = 20;

pub(super) fn lines(results: &Results<'_>, promises: &[Promise], columns: usize) -> Vec<Line> {
    if promises.is_empty() {
        return Vec::new();
    }
    let table = Table::of(results, promises, columns);
    let mut lines = vec![table.head()];
    let all = promises.len() <= MOST;
    let mut listed: Vec<&Promise> = promises.iter().filter(|p| all || !is_safe(p)).collect();
    if listed.len() > MOST {
        listed.sort_by_key(|p| p.sure);
        listed.truncate(MOST);
    }
    lines.extend(listed.iter().map(|p| table.row(p)));
    let rest = promises.len() - listed.len();
    if rest > 0 {
        let safe = promises.iter().filter(|p| is_safe(p)).count() == rest;
        lines.push(Line::plain(format!(
            "  and {rest} more{}",
            if safe { ", all safe" } else { "" }
        )));
    }
    lines
}

/// Sure to be on time, which nothing is that is harmed.
fn is_safe(promise: &Promise) -> bool {
    promise.sure >= Sure::Safe
}

/// Columns of a time: as wide as the calendar asks for, and a blank before the longest that stands there.
fn clock_columns(results: &Results<'_>, promises: &[Promise]) -> usize {
    let day = |d: &tankday_base::shop::Day| d.open.day_and_time().0;
    let days = &results.shop.calendar.days;
    let usual = match days.last().map_or(0, day) - days.first().map_or(0, day) {
        0 => 9,
        1..7 => 10,
        _ => 13,
    };
    let times = promises.iter().flat_map(|p| [p.due, p.usual(), p.instead()]);
    let said = times
        .flatten()
        .map(|at| columns_of(&clock_or_date(&results.shop.calendar, at)) + 1);
    said.max().unwrap_or(0).max(usual)
}

struct Table<'a> {
    results: &'a Results<'a>,
    id: usize,
    part: usize,
    pieces: usize,
    clock: usize,
    nine: bool,
}

impl<'a> Table<'a> {
    fn of(results: &'a Results<'a>, promises: &[Promise], columns: usize) -> Self {
        let longest = promises
            .iter()
            .map(|p| columns_of(&p.order.id))
            .max()
            .unwrap_or(0);
        let nine = results.many().is_some() && columns >= 80;
        let clock = clock_columns(results, promises);
        let pieces = promises.iter().map(|p| p.order.pieces.to_string().len() + 1);
        let pieces = pieces.max().unwrap_or(0).max(6);
        let id = longest.clamp(2, 14);
        // Marks and words behind take 20 columns.
        let taken = 2 + id + 2 + pieces + (clock + 1) + clock + if nine { clock } else { 0 } + 20;
        Self {
            results,
            id,
            part: columns.saturating_sub(taken).min(22),
            pieces,
            clock,
            nine,
        }
    }

    fn left(&self) -> usize {
        2 + self.id + 2 + self.part
    }

    fn head(&self) -> Line {
        let ready = if self.results.many().is_some() {
            "usually"
        } else {
            "ready"
        };
        let due = right("due", self.clock + 1);
        let pieces = right("pieces", self.pieces);
        let mut words = format!("{pieces}{due}{}", right(ready, self.clock));
        if self.nine {
            words.push_str(&right("9 in 10", self.clock));
        }
        let left = self.left();
        let head = Line::of(Style::Bold, "ORDERS")
            .to_column(left)
            .and(Style::Plain, words);
        head.and(Style::Plain, "  on time")
    }

    fn row(&self, promise: &Promise) -> Line {
        let order = promise.order;
        let part = self
            .results
            .shop
            .parts
            .get(order.part.index())
            .map_or("", |p| p.name.as_str());
        let part = if order.pieces == 1 {
            part.to_owned()
        } else {
            plural(part)
        };
        let shown = match self.part {
            0..4 => String::new(),
            part_columns => fitted(&part, part_columns - 1),
        };
        let mut words = format!(
            "  {}  {}{}{}{}",
            padded(&fitted(&order.id, self.id), self.id),
            padded(&shown, self.part),
            right(&order.pieces.to_string(), self.pieces),
            right(
                &self.time(promise.due, if promise.due_varies { "varies" } else { "" }),
                self.clock + 1
            ),
            right(&self.time(promise.usual(), "not"), self.clock),
        );
        if self.nine {
            words.push_str(&right(&self.time(promise.instead(), "not"), self.clock));
        }
        let style = if promise.on_time() {
            Style::Plain
        } else {
            Style::Late
        };
        Line::of(
            style,
            format!("{words}  {} {}", mark(promise.sure), promise.words()),
        )
    }

    fn time(&self, at: Option<Moment>, none: &str) -> String {
        at.map_or(none.to_owned(), |at| {
            clock_or_date(&self.results.shop.calendar, at)
        })
    }
}

fn mark(sure: Sure) -> char {
    match sure {
        Sure::Certain | Sure::Safe => 'o',
        Sure::Tight => '=',
        Sure::Late | Sure::Cannot => 'x',
    }
}
