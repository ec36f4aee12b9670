//! The sheet as iCalendar (RFC 5545): one entry for what follows at once, with an alarm at each action.
//!
//! Times are floating: local wherever the calendar is read, as the clock over the bench is. Nothing of the wall clock
//! goes in, so the same day gives the same bytes: an entry is told from others by its sheet, its day and its place.

use super::caution::{ALWAYS, DEFERS};
use super::{DaySheet, Row, RowKind};
use tankday_base::units::{Moment, POINT, Span};

/// Octets of a line at most, its end left out (RFC 5545, section 3.1).
const WIDTH: usize = 75;
/// Actions that follow each other within this are one entry.
const AT_ONCE: Span = Span::whole_minutes(1);
/// But no entry goes on for longer, unless one action does.
const LONGEST: Span = Span::whole_minutes(30);

/// All sheets as one calendar, called by the title of the scenario.
#[must_use]
pub fn to_calendar(title: &str, sheets: &[DaySheet]) -> String {
    let rows = sheets.iter().flat_map(|s| &s.rows).map(|r| r.deed.as_str());
    let key = tankday_base::fingerprint::of(std::iter::once(title).chain(rows));
    let mut out = Lines(String::new());
    out.put("BEGIN:VCALENDAR");
    out.put("VERSION:2.0");
    out.put("PRODID:-//tankday//day sheet//EN");
    out.put("CALSCALE:GREGORIAN");
    out.text("NAME", title);
    out.text("X-WR-CALNAME", title);
    out.text("DESCRIPTION", DEFERS);
    for sheet in sheets {
        for (nth, entry) in entries(sheet).iter().enumerate() {
            write_entry(&mut out, sheet, entry, &key, nth);
        }
    }
    out.put("END:VCALENDAR");
    out.0
}

/// Actions of one entry, in order of time.
fn entries(sheet: &DaySheet) -> Vec<Vec<&Row>> {
    let mut entries: Vec<Vec<&Row>> = Vec::new();
    let asks = |r: &&Row| r.calls || matches!(r.kind, RowKind::SheetTask | RowKind::Pressing);
    let mut end = Moment::ZERO;
    for row in sheet.rows.iter().filter(asks) {
        let done = row.until.unwrap_or(row.at);
        let first = entries.last().and_then(|e| e.first()).map(|r| r.at);
        let joins = first.is_some_and(|first| row.at <= end + AT_ONCE && done.max(end) - first <= LONGEST);
        match entries.last_mut() {
            Some(entry) if joins => entry.push(row),
            _ => entries.push(vec![row]),
        }
        end = if joins { end.max(done) } else { done };
    }
    entries
}

fn write_entry(out: &mut Lines, sheet: &DaySheet, entry: &[&Row], key: &str, nth: usize) {
    let Some(first) = entry.first() else { return };
    let ends = entry.iter().map(|r| r.until.unwrap_or(r.at)).max();
    // To the minute, as the sheet is read; an entry lasts a minute at least.
    let from = whole_minute(first.at);
    let to =
        whole_minute(ends.unwrap_or(first.at) + Span::micros(59_999_999)).max(from + Span::whole_minutes(1));
    out.put("BEGIN:VEVENT");
    out.put(&format!(
        "UID:{key}-{}-{}@tankday",
        sheet.date.strftime("%Y%m%d"),
        nth + 1
    ));
    out.put(&format!("DTSTAMP:{}T000000Z", sheet.date.strftime("%Y%m%d")));
    out.put(&format!("DTSTART:{}", local(sheet, from)));
    out.put(&format!("DTEND:{}", local(sheet, to)));
    out.text("SUMMARY", &summary(entry));
    out.text("DESCRIPTION", &description(sheet, entry, nth));
    let mut places: Vec<&str> = Vec::new();
    for doing in entry.iter().flat_map(|r| &r.doings) {
        if !doing.station.is_empty() && !places.contains(&doing.station.as_str()) {
            places.push(&doing.station);
        }
    }
    if !places.is_empty() {
        out.text("LOCATION", &places.join(", "));
    }
    for row in entry {
        let after = (whole_minute(row.at) - from).in_micros() / 60_000_000;
        out.put("BEGIN:VALARM");
        out.put("ACTION:DISPLAY");
        out.put(&format!("TRIGGER;RELATED=START:PT{after}M"));
        out.text("DESCRIPTION", &with_caution(row));
        out.put("END:VALARM");
    }
    out.put("END:VEVENT");
}

fn summary(entry: &[&Row]) -> String {
    let deed = entry.first().map_or("", |r| r.deed.as_str());
    let pressing = entry.iter().any(|r| r.kind == RowKind::Pressing);
    let more = match entry.len() {
        0 | 1 => String::new(),
        n => format!(", and {} more", n - 1),
    };
    let mark = if pressing { "! " } else { "" };
    format!("{mark}{deed}{more}")
}

