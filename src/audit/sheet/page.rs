//! The page of the sheet must show the rows of the CSV, one by one, and around them what must stand there and nothing else.

use super::Faults;
use super::day::{DEFERS, DaySheet, WEAR};
use super::shown::{Around, Form, Shown, all_rows, compare, is_clock, touches_bath};
use super::table::Row;
use tankday_base::shop::Shop;
use tankday_base::units::Moment;

/// The page: a row of a table whose first cell is a time.
pub(super) fn check(shop: &Shop, page: &str, sheets: &[DaySheet<'_>], faults: &mut Faults) {
    let page = without(&without(page, "style"), "script");
    let mut form = Form::default();
    let mut rows = all_rows(sheets);
    let mut pieces = page.split("<tr");
    form.around.push(without_tags(pieces.next().unwrap_or_default()));
    for piece in pieces {
        let (row, rest) = piece.split_once("</tr>").unwrap_or((piece, ""));
        let (attributes, inside) = row.split_once('>').unwrap_or(("", row));
        let words = without_tags(inside);
        let start = words.trim_start();
        let Some(clock) = start.get(..5).filter(|c| is_clock(c)) else {
            if let Some(last) = form.around.last_mut() {
                last.push_str(&words);
                last.push_str(&without_tags(rest));
            }
            continue;
        };
        form.rows.push(Shown {
            clock: clock.to_owned(),
            words: start[5..].to_owned(),
            wrong: rows.next().and_then(|r| wrong_row(shop, r, attributes, inside)),
        });
        form.around.push(without_tags(rest));
    }
    compare("day-sheet.html", &form, sheets, &expected(shop, sheets), faults);
    let first = format!(" data-first=\"{}\"", shop.calendar.first);
    if !page.contains(&first) {
        faults.say(
            Moment::ZERO,
            format!("day-sheet.html: its first day is not {}", shop.calendar.first),
        );
    }
}

/// What is wrong with a row of the page beside its words: its look, its date, its box.
fn wrong_row(shop: &Shop, row: &Row, attributes: &str, inside: &str) -> Option<String> {
    let class = match row.cell("what") {
        "must not wait" => "pressing",
        "do" if touches_bath(row) => "bath",
        "do" => "task",
        "ready late" => "ready late",
        kind => kind,
    };
    let stamp = format!("datetime=\"{}T{}\"", shop.calendar.date(row.at), row.at.clock());
    let boxes = inside.matches("type=\"checkbox\"").count();
    match () {
        () if !attributes.contains(&format!("class=\"{class}\"")) => {
            Some(format!("it does not look like `{class}`"))
        }
        () if !inside.contains(&stamp) => Some("its date is another".to_owned()),
        () if inside.contains("</i> °C</td>") != is_measured(shop, row) => {
            Some("room for a temperature stands where no one bath is touched, or is missing".to_owned())
        }
        () if boxes != usize::from(row.is_task()) => Some(format!("it has {boxes} boxes to tick")),
        () => None,
    }
}

/// Whether one bath is touched, so that its temperature is written in.
fn is_measured(shop: &Shop, row: &Row) -> bool {
    let stations = super::table::places(shop, row.cell("station"));
    let mut tanks: Vec<&str> = stations
        .into_iter()
        .filter(|name| shop.tanks().any(|(_, s, _)| s.name == **name))
        .collect();
    tanks.dedup();
    touches_bath(row) && tanks.len() == 1
}

/// What must stand around the rows of the page.
fn expected(shop: &Shop, sheets: &[DaySheet<'_>]) -> Vec<String> {
    let title = &shop.title;
    let mut around = Around::default();
    around.say(&format!(
        "{title}: day sheet To the answer {title}, {}. Report",
        when(sheets)
    ));
    for sheet in sheets {
        let name = sheet.name();
        around.say(&format!("Day sheet, {name} {title}. {}", sheet.hours()));
        around.say(&format!("{WEAR} {DEFERS} {}", key(sheet)));
        for (part, rows) in parts(sheet) {
            around.say(&format!("{part}, {name} time done what to do measured done at"));
            around.rows(rows);
        }
        around.say("Notes");
    }
    around.0
}

/// What the marks of the page mean, and what holds for every load.
fn key(sheet: &DaySheet<'_>) -> String {
    let bath = sheet.rows.iter().any(|t| touches_bath(t.row));
    let mut all = Vec::new();
    if bath {
        all.push(
            "a bath is touched: measure its temperature".to_owned()
                + if sheet.has("must not wait") { ";" } else { "." },
        );
    }
    if sheet.has("must not wait") {
        all.push("must not wait: the load is done.".to_owned());
    }
    all.extend(sheet.least());
    all.extend(sheet.point().map(str::to_owned));
    all.join(" ")
}

/// The tables of a day, with how many rows each has: morning and afternoon, where it has both.
fn parts(sheet: &DaySheet<'_>) -> Vec<(&'static str, usize)> {
    let all = sheet.rows.len();
    let morning = sheet.rows.iter().take_while(|t| !sheet.is_late(t.row)).count();
    if morning == 0 || morning == all {
        vec![("What to do", all)]
    } else {
        vec![("Morning", morning), ("Afternoon", all - morning)]
    }
}

/// `Thursday 5 March 2026`, `5 to 6 March 2026`, `30 March to 2 April 2026`
fn when(sheets: &[DaySheet<'_>]) -> String {
    let (Some(first), Some(last)) = (sheets.first(), sheets.last()) else {
        return String::new();
    };
    let (from, to) = (first.date, last.date);
    if sheets.len() == 1 {
        return from.strftime("%A %-d %B %Y").to_string();
    }
    let form = match (from.year() == to.year(), from.month() == to.month()) {
        (true, true) => "%-d",
        (true, false) => "%-d %B",
        _ => "%-d %B %Y",
    };
    format!("{} to {}", from.strftime(form), to.strftime("%-d %B %Y"))
}

/// A page without the elements of a name and what is in them.
fn without(page: &str, name: &str) -> String {
    let (open, close) = (format!("<{name}"), format!("</{name}>"));
    let mut parts = page.split(open.as_str());
    let mut rest = parts.next().unwrap_or_default().to_owned();
    for part in parts {
        rest.push_str(part.split_once(close.as_str()).map_or("", |(_, after)| after));
    }
    rest
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
