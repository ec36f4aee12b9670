//! Reads times: spans, spreads, windows, clock times, dates, breaks.

use super::finding::{Code, Finding};
use super::meant_time;
use super::node::{Node, Value};
use super::said_date::SaidDate;
use super::value::{refuse_as, scalar};
use super::walk::Walk;
use jiff::civil::{Date, Weekday};
use tankday_base::random::Spread;
use tankday_base::units::{ReadError, Span, read_clock, read_span, split_number};

/// A length of time, zero or more.
pub(super) fn span(node: &Node, walk: &mut Walk) -> Option<Span> {
    let text = scalar(node, walk, "a length of time")?;
    refuse_as(Code::Time, read_span(text), node, walk, "a length of time")
}

const SPREADS: &str = "write `5 min`, or a time that varies: `4 to 7 min`, `3 to 9 min mostly 5 min`, \
    `about 5 min ± 1 min`, `exponential 5 min`, `lognormal 5 min ± 2 min`, `gamma 5 min ± 2 min`, `[4 min, 5 min]`";

/// Most readings in a list.
const MOST_READINGS: usize = 10_000;

/// A time that may vary.
pub(super) fn spread(node: &Node, walk: &mut Walk) -> Option<Spread> {
    if let Value::List(_) = &node.value {
        return readings(node, walk);
    }
    let text = scalar(node, walk, "a time")?;
    if let Some(help) = meant_time::no_length(text) {
        let finding = Finding::new(Code::Time, node.at, format!("`{text}` is not a length of time"));
        return walk.refuse(finding.label("expected a time").help(help));
    }
    let no_number = |e: &ReadError| e.message.contains("begin with a number") && !e.help.starts_with("write");
    let read = spread_of(text).map_err(|e| {
        if no_number(&e) {
            ReadError::new(e.message, SPREADS)
        } else {
            e
        }
    });
    refuse_as(Code::Time, read, node, walk, "a time")
}

fn readings(node: &Node, walk: &mut Walk) -> Option<Spread> {
    let before = walk.found.len();
    let all = walk.list(node, "readings", MOST_READINGS, span);
    if all.is_empty() && walk.found.len() == before {
        walk.add(Finding::new(Code::Missing, node.at, "a list of readings holds at least one").help(SPREADS));
    }
    (walk.found.len() == before && !all.is_empty()).then_some(Spread::Readings(all))
}

/// The spread that a text describes.
fn spread_of(text: &str) -> Result<Spread, ReadError> {
    if let Some(rest) = text.strip_prefix("about ") {
        return plus_minus(rest).map(|(mean, sd)| Spread::Normal { mean, sd });
    }
    if let Some(rest) = text.strip_prefix("lognormal ") {
        return positive(rest, plus_minus(rest)?).map(|(mean, sd)| Spread::Lognormal { mean, sd });
    }
    if let Some(rest) = text.strip_prefix("gamma ") {
        return positive(rest, plus_minus(rest)?).map(|(mean, sd)| Spread::Gamma { mean, sd });
    }
    if let Some(rest) = text.strip_prefix("exponential ") {
        let mean = read_span(rest)?;
        let none = || ReadError::new(format!("`{}` must be more than nothing", rest.trim()), SPREADS);
        return (mean > Span::ZERO)
            .then_some(Spread::Exponential { mean })
            .ok_or_else(none);
    }
    if text.contains(" to ") {
        return range_of(text);
    }
    read_span(text)
        .map(Spread::Fixed)
        .map_err(|e| match dashed(text) {
            Some(meant) => ReadError::new(e.message, format!("write `{meant}`")),
            None => e,
        })
}

/// `8 to 12 min` where `8-12 min` is written, if that can be read.
fn dashed(text: &str) -> Option<String> {
    let text = text.replace("..", "-");
    let (least, most) = text.split_once(['-', '–', '—', '~'])?;
    let meant = format!("{} to {}", least.trim(), most.trim());
    range_of(&meant).is_ok().then_some(meant)
}

/// `4 to 7 min`, perhaps with `mostly 5 min`, a comma before it or not.
fn range_of(text: &str) -> Result<Spread, ReadError> {
    let (ends, mostly) = text
        .split_once("mostly")
        .map_or((text, None), |(a, b)| (a, Some(b.trim())));
    let ends = ends.trim().trim_end_matches(',');
    let (least, most) = ends_of(ends)?;
    if least == most {
        return Ok(Spread::Fixed(least));
    }
    let Some(mostly) = mostly else {
        return Ok(Spread::Uniform { least, most });
    };
    let mostly = with_unit_of(mostly, ends)?;
    if mostly < least || mostly > most {
        let message = format!("the most frequent time lies outside `{ends}`");
        return Err(ReadError::new(
            message,
            "write one between the shortest and the longest: `3 to 9 min mostly 5 min`",
        ));
    }
    Ok(Spread::Triangular { least, mostly, most })
}

