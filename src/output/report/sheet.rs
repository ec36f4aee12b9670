//! The day sheet as a page to print and pin above the bench: large times, boxes to tick, room to write.

use super::page::{Page, sign};
use super::units::Units;
use crate::narrative::Results;
use crate::sheet::{ALWAYS, DEFERS, DaySheet, HYDROGEN, Row, RowKind, ToNote, Whose};
use maud::{Markup, html};
use serde_json::{Value, json};
use tankday_base::fingerprint;
use tankday_base::units::{Moment, POINT};

const SCRIPT: &str = include_str!("sheet.js");
const RULES: &str = include_str!("sheet.css");
/// Lines that a sheet of paper holds, what stands above them left out: measured on Letter, which is shorter than A4.
const SHEET: f64 = 31.0;
/// Lines that the room for notes takes.
const NOTES: f64 = 3.5;
/// Lines that two sheets hold in two columns.
const TWO_COLUMNS: f64 = 112.0;
/// Lines of small print that leave room for notes on two sheets: measured on Letter, with a day of 123 and one of 134.
const SMALL_PRINT: f64 = 130.0;
/// Letters of a deed that stand in one line.
const LINE: usize = 60;

/// The page of all days, beside its report.
#[must_use]
pub fn day_sheet(results: &Results<'_>, sheets: &[DaySheet], units: Units) -> String {
    let title = &results.shop.title;
    let top = html! { b { (title) } ", " (results.when()) ". " a href="report.html" { "Report" } };
    written(results, sheets, units, top, &[])
}

/// What came before the sheets of the rest of a day.
#[derive(Debug, Clone, Copy)]
pub struct Before<'a> {
    /// They begin here.
    pub now: Moment,
    /// What was taken from the notes, in words.
    pub notes: &'a [String],
}

/// The page of sheets that no report stands beside: of the rest of a day, or of a promise.
#[must_use]
pub fn sheets_alone(results: &Results<'_>, sheets: &[DaySheet], before: Option<Before<'_>>) -> String {
    let top = html! {
        b { (results.shop.title) } ", " (results.when()) "."
        @if let Some(before) = before {
            " From " b { (before.now.clock()) } " on; it takes the place of the sheet before."
        }
    };
    let notes = before.map_or(&[][..], |b| b.notes);
    written(results, sheets, Units::Metric, top, notes)
}

fn written(
    results: &Results<'_>,
    sheets: &[DaySheet],
    units: Units,
    top: Markup,
    notes: &[String],
) -> String {
    let page = Page {
        title: &format!("{}: day sheet", results.shop.title),
        top,
        rules: RULES,
        units,
        script: SCRIPT,
        main: html! {
            div id="sheets" data-sheet=(content(sheets)) data-first=(results.shop.calendar.first) {
                @for (i, sheet) in sheets.iter().enumerate() { (day(results, sheet, i)) }
            }
            @if !notes.is_empty() {
                section.taken {
                    h2 { "Taken from the notes" }
                    ul { @for note in notes { li { (note) } } }
                }
            }
        },
    };
    page.write()
}

/// What tells these sheets from any other: what is ticked on one must not stand ticked on the next.
fn content(sheets: &[DaySheet]) -> String {
    let rows = sheets.iter().flat_map(|s| s.rows.iter().map(move |r| (s, r)));
    let texts: Vec<String> = rows
        .map(|(s, r)| format!("{} {} {}", s.date, r.at.clock(), r.deed))
        .collect();
    fingerprint::of(texts.iter().map(String::as_str))
}

fn day(results: &Results<'_>, sheet: &DaySheet, number: usize) -> Markup {
    let date = sheet.date.strftime("%A %-d %B").to_string();
    let halves = halves(sheet, &sheet.rows);
    let paper = paper(&halves);
    let full = is_full(paper, all_lines(&halves));
    html! {
        section.sheet.full[full].two[paper != Paper::One && paper != Paper::Apart].dense[paper == Paper::Dense] {
            @if number == 0 { h1 { "Day sheet, " (date) } } @else { h2.h1 { "Day sheet, " (date) } }
            p.sub { (results.shop.title) ". " (hours(sheet)) (end(sheet)) }
            (head(sheet))
            div.cols {
                @for (i, (name, rows)) in halves.iter().enumerate() {
                    (table(results, name, &date, rows, i > 0 && paper == Paper::Apart))
                }
                div.notes { p { "Notes" } div {} div {} div {} }
            }
        }
    }
}

/// How a day is laid out on paper; wherever it can be, on two sheets at the most.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Paper {
    /// On one sheet.
    One,
    /// The afternoon begins a sheet of its own.
    Apart,
    /// On sheets laid crosswise, in two columns.
    TwoColumns,
    /// The same in smaller print.
    Dense,
}

