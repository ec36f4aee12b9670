//! From days as written to a calendar, and from times as written to moments.

use super::finding::{Code, Finding, Severity};
use super::node::{SourceSpan, Spanned};
use super::thing::Thing;
use super::time::When;
use super::walk::Walk;
use super::weekly;
use super::written::{Break as Pause, Days, MOST_DAYS, OpenDays};
use jiff::civil::Date;
use tankday_base::shop::{Break, Calendar, Crew, Day};
use tankday_base::units::{Moment, Span};

const DAY: Span = Span::whole_minutes(24 * 60);

/// The calendar with what else the days tell.
#[derive(Debug)]
pub(super) struct Hours {
    pub(super) calendar: Calendar,
    /// From when on there are so many pairs of hands, none for those of the shop; of every opening and window.
    pub(super) crews: Vec<(Moment, Option<u32>)>,
    /// Where the watch of a shop that never closes ends.
    pub(super) watched_until: Option<Moment>,
}

impl Hours {
    /// The moment that is meant; none for a day that the scenario does not have.
    pub(super) fn moment(&self, when: When) -> Option<Moment> {
        moment(&self.calendar, when)
    }

    /// Opening hours on these weekdays, counted from Monday as 0; on all days if none is named.
    pub(super) fn open_on(&self, weekdays: &[usize]) -> Vec<(Moment, Moment)> {
        let asked = |open: Moment| {
            let weekday = self.calendar.date(open).weekday().to_monday_zero_offset();
            weekdays.is_empty() || usize::try_from(weekday).is_ok_and(|d| weekdays.contains(&d))
        };
        let days = self.calendar.days.iter().filter(|d| asked(d.open));
        days.map(|d| (d.open, d.close)).collect()
    }

    /// How many pairs of hands there are at most, and every change in that, given how many there are where nothing is said.
    pub(super) fn hands(&self, usual: u32) -> (u32, Vec<Crew>) {
        let mut crews: Vec<Crew> = Vec::new();
        for &(from, own) in &self.crews {
            let hands = own.unwrap_or(usual);
            if crews.last().is_none_or(|c| c.hands != hands) {
                crews.push(Crew { from, hands });
            }
        }
        let most = crews.iter().map(|c| c.hands).max().unwrap_or(usual);
        if crews.len() < 2 {
            crews.clear();
        }
        (most, crews)
    }

    /// The last closing, if the shop ever closes.
    pub(super) fn last_closing(&self) -> Option<Moment> {
        self.calendar
            .days
            .last()
            .map(|d| d.close)
            .filter(|c| *c < Moment::NEVER)
    }
}

/// The moment that is meant; none for a day that the calendar does not have.
pub(super) fn moment(calendar: &Calendar, when: When) -> Option<Moment> {
    match when {
        When::Opening => calendar.days.first().map(|d| d.open),
        When::First(time) => Some(Moment::ZERO + time),
        When::Nth(n, time) => {
            let open = calendar.days.get(n.checked_sub(1)? as usize)?.open;
            Some(open - open.day_and_time().1 + time)
        }
        When::On(weekday, time) => {
            let days = calendar.first.weekday().until(weekday);
            Some(midnight(i64::from(days)) + time)
        }
        When::Tomorrow(time) => Some(midnight(1) + time),
        When::Said(said, time) => {
            let date = said.on_or_after(calendar.first)?;
            Some(midnight(days_between(calendar.first, date)) + time)
        }
        When::Opens(date) => {
            let day = midnight(days_between(calendar.first, date));
            let opens = calendar.days.iter().map(|d| d.open).find(|open| *open >= day);
            // After the last day stated as early as that date has it.
            Some(opens.unwrap_or(day))
        }
        When::Closes(date) => {
            let ends = midnight(days_between(calendar.first, date) + 1);
            let days = calendar.days.iter().rev();
            let closes = days.filter(|d| d.open < ends).map(|d| d.close).next();
            // Before the first day stated, and where the shop never closes, as late as that date has it.
            Some(closes.filter(|c| *c < Moment::NEVER).unwrap_or(ends))
        }
        When::Dated(date, time) => Some(midnight(days_between(calendar.first, date)) + time),
    }
}