/// `10 to 30 min` as its two ends.
fn ends_of(text: &str) -> Result<(Span, Span), ReadError> {
    let Some((a, b)) = text.split_once(" to ") else {
        return Err(ReadError::new(format!("`{text}` has no `to`"), SPREADS));
    };
    let (least, most) = (with_unit_of(a, b)?, read_span(b)?);
    if least > most {
        return Err(ReadError::new(
            format!("`{}` runs backwards", text.trim()),
            "write the shorter time first",
        ));
    }
    Ok((least, most))
}

/// A time that takes its unit from another text if it has none of its own.
fn with_unit_of(text: &str, other: &str) -> Result<Span, ReadError> {
    let unit = other
        .rsplit(|c: char| c.is_ascii_digit() || c.is_whitespace() || c == '.')
        .next()
        .unwrap_or_default();
    match split_number(text)?.1 {
        "" => read_span(&format!("{} {unit}", text.trim())),
        _ => read_span(text),
    }
}

/// `5 min ± 1 min`, with `+-` or `+/-` for those without the sign.
fn plus_minus(text: &str) -> Result<(Span, Span), ReadError> {
    let parts = ["±", "+/-", "+-"].iter().find_map(|sign| text.split_once(sign));
    match parts {
        Some((mean, sd)) => Ok((with_unit_of(mean, sd)?, read_span(sd)?)),
        None => Err(ReadError::new(
            format!("`{}` does not say by how much it varies", text.trim()),
            "write the mean and the standard deviation: `about 5 min ± 1 min`, or `+-` for ±",
        )),
    }
}

fn positive(text: &str, (mean, sd): (Span, Span)) -> Result<(Span, Span), ReadError> {
    if mean > Span::ZERO && sd > Span::ZERO {
        return Ok((mean, sd));
    }
    Err(ReadError::new(
        format!(
            "`{}` must be more than nothing on both sides of the ±",
            text.trim()
        ),
        SPREADS,
    ))
}

/// Nothing stays longer.
const LONGEST_STAY: Span = Span::whole_minutes(60 * 24 * 365);

/// The shortest and longest stay: `10 to 30 min`; a single time is both.
pub(super) fn window(node: &Node, walk: &mut Walk) -> Option<(Span, Span)> {
    let text = scalar(node, walk, "a shortest and a longest stay")?;
    let read = if text.contains(" to ") {
        ends_of(text)
    } else {
        read_span(text).map(|s| (s, s))
    };
    let read = read.and_then(|(least, most)| {
        if most <= LONGEST_STAY {
            return Ok((least, most));
        }
        Err(ReadError::new(format!("`{text}` is longer than a year"), ""))
    });
    let read = read.map_err(|e| {
        let help = match dashed(text) {
            Some(meant) => format!("write `{meant}`"),
            None => "write the shortest and the longest stay: `10 to 30 min`".to_owned(),
        };
        ReadError::new(e.message, help)
    });
    refuse_as(Code::Time, read, node, walk, "a shortest and a longest stay")
}

/// A time of day as the span since midnight.
pub(super) fn clock(node: &Node, walk: &mut Walk) -> Option<Span> {
    let text = scalar(node, walk, "a time of day")?;
    clock_of(text, node, walk)
}

pub(super) fn clock_of(text: &str, node: &Node, walk: &mut Walk) -> Option<Span> {
    match read_clock(text) {
        Ok(time) => Some(time),
        Err(e) => walk.refuse(
            Finding::new(Code::Time, node.at, e.message)
                .label("expected a time of day")
                .help(e.help),
        ),
    }
}

/// `12:00 to 12:30`.
pub(super) fn break_time(node: &Node, walk: &mut Walk) -> Option<(Span, Span)> {
    let text = scalar(node, walk, "a break")?;
    let Some((from, to)) = text.split_once(" to ") else {
        return walk.refuse(
            Finding::new(Code::Time, node.at, format!("`{text}` is not a break"))
                .help("write `12:00 to 12:30`"),
        );
    };
    let (from, to) = (clock_of(from, node, walk), clock_of(to, node, walk));
    Some((from?, to?))
}

/// A date.
pub(super) fn date(node: &Node, walk: &mut Walk) -> Option<Date> {
    let text = scalar(node, walk, "a date")?;
    date_of(text, node, walk)
}

