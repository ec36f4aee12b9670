//! Counts and dates as people in Europe and in America write them. Where both readings are possible it is asked.

use super::{Dates, Numbers};
use crate::part_name::without_pieces;
use jiff::civil::Date;

/// What a cell says, or why nobody can tell.
pub(super) type Read<T> = Result<T, Unclear>;

/// Why a cell cannot be read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Unclear {
    pub(super) message: String,
    pub(super) help: String,
    /// Whether both readings are possible, and one answer settles all of the table.
    pub(super) asks: bool,
}

fn asked<T>(message: String, help: &str) -> Read<T> {
    Err(Unclear {
        message,
        help: help.to_owned(),
        asks: true,
    })
}

fn unclear<T>(message: String, help: &str) -> Read<T> {
    Err(Unclear {
        message,
        help: help.to_owned(),
        asks: false,
    })
}

/// `400`, `1.200`, `1,200`, `1 200`, `12,00`: a count of pieces.
pub(super) fn count(text: &str, how: Option<Numbers>) -> Read<u64> {
    let help = "write a whole number, such as 400";
    let plain: String = without_pieces(text)
        .chars()
        .filter(|c| !matches!(c, ' ' | '\u{a0}' | '\u{202f}' | '\''))
        .collect();
    let whole = |digits: &str| digits.parse::<u64>().ok();
    let wrong = || unclear(format!("`{text}` is no count of pieces"), help);
    if plain.is_empty()
        || !plain
            .chars()
            .all(|c| c.is_ascii_digit() || matches!(c, '.' | ','))
    {
        return wrong();
    }
    let readings = [Numbers::DecimalComma, Numbers::DecimalPoint]
        .map(|how| read_as(&plain, how).and_then(|d| whole(&d)));
    match (how, readings) {
        (Some(Numbers::DecimalComma), [Some(n), _]) | (Some(Numbers::DecimalPoint), [_, Some(n)]) => Ok(n),
        (None, [Some(a), Some(b)]) if a != b => asked(
            format!("`{text}` may be {a} or {b}"),
            "say which: `numbers: decimal comma` or `numbers: decimal point`; or write it without signs",
        ),
        (None, [Some(n), _] | [_, Some(n)]) => Ok(n),
        _ => wrong(),
    }
}

/// The digits of a whole number in one way of writing; none where it is none in this way.
fn read_as(text: &str, how: Numbers) -> Option<String> {
    let (decimal, group) = match how {
        Numbers::DecimalComma => (',', '.'),
        Numbers::DecimalPoint => ('.', ','),
    };
    let (whole, rest) = text.split_once(decimal).unwrap_or((text, ""));
    if !rest.chars().all(|c| c == '0') {
        return None;
    }
    let mut groups = whole.split(group);
    let first = groups.next().filter(|g| !g.is_empty())?;
    let grouped: Vec<&str> = groups.collect();
    let sound = grouped.iter().all(|g| g.len() == 3) && (grouped.is_empty() || first.len() <= 3);
    sound.then(|| std::iter::once(first).chain(grouped).collect())
}

/// The order of day and month that a date with slashes proves; none where both are possible, or it has none.
pub(super) fn proven(text: &str) -> Option<Dates> {
    let (a, b, _) = slashed(text)?;
    match (a > 12, b > 12) {
        (true, false) => Some(Dates::DayFirst),
        (false, true) => Some(Dates::MonthFirst),
        _ => None,
    }
}

fn slashed(text: &str) -> Option<(i8, i8, i16)> {
    let (date, _) = text.trim().split_once(' ').unwrap_or((text.trim(), ""));
    let mut parts = date.split('/');
    let (a, b, y) = (parts.next()?, parts.next()?, parts.next()?);
    if parts.next().is_some() {
        return None;
    }
    Some((a.parse().ok()?, b.parse().ok()?, year(y)?))
}

fn year(text: &str) -> Option<i16> {
    let n: i16 = text.parse().ok()?;
    match text.len() {
        2 => Some(2000 + n),
        4 => Some(n),
        _ => None,
    }
}

