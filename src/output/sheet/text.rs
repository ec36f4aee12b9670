//! The sheet as text, 80 columns wide, with room to write in.

use super::caution::{ALWAYS, DEFERS};
use super::{DaySheet, HYDROGEN, Row, RowKind};
use tankday_base::print::{Line, Paper, Style, columns_of, wrap};
use tankday_base::units::POINT;

const WIDTH: usize = 80;
/// Where the deed begins.
const DEED: usize = 14;
/// Where cautions begin.
const CAUTION: usize = 12;
/// Columns of a deed where no temperature is written beside it, and where one is.
const DEED_WIDTH: usize = 54;
const AT_BATH_WIDTH: usize = 44;
/// Where the measured temperature is written.
const MEASURED: usize = 60;
/// Where the time is written at which it was done.
const DONE: usize = 70;

/// The sheet as styled lines.
#[must_use]
pub fn lines(sheet: &DaySheet) -> Vec<Line> {
    let mut lines = head(sheet);
    for row in &sheet.rows {
        lines.extend(row_lines(row));
    }
    if sheet.rows.iter().all(|r| r.kind == RowKind::Break) {
        lines.push(Line::plain("  Nothing to do."));
    }
    let has = |kinds: &[RowKind]| sheet.rows.iter().any(|r| kinds.contains(&r.kind));
    let pressing = has(&[RowKind::Pressing]).then_some("> must not wait: the load is done");
    let ready = has(&[RowKind::Ready, RowKind::ReadyLate]).then_some("o ready   x ready, but late");
    let key: Vec<&str> = pressing.into_iter().chain(ready).collect();
    if !key.is_empty() {
        lines.push(Line::of(Style::Dim, format!("  {}", key.join("   "))));
    }
    lines
}

/// All sheets as one text file.
#[must_use]
pub fn to_text(sheets: &[DaySheet]) -> String {
    let mut text = String::new();
    for (i, sheet) in sheets.iter().enumerate() {
        if i > 0 {
            text.push_str("\n\n");
        }
        for line in lines(sheet) {
            text.push_str(&line.write(Paper::FILE));
            text.push('\n');
        }
    }
    text
}

fn head(sheet: &DaySheet) -> Vec<Line> {
    let title = format!("DAY SHEET, {}", sheet.date.strftime("%A %-d %B"));
    let mut lines = vec![
        Line::of(Style::Bold, title)
            .to_column(MEASURED)
            .and(Style::Dim, "measured   done at"),
    ];
    let least = match sheet.least.as_str() {
        "" => String::new(),
        least => format!(" No load goes in below {least}."),
    };
    let point = if sheet.titrates() {
        format!(" {POINT}")
    } else {
        String::new()
    };
    if !sheet.assumed.is_empty() {
        lines.extend(wrapped(&sheet.assumed, 2));
    }
    lines.extend(wrapped(&format!("{ALWAYS}{least} {DEFERS}{point}"), 2));
    lines.push(Line::empty());
    lines
}

fn wrapped(words: &str, indent: usize) -> Vec<Line> {
    let indented = |line: String| Line::plain(format!("{}{line}", " ".repeat(indent)));
    wrap(words, WIDTH - indent).into_iter().map(indented).collect()
}

fn row_lines(row: &Row) -> Vec<Line> {
    let clock = row.at.clock();
    match row.kind {
        RowKind::SheetTask | RowKind::Pressing => deed_lines(row, &clock),
        RowKind::Ready => told(row, Style::Plain, 'o'),
        RowKind::ReadyLate => told(row, Style::Late, 'x'),
        RowKind::Note => told(row, Style::Watch, '!'),
        RowKind::Break => pause(row, &clock),
    }
}

/// A break, with a rule as far as its line goes.
fn pause(row: &Row, clock: &str) -> Vec<Line> {
    let first = format!("  {clock}  --- ");
    let indent = columns_of(&first);
    let mut lines: Vec<String> = Vec::new();
    for words in wrap(&row.deed, WIDTH - indent - 1) {
        let before = if lines.is_empty() {
            first.clone()
        } else {
            " ".repeat(indent)
        };
        lines.push(format!("{before}{words}"));
    }
    if let Some(last) = lines.last_mut() {
        let rule = "-".repeat(WIDTH.saturating_sub(columns_of(last) + 1));
        if !rule.is_empty() {
            last.push_str(&format!(" {rule}"));
        }
    }
    lines.into_iter().map(|line| Line::of(Style::Dim, line)).collect()
}

/// What is no deed: its time, its sign, its words.
fn told(row: &Row, style: Style, sign: char) -> Vec<Line> {
    let first = format!("  {}   {sign}  ", row.at.clock());
    let indent = columns_of(&first);
    let mut lines = Vec::new();
    for (i, words) in wrap(&row.deed, WIDTH - indent).into_iter().enumerate() {
        let before = if i == 0 { first.clone() } else { " ".repeat(indent) };
        lines.push(Line::of(style, format!("{before}{words}")));
    }
    lines
}

/// Cautions in as few lines as they fit in; none is broken.
fn caution_lines(row: &Row) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for caution in &row.cautions {
        let words = format!("! {}", caution.words());
        match lines.last_mut() {
            Some(line) if CAUTION + columns_of(line) + 1 + columns_of(&words) <= WIDTH => {
                line.push(' ');
                line.push_str(&words);
            }
            _ => lines.push(words),
        }
    }
    lines
}

fn deed_lines(row: &Row, clock: &str) -> Vec<Line> {
    let mark = if row.kind == RowKind::Pressing { '>' } else { ' ' };
    let mut lines = Vec::new();
    let width = if row.at_bath { AT_BATH_WIDTH } else { DEED_WIDTH };
    for (i, words) in wrap(&row.deed, width).into_iter().enumerate() {
        if i > 0 {
            lines.push(Line::plain(format!("{}{words}", " ".repeat(DEED))));
            continue;
        }
        let line = Line::of(Style::Bold, format!("  {clock} {mark}[ ]  ")).and(Style::Plain, words);
        let line = if row.at_bath {
            line.to_column(MEASURED).and(Style::Plain, "____ °C")
        } else {
            line
        };
        lines.push(line.to_column(DONE).and(Style::Plain, "__:__"));
    }
    if row.hydrogen {
        lines.push(Line::plain(" ".repeat(CAUTION)).and(Style::Watch, format!("[ {HYDROGEN} ]")));
    }
    for cautions in caution_lines(row) {
        lines.push(Line::plain(" ".repeat(CAUTION)).and(Style::Watch, cautions));
    }
    lines
}
