//! The tables on the page of one quote: a figure a cell, its unit in the heading, so that each column sorts.

use super::table::{Cell, Column, Table};
use crate::narrative::{Asked, gains, lever_said, line_said, line_share};
use maud::{Markup, html};
use tankday_base::shop::Calendar;
use tankday_record::Priced;
use tankday_study::quote::{Later, Quote, Relief, Rush};

/// All tables of a quote, each with its heading.
pub(super) fn sections(asked: Asked<'_>, quote: &Quote) -> Markup {
    let money = |what: &str| Column::number(format!("{what}, {}", asked.shop.prices.currency));
    let of = Of { asked, money: &money };
    html! {
        (part("what-it", "What it costs", &of.costs(quote)))
        (part("alone-with", "Alone, with others, at a full load", &of.cases(quote)))
        @if let Some(relief) = &quote.relief { (part("relief", "Hydrogen relief", &of.relief(relief))) }
        @if let Some(rush) = quote.rush.as_ref().filter(|r| gains(r)) { (of.rush(rush)) }
        (part("what-moves", "What moves the cost most", &of.levers(quote)))
    }
}

fn part(id: &str, heading: &str, table: &Table<'_>) -> Markup {
    html! {
        @if !table.rows.is_empty() {
            section.part id=(id) aria-labelledby={ (id) "-h" } {
                h2 id={ (id) "-h" } { (heading) }
                (table.html())
            }
        }
    }
}

/// What the tables are about, and how a column of money is headed.
struct Of<'a> {
    asked: Asked<'a>,
    money: &'a dyn Fn(&str) -> Column,
}

impl Of<'_> {
    fn costs(&self, quote: &Quote) -> Table<'static> {
        let today = quote.quoted.today.as_ref();
        let total = today.map_or(0.0, Priced::total);
        let lines = today.iter().flat_map(|t| &t.lines).map(|line| {
            let (name, detail) = line_said(self.asked.shop, line);
            let share = line_share(line, total);
            let cells = vec![
                some(share.map(|_| line.money), 2),
                some(share, 1),
                Cell::words(detail),
            ];
            (html! { (name) }, cells)
        });
        let sum = || vec![Cell::number(total, 2), Cell::number(100.0, 1), Cell::words("")];
        Table {
            caption: "Cost of the order as part of the day's loads, line by line",
            columns: vec![
                Column::words("what for"),
                (self.money)("cost"),
                Column::number("share, %"),
                Column::mixed("what it is made of"),
            ],
            rows: lines.collect(),
            sum: today.map(|_| (html! { "together" }, sum())),
        }
    }

    fn cases(&self, quote: &Quote) -> Table<'static> {
        let quoted = &quote.quoted;
        let cases = [
            ("with the day's loads", &quoted.today),
            ("alone", &quoted.alone),
            ("a full load alone", &quoted.full),
        ];
        let row = |(name, priced): (&str, &Option<Priced>)| (html! { (name) }, self.case(priced.as_ref()));
        let shown = cases
            .into_iter()
            .filter(|(name, p)| p.is_some() || *name != "a full load alone");
        Table {
            caption: "Cost and price by how full the day is",
            columns: vec![
                Column::words("as"),
                Column::number("pieces"),
                (self.money)("cost"),
                (self.money)("price"),
                (self.money)("price of a piece"),
                (self.money)("price of a kg"),
            ],
            rows: shown.map(row).collect(),
            sum: None,
        }
    }

    fn case(&self, priced: Option<&Priced>) -> Vec<Cell> {
        let Some(p) = priced else {
            return std::iter::once(Cell::text("not finished"))
                .chain((0..4).map(|_| some(None, 0)))
                .collect();
        };
        let price = self.asked.asking.price(p.total());
        let kg = Some(p.mass.in_kilograms()).filter(|kg| *kg > 0.0);
        vec![
            Cell::number(f64::from(p.pieces), 0),
            Cell::number(p.total(), 2),
            Cell::number(price, 2),
            Cell::number(price / f64::from(p.pieces.max(1)), 3),
            some(kg.map(|kg| price / kg), 2),
        ]
    }

    fn relief(&self, relief: &Relief) -> Table<'static> {
        let route = relief.route.and_then(|r| self.asked.shop.routes.get(r.index()));
        let cost = |p: &Option<Priced>| some(p.as_ref().map(Priced::total), 2);
        let cells = vec![
            cost(&relief.with),
            cost(&relief.without),
            Cell::number(relief.at_it, 2),
        ];
        Table {
            caption: "What the order costs with relief of hydrogen after the bath, and without it",
            columns: vec![
                Column::words("route"),
                (self.money)("cost with it"),
                (self.money)("cost without it"),
                (self.money)("hands and oven at it"),
            ],
            rows: route.map(|r| (html! { (r.name) }, cells)).into_iter().collect(),
            sum: None,
        }
    }

    /// What is ready earlier, and what is lost or later for it.
    fn rush(&self, rush: &Rush) -> Markup {
        let calendar = &self.asked.shop.calendar;
        let own = (html! { "this order" }, own_times(calendar, rush));
        let others = rush.later.iter().map(|l| (html! { (l.id) }, later(calendar, l)));
        let table = Table {
            caption: "When orders are ready with this one as a rush; otherwise: this one in its turn, the others without it",
            columns: vec![
                Column::words("order"),
                Column::number("otherwise ready"),
                Column::number("ready with the rush"),
                Column::number("later, min"),
                Column::words("what becomes of it"),
            ],
            rows: std::iter::once(own).chain(others).collect(),
            sum: None,
        };
        part("rush", "As a rush", &table)
    }

    fn levers(&self, quote: &Quote) -> Table<'static> {
        let row = |lever: &tankday_study::quote::Lever| {
            let cells = vec![Cell::number(lever.each, 3), Cell::number(lever.by * 100.0, 1)];
            (html! { (lever_said(self.asked.shop, lever.kind)) }, cells)
        };
        Table {
            caption: "Cost of a piece, as part of the day's loads, with one thing otherwise",
            columns: vec![
                Column::words("otherwise"),
                (self.money)("cost of a piece"),
                Column::number("more, %"),
            ],
            rows: quote.levers.iter().map(row).collect(),
            sum: None,
        }
    }
}

/// A number, or that there is none.
fn some(value: Option<f64>, decimals: usize) -> Cell {
    value.map_or_else(|| Cell::text("\u{2013}"), |v| Cell::number(v, decimals))
}

fn own_times(calendar: &Calendar, rush: &Rush) -> Vec<Cell> {
    let by = rush
        .ready
        .zip(rush.in_turn)
        .map(|(now, then)| (now - then).in_minutes());
    vec![
        Cell::time(calendar, rush.in_turn, "not finished"),
        Cell::time(calendar, rush.ready, "not finished"),
        some(by, 0),
        Cell::words("goes first"),
    ]
}

fn later(calendar: &Calendar, later: &Later) -> Vec<Cell> {
    let what = match (later.after, later.harmed, later.misses) {
        (None, ..) => "isn't finished",
        (_, true, _) => "isn't sound",
        (_, _, true) => "late",
        _ => "later",
    };
    vec![
        Cell::time(calendar, Some(later.before), ""),
        Cell::time(calendar, later.after, "not finished"),
        some(later.after.map(|a| (a - later.before).in_minutes()), 0),
        Cell::words(what),
    ]
}
