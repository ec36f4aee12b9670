//! What the day costs and leaves behind.

use super::Results;
use tankday_base::print::{litres, number};
use tankday_base::shop::{HandsPaid, Shop};
use tankday_base::stats::{interval_of_mean, mean};
use tankday_record::Cost;

/// How sure the interval of a mean is.
const LEVEL: f64 = 0.95;
/// Costs below this are none.
const LEAST: f64 = 0.005;

/// What a run costs, in the shop's currency: means over all replications, or the one day.
#[derive(Debug, Clone, PartialEq)]
pub struct Spent {
    /// Kinds of cost, the most first, those of nothing left out.
    pub kinds: Vec<(&'static str, f64)>,
    /// All together.
    pub total: f64,
    /// Of it for hands.
    pub hands: f64,
    /// For hands if they were paid the other way.
    pub hands_otherwise: f64,
    /// What is left undone in the baths, not part of the total.
    pub left: f64,
    /// The 95 % interval of the total, if it is a mean of values that differ.
    pub sure: Option<(f64, f64)>,
    /// What it is a mean of: `mean of 200 days`; empty if it is the one day.
    pub of: String,
}

/// What a run costs.
#[must_use]
pub fn spent(results: &Results<'_>) -> Spent {
    let costs: Vec<&Cost> = match results.study {
        Some(study) => study.days.iter().map(|d| &d.cost).collect(),
        None => vec![&results.figures.cost],
    };
    let values = |of: &dyn Fn(&Cost) -> f64| costs.iter().map(|c| of(c)).collect::<Vec<f64>>();
    let middle = |of: &dyn Fn(&Cost) -> f64| mean(&values(of)).unwrap_or(0.0);
    let kinds = Cost::KINDS.into_iter().map(|(name, of)| (name, middle(&of)));
    let mut kinds: Vec<(&str, f64)> = kinds.filter(|(_, money)| *money >= LEAST).collect();
    kinds.sort_by(|a, b| b.1.total_cmp(&a.1));
    let sure = interval_of_mean(&values(&Cost::total), LEVEL).filter(|i| i.half_width > 0.0);
    Spent {
        kinds,
        total: middle(&Cost::total),
        hands: middle(&|c| c.hands),
        hands_otherwise: middle(&|c| c.hands_otherwise),
        left: middle(&|c| c.left.total()),
        sure: sure.map(|i| (i.low(), i.high())),
        of: match costs.len() {
            0 | 1 => String::new(),
            many => format!("mean of {many} {}", results.each().many()),
        },
    }
}

/// Until when hands are paid, and what they would cost otherwise; none where that is the same.
#[must_use]
pub fn hands_paid(shop: &Shop, spent: &Spent) -> Option<String> {
    if (spent.hands - spent.hands_otherwise).abs() < LEAST {
        return None;
    }
    let (paid, other) = match shop.prices.hands_paid {
        HandsPaid::ToEndOfWork => ("to the end of their work", "to closing"),
        HandsPaid::ToClosing => ("to closing", "to the end of their work"),
    };
    Some(format!(
        "Hands are paid {paid}: {}; paid {other}: {}.",
        number(spent.hands, 2),
        number(spent.hands_otherwise, 2)
    ))
}

/// What the run leaves undone in its baths, in words; none where nothing changed or nothing has a price.
#[must_use]
pub fn left_undone(spent: &Spent) -> Option<String> {
    let money = number(spent.left.abs(), 2);
    let priced = "priced as the concentrate, stops and renewal that would put it right";
    match spent.left {
        left if left >= LEAST => Some(format!(
            "not paid yet: {money} left undone in the baths (acid used up, sludge, iron), {priced}"
        )),
        left if left <= -LEAST => Some(format!(
            "the baths are better by {money} than at the start, {priced}"
        )),
        _ => None,
    }
}

/// Streams of waste, in words; empty if nothing is left behind.
#[must_use]
pub fn waste(results: &Results<'_>) -> Vec<String> {
    let waste = &results.figures.waste;
    let mut streams = Vec::new();
    let mut add = |some: bool, words: String| {
        if some {
            streams.push(words);
        }
    };
    add(
        waste.rinse.in_litres() >= 0.05,
        format!("{} of spent rinse", litres(waste.rinse)),
    );
    add(
        waste.bath.in_litres() >= 0.05,
        format!("{} of bath", litres(waste.bath)),
    );
    let sludge = waste.sludge.in_grams();
    add(sludge >= 0.5, format!("{} g of dry sludge", number(sludge, 0)));
    let media = waste.media;
    let filters = if media == 1 {
        "filter medium"
    } else {
        "filter media"
    };
    add(media > 0, format!("{media} {filters}"));
    streams
}
