//! What is told of alternatives beside the verdict.

use crate::compare::{Comparison, Difference, Finding, Payback, Standing, places};
use crate::print::{list, number};
use crate::study::{Better, Measure};

/// Decimals: as usual, or more, up to three, where the interval is narrower than they can show.
#[must_use]
pub fn decimals(d: &Difference) -> usize {
    let half = d.interval.half_width;
    let usual = d.measure.decimals();
    let needed = match half {
        h if h <= 0.0 || h >= 1.0 => usual,
        h if h >= 0.1 => 1,
        h if h >= 0.01 => 2,
        _ => 3,
    };
    needed.max(usual)
}

/// A shorter name for a narrow column.
#[must_use]
pub fn short(measure: Measure) -> &'static str {
    match measure {
        Measure::Finish => "work ends after",
        Measure::Lateness => "mean lateness",
        Measure::InShop => "order in shop",
        Measure::Hands => "hands a day",
        Measure::BathUsed => "bath used",
        Measure::LostCare => "lost to care",
        Measure::LostHands => "lost to hands",
        Measure::LostPlaces => "lost before it",
        other => other.words(),
    }
}

/// Days of a hundred on which the alternative is better; 100 only if it is on all.
#[must_use]
pub fn better_on(d: &Difference) -> String {
    let share = match d.measure.better() {
        Better::Lower => d.chance_lower(),
        Better::Higher => d.chance_higher(),
        Better::Neither => return "-".to_owned(),
    };
    let of_hundred = (share * 100.0).round();
    let of_hundred = match share {
        s if s >= 1.0 => 100.0,
        s if s <= 0.0 => 0.0,
        _ => of_hundred.clamp(1.0, 99.0),
    };
    number(of_hundred, 0)
}

/// Whether an outlay comes back, and when.
#[must_use]
pub fn paid(payback: &Payback, currency: &str) -> String {
    let n = |days: Option<f64>| days.map(|d| number(d, 0));
    let outlay = number(payback.outlay, 0);
    match (n(payback.days), n(payback.soonest), n(payback.latest)) {
        (Some(days), Some(low), Some(high)) => {
            format!(
                "Its outlay of {outlay} {currency} more comes back in {days} working days ({low} to {high})."
            )
        }
        (Some(days), Some(low), None) => format!(
            "Its outlay of {outlay} {currency} more comes back in {days} working days at the mean saving, in {low} at \
             best; that it never does is not excluded."
        ),
        (_, Some(low), _) => format!(
            "Its outlay of {outlay} {currency} more does not come back at the mean saving; at best in {low} working days."
        ),
        _ => format!("Its outlay of {outlay} {currency} more does not come back: no cost is saved."),
    }
}

/// Which is best, figure by figure.
#[must_use]
pub fn standings(comparison: &Comparison) -> Vec<(Measure, String)> {
    let one = |measure: &Measure| {
        let places = places(&comparison.alternatives, *measure)?;
        let of = |standing: Standing| -> Vec<String> {
            let those = places.iter().filter(|p| p.standing == standing);
            those
                .filter_map(|p| comparison.alternatives.get(p.alternative))
                .map(|a| a.name.clone())
                .collect()
        };
        let (best, maybe) = (of(Standing::Best), of(Standing::MayBeBest));
        let words = match (best.first(), maybe.len()) {
            (Some(best), _) => best.clone(),
            (None, n) if n == places.len() => "no telling".to_owned(),
            _ => format!("{}: no telling which", list(&maybe)),
        };
        Some((*measure, words))
    };
    Measure::ALL.iter().filter_map(one).collect()
}

/// Where the same luck does not sharpen the comparison, if anywhere.
#[must_use]
pub fn unsharpened(comparison: &Comparison) -> Option<String> {
    let mut names: Vec<String> = comparison
        .differences
        .iter()
        .filter(|d| d.correlation.is_some_and(|r| r <= 0.0) && d.finding() != Finding::Identical)
        .map(|d| short(d.measure).to_owned())
        .collect();
    names.dedup();
    (!names.is_empty()).then(|| {
        format!(
            "The same luck does not sharpen the comparison of {}: there the two move against each other or not at all.",
            list(&names)
        )
    })
}
