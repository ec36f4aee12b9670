//! How far each bath still goes: what is left to every limit that the present mix of work leads to.

use super::Run;
use crate::report::table::{Cell, Column, Table};
use maud::html;
use tankday_base::bath::chemistry::Reach;
use tankday_base::print::number;
use tankday_record::BathFigure;

pub(super) fn table<'a>(told: &Run<'_>) -> Table<'a> {
    let of = |b: &BathFigure| -> Vec<_> {
        let reaches = b.life.iter().flat_map(|l| &l.reaches);
        reaches.map(|r| row(&b.name, r)).collect()
    };
    Table {
        caption: "What is left to each limit at the present mix, nothing being added but water; the first limit first",
        columns: vec![
            Column::words("bath"),
            Column::words("limit"),
            Column::number("area, m\u{b2}"),
            Column::number("loads"),
            Column::number("days"),
        ],
        rows: told.results.figures.baths.iter().flat_map(of).collect(),
        sum: None,
    }
}

fn row(bath: &str, reach: &Reach) -> (maud::Markup, Vec<Cell>) {
    let cells = vec![
        Cell::words(reach.what.words(reach.side)),
        Cell::text(number(reach.area.in_square_metres(), 2)),
        Cell::text(number(reach.loads.floor().max(0.0), 0)),
        Cell::text(number(reach.days, 1)),
    ];
    (html! { b { (bath) } }, cells)
}
