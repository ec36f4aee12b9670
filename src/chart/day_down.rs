//! The day on a phone: the clock runs down the left side, tanks, hands and orders stand side by side.

use super::clock_axis::{Clock, ClockAxis, Level, date};
use super::day_places::LaneOf;
use super::frame::Width;
use super::hatch::Point;
use super::heading::Heading;
use super::key::Key;
use super::lanes::{self, Lane, Style};
use super::pen::{Anchor, Pen, Type};
use super::signs::{RADIUS, late};
use super::tank_lane::longest;
use super::theme::Token;
use super::view::{DayView, OrderMark, TankBar};
use super::width::{Weight, fitted, wrapped};
use super::words;
use tankday_base::units::Moment;
use tankday_record::TankState;

/// The column of written times.
const TIMES: f64 = 44.0;
/// Lanes: as wide as there is room, at most and at least so many pixels; between two.
const WIDEST: f64 = 46.0;
const NARROWEST: f64 = 14.0;
const GAP: f64 = 8.0;
/// What orders need at least.
const ORDERS: f64 = 104.0;
/// Pixels to a minute of one day; fewer where there are more days.
const TO_A_MINUTE: f64 = 1.35;
/// No picture is longer than this below its heading.
const LONGEST: f64 = 2_600.0;
/// Names above the lanes.
const LINE: f64 = 14.0;
const MOST_LINES: usize = 4;

/// Where everything goes.
pub(super) struct Down<'v> {
    view: &'v DayView,
    axis: ClockAxis,
    key: Key,
    /// Left edges of lanes of tanks and hands, and their width.
    lanes: Vec<f64>,
    wide: f64,
    /// Where the orders begin, and where everything ends.
    orders: f64,
    right: f64,
    names: Vec<Vec<String>>,
    notes: Vec<String>,
    top: f64,
}

