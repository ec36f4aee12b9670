//! A sweep of one value: every replication, the mean with its interval, and where it turns.

use super::cells::cells;
use super::frame::Width;
use super::heading::{Heading, MOST_SHOWN};
use super::level::Level;
use super::pen::{Anchor, Pen, Type, picture};
use super::svg::{Alt, Svg};
use super::sweep_shown::{SweepShown, is_curve, is_map};
use super::theme::Token;
use super::width::{Weight, fitted, wrapped};
use tankday_base::print::number;
use tankday_study::Measure;
use tankday_study::sweep::{Sweep, Turning, Varied, turning};

const HEIGHT: f64 = 170.0;
/// Pixels below the plot, for the values and the name of the key.
const FOOT: f64 = 48.0;
/// Pixels above the plot: the name of the figure, below it the turning point.
const HEAD: f64 = 40.0;
/// Pixels by which marks of single days stand aside at most, and where in turn they stand, so that equal ones do not hide
/// each other and none hides below the bar.
const MOST_ASIDE: f64 = 8.0;
const BESIDE: [f64; 4] = [1.0, -1.0, 0.6, -0.6];
/// The column of written values; narrower on a phone.
const fn left(width: Width) -> f64 {
    match width {
        Width::Phone => 46.0,
        Width::Page | Width::Wide => 58.0,
    }
}

/// Draws a curve where one key of numbers is varied, marks side by side for one key of words, else a table of cells; of
/// the figures that [`SweepShown`] names.
#[must_use]
pub fn sweep(sweep: &Sweep, width: Width) -> Svg {
    let shown = SweepShown::of(sweep);
    if is_map(sweep) {
        return cells(sweep, &shown, width);
    }
    let key = sweep
        .keys
        .first()
        .map_or(String::new(), tankday_study::sweep::Varied::name);
    let title = format!("What changes with the {key}");
    let heading = heading(sweep, &shown, &title, width);
    let top = heading.height() + 10.0;
    let each = HEAD + HEIGHT + FOOT;
    let height = top + each * shown.drawn.len() as f64 + 10.0;
    let against = match shown.drawn.as_slice() {
        [] => String::new(),
        drawn => format!(
            "{} against {key}, at {} points.",
            names(drawn),
            sweep.points.len()
        ),
    };
    let alt = Alt {
        id: "sweep".to_owned(),
        title,
        desc: sentences(&[&against, &shown.finding, &shown.flat]),
        finding: shown.finding.clone(),
    };
    picture((width.pixels(), height.ceil() as u32), alt, &heading, |pen| {
        for (i, measure) in shown.drawn.iter().enumerate() {
            Panel::new(sweep, *measure, top + each * i as f64, width).draw(pen);
        }
    })
}

/// What stands above the picture in a file of its own: the finding, what does not change, and how to read it.
pub(super) fn heading(sweep: &Sweep, shown: &SweepShown, title: &str, width: Width) -> Heading {
    let finding = sentences(&[&shown.finding, &shown.flat]);
    let days = format!(
        "{} at each point, the same for all.",
        sweep.each.simulated(sweep.replications())
    );
    Heading::plain(title, &finding, &sentences(&[&days, &shown.caption]), width)
}

/// Sentences one behind the other, without the empty ones.
pub(super) fn sentences(all: &[&str]) -> String {
    let all: Vec<&str> = all.iter().copied().filter(|s| !s.is_empty()).collect();
    all.join(" ")
}

/// A figure with its unit, as the title of an axis.
pub(super) fn titled(measure: Measure) -> String {
    let unit = match measure.unit() {
        "" => String::new(),
        unit => format!(", {unit}"),
    };
    format!("{}{unit}", tankday_base::print::capital(measure.words())).replace("m2", "m²")
}

/// A key with the unit of its numbers, as the title of an axis.
pub(super) fn key_titled(key: &Varied) -> String {
    let unit = key.form.as_ref().map_or("", |f| f.after.trim());
    let unit = if unit.is_empty() {
        String::new()
    } else {
        format!(", {unit}")
    };
    format!("{}{unit}", tankday_base::print::capital(&key.name()))
}

