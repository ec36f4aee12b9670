//! What is told of alternatives beside the verdict.

use tankday_base::bath::chemistry::Watched;
use tankday_base::print::{list, number};
use tankday_study::compare::{
    Alternative, Comparison, Difference, Finding, Payback, Standing, choice, places,
};
use tankday_study::{Better, Measure};

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
        Measure::LeftStrength => "left: total acid",
        Measure::LeftRatio => "left: ratio",
        Measure::LeftIron => "left: iron",
        Measure::LeftSludge => "left: sludge",
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

/// Whether an outlay comes back, and when. The dearer of two may be the first: then it is named.
#[must_use]
pub fn paid(comparison: &Comparison, payback: &Payback, currency: &str) -> String {
    // What comes back sooner comes back on the first day.
    let n = |days: Option<f64>| days.map(|d| number(d.max(1.0), 0));
    let outlay = number(payback.outlay, 0);
    let first = comparison.alternatives.first().map_or("", |a| a.name.as_str());
    let outlay = match payback.alternative {
        0 => format!("The outlay of {outlay} {currency} more for {first}"),
        _ => format!("Its outlay of {outlay} {currency} more"),
    };
    if payback.latest.is_some_and(|days| days <= 1.0) {
        return format!("{outlay} pays for itself within a working day.");
    }
    match (n(payback.days), n(payback.soonest), n(payback.latest)) {
        (Some(days), Some(low), Some(high)) if low == high => {
            format!("{outlay} pays for itself in {days} working days.")
        }
        (Some(days), Some(low), Some(high)) => {
            format!("{outlay} pays for itself in {days} working days ({low} to {high}).")
        }
        (Some(days), Some(low), None) => format!(
            "{outlay} pays for itself in {days} working days on average, in {low} at best; it may never do so."
        ),
        (_, Some(low), _) => {
            format!("{outlay} doesn't pay for itself on average; at best in {low} working days.")
        }
        _ => format!("{outlay} doesn't pay for itself: no cost is saved."),
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
        let words = match (best.first(), chosen(comparison, *measure)) {
            (Some(best), _) if leads(comparison, best, *measure) => best.clone(),
            (Some(best), _) => format!("{best}, by too little to matter"),
            (None, Some(words)) => words,
            (None, None) if maybe.len() == places.len() => tie(comparison, &maybe, *measure).to_owned(),
            (None, None) => format!("{}: {}", list(&maybe), tie(comparison, &maybe, *measure)),
        };
        Some((*measure, words))
    };
    Measure::ALL.iter().filter_map(one).collect()
}

/// How those compare of which none is told to be best: what is the same on every day is no close call.
fn tie(comparison: &Comparison, names: &[String], measure: Measure) -> &'static str {
    let all = &comparison.alternatives;
    let those: Vec<usize> = (0..all.len())
        .filter(|i| all.get(*i).is_some_and(|a| names.contains(&a.name)))
        .collect();
    let equal = |pair: &[usize]| match pair {
        [one, other] => {
            Difference::of(all, *one, *other, measure).is_some_and(|d| d.finding() == Finding::Identical)
        }
        _ => false,
    };
    match those.windows(2).all(equal) {
        true => "exactly the same",
        false => "too close to call",
    }
}

/// Whether the one that is best leads every other by enough to matter.
fn leads(comparison: &Comparison, best: &str, measure: Measure) -> bool {
    let all = &comparison.alternatives;
    let Some(best) = all.iter().position(|a| a.name == best) else {
        return false;
    };
    (0..all.len())
        .filter(|other| *other != best)
        .filter_map(|other| Difference::of(all, best, other, measure))
        .all(|d| d.finding() != Finding::Small)
}

/// Where none is best beyond doubt: the one that is best or next to it, if the replications do for that.
fn chosen(comparison: &Comparison, measure: Measure) -> Option<String> {
    let choice = choice(&comparison.alternatives, measure)?;
    let one = choice.selection.chosen()?;
    let name = &comparison.alternatives.get(one)?.name;
    let places = measure.decimals() + usize::from(measure.unit() != "min");
    let matters = number(choice.matters, places.max(1));
    let unit = measure.unit();
    let space = if unit.is_empty() { "" } else { " " };
    Some(format!("{name}, or within {matters}{space}{unit} of the best"))
}

