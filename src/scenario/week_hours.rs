//! Reads hours that come again every week: `Tue 16:30 to 21:00`, `Mon to Fri 17:00 to 21:00`.

use super::finding::{Code, Finding};
use super::meant_time;
use super::node::Node;
use super::time::{clock_of, weekday};
use super::value::scalar;
use super::walk::Walk;
use tankday_base::units::Span;

/// Weekdays with the hours that the shop is open on them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct WeekHours {
    /// Whether it is open on each weekday, counted from Monday as 0.
    pub(super) on: [bool; 7],
    /// Opening, since midnight.
    pub(super) open: Span,
    /// Closing, since midnight.
    pub(super) close: Span,
}

/// What an editor checks it by.
pub(super) const PATTERN: &str = r"^\s*[A-Za-z]{3,10}(\s+(to|and)\s+[A-Za-z]{3,10})*\s+\d{1,2}(:\d{2})?\s*([AaPp][Mm])?\s+to\s+\d{1,2}(:\d{2})?\s*([AaPp][Mm])?\s*$";

/// `Tue 16:30 to 21:00`, `Tue and Thu 16:30 to 21:00`, `Mon to Fri 17:00 to 21:00`, `day 08:00 to 12:00` for all seven.
pub(super) fn week_hours(node: &Node, walk: &mut Walk) -> Option<WeekHours> {
    let text = scalar(node, walk, "a weekday with its hours")?;
    let digit = text.find(|c: char| c.is_ascii_digit());
    let Some((days, hours)) = digit.map(|at| text.split_at(at)) else {
        return refuse(
            text,
            format!("write `{} 16:30 to 21:00`", text.trim()),
            node,
            walk,
        );
    };
    if days.trim().is_empty() {
        return refuse(text, meant_time::without_weekday(hours), node, walk);
    }
    let Some((open, close)) = hours.split_once(" to ") else {
        let hours = meant_time::from_to(hours).unwrap_or_else(|| "16:30 to 21:00".to_owned());
        return refuse(text, format!("write `{} {hours}`", days.trim()), node, walk);
    };
    if let Some(each) = meant_time::each_stretch(days, hours) {
        return refuse(text, each, node, walk);
    }
    let on = weekdays(days, node, walk);
    let (open, close) = (clock_of(open, node, walk), clock_of(close, node, walk));
    let hours = WeekHours {
        on: on?,
        open: open?,
        close: close?,
    };
    if hours.open < hours.close {
        return Some(hours);
    }
    walk.refuse(
        Finding::new(Code::Time, node.at, "the shop closes before it opens")
            .label("closes first")
            .help("a day begins and ends on the same date, at 24:00 at the latest"),
    )
}

/// Some weekdays, perhaps with a time.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct WeekTime {
    /// Whether each weekday is meant, counted from Monday as 0.
    pub(super) on: [bool; 7],
    /// The time since midnight; opening where none is written.
    pub(super) time: Option<Span>,
}

/// What an editor checks it by.
pub(super) const TIME_PATTERN: &str =
    r"^\s*every\s+[A-Za-z]{3,10}(\s+(to|and)\s+[A-Za-z]{3,10})*(\s+\d{1,2}(:\d{2})?\s*([AaPp][Mm])?)?\s*$";

/// `every Monday`, `every Mon and Thu 17:00`.
pub(super) fn week_time(node: &Node, walk: &mut Walk) -> Option<WeekTime> {
    let text = scalar(node, walk, "weekdays, perhaps with a time")?;
    let rest = text.strip_prefix("every ").unwrap_or(text);
    let (days, time) = rest.split_at(rest.find(|c: char| c.is_ascii_digit()).unwrap_or(rest.len()));
    if days.trim().is_empty() {
        return walk.refuse(
            Finding::new(Code::Time, node.at, format!("`{text}` names no weekday"))
                .label("expected a weekday")
                .help(format!(
                    "write `every Monday 17:00`, or orders by chance as `{{every: {rest}}}`"
                )),
        );
    }
    let on = weekdays(days, node, walk);
    let time = match time {
        "" => None,
        _ => Some(clock_of(time, node, walk)?),
    };
    Some(WeekTime { on: on?, time })
}

fn refuse<T>(text: &str, help: String, node: &Node, walk: &mut Walk) -> Option<T> {
    let message = format!("`{text}` is not a weekday with its hours");
    walk.refuse(
        Finding::new(Code::Time, node.at, message)
            .label("expected a weekday with its hours")
            .help(help),
    )
}

/// The weekdays that are named.
fn weekdays(text: &str, node: &Node, walk: &mut Walk) -> Option<[bool; 7]> {
    let words: Vec<&str> = text.split([' ', ',']).filter(|w| !w.is_empty()).collect();
    let mut on = [false; 7];
    let mut mark = |from: usize, count: usize| (from..from + count).for_each(|d| on[d % 7] = true);
    if let [from, "to", until] = words.as_slice() {
        let (from, until) = (number(from, node, walk), number(until, node, walk));
        let (from, until) = (from?, until?);
        mark(from, (until + 7 - from) % 7 + 1);
        return Some(on);
    }
    for word in words.into_iter().filter(|w| *w != "and") {
        match word.to_lowercase().as_str() {
            "day" | "days" => mark(0, 7),
            "weekday" | "weekdays" => mark(0, 5),
            _ => mark(number(word, node, walk)?, 1),
        }
    }
    Some(on)
}

/// A weekday counted from Monday as 0.
fn number(word: &str, node: &Node, walk: &mut Walk) -> Option<usize> {
    match weekday(word).map(|d| d.to_monday_zero_offset()) {
        Some(day) => usize::try_from(day).ok(),
        None => walk.refuse(
            Finding::new(Code::UnknownName, node.at, format!("`{word}` is not a weekday"))
                .label(match meant_time::near_weekday(word) {
                    Some(near) => format!("did you mean `{near}`?"),
                    None => "not known here".to_owned(),
                })
                .help("write a weekday, whole or by its first three letters: `Tue 16:30 to 21:00`, `Mon to Fri 17:00 to 21:00`"),
        ),
    }
}
