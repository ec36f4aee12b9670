//! Tanks through the day, and how worn their baths are.

use super::{Run, station_name};
use crate::narrative::{believed, stands};
use crate::report::page::Part;
use crate::report::picture::{BESIDE, picture};
use crate::report::table::{Cell, Column, Table};
use maud::{Markup, html};
use tankday_base::print::{capital, litres, number, pieces_of};
use tankday_base::units::POINT;
use tankday_chart::{Width, of_baths, temperature, wear};
use tankday_record::{BathFigure, CareFigure, TankFigure};

pub(super) fn part(told: &Run<'_>) -> Markup {
    let wears = !told.view.wear.is_empty();
    let drawn = |width: Width| wear(told.view, width);
    let pictures = html! {
        @if !told.view.tanks.is_empty() {
            (picture("temperature", BESIDE, |width| Some(temperature(told.view, width))))
        }
        @if drawn(Width::Page).is_some() {
            h3 { "Wear of the bath" }
            (picture("wear", BESIDE, drawn))
        }
    };
    let tables = html! {
        (tanks(told).html())
        @if wears { (readings(told).html()) p.read { (POINT) } (super::life::table(told).html()) (care(told).html()) }
    };
    Part {
        id: "baths",
        heading: "Tanks and baths",
        found: html! { (found(told)) },
        read: &read(told),
        pictures,
        beside: true,
        table: tables,
    }
    .section()
}

/// How to read it, and of which of many replications it is.
fn read(told: &Run<'_>) -> String {
    let which = match told.results.many() {
        Some(_) => format!(
            " All of this is of the {} drawn, the one nearest the middle.",
            told.results.each().one()
        ),
        None => String::new(),
    };
    format!(
        "Ground behind the curve: the band in which the bath may work. Triangles: water topped up. Below the band the scale \
         is squeezed.{which}"
    )
}

fn found(told: &Run<'_>) -> String {
    let mut words = vec![of_baths(told.view)];
    for bath in &told.results.figures.baths {
        let first = bath.life.as_ref().and_then(|l| l.first());
        if let Some(first) = first {
            words.push(format!(
                "{} is good for about {} like these, then {}{}.",
                capital(&bath.name),
                pieces_of(first.loads.floor().max(0.0) as u32, "more load"),
                first.what.sentence(first.side),
                believed(bath, told.results.shop)
            ));
        }
    }
    words.join(" ")
}

fn tanks<'a>(told: &Run<'_>) -> Table<'a> {
    let lowest = |name: &str| {
        let tank = told.view.tanks.iter().find(|t| t.name == name)?;
        Some(number(tank.lowest_with_load()?.1.in_celsius(), 1))
    };
    let row = |t: &TankFigure| {
        let percent = |share: tankday_base::units::Share| Cell::number(share.in_percent(), 0);
        let s = &t.shares;
        let cells = vec![
            Cell::text(
                t.heat_up
                    .map_or("\u{2013}".to_owned(), |h| number(h.in_minutes(), 0)),
            ),
            Cell::text(lowest(station_name(told.results, t.tank)).unwrap_or_else(|| "\u{2013}".to_owned())),
            percent(s.heating),
            percent(s.waiting),
            percent(s.coating),
            percent(s.recovering),
            percent(s.care),
            percent(s.off),
            Cell::number(t.energy.in_kilowatt_hours(), 1),
            Cell::number(t.top_up.in_litres(), 1),
        ];
        (html! { b { (station_name(told.results, t.tank)) } }, cells)
    };
    Table {
        caption: "How each tank spends the opening hours",
        columns: vec![
            Column::words("tank"),
            Column::number("heat-up, min"),
            Column::number("lowest with a load, °C"),
            Column::number("heating, %"),
            Column::number("waiting, %"),
            Column::number("coating, %"),
            Column::number("recovering, %"),
            Column::number("care, %"),
            Column::number("off, %"),
            Column::number("power, kWh"),
            Column::number("top-up, L"),
        ],
        rows: told.results.figures.tanks.iter().map(row).collect(),
        sum: None,
    }
}

fn readings<'a>(told: &Run<'_>) -> Table<'a> {
    let worn = |b: &&BathFigure| {
        let recipe = told.results.shop.baths.get(b.bath.index());
        recipe.is_some_and(|r| r.wears)
    };
    let row = |b: &BathFigure| {
        let now = &b.now;
        let first = b.life.as_ref().and_then(|l| l.first());
        let cells = vec![
            Cell::number(now.total_acid.in_points(), 1),
            Cell::number(now.total_acid / now.free_acid, 2),
            Cell::number(now.iron.in_grams_per_litre(), 2),
            Cell::number(now.sludge.in_grams_per_litre(), 2),
            Cell::number(now.area.in_square_decimetres_per_litre(), 1),
            Cell::text(first.map_or("\u{2013}".to_owned(), |r| number(r.loads.floor().max(0.0), 0))),
            Cell::text(
                stands(told.results, b)
                    .unwrap_or_else(|| first.map_or(String::new(), |r| r.what.words(r.side).to_owned())),
            ),
        ];
        (html! { b { (b.name) } }, cells)
    };
    Table {
        caption: "Baths at the end, their water made good",
        columns: vec![
            Column::words("bath"),
            Column::number("total acid, points"),
            Column::number("acid ratio"),
            Column::number("iron, g/L"),
            Column::number("sludge, g/L"),
            Column::number("area treated, dm²/L"),
            Column::number("loads left"),
            Column::words("then"),
        ],
        rows: told.results.figures.baths.iter().filter(worn).map(row).collect(),
        sum: None,
    }
}

fn care<'a>(told: &Run<'_>) -> Table<'a> {
    let calendar = &told.results.shop.calendar;
    let row = |(bath, c): (&BathFigure, &CareFigure)| {
        let mut used = Vec::new();
        let mut add = |some: bool, words: String| used.extend(some.then_some(words));
        let u = &c.used;
        add(
            u.concentrate.in_litres() > 0.005,
            format!("{} L concentrate", number(u.concentrate.in_litres(), 2)),
        );
        add(u.water.in_litres() > 0.05, format!("{} water", litres(u.water)));
        add(
            u.wasted.in_litres() > 0.05,
            format!("{} into the waste drum", litres(u.wasted)),
        );
        add(u.media > 0, format!("{} filter medium or media", u.media));
        let cells = vec![
            Cell::words(bath.name.clone()),
            Cell::time(calendar, Some(c.from), ""),
            Cell::time(calendar, Some(c.to), ""),
            Cell::words(used.join(", ")),
        ];
        (html! { (c.kind.words()) }, cells)
    };
    let all = told
        .results
        .figures
        .baths
        .iter()
        .flat_map(|b| b.care.iter().map(move |c| (b, c)));
    Table {
        caption: "Care of the baths",
        columns: vec![
            Column::words("care"),
            Column::words("bath"),
            Column::number("from"),
            Column::number("to"),
            Column::mixed("took"),
        ],
        rows: all.map(row).collect(),
        sum: None,
    }
}
