//! One sentence or two: which to take, for what, and what the answer hangs on.

use super::{Alternative, Comparison, Difference, Finding, Leaning, Place, Standing, places};
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

/// Alternatives, and means, that are named one by one.
const NAMED: usize = 6;

/// A difference as a clause: `an order is in the shop 9.0 min longer`.
fn told(difference: &Difference) -> String {
    let measure = difference.measure;
    let less = difference.interval.mean < 0.0;
    let size = sized(measure, difference.interval.mean.abs());
    let more = if less { "less" } else { "more" };
    let which = |one, other| if less { one } else { other };
    match measure {
        Measure::Finish => format!("the work ends {size} {}", which("earlier", "later")),
        Measure::LateOrders => format!("{size} orders {} are late", which("fewer", "more")),
        Measure::Unready => format!("{size} orders {} are left over", which("fewer", "more")),
        Measure::InShop => format!("an order is in the shop {size} {}", which("less", "longer")),
        Measure::Area => format!("{size} a day {more} is coated"),
        Measure::Hands => format!("hands are at work {size} a day {}", which("less", "longer")),
        Measure::Power => format!("{size} a day {more} is drawn"),
        Measure::Cost => format!("a day costs {size} {more}"),
        Measure::CostPerArea => format!("a m2 costs {size} {more}"),
        _ => format!("{} {size} {more}", measure.words()),
    }
}

/// A value with its unit.
fn sized(measure: Measure, value: f64) -> String {
    let size = number(value, measure.decimals().max(1));
    match measure.unit() {
        "" => size,
        unit => format!("{size} {unit}"),
    }
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
    let lost = |d: &&Difference| {
        let more = if d.interval.mean < 0.0 { "less" } else { "more" };
        let to = d.measure.words().trim_start_matches("lost ");
        format!("{} a day {more} {to}", sized(d.measure, d.interval.mean.abs()))
    };
    let told: Vec<String> = causes.iter().take(2).map(lost).collect();
    if told.is_empty() {
        return String::new();
    }
    format!(
        " It hangs on the output that is lost, {}: what changes that changes the answer.",
        list(&told)
    )
}

fn of_many(comparison: &Comparison) -> String {
    for measure in DECIDING {
        let places = places(&comparison.alternatives, measure);
        let found = places.filter(|all| all.iter().any(|p| p.standing == Standing::NotBest));
        if let Some(places) = found {
            return decided(comparison, measure, &places);
        }
    }
    "None of them stands out: no difference is larger than its noise.".to_owned()
}

/// What to take by the figure that decides, and how it stands with each.
fn decided(comparison: &Comparison, measure: Measure, all: &[Place]) -> String {
    let name = |p: &Place| comparison.alternatives.get(p.alternative).map(|a| a.name.clone());
    let of = |standing: Standing| -> Vec<String> {
        let those = all.iter().filter(|p| p.standing == standing);
        those.filter_map(name).collect()
    };
    let sure = format!(
        "{} 95 % sure of all these statements together.",
        means(comparison, measure)
    );
    let words = measure.words();
    if let Some(best) = of(Standing::Best).first() {
        return format!("Take {best}. It is the best by {words}. {sure}");
    }
    let (maybe, not) = (of(Standing::MayBeBest), of(Standing::NotBest));
    let (take, leave) = match (maybe.len(), not.len()) {
        (..=NAMED, ..=NAMED) => (maybe.join(" or "), format!("not {}", not.join(" or "))),
        (..=NAMED, others) => (maybe.join(" or "), format!("none of the {others} others")),
        (many, ..=NAMED) => (format!("one of {many}"), format!("not {}", not.join(" or "))),
        (many, others) => (format!("one of {many}"), format!("none of the {others} others")),
    };
    format!(
        "Take {take}, {leave}. By {words}, what is left out cannot be the best; the rest cannot be told apart. {sure}"
    )
}

/// The means of the first alternatives.
fn means(comparison: &Comparison, measure: Measure) -> String {
    let one = |a: &Alternative| Some(format!("{} {}", a.name, sized(measure, a.mean(measure)?.mean)));
    let all = comparison.alternatives.iter();
    let mut told: Vec<String> = all.take(NAMED).filter_map(one).collect();
    let more = comparison.alternatives.len().saturating_sub(NAMED);
    if more > 0 {
        told.push(format!("{more} more in the table"));
    }
    format!("Means: {}.", told.join(", "))
}
