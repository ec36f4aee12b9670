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

/// The same words with a small letter first, as they follow on a colon.
#[must_use]
pub fn lower(words: &str) -> String {
    let mut chars = words.chars();
    match chars.next() {
        Some(first) => first.to_lowercase().chain(chars).collect(),
        None => String::new(),
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

/// A span in whole minutes up to 90 of them, above in hours and minutes, above two days in days and hours:
/// `12 min`, `3 h 05 min`, `12 h`, `3 d 4 h`.
#[must_use]
pub fn how_long(span: Span) -> String {
    let whole = minutes(span);
    let hours = (span.in_hours().round() as i64).abs();
    if span > Span::ZERO && whole == 0 {
        "under 1 min".to_owned()
    } else if whole.abs() <= 90 {
        format!("{whole} min")
    } else if whole.abs() > 2 * 1_440 {
        let sign = if whole < 0 { "-" } else { "" };
        match hours % 24 {
            0 => format!("{sign}{} d", hours / 24),
            rest => format!("{sign}{} d {rest} h", hours / 24),
        }
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

/// A clock time as it stands beside another moment: `08:36` on the same day, `Sat 13:00` within a week, and with its date
/// beyond: `Sat 21 Mar 13:00`.
#[must_use]
pub fn clock_beside(calendar: &Calendar, at: Moment, beside: Moment) -> String {
    let form = match (at.day_and_time().0 - beside.day_and_time().0).abs() {
        0 => return at.clock(),
        1..=6 => "%a",
        _ => "%a %-d %b",
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
    fn spans_as_one_says_them() {
        let of = |m: f64| how_long(Span::minutes(m));
        assert_eq!(
            (of(90.0), of(91.0), of(135.0)),
            ("90 min".into(), "1 h 31 min".into(), "2 h 15 min".into())
        );
        assert_eq!(
            (of(720.0), of(2_880.0), of(4_560.0)),
            ("12 h".into(), "48 h".into(), "3 d 4 h".into())
        );
        assert_eq!(
            (of(7_200.0), of(0.2), of(0.0)),
            ("5 d".into(), "under 1 min".into(), "0 min".into())
        );
    }

    #[test]
    fn times_of_other_days_carry_the_weekday() {
        let calendar = Calendar {
            crews: Vec::new(),
            first: jiff::civil::date(2026, 3, 9),
            days: Vec::new(),
        };
        let at = |day: i64, hour: i64| Moment::ZERO + Span::whole_minutes(60 * (24 * day + hour));
        assert_eq!(clock_beside(&calendar, at(0, 13), at(0, 8)), "13:00");
        assert_eq!(clock_beside(&calendar, at(5, 13), at(1, 8)), "Sat 13:00");
        assert_eq!(clock_beside(&calendar, at(12, 13), at(1, 8)), "Sat 21 Mar 13:00");
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
