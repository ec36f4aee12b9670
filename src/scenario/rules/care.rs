//! Care of the baths: chores that end, in air that lets a bath cool, by hands that are there.

use super::{Facts, Rule, room};
use crate::finding::{Code, Finding};
use crate::node::Spanned;
use crate::written::{Act, Arrives, Order};
use tankday_base::shop::{Chore, Day, Reads, Trigger, Trimming};
use tankday_base::units::{Area, Moment, Quantity, Span};

pub(super) const ALL: &[Rule] = &[
    Rule::Act(ends),
    Rule::Whole(no_chase),
    Rule::Whole(inside_limits),
    Rule::Whole(called_in_time),
    Rule::Act(has_hands),
    Rule::Act(heel),
    Rule::Whole(can_act),
];

/// What a chore brings a reading to.
fn brings(chore: &Chore) -> Option<Brings> {
    Some(match *chore {
        Chore::Replenish { to, .. } => Brings::Strength(to.in_points()),
        Chore::Trim { to, .. } => Brings::Ratio(to),
        Chore::Condition { to, .. } => Brings::Iron(to.in_grams_per_litre()),
        Chore::Stop(_) | Chore::Renew { .. } => return None,
    })
}

#[derive(Debug, Clone, Copy)]
enum Brings {
    Strength(f64),
    Ratio(f64),
    Iron(f64),
}

impl Brings {
    /// Whether the reading that is brought about triggers again.
    fn triggers(self, trigger: Trigger) -> bool {
        match (self, trigger) {
            (Self::Strength(to), Trigger::Reads(Reads::StrengthBelow(mark))) => to <= mark.in_points(),
            (Self::Ratio(to), Trigger::Reads(Reads::RatioBelow(mark))) => to <= mark,
            (Self::Ratio(to), Trigger::Reads(Reads::RatioAbove(mark))) => to >= mark,
            (Self::Iron(to), Trigger::Reads(Reads::IronBelow(mark))) => to <= mark.in_grams_per_litre(),
            (Self::Iron(to), Trigger::Reads(Reads::IronAbove(mark))) => to >= mark.in_grams_per_litre(),
            _ => false,
        }
    }
}

/// A chore does not call for itself: what it brings about lies beyond its own mark.
fn ends(_: &Facts, a: &Act) -> Option<Finding> {
    let brings = brings(a.chore.as_ref()?)?;
    let trigger = a.when.iter().find(|t| brings.triggers(t.value))?;
    Some(
        Finding::error(Code::Contradiction, trigger.at)
            .says(format!(
                "`{}` would never end: what it brings about calls for it again",
                a.name
            ))
            .label("still so afterwards")
            .help("write a `to` well beyond this mark"),
    )
}

/// Two chores do not call for each other.
fn no_chase(f: &Facts) -> Vec<Finding> {
    let mut found = Vec::new();
    for a in f.acts().filter(|a| !a.when.is_empty()) {
        for b in f.acts().filter(|b| b.name != a.name) {
            let Some(brings) = a.chore.as_ref().and_then(brings) else {
                continue;
            };
            let Some(back) = b.when.iter().find(|t| brings.triggers(t.value)) else {
                continue;
            };
            found.push(
                Finding::error(Code::Contradiction, back.at)
                    .says(format!("`{}` and `{}` would chase each other", a.name, b.name))
                    .label(format!("met by what `{}` brings about", a.name))
                    .and(a.at, "the other")
                    .help("leave room between the two marks"),
            );
        }
    }
    found
}

