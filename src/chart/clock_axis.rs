//! The clock as an axis: one stretch for each day, ticks on quarters of an hour.

use super::view::{DayHours, DayView};
use tankday_base::shop::Calendar;
use tankday_base::units::{Moment, Span};

/// Pixels that two written times need at the least.
const LABEL_ROOM: f64 = 46.0;
/// Pixels between two ticks or grid lines at the least.
const TICK_ROOM: f64 = 8.0;
/// Pixels between closing and the next opening.
const NIGHT: f64 = 12.0;
/// Steps of written times, in minutes; beyond them whole days.
const STEPS: [i64; 6] = [15, 30, 60, 120, 180, 240];
const DAY: i64 = 1_440;

/// Days and their dates.
#[derive(Debug, Clone, Copy)]
pub(super) struct Clock<'v> {
    pub(super) days: &'v [DayHours],
    pub(super) calendar: &'v Calendar,
    /// Whether work after closing is told: not where days are widened for other things.
    pub(super) over: bool,
}

impl<'v> Clock<'v> {
    /// Days of a view that were widened.
    pub(super) fn widened(days: &'v [DayHours], view: &'v DayView) -> Self {
        Self {
            days,
            calendar: &view.calendar,
            over: false,
        }
    }

    /// The days that a view shows.
    pub(super) fn of(view: &'v DayView) -> Self {
        Self {
            days: &view.days,
            calendar: &view.calendar,
            over: true,
        }
    }
}

impl Clock<'_> {
    /// Until when work went on after closing, and by how many minutes, if that is told.
    pub(super) fn over_by(&self, day: &DayHours) -> Option<(Moment, f64)> {
        let minutes = (day.to - day.close?).in_minutes();
        (self.over && minutes >= 1.0).then_some((day.to, minutes))
    }
}

/// A stretch of clock without interruption.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Stretch {
    pub(super) from: Moment,
    pub(super) to: Moment,
    /// Pixels of both ends.
    pub(super) at: (f64, f64),
}

/// How much a tick tells.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Level {
    Quarter,
    Half,
    Hour,
    Midnight,
}

/// A tick.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Tick {
    pub(super) at: f64,
    pub(super) level: Level,
    /// Whether a grid line goes through the picture here.
    pub(super) grid: bool,
    /// As written, if written.
    pub(super) label: Option<String>,
}

/// The clock laid out along some pixels.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct ClockAxis {
    stretches: Vec<Stretch>,
    ticks: Vec<Tick>,
    /// Minutes from one written time to the next.
    step: i64,
}

impl ClockAxis {
    /// Days from pixel `first` to pixel `last`.
    pub(super) fn new(clock: Clock<'_>, first: f64, last: f64) -> Self {
        let spans = spans(clock.days);
        let stretches = laid_out(&spans, first, last);
        let per_minute = stretches.first().map_or(1.0, |s| {
            (s.at.1 - s.at.0) / (s.to - s.from).in_minutes().max(1e-6)
        });
        let step = step(per_minute);
        let mut ticks: Vec<Tick> = stretches
            .iter()
            .flat_map(|s| ticks(s, per_minute, step, clock.calendar))
            .collect();
        drop_crowded(&mut ticks);
        Self {
            stretches,
            ticks,
            step,
        }
    }

    /// The pixel of a moment; in the night between two stretches that of the nearer end.
    pub(super) fn place(&self, at: Moment) -> f64 {
        let next = self.stretches.partition_point(|s| s.to < at);
        match (
            self.stretches.get(next),
            next.checked_sub(1).and_then(|i| self.stretches.get(i)),
        ) {
            (Some(s), _) if s.from <= at => {
                let share = (at - s.from).in_seconds() / (s.to - s.from).in_seconds().max(1e-6);
                s.at.0 + share * (s.at.1 - s.at.0)
            }
            (_, Some(before)) => before.at.1,
            (Some(after), None) => after.at.0,
            (None, None) => 0.0,
        }
    }

    /// Whether a moment lies on the axis, not in a night between two stretches.
    pub(super) fn shows(&self, at: Moment) -> bool {
        let next = self.stretches.partition_point(|s| s.to < at);
        self.stretches.get(next).is_some_and(|s| s.from <= at)
    }

    /// The pixels of both ends of the stretch that a moment lies on; in a night of the one before it.
    pub(super) fn day_of(&self, at: Moment) -> (f64, f64) {
        let next = self.stretches.partition_point(|s| s.from <= at);
        let stretch = self.stretches.get(next.saturating_sub(1));
        stretch.map_or((0.0, 0.0), |s| s.at)
    }

