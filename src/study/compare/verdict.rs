//! One sentence or two: which to take, for what, and what the answer hangs on.

use super::beside::{hangs_on, identical, objections, sized, small_but_sure, told};
use super::rank::{DECIDING, speaks};
use super::{Alternative, Comparison, Difference, Leaning, Left, Ranking, least_outlay, payback, ranking};
use crate::Measure;
use tankday_base::print::{list, number};

/// The verdict.
#[must_use]
pub fn verdict(comparison: &Comparison) -> String {
    let (answer, about) = match comparison.alternatives.len() {
        0 | 1 => return "There is nothing to compare.".to_owned(),
        2 => (of_two(comparison), vec![0, 1]),
        _ => {
            let ranking = ranking(comparison);
            (of_many(comparison, &ranking), ranking.take)
        }
    };
    let least = least_outlay(comparison);
    let paid = about.into_iter().filter_map(|i| comes_back(comparison, i, least));
    std::iter::once(answer).chain(paid).collect::<Vec<_>>().join(" ")
}

/// Whether an outlay comes back through lower costs than those of the alternative with the least, in one sentence; none if
/// nothing more was laid out. What it comes to in money is told beside the differences.
fn comes_back(comparison: &Comparison, alternative: usize, least: usize) -> Option<String> {
    let payback = payback(comparison, alternative, least)?;
    let name = &comparison.alternatives.get(alternative)?.name;
    // What comes back sooner comes back on the first day.
    let days = |days: f64| number(days.max(1.0), 0);
    if payback.latest.is_some_and(|latest| latest <= 1.0) {
        return Some(format!(
            "The outlay for {name} pays for itself within a working day."
        ));
    }
    if payback.days.is_some_and(|days| days > NEVER_PAYS) {
        return Some(format!(
            "The outlay for {name} doesn't pay for itself within ten years."
        ));
    }
    Some(match (payback.days, payback.latest) {
        (Some(mean), Some(latest)) if days(payback.soonest.unwrap_or(mean)) == days(latest) => {
            format!(
                "The outlay for {name} pays for itself in {} working days.",
                days(mean)
            )
        }
        (Some(mean), Some(latest)) => format!(
            "The outlay for {name} pays for itself in {} working days ({} to {}).",
            days(mean),
            days(payback.soonest.unwrap_or(mean)),
            days(latest)
        ),
        (Some(mean), None) => format!(
            "The outlay for {name} pays for itself in {} working days on average, but perhaps never.",
            days(mean)
        ),
        _ => format!("The outlay for {name} doesn't pay for itself through lower costs."),
    })
}

/// Working days of ten years; what pays for itself later does not: common practice, no source.
const NEVER_PAYS: f64 = 2_500.0;

