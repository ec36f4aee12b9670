//! Chemistry: constants that are believable, readings that a bath can have, targets that it can reach.

use super::bath::celsius;
use super::{Facts, Rule};
use crate::defaults::constant;
use crate::finding::{Code, Finding};
use crate::node::Spanned;
use crate::resolve::{chemistry, growth};
use crate::thing::Thing;
use crate::written::{self, Bath};
use tankday_base::bath::Substrate;
use tankday_base::bath::chemistry::{CONSTANTS, Chemistry, CoatsFrom, Readings};
use tankday_base::units::{Strength, Volume};

pub(super) const ALL: &[Rule] = &[
    Rule::Whole(believable),
    Rule::Bath(counted_once),
    Rule::Bath(readable),
    Rule::Bath(reachable),
    Rule::Bath(hot_enough),
    Rule::Whole(warned_inside),
];

/// Every constant lies where it is believable.
fn believable(f: &Facts) -> Vec<Finding> {
    f.file.baths.iter().flat_map(unbelievable).collect()
}

fn unbelievable(bath: &Bath) -> Vec<Finding> {
    let Some((written, recipe)) = bath.chemistry.as_ref().and_then(|c| Some((c, chemistry(c)?))) else {
        return Vec::new();
    };
    let one = |(key, at, _): &(&'static str, _, _)| {
        let constants = match *key {
            key if key == written::Chemistry::pace.name => CONSTANTS.iter().skip(16).take(2).collect(),
            key => constant(key).into_iter().collect::<Vec<_>>(),
        };
        let wrong = constants.into_iter().find(|c| !c.is_believable(&recipe))?;
        let unit = if wrong.unit.is_empty() {
            String::new()
        } else {
            format!(" {}", wrong.unit)
        };
        Some(
            Finding::error(Code::Range, *at)
                .says(format!("no bath is known with such a value for `{key}`"))
                .label(format!("{} to {}{unit} is believable", wrong.least, wrong.most))
                .help(format!("to measure your own: {}", wrong.measure)),
        )
    };
    written.places.written.iter().filter_map(one).collect()
}

/// Iron that oxidises is counted by the load or by the hour.
fn counted_once(_: &Facts, bath: &Bath) -> Option<Finding> {
    let chemistry = bath.chemistry.as_ref()?;
    let load = chemistry.place(&written::Chemistry::by_load)?;
    let hour = chemistry.first(&[&written::Chemistry::hot, &written::Chemistry::idle])?;
    Some(
        Finding::error(Code::Contradiction, hour)
            .says("iron would be counted twice: with each load and by the hour")
            .label("by the hour")
            .and(load, "with a load")
            .help("keep one of the two"),
    )
}

/// A bath can read so.
fn readable(_: &Facts, bath: &Bath) -> Option<Finding> {
    let now = bath.now.as_ref()?.reads()?;
    let recipe = chemistry(bath.chemistry.as_ref()?)?;
    let (total_acid, free_acid) = now.acids()?;
    let total = now.total_acid.as_ref()?;
    let (iron, sludge) = (now.iron.as_ref()?, now.sludge.as_ref()?);
    if free_acid >= total_acid {
        return None;
    }
    let pure = Strength::points(1.0 / recipe.concentrate_per_point.in_fraction());
    if total_acid > pure {
        return Some(
            Finding::new(Code::Bath, total.at, "that is stronger than pure concentrate")
                .label("too strong")
                .help(format!(
                    "its concentrate has {:.0} points by `concentrate for a point`: titrate again",
                    pure.in_points()
                )),
        );
    }
    if sludge.value > recipe.sludge_bed {
        let most = recipe.sludge_bed.in_grams_per_litre();
        return Some(
            Finding::error(Code::Bath, sludge.at)
                .says("that is more sludge than a bath of nothing but sludge holds")
                .label("too much")
                .help(format!(
                    "settled sludge holds {most} g/L dry; write what a litre of the bath holds"
                )),
        );
    }
    let readings = Readings {
        volume: Volume::litres(1.0),
        total_acid,
        free_acid,
        iron: iron.value,
        sludge: sludge.value,
    };
    let contradiction = Chemistry::new(&recipe, &readings).err()?;
    Some(
        Finding::new(Code::Bath, total.at, contradiction.to_string())
            .label("these do not go together")
            .help("free acid counts twice in the total acid, and iron is part of the metal in it: titrate again"),
    )
}

/// The target is one that some part can reach.
fn reachable(f: &Facts, bath: &Bath) -> Option<Finding> {
    let (coat, growth) = (bath.coat.as_ref()?, growth(bath)?);
    if coat.time.is_some() {
        return None;
    }
    let target = coat.target.as_ref()?;
    let heavier = f
        .file
        .parts
        .iter()
        .filter_map(|p| f.material(p))
        .map(|m| m.heavier)
        .fold(1.0, f64::max);
    let best = Substrate {
        heavier,
        ..Substrate::PLAIN
    };
    let cannot = growth.conversion_for(target.value, best).err()?;
    Some(
        Finding::new(Code::Bath, target.at, cannot.to_string())
            .label("never reached")
            .help("write a lighter target, or the full weight that your bath gives under `growth`"),
    )
}

/// A bath that coats at all: one that is held where steel takes no coating is for cast iron alone.
fn hot_enough(_: &Facts, b: &Bath) -> Option<Finding> {
    let hold = b.band.as_ref()?.hold.as_ref()?;
    let limit = CoatsFrom::Steel.limit();
    (hold.value <= limit && b.wears.as_ref()?.value).then(|| {
        Finding::warns(Code::Bath, hold.at)
            .says(format!("steel takes no coating up to {}", celsius(limit)))
            .label("cold")
            .help("only cast iron is known to coat, from 70 °C; see the product sheet")
    })
}

/// A warning lies inside its limit, or it never comes.
fn warned_inside(f: &Facts) -> Vec<Finding> {
    f.file.baths.iter().flat_map(warned_outside).collect()
}

fn warned_outside(bath: &Bath) -> Vec<Finding> {
    let (Some(stop), Some(warn)) = (bath.limits.as_ref(), bath.warn.as_ref()) else {
        return Vec::new();
    };
    let warns = warn.spans();
    let outside = |(name, stop): (&str, Spanned<(f64, f64)>)| {
        let warn = warns.iter().find(|w| w.0 == name)?.1;
        (warn.value.1 <= stop.value.0 || warn.value.0 >= stop.value.1).then(|| {
            Finding::error(Code::Contradiction, warn.at)
                .says(format!(
                    "all of the `{name}` without warning lies outside its limits"
                ))
                .label("no warning here")
                .and(stop.at, "no load outside this")
                .help("write a range for `warn` that lies inside that of `limits`")
        })
    };
    stop.spans().into_iter().filter_map(outside).collect()
}
