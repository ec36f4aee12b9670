//! The report of a comparison.

use super::first;
use super::page::{Page, Part, fold};
use super::picture::{BESIDE, picture};
use super::table::{Cell, Column, Table};
use super::units::Units;
use crate::narrative::{
    Three, better_on, decimals, following, following_notes, hangs_on, paid, rules_say, standings, unsharpened,
};
use maud::{Markup, html};
use tankday_base::print::{Replication, list, lower, number};
use tankday_chart as chart;
use tankday_plan::planned::Following;
use tankday_study::Measure;
use tankday_study::compare::{Assumption, Comparison, Difference, Finding, payback, verdict};

/// Everything that a report of a comparison tells.
#[derive(Debug, Clone, Copy)]
pub struct Compare<'a> {
    /// The alternatives and their differences.
    pub comparison: &'a Comparison,
    /// The same by the shops' own rules, where plans are followed.
    pub by_rules: Option<&'a Comparison>,
    /// What the alternatives follow.
    pub following: &'a Following,
    /// The same with something taken otherwise.
    pub assumptions: &'a [Assumption],
    /// Names and texts of the scenarios, each standing alone.
    pub scenarios: &'a [(String, String)],
    /// The currency of the first.
    pub currency: &'a str,
    /// Seed.
    pub seed: u64,
    /// What became of a wanted precision.
    pub reached: Option<&'a str>,
}

/// The report as an HTML file.
#[must_use]
pub fn compare(told: &Compare<'_>) -> String {
    let names = names(told);
    let parts = [
        ("apart", "Differences", apart(told)),
        ("assumed", "What it depends on", super::assumed::part(told)),
        ("lost", "Where the time goes", lost(&bars(told), "lost")),
        ("best", "Which is best", best(told)),
        ("worked-out", "How worked out", worked_out(told)),
    ];
    let parts: Vec<_> = parts
        .into_iter()
        .filter(|(.., part)| !part.0.is_empty())
        .collect();
    let contents: Vec<(&str, &str)> = parts.iter().map(|(id, name, _)| (*id, *name)).collect();
    let said: Vec<String> = std::iter::once(verdict(told.comparison))
        .chain(hangs_on(told.comparison, told.assumptions))
        .chain(told.by_rules.map(|rules| rules_say(told.comparison, rules)))
        .chain([following(told.following)])
        .collect();
    let page = Page {
        title: &format!("{}: which to take", list(&names)),
        top: html! { b { (list(&names)) } ", on the same simulated " (told.comparison.each.many()) },
        rules: "",
        units: Units::of(told.scenarios.first().map_or("", |(_, text)| text)),
        script: "",
        main: html! {
            div.first.alone {
                (answer(&said))
                (figures(&[
                    ("alternatives", names.len().to_string(), "all others are held against the first"),
                    (&format!("simulated {}", told.comparison.each.many()), told.comparison.replications().to_string(), &each(told.comparison)),
                    ("sure", "95 %".to_owned(), "of every interval"),
                ]))
                (first::contents(&contents, &[]))
            }
            @for (_, _, part) in &parts { (part) }
        },
    };
    page.write()
}

/// The first sentence as the heading, what else is said below it.
pub(super) fn answer(said: &[String]) -> Markup {
    let all = said.iter().map(|words| glued(&squared(words)));
    let all: Vec<String> = all.collect();
    let first = all.first().map_or("", String::as_str);
    let (head, rest) = first.split_once(". ").unwrap_or((first, ""));
    html! {
        h1 { (head.trim_end_matches('.')) "." }
        @if !rest.is_empty() { p.rest { (rest) } }
        @for more in all.iter().skip(1) { p.rest { (more) } }
    }
}

/// A number and its unit stay on one line.
fn glued(words: &str) -> String {
    let mut text = String::with_capacity(words.len());
    let mut before = ' ';
    let mut letters = words.chars().peekable();
    while let Some(c) = letters.next() {
        let unit = |next: &char| *next == '%' || next.is_alphabetic();
        let glue = c == ' ' && before.is_ascii_digit() && letters.peek().is_some_and(unit);
        text.push(if glue { '\u{a0}' } else { c });
        before = c;
    }
    text
}

