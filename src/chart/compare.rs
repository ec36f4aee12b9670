//! Alternatives side by side: every replication, and the paired differences to the first.

use super::frame::Width;
use super::heading::{Heading, MOST_SHOWN};
use super::level::Level;
use super::pen::{Pen, Type, picture};
use super::rows::Rows;
use super::spread::{dots, hairs, heap, interval};
use super::svg::{Alt, Svg};
use super::theme::Token;
use super::width::{Weight, fitted, wrapped};
use tankday_base::print::number;
use tankday_study::Measure;
use tankday_study::compare::{Alternative, Comparison, Difference, Finding, verdict};

/// Figures that are drawn, as far as they are told, at most four of them.
const DRAWN: [Measure; 7] = [
    Measure::Area,
    Measure::LateOrders,
    Measure::CostPerArea,
    Measure::InShop,
    Measure::Finish,
    Measure::Power,
    Measure::BathUsed,
];
const MOST_FIGURES: usize = 4;
/// Alternatives beyond this are left to the table.
const MOST_ALTERNATIVES: usize = 12;
const ROW: f64 = 24.0;
const LINE: f64 = 16.0;
const NAME: f64 = 140.0;
const WORDS: f64 = 168.0;

/// Draws them.
#[must_use]
pub fn compare(comparison: &Comparison, width: Width) -> Svg {
    let finding = verdict(comparison).replace("m2", "m²");
    let shown = comparison.alternatives.len().min(MOST_ALTERNATIVES);
    let rest = if shown < comparison.alternatives.len() {
        " The table lists the rest."
    } else {
        ""
    };
    let place = format!(
        "{} each, the same for all. {}{rest}",
        comparison.each.simulated(comparison.replications()),
        caption(comparison)
    );
    let heading = Heading::plain("Alternatives", &finding, &place, width);
    let mut top = heading.height() + 10.0;
    let mut panels = Vec::new();
    let told: Vec<Measure> = comparison.measures().collect();
    let (drawn, alike): (Vec<Measure>, Vec<Measure>) = DRAWN
        .into_iter()
        .filter(|m| told.contains(m))
        .partition(|m| differs(comparison, *m));
    let note = note(comparison, &alike, width);
    for measure in drawn.into_iter().take(MOST_FIGURES) {
        if let Some(panel) = Panel::new(comparison, measure, top, shown, width) {
            top = panel.bottom();
            panels.push(panel);
        }
    }
    let alt = Alt {
        id: "compare".to_owned(),
        title: "Alternatives side by side".to_owned(),
        finding: finding.clone(),
        desc: format!(
            "{} alternatives, one simulated {} after the other, and their differences to the first. {finding}",
            comparison.alternatives.len(),
            comparison.each.one()
        ),
    };
    let height = top + 8.0 + LINE * note.len() as f64;
    picture((width.pixels(), height.ceil() as u32), alt, &heading, |pen| {
        panels.iter().for_each(|p| p.draw(pen));
        for (i, line) in note.iter().enumerate() {
            let y = top + 6.0 + LINE * i as f64;
            pen.text(line, (width.side(), y), Type::note(Token::Ink2));
        }
    })
}

/// How to read the picture: what stands for one simulated day as long as they are few enough to be drawn one by one, and what
/// stands for many.
#[must_use]
pub fn caption(comparison: &Comparison) -> String {
    let (one, many) = (comparison.each.one(), comparison.each.many());
    let hairs = if comparison.replications() <= MOST_SHOWN {
        format!("Each hair is one simulated {one}, each dot one in twenty of them")
    } else {
        format!("Each dot is one in twenty of the simulated {many}")
    };
    format!(
        "{hairs}. Below, every {one} against its twin; the black bar is the 95 % interval of the mean difference."
    )
}

/// Whether a figure has more than one value.
fn differs(comparison: &Comparison, measure: Measure) -> bool {
    let columns = comparison.alternatives.iter().filter_map(|a| a.column(measure));
    let mut values = columns.flatten();
    let first = values.next();
    values.any(|v| Some(v) != first)
}

/// Figures that are not drawn because they have one value.
fn note(comparison: &Comparison, alike: &[Measure], width: Width) -> Vec<String> {
    let one = |m: &Measure| {
        let value = comparison.alternatives.first()?.mean(*m)?.mean;
        let decimals = if value.fract() == 0.0 { 0 } else { m.decimals() };
        Some(format!("{} {}", m.words(), number(value, decimals)))
    };
    let told: Vec<String> = alike.iter().filter_map(one).collect();
    if told.is_empty() {
        return Vec::new();
    }
    let words = format!("The same everywhere: {}.", told.join(", ")).replace("m2", "m²");
    wrapped(&words, 12.0, Weight::Regular, width.px() - 2.0 * width.side())
}

/// One figure.
struct Panel<'a> {
    comparison: &'a Comparison,
    measure: Measure,
    top: f64,
    side: f64,
    shown: usize,
    rows: Rows,
    values: Level,
    apart: Level,
}

