//! The report of a run: from the answer to what it rests on.

mod baths;
mod cost;
mod day;
mod ends;
mod life;
mod orders;
mod output;
mod planned;
mod route;
mod spots;
mod warned;
mod worked_out;

use super::first;
use super::page::Page;
use super::units::Units;
use crate::narrative::{Results, promises};
use maud::{Markup, html};
use tankday_chart::DayView;
use tankday_scenario::DefaultValue;

/// Everything that a report of a run tells.
#[derive(Debug, Clone, Copy)]
pub struct Run<'a> {
    /// The results.
    pub results: &'a Results<'a>,
    /// The day drawn, read for pictures.
    pub view: &'a DayView,
    /// Names and texts of the files that the scenario was read from, the one asked for first.
    pub files: &'a [(&'a str, &'a str)],
    /// The scenario in one text that stands alone.
    pub whole: &'a str,
    /// Defaults that were taken.
    pub granted: &'a [&'static DefaultValue],
    /// What to type to get the same again.
    pub command: &'a str,
}

/// The report as an HTML file.
#[must_use]
pub fn run(told: &Run<'_>) -> String {
    let results = told.results;
    let promises = promises(results);
    let parts = [
        Some(("day", day::heading(told), day::part(told))),
        Some(("ready", "Ready?", orders::part(told, &promises))),
        planned::part(told).map(|p| ("planned", "How good", p)),
        ends::part(told).map(|p| ("sets-the-end", "What sets the end", p)),
        Some(("output", "Output", output::part(told))),
        Some(("baths", "Tanks and baths", baths::part(told))),
        Some(("routes", "Routes", route::part(told))),
        Some(("cost", "Cost and waste", cost::part(told))),
        Some(("warnings", "Warnings and cautions", warned::part(told))),
        Some(("worked-out", "How worked out", worked_out::part(told))),
    ];
    let parts: Vec<(&str, &str, Markup)> = parts.into_iter().flatten().collect();
    let names: Vec<(&str, &str)> = parts.iter().map(|(id, name, _)| (*id, *name)).collect();
    let title = &results.shop.title;
    let what = if results.planned.is_some() {
        "the plan"
    } else {
        "the day"
    };
    let page = Page {
        title: &format!("{title}: {what}"),
        top: html! { b { (title) } ", " (results.when()) (hours(results)) },
        rules: "",
        units: Units::of(told.whole),
        script: "",
        main: html! {
            div.first {
                (first::heading(results))
                (first::figures(results, &promises))
                (first::to_watch(results))
                (first::contents(&names, &[("day-sheet.html", "Day sheet"), ("day-sheet.ics", "Calendar")]))
            }
            @for (_, _, part) in &parts { (part) }
        },
    };
    page.write()
}

/// `, open 07:30 to 17:00` where it is one day that closes.
fn hours(results: &Results<'_>) -> String {
    match results.shop.calendar.days.as_slice() {
        [day] if day.close < tankday_base::units::Moment::NEVER => {
            format!(", open {} to {}", day.open.clock(), day.close.clock())
        }
        _ => String::new(),
    }
}

/// The names of the orders in a load, each once.
fn orders_of<'a>(results: &'a Results<'_>, load: &tankday_record::TankLoad) -> Vec<&'a str> {
    let mut names: Vec<&str> = Vec::new();
    for lot in &load.lots {
        let name = results.labels.order(lot.order);
        if !names.contains(&name) {
            names.push(name);
        }
    }
    names
}

/// A part as it is called, more than one of it in the plural.
fn part_name(results: &Results<'_>, part: tankday_base::shop::PartId, pieces: u32) -> String {
    let name = results
        .shop
        .parts
        .get(part.index())
        .map_or("", |p| p.name.as_str());
    if pieces == 1 {
        name.to_owned()
    } else {
        tankday_base::print::plural(name)
    }
}

/// A station as it is called.
fn station_name<'a>(results: &'a Results<'_>, id: tankday_base::shop::StationId) -> &'a str {
    results.shop.station_name(id)
}
