//! Text and page must show the rows of the CSV, one by one: each at its time, with its words, and none besides.

use super::Faults;
use super::table::Row;
use tankday_base::units::Moment;

/// What stands in a line to be written on or ticked off.
const BLANKS: [&str; 5] = ["____ °C", "__:__", "[ ]", "____", "☐"];

/// Letters and figures only: breaks of lines, marks and rules do not count.
fn bare(text: &str) -> String {
    let mut text = text.to_owned();
    for blank in BLANKS {
        text = text.replace(blank, "");
    }
    text.chars().filter(|c| c.is_alphanumeric()).collect()
}

/// The sheet as text: a line that begins with a time begins a row.
pub(super) fn text(text: &str, rows: &[Row], faults: &mut Faults) {
    let mut shown: Vec<(String, String)> = Vec::new();
    for line in text.lines() {
        // A row begins in the third column; what goes on with it stands further to the right.
        let row = line
            .strip_prefix("  ")
            .and_then(|row| row.get(..5).map(|clock| (row, clock)));
        match (row.filter(|(_, clock)| is_clock(clock)), shown.last_mut()) {
            (Some((row, clock)), _) => shown.push((clock.to_owned(), unmarked(&row[5..]).to_owned())),
            (None, Some(last)) if line.starts_with("    ") => {
                last.1.push(' ');
                last.1.push_str(line.trim_start());
            }
            _ => {}
        }
    }
    compare("day-sheet.txt", &shown, rows, faults);
}

/// Without the mark of an order that is ready.
fn unmarked(words: &str) -> &str {
    let words = words.trim_start();
    let ready = words.strip_prefix("o ").or_else(|| words.strip_prefix("v "));
    ready.unwrap_or(words)
}

fn is_clock(text: &str) -> bool {
    text.len() == 5
        && text
            .char_indices()
            .all(|(i, c)| if i == 2 { c == ':' } else { c.is_ascii_digit() })
}

/// The page: a row of a table whose first cell is a time.
pub(super) fn page(page: &str, rows: &[Row], faults: &mut Faults) {
    let mut shown = Vec::new();
    for row in page.split("<tr").skip(1) {
        let row = row.split("</tr>").next().unwrap_or_default();
        let Some((_, inside)) = row.split_once('>') else {
            continue;
        };
        let words = without_tags(inside);
        let start = words.trim_start();
        if let Some(clock) = start.get(..5).filter(|c| is_clock(c)) {
            shown.push((clock.to_owned(), start[5..].to_owned()));
        }
    }
    compare("day-sheet.html", &shown, rows, faults);
}

/// What is read of a piece of a page.
fn without_tags(html: &str) -> String {
    let mut text = String::with_capacity(html.len());
    let mut inside = false;
    for c in html.chars() {
        match c {
            '<' => inside = true,
            '>' => {
                inside = false;
                text.push(' ');
            }
            c if !inside => text.push(c),
            _ => {}
        }
    }
    let entities = [
        ("&lt;", "<"),
        ("&gt;", ">"),
        ("&quot;", "\""),
        ("&#39;", "'"),
        ("&amp;", "&"),
    ];
    entities
        .iter()
        .fold(text, |text, (from, to)| text.replace(from, to))
}

fn compare(file: &str, shown: &[(String, String)], rows: &[Row], faults: &mut Faults) {
    for (row, (clock, words)) in rows.iter().zip(shown) {
        let (task, caution) = (bare(row.cell("task")), bare(row.cell("caution")));
        let words = bare(words);
        // Behind the words: the cautions, and on the page the unit of what is measured.
        let rest = words
            .strip_prefix(&task)
            .map(|rest| rest.replacen(&caution, "", 1));
        let whole = words.contains(&caution) && rest.is_some_and(|r| r.is_empty() || r == "C");
        if row.at.clock() != *clock || !whole {
            faults.of_row(row, &format!("{file} says `{clock} {words}`"));
            return;
        }
    }
    if shown.len() != rows.len() {
        let text = format!("{file} has {} rows, day-sheet.csv {}", shown.len(), rows.len());
        faults.say(rows.last().map_or(Moment::ZERO, |r| r.at), text);
    }
}
