//! A sweep for the terminal.

use super::Told;
use crate::summary::rule;
use tankday_base::print::{Line, Style, capital, fitted, number, padded, right, wrap};
use tankday_output::narrative::{following, following_notes, rules_turn, turns};
use tankday_study::Measure;
use tankday_study::sweep::{Point, Sweep};

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
pub(super) fn answer(told: &Told, columns: usize) -> Vec<Line> {
    let mut words = turns(&told.sweep);
    words.extend(told.by_rules.as_ref().map(|rules| rules_turn(&told.sweep, rules)));
    let lines = words.iter().flat_map(|w| wrap(w, columns));
    lines.map(|w| Line::of(Style::Bold, w)).collect()
}

/// All of it.
pub(super) fn lines(told: &Told, columns: usize) -> Vec<Line> {
    let (sweep, setting) = (&told.sweep, &told.setting);
    let names: Vec<String> = sweep
        .keys
        .iter()
        .map(tankday_study::sweep::Varied::name)
        .collect();
    let mut lines = vec![
        Line::of(Style::Bold, fitted(&capital(&names.join(" and ")), columns)),
        Line::of(
            Style::Dim,
            format!(
                "{} at each of {} points, the same for all, seed {}",
                sweep.each.simulated(sweep.replications()),
                sweep.points.len(),
                setting.seed
            ),
        ),
        Line::of(Style::Dim, following(&setting.following)),
        rule(columns),
    ];
    lines.extend(answer(told, columns));
    lines.push(Line::empty());
    let shown: Vec<(Measure, &str)> = {
        let measures: Vec<Measure> = sweep.measures().collect();
        SHOWN
            .iter()
            .copied()
            .filter(|(m, _)| measures.contains(m))
            .collect()
    };
    let head: String = shown.iter().map(|(_, name)| right(name, WIDTH)).collect();
    lines.push(Line::of(Style::Dim, format!("{:<NAME$}{head}", "")));
    lines.extend(sweep.points.iter().map(|p| row(p, &shown, columns)));
    let reached = setting.reached.as_ref();
    let mut notes = following_notes(&setting.following, &names_of(sweep));
    notes.extend(reached.map(|reached| format!("Precision: {reached}.")));
    if !notes.is_empty() {
        lines.push(Line::empty());
    }
    let notes = notes.iter().flat_map(|words| wrap(words, columns));
    lines.extend(notes.map(|w| Line::of(Style::Dim, w)));
    lines
}

/// Names of the points that can be.
fn names_of(sweep: &Sweep) -> Vec<String> {
    let sound = sweep.points.iter().filter(|p| p.outcome.is_ok());
    sound.map(Point::name).collect()
}

fn row(point: &Point, shown: &[(Measure, &str)], columns: usize) -> Line {
    let name = fitted(&point.name(), NAME - 1);
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
                right(&told, WIDTH)
            };
            let cells: String = shown.iter().map(cell).collect();
            Line::plain(format!("{}{cells}", padded(&name, NAME)))
        }
    }
}
