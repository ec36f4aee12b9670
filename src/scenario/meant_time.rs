//! What was meant by a date or a time that is written in another way, so that a finding can say what to write instead.

use super::nearest::nearest;
use super::time::weekday;
use jiff::civil::Date;
use tankday_base::units::read_clock;

/// From Monday on.
pub(super) const WEEKDAYS: [&str; 7] = [
    "Monday",
    "Tuesday",
    "Wednesday",
    "Thursday",
    "Friday",
    "Saturday",
    "Sunday",
];

const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

/// The dates that a text may mean, in backticks: two where day and month cannot be told apart, none if it means none.
pub(super) fn date(text: &str) -> Option<Vec<String>> {
    let words = text.split(['.', '/', '-', ' ', ',']).filter(|w| !w.is_empty());
    let parts: Vec<&str> = words.collect();
    let [a, b, c] = parts.as_slice() else { return None };
    let number = |word: &str| {
        word.trim_end_matches(['s', 't', 'n', 'd', 'r', 'h'])
            .parse::<i16>()
            .ok()
    };
    let named = |word: &str| {
        let of = |m: &str| word.len() >= 3 && m.to_lowercase().starts_with(&word.to_lowercase());
        MONTHS.iter().position(|m| of(m)).map(|i| i as i16 + 1)
    };
    let mut meant: Vec<(i16, i16, i16)> = Vec::new();
    if let (Some(day), Some(month), Some(year)) = (number(a), named(b), number(c)) {
        meant.push((year, month, day));
    } else if let (Some(month), Some(day), Some(year)) = (named(a), number(b), number(c)) {
        meant.push((year, month, day));
    } else if let (Some(a), Some(b), Some(c)) = (number(a), number(b), number(c)) {
        match (a > 31, text.contains('/')) {
            (true, _) => meant.push((a, b, c)),
            (false, false) => meant.push((c, b, a)),
            (false, true) => meant.extend([(c, a, b), (c, b, a)]),
        }
    }
    let there_is =
        |(y, m, d): (i16, i16, i16)| Date::new(y, i8::try_from(m).ok()?, i8::try_from(d).ok()?).ok();
    let mut dates: Vec<String> = meant
        .into_iter()
        .filter_map(there_is)
        .map(|d| format!("`{d}`"))
        .collect();
    dates.dedup();
    (!dates.is_empty()).then_some(dates)
}

/// What to write for a time that cannot be read; `of_clock` is what is to be said of it as a time of day.
pub(super) fn when(text: &str, of_clock: &str) -> String {
    if let Some((day, time)) = text.rsplit_once([' ', 'T'])
        && read_clock(time).is_ok()
    {
        if let Some(dates) = date(day) {
            let all: Vec<String> = dates
                .iter()
                .map(|d| d.trim_end_matches('`').to_owned() + " " + time + "`")
                .collect();
            return format!("write {}", all.join(" or "));
        }
        if let Some(near) = nearest(day.trim_end_matches([',', '.']), WEEKDAYS) {
            return format!("write `{near} {time}`");
        }
        return format!(
            "write `{time}` for the first day, `day 2 {time}`, `Tuesday {time}` or `2026-03-05 {time}`"
        );
    }
    if let Some((time, day)) = text.split_once(' ')
        && read_clock(time).is_ok()
        && let Some(near) = nearest(day, WEEKDAYS)
    {
        return format!("write `{near} {time}`");
    }
    if let Some([day]) = date(text)
        .as_deref()
        .map(|d| d.iter().map(|d| d.trim_matches('`')).collect::<Vec<_>>())
        .as_deref()
    {
        return format!("write the time of day, too: `{day} 07:30`, `{day} opening` or `{day} closing`");
    }
    if weekday(text).is_some() || date(text).is_some() {
        return format!("write the time of day, too: `{text} 07:30`");
    }
    of_clock.to_owned()
}