/// Whether the room for notes would begin a sheet of its own, as far as lines can be told before a browser lays them out.
fn is_full(paper: Paper, lines: f64) -> bool {
    match paper {
        Paper::One => lines > SHEET - NOTES,
        Paper::TwoColumns => {
            let sheet = TWO_COLUMNS / 2.0;
            let last = lines % sheet;
            last > sheet - 2.0 * NOTES || (lines > sheet && last < NOTES)
        }
        Paper::Dense => lines > SMALL_PRINT,
        Paper::Apart => false,
    }
}

fn all_lines(halves: &[(&str, &[Row])]) -> f64 {
    halves.iter().flat_map(|(_, rows)| *rows).map(lines).sum()
}

fn paper(halves: &[(&str, &[Row])]) -> Paper {
    let fits = |(_, rows): &(&str, &[Row])| rows.iter().map(lines).sum::<f64>() <= SHEET;
    let all = all_lines(halves);
    if all <= SHEET {
        Paper::One
    } else if halves.len() > 1 && halves.iter().all(fits) {
        Paper::Apart
    } else if all <= TWO_COLUMNS {
        Paper::TwoColumns
    } else {
        Paper::Dense
    }
}

/// Lines that a row takes, about.
fn lines(row: &Row) -> f64 {
    let wraps = row.deed.chars().count().saturating_sub(1) / LINE;
    1.0 + 0.8 * wraps as f64 + 0.7 * (row.cautions.len() + usize::from(row.hydrogen)) as f64
}

/// What holds for every row.
fn head(sheet: &DaySheet) -> Markup {
    let pressing = sheet.rows.iter().any(|r| r.kind == RowKind::Pressing);
    let bath = sheet.rows.iter().any(|r| r.at_bath);
    html! {
        @if !sheet.assumed.is_empty() { p.assumed { b { (sheet.assumed) } } }
        div.must { p { (sign()) b { (ALWAYS) } " " (DEFERS) } }
        p.key {
            @if bath { span.bar {} "a bath is touched: measure its temperature" (if pressing { "; " } else { "." }) }
            @if pressing { span.double {} "must not wait: the load is done." }
            @if !sheet.least.is_empty() { " No load goes in below " (sheet.least) "." }
            @if sheet.titrates() { " " (POINT) }
        }
    }
}

fn hours(sheet: &DaySheet) -> String {
    let breaks: Vec<&str> = sheet
        .rows
        .iter()
        .filter(|r| r.kind == RowKind::Break)
        .map(|r| r.deed.as_str())
        .collect();
    let close = match sheet.close {
        Moment::NEVER => String::new(),
        close => format!(", closing {}", close.clock()),
    };
    let breaks = match breaks.len() {
        0 => String::new(),
        1 => ", one break".to_owned(),
        n => format!(", {} breaks", tankday_base::print::count_word(n)),
    };
    format!("Open {}{breaks}{close}.", sheet.open.clock())
}

fn end(sheet: &DaySheet) -> String {
    let finish = sheet.finish();
    finish.map_or(String::new(), |at| {
        format!(" Last hands-on work done by {}.", at.clock())
    })
}

/// Morning and afternoon, where the sheet is long and has both.
fn halves<'a>(sheet: &DaySheet, rows: &'a [Row]) -> Vec<(&'static str, &'a [Row])> {
    let noon = |r: &Row| {
        let (day, _) = sheet.open.day_and_time();
        let (d, time) = r.at.day_and_time();
        d > day || time >= tankday_base::units::Span::hours(12.0)
    };
    let cut = rows.iter().position(noon).unwrap_or(rows.len());
    match rows.split_at(cut) {
        ([], rows) | (rows, []) => vec![("What to do", rows)],
        (morning, afternoon) => vec![("Morning", morning), ("Afternoon", afternoon)],
    }
}

fn table(results: &Results<'_>, name: &str, date: &str, rows: &[Row], new_page: bool) -> Markup {
    html! {
        table.rows.next[new_page] {
            caption { (name) span.vh { ", " (date) } }
            thead { tr {
                th scope="col" { "time" }
                th scope="col" { span.vh { "done" } }
                th scope="col" { "what to do" }
                th.w scope="col" { "measured" }
                th.w.d scope="col" { "done at" }
            } }
            tbody { @for r in rows { (row(results, r)) } }
        }
    }
}

