//! From days that come again every week to days of the calendar.

use super::calendar::{Hours, days_between, join, midnight};
use super::finding::{Code, Finding};
use super::meant_time::WEEKDAYS;
use super::node::SourceSpan;
use super::thing::Thing;
use super::walk::Walk;
use super::week_hours::WeekHours;
use super::written::{MOST_DAYS, Weekly, Window};
use jiff::civil::Date;
use tankday_base::shop::{Break, Day};
use tankday_base::units::{Moment, Span};

const DAY: i64 = 24 * 60 * 60 * 1_000_000;
/// Opening hours of a day, and where they are written.
#[derive(Debug, Clone, Copy)]
struct Open {
    hours: WeekHours,
    hands: Option<u32>,
    at: SourceSpan,
}

/// Lays recurring days from the first date that is free; gives the one after the last that may be one of them.
pub(super) fn lay(weekly: &Weekly, next: i64, hours: &mut Hours, walk: &mut Walk) -> Option<i64> {
    let before = walk.found.len();
    let first = weekly
        .from
        .as_ref()
        .map(|d| (days_between(hours.calendar.first, d.value), d.at));
    if let Some((_, at)) = first.filter(|(first, _)| *first < next) {
        walk.add(super::calendar::out_of_order(at));
        return Some(next);
    }
    let first = first.map_or(next, |f| f.0);
    let windows: Vec<Open> = weekly.every.iter().filter_map(open).collect();
    if windows.is_empty() {
        return nothing_open(weekly, walk);
    }
    apart(&windows, walk);
    breaks_lie_within(weekly, &windows, walk);
    let end = end(weekly, first, hours.calendar.first, walk)?;
    if walk.found.len() > before {
        return Some(end);
    }
    let days = Laid::of(weekly, &windows, first, end, hours.calendar.first);
    days.odd(weekly, &windows, walk);
    if hours.calendar.days.len() + days.days.len() > MOST_DAYS {
        return walk.refuse(
            Finding::new(
                Code::Limit,
                weekly.places.at,
                format!("more than {MOST_DAYS} days"),
            )
            .help("simulate fewer days"),
        );
    }
    hours.calendar.days.extend(days.days);
    hours.crews.extend(days.crews);
    Some(end)
}

fn open(window: &Window) -> Option<Open> {
    let at = window.at.as_ref()?;
    Some(Open {
        hours: at.value,
        hands: window.hands.as_ref().map(|h| h.value),
        at: at.at,
    })
}

/// No hours; nothing more is said of those that cannot be read.
fn nothing_open(weekly: &Weekly, walk: &mut Walk) -> Option<i64> {
    let at = weekly
        .places
        .of_value(&Weekly::every)
        .filter(|_| !weekly.unread)?;
    walk.refuse(
        Finding::new(Code::Missing, at, "no hours are written")
            .help("write the hours of a week: `every: [Tue 16:30 to 21:00, Sat 08:00 to 14:00]`"),
    )
}

/// The first date after them, counted from the calendar's first.
fn end(weekly: &Weekly, first: i64, zero: Date, walk: &mut Walk) -> Option<i64> {
    match (&weekly.over, &weekly.until) {
        (Some(over), Some(until)) => walk.refuse(
            Finding::new(Code::Contradiction, until.at, "the days have two ends")
                .label("one of the two")
                .and(over.at, "or this")
                .help("keep `for` or `until`"),
        ),
        (Some(over), None) => {
            let long = over.value.in_micros();
            if long > 0 && long % DAY == 0 {
                return Some(first + long / DAY);
            }
            let finding = Finding::new(Code::Time, over.at, "days come again for whole days");
            walk.refuse(
                finding
                    .label("not whole days")
                    .help("write `for: 3 weeks` or `for: 10 days`"),
            )
        }
        (None, Some(until)) => {
            let end = days_between(zero, until.value) + 1;
            if end > first {
                return Some(end);
            }
            let finding = Finding::new(Code::Time, until.at, "the days end before they begin");
            let finding = finding
                .label("ends first")
                .help("write the first date at `from`, the last at `until`");
            walk.refuse(match &weekly.from {
                Some(from) => finding.and(from.at, "begins"),
                None => finding,
            })
        }
        // A key that could not be read was told of.
        _ if weekly
            .first(&[&Weekly::over.key(), &Weekly::until.key()])
            .is_some() =>
        {
            None
        }
        _ => walk.refuse(
            Finding::error(Code::Missing, weekly.places.at)
                .says("nothing says how long these days come again")
                .label("has no end")
                .help("write `for: 3 weeks`, or the last date: `until: 2026-03-28`"),
        ),
    }
}

/// Windows of one day neither overlap nor touch: between two of them is a break.
fn apart(windows: &[Open], walk: &mut Walk) {
    for weekday in 0..7 {
        for pair in on(windows, weekday).windows(2) {
            let [a, b] = pair else { continue };
            let (message, label) = match b.hours.open.cmp(&a.hours.close) {
                std::cmp::Ordering::Greater => continue,
                std::cmp::Ordering::Equal => ("two windows of a day touch", "begins when"),
                std::cmp::Ordering::Less => ("two windows of a day overlap", "begins before"),
            };
            walk.add(
                Finding::new(Code::Time, b.at, message)
                    .label(label)
                    .and(a.at, "this one ends")
                    .help("write them as one, or leave a break between them"),
            );
        }
    }
}

