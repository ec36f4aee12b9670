//! Promises: when each order is ready on every day reckoned, against the time that was promised.

use super::clock_axis::{Clock, ClockAxis};
use super::frame::{BEYOND, Frame, Width};
use super::heading::Heading;
use super::pen::{Pen, Type, picture};
use super::promise_heaps::Heaps;
use super::promise_rows::{Kind, Lines};
use super::svg::{Alt, Svg};
use super::theme::Token;
use super::view::{DayView, PromiseLine};
use super::width::{Weight, wrapped};
use super::words;
use tankday_study::Sure;

/// More orders than these stand closer, in rows of their own, in heaps.
const ROOMY: usize = 12;
const CLOSE: usize = 40;
const IN_ROWS: usize = 120;

/// Draws them.
#[must_use]
pub fn promises(view: &DayView, width: Width) -> Svg {
    let finding = finding(view);
    let heading = Heading::of_days("Will it be ready?", &finding, view, width);
    let lines = sorted(&view.promises);
    let days = view.days_with(moments(&view.promises));
    let clock = Clock::widened(&days, view);
    let (left, right) = columns(&lines, width);
    let axis = ClockAxis::new(clock, left, right);
    let top = heading.height() + Frame::room_above(clock);
    let body = Body::new(&lines, clock, &axis, width, top + 6.0);
    let bottom = top + 6.0 + body.height();
    let notes = notes(view, &body, width);
    let foot = bottom + Frame::room_below(clock) + 4.0;
    let height = foot + 17.0 * notes.len() as f64 + 8.0;
    let frame = Frame {
        clock,
        axis: axis.clone(),
        top,
        bottom,
    };
    let alt = Alt {
        id: "promises".to_owned(),
        title: "Will it be ready?".to_owned(),
        desc: format!("{} {finding}", shown(view)),
        finding,
    };
    picture((width.pixels(), height.ceil() as u32), alt, &heading, |pen| {
        frame.breaks(pen);
        frame.grid(pen);
        frame.times(pen);
        frame.closing(pen);
        body.draw(pen);
        for (i, note) in notes.iter().enumerate() {
            let y = foot + 12.0 + 17.0 * i as f64;
            pen.text(note, (width.side(), y), Type::note(Token::Ink2));
        }
    })
}