/// What to write for a length of time where a time of the week is written; none for anything else.
pub(super) fn no_length(text: &str) -> Option<String> {
    if text == "overnight" {
        return Some(
            "write how long it takes at the least, and that it may stay in until the shop opens: `for: 30 min, or: overnight`"
                .to_owned(),
        );
    }
    let (first, _) = text.split_once(' ').unwrap_or((text, ""));
    weekday(first)?;
    Some(format!(
        "orders of fixed weekdays are written `arrives: every {text}`, those by chance as `{{every: exponential 45 min, on: {first}}}`"
    ))
}

/// The weekday that a word may mean, of its whole and its short names.
pub(super) fn near_weekday(word: &str) -> Option<&'static str> {
    let word = word.trim_end_matches(['.', ':', 's']);
    let short = || WEEKDAYS.into_iter().filter_map(|d| d.get(..3));
    let own = |d: &&str| d.eq_ignore_ascii_case(word);
    let exact = WEEKDAYS.into_iter().chain(short()).find(own);
    exact.or_else(|| nearest(word, WEEKDAYS.into_iter().chain(short())))
}

/// `16:30 to 21:00` where `16:30-21:00` is written, if that can be read.
pub(super) fn from_to(text: &str) -> Option<String> {
    let text = text.replace("..", "-").replace(" until ", "-");
    let (from, to) = text.split_once(['-', '–', '—', '~'])?;
    let whole = |t: &str| match read_clock(t) {
        Ok(_) => Some(t.trim().to_owned()),
        Err(_) => read_clock(&format!("{}:00", t.trim()))
            .ok()
            .map(|_| format!("{}:00", t.trim())),
    };
    Some(format!("{} to {}", whole(from)?, whole(to)?))
}

/// What to write for several stretches of a day in one entry: an entry for each. None where there is one.
pub(super) fn each_stretch(days: &str, hours: &str) -> Option<String> {
    let stretches: Vec<&str> = hours
        .split([',', '+', ';'])
        .flat_map(|part| part.split(" and "))
        .collect();
    if stretches.len() < 2 {
        return None;
    }
    let one = |stretch: &&str| {
        let stretch = stretch.trim();
        // The weekday may stand before each of them.
        match stretch.find(|c: char| c.is_ascii_digit()) {
            Some(0) => format!("{} {stretch}", days.trim()),
            _ => stretch.to_owned(),
        }
    };
    let all: Vec<String> = stretches.iter().map(one).collect();
    Some(format!("write an entry for each: `[{}]`", all.join(", ")))
}

/// What to write for hours of a week that no weekday stands before.
pub(super) fn without_weekday(hours: &str) -> String {
    let clocked = |text: &str| {
        let (open, close) = text.split_once(" to ")?;
        (read_clock(open).is_ok() && read_clock(close).is_ok()).then_some((open.to_owned(), close.to_owned()))
    };
    if let Some((date, rest)) = hours.split_once(' ')
        && date.parse::<Date>().is_ok()
    {
        let (open, close) = clocked(rest).unwrap_or(("16:30".to_owned(), "21:00".to_owned()));
        return format!("a single date has its own line: `{{date: {date}, open: {open}, close: {close}}}`");
    }
    match clocked(hours) {
        Some(_) => format!(
            "every entry begins with its weekday, a second one of the same day too: `Tue {hours}`, or `day {hours}` for every day of \
             the week"
        ),
        None => "write `Tue 16:30 to 21:00`".to_owned(),
    }
}

/// What to write for `day two 07:30`, given what stands behind `day`.
pub(super) fn nth_day(rest: &str) -> String {
    const WORDS: [&str; 9] = [
        "one", "two", "three", "four", "five", "six", "seven", "eight", "nine",
    ];
    let (day, time) = rest.split_once(' ').unwrap_or((rest, ""));
    let day = day.trim_end_matches([',', '.', ':']);
    let nth = WORDS.iter().position(|w| *w == day).map_or(2, |i| i + 1);
    let nth = day.parse().ok().filter(|n| *n > 0).unwrap_or(nth);
    let time = if read_clock(time).is_ok() {
        time.trim()
    } else {
        "07:30"
    };
    format!("write `day {nth} {time}`")
}
