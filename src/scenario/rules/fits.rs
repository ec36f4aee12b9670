//! Whether parts lie under the solution of the tanks that are to coat them, and which tanks are meant.

use super::{Facts, Rule};
use crate::finding::{Code, Finding};
use crate::node::{SourceSpan, Spanned};
use crate::thing::{Key, Thing};
use crate::walk::list;
use crate::written::{Order, Part, Step, Tank};
use std::collections::BTreeSet;
use tankday_base::shop::{Goes, Inside, Lies, depth};
use tankday_base::units::{Length, Quantity};

pub(super) const ALL: &[Rule] = &[
    Rule::Whole(said_once),
    Rule::Whole(meant_for_no_tank),
    Rule::Whole(|f| each(f, lies_under)),
    Rule::Whole(|f| each(f, too_long_for_some)),
    Rule::Whole(|f| each(f, just_fits)),
];

/// A step names its place and its bath once.
fn said_once(f: &Facts) -> Vec<Finding> {
    let alike = [(&Step::tanks, &Step::stations), (&Step::_other, &Step::bath)];
    let twice = f.steps().flat_map(|(_, step)| {
        let both = |(key, other): (&Key, &Key)| Some((key.name, step.both(key, other)?));
        alike.into_iter().filter_map(both)
    });
    let again = |(key, (at, other)): (&str, (SourceSpan, SourceSpan))| {
        Finding::error(Code::Contradiction, at)
            .says(format!("`{key}` says again where this happens"))
            .label("one of the two")
            .and(other, "or this")
            .help("leave one of the two out")
    };
    twice.map(again).collect()
}

/// Every coating with what may coat it, each part and step once.
fn coatings<'a>(f: &Facts<'a>) -> Vec<(&'a Order, &'a Part, &'a Step, Vec<&'a Tank>)> {
    f.coatings()
        .map(|(order, part, step)| (order, part, step, f.tanks_meant(order, part, step)))
        .collect()
}

/// What is meant for a tank coats in it.
fn meant_for_no_tank(f: &Facts) -> Vec<Finding> {
    let mut found = Vec::new();
    for order in &f.file.orders {
        let all = f.coatings_of(order);
        let Some((_, part, step)) = all.first().copied() else {
            continue;
        };
        let before = found.len();
        let strange = |name: &&Spanned<String>| {
            let tank = |s: &Step| f.tanks_for(s).iter().any(|t| called(t, &name.value));
            f.tank(&name.value).is_some() && !all.iter().any(|(_, _, s)| tank(s))
        };
        let wrong = part.tanks.iter().chain(&order.tanks).filter(strange);
        let can: BTreeSet<&str> = all
            .iter()
            .flat_map(|(_, _, s)| f.tanks_for(s))
            .filter_map(|t| t.name.as_ref().map(|n| n.value.as_str()))
            .collect();
        for name in wrong {
            found.push(
                Finding::error(Code::Contradiction, name.at)
                    .says(format!(
                        "the route of `{}` does not coat in `{}`",
                        id(order),
                        name.value
                    ))
                    .label("meant for this tank")
                    .and(step.places.at, "coats here")
                    .help(format!("its route coats in {}", list(can.iter().copied()))),
            );
        }
        if found.len() == before {
            found.extend(
                all.iter()
                    .filter_map(|(_, part, step)| none_left(f, order, part, step)),
            );
        }
    }
    found
}

/// A part and its order, or one of them and the step, that leave no tank between them.
fn none_left(f: &Facts, order: &Order, part: &Part, step: &Step) -> Option<Finding> {
    let name = part.tanks.first().or(order.tanks.first())?;
    if f.tanks_for(step).is_empty() || !f.tanks_meant(order, part, step).is_empty() {
        return None;
    }
    let message = format!(
        "no tank is left for `{}`: the tanks that are named exclude each other",
        id(order)
    );
    let other = order.tanks.first().map_or(step.places.at, |n| n.at);
    Some(
        Finding::new(Code::Contradiction, name.at, message)
            .label("one of these")
            .and(other, "and this")
            .help("name the same tank in both places, or in one of them only"),
    )
}

fn id(order: &Order) -> &str {
    order.id.as_ref().map_or("?", |i| i.value.as_str())
}

fn called(tank: &Tank, name: &str) -> bool {
    tank.name.as_ref().is_some_and(|n| n.value == name)
}

pub(super) fn name_of(tank: &Tank) -> &str {
    tank.name.as_ref().map_or("?", |n| n.value.as_str())
}

