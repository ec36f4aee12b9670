//! Reads iCalendar (RFC 5545): content lines unfolded, properties with their values, one event after the other.

/// One property of a component: its name without parameters, and its value as written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Property {
    pub(super) name: String,
    pub(super) value: String,
}

/// One entry: its own properties, and those of each of its alarms.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(super) struct Entry {
    pub(super) properties: Vec<Property>,
    pub(super) alarms: Vec<Vec<Property>>,
}

impl Entry {
    /// The value of a property, as written; none if it is missing or stands there twice.
    pub(super) fn value(&self, name: &str) -> Option<&str> {
        one(&self.properties, name)
    }

    /// The value of a property that is text.
    pub(super) fn text(&self, name: &str) -> Option<String> {
        self.value(name).map(plain)
    }
}

/// A calendar: its own properties, and its entries.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(super) struct Calendar {
    pub(super) properties: Vec<Property>,
    pub(super) entries: Vec<Entry>,
}

/// The value of the only property of a name.
pub(super) fn one<'a>(all: &'a [Property], name: &str) -> Option<&'a str> {
    let mut named = all.iter().filter(|p| p.name == name);
    match (named.next(), named.next()) {
        (Some(p), None) => Some(&p.value),
        _ => None,
    }
}

/// A calendar with all its entries.
///
/// # Errors
/// With the line, counted from 1, that is no line of a calendar, or opens or closes what it cannot.
pub(super) fn read(text: &str) -> Result<Calendar, String> {
    let mut open: Vec<String> = Vec::new();
    let mut calendar = Calendar::default();
    let mut entry = Entry::default();
    for (at, line) in unfolded(text)? {
        let property = property(&line).ok_or_else(|| format!("line {at} is no line of a calendar"))?;
        let inside = open.last().map(String::as_str);
        match (property.name.as_str(), inside) {
            ("BEGIN", _) => {
                match (inside, property.value.as_str()) {
                    (None, "VCALENDAR") => {}
                    (Some("VCALENDAR"), "VEVENT") => entry = Entry::default(),
                    (Some("VEVENT"), "VALARM") => entry.alarms.push(Vec::new()),
                    (_, other) => {
                        return Err(format!("line {at} begins a {other}, which has no place there"));
                    }
                }
                open.push(property.value);
            }
            ("END", Some(name)) if name == property.value => {
                if name == "VEVENT" {
                    calendar.entries.push(std::mem::take(&mut entry));
                }
                open.pop();
            }
            ("END", _) => return Err(format!("line {at} ends what has not begun")),
            (_, Some("VEVENT")) => entry.properties.push(property),
            (_, Some("VALARM")) => {
                if let Some(alarm) = entry.alarms.last_mut() {
                    alarm.push(property);
                }
            }
            (_, Some(_)) => calendar.properties.push(property),
            (_, None) => return Err(format!("line {at} stands outside of the calendar")),
        }
    }
    match open.last() {
        Some(name) => Err(format!("{name} does not end")),
        None => Ok(calendar),
    }
}

/// Content lines with the number of their first line: a line that begins with a blank or a tab goes on with the one before.
fn unfolded(text: &str) -> Result<Vec<(usize, String)>, String> {
    let mut lines: Vec<(usize, String)> = Vec::new();
    let mut rest = text;
    let mut at = 0;
    while !rest.is_empty() {
        at += 1;
        let Some((line, after)) = rest.split_once("\r\n") else {
            return Err(format!("line {at} does not end as the lines of a calendar do"));
        };
        rest = after;
        match (line.strip_prefix([' ', '\t']), lines.last_mut()) {
            (Some(more), Some(last)) => last.1.push_str(more),
            _ => lines.push((at, line.to_owned())),
        }
    }
    Ok(lines)
}

/// `NAME;PARAMETER=…:value`; a colon within quotation marks does not end the name.
fn property(line: &str) -> Option<Property> {
    let mut quoted = false;
    let colon = line.char_indices().find(|(_, c)| {
        quoted ^= *c == '"';
        *c == ':' && !quoted
    });
    let (head, value) = line.split_at(colon?.0);
    let name = head.split(';').next().unwrap_or_default();
    let named = !name.is_empty() && name.bytes().all(|b| b.is_ascii_alphanumeric() || b == b'-');
    named.then(|| Property {
        name: name.to_owned(),
        value: value[1..].to_owned(),
    })
}

/// Text without its escapes (section 3.3.11).
fn plain(value: &str) -> String {
    let mut text = String::with_capacity(value.len());
    let mut escaped = false;
    for c in value.chars() {
        match (escaped, c) {
            (false, '\\') => {
                escaped = true;
                continue;
            }
            (true, 'n' | 'N') => text.push('\n'),
            _ => text.push(c),
        }
        escaped = false;
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    const CALENDAR: &str = "BEGIN:VCALENDAR\r\nVERSION:2.0\r\nBEGIN:VEVENT\r\nSUMMARY:Top up\\, slowly\\; 1\r\n .2 L\\n\\\\\r\n\
                            DTSTART;TZID=\"a:b\":20260305T080000\r\nBEGIN:VALARM\r\nTRIGGER;RELATED=START:PT2M\r\n\
                            END:VALARM\r\nEND:VEVENT\r\nEND:VCALENDAR\r\n";

    #[test]
    fn an_entry_is_read_with_its_alarms_unfolded_and_without_escapes() {
        let calendar = read(CALENDAR).unwrap();
        assert_eq!(one(&calendar.properties, "VERSION"), Some("2.0"));
        let entries = calendar.entries;
        assert_eq!(entries.len(), 1);
        assert_eq!(entries[0].text("SUMMARY").unwrap(), "Top up, slowly; 1.2 L\n\\");
        assert_eq!(entries[0].value("DTSTART"), Some("20260305T080000"));
        assert_eq!(one(&entries[0].alarms[0], "TRIGGER"), Some("PT2M"));
        assert_eq!(entries[0].value("DTEND"), None);
    }

    #[test]
    fn what_is_no_calendar_is_refused_with_its_line() {
        let refused = |from: &str, to: &str| read(&CALENDAR.replace(from, to)).unwrap_err();
        assert!(refused("VERSION:2.0", "VERSION").contains("line 2"));
        assert!(refused("END:VALARM", "END:VEVENT").contains("line 9"));
        assert!(refused("END:VCALENDAR\r\n", "").contains("VCALENDAR does not end"));
        assert!(refused("BEGIN:VALARM", "BEGIN:VTODO").contains("line 7 begins a VTODO"));
        assert!(read("SUMMARY:alone\r\n").unwrap_err().contains("line 1"));
        assert!(read("BEGIN:VCALENDAR\n").unwrap_err().contains("line 1"));
    }
}
