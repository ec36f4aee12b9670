//! Finished work against the clock.

use super::Run;
use crate::report::page::Part;
use crate::report::picture::{BESIDE, picture};
use crate::report::table::{Cell, Column, Table, time};
use maud::{Markup, html};
use tankday_base::print::{number, pieces_of};
use tankday_chart::output;
use tankday_record::Finished;

pub(super) fn part(told: &Run<'_>) -> Markup {
    let all = &told.view.output;
    let (done, area) = all
        .done
        .last()
        .map_or((0, 0.0), |f| (f.pieces, f.area.in_square_decimetres()));
    let (all_of, are) = match all.pieces {
        1 => ("The one piece".to_owned(), "is"),
        n => (format!("All {}", pieces_of(n as u32, "piece")), "are"),
    };
    let found = if done >= all.pieces {
        format!("{all_of}, {} dm², {are} finished.", number(area, 1))
    } else {
        format!(
            "{done} of {} pieces are finished, {} of {} dm².",
            all.pieces,
            number(area, 1),
            number(all.area.in_square_decimetres(), 1)
        )
    };
    Part {
        id: "output",
        heading: "Output against the clock",
        found: html! { (found) },
        read: "What is finished should stay above and left of what is due.",
        pictures: picture("output", BESIDE, |width| Some(output(told.view, width))),
        beside: true,
        table: table(told).html(),
    }
    .section()
}

fn table<'a>(told: &Run<'_>) -> Table<'a> {
    let calendar = &told.results.shop.calendar;
    let row = |f: &Finished| {
        let cells = vec![
            Cell::text(f.pieces.to_string()),
            Cell::number(f.area.in_square_decimetres(), 1),
        ];
        (time(calendar, f.at), cells)
    };
    Table {
        caption: "Finished by then",
        columns: vec![
            Column::words("time"),
            Column::number("pieces"),
            Column::number("area, dm²"),
        ],
        rows: told.view.output.done.iter().map(row).collect(),
        sum: None,
    }
}