/// A time as a scenario writes it, of `2026-03-09 15:00`, `9.3.2026`, `03/09/2026 3:00 pm`, `15:00`. A date alone is when the
/// shop does what `alone` says on that day: `opening`, `closing`. What has no date is left as it is.
pub(super) fn moment(text: &str, order: Option<Dates>, alone: &str) -> Read<String> {
    let text = text.trim();
    let (first, time) = text.split_once([' ', 'T']).unwrap_or((text, ""));
    let date = match (first.contains('/'), first.matches('.').count() == 2) {
        (true, _) => american(text, order)?,
        (_, true) => dotted(first)?,
        _ => match first.parse::<Date>() {
            Ok(date) if first.len() == 10 => date,
            _ => return Ok(text.to_owned()),
        },
    };
    let time = time.trim().trim_start_matches(',').trim();
    Ok(format!("{date} {}", if time.is_empty() { alone } else { time }))
}

const DATES: &str = "write year, month and day: `2026-03-09`";

/// `9.3.2026`: with dots the day comes first (common practice, no source).
fn dotted(text: &str) -> Read<Date> {
    let mut parts = text.split('.');
    let day = parts.next().and_then(|p| p.parse().ok());
    let month = parts.next().and_then(|p| p.parse().ok());
    let of = |(d, m): (i8, i8)| Date::new(year(parts.next()?)?, m, d).ok();
    match day.zip(month).and_then(of) {
        Some(date) => Ok(date),
        None => unclear(format!("`{text}` is not a date"), DATES),
    }
}

fn american(text: &str, order: Option<Dates>) -> Read<Date> {
    let Some((a, b, y)) = slashed(text) else {
        return unclear(format!("`{text}` is not a date"), DATES);
    };
    let order = proven(text).or(order).or((a == b).then_some(Dates::DayFirst));
    let date = match order {
        Some(Dates::DayFirst) => Date::new(y, b, a),
        Some(Dates::MonthFirst) => Date::new(y, a, b),
        None => {
            let both =
                [Date::new(y, b, a), Date::new(y, a, b)].map(|d| d.map_or(String::new(), |d| d.to_string()));
            return asked(
                format!("`{text}` may be {} or {}", both[0], both[1]),
                "say which: `dates: day first` or `dates: month first`",
            );
        }
    };
    date.or_else(|_| unclear(format!("`{text}` is not a date"), DATES))
}

#[cfg(test)]
mod tests {
    use super::{count, moment, proven};
    use crate::table::{Dates, Numbers};

    #[test]
    fn counts_of_both_sides_of_the_ocean() {
        for (text, n) in [
            ("400", 400),
            ("1.200", 1200),
            ("1,200", 1200),
            ("1 200", 1200),
            ("1'200", 1200),
            ("12,00", 12),
            ("12.0", 12),
            ("1.200,00", 1200),
            ("1,200.00", 1200),
            ("1.200.000", 1_200_000),
        ] {
            assert_eq!(count(text, None), Ok(n), "{text}");
        }
        let asked = count("1.000", None).unwrap_err();
        assert_eq!(asked.message, "`1.000` may be 1000 or 1");
        assert_eq!(count("1.000", Some(Numbers::DecimalComma)), Ok(1000));
        assert_eq!(count("1.000", Some(Numbers::DecimalPoint)), Ok(1));
        for wrong in ["", "a dozen", "1.5", "1,20", "-4", "12.34.5", "1.200,50", "."] {
            assert!(count(wrong, None).is_err(), "{wrong}");
        }
    }

    #[test]
    fn dates_of_both_sides_of_the_ocean() {
        let read = |text, order| moment(text, order, "closing");
        for (text, told) in [
            ("2026-03-09", "2026-03-09 closing"),
            ("2026-03-09 15:00", "2026-03-09 15:00"),
            ("9.3.2026", "2026-03-09 closing"),
            ("03.04.26 8:00", "2026-04-03 8:00"),
            ("13/03/2026", "2026-03-13 closing"),
            ("03/13/2026 4:30 pm", "2026-03-13 4:30 pm"),
            ("04/04/2026", "2026-04-04 closing"),
            ("15:00", "15:00"),
            ("Tuesday 20:30", "Tuesday 20:30"),
        ] {
            assert_eq!(read(text, None).as_deref(), Ok(told), "{text}");
        }
        let asked = read("03/04/2026", None).unwrap_err();
        assert_eq!(asked.message, "`03/04/2026` may be 2026-04-03 or 2026-03-04");
        assert_eq!(
            read("03/04/2026", Some(Dates::MonthFirst)).unwrap(),
            "2026-03-04 closing"
        );
        assert_eq!(proven("13/03/2026"), Some(Dates::DayFirst));
        for wrong in ["31.2.2026", "13/13/2026", "1/2/3/4", "3.4.x"] {
            assert!(read(wrong, None).is_err(), "{wrong}");
        }
    }
}
