//! How good a planned day is: how far from what no plan can beat, and what plain rules give.

use super::Run;
use crate::narrative::{beyond, chances, near, otherwise, searched, unplanned, weighed};
use crate::report::page::Part;
use crate::report::table::{Cell, Column, Table};
use maud::{Markup, html};
use tankday_base::print::minutes;
use tankday_plan::{Found, Judged};

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
    let near = near(&told.results.shop.calendar, found);
    let mut said = vec![near];
    said.extend(beyond(told.results));
    said.extend(otherwise(told.results));
    said.extend(chances(found, told.results.each()));
    said.extend(weighed(told.results.shop));
    said.extend(unplanned(told.results.shop));
    said.push(searched(found));
    said.join(" ")
}

fn table<'a>(told: &Run<'_>, found: &Found) -> Table<'a> {
    let calendar = &told.results.shop.calendar;
    let cells = |judged: &Judged| {
        vec![
            match judged.unready {
                0 => Cell::time(calendar, Some(judged.finish), "").sorted(judged.finish.in_minutes()),
                // Later than any end.
                undone => Cell::text(format!("{undone} undone")).sorted(1e9 + f64::from(undone)),
            },
            Cell::text(minutes(judged.late).to_string()),
            Cell::text(judged.late_orders.to_string()),
        ]
    };
    let row = |rule: &tankday_plan::RuleResult| {
        let cells = match &rule.judged {
            Some(judged) => cells(judged),
            None => (0..3).map(|_| Cell::text("\u{2013}")).collect(),
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
