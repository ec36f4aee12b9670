//! How the baths wear: strength, ratio, iron and sludge against the surface coated, with limits and care.

use super::frame::Width;
use super::heading::Heading;
use super::level::Level;
use super::pen::{Anchor, Pen, Type, picture};
use super::svg::{Alt, Svg};
use super::theme::Token;
use super::view::{DayView, WearLine};
use super::width::{Weight, fitted, wrapped};
use tankday_base::print::number;
use tankday_record::CareKind;

/// Pixels of a panel's curve, of its words above, and between panels.
const PANEL: f64 = 62.0;
const WORDS: f64 = 24.0;
const GAP: f64 = 12.0;
/// The column of written values.
const LEFT: f64 = 40.0;
/// Boxes of care: their height, and the room of their row.
const BOX: f64 = 16.0;
const ROWS: usize = 4;

/// Draws the wear of every bath that wears; none if there is none.
#[must_use]
pub fn wear(view: &DayView, width: Width) -> Option<Svg> {
    if view.wear.is_empty() {
        return None;
    }
    let finding: Vec<String> = view.wear.iter().map(|l| words(l, view.wear.len() > 1)).collect();
    let finding = finding.join(" ");
    let heading = Heading::new("Wear of the bath", &finding, view, width);
    let top = heading.height();
    let mut height = top;
    let mut sheets = Vec::new();
    for line in &view.wear {
        let sheet = Sheet::new(line, height, width);
        height += sheet.height();
        sheets.push(sheet);
    }
    let alt = Alt {
        id: "bath-wear".to_owned(),
        title: "Wear of the bath".to_owned(),
        finding: finding.clone(),
        desc: format!(
            "Total acid, acid ratio, iron and sludge of each bath against the area coated. {finding}"
        ),
    };
    Some(picture(
        (width.pixels(), height.ceil() as u32),
        alt,
        &heading,
        |pen| {
            sheets.iter().for_each(|sheet| sheet.draw(pen));
        },
    ))
}

/// The finding: where each reading stands, and how far the bath goes.
fn words(line: &WearLine, named: bool) -> String {
    let last = line.points.last().map_or([0.0; 4], |p| p.readings);
    let name = if named {
        format!("{}: ", line.name)
    } else {
        String::new()
    };
    let goes_on = match line.goes_on {
        Some((area, what)) if area > 0.0 => {
            format!(
                "It is good for about {} m² more of such work, then {what}.",
                number(area, 1)
            )
        }
        Some((_, what)) => format!("It stands at a limit: {what}."),
        None => "No limit is in sight.".to_owned(),
    };
    format!(
        "{name}Strength {} points, ratio {}, iron {} g/L, sludge {} % of the volume, counted at full level. {goes_on}",
        number(last[0], 1),
        number(last[1], 2),
        number(last[2], 2),
        number(last[3], 2),
    )
}

/// The panels of one bath.
struct Sheet<'v> {
    line: &'v WearLine,
    top: f64,
    axis: Level,
    width: Width,
}

impl<'v> Sheet<'v> {
    fn new(line: &'v WearLine, top: f64, width: Width) -> Self {
        let (left, right) = (width.side() + LEFT, width.px() - width.side() - 14.0);
        let areas = line.points.iter().map(|p| p.area).chain([0.0]);
        Self {
            line,
            top,
            axis: Level::new(areas, left, right),
            width,
        }
    }

    fn height(&self) -> f64 {
        let rows = self.boxes().iter().map(|(row, ..)| row + 1).max().unwrap_or(0);
        let foot = 24.0 + 16.0 * self.foot_words().len() as f64;
        WORDS + (PANEL + self.words() + GAP) * 4.0 + (BOX + 2.0) * rows as f64 + foot
    }

    /// Care as boxed letters: row, pixel, letter. What finds no row is left out.
    fn boxes(&self) -> Vec<(usize, f64, &'static str)> {
        let mut ends = [f64::NEG_INFINITY; ROWS];
        let mut boxes = Vec::new();
        for (area, kind) in &self.line.care {
            let x = self.axis.place(*area);
            if let Some(row) = ends.iter().position(|end| x - BOX / 2.0 > *end + 2.0) {
                ends[row] = x + BOX / 2.0;
                boxes.push((row, x, letter(*kind)));
            }
        }
        boxes
    }