/// Three figures beside the answer.
pub(super) fn figures(figures: &[(&str, String, &str)]) -> Markup {
    html! {
        dl.three {
            @for (name, value, note) in figures {
                (first::one(&Three { name: (*name).to_owned(), value: value.clone(), note: (*note).to_owned() }))
            }
        }
    }
}

/// What goes with the number of replications: `5 days each, the same for all`.
fn each(comparison: &Comparison) -> String {
    match comparison.each {
        Replication::Day => "each, the same for all".to_owned(),
        Replication::Run(days) => format!("of {days} days, the same for all"),
    }
}

/// Square metres as they are written.
pub(super) fn squared(words: &str) -> String {
    words.replace("m2", "m²")
}

fn names(told: &Compare<'_>) -> Vec<String> {
    told.comparison
        .alternatives
        .iter()
        .map(|a| a.name.clone())
        .collect()
}

fn apart(told: &Compare<'_>) -> Markup {
    let comparison = told.comparison;
    let names = names(told);
    let tables = (1..names.len()).map(|i| against(told, &names, i));
    Part {
        id: "apart",
        heading: "How they differ",
        found: html! { (paybacks(told)) },
        read: &format!(
            "The same {} for all. {}",
            comparison.each.many(),
            chart::compare_caption(comparison)
        ),
        pictures: picture("compare", BESIDE, |width| Some(chart::compare(comparison, width))),
        beside: true,
        table: html! { @for table in tables { (table) } },
    }
    .section()
}

fn paybacks(told: &Compare<'_>) -> String {
    let one = |i: usize| {
        let back = payback(told.comparison, i, 0)?;
        let name = told.comparison.alternatives.get(i)?.name.clone();
        let paid = paid(told.comparison, &back, told.currency);
        Some(match back.alternative {
            0 => format!("Beside {name}: {}", lower(&paid)),
            _ => format!("With {name}: {}", lower(&paid)),
        })
    };
    let all: Vec<String> = (1..told.comparison.alternatives.len()).filter_map(one).collect();
    match all.is_empty() {
        true => "Differences that are noise are called so.".to_owned(),
        false => all.join(" "),
    }
}

/// One alternative against the first.
fn against(told: &Compare<'_>, names: &[String], alternative: usize) -> Markup {
    let name = |i: usize| names.get(i).map_or("", String::as_str);
    let caption = format!("{} against {}", name(alternative), name(0));
    let telling = |d: &&Difference| d.finding() != Finding::Identical || d.other != 0.0;
    let table = Table {
        caption: &caption,
        columns: vec![
            Column::words("figure"),
            Column::number(name(0)),
            Column::number(name(alternative)),
            Column::number("difference"),
            Column::number("95 % interval"),
            Column::number("better on, of 100"),
            Column::words("finding"),
        ],
        rows: told
            .comparison
            .of_alternative(alternative)
            .filter(telling)
            .map(difference)
            .collect(),
        sum: None,
    };
    table.html()
}

fn difference(d: &Difference) -> (Markup, Vec<Cell>) {
    let places = decimals(d);
    let n = |value: f64| Cell::number(value, places);
    let minus = |value: f64| number(value, places).replace('-', "\u{2212}");
    let i = &d.interval;
    let cells = vec![
        n(d.other),
        n(d.other + i.mean),
        n(i.mean),
        Cell::text(format!("{} to {}", minus(i.low()), minus(i.high()))).sorted(i.low()),
        Cell::text(better_on(d).replace('-', "\u{2013}")),
        Cell::words(match d.finding() {
            Finding::Identical => "exactly the same",
            Finding::Noise => "may be noise",
            Finding::Small => "small but sure",
            Finding::Lower => "lower",
            Finding::Higher => "higher",
        }),
    ];
    (html! { (named(d.measure)) }, cells)
}

/// A figure with its unit.
pub(super) fn named(measure: Measure) -> String {
    let words = squared(measure.words());
    match measure.unit() {
        "" => words,
        unit => format!("{words}, {}", squared(unit)),
    }
}

