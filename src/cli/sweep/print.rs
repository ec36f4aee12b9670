//! A sweep for the terminal.

use super::Swept;
use crate::cli::summary::{fitted, rule};
use crate::print::{Line, Style, number, wrap};
use crate::study::Measure;
use crate::sweep::{Point, Sweep};
use crate::told::turns;

/// Figures of the table, in its columns.
const SHOWN: [(Measure, &str); 6] = [
    (Measure::Finish, "ends, min"),
    (Measure::LateOrders, "late"),
    (Measure::InShop, "shop, min"),
    (Measure::Area, "m2 a day"),
    (Measure::Power, "kWh a day"),
    (Measure::CostPerArea, "cost a m2"),
];
const NAME: usize = 20;
const WIDTH: usize = 10;

/// Where it turns.
pub(super) fn answer(sweep: &Sweep, columns: usize) -> Vec<Line> {
    let words = turns(sweep);
    let lines = words.iter().flat_map(|w| wrap(w, columns));
    lines.map(|w| Line::of(Style::Bold, w)).collect()
}

/// All of it.
pub(super) fn lines(sweep: &Sweep, told: &Swept, columns: usize) -> Vec<Line> {
    let names: Vec<&str> = sweep.keys.iter().map(|k| k.path.as_str()).collect();
    let mut lines = vec![
        Line::of(Style::Bold, fitted(&names.join(" and "), columns)),
        Line::of(
            Style::Dim,
            format!(
                "{} replications at each of {} points, the same luck, seed {}",
                sweep.replications(),
                sweep.points.len(),
                told.seed
            ),
        ),
        rule(columns),
    ];
    lines.extend(answer(sweep, columns));
    lines.push(Line::empty());
    let shown: Vec<(Measure, &str)> = {
        let measures: Vec<Measure> = sweep.measures().collect();
        SHOWN
            .iter()
            .copied()
            .filter(|(m, _)| measures.contains(m))
            .collect()
    };
    let head: String = shown.iter().map(|(_, name)| format!("{name:>WIDTH$}")).collect();
    lines.push(Line::of(Style::Dim, format!("{:<NAME$}{head}", "")));
    lines.extend(sweep.points.iter().map(|p| row(p, &shown, columns)));
    if let Some(reached) = &told.reached {
        lines.push(Line::empty());
        lines.extend(
            wrap(&format!("Precision: {reached}."), columns)
                .into_iter()
                .map(|w| Line::of(Style::Dim, w)),
        );
    }
    lines
}

fn row(point: &Point, shown: &[(Measure, &str)], columns: usize) -> Line {
    let values: Vec<&str> = point.settings.iter().map(|s| s.text.as_str()).collect();
    let name = fitted(&values.join(", "), NAME - 1);
    match &point.outcome {
        Err(why) => {
            let line = Line::plain(name).to_column(NAME);
            line.and(Style::Watch, fitted(&format!("cannot be: {why}"), columns - NAME))
        }
        Ok(_) => {
            let cell = |(m, _): &(Measure, &str)| {
                let told = point
                    .mean(*m)
                    .map_or_else(|| "-".to_owned(), |i| number(i.mean, m.decimals()));
                format!("{told:>WIDTH$}")
            };
            let cells: String = shown.iter().map(cell).collect();
            Line::plain(format!("{name:<NAME$}{cells}"))
        }
    }
}
