//! Pieces and surface finished against the clock, and what was promised.

use super::clock_axis::{Clock, ClockAxis};
use super::frame::{Frame, Width};
use super::hatch::Point;
use super::heading::{Heading, MOST_SHOWN};
use super::pen::{Pen, Type, picture};
use super::scale::{Scale, apart, column, round_values};
use super::svg::{Alt, Svg};
use super::theme::Token;
use super::view::DayView;
use super::words;
use tankday_base::units::Moment;
use tankday_record::Finished;

const PANEL: f64 = 150.0;
const NAME: f64 = 28.0;
const GAP: f64 = 14.0;
/// Columns beside the panels: values, and words at the ends of the curves.
const fn columns(width: Width) -> (f64, f64) {
    match width {
        Width::Phone => (46.0, 72.0),
        Width::Page | Width::Wide => (46.0, 118.0),
    }
}

/// Draws finished and promised work.
#[must_use]
pub fn output(view: &DayView, width: Width) -> Svg {
    let finding = words::of_output(view);
    let heading = Heading::of_days("Output against the clock", &finding, view, width);
    let clock = Clock::of(view);
    let top = heading.height() + Frame::room_above(clock);
    let panels = panels(view, top, width);
    let (least, right) = columns(width);
    let left = panels.iter().map(|p| column(&p.values)).fold(least, f64::max);
    let axis = ClockAxis::new(clock, width.side() + left, width.px() - width.side() - right);
    let bottom = panels[1].scale.bottom();
    let height = bottom + Frame::room_below(clock) + 8.0;
    let frame = Frame {
        clock,
        axis,
        top,
        bottom,
    };
    let alt = Alt {
        id: "output".to_owned(),
        title: "Output against the clock".to_owned(),
        finding: finding.clone(),
        desc: format!("Pieces and area finished against the clock, with what was due. {finding}"),
    };
    picture((width.pixels(), height.ceil() as u32), alt, &heading, |pen| {
        frame.breaks(pen);
        frame.grid(pen);
        frame.times(pen);
        frame.closing(pen);
        panels.iter().for_each(|p| p.draw(pen, &frame.axis));
    })
}

/// Sums from each moment on.
type Sums = Vec<(Moment, f64)>;

/// One measure of output.
struct Panel {
    name: &'static str,
    done: Sums,
    promised: Sums,
    /// The same as done on every day reckoned.
    days: Vec<Sums>,
    values: Vec<f64>,
    scale: Scale,
    written: fn(f64) -> String,
    /// What says that promised is the dashed line, where there is room for it.
    dashed: &'static str,
}

fn panels(view: &DayView, top: f64, width: Width) -> [Panel; 2] {
    let out = &view.output;
    let pieces = |all: &[Finished]| -> Sums { all.iter().map(|f| (f.at, f.pieces as f64)).collect() };
    let areas = |all: &[Finished]| -> Sums {
        all.iter()
            .map(|f| (f.at, f.area.in_square_decimetres()))
            .collect()
    };
    let panel = |name, [done, promised]: [Sums; 2], days: Vec<Sums>, all: f64, whole, top, written| {
        let every = done.iter().chain(&promised).chain(days.iter().flatten());
        let most = every.map(|p| p.1).fold(all, f64::max);
        let values = round_values(most, 5, whole);
        let high = values.last().copied().unwrap_or(1.0);
        let scale = Scale {
            top,
            height: PANEL,
            high,
            low: 0.0,
            squeezed: None,
        };
        Panel {
            name,
            done,
            promised,
            days,
            values,
            scale,
            written,
            dashed: if width == Width::Phone { "" } else { " (dashed)" },
        }
    };
    let many = out.days.len();
    let days = if (2..=MOST_SHOWN).contains(&many) {
        out.days.as_slice()
    } else {
        &[]
    };
    let first = top + NAME;
    let second = first + PANEL + GAP + NAME;
    [
        panel(
            "pieces",
            [pieces(&out.done), pieces(&out.promised)],
            days.iter().map(|d| pieces(d)).collect(),
            out.pieces as f64,
            true,
            first,
            |n| words::thousands(n.round() as u64),
        ),
        panel(
            "area, dm²",
            [areas(&out.done), areas(&out.promised)],
            days.iter().map(|d| areas(d)).collect(),
            out.area.in_square_decimetres(),
            false,
            second,
            words::surface,
        ),
    ]
}