fn bars(told: &Compare<'_>) -> Vec<chart::Bar> {
    let bar = |a: &tankday_study::compare::Alternative| chart::Bar::of(&a.name, |m| a.mean(m));
    told.comparison.alternatives.iter().map(bar).collect()
}

/// Where the time of the tanks goes, bar by bar; nothing where no tank coats.
pub(super) fn lost(bars: &[chart::Bar], id: &str) -> Markup {
    if bars.iter().all(|b| b.parts.iter().all(|p| *p == 0.0)) {
        return Markup::default();
    }
    let sure = if bars.iter().any(|b| b.sure.is_some()) {
        " The black bar below a row: the 95 % interval of the time coating."
    } else {
        ""
    };
    let table = Table {
        caption: "Time of the tanks for each day, min",
        columns: std::iter::once(Column::words("name"))
            .chain(chart::PARTS.map(|m| Column::number(squared(m.words()))))
            .collect(),
        rows: bars
            .iter()
            .map(|b| {
                (
                    html! { b { (b.name) } },
                    b.parts.iter().map(|p| Cell::number(*p, 0)).collect(),
                )
            })
            .collect(),
        sum: None,
    };
    Part {
        id,
        heading: "Where the time of the tanks goes",
        found: html! { "How long the tanks coat, and what the rest of their working time goes to." },
        read: &format!("Minutes a day, all tanks that coat together.{sure}"),
        pictures: picture("lost-output", BESIDE, |width| Some(chart::lost(bars, width))),
        beside: true,
        table: table.html(),
    }
    .section()
}

fn best(told: &Compare<'_>) -> Markup {
    let rows = standings(told.comparison);
    let table = Table {
        caption: "The best, figure by figure",
        columns: vec![Column::words("figure"), Column::words("best")],
        rows: rows
            .into_iter()
            .map(|(m, words)| (html! { (named(m)) }, vec![Cell::words(words)]))
            .collect(),
        sum: None,
    };
    Part {
        id: "best",
        heading: "Which is best?",
        found: html! { "95 % sure of each line as a whole." },
        read: &format!(
            "Too close to call: the simulated {} do not tell them apart.",
            told.comparison.each.many()
        ),
        pictures: table.html(),
        beside: false,
        table: Markup::default(),
    }
    .section()
}

fn worked_out(told: &Compare<'_>) -> Markup {
    let files: Vec<String> = told.scenarios.iter().map(|(name, _)| file(name)).collect();
    let assumes = told
        .assumptions
        .iter()
        .map(|a| format!(" --assume \"{}\"", a.typed));
    let command = format!(
        "tankday compare {}{}{} --seed {} --replications {} --out out",
        files.join(" "),
        assumes.collect::<String>(),
        typed(told.following),
        told.seed,
        told.comparison.replications()
    );
    html! {
        section.fine id="worked-out" aria-labelledby="worked-out-h" {
            h2 id="worked-out-h" { "How this was worked out" }
            p { (told.comparison.each.simulated(told.comparison.replications())) " for each alternative, seed " (told.seed) ": the same orders come at the \
                 same moments, and a step takes as long here as there, so that what differs is the shop." }
            @for words in following_notes(told.following, &names(told)) { p { (words) } }
            @if let Some(words) = unsharpened(told.comparison) { p { (squared(&words)) } }
            @if let Some(reached) = told.reached { p { "Precision: " (reached) "." } }
            p { "The same again: " code { (command) } ", with tankday " (env!("CARGO_PKG_VERSION")) "." }
            @for (name, text) in told.scenarios {
                (fold(&format!("The scenario as run: {name}"), &html! {
                    pre tabindex="0" role="region" aria-label=(name) { (text) }
                }))
            }
        }
    }
}

/// How to ask for what is followed.
pub(super) fn typed(following: &Following) -> String {
    match following {
        Following::Rules { .. } => String::new(),
        Following::Plans { effort, .. } => format!(" --planned {effort}"),
    }
}

/// A name as a file.
fn file(name: &str) -> String {
    if name.contains('.') {
        name.to_owned()
    } else {
        format!("{name}.yaml")
    }
}