impl<'v> Down<'v> {
    pub(super) fn new(view: &'v DayView, heading: &Heading, samples: Vec<(Style, &'static str)>) -> Self {
        let width = Width::Phone;
        let (left, right) = (width.side() + TIMES, width.px() - width.side());
        let wanted = view.tanks.len() + view.hands.len();
        let room = right - left - ORDERS;
        let fit = (room / (NARROWEST + GAP)).floor().max(1.0) as usize;
        let count = wanted.min(fit);
        let wide = (room / count.max(1) as f64 - GAP).min(WIDEST);
        let lanes: Vec<f64> = (0..count).map(|i| left + (wide + GAP) * i as f64).collect();
        let names: Vec<Vec<String>> = names(view)
            .take(count)
            .map(|n| name_lines(&n, wide + GAP - 3.0))
            .collect();
        let lines = names.iter().map(Vec::len).max().unwrap_or(1).max(2);
        let top = heading.height() + LINE * lines as f64 + 22.0;
        let minutes: f64 = view.days.iter().map(|d| (d.to - d.from).in_minutes()).sum();
        let high = (minutes * TO_A_MINUTE).clamp(240.0, LONGEST);
        let high = if view.days.len() == 1 {
            high.min(1_400.0)
        } else {
            high
        };
        let axis = ClockAxis::new(Clock::of(view), top, top + high);
        let orders = left + (wide + GAP) * count as f64 + 4.0;
        let mut down = Self {
            view,
            axis,
            key: Key::new(samples, width),
            lanes,
            wide,
            orders,
            right,
            names,
            notes: Vec::new(),
            top,
        };
        down.notes = down.notes(wanted - count);
        down
    }

    fn bottom(&self) -> f64 {
        self.axis.ends().1
    }

    pub(super) fn height(&self) -> f64 {
        self.bottom() + 30.0 + self.key.height() + 16.0 * self.notes.len() as f64 + 14.0
    }

    pub(super) fn draw(&self, pen: &Pen<'_>) {
        self.clock(pen);
        for (x, name) in self.lanes.iter().zip(&self.names) {
            let how = Type::note(Token::Ink).bold();
            let first = self.top - 12.0 - LINE * (name.len() as f64 - 1.0);
            for (i, line) in name.iter().enumerate() {
                pen.text(line, (*x, first + LINE * i as f64), how);
            }
        }
        let how = Type::note(Token::Ink).bold();
        pen.text("orders", (self.orders, self.top - 12.0 - LINE), how);
        pen.text("ready", (self.orders, self.top - 12.0), how);
        let mut lanes = self.lanes.iter().copied();
        for (tank, x) in self.view.tanks.iter().zip(lanes.by_ref()) {
            self.tank(pen, &tank.bars, x);
        }
        for (hands, x) in self.view.hands.iter().zip(lanes) {
            for stretch in self.axis.stretches() {
                Lane::down(pen, x, self.wide).bar(stretch.at, lanes::DOTTED);
            }
            let breaks = hands.breaks.iter().map(|(a, b)| (*a, *b, lanes::BREAK));
            self.bars(pen, x, breaks);
            self.bars(pen, x, hands.bars.iter().map(|b| (b.from, b.to, lanes::HANDS)));
            for bar in &hands.bars {
                let load = bar.load.as_deref().unwrap_or_default();
                self.inside(pen, (x, bar.from, bar.to), load, Type::note(Token::OnHand));
            }
        }
        self.closing(pen);
        self.orders(pen);
        let foot = self.bottom() + 30.0;
        self.key.draw(pen, foot);
        for (i, note) in self.notes.iter().enumerate() {
            let y = foot + self.key.height() + 12.0 + 16.0 * i as f64;
            pen.text(note, (Width::Phone.side(), y), Type::note(Token::Ink2));
        }
    }

    /// Left, top, width and height in pixels of a bar's longest piece; none where it is not drawn.
    pub(super) fn bar(&self, lane: LaneOf, from: Moment, to: Moment) -> Option<[f64; 4]> {
        let nth = match lane {
            LaneOf::Tank(i) => i,
            LaneOf::Hands(i) => self.view.tanks.len() + i,
            LaneOf::Station(_) => return None,
        };
        let (a, b) = longest(&self.axis, from, to)?;
        Some([*self.lanes.get(nth)?, a, self.wide, b - a])
    }

    fn tank(&self, pen: &Pen<'_>, bars: &[TankBar], x: f64) {
        self.bars(
            pen,
            x,
            bars.iter().map(|b| (b.from, b.to, lanes::of_tank(b.state))),
        );
        for bar in bars.iter().filter(|b| matches!(b.state, TankState::Coating(_))) {
            let load = bar.load.as_deref().unwrap_or_default();
            self.inside(pen, (x, bar.from, bar.to), load, Type::note(Token::OnCoat).bold());
        }
    }

    fn bars(&self, pen: &Pen<'_>, x: f64, states: impl Iterator<Item = (Moment, Moment, Style)>) {
        let mut lane = Lane::down(pen, x, self.wide);
        for (from, to, style) in states {
            for piece in self.axis.pieces(from, to) {
                lane.bar(piece, style);
            }
        }
    }

    /// A name in the middle of a bar, if it fits.
    fn inside(&self, pen: &Pen<'_>, (x, from, to): (f64, Moment, Moment), name: &str, how: Type) {
        if let Some((a, b)) = longest(&self.axis, from, to)
            && b - a >= 14.0
            && how.width(name) + 3.0 <= self.wide
        {
            let at = (x + self.wide / 2.0, (a + b) / 2.0 + 4.5);
            pen.text(name, at, how.anchored(Anchor::Middle));
        }
    }

    fn clock(&self, pen: &Pen<'_>) {
        let left = Width::Phone.side() + TIMES - 6.0;
        for (from, to) in self.view.days.iter().flat_map(|d| &d.breaks) {
            for (a, b) in self.axis.pieces(*from, *to) {
                pen.rect((left, a), (self.right - left, b - a), Token::Panel);
            }
        }
        for tick in self.axis.ticks() {
            let (length, grid) = match tick.level {
                Level::Quarter => (2.5, None),
                Level::Half => (4.0, None),
                Level::Hour => (6.0, Some(1.0)),
                Level::Midnight => (6.0, Some(2.0)),
            };
            if let Some(width) = grid.filter(|_| tick.grid) {
                pen.line((left, tick.at), (self.right, tick.at), Token::Grid, width);
            }
            pen.line((left - length, tick.at), (left, tick.at), Token::Axis, 1.0);
        }
        for stretch in self.axis.stretches() {
            pen.line((left, stretch.at.0), (left, stretch.at.1), Token::Axis, 1.0);
        }
        self.times(pen, left);
    }

    /// Written times, and above the hours of each day its date where there are several.
    fn times(&self, pen: &Pen<'_>, left: f64) {
        let how = Type::note(Token::Ink2).anchored(Anchor::End);
        let mut free = f64::NEG_INFINITY;
        let mut dates = Vec::new();
        if self.view.days.len() > 1 {
            for day in &self.view.days {
                let y = self.axis.place(day.from.max(day.open)) + 12.0;
                if y - free >= 16.0 {
                    let words = short_date(&date(&self.view.calendar, day.open));
                    pen.text(&words, (Width::Phone.side(), y), Type::note(Token::Ink).bold());
                    dates.push(y);
                    free = y;
                }
            }
        }
        for tick in self.axis.ticks() {
            let Some(label) = &tick.label else { continue };
            let y = tick.at + 4.5;
            let clear = dates.iter().all(|d| (d - y).abs() >= 14.0);
            if clear && label.len() == 5 {
                pen.text(label, (left - 8.0, y), how);
            }
        }
    }

    fn closing(&self, pen: &Pen<'_>) {
        let left = Width::Phone.side() + TIMES - 6.0;
        for day in &self.view.days {
            if let Some(close) = day.close {
                let y = self.axis.place(close);
                pen.line((left - 3.0, y), (self.right, y), Token::Ink, 2.0);
            }
        }
        if let [day] = self.view.days.as_slice()
            && let Some(close) = day.close
        {
            let words = format!("closing {}", close.clock());
            let how = Type::note(Token::Ink).anchored(Anchor::End);
            let y = self.bottom().max(self.axis.place(close)) + 15.0;
            pen.text(&words, (self.right, y), how);
        }
    }

    /// Marks where orders are ready, names beside them pushed apart as far as they find room.
    fn orders(&self, pen: &Pen<'_>) {
        for (mark, y) in self.marks() {
            let centre = (self.orders + RADIUS + 1.0, y);
            match mark.late() {
                None => pen.disc(centre, RADIUS, Token::Ok),
                Some(_) => late(pen, centre),
            }
        }
        for (mark, y, at) in self.named() {
            let colour = if mark.late().is_some() {
                Token::Late
            } else {
                Token::Ink
            };
            let how = Type::note(colour).bold();
            let x = self.orders + 2.0 * RADIUS + 8.0;
            if (at - y).abs() > 2.0 {
                let bend: [Point; 2] = [(self.orders + 2.0 * RADIUS + 2.0, y), (x - 1.0, at)];
                pen.curve(&bend, Token::Axis, 1.0);
            }
            let room = self.right - x;
            let long = mark
                .late()
                .map(|by| format!("{} {} late", mark.id, words::minutes(by)));
            let words = long
                .filter(|w| how.width(w) <= room)
                .unwrap_or_else(|| mark.id.clone());
            pen.plated(
                &fitted(&words, 12.0, Weight::Bold, room),
                (x, at + 4.5),
                how,
                Token::Paper,
            );
        }
    }

    fn marks(&self) -> Vec<(&'v OrderMark, f64)> {
        let ready = |o: &'v OrderMark| Some((o, self.axis.place(o.ready?)));
        let mut marks: Vec<(&OrderMark, f64)> = self.view.orders.iter().filter_map(ready).collect();
        marks.sort_by(|a, b| a.1.total_cmp(&b.1));
        marks
    }

    /// Orders with a name: mark, where it stands, where the name goes. The late ones come first for a place.
    fn named(&self) -> Vec<(&'v OrderMark, f64, f64)> {
        let mut marks = self.marks();
        marks.sort_by_key(|(mark, _)| mark.late().is_none());
        let mut named: Vec<(&OrderMark, f64, f64)> = Vec::new();
        for (mark, y) in marks {
            let free = |at: f64| named.iter().all(|n| (n.2 - at).abs() >= 14.0);
            let near = [0.0, 7.0, -7.0, 14.0, -14.0, 21.0, 28.0].map(|d| y + d);
            let inside = |at: &f64| *at >= self.top && *at <= self.bottom() + 2.0;
            if let Some(at) = near.into_iter().filter(inside).find(|at| free(*at)) {
                named.push((mark, y, at));
            }
        }
        named
    }

    fn notes(&self, lanes: usize) -> Vec<String> {
        let mut notes = vec!["Stations are drawn on wider screens.".to_owned()];
        let nameless = self.marks().len() - self.named().len();
        if nameless > 0 {
            let orders = words::count(nameless, "order carries", "orders carry");
            notes.push(format!("{orders} no name where it would not be legible."));
        }
        if lanes > 0 {
            let more = words::count(
                lanes,
                "more tank or pair of hands is",
                "more tanks or pairs of hands are",
            );
            notes.push(format!("{more} not drawn here."));
        }
        let room = Width::Phone.px() - 2.0 * Width::Phone.side();
        wrapped(&notes.join(" "), 12.0, Weight::Regular, room)
    }
}

/// Names of tanks and hands.
fn names(view: &DayView) -> impl Iterator<Item = String> + '_ {
    let one = view.hands.len() == 1;
    let hands = (0..view.hands.len()).map(move |i| {
        if one {
            "hands".to_owned()
        } else {
            format!("hands {}", i + 1)
        }
    });
    view.tanks.iter().map(|t| t.name.clone()).chain(hands)
}

fn name_lines(name: &str, room: f64) -> Vec<String> {
    let mut lines = wrapped(name, 12.0, Weight::Bold, room);
    if lines.len() > MOST_LINES {
        let rest = lines.split_off(MOST_LINES - 1).join(" ");
        lines.push(fitted(&rest, 12.0, Weight::Bold, room));
    }
    lines
}

/// `6 Mar`.
fn short_date(date: &str) -> String {
    let (day, month) = date.split_once(' ').unwrap_or((date, ""));
    format!("{day} {}", month.chars().take(3).collect::<String>())
}