pub(super) fn midnight(day: i64) -> Moment {
    Moment::ZERO + Span::micros(DAY.in_micros().saturating_mul(day))
}

pub(super) fn days_between(from: Date, to: Date) -> i64 {
    i64::from((to - from).get_days())
}

/// Lays the days out; none if anything is wrong with them.
pub(super) fn hours(written: &[OpenDays], walk: &mut Walk) -> Option<Hours> {
    let before = walk.found.len();
    let first = match written.first()? {
        OpenDays::Dated(days) => &days.date,
        OpenDays::Weekly(weekly) => &weekly.from,
    };
    let first_date = match first {
        Some(date) => date.value,
        None => walk.usual(&Days::date, "")?,
    };
    let mut hours = Hours {
        calendar: Calendar {
            first: first_date,
            days: Vec::new(),
            crews: Vec::new(),
        },
        crews: Vec::new(),
        watched_until: None,
    };
    let mut next = 0;
    for days in written {
        next = lay(days, next, &mut hours, walk)?;
    }
    begin_with_first_day(&mut hours);
    let wrong = |f: &Finding| f.weight == Severity::Error;
    (!walk.found.iter().skip(before).any(wrong)).then_some(hours)
}

/// Counts from the midnight before the first day that is open: days that come again may begin with closed ones.
fn begin_with_first_day(hours: &mut Hours) {
    let calendar = &mut hours.calendar;
    let Some(skip) = calendar.days.first().map(|d| d.open.day_and_time().0) else {
        return;
    };
    let earlier = Span::micros(DAY.in_micros().saturating_mul(skip));
    calendar.first = calendar.date(Moment::ZERO + earlier);
    for crew in &mut hours.crews {
        crew.0 = crew.0 - earlier;
    }
    for day in calendar.days.iter_mut().filter(|_| skip != 0) {
        day.open = day.open - earlier;
        day.close = day.close - earlier;
        for pause in &mut day.breaks {
            pause.from = pause.from - earlier;
            pause.until = pause.until - earlier;
        }
    }
}

/// Lays one entry from the first day that is free; gives the day after it.
fn lay(entry: &OpenDays, next: i64, hours: &mut Hours, walk: &mut Walk) -> Option<i64> {
    if hours.watched_until.is_some() {
        walk.add(
            Finding::error(Code::Contradiction, entry.places().at)
                .says("no day can follow a shop that never closes"),
        );
        return Some(next);
    }
    match entry {
        OpenDays::Dated(days) => lay_dated(days, next, hours, walk),
        OpenDays::Weekly(weekly) => weekly::lay(weekly, next, hours, walk),
    }
}

fn lay_dated(days: &Days, next: i64, hours: &mut Hours, walk: &mut Walk) -> Option<i64> {
    let first = match &days.date {
        Some(date) => days_between(hours.calendar.first, date.value),
        None => next,
    };
    if first < next {
        walk.add(out_of_order(days.date.as_ref().map_or(days.places.at, |d| d.at)));
        return Some(next);
    }
    if let Some(watch) = &days.around_the_clock {
        return never_closes(days, watch, first, hours, walk);
    }
    let (open, close) = (days.open.as_ref()?, days.close.as_ref()?);
    if open.value >= close.value {
        let finding = Finding::new(Code::Time, close.at, "the shop closes before it opens").label("closing");
        walk.add(
            finding
                .and(open.at, "opening")
                .help("a day begins and ends on the same date, at 24:00 at the latest"),
        );
        return Some(next);
    }
    let breaks = breaks(days, open.value, close.value, walk);
    let repeat = days.repeat.as_ref()?.value;
    if hours.calendar.days.len() + repeat as usize > MOST_DAYS {
        return walk.refuse(
            Finding::new(Code::Limit, days.places.at, format!("more than {MOST_DAYS} days"))
                .help("simulate fewer days"),
        );
    }
    let own_hands = days.hands.as_ref().map(|h| h.value);
    for day in first..first + i64::from(repeat) {
        let at = |time: Span| midnight(day) + time;
        let breaks = breaks.iter().map(|(from, to, stays)| Break {
            from: at(*from),
            until: at(*to),
            stays: *stays,
        });
        hours.crews.push((at(open.value), own_hands));
        hours.calendar.days.push(Day {
            open: at(open.value),
            close: at(close.value),
            breaks: breaks.collect(),
            stays: days.stays.as_ref().is_some_and(|s| s.value),
        });
    }
    Some(first + i64::from(repeat))
}

