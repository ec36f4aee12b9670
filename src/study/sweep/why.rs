//! Names a turning point and its reasons.

use super::turn::{Curve, bend};
use super::{Form, Kind, Sweep};
use crate::compare::LEVEL;
use crate::{Better, Measure};
use tankday_base::print::{capital, how_long, list, number};
use tankday_base::stats::paired_difference;
use tankday_base::units::Span;

/// What happens at a turning point (its place, then its interval), and which causes lie behind it.
pub(super) fn text(
    sweep: &Sweep,
    measure: Measure,
    kind: Kind,
    [at, low, high]: [f64; 3],
    form: &Form,
) -> String {
    let value = |x: f64| bare(form, rounded(x));
    let sure = match (low < high, form.whole) {
        (false, _) => String::new(),
        // Whole numbers are no points of a curve: each was tried, or lies between two that were.
        (true, true) => format!(" ({} to {} can't be told apart)", value(low), value(high)),
        (true, false) => format!(" (95 % sure between {} and {})", value(low), value(high)),
    };
    let place = value(at);
    match kind {
        Kind::Step => String::new(),
        Kind::Best => {
            let below = cause(sweep, at, Side::Below).map(|c| format!(" Below it, {c}."));
            let above = cause(sweep, at, Side::Above).map(|c| format!(" Above it, {c}."));
            format!(
                "{} at {}{place}{sure}.{}{}",
                best(measure),
                if form.whole { "" } else { "about " },
                below.unwrap_or_default(),
                above.unwrap_or_default()
            )
        }
        Kind::Bend => {
            let why = cause(sweep, at, Side::Above).map(|c| format!(" Beyond it, {c}."));
            format!(
                "{}.{}",
                match form.whole {
                    true => bends(sweep, measure, (at, &place)),
                    false => bends(sweep, measure, (at, &format!("about {place}{sure}"))),
                },
                why.unwrap_or_default()
            )
        }
    }
}

/// A step in words: `End of the work steps from 434 down to 386 min between 5 and 6 loads: on either side it hardly changes.`
pub(super) fn step(measure: Measure, (between, levels): ([f64; 2], [f64; 2]), form: &Form) -> String {
    let way = if levels[1] > levels[0] { "up" } else { "down" };
    let places = levels
        .map(|l| number(l, measure.decimals()))
        .iter()
        .collect::<std::collections::BTreeSet<_>>()
        .len();
    // Where two levels read alike, more decimals tell them apart.
    let decimals = measure.decimals() + if places < 2 { 2 } else { 0 };
    let [before, behind] = levels.map(|l| number(l, decimals));
    let unit = measure.unit();
    let space = if unit.is_empty() { "" } else { " " };
    format!(
        "{} steps from {before} {way} to {behind}{space}{unit} between {} and {}: on either side it hardly changes.",
        capital(measure.words()),
        bare(form, between[0]),
        bare(form, between[1])
    )
}

/// Places outside the interval of the best one that are as good but for noise or a trifle: a second valley, or a flat one.
pub(super) fn hardly_worse(at: &[f64], form: &Form) -> String {
    const LISTED: usize = 4;
    let words: Vec<String> = at.iter().map(|x| bare(form, *x)).collect();
    match words.as_slice() {
        [] => String::new(),
        few if few.len() <= LISTED => format!(" Hardly worse: {}.", list(few)),
        [first, .., last] => format!(
            " Hardly worse: {} more of the values tried, between {first} and {last}.",
            words.len()
        ),
        [_] => String::new(),
    }
}

/// That it is best, in words.
fn best(measure: Measure) -> String {
    match measure {
        Measure::Finish => "The work ends earliest".to_owned(),
        Measure::LateOrders => "The fewest orders are late".to_owned(),
        Measure::Bare => "The fewest orders lie bare too long".to_owned(),
        Measure::Unready => "The fewest orders are left over".to_owned(),
        Measure::InShop => "An order is in the shop for the shortest time".to_owned(),
        Measure::Area => "The most is coated".to_owned(),
        Measure::Cost => "A day costs least".to_owned(),
        Measure::CostPerArea => "A m2 costs least".to_owned(),
        _ if measure.better() == Better::Lower => format!("{} is least", capital(measure.words())),
        _ => format!("{} is most", capital(measure.words())),
    }
}

