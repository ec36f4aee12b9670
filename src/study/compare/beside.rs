//! What speaks against the answer, and what it hangs on: clauses about one alternative beside one other or several.

use super::rank::{DECIDING, speaks};
use super::verdict::{NAMED, named};
use super::{Comparison, Difference, Finding};
use crate::Measure;
use tankday_base::print::{how_long, list, number};
use tankday_base::units::Span;

/// A difference as a clause: `an order is in the shop 9.0 min longer`.
pub(super) fn told(difference: &Difference) -> String {
    Group::of(difference).told()
}

/// Whether a difference is not nothing as it is written.
fn shows(difference: &Difference) -> bool {
    let written = number(difference.interval.mean.abs(), places(difference.measure));
    written.chars().any(|c| c.is_ascii_digit() && c != '0')
}

/// A value with its unit.
pub(super) fn sized(measure: Measure, value: f64) -> String {
    with_unit(measure, number(value, places(measure)))
}

fn places(measure: Measure) -> usize {
    measure.decimals().max(1)
}

fn with_unit(measure: Measure, size: String) -> String {
    match measure.unit() {
        "" => size,
        unit => format!("{size} {unit}"),
    }
}

/// Differences of one alternative in one figure, all in the same direction, and the others that it differs from.
struct Group {
    measure: Measure,
    less: bool,
    least: f64,
    most: f64,
    others: Vec<usize>,
}

/// From so many minutes on hours are named.
const LONG: f64 = 90.0;

impl Group {
    fn of(difference: &Difference) -> Self {
        let size = difference.interval.mean.abs();
        Self {
            measure: difference.measure,
            less: difference.interval.mean < 0.0,
            least: size,
            most: size,
            others: vec![difference.against],
        }
    }

    /// Differences by figure and direction, in the order in which they are given.
    fn all(differences: impl Iterator<Item = Difference>) -> Vec<Self> {
        let mut groups: Vec<Self> = Vec::new();
        for difference in differences {
            let one = Self::of(&difference);
            let same = |g: &&mut Self| g.measure == one.measure && g.less == one.less;
            match groups.iter_mut().find(same) {
                Some(group) => {
                    (group.least, group.most) = (group.least.min(one.least), group.most.max(one.most));
                    group.others.extend(one.others);
                }
                None => groups.push(one),
            }
        }
        groups
    }

    /// `181.17 to 182.69 EUR`.
    fn size(&self) -> String {
        if self.measure.unit() == "min" && self.most >= LONG {
            let words = |minutes: f64| how_long(Span::minutes(minutes));
            let (least, most) = (words(self.least), words(self.most));
            return if least == most {
                most
            } else {
                format!("{least} to {most}")
            };
        }
        let to = |value: f64| number(value, places(self.measure));
        let (least, most) = (to(self.least), to(self.most));
        let size = if least == most {
            most
        } else {
            format!("{least} to {most}")
        };
        with_unit(self.measure, size)
    }

    fn told(&self) -> String {
        let (size, more) = (self.size(), if self.less { "less" } else { "more" });
        let which = |one, other| if self.less { one } else { other };
        match self.measure {
            Measure::Finish => format!("the work ends {size} {}", which("earlier", "later")),
            Measure::LateOrders => format!("{size} orders {} are late", which("fewer", "more")),
            Measure::Bare => format!(
                "{size} orders {} lie bare too long or take no coat",
                which("fewer", "more")
            ),
            Measure::Unready => format!("{size} orders {} are left over", which("fewer", "more")),
            Measure::InShop => format!("an order is in the shop {size} {}", which("less", "longer")),
            Measure::Area => format!("{size} a day {more} is coated"),
            Measure::Hands => format!("hands are at work {size} a day {}", which("less", "longer")),
            Measure::Power => format!("{size} a day {more} is drawn"),
            Measure::Cost => format!("a day costs {size} {more}"),
            Measure::CostPerArea => format!("a m2 costs {size} {more}"),
            measure => format!("{} {size} {more}", measure.words()),
        }
    }

    /// `35 min a day less waiting for hands`
    fn lost(&self) -> String {
        let more = if self.less { "less" } else { "more" };
        let to = self.measure.words().trim_start_matches("lost ");
        let (least, most) = (number(self.least, 0), number(self.most, 0));
        if least == most {
            return format!("{most} min a day {more} {to}");
        }
        format!("{least} to {most} min a day {more} {to}")
    }
}

