//! Baths: bands, boiling, dwell.

use super::{Facts, Rule};
use crate::finding::{Code, Finding};
use crate::node::Spanned;
use crate::thing::Thing;
use crate::written::{Air, Bath, Coat};
use tankday_base::bath::HIGHEST;
use tankday_base::bath::water::boiling_point;
use tankday_base::random::Spread;
use tankday_base::units::Temperature;

pub(super) const ALL: &[Rule] = &[
    Rule::Bath(hold_in_band),
    Rule::Bath(above_the_air),
    Rule::Bath(no_boiling),
    Rule::Bath(within_the_model),
    Rule::Bath(one_rule),
    Rule::Bath(time_in_window),
    Rule::Bath(acids),
];

/// The band's least is below its most, and what is held lies between.
fn hold_in_band(_: &Facts, bath: &Bath) -> Option<Finding> {
    let band = bath.band.as_ref()?;
    let (least, hold, most) = (band.least.as_ref()?, band.hold.as_ref()?, band.most.as_ref()?);
    if least.value >= most.value {
        let finding = Finding::new(Code::Bath, least.at, "the band begins above its own end").label("least");
        return Some(finding.and(most.at, "most"));
    }
    let outside = hold.value < least.value || hold.value > most.value;
    outside.then(|| {
        let (limit, label) = if hold.value > most.value {
            (most, "most")
        } else {
            (least, "least")
        };
        let message = format!(
            "{} is held outside the band of `{}`",
            celsius(hold.value),
            bath.name.value
        );
        Finding::new(Code::Bath, hold.at, message)
            .label("held")
            .and(limit.at, format!("{label} is {}", celsius(limit.value)))
            .help("hold a temperature between `least` and `most`")
    })
}

/// A heater does not cool: the band lies above the air.
fn above_the_air(f: &Facts, bath: &Bath) -> Option<Finding> {
    let air = f.air()?;
    let hold = bath.band.as_ref()?.hold.as_ref()?;
    (hold.value <= air.value).then(|| {
        Finding::error(Code::Bath, hold.at)
            .says(format!(
                "a heater does not hold {} in this air",
                celsius(hold.value)
            ))
            .label("colder than the air")
            .and(air.at, format!("the air has {}", celsius(air.value)))
            .help("write the temperature of a hot bath, such as 95 °C")
    })
}

/// As people write it, without needless digits.
pub(super) fn celsius(t: Temperature) -> String {
    format!("{} °C", (t.in_celsius() * 10.0).round() / 10.0)
}

/// The bath does not boil at the height of the shop.
fn no_boiling(f: &Facts, bath: &Bath) -> Option<Finding> {
    let boiling = boiling_point(f.pressure()?);
    let most = bath.band.as_ref()?.most.as_ref()?;
    if most.value < boiling {
        return None;
    }
    let message = format!(
        "water boils at {} here, below the {} that are allowed",
        celsius(boiling),
        celsius(most.value)
    );
    let finding = Finding::new(Code::Bath, most.at, message).label("boils");
    let finding = match f
        .file
        .shop
        .as_ref()
        .and_then(|s| s.air.as_ref()?.first(&[&Air::pressure, &Air::altitude]))
    {
        Some(cause) => finding.and(cause, "in this air"),
        None => finding,
    };
    Some(finding.help("lower the band; a bath that boils stirs up its sludge and splashes"))
}

/// A heater holds what can be worked out.
fn within_the_model(_: &Facts, bath: &Bath) -> Option<Finding> {
    let band = bath.band.as_ref()?;
    let (hold, most) = (band.hold.as_ref()?, band.most.as_ref()?);
    (hold.value > HIGHEST && hold.value <= most.value).then(|| {
        Finding::error(Code::Bath, hold.at)
            .says(format!(
                "{} cannot be held: no bath hotter than {} is worked out",
                celsius(hold.value),
                celsius(HIGHEST)
            ))
            .label("too hot")
            .help(format!("write {} or less", celsius(HIGHEST)))
    })
}

/// A target or a time, not both.
fn one_rule(_: &Facts, bath: &Bath) -> Option<Finding> {
    let (target, time) = bath.coat.as_ref()?.both(&Coat::target, &Coat::time)?;
    Some(
        Finding::error(Code::Contradiction, time)
            .says("a time is written beside the target that decides it")
            .label("one of the two")
            .and(target, "or this")
            .help("keep the target if the time should follow from the bath, else the time"),
    )
}

/// A fixed time lies within the window that is written.
fn time_in_window(_: &Facts, bath: &Bath) -> Option<Finding> {
    let Spanned {
        value: Spread::Fixed(time),
        at,
    } = bath.coat.as_ref()?.time.as_ref()?
    else {
        return None;
    };
    let window = bath.dwell.as_ref()?;
    let (least, most) = window.value;
    let outside = *time > most || (bath.place(&Bath::dwell).is_some() && *time < least);
    outside.then(|| {
        Finding::error(Code::Contradiction, *at)
            .says("the coating time lies outside the dwell")
            .label("time")
            .and(window.at, "dwell")
            .help(format!(
                "the dwell is {} to {} min",
                least.in_minutes(),
                most.in_minutes()
            ))
    })
}

/// Free acid is part of total acid.
fn acids(_: &Facts, b: &Bath) -> Option<Finding> {
    let now = b.now.as_ref()?.reads()?;
    let (total, free) = (now.total_acid.as_ref()?, now.free_acid.as_ref()?);
    let (total_acid, free_acid) = now.acids()?;
    (free_acid >= total_acid).then(|| {
        Finding::new(Code::Bath, free.at, "free acid is as much as total acid, or more")
            .label("free")
            .and(total.at, "total")
            .help("free acid is a part of total acid: are the two exchanged?")
    })
}
