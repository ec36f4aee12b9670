//! The temperature of each bath through the day, with its band, its top-ups and its loads.

use super::clock_axis::{Clock, ClockAxis};
use super::frame::{Frame, Width};
use super::hatch::Point;
use super::heading::Heading;
use super::pen::{Anchor, Pen, Type, picture};
use super::scale::{ROOM, Scale, apart};
use super::svg::{Alt, Svg};
use super::tank_lane::draw_tank;
use super::theme::Token;
use super::view::{BathLine, DayView};
use super::width::fitted;
use super::words;
use tankday_base::units::Moment;

/// Pixels at full scale, squeezed, of the tank's lane, and of a panel's name.
const FULL: f64 = 190.0;
const SQUEEZED: f64 = 46.0;
const LANE: f64 = 22.0;
const NAME: f64 = 26.0;
const GAP: f64 = 12.0;
/// Columns beside the panels: values, and words for the limits.
const fn columns(width: Width) -> (f64, f64) {
    match width {
        Width::Phone => (34.0, 92.0),
        Width::Page | Width::Wide => (40.0, 96.0),
    }
}
/// Kelvin shown at full scale beyond the band.
const ABOVE: f64 = 2.0;
const BELOW: f64 = 4.0;

/// Draws the temperatures.
#[must_use]
pub fn temperature(view: &DayView, width: Width) -> Svg {
    let finding = words::of_baths(view);
    let heading = Heading::new("Temperature", &finding, view, width);
    let (left, right) = columns(width);
    let axis = ClockAxis::new(
        Clock::of(view),
        width.side() + left,
        width.px() - width.side() - right,
    );
    let top = heading.height() + Frame::room_above(Clock::of(view));
    let panels = panels(view, top);
    let bottom = panels.last().map_or(top + 20.0, Panel::bottom) + 8.0;
    let height = bottom + Frame::room_below(Clock::of(view)) + 8.0;
    let frame = Frame {
        clock: Clock::of(view),
        axis,
        top,
        bottom,
    };
    let alt = Alt {
        id: "temperature".to_owned(),
        title: "Temperature".to_owned(),
        finding: finding.clone(),
        desc: format!("Temperature of each tank through the day. {finding}"),
    };
    picture((width.pixels(), height.ceil() as u32), alt, &heading, |pen| {
        frame.breaks(pen);
        panels.iter().for_each(|p| p.ground(pen, &frame.axis));
        frame.grid(pen);
        frame.times(pen);
        frame.closing(pen);
        panels.iter().for_each(|p| p.draw(pen, &frame.axis));
    })
}

fn panels(view: &DayView, top: f64) -> Vec<Panel<'_>> {
    let mut y = top;
    view.tanks
        .iter()
        .map(|tank| {
            let panel = Panel {
                tank,
                top: y,
                scale: scale(tank, y + NAME),
            };
            y = panel.bottom() + GAP;
            panel
        })
        .collect()
}

fn scale(tank: &BathLine, top: f64) -> Scale {
    let values = || tank.temperatures.iter().map(|(_, t)| t.in_celsius());
    let (low, high) = (
        tank.band.least.in_celsius() - BELOW,
        tank.band.most.in_celsius() + ABOVE,
    );
    let least = values().fold(low, f64::min);
    Scale {
        top,
        height: FULL,
        high: values().fold(high, f64::max),
        low,
        squeezed: (least < low).then_some(((least / 10.0).floor() * 10.0, SQUEEZED)),
    }
}

/// One tank.
struct Panel<'v> {
    tank: &'v BathLine,
    top: f64,
    scale: Scale,
}

