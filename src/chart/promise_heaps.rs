//! Promises of many orders: heaped by the promised time, a thin bar each.

use super::clock_axis::{Clock, ClockAxis, date};
use super::frame::Width;
use super::pen::{Pen, Type};
use super::promise_rows::bar;
use super::signs::colour;
use super::theme::Token;
use super::view::PromiseLine;
use super::width::fitted;
use super::words;
use tankday_base::print::Replication;
use tankday_base::units::Moment;
use tankday_study::Sure;

/// Orders beyond this are not drawn one by one, but for the latest.
const MOST: usize = 300;
const LATEST: usize = 60;
/// At most so many heaps.
const MOST_HEAPS: usize = 24;
/// Spans of promised times that may make a heap, in minutes.
const STEPS: [i64; 6] = [1, 60, 240, 1_440, 10_080, 40_320];
/// The least height of a heap, the room between two, and of a strip of those that are not drawn one by one.
const LEAST: f64 = 34.0;
const LINE: f64 = 15.0;
const GAP: f64 = 7.0;
const STRIP: f64 = 9.0;

/// Orders promised for about the same time.
struct Heap<'v> {
    names: Vec<String>,
    drawn: Vec<&'v PromiseLine>,
    /// Those in the strip.
    rest: Vec<&'v PromiseLine>,
    top: f64,
}

/// All heaps, one below the other.
pub(super) struct Heaps<'v> {
    heaps: Vec<Heap<'v>>,
    axis: ClockAxis,
    width: Width,
    height: f64,
    strips: bool,
}

impl<'v> Heaps<'v> {
    pub(super) fn new(
        lines: &[&'v PromiseLine],
        clock: Clock<'_>,
        axis: &ClockAxis,
        width: Width,
        top: f64,
    ) -> Self {
        let each = row(width);
        let mut y = top;
        let least = if width == Width::Phone {
            LEAST + LINE
        } else {
            LEAST
        };
        let heap = |group: Vec<(&'v PromiseLine, bool)>| {
            let of = |wanted: bool| group.iter().filter(move |g| g.1 == wanted).map(|g| g.0);
            let (own, rest): (Vec<_>, Vec<_>) = (of(true).collect(), of(false).collect());
            let strip = if rest.is_empty() { 0.0 } else { STRIP };
            let height = (own.len() as f64 * each + strip).max(least);
            let heap = Heap {
                names: forms(&group, clock),
                drawn: own,
                rest,
                top: y,
            };
            y += height + GAP;
            heap
        };
        let heaps: Vec<Heap<'v>> = grouped(lines).into_iter().map(heap).collect();
        Self {
            strips: heaps.iter().any(|h| !h.rest.is_empty()),
            height: y - top,
            heaps,
            axis: axis.clone(),
            width,
        }
    }

    pub(super) const fn height(&self) -> f64 {
        self.height
    }

    /// How to read them.
    pub(super) fn reading(&self, of: Option<Replication>) -> String {
        let bars = match of {
            Some(each) => format!(
                "Each bar is an order, from the time by which it is ready on half of the {} to that of nine in ten",
                each.many()
            ),
            None => "Each bar is an order, where it is ready".to_owned(),
        };
        let strips = if self.strips {
            format!(
                " The {LATEST} latest are drawn one by one, the others as hairs in a strip; what is never ready leaves none there."
            )
        } else {
            String::new()
        };
        format!("{bars}; upright line: due; beside each heap the worst of its late orders.{strips}")
    }

    pub(super) fn draw(&self, pen: &Pen<'_>) {
        let (a, b) = self.axis.ends();
        for heap in &self.heaps {
            let line = heap.top - GAP / 2.0;
            pen.line((a, line), (b, line), Token::Grid, 1.0);
            self.words(pen, heap);
            let each = row(self.width);
            for (i, line) in heap.drawn.iter().enumerate() {
                bar(pen, &self.axis, line, (heap.top + each * i as f64, each - 0.6));
            }
            let strip = heap.top + each * heap.drawn.len() as f64 + 1.0;
            for line in &heap.rest {
                if let Some(at) = line.chance.usual {
                    let x = self.axis.place(at);
                    pen.faint(&[(x, strip), (x, strip + STRIP - 2.0)], Token::Rep, 1.0, 0.4);
                }
            }
        }
    }

    fn words(&self, pen: &Pen<'_>, heap: &Heap<'_>) {
        let (a, b) = self.axis.ends();
        let side = self.width.side();
        let how = Type::note(Token::Ink2);
        let room = a - side - 8.0;
        let name = heap.names.iter().find(|n| how.width(n) <= room);
        let name = name.or(heap.names.last()).map_or("", String::as_str);
        let name = fitted(name, how.size, how.weight, room);
        pen.text(&name, (side, heap.top + 13.0), how);
        let many = words::count(heap.drawn.len() + heap.rest.len(), "order", "orders");
        let many = fitted(&many, how.size, how.weight, room);
        pen.text(&many, (side, heap.top + 28.0), how);
        let Some(worst) = worst(heap) else { return };
        let how = Type::note(colour(worst.sure)).bold();
        if self.width != Width::Phone {
            let room = self.width.px() - side - b - 12.0;
            let words = late_words(heap, worst, |words| how.width(words) <= room);
            let words = fitted(&words, how.size, how.weight, room);
            pen.text(&words, (b + 12.0, heap.top + 13.0), how);
        } else {
            let words = fitted(
                &format!("{} late", late(heap).count()),
                how.size,
                how.weight,
                room,
            );
            pen.text(&words, (side, heap.top + 28.0 + LINE), how);
        }
    }
}

/// Orders of a heap that are late.
fn late<'v>(heap: &Heap<'v>) -> impl Iterator<Item = &'v PromiseLine> {
    let all = heap.drawn.iter().chain(&heap.rest).copied();
    all.filter(|l| l.sure < Sure::Tight)
}

