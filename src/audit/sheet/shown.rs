//! The text must show the rows of the CSV, one by one, each at its time, with its words and its marks; and around them what
//! must stand there and nothing else: headings, what to wear, the least temperature, the meaning of the marks. The page is
//! held in the same way (`page`).

use super::Faults;
use super::day::DaySheet;
use super::table::{Act, Row};
use tankday_base::units::Moment;

/// What stands in a line to be written on or ticked off; a unit that a name or a blank may bring, wherever the line ends.
const BLANKS: [&str; 6] = ["____ °C", "__:__", "[ ]", "____", "☐", "°C"];

/// A row as it is shown.
pub(super) struct Shown {
    pub(super) clock: String,
    pub(super) words: String,
    /// What is wrong with it beside its words.
    pub(super) wrong: Option<String>,
}

/// A form of the sheet, taken apart: its rows, and what stands before the first, between any two and after the last.
#[derive(Default)]
pub(super) struct Form {
    pub(super) rows: Vec<Shown>,
    pub(super) around: Vec<String>,
}

/// Letters and figures only: breaks of lines, marks and rules do not count.
fn bare(text: &str) -> String {
    let mut text = text.to_owned();
    for blank in BLANKS {
        text = text.replace(blank, "");
    }
    text.chars().filter(|c| c.is_alphanumeric()).collect()
}

/// What stands around rows, without spaces and ends of lines.
fn squeezed(text: &str) -> String {
    text.chars().filter(|c| !c.is_whitespace()).collect()
}

