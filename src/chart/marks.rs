//! Marks of orders where they were ready: a disc on time, a triangle late, each with its name if it finds room.

use super::clock_axis::ClockAxis;
use super::pen::{Pen, Type};
use super::signs::{RADIUS, late};
use super::theme::Token;
use super::view::OrderMark;
use super::width::fitted;
use super::words::minutes;

/// Rows that the marks may be spread over.
const ROWS: usize = 3;
/// Pixels of a row.
const ROW: f64 = 18.0;
/// From the middle of a mark to its name.
const BESIDE: f64 = 9.0;
/// More orders than this carry a name only if they are late.
const MOST_NAMES: usize = 40;
/// Of marks this near to each other only one is drawn.
const APART: f64 = 1.0;
/// A name longer than this is cut.
const LONGEST: f64 = 170.0;

/// A mark that waits for its place.
struct Wanted {
    x: f64,
    late: bool,
    /// Between which pixels its name must keep.
    day: (f64, f64),
    /// What it may be called, the longest form first.
    forms: Vec<String>,
}

struct Placed {
    x: f64,
    row: usize,
    late: bool,
    /// Where the name begins, and the name.
    name: Option<(f64, String)>,
}

/// The marks of all orders that were ready, placed.
pub(super) struct Marks {
    placed: Vec<Placed>,
    /// Orders that were ready and carry no name.
    pub(super) nameless: usize,
}

fn words(late: bool) -> Type {
    Type::label(if late { Token::Late } else { Token::Ink }).bold()
}

impl Marks {
    /// Places the marks in as few rows as let all names stand at full length, or else in those that hold most of them.
    pub(super) fn new(orders: &[OrderMark], axis: &ClockAxis) -> Self {
        let wanted = wanted(orders, axis);
        let tries = (1..=ROWS).map(|rows| placed(&wanted, rows));
        let (.., placed) = tries
            .min_by_key(|(nameless, crowded, _)| (*nameless, *crowded))
            .unwrap_or_default();
        let nameless = placed.iter().filter(|p| p.name.is_none()).count();
        Self {
            placed: thinned(placed),
            nameless,
        }
    }

    /// Pixels that they need.
    pub(super) fn height(&self) -> f64 {
        ROW * self.placed.iter().map(|p| p.row + 1).max().unwrap_or(1) as f64
    }

    pub(super) fn draw(&self, pen: &Pen<'_>, top: f64) {
        let middle = |p: &Placed| top + ROW * (p.row as f64 + 0.5);
        // Late ones after the others and names last, so that none is hidden.
        for p in self.placed.iter().filter(|p| !p.late) {
            pen.disc((p.x, middle(p)), RADIUS, Token::Ok);
        }
        for p in self.placed.iter().filter(|p| p.late) {
            late(pen, (p.x, middle(p)));
        }
        for p in &self.placed {
            if let Some((x, name)) = &p.name {
                pen.plated(name, (*x, middle(p) + 4.5), words(p.late), Token::Paper);
            }
        }
    }
}

/// What a mark may be called, the longest form first.
fn forms(mark: &OrderMark) -> Vec<String> {
    let how = words(mark.late().is_some());
    let cut = |room| fitted(&mark.id, how.size, how.weight, room);
    let late = mark
        .late()
        .map(|by| format!("{} {} late", cut(LONGEST), minutes(by)));
    late.into_iter()
        .chain([cut(LONGEST), cut(LONGEST / 3.0)])
        .collect()
}

fn wanted(orders: &[OrderMark], axis: &ClockAxis) -> Vec<Wanted> {
    let few = orders.iter().filter(|o| o.ready.is_some()).count() <= MOST_NAMES;
    let want = |mark: &OrderMark| {
        let (ready, late) = (mark.ready?, mark.late().is_some());
        Some(Wanted {
            x: axis.place(ready),
            late,
            day: axis.day_of(ready),
            forms: if few || late { forms(mark) } else { Vec::new() },
        })
    };
    let mut wanted: Vec<Wanted> = orders.iter().filter_map(want).collect();
    wanted.sort_by(|a, b| a.x.total_cmp(&b.x));
    wanted
}

/// Places marks in turn in so many rows; a name stands between its mark and the next in its row, or before its mark.
/// Also how many wanted names found no room, and how many marks have only a shorter form or touch the next.
fn placed(wanted: &[Wanted], rows: usize) -> (usize, usize, Vec<Placed>) {
    let mut free = [f64::NEG_INFINITY; ROWS];
    let (mut nameless, mut crowded) = (0, 0);
    let mut all = Vec::new();
    for (i, w) in wanted.iter().enumerate() {
        let row = i % rows;
        let Some(free) = free.get_mut(row) else { continue };
        let next = wanted.get(i + rows).map_or(f64::INFINITY, |n| n.x - RADIUS - 3.0);
        let end = next.min(w.day.1 - 3.0);
        let fits = |(nth, form): (usize, &String)| {
            let wide = words(w.late).width(form);
            let (right, left) = (w.x + BESIDE, w.x - BESIDE - wide);
            if right + wide <= end {
                Some((nth, right, form.clone()))
            } else {
                (left >= free.max(w.day.0)).then(|| (nth, left, form.clone()))
            }
        };
        let found = w.forms.iter().enumerate().find_map(fits);
        nameless += usize::from(found.is_none() && !w.forms.is_empty());
        crowded += usize::from(found.as_ref().is_some_and(|(nth, ..)| *nth > 0));
        crowded += usize::from(next < w.x + RADIUS);
        let name = found.map(|(_, x, form)| (x, form));
        let end = name
            .as_ref()
            .map_or(w.x, |(x, form)| x + words(w.late).width(form));
        *free = end.max(w.x + RADIUS) + 5.0;
        all.push(Placed {
            x: w.x,
            row,
            late: w.late,
            name,
        });
    }
    (nameless, crowded, all)
}

/// Without nameless marks that lie on another of their kind.
fn thinned(placed: Vec<Placed>) -> Vec<Placed> {
    let mut drawn: [[f64; 2]; ROWS] = [[f64::NEG_INFINITY; 2]; ROWS];
    let shows = |p: &Placed| {
        let Some(last) = drawn.get_mut(p.row).and_then(|r| r.get_mut(usize::from(p.late))) else {
            return false;
        };
        let shows = p.name.is_some() || p.x - *last >= APART;
        if shows {
            *last = p.x;
        }
        shows
    };
    let mut placed = placed;
    placed.retain(shows);
    placed
}
