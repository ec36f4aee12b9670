//! Storage vessels take in what a tank holds, and refill it; and the supply bears each heater.

use super::{Facts, Rule};
use crate::finding::{Code, Finding};
use crate::node::Spanned;
use crate::written::{Tank, Vessel};
use tankday_base::units::{Power, Volume};

pub(super) const ALL: &[Rule] = &[
    Rule::Vessel(takes_it_in),
    Rule::Vessel(refills_it),
    Rule::Vessel(one_filling),
    Rule::Vessel(in_use),
    Rule::Tank(bears_each),
];

fn litres(volume: Volume) -> String {
    format!("{} L", (volume.in_litres() * 10.0).round() / 10.0)
}

/// The tanks whose bath a vessel keeps, each with its fill.
fn served<'a>(f: &Facts<'a>, vessel: &Vessel) -> Vec<(&'a Tank, &'a Spanned<Volume>)> {
    let bath = vessel.bath.as_ref().map(|b| b.value.as_str());
    let holds = |t: &&'a Tank| bath.is_some() && t.bath.as_ref().map(|b| b.value.as_str()) == bath;
    let tanks = f.file.tanks.iter().filter(holds);
    tanks.filter_map(|t| Some((t, t.fill.as_ref()?))).collect()
}

fn name(tank: &Tank) -> &str {
    tank.name.as_ref().map_or("the tank", |n| n.value.as_str())
}

/// What is drawn off a tank goes into the vessel.
fn takes_it_in(f: &Facts, v: &Vessel) -> Option<Finding> {
    let holds = v.holds.as_ref()?;
    let (tank, fill) = served(f, v)
        .into_iter()
        .find(|(_, fill)| fill.value > holds.value)?;
    let message = format!(
        "what is drawn off `{}` does not fit in: it is filled with {}",
        name(tank),
        litres(fill.value)
    );
    Some(
        Finding::new(Code::Capacity, holds.at, message)
            .label("too small")
            .and(fill.at, "fill of the tank")
            .help(format!(
                "each of its two containers must hold {}",
                litres(fill.value)
            )),
    )
}

/// Least share of a tank's fill that a vessel keeps: with less, the water that makes it good thins the bath by more than
/// one of the six points between make-up and adding concentrate.
const LEAST: f64 = 0.95;

/// What the vessel keeps refills a tank and does not run over.
fn refills_it(f: &Facts, v: &Vessel) -> Option<Finding> {
    let kept = v.filtered.as_ref()?;
    let volume = kept.value?;
    let (tank, fill) = served(f, v)
        .into_iter()
        .find(|(_, fill)| volume > fill.value || volume < fill.value * LEAST)?;
    let much = volume > fill.value;
    let message = if much {
        format!("`{}` takes {} and no more", name(tank), litres(fill.value))
    } else {
        format!(
            "{} do not refill `{}`: water would thin it",
            litres(volume),
            name(tank)
        )
    };
    Some(
        Finding::new(Code::Capacity, kept.at, message)
            .label(if much { "too much" } else { "too little" })
            .and(fill.at, "fill of the tank")
            .help(format!(
                "keep {} in it, or write `as the tank`",
                litres(fill.value)
            )),
    )
}

/// One vessel goes round among tanks only if all take the same filling.
fn one_filling(f: &Facts, v: &Vessel) -> Option<Finding> {
    let tanks = served(f, v);
    let (first, fill) = tanks.first()?;
    let (other, than) = tanks.iter().find(|(_, other)| other.value != fill.value)?;
    let message = format!(
        "`{}` and `{}` take different fillings, so that one vessel cannot serve both",
        name(first),
        name(other)
    );
    Some(
        Finding::new(Code::Capacity, v.name.as_ref()?.at, message)
            .label("keeps one filling")
            .and(fill.at, litres(fill.value))
            .and(than.at, litres(than.value))
            .help("fill them alike, or give each a bath and a vessel of its own"),
    )
}

/// A vessel that no filter stop names does nothing.
fn in_use(f: &Facts, v: &Vessel) -> Option<Finding> {
    let care = f.file.rules.as_ref().and_then(|r| r.care.as_ref());
    let named = |v: &Spanned<String>| {
        care.is_some_and(|c| {
            c.acts()
                .any(|a| a.into.as_ref().is_some_and(|i| i.value == v.value))
        })
    };
    let called = v.name.as_ref().filter(|n| !named(n))?;
    Some(
        Finding::warns(Code::UnknownName, called.at)
            .says(format!("nothing is ever kept in `{}`", called.value))
            .label("idle")
            .help(format!(
                "name it where the bath is filtered: `filter: {{into: {}, ...}}`",
                called.value
            )),
    )
}

/// The supply bears each heater by itself; several share it.
fn bears_each(f: &Facts, t: &Tank) -> Option<Finding> {
    let supply = f.file.shop.as_ref().and_then(|s| s.supply.as_ref());
    let (supply, limit) = supply.and_then(|s| Some((s, s.value?)))?;
    let kilowatts = |p: Power| format!("{} kW", (p.in_kilowatts() * 100.0).round() / 100.0);
    let power = t.heater.as_ref()?.power.as_ref()?;
    (power.value > limit).then(|| {
        let message = format!(
            "the supply gives {}, and this heater alone draws {}",
            kilowatts(limit),
            kilowatts(power.value)
        );
        Finding::new(Code::Capacity, power.at, message)
            .label("trips the breaker")
            .and(supply.at, "the supply")
            .help("take a smaller heater, or a stronger supply")
    })
}