fn date_of(text: &str, node: &Node, walk: &mut Walk) -> Option<Date> {
    let read = (text.len() == 10).then(|| text.parse::<Date>().ok()).flatten();
    match read {
        Some(date) if (1900..=2200).contains(&date.year()) => Some(date),
        _ => walk.refuse(
            Finding::new(Code::Time, node.at, format!("`{text}` is not a date"))
                .label("expected a date")
                .help(match meant_time::date(text) {
                    Some(meant) => format!("write {}", meant.join(" or ")),
                    None => "write year, month and day: `2026-03-05`".to_owned(),
                }),
        ),
    }
}

/// A moment as written.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum When {
    /// When the first day opens.
    Opening,
    /// A time of the first day.
    First(Span),
    /// A time of the nth opening day, counted from 1.
    Nth(u32, Span),
    /// A time of the first such weekday, on the first day or after it.
    On(Weekday, Span),
    /// A time of the day after the first.
    Tomorrow(Span),
    /// When the shop opens on a date; on a date on which it stays closed, when it opens next.
    Opens(Date),
    /// When the shop closes on a date; on a date on which it stays closed, when it closed last.
    Closes(Date),
    /// A time of a day of a month, its year left out.
    Said(SaidDate, Span),
    /// A time of a date.
    Dated(Date, Span),
}

/// A weekday by its name, whole or of three letters.
pub(super) fn weekday(word: &str) -> Option<Weekday> {
    let small = word.to_lowercase();
    let all = [
        ("monday", Weekday::Monday),
        ("tuesday", Weekday::Tuesday),
        ("wednesday", Weekday::Wednesday),
        ("thursday", Weekday::Thursday),
        ("friday", Weekday::Friday),
        ("saturday", Weekday::Saturday),
        ("sunday", Weekday::Sunday),
    ];
    let own = |name: &str| name == small || name.get(..3) == Some(small.as_str());
    all.into_iter().find(|(name, _)| own(name)).map(|(_, day)| day)
}

/// The words behind a date for when the shop opens and closes on it.
pub(super) const OPENING: &str = "opening";
pub(super) const CLOSING: &str = "closing";

/// `at opening`, `07:30`, `4:30 pm`, `tomorrow 12:00`, `day 2 07:30`, `Tuesday 20:30`, `Tue 24 Mar 20:30`,
/// `2026-03-06 07:30`, `2026-03-06 opening` or `2026-03-06 closing`.
pub(super) fn when(node: &Node, walk: &mut Walk) -> Option<When> {
    let text = scalar(node, walk, "a time")?;
    if text == "at opening" {
        return Some(When::Opening);
    }
    if let Some(rest) = text.strip_prefix("day ") {
        return nth_day(rest, node, walk);
    }
    if let Some((said, time)) = SaidDate::split(text) {
        return clock_of(time, node, walk).map(|time| When::Said(said, time));
    }
    if let Some((word, time)) = text.split_once(' ')
        && ["today", "tomorrow"].contains(&word)
    {
        let of = if word == "today" {
            When::First
        } else {
            When::Tomorrow
        };
        return clock_of(time.trim(), node, walk).map(of);
    }
    if let Some((word, time)) = text.split_once(' ')
        && let Some(day) = weekday(word)
    {
        return clock_of(time.trim(), node, walk).map(|time| When::On(day, time));
    }
    match text.split_once([' ', 'T']) {
        Some((date, OPENING)) if date.contains('-') => date_of(date, node, walk).map(When::Opens),
        Some((date, CLOSING)) if date.contains('-') => date_of(date, node, walk).map(When::Closes),
        Some((date, time)) if date.contains('-') => {
            let (date, time) = (date_of(date, node, walk), clock_of(time.trim(), node, walk));
            Some(When::Dated(date?, time?))
        }
        _ => match read_clock(text) {
            Ok(time) => Some(When::First(time)),
            Err(e) => walk.refuse(
                Finding::new(Code::Time, node.at, format!("`{text}` is not a time"))
                    .label("expected a time")
                    .help(meant_time::when(text, &e.help)),
            ),
        },
    }
}

fn nth_day(rest: &str, node: &Node, walk: &mut Walk) -> Option<When> {
    let (day, time) = rest.split_once(' ').unwrap_or((rest, ""));
    match day.parse::<u32>() {
        Ok(n) if n >= 1 => clock_of(time.trim(), node, walk).map(|t| When::Nth(n, t)),
        _ => walk.refuse(
            Finding::new(Code::Time, node.at, format!("`day {rest}` is not a time"))
                .help(meant_time::nth_day(rest)),
        ),
    }
}
