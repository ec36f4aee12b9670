//! Clock times and lengths of time, as whole microseconds: "at the same time" is exact.

use super::read::{ReadError, split_number};

/// A length of time, in whole microseconds. May be negative as the difference of two moments.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default, Hash)]
pub struct Span(i64);

/// A point on the shop's clock, in whole microseconds since midnight before the first day of the scenario.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default, Hash)]
pub struct Moment(i64);

const SECOND: i64 = 1_000_000;
const MINUTE: i64 = 60 * SECOND;
const HOUR: i64 = 60 * MINUTE;

impl Span {
    /// No time at all.
    pub const ZERO: Self = Self(0);
    /// Longer than any day, week or year that is simulated.
    pub const FOREVER: Self = Self(i64::MAX / 4);

    /// From microseconds.
    #[must_use]
    pub const fn micros(value: i64) -> Self {
        Self(value)
    }
    /// From seconds, rounded to the nearest microsecond; beyond the clock's range it is [`Span::FOREVER`].
    #[must_use]
    pub fn seconds(value: f64) -> Self {
        let micros = (value * SECOND as f64).round();
        if micros.is_nan() {
            return Self::ZERO;
        }
        Self((micros.clamp(-(Self::FOREVER.0 as f64), Self::FOREVER.0 as f64)) as i64)
    }
    /// From minutes, rounded to the nearest microsecond.
    #[must_use]
    pub fn minutes(value: f64) -> Self {
        Self::seconds(value * 60.0)
    }
    /// From hours, rounded to the nearest microsecond.
    #[must_use]
    pub fn hours(value: f64) -> Self {
        Self::seconds(value * 3_600.0)
    }
    /// From whole minutes.
    #[must_use]
    pub const fn whole_minutes(value: i64) -> Self {
        Self(value * MINUTE)
    }
    /// In microseconds.
    #[must_use]
    pub const fn in_micros(self) -> i64 {
        self.0
    }
    /// In seconds.
    #[must_use]
    pub const fn in_seconds(self) -> f64 {
        self.0 as f64 / SECOND as f64
    }
    /// In minutes.
    #[must_use]
    pub const fn in_minutes(self) -> f64 {
        self.0 as f64 / MINUTE as f64
    }
    /// In hours.
    #[must_use]
    pub const fn in_hours(self) -> f64 {
        self.0 as f64 / HOUR as f64
    }
    /// This span a number of times over, rounded to the nearest microsecond.
    #[must_use]
    pub fn times(self, k: f64) -> Self {
        Self::seconds(self.in_seconds() * k)
    }
}

impl Moment {
    /// Midnight before the first day.
    pub const ZERO: Self = Self(0);
    /// Later than anything that is simulated.
    pub const NEVER: Self = Self(i64::MAX / 2);

    /// From microseconds since midnight before the first day.
    #[must_use]
    pub const fn micros(value: i64) -> Self {
        Self(value)
    }
    /// In microseconds since midnight before the first day.
    #[must_use]
    pub const fn in_micros(self) -> i64 {
        self.0
    }
    /// In minutes since midnight before the first day.
    #[must_use]
    pub const fn in_minutes(self) -> f64 {
        self.0 as f64 / MINUTE as f64
    }
    /// In hours since midnight before the first day.
    #[must_use]
    pub const fn in_hours(self) -> f64 {
        self.0 as f64 / HOUR as f64
    }
    /// Which day it lies in, the first being 0, and how long after that day's midnight.
    #[must_use]
    pub const fn day_and_time(self) -> (i64, Span) {
        (self.0.div_euclid(24 * HOUR), Span(self.0.rem_euclid(24 * HOUR)))
    }
    /// The later of two.
    #[must_use]
    pub fn max(self, other: Self) -> Self {
        Ord::max(self, other)
    }
    /// The earlier of two.
    #[must_use]
    pub fn min(self, other: Self) -> Self {
        Ord::min(self, other)
    }
    /// As `HH:MM` of its day, rounded down to the minute, as what hands must do is printed.
    #[must_use]
    pub fn clock(self) -> String {
        let (_, t) = self.day_and_time();
        format!("{:02}:{:02}", t.0 / HOUR, t.0 % HOUR / MINUTE)
    }
}

impl std::ops::Add for Span {
    type Output = Self;
    fn add(self, o: Self) -> Self {
        Self(self.0.saturating_add(o.0))
    }
}
impl std::ops::Sub for Span {
    type Output = Self;
    fn sub(self, o: Self) -> Self {
        Self(self.0.saturating_sub(o.0))
    }
}
impl std::ops::AddAssign for Span {
    fn add_assign(&mut self, o: Self) {
        *self = *self + o;
    }
}
impl std::ops::SubAssign for Span {
    fn sub_assign(&mut self, o: Self) {
        *self = *self - o;
    }
}
impl std::iter::Sum for Span {
    fn sum<I: Iterator<Item = Self>>(it: I) -> Self {
        it.fold(Self::ZERO, |a, b| a + b)
    }
}
impl std::ops::Sub for Moment {
    type Output = Span;
    fn sub(self, o: Self) -> Span {
        Span(self.0.saturating_sub(o.0))
    }
}
impl std::ops::Add<Span> for Moment {
    type Output = Self;
    fn add(self, d: Span) -> Self {
        Self(self.0.saturating_add(d.0))
    }
}
impl std::ops::Sub<Span> for Moment {
    type Output = Self;
    fn sub(self, d: Span) -> Self {
        Self(self.0.saturating_sub(d.0))
    }
}

