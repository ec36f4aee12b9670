//! What is told of assumptions that a comparison may hang on.

use super::choice::decimals;
use tankday_base::print::{count_word, list, number};
use tankday_study::Measure;
use tankday_study::compare::{Assumption, Comparison, Difference, Finding, Leaning, leaning, telling};

/// One line of the table.
#[derive(Debug, Clone, PartialEq)]
pub struct Assumed {
    /// What is taken otherwise; empty for the scenarios as they are.
    pub words: String,
    /// The differences of [`telling`] figures with their intervals; or why the alternatives cannot be.
    pub cells: Result<Vec<String>, String>,
    /// The means behind the cells; not a number where a figure is missing, nothing where the alternatives cannot be.
    pub values: Vec<f64>,
    /// Which to take; none where they cannot be.
    pub take: Option<Leaning>,
    /// Whether that is another answer than usually.
    pub turns: bool,
}

/// The table for one alternative against the first: which figures, and the lines, the scenarios as they are first.
#[must_use]
pub fn assumed(
    usual: &Comparison,
    assumptions: &[Assumption],
    alternative: usize,
) -> (Vec<Measure>, Vec<Assumed>) {
    let figures = telling(usual, alternative);
    let cells = |c: &Comparison| {
        figures
            .iter()
            .map(|m| cell(c.difference(alternative, *m)))
            .collect()
    };
    let values = |c: &Comparison| -> Vec<f64> {
        let mean = |d: &Difference| d.interval.mean;
        let value = |m: &Measure| c.difference(alternative, *m).map_or(f64::NAN, mean);
        figures.iter().map(value).collect()
    };
    let as_is = Assumed {
        words: String::new(),
        cells: Ok(cells(usual)),
        values: values(usual),
        take: Some(leaning(usual, alternative)),
        turns: false,
    };
    let one = |a: &Assumption| Assumed {
        words: a.words.clone(),
        cells: a.outcome.as_ref().map(cells).map_err(Clone::clone),
        values: a.outcome.as_ref().map(values).unwrap_or_default(),
        take: a.outcome.as_ref().ok().map(|c| leaning(c, alternative)),
        turns: a.turns(usual, alternative) == Some(true),
    };
    let rows = std::iter::once(as_is)
        .chain(assumptions.iter().map(one))
        .collect();
    (figures, rows)
}

/// `+9.0 (6.8 to 11.2)`, `noise`, or nothing where one of them lacks the figure.
fn cell(difference: Option<&Difference>) -> String {
    let Some(d) = difference else {
        return "-".to_owned();
    };
    let n = |value: f64| number(value, decimals(d).max(1));
    let i = &d.interval;
    match d.finding() {
        Finding::Identical => "none at all".to_owned(),
        Finding::Noise => "noise".to_owned(),
        _ => {
            let sign = if i.mean > 0.0 { "+" } else { "" };
            format!("{sign}{} ({} to {})", n(i.mean), n(i.low()), n(i.high()))
        }
    }
}

/// One sentence for each alternative: under which assumptions the answer turns.
#[must_use]
pub fn hangs_on(usual: &Comparison, assumptions: &[Assumption]) -> Vec<String> {
    let one = |alternative: usize| {
        let told: Vec<(&Assumption, bool)> = assumptions
            .iter()
            .filter_map(|a| Some((a, a.turns(usual, alternative)?)))
            .collect();
        let turning: Vec<String> = told
            .iter()
            .filter(|(_, turns)| *turns)
            .map(|(a, _)| a.words.clone())
            .collect();
        let who = match usual.alternatives.len() {
            2 => "The answer".to_owned(),
            _ => format!("The answer about {}", usual.alternatives.get(alternative)?.name),
        };
        match (told.len(), turning.len()) {
            (0, _) => None,
            (1, 0) => Some(format!("{who} stays the same if {}.", told.first()?.0.words)),
            (many, 0) => Some(format!(
                "{who} stays the same under all {} assumptions that were tried.",
                count_word(many)
            )),
            (many, turns) => Some(format!(
                "{who} turns under {} of {} assumptions that were tried: {}.",
                count_word(turns),
                count_word(many),
                list(&turning)
            )),
        }
    };
    (1..usual.alternatives.len()).filter_map(one).collect()
}