fn goes(part: &Part) -> Option<Goes> {
    Some(Goes {
        size: Some(part.size()?),
        turned: part.turned.as_ref()?.value,
        tanks: Vec::new(),
    })
}

/// How a part lies in a tank, with so much clear all round; none if it does not go in, or nothing is known.
pub(super) fn lies(part: &Part, tank: &Tank, clear: Length) -> Option<Lies> {
    goes(part)?.lies_in(tank.inside.as_ref()?.value, tank.fill.as_ref()?.value, clear)
}

/// The same in what is left of a tank's fill.
pub(super) fn lies_at(part: &Part, tank: &Tank, share: f64) -> Option<Lies> {
    let fill = tank.fill.as_ref()?.value * share;
    goes(part)?.lies_in(tank.inside.as_ref()?.value, fill, Length::ZERO)
}

fn known(tank: &Tank) -> bool {
    tank.inside.is_some() && tank.fill.is_some()
}

/// A part with a size and a step, with the tanks meant, and where the size stands.
pub(super) type Sized<'a> = (&'a Part, &'a Step, Vec<&'a Tank>, SourceSpan);

pub(super) fn each(f: &Facts, rule: fn(&Facts, Sized) -> Option<Finding>) -> Vec<Finding> {
    sized(f).into_iter().filter_map(|sized| rule(f, sized)).collect()
}

/// Each part with a size and each step once.
fn sized<'a>(f: &Facts<'a>) -> Vec<Sized<'a>> {
    if !f.tanks_are_known() {
        return Vec::new();
    }
    let mut seen = BTreeSet::new();
    coatings(f)
        .into_iter()
        .filter_map(|(order, part, step, tanks)| {
            let at = part.size_at()?;
            let named = order.tanks.first().map(|n| n.value.as_str());
            let sound = !tanks.is_empty() && tanks.iter().all(|t| known(t));
            (sound && seen.insert((part.name.at.start, step.places.at.start, named)))
                .then_some((part, step, tanks, at))
        })
        .collect()
}

pub(super) fn mm(length: Length) -> String {
    let mm = length.in_millimetres();
    if mm >= 1000.0 {
        format!("{} m", (mm / 10.0).round() / 100.0)
    } else {
        format!("{} mm", (mm * 10.0).round() / 10.0)
    }
}

pub(super) fn measures(part: &Part) -> String {
    let sides = part.size().map_or([Length::ZERO; 3], |s| s.sides);
    let stated: Vec<String> = sides.into_iter().filter(|s| *s > Length::ZERO).map(mm).collect();
    stated.join(" x ")
}

/// What a tank has to offer: its opening and the depth of its solution.
fn offers(tank: &Tank) -> String {
    let (Some(inside), Some(fill)) = (&tank.inside, &tank.fill) else {
        return String::new();
    };
    let opening = match inside.value {
        Inside::Box { length, width, .. } => format!("{} x {}", mm(length), mm(width)),
        Inside::Round { diameter, .. } => format!("{} across", mm(diameter)),
    };
    format!("{opening}, {} deep", mm(depth(inside.value, fill.value)))
}

/// The smallest tank of the shop in which a part lies, whatever bath it holds.
fn smallest<'a>(f: &Facts<'a>, part: &Part) -> Option<&'a Tank> {
    let fill = |t: &Tank| t.fill.as_ref().map_or(0.0, |v| v.value.base());
    let fitting = f
        .file
        .tanks
        .iter()
        .filter(|t| lies(part, t, Length::ZERO).is_some());
    fitting.min_by(|a, b| fill(a).total_cmp(&fill(b)))
}

/// What would do: a tank of the shop, or what one must measure.
fn would_do(f: &Facts, part: &Part, step: &Step) -> String {
    let sides = part.size().map_or([Length::ZERO; 3], |s| s.sides);
    if let Some(tank) = smallest(f, part) {
        let bath = tank.bath.as_ref().map(|b| b.value.as_str());
        let other = step.bath.as_ref().map(|b| b.value.as_str()) != bath;
        return format!(
            "the smallest tank that takes it is `{}` ({}){}",
            name_of(tank),
            offers(tank),
            if other { ", which holds another bath" } else { "" }
        );
    }
    let [long, wide, high] = sides;
    let beside = match (wide > Length::ZERO, high > Length::ZERO) {
        (true, true) => format!(" with {} beside it and {} of solution", mm(wide), mm(high)),
        _ => String::new(),
    };
    format!(
        "no tank of this shop takes it: it needs {} inside{beside}, or {} of solution if it hangs upright",
        mm(long),
        mm(long)
    )
}

