//! A sweep of one value: every replication, the mean with its interval, and where it turns.

use super::cells::cells;
use super::frame::Width;
use super::heading::{Heading, MOST_SHOWN, replications};
use super::level::Level;
use super::pen::{Anchor, Pen, Type, picture};
use super::svg::{Alt, Svg};
use super::theme::Token;
use super::width::{Weight, fitted, wrapped};
use tankday_base::print::number;
use tankday_study::Measure;
use tankday_study::sweep::{Sweep, Turning, best_cells, edge_words, turning};

/// Figures that are drawn if they turn, and if none does.
const DRAWN: [Measure; 7] = [
    Measure::Area,
    Measure::CostPerArea,
    Measure::LateOrders,
    Measure::Lateness,
    Measure::InShop,
    Measure::Finish,
    Measure::Power,
];
const MOST_FIGURES: usize = 3;
const HEIGHT: f64 = 170.0;
/// Pixels above the plot: the name of the figure, below it the turning point.
const HEAD: f64 = 40.0;
/// The column of written values; narrower on a phone.
const fn left(width: Width) -> f64 {
    match width {
        Width::Phone => 46.0,
        Width::Page | Width::Wide => 58.0,
    }
}

/// Draws a curve where one key of numbers is varied, else a table of cells.
#[must_use]
pub fn sweep(sweep: &Sweep, width: Width) -> Svg {
    if sweep.keys.len() != 1 {
        return cells(sweep, width);
    }
    let told: Vec<Measure> = sweep.measures().filter(|m| varies(sweep, *m)).collect();
    let turns: Vec<Turning> = DRAWN.iter().filter_map(|m| turning(sweep, *m)).collect();
    let mut drawn: Vec<Measure> = turns.iter().map(|t| t.measure).collect();
    drawn.extend(
        DRAWN
            .into_iter()
            .filter(|m| told.contains(m) && !turns.iter().any(|t| t.measure == *m)),
    );
    drawn.truncate(MOST_FIGURES);
    let key = sweep
        .keys
        .first()
        .map_or(String::new(), tankday_study::sweep::Varied::name);
    let best = best_cells(sweep)
        .into_iter()
        .find(|b| drawn.contains(&b.measure))
        .map(|b| b.text);
    let at_edge = edge_words(sweep, |m| drawn.contains(&m)).into_iter().next();
    let finding = turns.first().map(|t| t.text.clone()).or(best).or(at_edge);
    let finding = finding.unwrap_or_else(|| {
        "Nothing turns: no figure has a best place inside, or bends, by more than its noise.".to_owned()
    });
    let finding = finding.replace("m2", "m²");
    let place = format!(
        "{}bars are 95 % intervals of the mean",
        replications(sweep.replications(), "at each point", "dot")
    );
    let heading = Heading::plain(&format!("What changes with the {key}"), &finding, &place, width);
    let top = heading.height() + 10.0;
    let each = HEAD + HEIGHT + 36.0;
    let height = top + each * drawn.len() as f64 + 22.0;
    let alt = Alt {
        id: "sweep".to_owned(),
        title: format!("What changes with the {key}"),
        desc: format!(
            "{} against {key}, at {} points. {finding}",
            names(&drawn),
            sweep.points.len()
        ),
        finding,
    };
    picture((width.pixels(), height.ceil() as u32), alt, &heading, |pen| {
        for (i, measure) in drawn.iter().enumerate() {
            let turn = turns.iter().find(|t| t.measure == *measure);
            Panel::new(sweep, *measure, turn, top + each * i as f64, width).draw(pen);
        }
    })
}

/// Whether a figure has more than one value.
fn varies(sweep: &Sweep, measure: Measure) -> bool {
    let mut values = sweep.points.iter().filter_map(|p| p.column(measure)).flatten();
    let first = values.next();
    values.any(|v| Some(v) != first)
}

fn names(measures: &[Measure]) -> String {
    let names: Vec<String> = measures.iter().map(|m| m.words().to_owned()).collect();
    tankday_base::print::capital(&tankday_base::print::list(&names))
}

struct Panel<'a> {
    sweep: &'a Sweep,
    measure: Measure,
    turn: Option<&'a Turning>,
    top: f64,
    x: Level,
    y: Level,
    left: f64,
    right: f64,
    side: f64,
}

impl<'a> Panel<'a> {
    fn new(sweep: &'a Sweep, measure: Measure, turn: Option<&'a Turning>, top: f64, width: Width) -> Self {
        let (left, right) = (width.side() + left(width), width.px() - width.side() - 22.0);
        let at = sweep
            .points
            .iter()
            .filter_map(|p| p.settings.first())
            .map(|s| s.at);
        let values: Vec<f64> = sweep
            .points
            .iter()
            .filter_map(|p| p.column(measure))
            .flatten()
            .collect();
        let plot = top + HEAD;
        let named = sweep.keys.first().is_some_and(|k| k.form.is_none());
        let aside = if named { (right - left) / 8.0 } else { 12.0 };
        Self {
            sweep,
            measure,
            turn,
            top,
            x: Level::new(at, left + aside, right - aside),
            // Counted upwards: its left is the foot.
            y: Level::new(values.into_iter(), plot + HEIGHT - 6.0, plot + 6.0),
            left,
            right,
            side: width.side(),
        }
    }