/// `8 loads` of `after 8 loads`: in a sentence the words before it would be in the way.
pub(super) fn bare(form: &Form, x: f64) -> String {
    let text = form.at(x).text;
    text.strip_prefix(&form.before).unwrap_or(&text).to_owned()
}

/// Three digits: no turning point is known better.
fn rounded(x: f64) -> f64 {
    format!("{x:.2e}").parse().unwrap_or(x)
}

/// A bend in words: `End of the work: hardly any gain beyond about 10 L`.
fn bends(sweep: &Sweep, measure: Measure, (at, place): (f64, &str)) -> String {
    let name = capital(measure.words());
    let curve = Curve::acting(sweep, measure);
    let found = curve.as_ref().and_then(|c| bend(&c.at, &c.means()));
    let Some(bend) = found else {
        return format!("{name} changes at {place}");
    };
    let way = |slope: f64| if slope < 0.0 { "falls" } else { "rises" };
    let gains = |slope: f64| match measure.better() {
        Better::Lower => slope < 0.0,
        Better::Higher => slope > 0.0,
        Better::Neither => false,
    };
    let (before, behind) = (bend.before.abs(), bend.behind.abs());
    // What is said to hardly change changes little in the table as well, not only along the broken line.
    let [left, right] = curve.as_ref().map_or([0.0; 2], |c| changes(c, at));
    let hardly = right < HARDLY * left;
    if hardly && gains(bend.before) {
        return format!("{name}: hardly any gain beyond {place}");
    }
    if hardly {
        return format!(
            "{name} {} up to {place} and hardly changes beyond",
            way(bend.before)
        );
    }
    if left < HARDLY * right {
        return format!(
            "{name} hardly changes up to {place} and {} beyond",
            way(bend.behind)
        );
    }
    if (bend.before < 0.0) != (bend.behind < 0.0) {
        return format!(
            "{name} {} up to {place} and {} beyond",
            way(bend.before),
            way(bend.behind)
        );
    }
    let (times, more) = if behind > before {
        (behind / before, "faster")
    } else {
        (before / behind, "more slowly")
    };
    format!(
        "{name} {} {} times {more} beyond {place}",
        way(bend.behind),
        number(times, 1)
    )
}

/// Less than this share of what a figure changes on the other side of a place is hardly a change.
const HARDLY: f64 = 0.1;

/// How far the means go from that at a place, at most, before it and behind it.
fn changes(curve: &Curve, at: f64) -> [f64; 2] {
    let means = curve.means();
    let Some(knot) = nearest(&curve.at, at) else {
        return [0.0; 2];
    };
    let own = means.get(knot).copied().unwrap_or_default();
    let most = |side: &[f64]| side.iter().map(|m| (m - own).abs()).fold(0.0, f64::max);
    [
        most(means.get(..knot).unwrap_or_default()),
        most(means.get(knot + 1..).unwrap_or_default()),
    ]
}

/// A side of the turning point.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Side {
    Below,
    Above,
}

/// What tanks lose time to that grows most from the turning point to the end of one side, in words; none where that is less
/// than a minute a day.
fn cause(sweep: &Sweep, at: f64, side: Side) -> Option<String> {
    let grown = |measure: &Measure| -> Option<(f64, Measure)> {
        let curve = Curve::acting(sweep, *measure)?;
        let near = nearest(&curve.at, at)?;
        let end = match side {
            Side::Below => 0,
            Side::Above => curve.at.len() - 1,
        };
        let apart = paired_difference(curve.columns.get(end)?, curve.columns.get(near)?, LEVEL)?;
        (end != near && apart.interval.low() > 0.0).then_some((apart.interval.mean, *measure))
    };
    let most = Measure::LOST
        .iter()
        .filter_map(grown)
        .max_by(|a, b| a.0.total_cmp(&b.0))?;
    if most.0 < 1.0 {
        return None;
    }
    let named = match most.1 {
        Measure::LostHeatUp => "heat-up costs",
        Measure::LostRecovery => "recovery costs",
        Measure::LostCare => "stops for care of the bath cost",
        Measure::LostHands => "waiting for hands costs",
        _ => "waiting for work from the steps before costs",
    };
    Some(format!(
        "{named} up to {} more a day",
        how_long(Span::minutes(most.0))
    ))
}

fn nearest(at: &[f64], x: f64) -> Option<usize> {
    (0..at.len()).min_by(|a, b| {
        let off = |i: &usize| at.get(*i).map_or(f64::MAX, |v| (v - x).abs());
        off(a).total_cmp(&off(b))
    })
}