fn names(measures: &[Measure]) -> String {
    let names: Vec<String> = measures.iter().map(|m| m.words().replace("m2", "m²")).collect();
    tankday_base::print::capital(&tankday_base::print::list(&names))
}

struct Panel<'a> {
    sweep: &'a Sweep,
    measure: Measure,
    turn: Option<Turning>,
    top: f64,
    x: Level,
    y: Level,
    left: f64,
    right: f64,
    side: f64,
}

impl<'a> Panel<'a> {
    fn new(sweep: &'a Sweep, measure: Measure, top: f64, width: Width) -> Self {
        let (left, right) = (width.side() + left(width), width.px() - width.side() - 22.0);
        let at = sweep
            .points
            .iter()
            .filter_map(|p| p.settings.first())
            .map(|s| s.at);
        let days = sweep.points.iter().filter_map(|p| p.column(measure)).flatten();
        let means = sweep.points.iter().filter_map(|p| p.mean(measure));
        let values: Vec<f64> = days.chain(means.flat_map(|m| [m.low(), m.high()])).collect();
        let plot = top + HEAD;
        let named = sweep.keys.first().is_some_and(|k| k.form.is_none());
        let aside = if named { (right - left) / 8.0 } else { 12.0 };
        Self {
            sweep,
            measure,
            turn: turning(sweep, measure),
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
        let how = Type::label(Token::Ink).bold();
        let name = fitted(
            &titled(self.measure),
            how.size,
            how.weight,
            self.right - self.side,
        );
        pen.text(&name, (self.side, self.top + 14.0), how);
        let (top, foot) = self.plot();
        if let Some(turn) = &self.turn {
            let (a, b) = (self.x.place(turn.low), self.x.place(turn.high));
            pen.rect(
                (a.min(0.5 * (a + b) - 2.0), top),
                ((b - a).max(4.0), foot - top),
                Token::Panel,
            );
        }
        self.y.draw_up(pen, (self.left, self.right));
        if is_curve(self.sweep) {
            self.x.draw(pen, foot, foot)
        } else {
            self.words(pen, foot)
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
        let how = Type::note(Token::Ink2);
        let words = fitted(&key_titled(key), how.size, how.weight, self.right - self.left);
        pen.text(&words, (self.right, y), how.anchored(Anchor::End));
    }

    fn points(&self, pen: &Pen<'_>) {
        let aside = self.aside();
        let mut line = Vec::new();
        for point in &self.sweep.points {
            let (Some(setting), Some(column)) = (point.settings.first(), point.column(self.measure)) else {
                continue;
            };
            let x = self.x.place(setting.at);
            if column.len() <= MOST_SHOWN {
                for (value, beside) in column.iter().zip(BESIDE.iter().cycle()) {
                    pen.disc((x + aside * beside, self.y.place(*value)), 1.1, Token::Rep);
                }
            }
            if let Some(mean) = point.mean(self.measure) {
                line.push((x, self.y.place(mean.mean)));
                let (low, high) = (self.y.place(mean.low()), self.y.place(mean.high()));
                let tall = (low - high).max(4.0);
                pen.rect((x - 2.0, 0.5 * (low + high - tall)), (4.0, tall), Token::Ink);
            }
        }
        if is_curve(self.sweep) {
            pen.curve(&line, Token::Coat, 2.0);
        }
        self.crosses(pen);
    }

    /// How far marks of single days stand aside at most: never so far that they would stand at the next value.
    fn aside(&self) -> f64 {
        let at = self.sweep.points.iter().filter_map(|p| p.settings.first());
        let at: Vec<f64> = at.map(|s| self.x.place(s.at)).collect();
        let gaps = at.windows(2).map(|pair| match pair {
            [a, b] => b - a,
            _ => f64::MAX,
        });
        (0.4 * gaps.fold(f64::MAX, f64::min)).min(MOST_ASIDE)
    }

    /// Values that cannot be, at the foot.
    fn crosses(&self, pen: &Pen<'_>) {
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
        let (Some(turn), Some(form)) = (&self.turn, self.sweep.keys.first().and_then(|k| k.form.as_ref()))
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