/// Reads `12 min`, `1.5 h`, `90 s`, `1 h 30 min`, `2 days`.
///
/// # Errors
/// When there is no number, no unit, an unknown unit, or the span is negative or beyond a thousand years.
pub fn read_span(text: &str) -> Result<Span, ReadError> {
    const HELP: &str =
        "a length of time with its unit is expected, s, min, h or days: `12 min`, `1 h 30 min`";
    let mut rest = text.trim();
    let mut seconds = 0.0;
    loop {
        let (value, after) = split_number(rest).map_err(|e| ReadError::new(e.message, HELP))?;
        let end = after
            .find(|c: char| c.is_ascii_digit() || c.is_whitespace())
            .unwrap_or(after.len());
        let (unit, next) = after.split_at(end);
        seconds += value
            * match unit {
                "s" | "sec" | "second" | "seconds" => 1.0,
                "min" | "mins" | "minute" | "minutes" => 60.0,
                "h" | "hr" | "hour" | "hours" => 3_600.0,
                "d" | "day" | "days" => 86_400.0,
                "week" | "weeks" => 7.0 * 86_400.0,
                "" => return Err(ReadError::new(format!("`{}` has no unit", text.trim()), HELP)),
                other => return Err(ReadError::new(format!("`{other}` is not a unit of time"), HELP)),
            };
        rest = next.trim();
        if value < 0.0 {
            return Err(ReadError::new(
                format!("`{}` is less than no time", text.trim()),
                HELP,
            ));
        }
        if rest.is_empty() {
            break;
        }
    }
    if seconds > 1_000.0 * 366.0 * 86_400.0 {
        return Err(ReadError::new(
            format!("`{}` is longer than a thousand years", text.trim()),
            HELP,
        ));
    }
    Ok(Span::seconds(seconds))
}

/// A time without its `am` or `pm`, and whether it is one of the afternoon.
fn half_of_day(text: &str) -> (&str, Option<bool>) {
    let Some((cut, mark)) = text.char_indices().rev().nth(1).map(|(i, _)| text.split_at(i)) else {
        return (text, None);
    };
    match mark.to_ascii_lowercase().as_str() {
        "am" => (cut.trim_end(), Some(false)),
        "pm" => (cut.trim_end(), Some(true)),
        _ => (text, None),
    }
}

/// The clock time that `16.30`, `16h30` or `1630` means.
fn in_digits(text: &str) -> Option<String> {
    let text = text.trim().trim_end_matches(['h', 'H']);
    let parts: Vec<&str> = text.split(['.', 'h', 'H']).collect();
    let (hours, minutes) = match parts.as_slice() {
        [hours, minutes] => (*hours, *minutes),
        [all] if all.len() == 4 && all.is_ascii() => all.split_at(2),
        _ => return None,
    };
    let (h, m) = (hours.parse::<u8>().ok()?, minutes.parse::<u8>().ok()?);
    (h < 24 && m < 60 && minutes.len() == 2).then(|| format!("{h:02}:{m:02}"))
}

/// Reads a clock time `07:30`, `07:30:15` or `4:30 pm` as the span since midnight; `24:00` is the end of the day.
///
/// # Errors
/// When it is no clock time.
pub fn read_clock(text: &str) -> Result<Span, ReadError> {
    let bad = || {
        let help = match in_digits(text) {
            Some(meant) => format!("write `{meant}`"),
            None => "a clock time from 00:00 to 24:00 is expected: `07:30`".to_owned(),
        };
        ReadError::new(format!("`{}` is not a time of day", text.trim()), help)
    };
    let mut fields = [0i64; 3];
    let (digits, half) = half_of_day(text.trim());
    let parts: Vec<&str> = digits.split(':').collect();
    let least = if half.is_some() { 1 } else { 2 };
    if !(least..=3).contains(&parts.len()) {
        return Err(bad());
    }
    for (field, part) in fields.iter_mut().zip(&parts) {
        if part.is_empty() || part.len() > 2 || !part.bytes().all(|b| b.is_ascii_digit()) {
            return Err(bad());
        }
        *field = part.parse().map_err(|_| bad())?;
    }
    let [mut h, m, s] = fields;
    if let Some(afternoon) = half {
        if !(1..=12).contains(&h) {
            return Err(bad());
        }
        h = h % 12 + if afternoon { 12 } else { 0 };
    }
    if h > 24 || m > 59 || s > 59 || (h == 24 && m + s > 0) {
        return Err(bad());
    }
    Ok(Span(h * HOUR + m * MINUTE + s * SECOND))
}
