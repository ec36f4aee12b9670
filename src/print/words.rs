//! Numbers and names as words.

use crate::shop::Calendar;
use crate::units::{Moment, Span, Volume};

const SMALL: [&str; 13] = [
    "none", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
];

/// A count in words up to twelve, in figures beyond.
#[must_use]
pub fn count_word(count: usize) -> String {
    SMALL
        .get(count)
        .map_or_else(|| count.to_string(), |word| (*word).to_owned())
}

/// With a capital letter.
#[must_use]
pub fn capital(words: &str) -> String {
    let mut chars = words.chars();
    match chars.next() {
        Some(first) => first.to_uppercase().chain(chars).collect(),
        None => String::new(),
    }
}

/// Several of a thing: `vise jaws`. What ends in `s` is taken as several already.
#[must_use]
pub fn plural(name: &str) -> String {
    let hissing = ["sh", "ch", "x", "z"].iter().any(|end| name.ends_with(end));
    match name.chars().last() {
        None | Some('s') => name.to_owned(),
        _ if hissing => format!("{name}es"),
        Some(_) => format!("{name}s"),
    }
}

/// A count and its things: `1 vise jaw`, `16 clamp levers`.
#[must_use]
pub fn pieces_of(count: u32, name: &str) -> String {
    if count == 1 {
        format!("1 {name}")
    } else {
        format!("{count} {}", plural(name))
    }
}

/// `a`, `a and b`, `a, b and c`.
#[must_use]
pub fn list(names: &[String]) -> String {
    match names {
        [] => String::new(),
        [one] => one.clone(),
        [most @ .., last] => format!("{} and {last}", most.join(", ")),
    }
}

/// Whole minutes, rounded to the nearest.
#[must_use]
pub fn minutes(span: Span) -> i64 {
    span.in_minutes().round() as i64
}

/// A span in whole minutes, from two hours on in hours and minutes, from a day on in hours:
/// `12 min`, `3 h 05 min`, `4 h`, `45 h`.
#[must_use]
pub fn how_long(span: Span) -> String {
    let whole = minutes(span);
    if span > Span::ZERO && whole == 0 {
        "under 1 min".to_owned()
    } else if whole.abs() < 120 {
        format!("{whole} min")
    } else if whole.abs() >= 1_440 {
        format!("{:.0} h", span.in_hours())
    } else if whole % 60 == 0 {
        format!("{} h", whole / 60)
    } else {
        format!("{} h {:02} min", whole / 60, (whole % 60).abs())
    }
}

/// Litres, to a tenth.
#[must_use]
pub fn litres(volume: Volume) -> String {
    format!("{} L", number(volume.in_litres(), 1))
}

/// A number with so many decimals, never as minus nothing.
#[must_use]
pub fn number(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    match text.strip_prefix('-') {
        Some(rest) if rest.chars().all(|c| matches!(c, '0' | '.')) => rest.to_owned(),
        _ => text,
    }
}

/// `HH:MM` on the first day of the calendar; on any other with its weekday in front, or its date where the days are
/// more than a week.
#[must_use]
pub fn clock_or_date(calendar: &Calendar, at: Moment) -> String {
    let day = |at: Moment| at.day_and_time().0;
    let first = calendar.days.first().map_or(0, |d| day(d.open));
    if day(at) == first {
        return at.clock();
    }
    let form = if (first..first + 7).contains(&day(at)) {
        "%a"
    } else {
        "%-d %b"
    };
    format!("{} {}", calendar.date(at).strftime(form), at.clock())
}

/// What may be promised: rounded up to five minutes.
#[must_use]
pub fn promise(at: Moment) -> Moment {
    const FIVE: i64 = 5 * 60 * 1_000_000;
    let micros = at.in_micros();
    let over = micros.rem_euclid(FIVE);
    if over == 0 {
        at
    } else {
        Moment::micros(micros - over + FIVE)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_in_the_plural() {
        assert_eq!(plural("vise jaw"), "vise jaws");
        assert_eq!(plural("wire brush"), "wire brushes");
        assert_eq!(plural("small parts"), "small parts");
        assert_eq!(pieces_of(1, "vise jaw"), "1 vise jaw");
    }

    #[test]
    fn lists_and_counts() {
        let names = |n: usize| {
            ["A", "B", "C"]
                .iter()
                .take(n)
                .map(|s| (*s).to_owned())
                .collect::<Vec<_>>()
        };
        assert_eq!(list(&names(3)), "A, B and C");
        assert_eq!(list(&names(1)), "A");
        assert_eq!((count_word(7), count_word(13)), ("seven".into(), "13".into()));
        assert_eq!(number(-0.01, 1), "0.0");
    }

    #[test]
    fn promises_are_rounded_up_to_five_minutes() {
        let at = |h: i64, m: i64| Moment::ZERO + Span::whole_minutes(60 * h + m);
        assert_eq!(promise(at(15, 31)), at(15, 35));
        assert_eq!(promise(at(15, 30)), at(15, 30));
    }
}
