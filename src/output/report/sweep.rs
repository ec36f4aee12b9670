//! The report of a sweep.

use super::compare::{answer, figures, lost, named, typed};
use super::first;
use super::page::{Page, Part, fold};
use super::picture::{BESIDE, picture};
use super::table::{Cell, Column, Table};
use super::units::Units;
use crate::narrative::{following, following_notes, rules_turn, turns};
use maud::{Markup, html};
use tankday_base::print::{Replication, number};
use tankday_chart as chart;
use tankday_plan::planned::Following;
use tankday_study::Measure;
use tankday_study::sweep as swept;

/// Figures of the table, in its columns.
const SHOWN: [Measure; 8] = [
    Measure::Finish,
    Measure::LateOrders,
    Measure::InShop,
    Measure::Area,
    Measure::Power,
    Measure::Water,
    Measure::Cost,
    Measure::CostPerArea,
];

/// Everything that a report of a sweep tells.
#[derive(Debug, Clone, Copy)]
pub struct Sweep<'a> {
    /// The points.
    pub sweep: &'a swept::Sweep,
    /// The same by the shop's own rules, where plans are followed.
    pub by_rules: Option<&'a swept::Sweep>,
    /// What the points follow.
    pub following: &'a Following,
    /// The file that was varied, and its text.
    pub scenario: (&'a str, &'a str),
    /// Keys and values as typed.
    pub vary: &'a [String],
    /// Seed.
    pub seed: u64,
    /// What became of a wanted precision.
    pub reached: Option<&'a str>,
}

/// The report as an HTML file.
#[must_use]
pub fn sweep(told: &Sweep<'_>) -> String {
    let keys: Vec<String> = told
        .sweep
        .keys
        .iter()
        .map(tankday_study::sweep::Varied::name)
        .collect();
    let keys = keys.join(" and ");
    let bars = bars(told);
    let parts = [
        ("curve", "The figures", curve(told, &keys)),
        ("lost", "Where the time goes", lost(&bars, "lost")),
        ("worked-out", "How worked out", worked_out(told)),
    ];
    let parts: Vec<_> = parts
        .into_iter()
        .filter(|(.., part)| !part.0.is_empty())
        .collect();
    let contents: Vec<(&str, &str)> = parts.iter().map(|(id, name, _)| (*id, *name)).collect();
    let mut said = turns(told.sweep);
    said.extend(told.by_rules.map(|rules| rules_turn(told.sweep, rules)));
    said.push(following(told.following));
    let page = Page {
        title: &format!("{}: where it turns", tankday_base::print::capital(&keys)),
        top: html! { b { (tankday_base::print::capital(&keys)) } ", varied in " (told.scenario.0) },
        rules: "",
        units: Units::of(told.scenario.1),
        script: "",
        main: html! {
            div.first.alone {
                (answer(&said))
                (figures(&[
                    ("points", told.sweep.points.len().to_string(), "of the grid"),
                    (&format!("simulated {}", told.sweep.each.many()), told.sweep.replications().to_string(), &at_each(told.sweep)),
                    ("sure", "95 %".to_owned(), "of every interval"),
                ]))
                (first::contents(&contents, &[]))
            }
            @for (_, _, part) in &parts { (part) }
        },
    };
    page.write()
}

/// What goes with the number of replications.
fn at_each(sweep: &swept::Sweep) -> String {
    match sweep.each {
        Replication::Day => "at each, the same for all".to_owned(),
        Replication::Run(days) => format!("of {days} days at each, the same for all"),
    }
}

fn curve(told: &Sweep<'_>, keys: &str) -> Markup {
    let shown = chart::SweepShown::of(told.sweep);
    let pictures = match shown.drawn.as_slice() {
        [] => Markup::default(),
        _ => picture("sweep", BESIDE, |width| Some(chart::sweep(told.sweep, width))),
    };
    Part {
        id: "curve",
        heading: "How the figures follow",
        found: html! { (told.sweep.points.len()) " values of " (keys) "." @if !shown.flat.is_empty() { " " (shown.flat) } },
        read: &shown.caption,
        pictures,
        beside: true,
        table: table(told, keys).html(),
    }
    .section()
}

fn table<'a>(told: &Sweep<'_>, keys: &'a str) -> Table<'a> {
    let measures: Vec<Measure> = {
        let all: Vec<Measure> = told.sweep.measures().collect();
        SHOWN.into_iter().filter(|m| all.contains(m)).collect()
    };
    let row = |p: &swept::Point| {
        let cell = |m: &Measure| match (&p.outcome, p.mean(*m)) {
            (Err(_), _) => Cell::text("cannot be"),
            (_, Some(i)) => Cell::text(format!(
                "{} ± {}",
                number(i.mean, m.decimals()),
                number(i.half_width, m.decimals().max(1))
            ))
            .sorted(i.mean),
            (_, None) => Cell::text("\u{2013}"),
        };
        (html! { b { (p.name()) } }, measures.iter().map(cell).collect())
    };
    Table {
        caption: "Means with half the width of their 95 % interval",
        columns: std::iter::once(Column::words(keys))
            .chain(measures.iter().map(|m| Column::number(named(*m))))
            .collect(),
        rows: told.sweep.points.iter().map(row).collect(),
        sum: None,
    }
}

fn bars(told: &Sweep<'_>) -> Vec<chart::Bar> {
    let sound = told.sweep.points.iter().filter(|p| p.outcome.is_ok());
    let bar = |p: &swept::Point| chart::Bar::of(&p.name(), |m| p.mean(m));
    sound.map(bar).collect()
}

fn worked_out(told: &Sweep<'_>) -> Markup {
    let (file, text) = told.scenario;
    let vary: Vec<String> = told.vary.iter().map(|v| format!("--vary \"{v}\"")).collect();
    let command = format!(
        "tankday sweep {file} {}{} --seed {} --replications {} --out out",
        vary.join(" "),
        typed(told.following),
        told.seed,
        told.sweep.replications()
    );
    let sound = told.sweep.points.iter().filter(|p| p.outcome.is_ok());
    let sound: Vec<String> = sound.map(swept::Point::name).collect();
    let cannot = told
        .sweep
        .points
        .iter()
        .filter_map(|p| Some((p.name(), p.outcome.as_ref().err()?)));
    html! {
        section.fine id="worked-out" aria-labelledby="worked-out-h" {
            h2 id="worked-out-h" { "How this was worked out" }
            p { (told.sweep.each.simulated(told.sweep.replications())) " at each point, the same for all, seed " (told.seed)
                ". Intervals of turning points come from resampling these " (told.sweep.each.many()) "." }
            @if let Some(reached) = told.reached { p { "Precision: " (reached) "." } }
            @for words in following_notes(told.following, &sound) { p { (words) } }
            @for (name, why) in cannot { p { (name) " cannot be: " (why) } }
            p { "The same again: " code { (command) } ", with tankday " (env!("CARGO_PKG_VERSION")) "." }
            (fold(&format!("The scenario that was varied: {file}"), &html! {
                pre tabindex="0" role="region" aria-label=(file) { (text) }
            }))
        }
    }
}