/// Whether alternatives do exactly the same on every day.
#[must_use]
pub fn identical(comparison: &Comparison, those: &[usize]) -> bool {
    let Some((first, rest)) = those.split_first() else {
        return false;
    };
    let same = |other: &usize| {
        let all = Measure::ALL.iter();
        let mut found = all.filter_map(|m| Difference::of(&comparison.alternatives, *other, *first, *m));
        found.all(|d| d.finding() == Finding::Identical)
    };
    rest.iter().all(same)
}

/// What speaks against each of those to take, beside the others: each difference that two compared alone would name.
pub(super) fn objections(comparison: &Comparison, take: &[usize], others: &[usize]) -> String {
    let against = |one: &usize| {
        let by_figure = DECIDING.iter().flat_map(|m| {
            let difference = |o: &usize| Difference::of(&comparison.alternatives, *one, *o, *m);
            others.iter().filter_map(difference).collect::<Vec<_>>()
        });
        let groups = Group::all(by_figure.filter(|d| speaks(d) == Some(false)));
        if groups.is_empty() {
            return String::new();
        }
        let clauses: Vec<String> = groups
            .iter()
            .map(|g| format!("{} than with {}", g.told(), whom(comparison, g, others)))
            .collect();
        let many = groups
            .iter()
            .flat_map(|g| &g.others)
            .any(|o| *o != groups[0].others[0]);
        format!(
            " Against {}: {}; where that weighs more, take {}.",
            named(comparison, &[*one]),
            list(&clauses),
            if many { "one of those" } else { "that one" }
        )
    };
    take.iter().take(NAMED).map(against).collect()
}

/// Beside whom a difference is one.
fn whom(comparison: &Comparison, group: &Group, others: &[usize]) -> String {
    match group.others.len() {
        many if many == others.len() && many > 1 => "any of the others".to_owned(),
        ..=NAMED => {
            let names: Vec<String> = group.others.iter().map(|o| named(comparison, &[*o])).collect();
            list(&names)
        }
        many => format!("{many} of the others"),
    }
}

/// The causes behind the answer, the largest first: without them it would be another. Beside several, those that are there
/// beside each of them.
pub(super) fn hangs_on(comparison: &Comparison, one: usize, others: &[usize]) -> String {
    let differences = Measure::LOST.iter().flat_map(|m| {
        let difference = |o: &usize| Difference::of(&comparison.alternatives, one, *o, *m);
        others.iter().filter_map(difference).collect::<Vec<_>>()
    });
    let there = |d: &Difference| matches!(d.finding(), Finding::Lower | Finding::Higher);
    let mut causes = Group::all(differences.filter(there));
    // What rounds to no minute at all is no reason.
    causes.retain(|g| g.others.len() == others.len() && g.most >= 0.5);
    causes.sort_by(|a, b| b.most.total_cmp(&a.most));
    let told: Vec<String> = causes.iter().take(2).map(Group::lost).collect();
    if told.is_empty() {
        return String::new();
    }
    let beside = if others.len() > 1 {
        ", against every other,"
    } else {
        ""
    };
    format!(
        " The reason: the tanks lose{beside} {}; what changes that changes the answer.",
        list(&told)
    )
}

/// Differences to the first of alternatives that are about the same: they are there, though too small to decide by
/// themselves.
pub(super) fn small_but_sure(comparison: &Comparison, those: &[usize]) -> String {
    let Some((first, rest)) = those.split_first() else {
        return String::new();
    };
    let of = |one: &usize| {
        let figures = [Measure::InShop, Measure::Hands, Measure::Power, Measure::Cost];
        let all = figures.iter();
        let found = all.filter_map(|m| Difference::of(&comparison.alternatives, *one, *first, *m));
        let sure = found.filter(|d| !matches!(d.finding(), Finding::Noise | Finding::Identical) && shows(d));
        let words: Vec<String> = sure.map(|d| told(&d)).collect();
        match (words.is_empty(), rest.len()) {
            (true, _) => String::new(),
            (false, 1) => format!(" Small but sure: {}.", list(&words)),
            (false, _) => format!(
                " Small but sure, {} beside {}: {}.",
                named(comparison, &[*one]),
                named(comparison, &[*first]),
                list(&words)
            ),
        }
    };
    rest.iter().take(NAMED).map(of).collect()
}