/// What the picture consists of, by how many orders there are.
enum Body<'v> {
    Lines(Lines<'v>),
    Heaps(Heaps<'v>),
}

impl<'v> Body<'v> {
    fn new(lines: &[&'v PromiseLine], clock: Clock<'_>, axis: &ClockAxis, width: Width, top: f64) -> Self {
        let kind = match lines.len() {
            n if n <= ROOMY => Kind::Roomy,
            n if n <= CLOSE => Kind::Close,
            _ => Kind::Thin,
        };
        if lines.len() <= IN_ROWS {
            Self::Lines(Lines::new(lines, axis, kind, width, top))
        } else {
            Self::Heaps(Heaps::new(lines, clock, axis, width, top))
        }
    }

    fn height(&self) -> f64 {
        match self {
            Self::Lines(lines) => lines.height(),
            Self::Heaps(heaps) => heaps.height(),
        }
    }

    fn draw(&self, pen: &Pen<'_>) {
        match self {
            Self::Lines(lines) => lines.draw(pen),
            Self::Heaps(heaps) => heaps.draw(pen),
        }
    }
}

/// By promised time, those without a promise last.
fn sorted(lines: &[PromiseLine]) -> Vec<&PromiseLine> {
    let mut sorted: Vec<&PromiseLine> = lines.iter().collect();
    sorted.sort_by_key(|l| (l.due.is_none(), l.due, l.chance.usual));
    sorted
}

/// All moments that the picture shows.
fn moments(lines: &[PromiseLine]) -> impl Iterator<Item = tankday_base::units::Moment> + '_ {
    lines.iter().flat_map(|l| l.ready.iter().flatten().copied())
}

/// The ends of the axis: beside it stand names and chances, on a phone above it as long as there is room.
fn columns(lines: &[&PromiseLine], width: Width) -> (f64, f64) {
    let side = width.side();
    let (names, words) = match width {
        Width::Phone if lines.len() <= ROOMY => (20.0, BEYOND),
        Width::Phone if lines.len() <= CLOSE => (64.0, 88.0),
        Width::Phone => (72.0, BEYOND),
        _ if lines.len() <= ROOMY => (names_width(lines), 164.0),
        _ if lines.len() <= CLOSE => (names_width(lines), 132.0),
        _ => (150.0, 150.0),
    };
    (side + names, width.px() - side - words)
}

/// As wide as the names need, at most a fifth of a page.
fn names_width(lines: &[&PromiseLine]) -> f64 {
    let (id, part) = (Type::label(Token::Ink).bold(), Type::note(Token::Ink2));
    let widest = lines.iter().map(|l| id.width(&l.id).max(part.width(&l.part)));
    (widest.fold(0.0, f64::max) + 24.0).clamp(60.0, 150.0)
}

/// What the picture shows, for its description.
fn shown(view: &DayView) -> String {
    let days = view.promises.iter().map(|l| l.chance.of).max().unwrap_or(0);
    let orders = words::count(view.promises.len(), "order", "orders");
    if days > 1 {
        format!("For each of {orders}, when it is ready on {days} days, against its due time.")
    } else {
        format!("For each of {orders}, when it is ready, against its due time.")
    }
}

/// How many are sure, and which is the least so.
fn finding(view: &DayView) -> String {
    let all = view.promises.len();
    if view.reckoned.is_none_or(|days| days < 2) || all == 0 {
        return words::of_day(view);
    }
    let sure = |least| view.promises.iter().filter(|l| l.sure >= least).count();
    let safe = sure(Sure::Safe);
    let (days, each) = (view.reckoned.unwrap_or(0), view.each());
    let (one, many) = (each.one(), each.many());
    let first = match (safe, all) {
        (1, 1) if sure(Sure::Certain) == 1 => format!("The one order is on time on all {days} {many}."),
        (n, all) if sure(Sure::Certain) == all => {
            format!("All {n} orders are on time on all {days} {many}.")
        }
        (n, all) if n == all => format!("All {n} orders are on time on at least 95 of 100 {many}."),
        (0, all) => format!("None of {all} orders is on time on at least 95 of 100 {many}."),
        (n, all) => {
            let are = if n == 1 { "is" } else { "are" };
            format!("{n} of {all} orders {are} on time on at least 95 of 100 {many}.")
        }
    };
    let mut never = view.promises.iter().filter(|l| l.sure == Sure::Cannot);
    match (never.next(), never.count() + 1) {
        (Some(line), 1) => return format!("{first} {}", of_worst(line)),
        (Some(_), never) => return format!("{first} {never} are not ready on any {one}."),
        _ => {}
    }
    let worst = view.promises.iter().min_by_key(|l| {
        (
            l.chance.on_time,
            std::cmp::Reverse(l.late().map(tankday_base::units::Span::in_micros)),
        )
    });
    match worst.filter(|l| l.sure < Sure::Safe) {
        Some(line) => format!("{first} {}", of_worst(line)),
        None => first,
    }
}

fn of_worst(line: &PromiseLine) -> String {
    match (line.sure, line.late()) {
        (Sure::Cannot, _) => format!("{} is not ready on any day.", line.id),
        (_, Some(late)) => format!(
            "{} on {}, {}.",
            line.id,
            line.chance.words(line.each),
            usual(late)
        ),
        _ => format!("{} on {}.", line.id, line.chance.words(line.each)),
    }
}

/// `usually 12 min late`.
pub(super) fn usual(late: tankday_base::units::Span) -> String {
    let by = if late < tankday_base::units::Span::ZERO {
        tankday_base::units::Span::ZERO - late
    } else {
        late
    };
    // From ten hours on minutes say nothing more.
    let minutes = if by.in_hours() >= 10.0 {
        words::minutes(tankday_base::units::Span::hours(by.in_hours().round()))
    } else {
        words::minutes(by)
    };
    match late {
        l if l > tankday_base::units::Span::ZERO => format!("usually {minutes} late"),
        l if l < tankday_base::units::Span::ZERO => format!("usually {minutes} early"),
        _ => "usually just on time".to_owned(),
    }
}

/// How to read it, and what carries no name.
fn notes(view: &DayView, body: &Body<'_>, width: Width) -> Vec<String> {
    let days = view.reckoned.filter(|days| *days > 1).map(|_| view.each());
    let mut told = match body {
        Body::Lines(lines) => lines.reading(days),
        Body::Heaps(heaps) => heaps.reading(days),
    };
    let nameless = match body {
        Body::Lines(lines) => lines.nameless(),
        Body::Heaps(_) => 0,
    };
    if nameless > 0 {
        told = format!(
            "{told} {} no name here; the table lists them.",
            words::count(nameless, "order carries", "orders carry")
        );
    }
    wrapped(&told, 12.0, Weight::Regular, width.px() - 2.0 * width.side())
}