/// A part that no tank covers is not coated.
fn lies_under(f: &Facts, (part, step, tanks, at): Sized) -> Option<Finding> {
    if tanks.iter().any(|t| lies(part, t, Length::ZERO).is_some()) {
        return None;
    }
    let largest = tanks
        .iter()
        .max_by(|a, b| {
            let fill = |t: &Tank| t.fill.as_ref().map_or(0.0, |v| v.value.base());
            fill(a).total_cmp(&fill(b))
        })
        .copied()?;
    let message = format!(
        "`{}` ({}) does not fit under the solution of {}",
        part.name.value,
        measures(part),
        list(tanks.iter().map(|t| name_of(t)))
    );
    let mut help = would_do(f, part, step);
    let turned = part.turned.as_ref().is_some_and(|t| t.value);
    if let Some(most) = deepest(&tanks).filter(|_| turned) {
        help.push_str(&format!(
            "; turned end for end, up to {} gets covered, twice the depth: the middle of a longer one stays bare",
            mm(most * 2.0)
        ));
    }
    if part.turned.as_ref().is_some_and(|t| !t.value) && half_goes(part, &tanks) {
        help.push_str("; or write `turned: yes` if a mark where its two halves meet does no harm");
    }
    Some(
        Finding::new(Code::Capacity, at, message)
            .label("too large, however it lies")
            .and(
                largest.inside.as_ref().map_or(step.places.at, |i| i.at),
                offers(largest),
            )
            .help(help),
    )
}

/// Depth of the deepest solution.
fn deepest(tanks: &[&Tank]) -> Option<Length> {
    let deep = |t: &&Tank| Some(depth(t.inside.as_ref()?.value, t.fill.as_ref()?.value));
    tanks.iter().filter_map(deep).reduce(Length::max)
}

fn half_goes(part: &Part, tanks: &[&Tank]) -> bool {
    let Some(mut goes) = goes(part) else { return false };
    goes.turned = true;
    tanks.iter().any(|t| {
        t.inside
            .as_ref()
            .zip(t.fill.as_ref())
            .is_some_and(|(i, v)| goes.lies_in(i.value, v.value, Length::ZERO).is_some())
    })
}

/// A part that goes into some of the tanks only: it waits for these.
fn too_long_for_some(_: &Facts, (part, _, tanks, at): Sized) -> Option<Finding> {
    let (takes, not): (Vec<&Tank>, Vec<&Tank>) = tanks
        .into_iter()
        .partition(|t| lies(part, t, Length::ZERO).is_some());
    if takes.is_empty() || not.is_empty() {
        return None;
    }
    let names = |tanks: &[&Tank]| list(tanks.iter().map(|t| name_of(t)));
    let message = format!(
        "`{}` ({}) does not fit under the solution of {}: it never goes in there",
        part.name.value,
        measures(part),
        names(&not)
    );
    let tank = takes.first().map_or("?", |t| name_of(t));
    Some(
        Finding::warning(Code::Capacity, at, message)
            .label(format!("goes into {}", names(&takes)))
            .help(format!(
                "write `tank: {tank}` at the part, and this is not said again"
            )),
    )
}

/// So much is kept clear on every side of the work, under it and over it: common practice, no source.
const CLEAR: Length = Length::millimetres(10.0);

/// Work that hardly goes in, or only tilted.
fn just_fits(_: &Facts, (part, _, tanks, at): Sized) -> Option<Finding> {
    let best = |clear: Length| {
        let ways = tanks.iter().filter_map(|t| Some((lies(part, t, clear)?, *t)));
        ways.min_by_key(|w| w.0)
    };
    let (how, tank) = best(Length::ZERO)?;
    // What hangs upright is not tilted to get clear of the wall or of the air.
    let tilted = |way: Lies| matches!(way, Lies::Across | Lies::Tilted) && way > how;
    let roomy = best(CLEAR).filter(|(way, _)| !tilted(*way));
    let way = match how {
        Lies::Tilted => " only tilted, one end lower than the other",
        Lies::Across => " only from corner to corner of the opening",
        Lies::Turned => return None,
        _ if roomy.is_some() => return None,
        _ => "",
    };
    let close = if roomy.is_none() {
        format!(", with less than {} clear all round", mm(CLEAR))
    } else {
        String::new()
    };
    let message = format!("`{}` goes into `{}`{way}{close}", part.name.value, name_of(tank));
    Some(
        Finding::warning(Code::Capacity, at, message)
            .label(measures(part))
            .and(tank.inside.as_ref().map_or(at, |i| i.at), offers(tank))
            .help("see that all of it is covered and touches neither wall nor heater"),
    )
}