/// The limits of every bath that wears: which reading, between which values a load goes in, and where that stands.
fn limits<'a>(f: &Facts<'a>) -> impl Iterator<Item = (&'static str, Spanned<(f64, f64)>)> + use<'a> {
    let wears = f
        .file
        .baths
        .iter()
        .filter(|b| b.wears.as_ref().is_some_and(|w| w.value));
    let limits: Vec<_> = wears
        .filter_map(|b| b.limits.as_ref())
        .flat_map(|l| l.spans())
        .collect();
    limits.into_iter()
}

/// What a reading is called in print.
fn in_words(name: &str) -> &str {
    match name {
        "strength" => "total acid",
        "ratio" => "acid ratio",
        other => other,
    }
}

/// What care brings about lets loads in.
fn inside_limits(f: &Facts) -> Vec<Finding> {
    let mut found = Vec::new();
    for a in f.acts().filter(|a| a.written && !a.when.is_empty()) {
        let (name, to) = match a.chore {
            Some(Chore::Replenish { to, .. }) => ("strength", to.base()),
            Some(Chore::Trim { to, .. }) => ("ratio", to),
            Some(Chore::Condition { to, .. }) => ("iron", to.base()),
            _ => continue,
        };
        for (_, limit) in limits(f).filter(|l| l.0 == name) {
            let (least, most) = limit.value;
            if to < least || to > most {
                found.push(
                    Finding::error(Code::Contradiction, a.at)
                        .says(format!(
                            "after `{}` no load could go in: its `to` lies outside the limits",
                            a.name
                        ))
                        .label("outside afterwards")
                        .and(
                            limit.at,
                            format!("the {} of a bath that takes loads", in_words(name)),
                        )
                        .help("write a `to` inside the limits, or wider limits"),
                );
            }
        }
    }
    found
}

/// A mark beyond the limit is met only when no load goes in any more.
fn called_in_time(f: &Facts) -> Vec<Finding> {
    let mut found = Vec::new();
    for a in f.acts().filter(|a| a.written) {
        for trigger in &a.when {
            let Trigger::Reads(reads) = trigger.value else {
                continue;
            };
            let (name, mark, below) = match reads {
                Reads::StrengthBelow(mark) => ("strength", mark.base(), true),
                Reads::RatioBelow(mark) => ("ratio", mark, true),
                Reads::RatioAbove(mark) => ("ratio", mark, false),
                Reads::IronAbove(mark) => ("iron", mark.base(), false),
                Reads::SludgeAbove(mark) => ("sludge", mark.base(), false),
                // Too little iron stops no load; what is foreign has no mark.
                Reads::IronBelow(_) | Reads::Contaminated => continue,
            };
            let late = |l: &(&str, Spanned<(f64, f64)>)| {
                l.0 == name
                    && if below {
                        mark < l.1.value.0
                    } else {
                        mark > l.1.value.1
                    }
            };
            if let Some((_, limit)) = limits(f).find(late) {
                found.push(
                    Finding::warns(Code::Contradiction, trigger.at)
                        .says(format!(
                            "`{}` comes too late: the bath takes no load long before",
                            a.name
                        ))
                        .label("beyond the limit")
                        .and(limit.at, format!("no load outside this {}", in_words(name)))
                        .help("write a mark inside the limits"),
                );
            }
        }
    }
    found
}

/// Care needs hands.
fn has_hands(f: &Facts, act: &Act) -> Option<Finding> {
    let none = f.no_hands()?;
    (act.written && !act.when.is_empty()).then(|| {
        Finding::new(
            Code::Hands,
            act.at,
            format!("`{}` needs hands, and there are none", act.name),
        )
        .label("nobody does it")
        .and(none.at, "no hands")
        .help("give the shop hands, or write `never`")
    })
}

/// The heel is a part of the bath, and so is what is lost.
fn heel(_: &Facts, act: &Act) -> Option<Finding> {
    match act.chore? {
        Chore::Stop(stop) if stop.heel.in_fraction() + stop.lost.in_fraction() >= 1.0 => Some(
            Finding::new(Code::Range, act.at, "nothing of the bath would be left")
                .label("heel and loss take all of it")
                .help("write a heel of 10 to 30 %, and a loss of 1 to 3 %"),
        ),
        Chore::Trim { by, to, .. } if !(2.0..=12.0).contains(&to) => Some(
            Finding::new(Code::Range, act.at, format!("no bath has an acid ratio of {to}"))
                .label(match by {
                    Trimming::PhosphoricAcid(_) => "lowered to",
                    _ => "raised to",
                })
                .help("write an acid ratio inside `limits`, such as 6"),
        ),
        _ => None,
    }
}

/// A rule that never acts is not what was meant.
fn can_act(f: &Facts) -> Vec<Finding> {
    let mut found = Vec::new();
    for act in f.acts().filter(|a| a.written) {
        for trigger in &act.when {
            let late = || too_late(f, trigger.value, act.chore.as_ref());
            if let Some((why, help)) = never(f, trigger.value).or_else(late) {
                let message = format!("`{}` never happens: {why}", act.name);
                found.push(
                    Finding::warning(Code::Contradiction, trigger.at, message)
                        .label("never comes")
                        .help(help),
                );
            }
        }
    }
    found
}

/// Why a trigger never comes, and what to write.
fn never(f: &Facts, trigger: Trigger) -> Option<(String, &'static str)> {
    let days = f.hours.map(|h| h.calendar.days.as_slice()).unwrap_or_default();
    if !f
        .file
        .baths
        .iter()
        .any(|b| b.wears.as_ref().is_none_or(|w| w.value))
    {
        return Some((
            "no bath changes with its work".to_owned(),
            "take `wears: no` away, or this rule",
        ));
    }
    let why = match trigger {
        Trigger::Clock(time) if !days.is_empty() && !days.iter().any(|d| is_open(d, time)) => {
            return Some((
                format!("nobody is there at {}", clock(time)),
                "write a time within the opening hours, or `overnight`",
            ));
        }
        Trigger::AtBreak if !days.is_empty() && days.iter().all(|d| d.breaks.is_empty()) => {
            return Some((
                "no day has a break".to_owned(),
                "give the days `breaks`, or write a time such as `at 12:00`",
            ));
        }
        Trigger::Overnight if days.len() == 1 => {
            return Some((
                "the shop does not open again after its only day".to_owned(),
                "give the shop another day, or write `after the last load`",
            ));
        }
        Trigger::Loads(n) => {
            let loads = loads(f, |_| true).filter(|most| u64::from(n) > most.ever)?;
            return Some((loads.words(), REACHED));
        }
        Trigger::Coated(area) if area > coated(f)? => "that is more than all orders together have to coat",
        Trigger::Reads(Reads::StrengthBelow(mark)) if mark.base() <= 0.0 => NOT_BELOW_NOTHING,
        Trigger::Reads(Reads::IronBelow(mark)) if mark.base() <= 0.0 => NOT_BELOW_NOTHING,
        // Free acid counts twice in the total acid.
        Trigger::Reads(Reads::RatioBelow(mark)) if mark <= 2.0 => "no bath has an acid ratio of 2 or less",
        Trigger::Reads(Reads::SludgeAbove(mark)) if mark.in_fraction() >= 1.0 => "no bath is all sludge",
        _ => return None,
    };
    Some((why.to_owned(), REACHED))
}

const REACHED: &str = "write a mark that this work reaches, or `never`";

/// A clock time so close to closing that hands do not come to the end of it on any day.
fn too_late(f: &Facts, trigger: Trigger, chore: Option<&Chore>) -> Option<(String, &'static str)> {
    let takes = match chore? {
        Chore::Replenish { takes, .. } | Chore::Trim { takes, .. } => *takes,
        _ => return None,
    };
    let Trigger::Clock(time) = trigger else {
        return None;
    };
    let days = f.hours.map(|h| h.calendar.days.as_slice()).unwrap_or_default();
    let ends = |day: &&Day| is_open(day, time) && is_open_until(day, time + takes);
    (!days.is_empty() && !days.iter().any(|d| ends(&d))).then(|| {
        (
            format!(
                "it takes {} min and the shop closes before that",
                takes.in_minutes()
            ),
            "write a time that leaves enough of the day, or `overnight`",
        )
    })
}

fn is_open_until(day: &Day, time: Span) -> bool {
    let at = day.open - day.open.day_and_time().1 + time;
    day.close == Moment::NEVER || at <= day.close
}

const NOT_BELOW_NOTHING: &str = "no bath reads below nothing";

/// Whether the shop is open at a time of day, breaks included: what a break holds up comes after it.
fn is_open(day: &Day, time: Span) -> bool {
    let at = day.open - day.open.day_and_time().1 + time;
    day.close == Moment::NEVER || (day.open <= at && at < day.close)
}

fn clock(time: Span) -> String {
    (Moment::ZERO + time).clock()
}

/// How many loads orders make.
#[derive(Debug, Clone, Copy)]
pub(super) struct Loads {
    /// Divided as the shop divides them, in the tanks that take the least of each.
    usual: u64,
    /// At most: a plan may divide an order into one load more at each bath.
    pub(super) ever: u64,
}

impl Loads {
    /// `the orders make 6 loads at most`
    pub(super) fn words(self) -> String {
        format!(
            "the orders make {}",
            match self.usual {
                1 => "1 load".to_owned(),
                many => format!("{many} loads at most"),
            }
        )
    }
}

/// Loads of all orders of a kind; unknown where orders come again and again, pieces go in again, or nothing says how many
/// fit.
pub(super) fn loads(f: &Facts, of: impl Fn(&Order) -> bool) -> Option<Loads> {
    let again = |o: &Order| matches!(o.arrives, Some(Arrives::Every(_)));
    if repeats(f) || f.file.orders.iter().any(again) {
        return None;
    }
    let mut all = Loads { usual: 0, ever: 0 };
    for (order, part, step) in f.coatings().filter(|(order, ..)| of(order)) {
        let tanks = f.tanks_meant(order, part, step);
        let fit: Option<Vec<f64>> = tanks.iter().map(|t| room::pieces(f, part, t)).collect();
        let least = fit?.into_iter().reduce(f64::min)?;
        let count = f64::from(order.count.as_ref()?.value);
        let own = (count / least).ceil() as u64;
        all.usual += own;
        all.ever += own + u64::from(count > 1.0);
    }
    Some(all)
}

/// All surface that goes into a bath; unknown where orders come again and again, or a part has no surface.
fn coated(f: &Facts) -> Option<Area> {
    let square_millimetres = sum(f, |count, area| count * (area.base() * 1e6).ceil() as u64)?;
    Some(Area::from_base(square_millimetres as f64 * 1e-6))
}

fn repeats(f: &Facts) -> bool {
    f.steps().any(|(_, step)| step.fails.is_some())
}

fn sum(f: &Facts, of: impl Fn(u64, Area) -> u64) -> Option<u64> {
    let mut sum: u64 = 0;
    for order in &f.file.orders {
        if matches!(order.arrives, Some(Arrives::Every(_))) {
            return None;
        }
        let part = f.part(&order.part.as_ref()?.value)?;
        let (_, area) = f.measures(part)?;
        sum = sum.saturating_add(of(u64::from(order.count.as_ref()?.value), area));
    }
    (!repeats(f)).then_some(sum)
}
