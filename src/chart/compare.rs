//! Alternatives side by side: every replication, and the paired differences to the first.

use super::frame::{Heading, SIDE, Width};
use super::level::Level;
use super::pen::{Pen, Type, picture};
use super::svg::{Alt, Svg};
use super::theme::Token;
use super::width::fitted;
use crate::compare::{Alternative, Comparison, Difference, Finding, verdict};
use crate::print::number;
use crate::stats::{QuantileRule, quantile};
use crate::study::Measure;

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
const NAME: f64 = 140.0;
const WORDS: f64 = 168.0;
/// More replications than this are not drawn one by one.
const MOST_HAIRS: usize = 250;
const DOTS: usize = 20;

/// Draws them.
#[must_use]
pub fn compare(comparison: &Comparison, width: Width) -> Svg {
    let finding = verdict(comparison).replace("m2", "m²");
    let shown = comparison.alternatives.len().min(MOST_ALTERNATIVES);
    let place = format!(
        "{} replications each under the same luck; {}dots are one in twenty{}",
        comparison.replications(),
        if comparison.replications() <= MOST_HAIRS {
            "every mark is one of them, "
        } else {
            ""
        },
        if shown < comparison.alternatives.len() {
            "; the table lists the rest"
        } else {
            ""
        }
    );
    let heading = Heading::plain("Alternatives", &finding, &place, width);
    let mut top = heading.height() + 10.0;
    let mut panels = Vec::new();
    let told: Vec<Measure> = comparison.measures().collect();
    for measure in DRAWN.into_iter().filter(|m| told.contains(m)).take(MOST_FIGURES) {
        if let Some(panel) = Panel::new(comparison, measure, top, shown, width) {
            top = panel.bottom();
            panels.push(panel);
        }
    }
    let alt = Alt {
        id: "compare",
        title: "Alternatives side by side".to_owned(),
        desc: format!(
            "{} alternatives, replication by replication, and their differences to the first. {finding}",
            comparison.alternatives.len()
        ),
    };
    picture((width.pixels(), (top + 8.0).ceil() as u32), &alt, |pen| {
        heading.draw(pen);
        panels.iter().for_each(|p| p.draw(pen));
    })
}

/// One figure.
struct Panel<'a> {
    comparison: &'a Comparison,
    measure: Measure,
    top: f64,
    shown: usize,
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
        let (left, right) = (SIDE + NAME, width.px() - SIDE - WORDS);
        let days = |d: &'a Difference| d.days.iter().copied();
        let apart = comparison
            .differences
            .iter()
            .filter(|d| d.measure == measure && d.alternative < shown)
            .flat_map(days);
        Some(Self {
            comparison,
            measure,
            top,
            shown,
            values: Level::new(all.iter().flatten().copied(), left, right),
            apart: Level::new(apart.chain([0.0]), left, right),
        })
    }

    fn first_axis(&self) -> f64 {
        self.top + 26.0 + ROW * self.shown as f64
    }

    fn second_axis(&self) -> f64 {
        self.first_axis() + 46.0 + ROW * self.shown.saturating_sub(1) as f64
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
        let name = crate::print::capital(self.measure.words()).replace("m2", "m²");
        pen.text(
            &format!("{name}{unit}"),
            (SIDE, self.top + 14.0),
            Type::label(Token::Ink).bold(),
        );
        self.values.draw(pen, self.top + 22.0, self.first_axis());
        for (i, alternative) in self.comparison.alternatives.iter().take(self.shown).enumerate() {
            self.alternative(pen, alternative, self.top + 26.0 + ROW * i as f64);
        }
        let second = self.first_axis() + 42.0;
        let less = self
            .comparison
            .alternatives
            .first()
            .map_or("", |a| a.name.as_str());
        let label = Type::note(Token::Ink2);
        let words = format!("difference to {less}, day by day");
        let words = fitted(&words, label.size, label.weight, self.values.right - SIDE);
        pen.text(&words, (SIDE, second - 6.0), label);
        self.apart.draw(pen, second, self.second_axis());
        let zero = self.apart.place(0.0);
        pen.line((zero, second), (zero, self.second_axis()), Token::Ink, 2.0);
        for i in 1..self.shown {
            if let Some(d) = self.comparison.difference(i, self.measure) {
                self.difference(pen, d, second + 2.0 + ROW * (i - 1) as f64);
            }
        }
    }

    fn name(pen: &Pen<'_>, name: &str, top: f64) {
        let how = Type::note(Token::Ink);
        pen.text(
            &fitted(name, how.size, how.weight, NAME - 8.0),
            (SIDE, top + 15.0),
            how,
        );
    }

    /// All replications of one alternative, and the interval of their mean.
    fn alternative(&self, pen: &Pen<'_>, alternative: &Alternative, top: f64) {
        Self::name(pen, &alternative.name, top);
        let Some(column) = alternative.column(self.measure) else {
            return;
        };
        marks(pen, &self.values, &column, top);
        if let Some(mean) = alternative.mean(self.measure) {
            bar(pen, &self.values, (mean.low(), mean.high()), top);
            let words = format!("mean {}", number(mean.mean, self.measure.decimals().max(1)));
            pen.text(
                &words,
                (self.values.right + 10.0, top + 15.0),
                Type::note(Token::Ink2),
            );
        }
    }

    fn difference(&self, pen: &Pen<'_>, d: &Difference, top: f64) {
        let name = self
            .comparison
            .alternatives
            .get(d.alternative)
            .map_or("", |a| a.name.as_str());
        Self::name(pen, name, top);
        marks(pen, &self.apart, &d.days, top);
        bar(pen, &self.apart, (d.interval.low(), d.interval.high()), top);
        let how = Type::note(Token::Ink);
        let words = fitted(&words(d), how.size, how.weight, WORDS - 12.0);
        pen.text(&words, (self.apart.right + 10.0, top + 15.0), how.bold());
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

/// Hairs for every replication and twenty dots at their quantiles.
fn marks(pen: &Pen<'_>, axis: &Level, values: &[f64], top: f64) {
    if values.len() <= MOST_HAIRS {
        for value in values {
            let x = axis.place(*value);
            pen.line((x, top + 16.0), (x, top + 21.0), Token::Rep, 1.0);
        }
    }
    for i in 0..DOTS {
        let p = (i as f64 + 0.5) / DOTS as f64;
        if let Some(value) = quantile(values, p, QuantileRule::Linear) {
            pen.disc((axis.place(value), top + 7.0), 2.6, Token::Rep);
        }
    }
}

/// The interval of a mean, at least 4 px wide.
fn bar(pen: &Pen<'_>, axis: &Level, (low, high): (f64, f64), top: f64) {
    let (a, b) = (axis.place(low), axis.place(high));
    let wide = (b - a).max(4.0);
    pen.rect((0.5 * (a + b - wide), top + 11.0), (wide, 4.0), Token::Ink);
}
