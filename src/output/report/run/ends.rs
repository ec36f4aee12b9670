//! What sets the end of the day, and what would help.

use super::Run;
use crate::narrative::NOTHING;
use crate::narrative::{Ends, ends, hours_early, in_minutes};
use crate::report::page::{Part, fold};
use crate::report::picture::{BESIDE, picture};
use crate::report::table::{Cell, Column, Table};
use maud::{Markup, html};
use tankday_base::print::how_long;
use tankday_base::units::Span;
use tankday_chart::{Width, sets_the_end};
use tankday_plan::planned::can_be_planned;

pub(super) fn part(told: &Run<'_>) -> Option<Markup> {
    let ends = ends(told.results)?;
    let shown = |width| sets_the_end(told.view, width);
    let pictures = html! {
        @if shown(Width::Page).is_some() { (picture("sets-the-end", BESIDE, shown)) }
    };
    let tables = html! { (causes(&ends).html()) (helps(&ends).html()) (in_vain(&ends)) };
    if let Some(early) = hours_early(told.results) {
        return Some(folded(early, &html! { (pictures) (tables) }));
    }
    let part = Part {
        id: "sets-the-end",
        heading: "What sets the end?",
        found: html! { (found(&ends, told.results.beyond.is_some())) },
        read: match (ends.helps.is_empty(), told.results.beyond.is_some()) {
            (true, _) => {
                "From the last load that is ready back to the opening, along whatever each stretch waited for."
            }
            (_, true) => {
                "From the last load that is ready back to the opening, along whatever each stretch waited for. What would \
                 help beyond the plan comes from planning the day again, effort quick, with that one thing made easier."
            }
            (_, false) if can_be_planned(told.results.shop) => {
                "From the last load that is ready back to the opening, along whatever each stretch waited for. What would \
                 help comes from simulating the day again, by the shop's rules, with that one thing made easier; a plan may \
                 change this."
            }
            _ => {
                "From the last load that is ready back to the opening, along whatever each stretch waited for. What would \
                 help comes from simulating the day again with that one thing made easier."
            }
        },
        pictures,
        beside: true,
        table: tables,
    };
    Some(part.section())
}

/// Nothing has to end sooner: what sets the end stands in a fold.
fn folded(early: Span, inside: &Markup) -> Markup {
    html! {
        section.part id="sets-the-end" aria-labelledby="sets-the-end-h" {
            h2 id="sets-the-end-h" { "What sets the end?" }
            p.find { "Every order is at least " (how_long(early)) " early: nothing has to end sooner." }
            (fold("What sets the end all the same, and what would help", inside))
        }
    }
}

fn found(ends: &Ends, planned: bool) -> String {
    let most = if planned {
        "What would help most beyond the plan"
    } else {
        "What would help most"
    };
    let helps = match ends.helps.first() {
        Some((what, gain)) if gain != NOTHING => format!(" {most}: {what}, {gain}."),
        _ => String::new(),
    };
    format!("{}.{helps}", tankday_base::print::capital(&ends.headline()))
}

fn causes<'a>(ends: &Ends) -> Table<'a> {
    let share = |m: i64| 100.0 * m as f64 / (ends.whole.max(1)) as f64;
    let rows = ends.causes.iter().filter(|(_, m)| *m > 0);
    Table {
        caption: "What the time from the opening to the end went into",
        columns: vec![
            Column::words("cause"),
            Column::number("time"),
            Column::number("share, %"),
        ],
        rows: rows
            .map(|(cause, m)| {
                (
                    html! { (cause) },
                    vec![
                        Cell::text(in_minutes(*m)).sorted(*m as f64),
                        Cell::number(share(*m), 0),
                    ],
                )
            })
            .collect(),
        sum: Some((
            html! { "together" },
            vec![Cell::text(in_minutes(ends.whole)), Cell::text("100")],
        )),
    }
}

fn helps<'a>(ends: &Ends) -> Table<'a> {
    let rows = ends.helps.iter().filter(|(_, gain)| gain != NOTHING);
    Table {
        caption: "The same day with one thing made easier",
        columns: vec![Column::words("what is eased"), Column::number("what it gains")],
        rows: rows
            .enumerate()
            // They come the best first, minutes and orders alike.
            .map(|(at, (what, gain))| {
                (
                    html! { (what) },
                    vec![Cell::text(gain.as_str()).sorted(-(at as f64))],
                )
            })
            .collect(),
        sum: None,
    }
}

/// What was tried and gains nothing.
fn in_vain(ends: &Ends) -> Markup {
    let names = ends.helps.iter().filter(|(_, gain)| gain == NOTHING);
    let names: Vec<&str> = names.map(|(what, _)| what.as_str()).collect();
    html! {
        @if !names.is_empty() {
            p.read { "Tried as well, and gains nothing worth naming: " (names.join("; ")) "." }
        }
    }
}