impl Panel<'_> {
    fn bottom(&self) -> f64 {
        self.scale.bottom() + GAP + LANE
    }

    /// The band.
    fn ground(&self, pen: &Pen<'_>, axis: &ClockAxis) {
        let band = self.tank.band;
        let (high, low) = (
            self.scale.place(band.most.in_celsius()),
            self.scale.place(band.least.in_celsius()),
        );
        for s in axis.stretches() {
            pen.rect((s.at.0, high), (s.at.1 - s.at.0, low - high), Token::Band);
        }
    }

    fn draw(&self, pen: &Pen<'_>, axis: &ClockAxis) {
        let (first, last) = axis.ends();
        let name = Type::label(Token::Ink).bold();
        let words = fitted(&self.tank.name, name.size, name.weight, last - first - 8.0);
        pen.plated(&words, (first + 6.0, self.top + 18.0), name, Token::Paper);
        self.limits(pen, axis);
        self.scale.axis(pen, first, &self.values());
        let curves = self.curves(axis);
        let thick = if crowded(axis) { 1.2 } else { 2.0 };
        for curve in &curves {
            pen.curve(curve, Token::Coat, thick);
        }
        self.top_ups(pen, axis);
        self.in_band(pen, axis, &curves);
        draw_tank(pen, axis, self.tank, self.scale.bottom() + GAP, LANE);
        if self.scale.squeezed.is_some() {
            let words = Type::note(Token::Ink2);
            let y = self.scale.bottom();
            pen.text("squeezed", (last + 8.0, y - 18.0), words);
            pen.text(
                &format!("below {:.0} °C", self.scale.low),
                (last + 8.0, y - 4.0),
                words,
            );
        }
    }

    /// Limits of the band across the panel, with their words at the right end.
    fn limits(&self, pen: &Pen<'_>, axis: &ClockAxis) {
        let band = self.tank.band;
        let limits = [("most", band.most), ("hold", band.hold), ("least", band.least)];
        let mut places = limits.map(|(_, t)| self.scale.place(t.in_celsius()));
        for ((name, _), y) in limits.iter().zip(places) {
            for s in axis.stretches() {
                let line = [(s.at.0, y), (s.at.1, y)];
                match *name {
                    "hold" => pen.dashed(&line, Token::Axis, 1.0, (4.0, 4.0)),
                    _ => pen.curve(&line, Token::Ok, 1.6),
                }
            }
        }
        apart(&mut places, ROOM);
        for ((name, t), y) in limits.iter().zip(places) {
            let text = format!("{name} {} °C", one_place(t.in_celsius()));
            pen.text(&text, (axis.ends().1 + 8.0, y + 4.5), Type::note(Token::Ink2));
        }
    }

    /// Values written at the left: the limits first, then what finds room between them.
    fn values(&self) -> Vec<f64> {
        let band = self.tank.band;
        let mut values = vec![band.least.in_celsius(), band.most.in_celsius()];
        let step = if self.scale.high - self.scale.low > 40.0 {
            10.0
        } else {
            4.0
        };
        let mut others = vec![band.hold.in_celsius(), self.scale.low];
        others.extend(round_between(self.scale.low, self.scale.high, step));
        if let Some((least, _)) = self.scale.squeezed {
            others.extend(round_between(least, self.scale.low - 1.0, 20.0));
        }
        for value in others {
            let y = self.scale.place(value);
            if values.iter().all(|v| (self.scale.place(*v) - y).abs() >= ROOM) {
                values.push(value);
            }
        }
        values
    }

    /// The temperatures in pixels, one curve or more for each stretch of the clock.
    fn curves(&self, axis: &ClockAxis) -> Vec<Vec<Point>> {
        let mut curves = Vec::new();
        for s in axis.stretches() {
            let points: Vec<Point> = within(&self.tank.temperatures, s.from, s.to)
                .into_iter()
                .map(|(at, t)| (axis.place(at), t))
                .collect();
            curves.extend(self.scale.curve(&thinned(&points)));
        }
        curves
    }

    /// Triangles at top-ups, with litres where there is room; where days are narrow, small ones, and the sum beside.
    fn top_ups(&self, pen: &Pen<'_>, axis: &ClockAxis) {
        let low = self.scale.place(self.tank.band.least.in_celsius());
        if crowded(axis) {
            return self.many_top_ups(pen, axis, low);
        }
        let words = Type::note(Token::Ink).anchored(Anchor::Middle);
        let (mut free, mut drawn) = (f64::NEG_INFINITY, f64::NEG_INFINITY);
        for (at, volume) in self.tank.top_ups.iter().filter(|(at, _)| axis.shows(*at)) {
            let (x, day) = (axis.place(*at), axis.day_of(*at));
            let (foot, tip) = (low + 13.0, low + 4.0);
            if x - drawn >= 6.0 {
                pen.shape(&[(x - 5.0, foot), (x + 5.0, foot), (x, tip)], Token::CareE);
                drawn = x;
            }
            let text = format!("+{:.1} L", volume.in_litres());
            let half = words.width(&text) / 2.0 + 2.0;
            if x - half > free.max(day.0) && x + half < day.1 {
                pen.plated(&text, (x, low + 26.0), words, Token::Paper);
                free = x + half + 4.0;
            }
        }
    }

    fn many_top_ups(&self, pen: &Pen<'_>, axis: &ClockAxis, low: f64) {
        let shown = self.tank.top_ups.iter().filter(|(at, _)| axis.shows(*at));
        let (mut count, mut litres) = (0, 0.0);
        for (at, volume) in shown {
            let x = axis.place(*at);
            let (foot, tip) = (low + 12.0, low + 6.0);
            pen.shape(&[(x - 2.0, foot), (x + 2.0, foot), (x, tip)], Token::CareE);
            (count, litres) = (count + 1, litres + volume.in_litres());
        }
        if count > 0 {
            let words = [
                words::count(count, "top-up,", "top-ups,"),
                format!("{litres:.0} L"),
            ];
            for (line, y) in words.iter().zip([19.5, 34.5]) {
                pen.text(line, (axis.ends().1 + 8.0, low + y), Type::note(Token::Ink2));
            }
        }
    }

    /// Rings where the band is reached, with the time where no curve lies below.
    fn in_band(&self, pen: &Pen<'_>, axis: &ClockAxis, curves: &[Vec<Point>]) {
        let low = self.scale.place(self.tank.band.least.in_celsius());
        let words = Type::note(Token::Ink).bold();
        let y = self.scale.bottom() - 12.0;
        for at in self.tank.in_band.iter().filter(|at| axis.shows(**at)) {
            let x = axis.place(*at);
            let (ring, hole) = if crowded(axis) { (3.0, 1.8) } else { (5.0, 3.0) };
            pen.disc((x, low), ring, Token::Coat);
            pen.disc((x, low), hole, Token::Paper);
            let text = format!("in band from {}", at.clock());
            let (from, to) = (x + 10.0, x + 10.0 + words.width(&text));
            let crosses =
                |p: &Point| (from - 4.0..to + 4.0).contains(&p.0) && (y - 16.0..y + 8.0).contains(&p.1);
            if to < axis.day_of(*at).1 && !curves.iter().flatten().any(crosses) {
                pen.plated(&text, (from, y), words, Token::Paper);
            }
        }
    }
}