/// How far the baths of each alternative go at their present mix of work, and which limit comes first: means over all
/// days.
#[must_use]
pub fn baths_left(comparison: &Comparison) -> Vec<String> {
    let of = |alternative: &Alternative| -> Option<String> {
        let mean = |(measure, _): &(Measure, Watched)| Some((*measure, alternative.mean(*measure)?.mean));
        let mut left: Vec<(Measure, f64)> = Measure::LEFT.iter().filter_map(mean).collect();
        left.sort_by(|a, b| a.1.total_cmp(&b.1));
        let words = |(measure, area): &(Measure, f64)| {
            let what = measure.words().trim_start_matches("left before ");
            format!("{what} in {} m2", number(*area, measure.decimals()))
        };
        let (first, rest) = left.split_first()?;
        let rest: Vec<String> = rest.iter().map(words).collect();
        let then = if rest.is_empty() {
            String::new()
        } else {
            format!("; then {}", rest.join(", "))
        };
        Some(format!("{}: {}{then}.", alternative.name, words(first)))
    };
    comparison.alternatives.iter().filter_map(of).collect()
}

/// Where the same luck does not sharpen the comparison, if anywhere: of one alternative in a sentence, of several in one for
/// each.
#[must_use]
pub fn unsharpened(comparison: &Comparison) -> Option<String> {
    let each = comparison.each;
    let said = (1..comparison.alternatives.len()).filter_map(|i| {
        let names = no_sharper(comparison, i);
        let name = comparison.alternatives.get(i)?.name.as_str();
        (!names.is_empty()).then(|| (name, list(&names)))
    });
    let said: Vec<(&str, String)> = said.collect();
    let (one, many) = (each.one(), each.many());
    let why = format!("there a good {one} of one is no good {one} of the other.");
    let first = comparison.alternatives.first()?.name.as_str();
    match said.as_slice() {
        [] => None,
        [(_, names)] if comparison.alternatives.len() == 2 => Some(format!(
            "Comparing on the same simulated {many} makes {names} no more certain: {why}"
        )),
        several => {
            let sentences: Vec<String> = several
                .iter()
                .map(|(name, names)| format!("{name}: {names}."))
                .collect();
            Some(format!(
                "Comparing on the same simulated {many} makes some figures beside {first} no more certain: {why} {}",
                sentences.join(" ")
            ))
        }
    }
}

/// Figures of one alternative that the same luck makes no more certain.
fn no_sharper(comparison: &Comparison, alternative: usize) -> Vec<String> {
    let differences = comparison.of_alternative(alternative);
    let those =
        differences.filter(|d| d.correlation.is_some_and(|r| r <= 0.0) && d.finding() != Finding::Identical);
    those.map(|d| short(d.measure).to_owned()).collect()
}

#[cfg(test)]
mod tests {
    use super::paid;
    use tankday_study::compare::{Comparison, Payback};

    #[test]
    fn what_comes_back_at_once_is_not_back_in_no_days() {
        let back = |days: f64, soonest: f64, latest: Option<f64>| {
            let payback = Payback {
                alternative: 1,
                against: 0,
                outlay: 40.0,
                days: Some(days),
                soonest: Some(soonest),
                latest,
            };
            paid(&Comparison::of(Vec::new()), &payback, "EUR")
        };
        let at_once = back(0.3, 0.2, Some(0.9));
        assert!(
            at_once.ends_with("pays for itself within a working day."),
            "{at_once}"
        );
        let some = back(3.2, 0.4, Some(12.0));
        assert!(
            some.ends_with("pays for itself in 3 working days (1 to 12)."),
            "{some}"
        );
        let perhaps = back(2.0, 0.4, None);
        assert!(
            perhaps.contains("in 2 working days on average, in 1 at best"),
            "{perhaps}"
        );
    }
}