/// The one that is latest of those that are late.
fn worst<'v>(heap: &Heap<'v>) -> Option<&'v PromiseLine> {
    late(heap).min_by_key(|l| (l.sure, std::cmp::Reverse(l.late())))
}

/// The worst by name, and how many more are late; the longest form that fits.
fn late_words(heap: &Heap<'_>, worst: &PromiseLine, fits: impl Fn(&str) -> bool) -> String {
    let by = worst.late().map_or_else(
        || "not ready".to_owned(),
        |l| format!("{} late", words::minutes(l)),
    );
    let more = match late(heap).count() - 1 {
        0 => String::new(),
        more => format!(", +{more}"),
    };
    let long = format!("{} {by}{more}", worst.id);
    if fits(&long) {
        long
    } else {
        format!("{}{more}", worst.id)
    }
}

/// Height of one order's row.
const fn row(width: Width) -> f64 {
    match width {
        Width::Phone => 2.6,
        Width::Page | Width::Wide => 3.2,
    }
}

/// Which orders are drawn one by one: all of them, or the latest if they are too many.
fn drawn(lines: &[&PromiseLine]) -> Vec<bool> {
    let lateness = |l: &PromiseLine| match (l.late(), l.chance.usual) {
        (Some(late), _) => late.in_micros(),
        (None, Some(_)) => i64::MIN,
        (None, None) => i64::MAX,
    };
    if lines.len() <= MOST {
        return vec![true; lines.len()];
    }
    let mut order: Vec<usize> = (0..lines.len()).collect();
    order.sort_by_key(|i| std::cmp::Reverse(lines.get(*i).map(|l| lateness(l))));
    let mut drawn = vec![false; lines.len()];
    for i in order.into_iter().take(LATEST) {
        if let Some(drawn) = drawn.get_mut(i) {
            *drawn = true;
        }
    }
    drawn
}

/// Orders of about the same promised time, as finely as makes at most so many heaps.
fn grouped<'v>(lines: &[&'v PromiseLine]) -> Vec<Vec<(&'v PromiseLine, bool)>> {
    let drawn = drawn(lines);
    let by = |minutes: i64| {
        let slot = move |l: &PromiseLine| l.due.map(|due| due.in_micros().div_euclid(minutes * 60_000_000));
        let mut groups: Vec<Vec<(&'v PromiseLine, bool)>> = Vec::new();
        for (line, drawn) in lines.iter().copied().zip(drawn.iter().copied()) {
            match groups.last_mut() {
                Some(group) if group.last().is_some_and(|(l, _)| slot(l) == slot(line)) => {
                    group.push((line, drawn));
                }
                _ => groups.push(vec![(line, drawn)]),
            }
        }
        groups
    };
    let found = STEPS.into_iter().map(by).find(|g| g.len() <= MOST_HEAPS);
    found.unwrap_or_else(|| by(i64::from(u32::MAX)))
}

/// What a heap is called, the longest form first: its promised times.
fn forms(group: &[(&PromiseLine, bool)], clock: Clock<'_>) -> Vec<String> {
    let due = |l: Option<&(&PromiseLine, bool)>| l.and_then(|l| l.0.due);
    let (Some(first), Some(last)) = (due(group.first()), due(group.last())) else {
        return vec!["no due time".to_owned()];
    };
    let several = clock.days.len() > 1;
    let date = |at: Moment| date(clock.calendar, at);
    match (
        first == last,
        first.day_and_time().0 == last.day_and_time().0,
        several,
    ) {
        (true, _, false) => vec![first.clock()],
        (true, _, true) => vec![format!("{} {}", date(first), first.clock()), date(first)],
        (_, true, false) => vec![format!("{} to {}", first.clock(), last.clock()), first.clock()],
        (_, true, true) => vec![
            format!("{} {} to {}", date(first), first.clock(), last.clock()),
            date(first),
        ],
        _ => vec![format!("{} to {}", date(first), date(last)), date(first)],
    }
}
