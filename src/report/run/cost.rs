//! What the day costs, order by order, and what it leaves behind.

use super::{Run, part_name};
use crate::chart::{Width, cost};
use crate::print::{capital, number};
use crate::record::OrderFigure;
use crate::report::page::Part;
use crate::report::picture::{BESIDE, picture};
use crate::report::table::{Cell, Column, Table, named};
use crate::told::{kinds, waste};
use maud::{Markup, html};

pub(super) fn part(told: &Run<'_>) -> Markup {
    let given = told.results.figures.cost.given;
    Part {
        id: "cost",
        heading: "What does it cost?",
        found: html! { (found(told)) },
        read: "Of the day drawn. Costs of an order are its share by coated surface, hands too.",
        pictures: html! {
            @if cost(told.view, Width::Page).is_some() { (picture("cost", BESIDE, |width| cost(told.view, width))) }
        },
        beside: true,
        table: html! {
            @if given { (by_kind(told).html()) (by_order(told).html()) }
        },
    }
    .section()
}

fn found(told: &Run<'_>) -> String {
    let cost = &told.results.figures.cost;
    let money = if cost.given {
        let days = told.results.shop.calendar.days.len();
        let a_day = match days {
            1 => String::new(),
            days => format!(", {} a day", number(cost.total() / days as f64, 2)),
        };
        let hands = 100.0 * cost.hands / cost.total().max(f64::MIN_POSITIVE);
        format!(
            "{} {}{a_day}; {} % of it is hands.",
            number(cost.total(), 2),
            cost.currency,
            number(hands, 0)
        )
    } else {
        "No prices are given.".to_owned()
    };
    let streams = waste(told.results);
    match streams.is_empty() {
        true => money,
        false => format!(
            "{money} {} is left behind. That is controlled waste in many places: ask the local authority before a drop \
             goes down a drain.",
            capital(&streams.join(", "))
        ),
    }
}

fn by_kind<'a>(told: &Run<'_>) -> Table<'a> {
    let results = told.results;
    let total = results.figures.cost.total();
    let mut kinds = kinds(results);
    kinds.sort_by(|a, b| b.1.total_cmp(&a.1));
    let share = |money: f64| Cell::number(100.0 * money / total.max(f64::MIN_POSITIVE), 0);
    Table {
        caption: "Costs by kind",
        columns: vec![
            Column::words("what"),
            Column::number(results.figures.cost.currency.clone()),
            Column::number("share, %"),
        ],
        rows: kinds
            .iter()
            .map(|(kind, money)| (html! { (kind) }, vec![Cell::number(*money, 2), share(*money)]))
            .collect(),
        sum: Some((
            html! { "together" },
            vec![Cell::number(total, 2), Cell::text("100")],
        )),
    }
}

fn by_order<'a>(told: &Run<'_>) -> Table<'a> {
    let results = told.results;
    let currency = &results.figures.cost.currency;
    let row = |o: &OrderFigure| {
        let share = results.figures.order_costs.iter().find(|s| s.order == o.order)?;
        let cells = vec![
            Cell::text(o.pieces.to_string()),
            Cell::number(share.area.in_square_decimetres(), 1),
            Cell::number(share.cost, 2),
            Cell::number(share.each, 3),
        ];
        Some((named(&o.id, &part_name(results, o.part, o.pieces)), cells))
    };
    Table {
        caption: "Costs by order",
        columns: vec![
            Column::words("order"),
            Column::number("pieces"),
            Column::number("surface coated, dm²"),
            Column::number(currency.clone()),
            Column::number(format!("{currency} a piece")),
        ],
        rows: results.figures.orders.iter().filter_map(row).collect(),
        sum: None,
    }
}
