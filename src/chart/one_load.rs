//! Coat and gas of one load against the time that it is in the bath.

use super::frame::Width;
use super::hatch::Point;
use super::heading::Heading;
use super::level::Level;
use super::pen::{Anchor, Pen, Type, picture};
use super::scale::{Scale, apart, column};
use super::svg::{Alt, Svg};
use super::theme::Token;
use tankday_base::print::number;
use tankday_record::one_load::{Course, Look};

const PANEL: f64 = 180.0;
/// Above the panel for its name, and below it for the minutes.
const NAME: f64 = 26.0;
const FOOT: f64 = 44.0;
/// The column of words at the ends of the curves.
const WORDS: f64 = 78.0;
/// Pixels from line to line of two words.
const ROOM: f64 = 17.0;
/// Values up the side, in per cent.
const VALUES: [f64; 5] = [0.0, 25.0, 50.0, 75.0, 100.0];

/// Draws how the coat grows and the fizzing fades; none where a load is looked at only once.
#[must_use]
pub fn one_load(course: &Course, place: &str, width: Width) -> Option<Svg> {
    let last = course.out().filter(|_| course.looks.len() > 1)?;
    let finding = format!(
        "After {} min the coat stands at {} % of its target, and the fizzing is down to {} % of what it was.",
        number(last.after.in_minutes(), 1),
        number(last.coat.in_percent(), 0),
        number(last.gas.in_percent(), 0)
    );
    let heading = Heading::plain("Coat and fizzing", &finding, place, width);
    let top = heading.height() + NAME;
    let scale = Scale {
        top,
        height: PANEL,
        high: VALUES[4],
        low: 0.0,
        squeezed: None,
    };
    let left = width.side() + column(&VALUES);
    let right = width.px() - width.side() - WORDS;
    let minutes = course.looks.iter().map(|l| l.after.in_minutes());
    let plot = Plot {
        course,
        scale,
        axis: Level::new(minutes, left, right),
    };
    let alt = Alt {
        id: "one-load".to_owned(),
        title: "Coat and fizzing".to_owned(),
        finding: finding.clone(),
        desc: format!("Coat and gas of one load against the minutes in the bath. {finding}"),
    };
    let height = (top + PANEL + FOOT).ceil() as u32;
    Some(picture((width.pixels(), height), alt, &heading, |pen| {
        plot.draw(pen)
    }))
}

struct Plot<'a> {
    course: &'a Course,
    scale: Scale,
    axis: Level,
}

impl Plot<'_> {
    fn draw(&self, pen: &Pen<'_>) {
        let (top, bottom) = (self.scale.top, self.scale.bottom());
        let name = Type::label(Token::Ink).bold();
        pen.text(
            "per cent, against minutes in the bath",
            (self.axis.left, top - 10.0),
            name,
        );
        self.axis.draw(pen, top, bottom);
        self.scale.axis(pen, self.axis.left, &VALUES);
        let coat = self.curve(|l| l.coat.in_percent());
        let gas = self.curve(|l| l.gas.in_percent());
        pen.curve(&coat, Token::Paper, 6.0);
        pen.curve(&coat, Token::Coat, 3.0);
        pen.dashed(&gas, Token::Ink, 2.5, (7.0, 4.0));
        self.ends(pen, &coat, &gas);
        let minutes = Type::note(Token::Ink2).anchored(Anchor::End);
        pen.text("min", (self.axis.right, bottom + 34.0), minutes);
    }

    fn curve(&self, of: impl Fn(&Look) -> f64) -> Vec<Point> {
        let place = |l: &Look| (self.axis.place(l.after.in_minutes()), self.scale.place(of(l)));
        self.course.looks.iter().map(place).collect()
    }

    /// Words at the right end of each curve, the higher one first.
    fn ends(&self, pen: &Pen<'_>, coat: &[Point], gas: &[Point]) {
        let end = |curve: &[Point]| curve.last().map_or(self.scale.bottom(), |p| p.1);
        let mut words = [
            (end(coat), "coat", Token::Coat),
            (end(gas), "fizzing", Token::Ink),
        ];
        words.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut places: Vec<f64> = words.iter().map(|w| w.0).collect();
        apart(&mut places, ROOM);
        for ((_, name, colour), y) in words.into_iter().zip(places) {
            pen.text(name, (self.axis.right + 8.0, y + 4.5), Type::note(colour).bold());
        }
    }
}
