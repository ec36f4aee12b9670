//! Hours and breaks as a shop has them.

use super::{Facts, Rule};
use crate::finding::{Code, Finding};
use crate::node::SourceSpan;
use crate::thing::Thing;
use crate::written::{Break, Days, OpenDays, Weekly};
use tankday_base::print::how_long;
use tankday_base::units::Span;

pub(super) const ALL: &[Rule] = &[Rule::Whole(days), Rule::Whole(breaks), Rule::Whole(own_hands)];

/// Shortest and longest opening hours of one day: common practice, no source.
const DAY: (Span, Span) = (Span::whole_minutes(45), Span::whole_minutes(60 * 16));
/// Shortest and longest break: common practice, no source.
const BREAK: (Span, Span) = (Span::whole_minutes(5), Span::whole_minutes(60 * 3));

/// Days are as long as people work.
fn days(f: &Facts) -> Vec<Finding> {
    if f.no_hands().is_some() {
        return Vec::new();
    }
    let all = f.file.days.iter().flat_map(|entry| match entry {
        OpenDays::Dated(days) => dated(days).into_iter().collect(),
        OpenDays::Weekly(weekly) => recurring(weekly),
    });
    all.collect()
}

fn dated(day: &Days) -> Option<Finding> {
    let (open, close) = (day.open.as_ref()?, day.close.as_ref()?);
    let at = day.place(&Days::close).map(|_| close.at);
    let at = at.or(day.place(&Days::open).map(|_| open.at))?;
    odd(at, close.value - open.value).map(|f| f.and(open.at, "from here"))
}

/// Each window: a day of two has a break between them.
fn recurring(weekly: &Weekly) -> Vec<Finding> {
    let hours = weekly.every.iter().filter_map(|w| w.at.as_ref());
    hours
        .filter_map(|w| odd(w.at, w.value.close - w.value.open))
        .collect()
}

/// Hours that are shorter or longer than usual.
fn odd(at: SourceSpan, long: Span) -> Option<Finding> {
    let outside = long > Span::ZERO && !(DAY.0..=DAY.1).contains(&long);
    outside.then(|| {
        Finding::warning(Code::Time, at, format!("the shop is open {}", how_long(long)))
            .label(if long < DAY.0 {
                "as short as that?"
            } else {
                "as long as that?"
            })
            .help(format!(
                "usual are {} to {} with the same hands (common practice, no source); \
                 write a second shift as days of its own, or a shop that never closes as `around the clock: 365 days`",
                how_long(DAY.0),
                how_long(DAY.1)
            ))
    })
}

/// A shop without hands has none in some hours either.
fn own_hands(f: &Facts) -> Vec<Finding> {
    let Some(none) = f.no_hands() else {
        return Vec::new();
    };
    let own = f.file.days.iter().flat_map(|d| d.hands());
    let odd = own.filter_map(|h| h.as_ref()).map(|hands| {
        Finding::new(
            Code::Contradiction,
            hands.at,
            "hands come to a shop that has none",
        )
        .label("hands here")
        .and(none.at, "no hands")
        .help("write at `shop: {hands: 1}` how many there are where the hours don't say")
    });
    odd.collect()
}

/// Breaks are as long as people rest.
fn breaks(f: &Facts) -> Vec<Finding> {
    let odd = |one: &Break| {
        let at = one.at?;
        let long = at.value.1 - at.value.0;
        let outside = long > Span::ZERO && !(BREAK.0..=BREAK.1).contains(&long);
        outside.then(|| {
            let message = format!("a break of {}", how_long(long));
            let help = if long < BREAK.0 {
                "loads come out and heaters go off for it: leave it out, or write `stays: yes` for it"
            } else {
                "nobody works in it: where the shop closes in between, write two windows, `every: [Sat 08:00 to 12:00, Sat 16:00 to 20:00]`"
            };
            Finding::warning(Code::Time, at.at, message)
                .label(if long < BREAK.0 {
                    "as short as that?"
                } else {
                    "as long as that?"
                })
                .help(format!(
                    "usual are {} to {} (common practice, no source); {help}",
                    how_long(BREAK.0),
                    how_long(BREAK.1)
                ))
        })
    };
    let all = f.file.days.iter().flat_map(|d| d.breaks());
    all.filter_map(odd).collect()
}
