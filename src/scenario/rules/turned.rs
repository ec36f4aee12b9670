//! Work that is turned end for end: it needs a coating step for each half, and keeps a mark.

use super::fits::{lies, mm};
use super::{Facts, Rule};
use crate::finding::{Code, Finding};
use crate::written::{Order, Part, Step, Tank};
use std::collections::BTreeSet;
use tankday_base::shop::{Lies, depth};
use tankday_base::units::Length;

pub(super) const ALL: &[Rule] = &[Rule::Whole(turned)];

/// Each part that is turned, once on each route.
fn turned(f: &Facts) -> Vec<Finding> {
    let mut seen = BTreeSet::new();
    let mut found = Vec::new();
    for order in &f.file.orders {
        let all = f.coatings_of(order);
        let halves: Vec<_> = all.iter().filter(|c| is_half(f, c)).collect();
        let Some((_, part, _)) = halves.first() else {
            continue;
        };
        let route = order.route.as_ref().map(|r| r.value.as_str());
        if !seen.insert((part.name.at.start, route)) {
            continue;
        }
        let bath = |s: &Step| s.bath.as_ref().map(|b| b.value.clone());
        let alone = halves.iter().find(|(_, _, step)| {
            let same = halves.iter().filter(|(_, _, other)| bath(other) == bath(step));
            same.count() == 1
        });
        found.extend(match alone {
            Some((_, part, step)) => half_bare(f, order, part, step),
            None => marked(part),
        });
    }
    found
}

/// Whether a step covers one half of a part at a time, in whatever tank it happens.
fn is_half(f: &Facts, (order, part, step): &(&Order, &Part, &Step)) -> bool {
    let tanks = f.tanks_meant(order, part, step);
    let sound = tanks.iter().all(|t| t.inside.is_some() && t.fill.is_some());
    let ways: Vec<Lies> = tanks.iter().filter_map(|t| lies(part, t, Length::ZERO)).collect();
    sound && !ways.is_empty() && ways.iter().all(|w| *w == Lies::Turned)
}

/// One coating step covers one half.
fn half_bare(f: &Facts, order: &Order, part: &Part, step: &Step) -> Option<Finding> {
    let at = part.size_at()?;
    let long = part.size()?.sides[0];
    let tanks = f.tanks_meant(order, part, step);
    let deep = |t: &&Tank| Some(depth(t.inside.as_ref()?.value, t.fill.as_ref()?.value));
    let deepest = tanks.iter().filter_map(deep).reduce(Length::max)?;
    let message = format!(
        "half of `{}` stays bare: it is {} long, {} of solution covers it, and its route coats once",
        part.name.value,
        mm(long),
        mm(deepest)
    );
    Some(
        Finding::new(Code::Capacity, at, message)
            .label("turned end for end")
            .and(step.bath.as_ref().map_or(step.places.at, |b| b.at), "coats one end")
            .help("give its route a second coating step behind this one, with a name of its own: `as: coat the other end`"),
    )
}

/// Where the halves meet a line stays.
fn marked(part: &Part) -> Option<Finding> {
    let at = part.size_at()?;
    let message = format!(
        "`{}` is coated in two halves: a line stays where they meet",
        part.name.value
    );
    Some(
        Finding::warning(Code::Capacity, at, message)
            .label("turned end for end")
            .and(part.turned.as_ref().map_or(at, |t| t.at), "as you wish")
            .help("put the line where it does no harm"),
    )
}
