//! Names: borne once, and known where they are used.

use super::spoken::speaks_of_hard;
use super::{Facts, Rule};
use crate::finding::{Code, Finding};
use crate::names::Index;
use crate::nearest::nearest;
use crate::node::{SourceSpan, Spanned};
use crate::steps;
use crate::walk::{MOST_FINDINGS, list, twice};
use crate::written::{Act, Material, Order, Part, Route, Tank, Vessel};
use std::collections::BTreeMap;
use tankday_base::shop::{built_in_materials, is_hard_name};

pub(super) const ALL: &[Rule] = &[
    Rule::Whole(stations_once),
    Rule::Whole(vessels_once),
    Rule::Act(known_vessel),
    Rule::Vessel(known_kept),
    Rule::Whole(orders_once),
    Rule::Whole(steps_once),
    Rule::Material(own_materials),
    Rule::Tank(known_bath),
    Rule::Part(known_material),
    Rule::Part(known_insert),
    Rule::Material(known_like),
    Rule::Order(known_part),
    Rule::Order(known_route),
    Rule::Whole(known_tanks),
    Rule::Whole(known_in_steps),
    Rule::Whole(known_steps),
    Rule::Whole(known_in_walks),
];

/// Those that repeat a name, pointing at the first that bears it.
fn repeated<'a>(names: impl Iterator<Item = &'a Spanned<String>>) -> Vec<Finding> {
    let mut seen: BTreeMap<&str, SourceSpan> = BTreeMap::new();
    let mut found = Vec::new();
    for name in names {
        match seen.get(name.value.as_str()) {
            Some(first) => found.push(twice(name, *first)),
            None => {
                seen.insert(&name.value, name.at);
            }
        }
    }
    found
}

/// Tanks and stations share their names.
fn stations_once(f: &Facts) -> Vec<Finding> {
    let tanks = f.file.tanks.iter().filter_map(|t| t.name.as_ref());
    repeated(tanks.chain(f.file.stations.iter().filter_map(|s| s.name.as_ref())))
}

/// Vessels have names of their own.
fn vessels_once(f: &Facts) -> Vec<Finding> {
    repeated(f.file.vessels.iter().filter_map(|v| v.name.as_ref()))
}

/// The vessel that a filter stop names, and the bath that a vessel keeps.
fn known_vessel(f: &Facts, act: &Act) -> Option<Finding> {
    unknown(act.into.as_ref()?, "vessel", &f.names.vessels)
}

fn known_kept(f: &Facts, vessel: &Vessel) -> Option<Finding> {
    unknown(vessel.bath.as_ref()?, "bath", &f.names.baths)
}

/// Orders have ids of their own.
fn orders_once(f: &Facts) -> Vec<Finding> {
    repeated(f.file.orders.iter().filter_map(|o| o.id.as_ref()))
}

/// On one route each step has a name of its own.
fn steps_once(f: &Facts) -> Vec<Finding> {
    let of = |route: &Route| repeated(route.steps.iter().filter_map(|s| s.name()));
    let again = f.file.routes.iter().flat_map(of);
    again
        .map(|finding| finding.help("give one of the two a name of its own: `as: second rinse`"))
        .collect()
}

/// The shop's own materials do not take the names of the built-in ones.
fn own_materials(f: &Facts, material: &Material) -> Option<Finding> {
    let name = &material.name;
    f.names.built_in.iter().any(|m| m.name == name.value).then(|| {
        Finding::error(Code::Duplicate, name.at)
            .says(format!("`{}` is a built-in material", name.value))
            .help(format!("give yours another name and say `like: {}`", name.value))
    })
}

/// A finding, if a name is not known.
fn unknown(name: &Spanned<String>, what: &str, index: &Index) -> Option<Finding> {
    (!index.contains_key(&name.value)).then(|| not_known(name, what, index.keys().map(String::as_str)))
}

/// Most names listed in a message.
const MOST_LISTED: usize = 12;

/// A name that nothing of a kind bears: the nearest that one does, and which there are.
pub(crate) fn not_known<'a>(
    name: &Spanned<String>,
    what: &str,
    known: impl Iterator<Item = &'a str> + Clone,
) -> Finding {
    let label = match (
        nearest(&name.value, known.clone()),
        holding(&name.value, known.clone()),
    ) {
        (Some(near), _) => format!("did you mean `{near}`?"),
        (None, some) if !some.is_empty() => format!("did you mean {}?", one_of(&some)),
        _ => "not known".to_owned(),
    };
    let mut shown: Vec<&str> = known.clone().take(MOST_LISTED + 1).collect();
    let help = if shown.is_empty() {
        format!("the scenario has no {what}")
    } else if shown.len() > MOST_LISTED {
        shown.truncate(MOST_LISTED);
        let quoted: Vec<String> = shown.iter().map(|n| format!("`{n}`")).collect();
        format!("there are {} and others", quoted.join(", "))
    } else {
        format!("there is {}", list(shown))
    };
    Finding::error(Code::UnknownName, name.at)
        .says(format!("no {what} is called `{}`", name.value))
        .label(label)
        .help(help)
}

/// Names of which a word is one of theirs: `steel` of `plain steel` and `hardened steel`.
fn holding<'a>(word: &str, known: impl Iterator<Item = &'a str>) -> Vec<&'a str> {
    let low = word.to_lowercase();
    let holds = |name: &&str| name.to_lowercase().split_whitespace().any(|w| w == low);
    known.filter(holds).take(MOST_LISTED).collect()
}

