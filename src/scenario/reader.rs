//! How values are read, each with what it is for an editor; what only one thing knows stands with that thing.

use crate::thing::{Kind, Reader, or_word};
use crate::time::{self, When};
use crate::value;
use jiff::civil::Date;
use tankday_base::random::Spread;
use tankday_base::shop::Rate;
use tankday_base::units::{Quantity, Share, Span, TempDiff, Temperature};

pub(super) const NAME: Reader<String> = Reader::new(Kind::Text, value::name);
pub(super) const TEXT: Reader<String> = Reader::new(Kind::Text, value::text);
pub(super) const YES: Reader<bool> = Reader::new(Kind::Yes, value::yes);

/// A quantity, zero or more.
pub(super) const fn quantity<Q: Quantity>() -> Reader<Q> {
    Reader::new(Kind::of::<Q>(), value::quantity)
}

/// A quantity, more than zero.
pub(super) const fn positive<Q: Quantity>() -> Reader<Q> {
    Reader::new(Kind::of::<Q>(), value::positive)
}

/// Two quantities, the lesser first.
pub(super) const fn range<Q: Quantity + PartialOrd>() -> Reader<(Q, Q)> {
    Reader::new(Kind::Pattern(TO), value::range)
}

/// Two plain numbers, the lesser first.
pub(super) const NUMBERS: Reader<(f64, f64)> = Reader::new(Kind::Pattern(TO), value::numbers);

const TO: &str = r"^\s*[\d.]+.*\sto\s+[\d.]+.*$";

/// A share up to 100 %.
pub(super) const SHARE: Reader<Share> = Reader::new(Kind::of::<Share>(), value::share);
pub(super) const TEMPERATURE: Reader<Temperature> = Reader::new(Kind::Degrees, value::temperature);
/// A temperature; none inside for that of the air.
pub(super) const AS_AIR: Reader<Option<Temperature>> = or_word!("as the air", TEMPERATURE);
pub(super) const DIFFERENCE: Reader<TempDiff> = Reader::new(Kind::DegreesApart, value::temp_diff);

/// A whole number from `LEAST` to `MOST`.
pub(super) const fn count<const LEAST: u32, const MOST: u32>() -> Reader<u32> {
    Reader::new(Kind::Count, value::count::<LEAST, MOST>)
}

/// Pieces of an order.
pub(super) const PIECES: Reader<u32> = Reader::new(Kind::Count, value::pieces);

/// A number from `LEAST` to `MOST` tenths.
pub(super) const fn factor<const LEAST: u32, const MOST: u32>() -> Reader<f64> {
    Reader::new(Kind::Number, value::factor::<LEAST, MOST>)
}

pub(super) const ABOVE_ZERO: Reader<f64> = Reader::new(Kind::Number, value::above_zero);
pub(super) const MONEY: Reader<f64> = Reader::new(Kind::Number, value::money);
pub(super) const PER_KWH: Reader<f64> = Reader::new(Kind::Price("kWh"), value::price_per_kwh);
pub(super) const PER_HOUR: Reader<f64> = Reader::new(Kind::Price("h"), value::price_per_hour);
pub(super) const PER_LITRE: Reader<f64> = Reader::new(Kind::Price("L"), value::price_per_litre);
/// A rate by the hour, by area, by mass, by the load or by the piece.
pub(super) const RATE: Reader<Rate> = Reader::new(
    Kind::Or(&[
        Kind::Price("h"),
        Kind::Price("dm2"),
        Kind::Price("kg"),
        Kind::Price("load"),
        Kind::Price("piece"),
    ]),
    value::rate,
);
pub(super) const EACH: Reader<f64> = Reader::new(Kind::Price("piece"), value::price_each);

pub(super) const SPAN: Reader<Span> = Reader::new(Kind::Time, time::span);
pub(super) const SPREAD: Reader<Spread> = Reader::new(Kind::Spread, time::spread);
/// A shortest and a longest stay.
pub(super) const WINDOW: Reader<(Span, Span)> = Reader::new(
    Kind::Pattern(r"\d.*(s|min|h|hours?|minutes?|seconds?)\s*$"),
    time::window,
);
/// A time of day.
pub(super) const CLOCK: Reader<Span> = Reader::new(Kind::Clock, time::clock);
pub(super) const WHEN: Reader<When> = Reader::new(Kind::Clock, time::when);
pub(super) const DATE: Reader<Date> = Reader::new(Kind::Date, time::date);
