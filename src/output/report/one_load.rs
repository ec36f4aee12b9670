//! The page of one load: may it go in, how it goes, what it takes.

use super::page::{Page, Part, sign};
use super::picture::{BESIDE, picture};
use super::table::{Cell, Column, Table};
use super::units::Units;
use crate::narrative::{Block, Card};
use crate::sheet::{ALWAYS, DEFERS};
use maud::{Markup, html};
use tankday_base::print::number;
use tankday_base::shop::Shop;
use tankday_chart::one_load as chart;
use tankday_record::one_load::OneLoad;

/// What a page of one load needs.
#[derive(Debug, Clone, Copy)]
pub struct OneLoadPage<'a> {
    /// The shop.
    pub shop: &'a Shop,
    /// The load; none where only the bath is asked about.
    pub load: Option<&'a OneLoad>,
    /// What is said of it.
    pub told: &'a Card,
    /// The units that it speaks in first.
    pub units: Units,
}

/// As an HTML file.
#[must_use]
pub fn one_load(page: &OneLoadPage<'_>) -> String {
    let told = page.told;
    let title = told.title();
    Page {
        title: &title,
        top: html! { (page.shop.title) },
        main: html! {
            (head(told))
            (watch(told))
            @for block in &told.blocks { (section(block)) }
            @if let Some(load) = page.load { (curve(page, load)) }
            p.read { (DEFERS) }
        },
        rules: "",
        units: page.units,
        script: "",
    }
    .write()
}

pub(super) fn head(told: &Card) -> Markup {
    let mut answer = told.answer.iter();
    html! {
        div.said {
            h1 { @if let Some(first) = answer.next() {
                @if told.may { (first) } @else { em { (first) } }
            } }
            @for more in answer { p.rest { (more) } }
            p.rest { (told.title()) "." }
        }
    }
}

fn watch(told: &Card) -> Markup {
    html! {
        section.watch aria-labelledby="watch-h" {
            h2 id="watch-h" { (sign()) "Watch" }
            ul {
                @for words in &told.watch { li { (words) } }
                li { (ALWAYS) }
            }
        }
    }
}

fn section(block: &Block) -> Markup {
    let id: String = block
        .heading
        .to_lowercase()
        .split(' ')
        .take(2)
        .collect::<Vec<_>>()
        .join("-");
    let id = id.trim_end_matches(',');
    html! {
        section.part id=(id) aria-labelledby={ (id) "-h" } {
            h2 id={ (id) "-h" } { (block.heading) }
            (rows(block).html())
        }
    }
}

fn rows<'a>(block: &Block) -> Table<'a> {
    let row = |(name, words): &(String, String)| (html! { (name) }, vec![Cell::words(words.clone())]);
    Table {
        caption: block.caption,
        columns: block.columns.map(Column::mixed).into_iter().collect(),
        rows: block.rows.iter().map(row).collect(),
        sum: None,
    }
}

fn curve(page: &OneLoadPage<'_>, load: &OneLoad) -> Markup {
    let now = &load.now;
    let drawn = |width| chart(now, &page.told.place, width);
    let pictures = html! { @if now.looks.len() > 1 { (picture("one-load", BESIDE, drawn)) } };
    let looks = now.looks.iter().map(|l| {
        let cells = vec![
            Cell::number(l.temperature.in_celsius(), 1),
            Cell::number(l.coat.in_percent(), 0),
            Cell::number(l.gas.in_percent(), 0),
            Cell::number(l.rises.in_litres_per_minute(), 2),
        ];
        (html! { (number(l.after.in_minutes(), 1)) }, cells)
    });
    Part {
        id: "curve",
        heading: "Coat and fizzing, minute by minute",
        found: html! { "Fizzing: gas that still rises, as a share of what rose at first." },
        read: "",
        pictures,
        beside: true,
        table: html! {
            (Table {
                caption: "Temperature, coat, fizzing and hydrogen at each minute",
                columns: vec![
                    Column::number("min"),
                    Column::number("bath, °C"),
                    Column::number("coat, %"),
                    Column::number("fizzing, %"),
                    Column::number("hydrogen, L/min"),
                ],
                rows: looks.collect(),
                sum: None,
            }.html())
        },
    }
    .section()
}
