//! The day against the clock, and its loads.

use super::spots;
use super::{Run, orders_of, part_name, station_name};
use crate::narrative::dwell_believed;
use crate::report::page::Part;
use crate::report::picture::{ACROSS, picture};
use crate::report::table::{Cell, Column, Table, named};
use maud::{Markup, html};
use tankday_base::print::{Replication, capital, list, number};
use tankday_chart::day;
use tankday_record::TankLoad;

pub(super) fn part(told: &Run<'_>) -> Markup {
    Part {
        id: "day",
        heading: heading(told),
        found: html! { (found(told)) },
        read: &read(told),
        pictures: html! {
            (picture("day", ACROSS, |width| Some(day(told.view, width))))
            (spots::data(told))
        },
        beside: false,
        table: table(told).html(),
    }
    .section()
}

/// What this part is called, here and in the contents.
pub(super) fn heading(told: &Run<'_>) -> &'static str {
    match told.results.shop.calendar.days.len() {
        0 | 1 => "The day",
        _ => "The days",
    }
}

/// How busy hands and tanks are.
fn found(told: &Run<'_>) -> String {
    let results = told.results;
    let percent = |share: tankday_base::units::Share| number(share.in_percent(), 0);
    let hands = results.figures.hands.as_slice();
    let hands = match hands {
        [] => String::new(),
        [one] => format!("Hands are at work {} % of the opening hours. ", percent(*one)),
        many => {
            let each: Vec<String> = many.iter().map(|h| percent(*h)).collect();
            format!(
                "Pairs of hands are at work {} % of the opening hours. ",
                list(&each)
            )
        }
    };
    let tank = |t: &tankday_record::TankFigure| {
        format!(
            "the {} coats {} % of them and stands hot and empty {} %",
            station_name(results, t.tank),
            percent(t.shares.coating),
            percent(t.shares.waiting)
        )
    };
    let tanks: Vec<String> = results.figures.tanks.iter().map(tank).collect();
    match tanks.is_empty() {
        true => hands,
        false => format!("{hands}{}.", capital(&tanks.join("; "))),
    }
}

fn read(told: &Run<'_>) -> String {
    let days = told.results.study.map_or(1, |s| s.days.len());
    let which = match days {
        1 => String::new(),
        days => {
            let each = told.results.each();
            let (one, all) = (each.one(), each.simulated(days));
            format!(" The {one} drawn is one of {all}, the one nearest the middle.")
        }
    };
    format!(
        "The clock runs along the picture (down, on a phone). A tank's bar is full while it coats, low while it waits \
         hot, a wedge while it heats.{which}"
    )
}

fn table<'a>(told: &Run<'_>) -> Table<'a> {
    let coats = told.results.figures.loads.iter().any(|l| !l.coats.is_empty());
    let mut columns = vec![
        Column::words("load"),
        Column::words("orders"),
        Column::words("tank"),
        Column::number("in"),
        Column::number("out"),
        Column::number("dwell, min"),
        Column::words("by what is known of growth, min"),
        Column::number("area, dm²"),
        Column::number("mass, kg"),
    ];
    columns.extend(coats.then(|| Column::number("coating, g/m²")));
    Table {
        caption: match told.results.each() {
            Replication::Day => "Loads of the day drawn",
            Replication::Run(_) => "Loads of the run drawn",
        },
        columns,
        rows: told
            .results
            .figures
            .loads
            .iter()
            .map(|l| row(told, l, coats))
            .collect(),
        sum: None,
    }
}

fn row(told: &Run<'_>, load: &TankLoad, coats: bool) -> (Markup, Vec<Cell>) {
    let results = told.results;
    let calendar = &results.shop.calendar;
    let parts: Vec<String> = load
        .parts
        .iter()
        .map(|(id, n)| format!("{n} {}", part_name(results, *id, *n)))
        .collect();
    let mut cells = vec![
        Cell::words(orders_of(results, load).join(", ")),
        Cell::words(station_name(results, load.tank)),
        Cell::time(calendar, Some(load.begins), ""),
        Cell::time(calendar, load.out, "still in"),
        Cell::text(load.dwell().map_or("".to_owned(), |d| number(d.in_minutes(), 0))),
        load.range.map_or_else(
            || Cell::words(""),
            |r| Cell::words(dwell_believed(&r)).sorted(r.quick.in_minutes()),
        ),
        Cell::number(load.area.in_square_decimetres(), 1),
        Cell::number(load.mass.in_kilograms(), 1),
    ];
    if coats {
        let weights = load.coats.iter().map(|(_, w)| w.in_grams_per_square_metre());
        let (low, high) = weights.fold((f64::INFINITY, 0.0_f64), |(l, h), w| (l.min(w), h.max(w)));
        let words = match (number(low, 1), number(high, 1)) {
            _ if load.coats.is_empty() => String::new(),
            (low, high) if low == high => high,
            (low, high) => format!("{low} to {high}"),
        };
        cells.push(Cell::text(words).sorted(low));
    }
    (
        named(results.labels.at(load.load, load.begins), &parts.join(", ")),
        cells,
    )
}