impl<'a> Panel<'a> {
    fn new(
        comparison: &'a Comparison,
        measure: Measure,
        top: f64,
        shown: usize,
        width: Width,
    ) -> Option<Self> {
        let all: Vec<Vec<f64>> = comparison
            .alternatives
            .iter()
            .take(shown)
            .map(|a| a.column(measure))
            .collect::<Option<_>>()?;
        let rows = Rows::new(width, NAME, WORDS, ROW);
        let (left, right) = (rows.left, rows.right);
        let days = |d: &'a Difference| d.days.iter().copied();
        let apart: Vec<f64> = comparison
            .differences
            .iter()
            .filter(|d| d.measure == measure && d.alternative < shown)
            .flat_map(days)
            .collect();
        let ends = if apart.iter().all(|d| *d == 0.0) {
            [-1.0, 1.0]
        } else {
            [0.0, 0.0]
        };
        Some(Self {
            comparison,
            measure,
            top,
            side: width.side(),
            shown,
            rows,
            values: Level::new(all.iter().flatten().copied(), left, right),
            apart: Level::new(apart.into_iter().chain(ends), left, right),
        })
    }

    fn first_axis(&self) -> f64 {
        self.top + 26.0 + self.rows.top(self.shown)
    }

    fn second_axis(&self) -> f64 {
        self.first_axis() + 46.0 + self.rows.top(self.shown.saturating_sub(1))
    }

    fn bottom(&self) -> f64 {
        self.second_axis() + 34.0
    }

    fn draw(&self, pen: &Pen<'_>) {
        let unit = self.measure.unit();
        let unit = if unit.is_empty() {
            String::new()
        } else {
            format!(", {}", unit.replace("m2", "m²"))
        };
        let name = tankday_base::print::capital(self.measure.words()).replace("m2", "m²");
        pen.text(
            &format!("{name}{unit}"),
            (self.side, self.top + 14.0),
            Type::label(Token::Ink).bold(),
        );
        self.values.draw(pen, self.top + 22.0, self.first_axis());
        for (i, alternative) in self.comparison.alternatives.iter().take(self.shown).enumerate() {
            self.alternative(pen, alternative, self.top + 26.0 + self.rows.top(i));
        }
        let second = self.first_axis() + 42.0;
        let less = self
            .comparison
            .alternatives
            .first()
            .map_or("", |a| a.name.as_str());
        let label = Type::note(Token::Ink2);
        let words = format!("difference to {less}, day by day");
        let words = fitted(&words, label.size, label.weight, self.values.right - self.side);
        pen.text(&words, (self.side, second - 6.0), label);
        self.apart.draw(pen, second, self.second_axis());
        let zero = self.apart.place(0.0);
        pen.line((zero, second), (zero, self.second_axis()), Token::Ink, 2.0);
        for i in 1..self.shown {
            if let Some(d) = self.comparison.difference(i, self.measure) {
                self.difference(pen, d, second + 2.0 + self.rows.top(i - 1));
            }
        }
    }

    /// All replications of one alternative, and the interval of their mean.
    fn alternative(&self, pen: &Pen<'_>, alternative: &Alternative, top: f64) {
        let Some(column) = alternative.column(self.measure) else {
            return;
        };
        let mean = alternative.mean(self.measure);
        let words = mean.map_or_else(String::new, |mean| {
            format!("mean {}", number(mean.mean, self.measure.decimals().max(1)))
        });
        let (name, told) = (Type::note(Token::Ink), Type::note(Token::Ink2));
        self.rows
            .label(pen, top, 15.0, (&alternative.name, name), (&words, told));
        let ends = mean.map(|mean| (mean.low(), mean.high()));
        marks(pen, &self.values, &column, ends, top + self.rows.below);
    }

    fn difference(&self, pen: &Pen<'_>, d: &Difference, top: f64) {
        let alternative = self.comparison.alternatives.get(d.alternative);
        let name = alternative.map_or("", |a| a.name.as_str());
        let how = Type::note(Token::Ink);
        self.rows
            .label(pen, top, 15.0, (name, how), (&words(d), how.bold()));
        let ends = (d.interval.low(), d.interval.high());
        marks(pen, &self.apart, &d.days, Some(ends), top + self.rows.below);
    }
}

/// What a difference amounts to, in a few words.
fn words(d: &Difference) -> String {
    let size = number(d.interval.mean.abs(), d.measure.decimals().max(1));
    let unit = d.measure.unit().replace("m2", "m²");
    let size = if unit.is_empty() {
        size
    } else {
        format!("{size} {unit}")
    };
    match d.finding() {
        Finding::Identical => "exactly the same".to_owned(),
        Finding::Noise | Finding::Small => "about the same".to_owned(),
        Finding::Lower => format!("{size} less"),
        Finding::Higher => format!("{size} more"),
    }
}

/// Twenty dots, the interval of the mean, hairs for every replication.
fn marks(pen: &Pen<'_>, axis: &Level, values: &[f64], ends: Option<(f64, f64)>, top: f64) {
    let places: Vec<f64> = values.iter().map(|value| axis.place(*value)).collect();
    hairs(pen, &places, top + 16.0, 5.0);
    heap(pen, &dots(&places), top + 7.0, 5.0);
    if let Some((low, high)) = ends {
        interval(pen, (axis.place(low), axis.place(high)), top + 11.0);
    }
}
