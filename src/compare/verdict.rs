//! One sentence or two: which to take, for what, and what the answer hangs on.

use super::{Comparison, Difference, Finding, Leaning, Standing, places};
use crate::print::{list, number};
use crate::study::{Better, Measure};

/// Figures in the order in which they decide.
pub(super) const DECIDING: [Measure; 6] = [
    Measure::LateOrders,
    Measure::Unready,
    Measure::Area,
    Measure::Finish,
    Measure::InShop,
    Measure::CostPerArea,
];

/// The verdict.
#[must_use]
pub fn verdict(comparison: &Comparison) -> String {
    match comparison.alternatives.len() {
        0 | 1 => "There is nothing to compare.".to_owned(),
        2 => of_two(comparison),
        _ => of_many(comparison),
    }
}

/// A difference in words: `coated a day 0.41 m2 more`.
fn told(difference: &Difference) -> String {
    let measure = difference.measure;
    let size = number(difference.interval.mean.abs(), measure.decimals().max(1));
    let unit = measure.unit();
    let more = match (measure, difference.interval.mean < 0.0) {
        (Measure::Finish, true) => "earlier",
        (Measure::Finish, false) => "later",
        (_, true) => "less",
        (_, false) => "more",
    };
    let space = if unit.is_empty() { "" } else { " " };
    format!("{} {size}{space}{unit} {more}", measure.words())
}

/// Whether a difference speaks for the alternative, against it, or for neither.
fn speaks(difference: &Difference) -> Option<bool> {
    let lower = match difference.finding() {
        Finding::Lower => true,
        Finding::Higher => false,
        _ => return None,
    };
    match difference.measure.better() {
        Better::Lower => Some(lower),
        Better::Higher => Some(!lower),
        Better::Neither => None,
    }
}

/// What is said of one alternative against the first: by the first deciding figure that speaks.
#[must_use]
pub fn leaning(comparison: &Comparison, alternative: usize) -> Leaning {
    let deciding = DECIDING
        .iter()
        .filter_map(|m| comparison.difference(alternative, *m));
    match deciding.into_iter().find_map(speaks) {
        Some(true) => Leaning::Take,
        Some(false) => Leaning::Stay,
        None => Leaning::Same,
    }
}

fn of_two(comparison: &Comparison) -> String {
    let name = |i: usize| comparison.alternatives.get(i).map_or("", |a| a.name.as_str());
    let deciding: Vec<&Difference> = DECIDING
        .iter()
        .filter_map(|m| comparison.difference(1, *m))
        .collect();
    if comparison
        .of_alternative(1)
        .all(|d| d.finding() == Finding::Identical)
    {
        return format!("{} and {} do exactly the same on every day.", name(0), name(1));
    }
    let words = |good: bool| -> Vec<String> {
        let speaking = deciding.iter().filter(|d| speaks(d) == Some(good));
        speaking.map(|d| told(d)).collect()
    };
    let (pro, con) = (words(true), words(false));
    let answer = match leaning(comparison, 1) {
        Leaning::Same => {
            return format!(
                "{} and {} are about the same: no difference that matters is larger than its noise.{}",
                name(0),
                name(1),
                small_but_sure(comparison)
            );
        }
        Leaning::Take => taken(name(1), &pro, &con),
        Leaning::Stay => format!(
            "Stay with {}: with {} {}.{}",
            name(0),
            name(1),
            list(&con),
            if pro.is_empty() {
                String::new()
            } else {
                format!(" In its favour: {}.", list(&pro))
            }
        ),
    };
    format!("{answer}{}", hangs_on(comparison))
}

/// Differences that are there, though too small to decide by themselves.
fn small_but_sure(comparison: &Comparison) -> String {
    let those = [Measure::InShop, Measure::Hands, Measure::Power, Measure::Cost]
        .iter()
        .filter_map(|m| comparison.difference(1, *m))
        .filter(|d| !matches!(d.finding(), Finding::Noise | Finding::Identical));
    let words: Vec<String> = those.map(told).collect();
    if words.is_empty() {
        return String::new();
    }
    format!(" Small but sure: {}.", list(&words))
}

fn taken(name: &str, pro: &[String], con: &[String]) -> String {
    let against = if con.is_empty() {
        String::new()
    } else {
        format!(" Against it: {}; where that weighs more, stay.", list(con))
    };
    format!("Take {name}: {}.{against}", list(pro))
}

/// The causes behind the answer, the largest first: without them it would be another.
fn hangs_on(comparison: &Comparison) -> String {
    let mut causes: Vec<&Difference> = Measure::LOST
        .iter()
        .filter_map(|m| comparison.difference(1, *m))
        .filter(|d| matches!(d.finding(), Finding::Lower | Finding::Higher))
        .collect();
    causes.sort_by(|a, b| b.interval.mean.abs().total_cmp(&a.interval.mean.abs()));
    let told: Vec<String> = causes.iter().take(2).map(|d| told(d)).collect();
    if told.is_empty() {
        return String::new();
    }
    format!(
        " It hangs on output {}: what changes that changes the answer.",
        list(&told)
    )
}

fn of_many(comparison: &Comparison) -> String {
    let all = &comparison.alternatives;
    let name = |i: usize| all.get(i).map_or("", |a| a.name.as_str());
    for measure in DECIDING {
        let Some(places) = places(all, measure) else {
            continue;
        };
        let lost = places.iter().any(|p| p.standing == Standing::NotBest);
        if !lost {
            continue;
        }
        let of = |standing: Standing| -> Vec<String> {
            let those = places.iter().filter(|p| p.standing == standing);
            those.map(|p| name(p.alternative).to_owned()).collect()
        };
        let words = measure.words();
        return match of(Standing::Best).first() {
            Some(best) => {
                format!("Take {best}: it is the best in {words}, 95 % sure of all these statements together.")
            }
            None => format!(
                "In {words} {} may be the best; {} cannot, 95 % sure of all these statements together.",
                list(&of(Standing::MayBeBest)),
                list(&of(Standing::NotBest))
            ),
        };
    }
    "None of them stands out: no difference is larger than its noise.".to_owned()
}
