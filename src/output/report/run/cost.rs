//! What the day costs, order by order, and what it leaves behind.

use super::{Run, part_name};
use crate::narrative::{Results, Spent, hands_paid, left_undone, spent, waste};
use crate::report::page::Part;
use crate::report::picture::{BESIDE, picture};
use crate::report::table::{Cell, Column, Table, named};
use maud::{Markup, html};
use tankday_base::print::{Replication, capital, number};
use tankday_chart::{Width, cost};
use tankday_record::OrderFigure;

pub(super) fn part(told: &Run<'_>) -> Markup {
    let given = told.results.figures.cost.given;
    Part {
        id: "cost",
        heading: "What does it cost?",
        found: html! { (found(told)) },
        read: &read(told.results),
        pictures: html! {
            @if cost(told.view, Width::Page).is_some() { (picture("cost", BESIDE, |width| cost(told.view, width))) }
        },
        beside: true,
        table: html! {
            @if given { (by_kind(told, &spent(told.results)).html()) (by_order(told).html()) }
        },
    }
    .section()
}

/// How to read it.
fn read(results: &Results<'_>) -> String {
    let each = results.each();
    match results.many() {
        Some(study) => format!(
            "Means over {}, with a mark for each where they differ. An order costs its share by coated surface, hands too; \
             shares and waste are those of the {} drawn.",
            each.simulated(study.days.len()),
            each.one()
        ),
        None => "Costs are split among orders by area coated, hands too.".to_owned(),
    }
}

fn found(told: &Run<'_>) -> String {
    let cost = &told.results.figures.cost;
    let money = if cost.given {
        let spent = spent(told.results);
        let days = told.results.shop.calendar.days.len();
        let a_day = match days {
            1 => String::new(),
            days => format!(", {} a day", number(spent.total / days as f64, 2)),
        };
        let hands = 100.0 * spent.hands / spent.total.max(f64::MIN_POSITIVE);
        let paid =
            hands_paid(told.results.shop, &spent).map_or_else(String::new, |words| format!(" {words}"));
        let undone = left_undone(&spent).map_or(String::new(), |words| format!(" {}.", capital(&words)));
        format!(
            "{} {}{a_day}{}; {} % of it is hands.{paid}{undone}",
            number(spent.total, 2),
            cost.currency,
            how_sure(&spent),
            number(hands, 0)
        )
    } else {
        "No prices are given.".to_owned()
    };
    let streams = waste(told.results);
    match streams.is_empty() {
        true => money,
        false => format!(
            "{money} Left behind: {}. That is controlled waste in many places: ask the local authority before a drop \
             goes down a drain.",
            streams.join(", ")
        ),
    }
}

/// `, the mean of 200 days (95 % sure: 164.80 to 165.60)`; nothing if there is one day.
fn how_sure(spent: &Spent) -> String {
    let sure = match spent.sure {
        Some((low, high)) => format!(" (95 % sure: {} to {})", number(low, 2), number(high, 2)),
        None => String::new(),
    };
    match spent.of.as_str() {
        "" => String::new(),
        of => format!(", the {of}{sure}"),
    }
}

fn by_kind<'a>(told: &Run<'_>, spent: &Spent) -> Table<'a> {
    let total = spent.total;
    let share = |money: f64| Cell::number(100.0 * money / total.max(f64::MIN_POSITIVE), 0);
    Table {
        caption: "Costs by kind",
        columns: vec![
            Column::words("what"),
            Column::number(told.results.figures.cost.currency.clone()),
            Column::number("share, %"),
        ],
        rows: spent
            .kinds
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
        caption: match results.each() {
            Replication::Day => {
                "Costs by order, on the day drawn: hands by their time on it, the rest by area coated"
            }
            Replication::Run(_) => {
                "Costs by order, on the run drawn: hands by their time on it, the rest by area coated"
            }
        },
        columns: vec![
            Column::words("order"),
            Column::number("pieces"),
            Column::number("area coated, dm²"),
            Column::number(currency.clone()),
            Column::number(format!("{currency} a piece")),
        ],
        rows: results.figures.orders.iter().filter_map(row).collect(),
        sum: None,
    }
}