/// `a`, `b` or `c`, each between backticks.
fn one_of(names: &[&str]) -> String {
    let quoted: Vec<String> = names.iter().map(|n| format!("`{n}`")).collect();
    match quoted.split_last() {
        Some((last, [])) => last.clone(),
        Some((last, rest)) => format!("{} or {last}", rest.join(", ")),
        None => String::new(),
    }
}

/// The bath of a tank.
fn known_bath(f: &Facts, tank: &Tank) -> Option<Finding> {
    unknown(tank.bath.as_ref()?, "bath", &f.names.baths)
}

/// The material of what a part holds besides.
fn known_insert(f: &Facts, part: &Part) -> Option<Finding> {
    unknown_material(f, part.insert.as_ref()?, "material")
}

/// The material of a part.
fn known_material(f: &Facts, part: &Part) -> Option<Finding> {
    unknown_material(f, part.material.as_ref()?, "material")
}

/// A finding, if a material is not known. Where its words speak of hard or sprung steel, no soft one is proposed: its
/// hydrogen would be forgotten.
fn unknown_material(f: &Facts, name: &Spanned<String>, what: &str) -> Option<Finding> {
    if what == "material" && f.names.materials.contains_key(&name.value) {
        return None;
    }
    let listed = built_in_materials();
    let own = f
        .file
        .materials
        .iter()
        .map(|m| m.name.value.as_str())
        .filter(|_| what == "material");
    let known = listed.iter().map(|m| m.name.as_str()).chain(own);
    let finding = not_known(name, what, known);
    let others = f.names.built_in.iter().map(|m| m.name.as_str());
    let hard = nearest(&name.value, others.filter(|n| is_hard_name(n)));
    Some(match hard {
        Some(hard) => finding
            .label(format!("did you mean `{hard}`?"))
            .help("hard and sprung steel is written `material: hardened steel`: hydrogen matters in it"),
        None if speaks_of_hard(&name.value) => finding
            .label("hard or sprung? hydrogen matters")
            .help("write `material: hardened steel`, or describe it under `materials:` and say `hardened: yes` or `no`"),
        None => finding,
    })
}

/// What a material is like.
fn known_like(f: &Facts, material: &Material) -> Option<Finding> {
    let like = material.like.as_ref()?;
    let known = f.names.built_in.iter().any(|m| m.name == like.value);
    (!known).then(|| unknown_material(f, like, "built-in material"))?
}

/// The tanks that parts, orders and steps name.
fn known_tanks(f: &Facts) -> Vec<Finding> {
    let tanks: Index = (0..)
        .zip(f.file.tanks.iter().filter_map(|t| t.name.as_ref()))
        .map(|(i, name)| (name.value.clone(), i))
        .collect();
    let steps = f.file.routes.iter().flat_map(|r| &r.steps);
    let parts = f.file.parts.iter().flat_map(|p| &p.tanks);
    let orders = f.file.orders.iter().flat_map(|o| &o.tanks);
    parts
        .chain(orders)
        .chain(steps.flat_map(|s| &s.tanks))
        .filter_map(|name| unknown(name, "tank", &tanks))
        .take(MOST_FINDINGS)
        .collect()
}

/// The part and the route of an order.
fn known_part(f: &Facts, order: &Order) -> Option<Finding> {
    unknown(order.part.as_ref()?, "part", &f.names.parts)
}

fn known_route(f: &Facts, order: &Order) -> Option<Finding> {
    unknown(order.route.as_ref()?, "route", &f.names.routes)
}

/// Stations, baths and parts that a step names.
fn known_in_steps(f: &Facts) -> Vec<Finding> {
    let mut found = Vec::new();
    for step in f.file.routes.iter().flat_map(|r| &r.steps) {
        found.extend(step.bath.iter().filter_map(|b| unknown_bath(f, b)));
        found.extend(
            step.stations
                .iter()
                .filter(|s| !step.tanks.contains(s))
                .filter_map(|s| unknown(s, "station", &f.names.stations)),
        );
        found.extend(
            step.only
                .iter()
                .filter_map(|p| unknown(p, "part", &f.names.parts)),
        );
    }
    found
}

/// The bath of a step; a tank that stands in its place is told apart.
fn unknown_bath(f: &Facts, name: &Spanned<String>) -> Option<Finding> {
    let found = unknown(name, "bath", &f.names.baths)?;
    let Some(tank) = f.tank(&name.value) else {
        return Some(found);
    };
    let bath = tank.bath.as_ref().map_or("manganese", |b| b.value.as_str());
    Some(
        Finding::error(Code::UnknownName, name.at)
            .says(format!("`{}` is a tank, not a bath", name.value))
            .label(format!("a tank of `{bath}`"))
            .help(format!(
                "write `tank: {}` for this tank, or `in: {bath}` for every tank of the bath",
                name.value
            )),
    )
}

/// Places that walks name.
fn known_in_walks(f: &Facts) -> Vec<Finding> {
    let walks = f.file.shop.iter().flat_map(|s| &s.walks);
    let places = walks.flat_map(|w| [&w.from, &w.to]);
    places
        .flatten()
        .filter_map(|name| unknown(name, "tank or station", &f.names.stations))
        .take(MOST_FINDINGS)
        .collect()
}

/// Steps that other steps name.
fn known_steps(f: &Facts) -> Vec<Finding> {
    let mut found = Vec::new();
    for route in &f.file.routes {
        let by_name = steps::by_name(route);
        let after = route
            .steps
            .iter()
            .flat_map(|s| s.after.iter().flatten())
            .filter(|n| n.value != steps::NOTHING);
        for name in after.chain(route.steps.iter().filter_map(|s| s.back_to.as_ref())) {
            if !by_name.contains_key(name.value.as_str()) {
                found.push(not_known(name, "step of this route", by_name.keys().copied()));
            }
        }
    }
    found
}
