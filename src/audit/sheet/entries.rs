//! The calendar must hold the tasks of the sheet: every one, at its time, in its order, and nothing else.

use super::ical::{Entry, one, read};
use super::{Faults, Told};
use jiff::civil::Date;
use std::collections::BTreeSet;
use tankday_base::shop::Shop;
use tankday_base::units::{Moment, Span, read_clock};

/// One task as the calendar tells it.
struct Alarm {
    at: Moment,
    words: String,
}

pub(super) fn check(shop: &Shop, calendar: &str, told: &[Told<'_>], faults: &mut Faults) {
    let entries = match read(calendar) {
        Ok(entries) => entries,
        Err(e) => return faults.say(Moment::ZERO, format!("day-sheet.ics: {e}")),
    };
    let mut left = told.iter().filter(|t| t.row.is_task());
    let mut uids = BTreeSet::new();
    for entry in &entries {
        let Some((from, to)) = times(shop, entry) else {
            faults.say(Moment::ZERO, "day-sheet.ics: an entry has no times".to_owned());
            continue;
        };
        if !entry.value("UID").is_some_and(|uid| uids.insert(uid.to_owned())) {
            faults.say(from, "day-sheet.ics: an entry has no name of its own".to_owned());
        }
        let rows: Vec<&Told<'_>> = left.by_ref().take(entry.alarms.len()).collect();
        entry_holds(entry, (from, to), &rows, faults);
    }
    for told in left {
        faults.of_row(told.row, "it is missing in day-sheet.ics");
    }
}

fn entry_holds(entry: &Entry, (from, to): (Moment, Moment), rows: &[&Told<'_>], faults: &mut Faults) {
    let mut say =
        |what: String| faults.say(from, format!("day-sheet.ics, entry at {}: {what}", from.clock()));
    if rows.is_empty() {
        return say("it holds no task of the sheet".to_owned());
    }
    let alarms: Vec<Option<Alarm>> = entry.alarms.iter().map(|a| alarm(from, a)).collect();
    for (alarm, told) in alarms.iter().zip(rows) {
        let should = words(told);
        match alarm {
            Some(a) if a.at == told.row.at && a.words == should => {}
            Some(a) => say(format!(
                "`{}` at {} should be `{should}` at {}",
                a.words,
                a.at.clock(),
                told.row.at.clock()
            )),
            None => say(format!("no time for `{should}`")),
        }
    }
    if alarms.len() > rows.len() {
        say("it holds more than the sheet".to_owned());
    }
    if rows.first().is_some_and(|r| r.row.at != from) {
        say("it begins at another time than its first task".to_owned());
    }
    let ends = rows.iter().flat_map(|r| &r.acts).map(|d| d.to).max();
    let should = ends
        .map_or(from, whole_minute_after)
        .max(from + Span::whole_minutes(1));
    if to != should {
        say(format!(
            "it ends at {}, its last task at {}",
            to.clock(),
            should.clock()
        ));
    }
    let place = entry.text("LOCATION").unwrap_or_default();
    let should = places(rows);
    if place != should {
        say(format!("it is at `{place}`, its tasks at `{should}`"));
    }
    let text = entry.text("DESCRIPTION").unwrap_or_default();
    let told: Vec<String> = rows
        .iter()
        .map(|r| format!("{} {}", r.row.at.clock(), words(r)))
        .collect();
    if !text.ends_with(&told.join("\n")) {
        say(format!("it is described as `{text}`"));
    }
    let title = entry.text("SUMMARY").unwrap_or_default();
    let first = rows.first().map_or("", |r| r.row.cell("task"));
    let title = title.strip_prefix("! ").unwrap_or(&title);
    let more = if rows.len() > 1 {
        format!(", and {} more", rows.len() - 1)
    } else {
        String::new()
    };
    if title != format!("{first}{more}") {
        say(format!("it is called `{title}`"));
    }
}

/// What an alarm says: the task, and what to mind.
fn words(told: &Told<'_>) -> String {
    let (task, caution) = (told.row.cell("task"), told.row.cell("caution"));
    if caution.is_empty() {
        return task.to_owned();
    }
    format!("{task}. Mind: {caution}")
}

fn places(rows: &[&Told<'_>]) -> String {
    let mut places: Vec<&str> = Vec::new();
    let stations = rows
        .iter()
        .flat_map(|r| r.row.cell("station").split(super::table::BETWEEN));
    for station in stations.filter(|s| !s.is_empty()) {
        if !places.contains(&station) {
            places.push(station);
        }
    }
    places.join(", ")
}

fn alarm(from: Moment, properties: &[super::ical::Property]) -> Option<Alarm> {
    let after = one(properties, "TRIGGER")?
        .strip_prefix("PT")?
        .strip_suffix('M')?;
    let entry = Entry {
        properties: properties.to_vec(),
        alarms: Vec::new(),
    };
    Some(Alarm {
        at: from + Span::whole_minutes(after.parse().ok()?),
        words: entry.text("DESCRIPTION")?,
    })
}

fn times(shop: &Shop, entry: &Entry) -> Option<(Moment, Moment)> {
    Some((
        local(shop, entry.value("DTSTART")?)?,
        local(shop, entry.value("DTEND")?)?,
    ))
}

/// `20260305T073000`, a floating local time.
fn local(shop: &Shop, text: &str) -> Option<Moment> {
    let (date, time) = text.split_once('T')?;
    let number = |text: &str, from: usize, to: usize| text.get(from..to)?.parse::<i16>().ok();
    let date = Date::new(
        number(date, 0, 4)?,
        i8::try_from(number(date, 4, 6)?).ok()?,
        i8::try_from(number(date, 6, 8)?).ok()?,
    );
    let days = i64::from((date.ok()? - shop.calendar.first).get_days());
    let (hour, minute, second) = (time.get(0..2)?, time.get(2..4)?, time.get(4..6)?);
    let time = read_clock(&format!("{hour}:{minute}:{second}")).ok()?;
    Some(Moment::ZERO + Span::whole_minutes(days * 24 * 60) + time)
}

/// The next whole minute at or after a moment.
fn whole_minute_after(at: Moment) -> Moment {
    super::held::minute(at + Span::micros(59_999_999))
}
