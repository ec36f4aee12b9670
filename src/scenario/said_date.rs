//! Days as people say them before a time: `Tue 24 Mar`, `24 March`, `Mar 24`.

use super::time::weekday;
use jiff::civil::{Date, Weekday};

/// A day of a month, and the weekday that it is said to be. Its year follows from the first day of the scenario.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct SaidDate {
    pub(super) weekday: Option<Weekday>,
    day: i8,
    month: i8,
}

const MONTHS: [&str; 12] = [
    "january",
    "february",
    "march",
    "april",
    "may",
    "june",
    "july",
    "august",
    "september",
    "october",
    "november",
    "december",
];

/// A month by its name, whole or of three letters.
fn month(word: &str) -> Option<i8> {
    let small = word.to_lowercase();
    let own = |name: &&str| **name == *small || (small.len() == 3 && name.starts_with(&small));
    let at = MONTHS.iter().position(own)?;
    i8::try_from(at + 1).ok()
}

fn day(word: &str) -> Option<i8> {
    let digits = word.strip_suffix('.').unwrap_or(word);
    digits.parse().ok().filter(|d| (1..=31).contains(d))
}

impl SaidDate {
    /// Splits a date from the time behind it; none where the text begins with none.
    pub(super) fn split(text: &str) -> Option<(Self, &str)> {
        let next = |rest: &str| -> Option<(String, usize)> {
            let word = rest.split(' ').next()?;
            Some((word.trim_end_matches(',').to_owned(), word.len()))
        };
        let (first, used) = next(text)?;
        let weekday = weekday(&first);
        let rest = if weekday.is_some() {
            text.get(used..)?.trim_start()
        } else {
            text
        };
        let (a, used) = next(rest)?;
        let behind = rest.get(used..)?.trim_start();
        let (b, used) = next(behind)?;
        let (day, month) = match (day(&a), month(&b), month(&a), day(&b)) {
            (Some(d), Some(m), ..) | (.., Some(m), Some(d)) => (d, m),
            _ => return None,
        };
        let date = Self { weekday, day, month };
        Some((date, behind.get(used..)?.trim()))
    }

    /// The first such date on a day or after it. The 29 February may be years away.
    pub(super) fn on_or_after(self, first: Date) -> Option<Date> {
        let of = |year| Date::new(year, self.month, self.day).ok();
        (0..=8)
            .filter_map(|n| of(first.year() + n))
            .find(|date| *date >= first)
    }
}

#[cfg(test)]
mod tests {
    use super::SaidDate;
    use jiff::civil::date;

    #[test]
    fn days_as_they_are_said() {
        let first = date(2026, 3, 5);
        let read = |text| {
            let (said, time) = SaidDate::split(text)?;
            Some((said.on_or_after(first)?, time))
        };
        for text in [
            "Tue 24 Mar 20:30",
            "24 March 20:30",
            "Mar 24 20:30",
            "Tuesday, 24. mar 20:30",
        ] {
            assert_eq!(read(text), Some((date(2026, 3, 24), "20:30")), "{text}");
        }
        assert_eq!(read("4 March 8 am"), Some((date(2027, 3, 4), "8 am")));
        assert_eq!(read("29 Feb 8:00"), Some((date(2028, 2, 29), "8:00")));
        for none in [
            "Tuesday 20:30",
            "4:30 pm",
            "24 20:30",
            "31 Foo 8:00",
            "",
            "at opening",
            "32 March 8:00",
        ] {
            assert_eq!(SaidDate::split(none), None, "{none}");
        }
        assert_eq!(read("31 June 8:00"), None);
    }
}