/// The sheet as text: a line that begins with a time begins a row.
pub(super) fn text(text: &str, sheets: &[DaySheet<'_>], faults: &mut Faults) {
    let mut form = Form {
        around: vec![String::new()],
        ..Form::default()
    };
    let mut rows = all_rows(sheets);
    let mut inside = false;
    for line in text.lines() {
        // A row begins in the third column; what goes on with it stands further to the right.
        let row = line
            .strip_prefix("  ")
            .and_then(|row| Some((row, row.get(..5).filter(|clock| is_clock(clock))?)));
        match (row, form.rows.last_mut()) {
            (Some((row, clock)), _) => {
                let marks = rows.next().and_then(|r| wrong_marks(r, &row[5..]));
                form.rows.push(Shown {
                    clock: clock.to_owned(),
                    words: unmarked(&row[5..]).to_owned(),
                    wrong: marks,
                });
                form.around.push(String::new());
                inside = true;
            }
            (None, Some(last)) if inside && line.starts_with("    ") => {
                last.words.push(' ');
                last.words.push_str(line.trim_start());
            }
            _ => {
                inside = false;
                if let Some(last) = form.around.last_mut() {
                    last.push_str(line);
                }
            }
        }
    }
    compare("day-sheet.txt", &form, sheets, &expected(sheets), faults);
}

pub(super) fn all_rows<'a>(sheets: &'a [DaySheet<'_>]) -> impl Iterator<Item = &'a Row> {
    sheets.iter().flat_map(|s| &s.rows).map(|t| t.row)
}

fn text_above(sheet: &DaySheet<'_>) -> String {
    format!(
        "DAY SHEET, {} measured done at {}",
        sheet.name(),
        sheet.above().join(" ")
    )
}

fn text_below(sheet: &DaySheet<'_>) -> String {
    let mut below = String::new();
    if sheet.rows.iter().all(|t| t.row.cell("what") == "break") {
        below.push_str("Nothing to do.");
    }
    if sheet.has("must not wait") {
        below.push_str("> must not wait: the load is done");
    }
    if sheet.has("ready") || sheet.has("ready late") {
        below.push_str("o ready x ready, but late");
    }
    below
}

/// What must stand around the rows of the text.
fn expected(sheets: &[DaySheet<'_>]) -> Vec<String> {
    let mut around = Around::default();
    for sheet in sheets {
        around.say(&text_above(sheet));
        around.rows(sheet.rows.len());
        around.say(&text_below(sheet));
    }
    around.0
}

/// What stands before the first row, between any two and after the last, as it is gathered.
pub(super) struct Around(pub(super) Vec<String>);

impl Default for Around {
    fn default() -> Self {
        Self(vec![String::new()])
    }
}

impl Around {
    pub(super) fn say(&mut self, words: &str) {
        if let Some(last) = self.0.last_mut() {
            last.push_str(words);
            last.push(' ');
        }
    }

    pub(super) fn rows(&mut self, many: usize) {
        self.0.extend((0..many).map(|_| String::new()));
    }
}

/// What is wrong with the marks of a line of text: the sign of its kind, a box and room for the time where something is to
/// be done, room for the temperature where a bath is touched.
fn wrong_marks(row: &Row, line: &str) -> Option<String> {
    let sign = match row.cell("what") {
        "must not wait" => ">[ ]",
        "do" => "[ ]",
        "ready" => "o ",
        "ready late" => "x ",
        "note" => "! ",
        _ => "--- ",
    };
    if !line.trim_start().starts_with(sign) {
        return Some(format!("it does not begin with `{}`", sign.trim()));
    }
    let blanks = [
        ("[ ]", row.is_task()),
        ("__:__", row.is_task()),
        ("____ °C", touches_bath(row)),
    ];
    blanks.into_iter().find_map(|(blank, should)| {
        let has = line.matches(blank).count();
        // Of names that look like one, as many as the end of the line leaves.
        let named = row.cell("task").matches(blank).count();
        let right = usize::from(should)..=usize::from(should) + named;
        (!right.contains(&has)).then(|| format!("it has {has} of `{blank}`"))
    })
}

/// Whether a bath is touched, so that its temperature is measured.
pub(super) fn touches_bath(row: &Row) -> bool {
    let first = row.acts.first();
    let care = [
        Act::HeaterOn,
        Act::HeaterOff,
        Act::PutIn,
        Act::TakeOut,
        Act::TopUp,
        Act::Add,
        Act::Care,
    ];
    row.is_task() && first.is_some_and(|act| care.contains(act))
}

/// Without the mark of an order that is ready.
fn unmarked(words: &str) -> &str {
    let words = words.trim_start();
    let ready = words.strip_prefix("o ").or_else(|| words.strip_prefix("x "));
    ready.unwrap_or(words)
}

pub(super) fn is_clock(text: &str) -> bool {
    text.len() == 5
        && text
            .char_indices()
            .all(|(i, c)| if i == 2 { c == ':' } else { c.is_ascii_digit() })
}

pub(super) fn compare(
    file: &str,
    form: &Form,
    sheets: &[DaySheet<'_>],
    around: &[String],
    faults: &mut Faults,
) {
    let rows: Vec<&Row> = all_rows(sheets).collect();
    for (row, shown) in rows.iter().zip(&form.rows) {
        let (task, caution) = (bare(row.cell("task")), bare(row.cell("caution")));
        let words = bare(&shown.words);
        // Behind the words: the cautions, and on the page the unit of what is measured.
        let rest = words
            .strip_prefix(&task)
            .map(|rest| rest.replacen(&caution, "", 1));
        let whole = words.contains(&caution) && rest.is_some_and(|r| r.is_empty() || r == "C");
        if row.at.clock() != shown.clock || !whole {
            faults.of_row(row, &format!("{file} says `{} {words}`", shown.clock));
            return;
        }
        if let Some(wrong) = &shown.wrong {
            faults.of_row(row, &format!("{file}: {wrong}"));
        }
    }
    if form.rows.len() != rows.len() {
        let text = format!(
            "{file} has {} rows, day-sheet.csv {}",
            form.rows.len(),
            rows.len()
        );
        return faults.say(rows.last().map_or(Moment::ZERO, |r| r.at), text);
    }
    for (at, (shown, should)) in form.around.iter().zip(around).enumerate() {
        if squeezed(shown) != squeezed(should) {
            let place = match rows.get(at) {
                Some(row) => format!("above {}", row.at.clock()),
                None => "below its last row".to_owned(),
            };
            let text = format!(
                "{file}, {place}: `{}` should be `{should}`",
                shown.split_whitespace().collect::<Vec<_>>().join(" ")
            );
            faults.say(rows.get(at).or(rows.last()).map_or(Moment::ZERO, |r| r.at), text);
        }
    }
}