/// What to do and what to mind, each caution with its action; what always holds with the first of the day.
fn description(sheet: &DaySheet, entry: &[&Row], nth: usize) -> String {
    let mut lines = Vec::new();
    if nth == 0 {
        lines.push(ALWAYS.to_owned());
        if !sheet.least.is_empty() {
            lines.push(format!("No load goes in below {}.", sheet.least));
        }
        lines.push(DEFERS.to_owned());
        if sheet.titrates() {
            lines.push(POINT.to_owned());
        }
    }
    for row in entry {
        lines.push(format!("{} {}", row.at.clock(), with_caution(row)));
    }
    lines.join("\n")
}

fn with_caution(row: &Row) -> String {
    let minds = row.minds();
    if minds.is_empty() {
        return row.deed.clone();
    }
    format!("{}. Mind: {minds}", row.deed)
}

fn whole_minute(at: Moment) -> Moment {
    Moment::micros(at.in_micros().div_euclid(60_000_000) * 60_000_000)
}

/// A floating local time: `20260305T073000`.
fn local(sheet: &DaySheet, at: Moment) -> String {
    let days = at.day_and_time().0 - sheet.open.day_and_time().0;
    let date = sheet
        .date
        .saturating_add(jiff::Span::new().try_days(days).unwrap_or_default());
    format!("{}T{}00", date.strftime("%Y%m%d"), at.clock().replace(':', ""))
}

/// Content lines, folded.
struct Lines(String);

impl Lines {
    /// A property whose value is text, escaped.
    fn text(&mut self, name: &str, value: &str) {
        self.put(&format!("{name}:{}", escaped(value)));
    }

    /// One content line: after 75 octets it goes on in the next line behind a blank, never within a letter.
    fn put(&mut self, line: &str) {
        let mut used = 0;
        for c in line.chars() {
            if used + c.len_utf8() > WIDTH {
                self.0.push_str("\r\n ");
                used = 1;
            }
            self.0.push(c);
            used += c.len_utf8();
        }
        self.0.push_str("\r\n");
    }
}

/// Backslash, semicolon, comma and line ends as RFC 5545, section 3.3.11, wants them; other control characters go.
fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '\\' | ';' | ',' => {
                out.push('\\');
                out.push(c);
            }
            '\n' => out.push_str("\\n"),
            c if c.is_control() => {}
            c => out.push(c),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::{Lines, escaped, to_calendar};
    use crate::sheet::{Act, DaySheet, Doing, Row, RowKind, StepCaution};
    use tankday_base::units::{Moment, Span};

    fn row(minute: i64, takes: i64, deed: &str) -> Row {
        let at = Moment::ZERO + Span::whole_minutes(minute);
        Row {
            until: Some(at + Span::whole_minutes(takes)),
            hands: Some(Span::whole_minutes(takes)),
            cautions: vec![StepCaution::Foam],
            at_bath: true,
            ..Row::plain(
                at,
                RowKind::SheetTask,
                deed.to_owned(),
                Doing::at(Act::Start, "tank"),
            )
        }
    }

    fn sheet(rows: Vec<Row>) -> DaySheet {
        DaySheet {
            date: jiff::civil::date(2026, 3, 5),
            open: Moment::ZERO + Span::whole_minutes(450),
            close: Moment::ZERO + Span::whole_minutes(1020),
            least: "88 °C".to_owned(),
            assumed: String::new(),
            rows,
        }
    }

    #[test]
    fn lines_are_folded_at_75_octets_and_never_within_a_letter() {
        let mut lines = Lines(String::new());
        let long = "é".repeat(100);
        lines.put(&long);
        let all: Vec<&str> = lines.0.split("\r\n").collect();
        assert!(all.iter().all(|l| l.len() <= 75), "{all:?}");
        assert_eq!(lines.0.replace("\r\n ", "").trim_end(), long);
        let mut exact = Lines(String::new());
        exact.put(&"a".repeat(75));
        assert_eq!(exact.0, format!("{}\r\n", "a".repeat(75)));
    }

    #[test]
    fn text_is_escaped() {
        assert_eq!(escaped("a,b;c\\d\ne\r"), "a\\,b\\;c\\\\d\\ne");
    }

    #[test]
    fn what_follows_at_once_is_one_entry_with_an_alarm_at_each_action() {
        // 08:00 to 08:02, at once 08:02 to 08:06; 08:20 stands alone; so does what nobody does.
        let mut ready = row(500, 0, "A1 ready");
        ready.kind = RowKind::Ready;
        let rows = || {
            vec![
                row(480, 2, "L1 into the tank"),
                row(482, 4, "blast"),
                row(500, 3, "oil"),
                ready.clone(),
            ]
        };
        let text = to_calendar("a day", &[sheet(rows())]);
        assert_eq!(text.matches("BEGIN:VEVENT").count(), 2);
        assert_eq!(text.matches("BEGIN:VALARM").count(), 3);
        assert!(
            text.contains("DTSTART:20260305T080000\r\nDTEND:20260305T080600\r\n"),
            "{text}"
        );
        assert!(text.contains("TRIGGER;RELATED=START:PT2M"));
        assert!(!text.contains("A1 ready"));
        assert!(text.contains("Mind: "));
        // The same day gives the same bytes, and every line ends as the standard says.
        assert_eq!(text, to_calendar("a day", &[sheet(rows())]));
        assert!(text.ends_with("END:VCALENDAR\r\n") && !text.replace("\r\n", "").contains('\n'));
    }
}