    fn plot(&self) -> (f64, f64) {
        (self.top + HEAD, self.top + HEAD + HEIGHT)
    }

    fn draw(&self, pen: &Pen<'_>) {
        let unit = self.measure.unit();
        let unit = if unit.is_empty() {
            String::new()
        } else {
            format!(", {unit}")
        };
        let name =
            format!("{}{unit}", tankday_base::print::capital(self.measure.words())).replace("m2", "m²");
        let how = Type::label(Token::Ink).bold();
        let name = fitted(&name, how.size, how.weight, self.right - self.side);
        pen.text(&name, (self.side, self.top + 14.0), how);
        let (top, foot) = self.plot();
        if let Some(turn) = self.turn {
            let (a, b) = (self.x.place(turn.low), self.x.place(turn.high));
            pen.rect(
                (a.min(0.5 * (a + b) - 2.0), top),
                ((b - a).max(4.0), foot - top),
                Token::Panel,
            );
        }
        self.y.draw_up(pen, (self.left, self.right));
        let named = self.sweep.keys.first().is_some_and(|k| k.form.is_none());
        if named {
            self.words(pen, foot)
        } else {
            self.x.draw(pen, foot, foot)
        }
        self.key(pen, foot + 32.0);
        self.points(pen);
        self.turning(pen, top, foot);
    }

    /// Values that are words, below the axis.
    fn words(&self, pen: &Pen<'_>, foot: f64) {
        pen.line((self.left, foot), (self.right, foot), Token::Axis, 1.0);
        let how = Type::note(Token::Ink2);
        let room = (self.right - self.left) / self.sweep.points.len().max(1) as f64 - 6.0;
        for point in &self.sweep.points {
            let Some(setting) = point.settings.first() else {
                continue;
            };
            let words = fitted(&setting.text, how.size, how.weight, room);
            let x = self.x.place(setting.at);
            let half = 0.5 * how.width(&words);
            let x = x.clamp(self.left + half, (self.right + 20.0 - half).max(self.left + half));
            pen.text(&words, (x, foot + 17.0), how.anchored(Anchor::Middle));
        }
    }

    fn key(&self, pen: &Pen<'_>, y: f64) {
        let Some(key) = self.sweep.keys.first() else {
            return;
        };
        let unit = key.form.as_ref().map_or("", |f| f.after.trim());
        let words = if unit.is_empty() {
            key.name()
        } else {
            format!("{}, {unit}", key.name())
        };
        let how = Type::note(Token::Ink2);
        let words = fitted(&words, how.size, how.weight, self.right - self.left);
        pen.text(&words, (self.right, y), how.anchored(Anchor::End));
    }

    fn points(&self, pen: &Pen<'_>) {
        let mut line = Vec::new();
        for point in &self.sweep.points {
            let (Some(setting), Some(column)) = (point.settings.first(), point.column(self.measure)) else {
                continue;
            };
            let x = self.x.place(setting.at);
            if column.len() <= MOST_SHOWN {
                for (i, value) in column.iter().enumerate() {
                    // A little to the right, further for each in turn, so that equal ones do not hide each other.
                    let aside = 5.0 + 5.0 * (i % 5) as f64 / 4.0;
                    pen.disc((x + aside, self.y.place(*value)), 1.1, Token::Rep);
                }
            }
            if let Some(mean) = point.mean(self.measure) {
                line.push((x, self.y.place(mean.mean)));
                let (low, high) = (self.y.place(mean.low()), self.y.place(mean.high()));
                let tall = (low - high).max(4.0);
                pen.rect((x - 2.0, 0.5 * (low + high - tall)), (4.0, tall), Token::Ink);
            }
        }
        if self.sweep.keys.first().is_some_and(|k| k.form.is_some()) {
            pen.curve(&line, Token::Coat, 2.0);
        }
        for point in self.sweep.points.iter().filter(|p| p.outcome.is_err()) {
            let Some(setting) = point.settings.first() else {
                continue;
            };
            let (x, foot) = (self.x.place(setting.at), self.plot().1);
            pen.line((x - 4.0, foot - 12.0), (x + 4.0, foot - 4.0), Token::Late, 1.6);
            pen.line((x - 4.0, foot - 4.0), (x + 4.0, foot - 12.0), Token::Late, 1.6);
        }
    }

    /// Where it turns, in a word at its place.
    fn turning(&self, pen: &Pen<'_>, top: f64, foot: f64) {
        let (Some(turn), Some(form)) = (self.turn, self.sweep.keys.first().and_then(|k| k.form.as_ref()))
        else {
            return;
        };
        let x = self.x.place(turn.at);
        pen.dashed(&[(x, top), (x, foot)], Token::Ink, 1.2, (5.0, 3.0));
        let how = Type::note(Token::Ink).bold();
        let at: f64 = number(turn.at, 1).parse().unwrap_or(turn.at);
        let words = form.at(at).text;
        let half = 0.5 * how.width(&words) + 3.0;
        let x = x.clamp(self.left + half, (self.right - half).max(self.left + half));
        for (i, line) in wrapped(&words, how.size, Weight::Bold, 200.0).iter().enumerate() {
            pen.plated(
                line,
                (x, top - 3.0 + 14.0 * i as f64),
                how.anchored(Anchor::Middle),
                Token::Paper,
            );
        }
    }
}
