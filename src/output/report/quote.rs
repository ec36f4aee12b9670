//! The page of a quote, and of a list of quotes.

use super::one_load::head;
use super::page::{Page, sign};
use super::quote_tables::sections;
use super::table::{Cell, Column, Table, named};
use super::units::Units;
use crate::narrative::{Asked, Card};
use maud::{Markup, html};
use tankday_base::print::pieces_of;
use tankday_record::Priced;
use tankday_study::quote::{Quote, Quoted};

/// What a page of quotes needs.
#[derive(Debug, Clone, Copy)]
pub struct QuotePage<'a> {
    /// What is asked.
    pub asked: Asked<'a>,
    /// What is said.
    pub told: &'a Card,
    /// What was quoted.
    pub quotes: Quotes<'a>,
    /// The units that it speaks in first.
    pub units: Units,
}

/// What a page of quotes shows.
#[derive(Debug, Clone, Copy)]
pub enum Quotes<'a> {
    /// One order, with all that is asked about it.
    One(&'a Quote),
    /// A list of orders, each with its price.
    List(&'a [Quoted]),
}

/// As an HTML file.
#[must_use]
pub fn quote(page: &QuotePage<'_>) -> String {
    let told = page.told;
    let title = told.title();
    Page {
        title: &title,
        top: html! { (page.asked.shop.title) },
        main: html! {
            (head(told))
            @if !told.watch.is_empty() { (watch(told)) }
            @match page.quotes {
                Quotes::One(quote) => (sections(page.asked, quote)),
                Quotes::List(quotes) => (list(page, quotes)),
            }
            p.read { "Worked out with average times, by the shop's own rules." }
        },
        rules: "",
        units: page.units,
        script: "",
    }
    .write()
}

fn watch(told: &Card) -> Markup {
    html! {
        section.watch aria-labelledby="watch-h" {
            h2 id="watch-h" { (sign()) "Watch" }
            ul { @for words in &told.watch { li { (words) } } }
        }
    }
}

fn list(page: &QuotePage<'_>, quotes: &[Quoted]) -> Markup {
    let currency = &page.asked.shop.prices.currency;
    let table = Table {
        caption: "Price of each order, and of one piece: with the day's loads, alone, at a full load",
        columns: vec![
            Column::words("order"),
            Column::number(format!("cost, {currency}")),
            Column::number(format!("price, {currency}")),
            Column::number(format!("a piece, {currency}")),
            Column::number(format!("a piece alone, {currency}")),
            Column::number(format!("a piece of a full load, {currency}")),
        ],
        rows: quotes.iter().filter_map(|q| row(page, q)).collect(),
        sum: None,
    };
    html! {
        section.part id="orders" aria-labelledby="orders-h" {
            h2 id="orders-h" { "Order by order" }
            (table.html())
        }
    }
}

fn row(page: &QuotePage<'_>, quoted: &Quoted) -> Option<(Markup, Vec<Cell>)> {
    let shop = page.asked.shop;
    let order = shop.orders.get(quoted.order.index())?;
    let part = shop.parts.get(order.part.index())?;
    let price = |p: &Priced| page.asked.asking.price(p.total());
    let each = |p: &Priced| price(p) / f64::from(p.pieces.max(1));
    let cell = |p: &Option<Priced>, of: &dyn Fn(&Priced) -> f64, places: usize| match p {
        Some(p) => Cell::number(of(p), places),
        None => Cell::text("not finished"),
    };
    let today = &quoted.today;
    Some((
        named(&order.id, &pieces_of(order.count, &part.name)),
        vec![
            cell(today, &Priced::total, 2),
            cell(today, &price, 2),
            cell(today, &each, 3),
            cell(&quoted.alone, &each, 3),
            cell(&quoted.full, &each, 3),
        ],
    ))
}
