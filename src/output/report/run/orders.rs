//! Orders: when they are ready, and how sure that is.

use super::{Run, part_name};
use crate::narrative::{Promise, Sure};
use crate::report::page::Part;
use crate::report::table::{Cell, Column, Table, named};
use maud::{Markup, html};
use tankday_base::print::capital;

use crate::report::picture::{BESIDE, picture};
use tankday_chart::promises as drawn;

pub(super) fn part(told: &Run<'_>, promises: &[Promise<'_>]) -> Markup {
    let many = told.results.many().is_some();
    let read = read(told);
    Part {
        id: "ready",
        heading: if many {
            "Will it be ready?"
        } else {
            "What is ready when?"
        },
        found: found(told, promises),
        read: &read,
        pictures: picture("promises", BESIDE, |width| Some(drawn(told.view, width))),
        beside: true,
        table: table(told, promises, many).html(),
    }
    .section()
}

/// How to read it.
fn read(told: &Run<'_>) -> String {
    let each = told.results.each();
    let (many, more) = (
        each.many(),
        "With --replications 200 the report says how sure each promise is.",
    );
    match told.results.study {
        Some(study) if study.days.len() > 1 => format!(
            "Usually: ready by then on half of the {many}. Nine in ten: ready by then on nine {many} of ten; that can be due. \
             Safe: on time on at least 95 of 100 {many}; tight: on at least 50."
        ),
        Some(_) => format!(
            "{}, which says nothing about chances. {more}",
            capital(&each.simulated(1))
        ),
        None => format!("Worked out with average times, one {}. {more}", each.one()),
    }
}

fn found(told: &Run<'_>, promises: &[Promise<'_>]) -> Markup {
    let count = |sure: fn(Sure) -> bool| promises.iter().filter(|p| sure(p.sure)).count();
    let harmed = promises.iter().filter(|p| p.in_time() && !p.on_time()).count();
    let safe = count(|s| s >= Sure::Safe);
    let tight = count(|s| s == Sure::Tight);
    let late = promises.iter().filter(|p| !p.in_time()).count();
    let said = |n: usize, one: &str, many: &str| match n {
        0 => None,
        1 => Some(format!("1 order {one}")),
        n => Some(format!("{n} orders {many}")),
    };
    let safe_words = if told.results.many().is_some() {
        "safe"
    } else {
        "on time"
    };
    let parts: Vec<String> = [
        said(safe, &format!("is {safe_words}"), &format!("are {safe_words}")),
        said(tight, "is tight", "are tight"),
        said(
            harmed,
            "lies bare too long or takes no coat",
            "lie bare too long or take no coat",
        ),
        said(late, "is late or not ready", "are late or not ready"),
    ]
    .into_iter()
    .flatten()
    .collect();
    html! {
        @if parts.is_empty() { "No order comes." } @else { (parts.join("; ")) "." }
    }
}

fn table<'a>(told: &Run<'_>, promises: &[Promise<'_>], many: bool) -> Table<'a> {
    let mut columns = vec![
        Column::words("order"),
        Column::number("pieces"),
        Column::number("comes"),
        Column::number("due"),
        Column::number(if many { "usually" } else { "ready" }),
    ];
    columns.extend(many.then(|| Column::number("nine in ten")));
    columns.push(Column::words("on time"));
    Table {
        caption: if many {
            "Orders: usual and safe time of being ready"
        } else {
            "Orders and when they are ready"
        },
        columns,
        rows: promises.iter().map(|p| row(told, p, many)).collect(),
        sum: None,
    }
}

fn row(told: &Run<'_>, promise: &Promise<'_>, many: bool) -> (Markup, Vec<Cell>) {
    let order = promise.order;
    let calendar = &told.results.shop.calendar;
    let mut cells = vec![
        Cell::text(order.pieces.to_string()),
        Cell::time(calendar, Some(order.came), ""),
        Cell::time(
            calendar,
            promise.due,
            if promise.due_varies { "varies" } else { "\u{2013}" },
        ),
        Cell::time(calendar, promise.usual(), "not ready"),
    ];
    if many {
        cells.push(Cell::time(calendar, promise.instead(), "not ready"));
    }
    let late = promise.sure <= Sure::Late;
    let words = html! { (mark(promise.sure)) span.late[late] { (promise.words()) } };
    cells.push(Cell::marked(words).sorted(promise.worth()));
    let part = part_name(told.results, order.part, order.pieces);
    (named(&order.id, &part), cells)
}

/// A disc on time, a half-filled square where it is tight, a triangle where it is late.
fn mark(sure: Sure) -> Markup {
    html! {
        svg.m viewBox="0 0 12 12" aria-hidden="true" {
            @match sure {
                Sure::Certain | Sure::Safe => { circle cx="6" cy="6" r="4.5" fill="var(--ok)" {} }
                Sure::Tight => {
                    path d="M1.5 1.5H10.5V10.5H1.5Z" fill="none" stroke="var(--tight)" stroke-width="1.4" {}
                    path d="M1.5 1.5H6V10.5H1.5Z" fill="var(--tight)" {}
                }
                Sure::Late | Sure::Cannot => { path d="M1 1.5H11L6 11Z" fill="var(--late)" {} }
            }
        }
    }
}
