//! Promises in rows, one for each order.

use super::clock_axis::ClockAxis;
use super::frame::Width;
use super::pen::{Anchor, Pen, Type};
use super::promises::usual;
use super::signs::{RADIUS, colour, pointer, sign};
use super::spread::{dots, hairs, heap};
use super::theme::Token;
use super::view::PromiseLine;
use super::width::fitted;
use tankday_base::print::Replication;
use tankday_base::units::Moment;
use tankday_study::Sure;

/// How much room a row has.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    /// Dots, hairs, two pointers, all words.
    Roomy,
    /// Hairs, two pointers, name and chance.
    Close,
    /// A bar from usual to nine in ten; names of those that are not safe.
    Thin,
}

/// All rows.
pub(super) struct Lines<'v> {
    lines: Vec<&'v PromiseLine>,
    axis: ClockAxis,
    kind: Kind,
    width: Width,
    top: f64,
}

impl<'v> Lines<'v> {
    pub(super) fn new(
        lines: &[&'v PromiseLine],
        axis: &ClockAxis,
        kind: Kind,
        width: Width,
        top: f64,
    ) -> Self {
        Self {
            lines: lines.to_vec(),
            axis: axis.clone(),
            kind,
            width,
            top,
        }
    }

    /// From one row to the next.
    const fn each(&self) -> f64 {
        match (self.kind, self.width) {
            (Kind::Roomy, Width::Phone) => 91.0,
            (Kind::Roomy, _) => 58.0,
            (Kind::Close, _) => 22.0,
            (Kind::Thin, _) => 10.0,
        }
    }

    pub(super) fn height(&self) -> f64 {
        self.each() * self.lines.len() as f64
    }

    /// How to read the rows.
    pub(super) fn reading(&self, of: Option<Replication>) -> String {
        let Some(each) = of else {
            return "Mark: ready; upright line: due.".to_owned();
        };
        let (one, many) = (each.one(), each.many());
        let triangles = format!(
            "filled triangle: half of the {many} are ready by then, open: nine in ten; upright line: due."
        );
        match self.kind {
            Kind::Roomy => {
                format!("Each dot is one {one} in twenty, each hair below the line one {one}; {triangles}")
            }
            Kind::Close => format!("Each hair is one {one}; {triangles}"),
            Kind::Thin => format!(
                "Bars from the time by which it is ready on half of the {many} to that of nine in ten; upright line: due."
            ),
        }
    }

    /// Orders that are late or tight and find no room for a name.
    pub(super) fn nameless(&self) -> usize {
        let wanted = self.lines.iter().filter(|l| l.sure < Sure::Safe).count();
        if self.kind == Kind::Thin {
            wanted - self.named().len()
        } else {
            0
        }
    }

    pub(super) fn draw(&self, pen: &Pen<'_>) {
        for (i, line) in self.lines.iter().enumerate() {
            let y = self.top + self.each() * i as f64;
            match self.kind {
                Kind::Roomy => self.roomy(pen, line, y),
                Kind::Close => self.close(pen, line, y),
                Kind::Thin => self.thin(pen, line, y),
            }
        }
        if self.kind == Kind::Thin {
            for (line, y) in self.named() {
                self.thin_name(pen, line, y);
            }
        }
    }

    fn places(&self, line: &PromiseLine) -> Vec<f64> {
        let ready = line.ready.iter().flatten();
        ready.map(|at| self.axis.place(*at)).collect()
    }

    fn roomy(&self, pen: &Pen<'_>, line: &PromiseLine, top: f64) {
        let phone = self.width == Width::Phone;
        self.roomy_words(pen, line, top);
        let y = if phone { top + 69.0 } else { top + 38.0 };
        let (a, b) = self.axis.ends();
        pen.line((a, y), (b, y), Token::Axis, 1.0);
        let places = self.places(line);
        if line.ready.len() > 1 {
            hairs(pen, &places, y + 1.0, 7.0);
            heap(pen, &dots(&places), y - 4.0, 20.0);
            self.pointers(pen, line, y + 9.0);
        } else if let Some(x) = places.first() {
            sign(pen, (*x, y - 7.0), line.sure);
        }
        self.flag(pen, line.due, (y - 26.0, y + 8.0));
    }

    fn roomy_words(&self, pen: &Pen<'_>, line: &PromiseLine, top: f64) {
        let (id, part) = (Type::label(Token::Ink).bold(), Type::note(Token::Ink2));
        let (chance, told) = (chance(line), told(line));
        let says = Type::label(colour(line.sure)).bold();
        let (side, edge) = (self.width.side(), self.width.px() - self.width.side());
        if self.width == Width::Phone {
            let mark = edge - says.width(&chance) - 9.0;
            let name = fitted(&line.id, id.size, id.weight, (mark - side) * 0.6);
            pen.text(&name, (side, top + 13.0), id);
            let x = side + id.width(&name) + 7.0;
            let room = mark - RADIUS - 8.0 - x;
            let words = fitted(&line.part, part.size, part.weight, room);
            if room > 30.0 {
                pen.text(&words, (x, top + 13.0), part);
            }
            sign(pen, (mark, top + 8.5), line.sure);
            let end = Anchor::End;
            pen.plated(&chance, (edge, top + 13.0), says.anchored(end), Token::Paper);
            pen.plated(&told, (edge, top + 28.0), part.anchored(end), Token::Paper);
            return;
        }
        let (a, b) = self.axis.ends();
        let room = a - side - 14.0;
        pen.text(
            &fitted(&line.id, id.size, id.weight, room),
            (side, top + 30.0),
            id,
        );
        let words = fitted(&line.part, part.size, part.weight, room);
        pen.text(&words, (side, top + 46.0), part);
        let x = b + 16.0;
        sign(pen, (x + RADIUS, top + 25.5), line.sure);
        let room = edge - x;
        let chance = fitted(&chance, says.size, says.weight, room - 15.0);
        pen.text(&chance, (x + 15.0, top + 30.0), says);
        pen.text(
            &fitted(&told, part.size, part.weight, room),
            (x, top + 46.0),
            part,
        );
    }

    fn pointers(&self, pen: &Pen<'_>, line: &PromiseLine, y: f64) {
        for (at, filled) in [(line.chance.nine_in_ten, false), (line.chance.usual, true)] {
            if let Some(at) = at {
                pointer(pen, (self.axis.place(at), y), filled);
            }
        }
    }

    /// The promised time: a line with the time written at its top, on the side where there is room.
    fn flag(&self, pen: &Pen<'_>, due: Option<Moment>, (top, foot): (f64, f64)) {
        let Some(due) = due else { return };
        let x = self.axis.place(due);
        if self.axis.shows(due) {
            pen.line((x, top), (x, foot), Token::Ink, 2.5);
        } else {
            beyond(pen, (x, top + 3.0));
        }
        let how = Type::note(Token::Ink);
        let words = due.clock();
        let right = x + 6.0 + how.width(&words);
        let place = if right <= self.axis.ends().1 + 8.0 {
            (x + 5.0, top + 2.0)
        } else {
            (x - 5.0 - how.width(&words), top + 2.0)
        };
        pen.plated(&words, place, how, Token::Paper);
    }

    fn close(&self, pen: &Pen<'_>, line: &PromiseLine, top: f64) {
        let (side, edge) = (self.width.side(), self.width.px() - self.width.side());
        let (a, b) = self.axis.ends();
        let how = Type::note(Token::Ink).bold();
        let name = fitted(&line.id, how.size, how.weight, a - side - 10.0);
        pen.text(&name, (side, top + 15.0), how);
        pen.line((a, top + 11.0), (b, top + 11.0), Token::Grid, 1.0);
        let places = self.places(line);
        if line.ready.len() > 1 {
            hairs(pen, &places, top + 3.0, 8.0);
            self.pointers(pen, line, top + 12.0);
        } else if let Some(x) = places.first() {
            sign(pen, (*x, top + 11.0), line.sure);
        }
        if let Some(due) = line.due {
            let x = self.axis.place(due);
            if self.axis.shows(due) {
                pen.line((x, top + 1.0), (x, top + 20.0), Token::Ink, 2.5);
            } else {
                beyond(pen, (x, top + 11.0));
            }
        }
        let says = Type::note(colour(line.sure));
        let room = edge - b - 31.0;
        sign(pen, (b + 14.0 + RADIUS, top + 10.5), line.sure);
        let words = if self.width == Width::Phone {
            chance(line)
                .trim_end_matches(&format!(" {}", line.each.many()))
                .to_owned()
        } else {
            chance(line)
        };
        let words = fitted(&words, says.size, says.weight, room);
        pen.text(&words, (b + 29.0, top + 15.0), says);
    }

    fn thin(&self, pen: &Pen<'_>, line: &PromiseLine, top: f64) {
        bar(pen, &self.axis, line, (top + 2.0, 6.0));
    }

    /// Late and tight orders that find room for their name, the later ones first.
    fn named(&self) -> Vec<(&'v PromiseLine, f64)> {
        let mut wanted: Vec<(usize, &PromiseLine)> = self.lines.iter().copied().enumerate().collect();
        wanted.retain(|(_, l)| l.sure < Sure::Safe);
        wanted.sort_by_key(|(i, l)| (l.sure, *i));
        let mut taken: Vec<f64> = Vec::new();
        let mut named = Vec::new();
        for (i, line) in wanted {
            let y = self.top + self.each() * i as f64 + 9.0;
            if taken.iter().all(|t| (t - y).abs() >= 14.0) {
                taken.push(y);
                named.push((line, y));
            }
        }
        named
    }

    fn thin_name(&self, pen: &Pen<'_>, line: &PromiseLine, y: f64) {
        let (a, b) = self.axis.ends();
        let side = self.width.side();
        let how = Type::note(colour(line.sure)).bold();
        sign(pen, (side + RADIUS, y - 4.0), line.sure);
        let name = fitted(&line.id, how.size, how.weight, a - side - 20.0);
        pen.text(&name, (side + 14.0, y), how);
        if self.width != Width::Phone {
            let says = Type::note(colour(line.sure));
            let room = self.width.px() - side - b - 26.0;
            let words = fitted(&chance(line), says.size, says.weight, room);
            pen.text(&words, (b + 26.0, y), says);
        }
    }
}

/// A small triangle that points on: promised for a time after the hours drawn.
fn beyond(pen: &Pen<'_>, (x, y): (f64, f64)) {
    pen.shape(
        &[(x - 1.0, y - 4.5), (x + 6.0, y), (x - 1.0, y + 4.5)],
        Token::Ink,
    );
}

/// A bar from usual to nine in ten, late ones thicker, with a tick where it was promised.
pub(super) fn bar(pen: &Pen<'_>, axis: &ClockAxis, line: &PromiseLine, (top, high): (f64, f64)) {
    let late = line.sure < Sure::Tight;
    let fill = if late { Token::Late } else { Token::Rep };
    if let Some(due) = line.due.filter(|_| late) {
        // How late it is, as a length; what is never ready goes on to the end.
        let to = line.chance.usual.map_or(axis.ends().1, |at| axis.place(at));
        let y = top + high / 2.0;
        pen.faint(&[(axis.place(due), y), (to, y)], Token::Late, 1.0, 0.45);
    }
    if let Some(usual) = line.chance.usual {
        let from = axis.place(usual);
        let to = line.chance.nine_in_ten.map_or(axis.ends().1, |at| axis.place(at));
        let (top, high) = if late {
            (top, high)
        } else {
            (top + 0.2 * high, 0.6 * high)
        };
        pen.rect((from, top), ((to - from).max(2.0), high), fill);
    }
    if let Some(due) = line.due {
        let x = axis.place(due);
        pen.line((x, top - 1.0), (x, top + high + 1.0), Token::Ink, 1.5);
    }
}

/// `40 of 100 days`; of one day alone how late or early.
pub(super) fn chance(line: &PromiseLine) -> String {
    match (line.sure, line.chance.of, line.late()) {
        (Sure::Cannot, ..) => "won't be finished".to_owned(),
        (_, 2.., _) => line.chance.words(line.each),
        (_, _, Some(late)) => usual(late).trim_start_matches("usually ").to_owned(),
        _ => "ready".to_owned(),
    }
}

/// What more there is to say in a roomy row.
fn told(line: &PromiseLine) -> String {
    match (line.chance.of, line.late(), line.chance.usual) {
        (2.., Some(late), _) => usual(late),
        (2.., None, Some(at)) => format!("usually {}", at.clock()),
        (2.., None, None) if line.sure == Sure::Cannot => String::new(),
        (2.., None, None) => "usually not ready".to_owned(),
        (_, _, Some(at)) => format!("ready {}", at.clock()),
        _ => "not ready".to_owned(),
    }
}