impl Panel {
    fn draw(&self, pen: &Pen<'_>, axis: &ClockAxis) {
        let (first, last) = axis.ends();
        let name = Type::label(Token::Ink).bold();
        pen.plated(self.name, (first + 6.0, self.scale.top - 8.0), name, Token::Paper);
        pen.line(
            (first, self.scale.bottom()),
            (last, self.scale.bottom()),
            Token::Axis,
            1.0,
        );
        self.scale.axis(pen, first, &self.values);
        let pale = (18.0 / self.days.len().max(1) as f64).clamp(0.03, 0.4);
        for day in &self.days {
            pen.faint(&hair(&self.steps(day, axis)), Token::Axis, 1.0, pale);
        }
        let done = self.steps(&self.done, axis);
        let promised = self.steps(&self.promised, axis);
        pen.curve(&done, Token::Paper, 6.0);
        pen.curve(&done, Token::Coat, 3.0);
        if !self.promised.is_empty() {
            pen.dashed(&promised, Token::Ink, 2.5, (7.0, 4.0));
        }
        self.ends(pen, last, &done, &promised);
    }

    /// A curve of steps; one that would add nothing to see to the step before it is left out.
    fn steps(&self, sums: &Sums, axis: &ClockAxis) -> Vec<Point> {
        let (first, last) = axis.ends();
        let end = axis.stretches().last().map_or(Moment::ZERO, |s| s.to);
        let mut y = self.scale.place(0.0);
        let mut curve = vec![(first, y)];
        for (at, sum) in sums.iter().filter(|(at, _)| *at <= end) {
            let x = axis.place(*at);
            let next = self.scale.place(*sum);
            if (y - next).abs() >= 0.1 {
                curve.push((x, y));
                curve.push((x, next));
                y = next;
            }
        }
        curve.push((last, y));
        curve
    }

    /// Words at the right end of each curve, the higher one first.
    fn ends(&self, pen: &Pen<'_>, x: f64, done: &[Point], promised: &[Point]) {
        let end = |curve: &[Point]| curve.last().map_or(self.scale.bottom(), |p| p.1);
        let sum = |sums: &Sums, y: f64| {
            let reached = sums
                .iter()
                .rev()
                .find(|s| (self.scale.place(s.1) - y).abs() < 0.1);
            (self.written)(reached.map_or(0.0, |s| s.1))
        };
        let mut words = vec![(end(done), "finished", sum(&self.done, end(done)), Token::Coat)];
        if !self.promised.is_empty() {
            words.push((
                end(promised),
                "due",
                format!("{}{}", sum(&self.promised, end(promised)), self.dashed),
                Token::Ink,
            ));
        }
        words.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut places: Vec<f64> = words.iter().map(|w| w.0).collect();
        apart(&mut places, 30.0);
        // Words that would hang below the panel are lifted, all of them alike.
        let low = places
            .last()
            .map_or(0.0, |last| (last - self.scale.bottom() + 16.0).max(0.0));
        places.iter_mut().for_each(|place| *place -= low);
        for ((_, name, sum, colour), y) in words.into_iter().zip(places) {
            pen.text(name, (x + 8.0, y + 4.5), Type::note(colour).bold());
            pen.text(&sum, (x + 8.0, y + 18.5), Type::note(colour));
        }
    }
}

/// The curve of one day among many: in whole pixels, and if it has very many steps only every so often one of them.
fn hair(curve: &[Point]) -> Vec<Point> {
    const MOST_STEPS: usize = 40;
    let each = (curve.len() / 2).div_ceil(MOST_STEPS).max(1);
    let mut hair: Vec<Point> = Vec::new();
    let mut level = curve.first().map_or(0.0, |p| p.1.round());
    for (i, (x, y)) in curve.iter().map(|p| (p.0.round(), p.1.round())).enumerate() {
        let last = i + 1 == curve.len();
        if i == 0 || last || (i % 2 == 0 && (i / 2) % each == 0) {
            hair.extend([(x, level), (x, y)]);
            level = y;
        }
    }
    hair.dedup();
    hair
}