    /// A span of time as pieces of pixels, one for each stretch that it touches.
    pub(super) fn pieces(&self, from: Moment, to: Moment) -> Vec<(f64, f64)> {
        let first = self.stretches.partition_point(|s| s.to <= from);
        self.stretches
            .iter()
            .skip(first)
            .take_while(|s| s.from < to)
            .map(|s| (self.place(from.max(s.from)), self.place(to.min(s.to))))
            .filter(|(a, b)| b > a)
            .collect()
    }

    pub(super) fn stretches(&self) -> &[Stretch] {
        &self.stretches
    }

    pub(super) fn ticks(&self) -> &[Tick] {
        &self.ticks
    }

    /// Whether times of day are written, so that the dates go above them.
    pub(super) const fn writes_dates_above(&self) -> bool {
        self.step < DAY
    }

    pub(super) fn ends(&self) -> (f64, f64) {
        let first = self.stretches.first().map_or(0.0, |s| s.at.0);
        (first, self.stretches.last().map_or(first, |s| s.at.1))
    }
}

/// From opening to closing, or as long as anything is done; days that touch are one.
fn spans(days: &[DayHours]) -> Vec<(Moment, Moment)> {
    let mut spans: Vec<(Moment, Moment)> = Vec::new();
    for day in days {
        match spans.last_mut() {
            Some(last) if day.from <= last.1 => last.1 = last.1.max(day.to),
            _ => spans.push((day.from, day.to)),
        }
    }
    if spans.is_empty() {
        spans.push((Moment::ZERO, Moment::ZERO + Span::whole_minutes(60)));
    }
    spans
}

fn laid_out(spans: &[(Moment, Moment)], first: f64, last: f64) -> Vec<Stretch> {
    let minutes: f64 = spans.iter().map(|(a, b)| (*b - *a).in_minutes()).sum();
    let nights = (spans.len() as f64 - 1.0).max(0.0);
    // Many days share at most a quarter of the width as nights.
    let night = NIGHT.min((last - first) / 4.0 / nights.max(1.0));
    let per_minute = (last - first - night * nights) / minutes.max(1e-6);
    let mut x = first;
    let mut stretches = Vec::new();
    for &(from, to) in spans {
        let end = x + (to - from).in_minutes() * per_minute;
        stretches.push(Stretch {
            from,
            to,
            at: (x, end),
        });
        x = end + night;
    }
    stretches
}

fn step(per_minute: f64) -> i64 {
    let fits = |step: &i64| *step as f64 * per_minute >= LABEL_ROOM;
    if let Some(step) = STEPS.iter().copied().find(fits) {
        return step;
    }
    let mut days = DAY;
    // Dates are wider than times.
    while (days as f64) * per_minute < 1.4 * LABEL_ROOM && days < 4_000 * DAY {
        days *= 2;
    }
    days
}

fn ticks(stretch: &Stretch, per_minute: f64, step: i64, calendar: &Calendar) -> Vec<Tick> {
    let every = [15, 30, 60, 120, 240, DAY]
        .into_iter()
        .find(|m| *m as f64 * per_minute >= TICK_ROOM)
        .unwrap_or(step)
        .min(step);
    let first = (stretch.from.in_minutes() / every as f64).ceil() as i64;
    let last = (stretch.to.in_minutes() / every as f64).floor() as i64;
    let per_second = (stretch.at.1 - stretch.at.0) / (stretch.to - stretch.from).in_seconds().max(1e-6);
    (first..=last)
        .map(|k| {
            let minutes = k * every;
            let at = Moment::ZERO + Span::whole_minutes(minutes);
            let level = match minutes {
                m if m % DAY == 0 => Level::Midnight,
                m if m % 60 == 0 => Level::Hour,
                m if m % 30 == 0 => Level::Half,
                _ => Level::Quarter,
            };
            let written = minutes % step == 0;
            Tick {
                at: stretch.at.0 + (at - stretch.from).in_seconds() * per_second,
                level,
                grid: level >= Level::Hour,
                label: written.then(|| {
                    if level == Level::Midnight {
                        date(calendar, at)
                    } else {
                        at.clock()
                    }
                }),
            }
        })
        .collect()
}

/// A written time that would touch the one before it is left out.
fn drop_crowded(ticks: &mut [Tick]) {
    let mut last = f64::NEG_INFINITY;
    for tick in ticks {
        if tick.label.is_some() {
            if tick.at - last < LABEL_ROOM - 1e-6 {
                tick.label = None;
            } else {
                last = tick.at;
            }
        }
    }
}

/// `6 March`.
pub(super) fn date(calendar: &Calendar, at: Moment) -> String {
    calendar.date(at).strftime("%-d %B").to_string()
}

/// `Thursday 5 March 2026`.
pub(super) fn long_date(calendar: &Calendar, at: Moment) -> String {
    calendar.date(at).strftime("%A %-d %B %Y").to_string()
}
