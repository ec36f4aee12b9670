//! A route on a phone: one column of steps in the order of the route; what leads further than to the next step runs
//! along the left, what goes back along the right.

use super::frame::Width;
use super::hatch::Point;
use super::pen::{Anchor, Pen, Type};
use super::route_box::{Words, draw, head, limit};
use super::theme::Token;
use tankday_base::route::{Edge, ProcessGraph};
use tankday_base::shop::{Route, Shop, StepIx};
use tankday_record::Bottleneck;

/// Between two boxes.
const GAP: f64 = 32.0;
/// From lane to lane beside the boxes, and from the boxes to the first.
const LANE: f64 = 11.0;
const FIRST: f64 = 12.0;
/// Lanes on either side at most; what finds none shares the last.
const MOST_LANES: usize = 6;

/// An edge that runs beside the boxes, from one to another.
struct Aside {
    from: usize,
    to: usize,
    lane: usize,
    /// Share that goes back.
    share: Option<f64>,
}

/// Where everything goes.
pub(super) struct Down<'v> {
    route: &'v Route,
    words: Vec<Words>,
    /// Upper edges of the boxes.
    tops: Vec<f64>,
    left: f64,
    wide: f64,
    /// Steps that lead to the next.
    next: Vec<bool>,
    asides: Vec<Aside>,
    foot: f64,
}

impl<'v> Down<'v> {
    pub(super) fn new(shop: &Shop, route: &'v Route, busiest: Option<&Bottleneck>, top: f64) -> Self {
        let graph = ProcessGraph::of(route);
        let edges: Vec<(StepIx, StepIx, Edge)> = graph.edges().collect();
        let straight = |from: StepIx, to: StepIx| to.index() == from.index() + 1;
        let next = (0..route.steps.len())
            .map(|i| {
                edges
                    .iter()
                    .any(|e| e.0.index() == i && straight(e.0, e.1) && e.2 == Edge::Forward)
            })
            .collect();
        let (mut onward, mut back) = (Lanes::default(), Lanes::default());
        let asides: Vec<Aside> = edges
            .iter()
            .filter(|e| !(e.2 == Edge::Forward && straight(e.0, e.1)))
            .map(|(from, to, edge)| {
                let (from, to) = (from.index(), to.index());
                let (lanes, share) = match edge {
                    Edge::Forward => (&mut onward, None),
                    Edge::Return(share) => (&mut back, Some(share.in_percent())),
                };
                Aside {
                    from,
                    to,
                    lane: lanes.take(from.min(to), from.max(to)),
                    share,
                }
            })
            .collect();
        let width = Width::Phone;
        let left = width.side() + onward.room().max(28.0);
        let wide = width.px() - width.side() - back.room().max(28.0) - left;
        let words: Vec<Words> = route
            .steps
            .iter()
            .map(|step| Words::of(shop, step, busiest, wide))
            .collect();
        let mut y = top;
        let tops = words
            .iter()
            .map(|w| {
                let top = y;
                y += w.height() + GAP;
                top
            })
            .collect();
        Self {
            route,
            words,
            tops,
            left,
            wide,
            next,
            asides,
            foot: (y - GAP).max(top) + 12.0,
        }
    }

    pub(super) const fn foot(&self) -> f64 {
        self.foot
    }

    pub(super) fn draw(&self, pen: &Pen<'_>) {
        let middle = self.left + self.wide / 2.0;
        for (i, step) in self.route.steps.iter().enumerate() {
            let (top, high) = self.place(i);
            if let Some(words) = self.words.get(i) {
                draw(pen, step, words, (self.left, top), (self.wide, high));
            }
            let before = i.checked_sub(1).filter(|b| self.next.get(*b) == Some(&true));
            if let Some(before) = before {
                let (y, high) = self.place(before);
                let arrow = [(middle, y + high), (middle, top)];
                pen.curve(&arrow, Token::Ink, 1.4);
                head(pen, &arrow, Token::Ink);
            }
            let limit = limit(step).join(" ");
            if i > 0 && !limit.is_empty() {
                pen.text(
                    &limit,
                    (middle + 9.0, top - GAP / 2.0 + 4.5),
                    Type::note(Token::Ink2),
                );
            }
        }
        for aside in &self.asides {
            self.aside(pen, aside);
        }
    }

    /// Upper edge and height of a box.
    fn place(&self, step: usize) -> (f64, f64) {
        let top = self.tops.get(step).copied().unwrap_or(0.0);
        (top, self.words.get(step).map_or(0.0, Words::height))
    }

    fn aside(&self, pen: &Pen<'_>, aside: &Aside) {
        let ((from, high), (to, goal)) = (self.place(aside.from), self.place(aside.to));
        let out = FIRST + LANE * aside.lane as f64;
        let Some(share) = aside.share else {
            let (x, lane) = (self.left, self.left - out);
            let (a, b) = (from + high * 0.7, to + goal * 0.3);
            let way: [Point; 4] = [(x, a), (lane, a), (lane, b), (x, b)];
            pen.curve(&way, Token::Axis, 1.4);
            head(pen, &way, Token::Axis);
            return;
        };
        let (x, lane) = (self.left + self.wide, self.left + self.wide + out);
        let (a, b) = (from + high * 0.7, to + goal * 0.3);
        let way: [Point; 4] = [(x, a), (lane, a), (lane, b), (x, b)];
        pen.dashed(&way, Token::Late, 1.6, (5.0, 3.0));
        head(pen, &way, Token::Late);
        let how = Type::note(Token::Late).anchored(Anchor::End);
        pen.text(&format!("{share:.0} % back"), (x, from - GAP / 2.0 + 4.5), how);
    }
}

/// Lanes beside the boxes; those of edges that do not overlap are shared.
#[derive(Default)]
struct Lanes(Vec<Vec<(usize, usize)>>);

impl Lanes {
    fn take(&mut self, from: usize, to: usize) -> usize {
        let clear = |lane: &Vec<(usize, usize)>| lane.iter().all(|(a, b)| to <= *a || from >= *b);
        let lane = match self.0.iter().position(clear) {
            Some(lane) => lane,
            None if self.0.len() < MOST_LANES => {
                self.0.push(Vec::new());
                self.0.len() - 1
            }
            None => MOST_LANES - 1,
        };
        if let Some(lane) = self.0.get_mut(lane) {
            lane.push((from, to));
        }
        lane
    }

    fn room(&self) -> f64 {
        match self.0.len() {
            0 => 0.0,
            n => FIRST + LANE * n as f64,
        }
    }
}