    fn draw(&self, pen: &Pen<'_>) {
        let (how, side) = (Type::label(Token::Ink).bold(), self.width.side());
        let room = self.width.px() - 2.0 * side;
        let name = fitted(&self.line.name, how.size, how.weight, room);
        pen.text(&name, (side, self.top + 16.0), how);
        let mut y = self.top + WORDS;
        for reading in 0..4 {
            self.panel(pen, reading, y);
            y += self.words() + PANEL + GAP;
        }
        self.foot(pen, y - GAP);
    }

    fn panel(&self, pen: &Pen<'_>, reading: usize, top: f64) {
        let (name, unit) = WearLine::NAMES[reading];
        let values = || self.line.points.iter().map(move |p| p.readings[reading]);
        let limits = self.line.limits[reading];
        let plot = top + self.words();
        let scale = Level::new(values().chain(shown(limits, values())), plot + PANEL, plot);
        let now = values()
            .next_back()
            .map_or(String::new(), |v| format!("now {} {unit}", number(v, 2)));
        self.told(pen, (name, now.trim_end()), &limit_words(limits), top);
        let top = top + self.words() - WORDS;
        let (bottom, left) = (top + WORDS + PANEL, self.axis.left);
        pen.line((left, top + WORDS), (left, bottom), Token::Axis, 1.0);
        pen.line((left, bottom), (self.axis.right, bottom), Token::Axis, 1.0);
        for (value, text) in scale.written() {
            let y = scale.place(value);
            pen.line((left - 4.0, y), (left, y), Token::Axis, 1.0);
            pen.text(
                &text,
                (left - 7.0, (y + 4.0).min(bottom)),
                Type::note(Token::Ink2).anchored(Anchor::End),
            );
        }
        for day in &self.line.days {
            let x = self.axis.place(*day);
            pen.line((x, top + WORDS), (x, bottom), Token::Grid, 1.0);
        }
        self.limits(pen, &scale, limits);
        for (area, _) in &self.line.care {
            let x = self.axis.place(*area);
            pen.dashed(&[(x, top + WORDS), (x, bottom)], Token::CareE, 1.0, (2.0, 2.0));
        }
        let curve: Vec<(f64, f64)> = self
            .line
            .points
            .iter()
            .map(|p| (self.axis.place(p.area), scale.place(p.readings[reading])))
            .collect();
        pen.curve(&curve, Token::Coat, 2.0);
        if let Some(last) = curve.last() {
            pen.disc(*last, 4.0, Token::Coat);
            pen.disc(*last, 2.2, Token::Paper);
        }
    }

    /// Pixels above a curve for its name, the value now and the limits; on a phone these have a line of their own.
    fn words(&self) -> f64 {
        match self.width {
            Width::Phone => WORDS + 16.0,
            Width::Page | Width::Wide => WORDS,
        }
    }

    fn told(&self, pen: &Pen<'_>, (name, now): (&str, &str), limits: &str, top: f64) {
        let (bold, side) = (Type::label(Token::Ink).bold(), self.width.side());
        pen.text(name, (side, top + 14.0), bold);
        let x = side + bold.width(name) + 10.0;
        pen.text(now, (x, top + 14.0), Type::label(Token::Ink));
        let how = Type::note(Token::Ink2);
        match self.width {
            Width::Phone => pen.text(limits, (side, top + 30.0), how),
            Width::Page | Width::Wide => {
                let right = (self.axis.right, top + 14.0);
                pen.text(limits, right, how.anchored(Anchor::End));
            }
        }
    }

    /// Limits inside the panel, with strokes towards the forbidden side.
    fn limits(&self, pen: &Pen<'_>, scale: &Level, limits: [f64; 4]) {
        for (i, limit) in limits.into_iter().enumerate() {
            if limit <= 0.0 || !scale.holds(limit) {
                continue;
            }
            let y = scale.place(limit);
            let (stop, below) = (i == 0 || i == 3, i < 2);
            let (colour, line) = if stop {
                (Token::Late, 1.6)
            } else {
                (Token::Ink2, 1.0)
            };
            if stop {
                pen.line((self.axis.left, y), (self.axis.right, y), colour, line);
            } else {
                pen.dashed(
                    &[(self.axis.left, y), (self.axis.right, y)],
                    colour,
                    line,
                    (5.0, 3.0),
                );
            }
            let mut x = self.axis.left + 4.0;
            while x < self.axis.right - 6.0 {
                let tip = if below { y + 5.0 } else { y - 5.0 };
                pen.line((x, y), (x + 4.0, tip), colour, 1.0);
                x += 16.0;
            }
        }
    }