fn row(results: &Results<'_>, row: &Row) -> Markup {
    let class = match row.kind {
        RowKind::SheetTask if row.at_bath => "bath",
        RowKind::SheetTask => "task",
        RowKind::Pressing => "pressing",
        RowKind::Ready => "ready",
        RowKind::ReadyLate => "ready late",
        RowKind::Break => "break",
        RowKind::Note => "note",
    };
    let to_do = matches!(row.kind, RowKind::SheetTask | RowKind::Pressing);
    let date = results.shop.calendar.date(row.at);
    // A bath is measured where the row is one tank's.
    let stations = row.doings.iter().map(|d| d.station.as_str());
    let mut tanks: Vec<&str> = stations
        .filter(|name| results.shop.tanks().any(|(_, s, _)| s.name == **name))
        .collect();
    tanks.dedup();
    let tank = match tanks[..] {
        [one] if row.at_bath => Some(one),
        _ => None,
    };
    let note = (to_do && !row.to_note.is_empty()).then(|| noted(&row.to_note));
    // Where nothing is written in, the words go on.
    let wide = match (tank, to_do) {
        (Some(_), _) => None,
        (None, true) => Some(2),
        (None, false) => Some(3),
    };
    html! {
        tr class=(class) data-tank=[tank] data-note=[note] {
            td.t { time datetime={ (date) "T" (row.at.clock()) } { (row.at.clock()) } }
            td.b { (box_of(row, to_do)) }
            td.x colspan=[wide] {
                (deed(row))
                // On paper they go on in the line: with a space between.
                @if row.hydrogen { " " div.h { (HYDROGEN) } }
                @for caution in &row.cautions {
                    " " div.ca { (signed(caution.words())) }
                }
            }
            @if tank.is_some() { td.w { i {} " °C" } }
            @if to_do { td.w.d data-words=(done_at(row)) { i {} } }
        }
    }
}

/// The sign and what it is about; no line ends between the two.
fn signed(words: &str) -> Markup {
    let (first, rest) = words.split_at(words.find(' ').unwrap_or(words.len()));
    html! { span.k { (sign()) " " (first) } (rest) }
}

/// Which time is written in: at a tank, when the load went in or came out.
fn done_at(row: &Row) -> &'static str {
    let is = |what: fn(&ToNote) -> bool| row.to_note.iter().any(what);
    if is(|n| matches!(n, ToNote::Into { .. })) {
        "in at"
    } else if is(|n| matches!(n, ToNote::Out { .. })) {
        "out at"
    } else {
        "done at"
    }
}

/// What the page's script notes when the row is done.
fn noted(notes: &[ToNote]) -> String {
    let one = |note: &ToNote| match note {
        ToNote::Into { tank, load, holds } => {
            let holds: Vec<Value> = holds.iter().map(|l| json!([l.order, l.nth, l.pieces])).collect();
            json!({"into": tank, "load": load, "holds": holds})
        }
        ToNote::TopUp { tank, litres } => json!({"topped": tank, "litres": litres}),
        ToNote::Care { tank, what, begun } => json!({"cared": tank, "what": what, "begun": begun}),
        ToNote::Out { load } => json!({"out": load}),
        ToNote::Step {
            whose,
            step,
            goes_on,
            after,
        } => {
            let mut told = match whose {
                Whose::Load(load) => json!({"load": load}),
                Whose::Lot(l) => json!({"order": l.order, "lot": l.nth, "of": l.of, "pieces": l.pieces}),
            };
            told["step"] = json!(step);
            told["on"] = json!(goes_on);
            told["after"] = json!((after.in_minutes() * 10.0).round() / 10.0);
            told
        }
    };
    Value::from(notes.iter().map(one).collect::<Vec<_>>()).to_string()
}

/// A box to tick, or the mark of an order.
fn box_of(row: &Row, to_do: bool) -> Markup {
    html! {
        @if to_do {
            label.tap { input type="checkbox" aria-label={ "done: " (row.deed) }; }
        } @else if row.kind == RowKind::Ready {
            svg.m viewBox="0 0 12 12" aria-hidden="true" { circle cx="6" cy="6" r="4.5" fill="var(--ok)" {} }
        } @else if row.kind == RowKind::ReadyLate {
            svg.m viewBox="0 0 12 12" aria-hidden="true" { path d="M1 1.5H11L6 11Z" fill="var(--late)" {} }
        }
    }
}

/// The deed: up to its first comma it stands out.
fn deed(row: &Row) -> Markup {
    let (first, rest) = match row.deed.split_once(", ") {
        Some((first, rest)) => (first, format!(", {rest}")),
        None => (row.deed.as_str(), String::new()),
    };
    let bold = matches!(
        row.kind,
        RowKind::SheetTask | RowKind::Pressing | RowKind::ReadyLate
    );
    html! { @if bold { b { (first) } } @else { (first) } span { (rest) } }
}
