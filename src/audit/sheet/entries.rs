//! The calendar must hold the tasks of the sheet: every one, at its time, in its order; with the first of each day what
//! always holds; and nothing else.

use super::day::{DEFERS, DaySheet};
use super::ical::{Calendar, Entry, Property, one, read};
use super::table::Act;
use super::{Faults, Told};
use jiff::civil::Date;
use std::collections::{BTreeMap, BTreeSet};
use tankday_base::shop::Shop;
use tankday_base::units::{Moment, Span, read_clock};

/// One task as the calendar tells it.
struct Alarm {
    at: Moment,
    words: String,
}

/// Properties that a calendar, an entry and an alarm have, each once; a place only where there is one.
const OF_CALENDAR: [&str; 6] = [
    "VERSION",
    "PRODID",
    "CALSCALE",
    "NAME",
    "X-WR-CALNAME",
    "DESCRIPTION",
];
const OF_ENTRY: [&str; 7] = [
    "UID",
    "DTSTAMP",
    "DTSTART",
    "DTEND",
    "SUMMARY",
    "DESCRIPTION",
    "LOCATION",
];
const OF_ALARM: [&str; 3] = ["ACTION", "TRIGGER", "DESCRIPTION"];

pub(super) fn check(shop: &Shop, calendar: &str, sheets: &[DaySheet<'_>], faults: &mut Faults) {
    let calendar = match read(calendar) {
        Ok(calendar) => calendar,
        Err(e) => return faults.say(Moment::ZERO, format!("day-sheet.ics: {e}")),
    };
    whole_holds(shop, &calendar, faults);
    let tasks = |s: &DaySheet<'_>| s.rows.iter().filter(|t| calls(t)).count();
    let all = sheets.iter().flat_map(|s| s.rows.iter().map(move |t| (s, *t)));
    let mut left = all.filter(|(_, t)| calls(t)).peekable();
    let mut uids = BTreeSet::new();
    // Which sheet, and how many of its tasks are told.
    let mut told: BTreeMap<Date, usize> = BTreeMap::new();
    for entry in &calendar.entries {
        let Some((from, to)) = times(shop, entry) else {
            faults.say(Moment::ZERO, "day-sheet.ics: an entry has no times".to_owned());
            continue;
        };
        if !entry.value("UID").is_some_and(|uid| uids.insert(uid.to_owned())) {
            faults.say(from, "day-sheet.ics: an entry has no name of its own".to_owned());
        }
        let sheet = left.peek().map(|(s, _)| *s);
        let rows: Vec<&Told<'_>> = left.by_ref().take(entry.alarms.len()).map(|(_, t)| t).collect();
        let before = sheet.map_or(0, |s| {
            let count = told.entry(s.date).or_default();
            let before = *count;
            *count += rows.len();
            if *count > tasks(s) {
                faults.say(
                    from,
                    "day-sheet.ics: an entry goes on into the next day's sheet".to_owned(),
                );
            }
            before
        });
        // What always holds stands with the first task of each day.
        let above = sheet
            .filter(|_| before == 0)
            .map_or_else(Vec::new, DaySheet::above);
        if let Some(sheet) = sheet {
            frame_holds(entry, from, sheet, faults);
        }
        entry_holds(shop, entry, (from, to), (&above, &rows), faults);
    }
    for (_, told) in left {
        faults.of_row(told.row, "it is missing in day-sheet.ics");
    }
}

/// Whether a row calls somebody: to do something, to stay by a tank, or to know that nobody does.
fn calls(told: &Told<'_>) -> bool {
    let (row, first) = (told.row, told.row.acts.first());
    let task = row.cell("task");
    let who = ["somebody stays by the ", "somebody must stay"];
    let stays = first == Some(&Act::Break) && who.iter().any(|who| task.contains(who));
    let note = first == Some(&Act::Note) && !row.cell("station").is_empty();
    row.is_task() || stays || note
}

/// The calendar's own properties: its title, and what a sheet is not.
fn whole_holds(shop: &Shop, calendar: &Calendar, faults: &mut Faults) {
    let title: String = shop.title.chars().filter(|c| !c.is_control()).collect();
    let own = Entry {
        properties: calendar.properties.clone(),
        alarms: Vec::new(),
    };
    let stated = [
        ("VERSION", "2.0"),
        ("PRODID", "-//tankday//day sheet//EN"),
        ("CALSCALE", "GREGORIAN"),
        ("NAME", title.as_str()),
        ("X-WR-CALNAME", title.as_str()),
        ("DESCRIPTION", DEFERS),
    ];
    for (name, should) in stated {
        let is = own.text(name).unwrap_or_default();
        if is != should {
            faults.say(
                Moment::ZERO,
                format!("day-sheet.ics: {name} is `{is}` and should be `{should}`"),
            );
        }
    }
    foreign(&calendar.properties, &OF_CALENDAR, Moment::ZERO, faults);
}

/// Properties that stand nowhere else in an entry: none that nobody asked for, its day, its alarms that are shown.
fn frame_holds(entry: &Entry, from: Moment, sheet: &DaySheet<'_>, faults: &mut Faults) {
    foreign(&entry.properties, &OF_ENTRY, from, faults);
    let day = sheet.date.strftime("%Y%m%d").to_string();
    let stamped = entry.value("DTSTAMP") == Some(&format!("{day}T000000Z"));
    if !stamped
        || !entry
            .value("UID")
            .is_some_and(|uid| uid.contains(&format!("-{day}-")))
    {
        faults.say(
            from,
            format!(
                "day-sheet.ics, entry at {}: it is not of the sheet of {day}",
                from.clock()
            ),
        );
    }
    for alarm in &entry.alarms {
        foreign(alarm, &OF_ALARM, from, faults);
        if one(alarm, "ACTION") != Some("DISPLAY") {
            faults.say(
                from,
                format!(
                    "day-sheet.ics, entry at {}: an alarm that is not shown",
                    from.clock()
                ),
            );
        }
    }
}

fn foreign(properties: &[Property], known: &[&str], at: Moment, faults: &mut Faults) {
    let mut seen = BTreeSet::new();
    for property in properties {
        if !known.contains(&property.name.as_str()) || !seen.insert(&property.name) {
            faults.say(
                at,
                format!("day-sheet.ics: {} does not belong there", property.name),
            );
        }
    }
}

fn entry_holds(
    shop: &Shop,
    entry: &Entry,
    (from, to): (Moment, Moment),
    (above, rows): (&[String], &[&Told<'_>]),
    faults: &mut Faults,
) {
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
    let end = |r: &&Told<'_>| r.acts.iter().map(|d| d.to).max().unwrap_or(r.row.at);
    let ends = rows.iter().map(end).max();
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
    let should = places(shop, rows);
    if place != should {
        say(format!("it is at `{place}`, its tasks at `{should}`"));
    }
    let text = entry.text("DESCRIPTION").unwrap_or_default();
    let told = rows.iter().map(|r| format!("{} {}", r.row.at.clock(), words(r)));
    let should: Vec<String> = above.iter().cloned().chain(told).collect();
    if text != should.join("\n") {
        say(format!(
            "it is described as `{text}` and should be `{}`",
            should.join("\n")
        ));
    }
    let title = entry.text("SUMMARY").unwrap_or_default();
    let first = rows.first().map_or("", |r| r.row.cell("task"));
    let pressing = rows.iter().any(|r| r.row.cell("what") == "must not wait");
    let mark = if pressing { "! " } else { "" };
    let more = if rows.len() > 1 {
        format!(", and {} more", rows.len() - 1)
    } else {
        String::new()
    };
    if title != format!("{mark}{first}{more}") {
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

fn places(shop: &Shop, rows: &[&Told<'_>]) -> String {
    let mut places: Vec<&str> = Vec::new();
    let stations = rows
        .iter()
        .flat_map(|r| super::table::places(shop, r.row.cell("station")));
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
