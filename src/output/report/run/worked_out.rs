//! What the report rests on: how it was worked_out, how to get the same again, what was taken for granted, and the
//! scenario as it was run.

use super::Run;
use crate::report::page::fold;
use crate::report::table::{Cell, Column, Table};
use maud::{Markup, html};
use tankday_base::print::capital;
use tankday_scenario::DefaultValue;

pub(super) fn part(told: &Run<'_>) -> Markup {
    html! {
        section.fine id="worked-out" aria-labelledby="worked-out-h" {
            h2 id="worked-out-h" { "How this was worked out" }
            p { (how(told)) }
            p { "The same again, to the byte: " code { (told.command) } ", with tankday " (env!("CARGO_PKG_VERSION")) "." }
            p {
                "Heat, evaporation and water follow published correlations; the chemistry of the bath is a model with the \
                 constants below. Total acid and iron act on how fast a coating grows, the acid ratio does not: no source \
                 gives a figure for it. What nobody stated was taken from the table of defaults; each names its source, or says \
                 that it has none."
            }
            (fold(&format!("What was taken for granted, {} values", told.granted.len()), &defaults(told.granted).html()))
            (scenario(told))
        }
    }
}

fn how(told: &Run<'_>) -> String {
    let (seed, each) = (told.results.seed, told.results.each());
    match told.results.study.map(|s| s.days.len()) {
        None => "One day, every varying time at its mean; nothing is drawn.".to_owned(),
        Some(1) => format!(
            "{}, seed {seed}: it says nothing about chances.",
            capital(&each.simulated(1))
        ),
        Some(days) => format!(
            "{}, seed {seed}. The {} drawn is the one whose ready times are nearest the medians of all.",
            each.simulated(days),
            each.one()
        ),
    }
}

fn defaults<'a>(granted: &[&DefaultValue]) -> Table<'a> {
    let row = |d: &&DefaultValue| {
        let value = Cell::words(d.value).difference(d.is_difference());
        let cells = vec![value, Cell::words(d.source)];
        (html! { code { (d.key) } }, cells)
    };
    Table {
        caption: "Values that the scenario leaves out",
        columns: vec![
            Column::words("key"),
            Column::mixed("value"),
            Column::mixed("source"),
        ],
        rows: granted.iter().map(row).collect(),
        sum: None,
    }
}

/// The files as written, and where one extends another, what they mean together.
fn scenario(told: &Run<'_>) -> Markup {
    let together = told.files.len() > 1;
    html! {
        @for (name, text) in told.files {
            (fold(&format!("The scenario as written: {name}"), &text_of(name, text)))
        }
        @if together {
            (fold("The scenario as run: all files together", &text_of("the scenario as run", told.whole)))
        }
    }
}

fn text_of(name: &str, text: &str) -> Markup {
    html! { pre tabindex="0" role="region" aria-label=(name) { (text) } }
}