/// Pixels of a day below which its marks are small.
const NARROW: f64 = 60.0;

/// Whether days are narrow.
fn crowded(axis: &ClockAxis) -> bool {
    axis.stretches().iter().any(|s| s.at.1 - s.at.0 < NARROW)
}

fn one_place(value: f64) -> String {
    let text = format!("{value:.1}");
    text.trim_end_matches(".0").to_owned()
}

fn round_between(low: f64, high: f64, step: f64) -> impl Iterator<Item = f64> {
    let first = (low / step).ceil() as i32;
    let last = (high / step).floor() as i32;
    (first..=last).map(move |k| f64::from(k) * step)
}

/// Readings between two moments, with those at the moments themselves put in between.
fn within(
    all: &[(Moment, tankday_base::units::Temperature)],
    from: Moment,
    to: Moment,
) -> Vec<(Moment, f64)> {
    let mut found: Vec<(Moment, f64)> = Vec::new();
    for pair in all.windows(2) {
        let &[(a, ta), (b, tb)] = pair else { continue };
        if b < from || a > to {
            continue;
        }
        let (ta, tb) = (ta.in_celsius(), tb.in_celsius());
        let at = |m: Moment| {
            let share = (m - a).in_seconds() / (b - a).in_seconds().max(1e-9);
            (m, ta + share.clamp(0.0, 1.0) * (tb - ta))
        };
        if found.is_empty() {
            found.push(if a < from { at(from) } else { (a, ta) });
        }
        found.push(if b > to { at(to) } else { (b, tb) });
    }
    found
}

/// At most four points for each pixel: first, lowest, highest and last.
fn thinned(points: &[Point]) -> Vec<Point> {
    let mut thin: Vec<Point> = Vec::new();
    for column in points.chunk_by(|a, b| a.0.floor() == b.0.floor()) {
        if column.len() <= 4 {
            thin.extend_from_slice(column);
            continue;
        }
        let extreme = |sign: f64| {
            (0..column.len()).max_by(|a, b| {
                let v = |i: &usize| column.get(*i).map_or(f64::NEG_INFINITY, |p| sign * p.1);
                v(a).total_cmp(&v(b))
            })
        };
        let mut kept = vec![0, column.len() - 1];
        kept.extend(extreme(1.0));
        kept.extend(extreme(-1.0));
        kept.sort_unstable();
        kept.dedup();
        thin.extend(kept.iter().filter_map(|i| column.get(*i)));
    }
    thin
}
