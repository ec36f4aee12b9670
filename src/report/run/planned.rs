//! How good a planned day is: how far from what no plan can beat, and what plain rules give.

use super::Run;
use crate::plan::{Found, Judged};
use crate::print::{clock_or_date, minutes};
use crate::report::page::Part;
use crate::report::table::{Cell, Column, Table};
use maud::{Markup, html};

pub(super) fn part(told: &Run<'_>) -> Option<Markup> {
    let found = told.results.planned?;
    let part = Part {
        id: "planned",
        heading: "How good is the plan?",
        found: html! { (distance(told, found)) },
        read: "Found by search: groups and order are changed a little at a time, and each change is judged by a simulated \
               day with mean times.",
        pictures: table(told, found).html(),
        beside: false,
        table: Markup::default(),
    };
    Some(part.section())
}

fn distance(told: &Run<'_>, found: &Found) -> String {
    let calendar = &told.results.shop.calendar;
    let (ends, bound) = (found.judged.finish, found.bounds.finish);
    let gap = minutes(ends - bound);
    let late = match (minutes(found.judged.late), minutes(found.bounds.late)) {
        (0, _) => "Nothing is late.".to_owned(),
        (late, least) => format!("In all it is {late} min late; no plan can be less than {least} min late."),
    };
    let least = if gap <= 0 {
        "no plan can end earlier".to_owned()
    } else {
        format!(
            "no plan can end before {}, {gap} min earlier",
            clock_or_date(calendar, bound)
        )
    };
    format!(
        "The last load is ready at {}; {least}. {late} {} days were simulated.",
        clock_or_date(calendar, ends),
        found.evaluations
    )
}

fn table<'a>(told: &Run<'_>, found: &Found) -> Table<'a> {
    let calendar = &told.results.shop.calendar;
    let cells = |judged: &Judged| {
        vec![
            Cell::time(calendar, Some(judged.finish), ""),
            Cell::text(minutes(judged.late).to_string()),
            Cell::text(judged.late_orders.to_string()),
        ]
    };
    let row = |rule: &crate::plan::RuleResult| {
        let cells = match rule.judged.as_ref().filter(|j| j.unready == 0) {
            Some(judged) => cells(judged),
            None => vec![
                Cell::text("not all ready"),
                Cell::text("\u{2013}"),
                Cell::text("\u{2013}"),
            ],
        };
        (html! { (rule.name) }, cells)
    };
    let plan = (html! { b { "this plan" } }, cells(&found.judged));
    Table {
        caption: "This plan, and what plain rules give",
        columns: vec![
            Column::words("by"),
            Column::number("ends"),
            Column::number("minutes late"),
            Column::number("orders late"),
        ],
        rows: std::iter::once(plan).chain(found.rules.iter().map(row)).collect(),
        sum: None,
    }
}