pub(super) fn out_of_order(at: SourceSpan) -> Finding {
    Finding::new(Code::Time, at, "this day does not come after the one before")
        .label("too early")
        .help("write the days in order, each date once")
}

fn never_closes(
    days: &Days,
    watch: &Spanned<Span>,
    first: i64,
    hours: &mut Hours,
    walk: &mut Walk,
) -> Option<i64> {
    if !hours.calendar.days.is_empty() {
        return walk.refuse(
            Finding::error(Code::Contradiction, watch.at).says("a shop that never closes has no other days"),
        );
    }
    if let Some(beside) = days.first(&Days::HOURS) {
        let finding = Finding::error(Code::Contradiction, beside)
            .says("a shop that never closes has no hours of its own");
        walk.add(
            finding
                .label("without effect")
                .and(watch.at, "never closes")
                .help("keep one of the two"),
        );
    }
    if watch.value <= Span::ZERO {
        walk.add(
            Finding::new(Code::Range, watch.at, "it must be watched for some time").help("write `365 days`"),
        );
    }
    let open = midnight(first);
    hours.crews.push((open, days.hands.as_ref().map(|h| h.value)));
    hours.calendar.days.push(Day {
        open,
        close: Moment::NEVER,
        breaks: Vec::new(),
        stays: false,
    });
    hours.watched_until = Some(open + watch.value);
    Some(first + 1)
}

/// Breaks in order, checked; those that touch are joined where they are alike.
fn breaks(days: &Days, open: Span, close: Span, walk: &mut Walk) -> Vec<(Span, Span, bool)> {
    let all = in_order(&days.breaks);
    for (one, _) in &all {
        let (from, to) = one.value;
        if from >= to {
            walk.add(backwards(one.at));
        } else if from < open || to > close {
            walk.add(outside(one.at, days));
        }
    }
    overlapping(&days.breaks, walk);
    join(all.iter().map(|(at, stays)| (at.value.0, at.value.1, *stays)))
}

/// Breaks in order, each with whether somebody stays.
fn in_order(breaks: &[Pause]) -> Vec<(Spanned<(Span, Span)>, bool)> {
    let read = |b: &Pause| Some((b.at?, b.stays.as_ref()?.value));
    let mut all: Vec<_> = breaks.iter().filter_map(read).collect();
    all.sort_by_key(|(at, _)| at.value);
    all
}

pub(super) fn backwards(at: SourceSpan) -> Finding {
    Finding::error(Code::Time, at).says("this break ends before it begins")
}

/// No two breaks overlap.
pub(super) fn overlapping(breaks: &[Pause], walk: &mut Walk) {
    for pair in in_order(breaks).windows(2) {
        if let [(a, _), (b, _)] = pair
            && b.value.0 < a.value.1
        {
            walk.add(
                Finding::new(Code::Time, b.at, "two breaks overlap")
                    .label("begins before")
                    .and(a.at, "this one ends"),
            );
        }
    }
}

fn outside(at: SourceSpan, days: &Days) -> Finding {
    let mut finding =
        Finding::new(Code::Time, at, "this break lies outside the opening hours").label("outside");
    for (spot, label) in [(&days.open, "opens"), (&days.close, "closes")] {
        if let Some(spot) = spot
            && spot.at != days.places.at
        {
            finding = finding.and(spot.at, label);
        }
    }
    finding
}

pub(super) fn join(all: impl Iterator<Item = (Span, Span, bool)>) -> Vec<(Span, Span, bool)> {
    let mut joined: Vec<(Span, Span, bool)> = Vec::new();
    for (from, to, stays) in all {
        match joined.last_mut() {
            Some(last) if from <= last.1 && stays == last.2 => last.1 = Ord::max(last.1, to),
            _ => joined.push((from, to, stays)),
        }
    }
    joined
}