/// Alternatives, and means, that are named one by one.
pub(super) const NAMED: usize = 6;
const ALIKE: &str = "are about the same: no difference that matters is larger than its noise";

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
    if identical(comparison, &[0, 1]) {
        return format!("{} and {} {}.", name(0), name(1), same(comparison));
    }
    let words = |good: bool| -> Vec<String> {
        let speaking = deciding.iter().filter(|d| speaks(d) == Some(good));
        speaking.map(|d| told(d)).collect()
    };
    let (pro, con) = (words(true), words(false));
    let answer = match leaning(comparison, 1) {
        Leaning::Same => {
            return format!(
                "{} and {} {ALIKE}.{}",
                name(0),
                name(1),
                small_but_sure(comparison, &[0, 1])
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
    format!("{answer}{}", hangs_on(comparison, 1, &[0]))
}

fn taken(name: &str, pro: &[String], con: &[String]) -> String {
    let against = if con.is_empty() {
        String::new()
    } else {
        format!(" Against it: {}; where that weighs more, stay.", list(con))
    };
    format!("Take {name}: {}.{against}", list(pro))
}

fn of_many(comparison: &Comparison, ranking: &Ranking) -> String {
    let Ranking { take, leave, alike } = ranking;
    let n = comparison.alternatives.len();
    match (take.as_slice(), leave.len()) {
        ([], _) => format!(
            "None of them stands out: each is behind another. {}",
            behind(comparison, leave)
        ),
        (all, 0) if *alike => format!(
            "{} {}.{}",
            named(comparison, all),
            alike_words(comparison, all),
            small_but_sure(comparison, all)
        ),
        (all, 0) => format!("{}.", cannot_tell(comparison, all)),
        ([best], left) if left + 1 == n => {
            let others: Vec<&Left> = leave.iter().filter(|l| l.behind != *best).collect();
            let one = leave.first().map(|l| l.measure);
            let by_one = others.is_empty() && leave.iter().all(|l| Some(l.measure) == one);
            let why = match one.filter(|_| by_one) {
                Some(measure) => format!("It is the best by {}.", measure.words()),
                None => behind(comparison, leave),
            };
            let others: Vec<usize> = leave.iter().map(|l| l.alternative).collect();
            format!(
                "Take {}. {why} {}{}{}",
                named(comparison, &[*best]),
                sure(comparison, leave),
                objections(comparison, &[*best], &others),
                hangs_on(comparison, *best, &others)
            )
        }
        (some, _) => {
            let not: Vec<usize> = leave.iter().map(|l| l.alternative).collect();
            let tie = if *alike {
                format!("{} {}", those(comparison, some), alike_words(comparison, some))
            } else {
                cannot_tell(comparison, some)
            };
            format!(
                "Take {}, {}. {tie}.{} {} {}{}",
                either(comparison, some),
                match not.len() {
                    ..=NAMED => format!("not {}", either(comparison, &not)),
                    others => format!("none of the {others} others"),
                },
                if *alike {
                    small_but_sure(comparison, some)
                } else {
                    String::new()
                },
                behind(comparison, leave),
                sure(comparison, leave),
                objections(comparison, some, &not)
            )
        }
    }
}

fn name(comparison: &Comparison, at: usize) -> String {
    comparison
        .alternatives
        .get(at)
        .map_or_else(String::new, |a| a.name.clone())
}

/// `a, b and c`.
pub(super) fn named(comparison: &Comparison, those: &[usize]) -> String {
    list(&those.iter().map(|i| name(comparison, *i)).collect::<Vec<_>>())
}

/// `a or b`.
fn either(comparison: &Comparison, those: &[usize]) -> String {
    match those.len() {
        ..=NAMED => those
            .iter()
            .map(|i| name(comparison, *i))
            .collect::<Vec<_>>()
            .join(" or "),
        many => format!("one of {many}"),
    }
}

/// How those compare that no difference that matters tells apart.
fn alike_words(comparison: &Comparison, those: &[usize]) -> String {
    match identical(comparison, those) {
        true => same(comparison),
        false => ALIKE.to_owned(),
    }
}

fn same(comparison: &Comparison) -> String {
    format!("do exactly the same on every {}", comparison.each.one())
}

/// `a, b and c`; of many, that it is those.
fn those(comparison: &Comparison, those: &[usize]) -> String {
    if those.len() > NAMED {
        "Those".to_owned()
    } else {
        named(comparison, those)
    }
}

fn cannot_tell(comparison: &Comparison, all: &[usize]) -> String {
    format!(
        "{} cannot be told apart with certainty from so many simulated {}",
        those(comparison, all),
        comparison.each.many()
    )
}

/// Why those that are left are left: `By end of the work, b is behind a.`
fn behind(comparison: &Comparison, leave: &[Left]) -> String {
    let one = |l: &Left| {
        format!(
            "By {}, {} is behind {}.",
            l.measure.words(),
            name(comparison, l.alternative),
            name(comparison, l.behind)
        )
    };
    let mut words: Vec<String> = leave.iter().take(NAMED).map(one).collect();
    if leave.len() > NAMED {
        words.push(format!("So it is with {} more.", leave.len() - NAMED));
    }
    words.join(" ")
}

/// The means of the figures that decided, and how sure that is.
fn sure(comparison: &Comparison, leave: &[Left]) -> String {
    let decided = DECIDING.iter().filter(|m| leave.iter().any(|l| l.measure == **m));
    let means: Vec<String> = decided.map(|m| means(comparison, *m)).collect();
    format!("{} 95 % sure of all these statements together.", means.join(" "))
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
    format!("Means of {}: {}.", measure.words(), told.join(", "))
}