/// The windows of a weekday in order.
fn on(windows: &[Open], weekday: usize) -> Vec<Open> {
    let open = |w: &&Open| w.hours.on.get(weekday) == Some(&true);
    let mut all: Vec<Open> = windows.iter().filter(open).copied().collect();
    all.sort_by_key(|w| w.hours.open);
    all
}

/// Each break lies in some window.
fn breaks_lie_within(weekly: &Weekly, windows: &[Open], walk: &mut Walk) {
    for pause in &weekly.breaks {
        let Some(at) = pause.at else { continue };
        if at.value.0 >= at.value.1 {
            walk.add(super::calendar::backwards(at.at));
        } else if !windows.iter().any(|w| within(at.value, w)) {
            walk.add(
                Finding::new(Code::Time, at.at, "this break lies outside the opening hours")
                    .label("outside")
                    .help("write a break that begins and ends within the hours of one window"),
            );
        }
    }
    super::calendar::overlapping(&weekly.breaks, walk);
}

fn within((from, to): (Span, Span), window: &Open) -> bool {
    window.hours.open <= from && to <= window.hours.close
}

/// Days laid out, and what they were made of.
struct Laid {
    days: Vec<Day>,
    /// How many hands come with every window, if it says so.
    crews: Vec<(Moment, Option<u32>)>,
    /// The weekdays that come, counted from Monday as 0.
    comes: [bool; 7],
    /// Dates left out on which the shop would have opened.
    left_out: Vec<Date>,
}

impl Laid {
    fn of(weekly: &Weekly, windows: &[Open], first: i64, end: i64, zero: Date) -> Self {
        let week: Vec<Vec<Open>> = (0..7).map(|d| on(windows, d)).collect();
        let except: Vec<(i64, Date)> = weekly
            .except
            .iter()
            .map(|d| (days_between(zero, d.value), d.value))
            .collect();
        let mut laid = Self {
            days: Vec::new(),
            crews: Vec::new(),
            comes: [false; 7],
            left_out: Vec::new(),
        };
        let monday = i64::from(zero.weekday().to_monday_zero_offset());
        for day in first..end {
            let weekday = (monday + day).rem_euclid(7) as usize;
            let (Some(open), Some(comes)) = (week.get(weekday), laid.comes.get_mut(weekday)) else {
                continue;
            };
            *comes = true;
            match except.iter().find(|(out, _)| *out == day) {
                Some((_, date)) if !open.is_empty() => laid.left_out.push(*date),
                _ => {
                    laid.days.extend(one_day(weekly, open, day));
                    let crew = |w: &Open| (midnight(day) + w.hours.open, w.hands);
                    laid.crews.extend(open.iter().map(crew));
                }
            }
            if laid.days.len() > MOST_DAYS {
                break;
            }
        }
        laid
    }

    /// What has no effect.
    fn odd(&self, weekly: &Weekly, windows: &[Open], walk: &mut Walk) {
        if self.days.is_empty() {
            walk.add(
                Finding::new(
                    Code::Time,
                    weekly.places.at,
                    "the shop opens on none of these days",
                )
                .label("never opens")
                .help("write a longer time at `for`, or other weekdays at `every`"),
            );
            return;
        }
        let comes = |w: &Open| w.hours.on.iter().zip(self.comes).any(|(on, comes)| *on && comes);
        for window in windows.iter().filter(|w| !comes(w)) {
            walk.add(
                Finding::warning(Code::Time, window.at, "these hours never come")
                    .label("no such weekday in this time")
                    .help("write a longer time at `for`"),
            );
        }
        let mut told: Vec<Date> = Vec::new();
        for date in &weekly.except {
            if !self.left_out.contains(&date.value) || told.contains(&date.value) {
                walk.add(without_effect(date.value, date.at, told.contains(&date.value)));
            }
            told.push(date.value);
        }
    }
}

fn without_effect(date: Date, at: SourceSpan, again: bool) -> Finding {
    let weekday = usize::try_from(date.weekday().to_monday_zero_offset()).unwrap_or(0);
    let weekday = WEEKDAYS.get(weekday).copied().unwrap_or_default();
    let message = match again {
        true => format!("`{date}` is left out twice"),
        false => format!("the shop isn't open on {weekday} {date} anyway"),
    };
    Finding::warning(Code::Time, at, message)
        .label("without effect")
        .help("leave it out, or write the date that you mean")
}

/// The day with these windows, if there are any.
fn one_day(weekly: &Weekly, windows: &[Open], day: i64) -> Option<Day> {
    let (first, last) = (windows.first()?, windows.last()?);
    let stays = weekly.stays.as_ref().is_some_and(|s| s.value);
    let between = windows.windows(2).filter_map(|pair| match pair {
        [a, b] => Some((a.hours.close, b.hours.open, stays)),
        _ => None,
    });
    let own = weekly.breaks.iter().filter_map(|b| {
        let at = b.at?.value;
        let fits = windows.iter().any(|w| within(at, w));
        fits.then_some((at.0, at.1, b.stays.as_ref()?.value))
    });
    let mut breaks: Vec<(Span, Span, bool)> = between.chain(own).collect();
    breaks.sort_by_key(|b| (b.0, b.1));
    let at = |time: Span| midnight(day) + time;
    let breaks = join(breaks.into_iter())
        .into_iter()
        .map(|(from, until, stays)| Break {
            from: at(from),
            until: at(until),
            stays,
        });
    Some(Day {
        open: at(first.hours.open),
        close: at(last.hours.close),
        breaks: breaks.collect(),
        stays,
    })
}