    /// The surface, boxed letters for care, and what they mean.
    fn foot(&self, pen: &Pen<'_>, y: f64) {
        for (value, text) in self.axis.written() {
            let x = self.axis.place(value);
            pen.text(
                &text,
                (x, y + 14.0),
                Type::note(Token::Ink2).anchored(Anchor::Middle),
            );
        }
        let boxes = self.boxes();
        for (row, x, letter) in &boxes {
            boxed(pen, (*x, y + 20.0 + (BOX + 2.0) * *row as f64), letter);
        }
        let rows = boxes.iter().map(|(row, ..)| row + 1).max().unwrap_or(0) as f64;
        for (i, line) in self.foot_words().iter().enumerate() {
            let y = y + 34.0 + (BOX + 2.0) * rows + 16.0 * i as f64;
            pen.text(line, (self.width.side(), y), Type::note(Token::Ink2));
        }
    }

    fn foot_words(&self) -> Vec<String> {
        let days = if self.line.days.is_empty() {
            ""
        } else {
            "; upright lines: the next day"
        };
        let told = format!("m² coated in this run{days}. {}", meanings(&self.line.care));
        let room = self.width.px() - 2.0 * self.width.side();
        wrapped(told.trim_end(), 12.0, Weight::Regular, room)
    }
}

/// The limits that a panel shows: those that some value comes near to, by the spread of the values and the limits on
/// either side.
fn shown(limits: [f64; 4], values: impl Iterator<Item = f64>) -> Vec<f64> {
    let (low, high) = values.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), v| {
        (l.min(v), h.max(v))
    });
    let room = limits[3] - limits[0];
    // Nothing is no limit from below.
    let near = |limit: &f64| *limit >= low - 0.4 * room && *limit <= high + 0.4 * room;
    limits.into_iter().filter(near).collect()
}

fn limit_words([stop_low, warn_low, warn_high, stop_high]: [f64; 4]) -> String {
    let short = |value: f64| number(value, 1).trim_end_matches(".0").to_owned();
    let range = |low: f64, high: f64| match low {
        low if low > 0.0 => format!("outside {} to {}", short(low), short(high)),
        _ => format!("above {}", short(high)),
    };
    format!(
        "watch {}, stop {}",
        range(warn_low, warn_high),
        range(stop_low, stop_high)
    )
}

fn letter(kind: CareKind) -> &'static str {
    match kind {
        CareKind::Replenish => "R",
        CareKind::RaiseRatio | CareKind::LowerRatio => "A",
        CareKind::Condition => "W",
        CareKind::Filter => "F",
        CareKind::Settle => "S",
        CareKind::RenewHalf => "H",
        CareKind::Renew => "N",
        CareKind::Exchange => "X",
    }
}

fn meanings(care: &[(f64, CareKind)]) -> String {
    let all = [
        ("R", "replenish"),
        ("A", "trim the acid ratio"),
        ("W", "steel wool"),
        ("F", "filter"),
        ("S", "settle"),
        ("H", "half anew"),
        ("N", "all anew"),
        ("X", "exchange with the vessel"),
    ];
    let used = all
        .iter()
        .filter(|(l, _)| care.iter().any(|(_, k)| letter(*k) == *l));
    let words: Vec<String> = used.map(|(l, what)| format!("{l} {what}")).collect();
    if words.is_empty() {
        String::new()
    } else {
        format!("{}.", words.join(", "))
    }
}

fn boxed(pen: &Pen<'_>, (x, y): (f64, f64), letter: &str) {
    let half = BOX / 2.0;
    let corners = [
        (x - half, y),
        (x + half, y),
        (x + half, y + BOX),
        (x - half, y + BOX),
    ];
    pen.shape(&corners, Token::Paper);
    pen.outline(&corners, Token::CareE, 1.3);
    pen.text(
        letter,
        (x, y + 12.5),
        Type::note(Token::Ink).bold().anchored(Anchor::Middle),
    );
}
