//! Baths: bands, boiling, dwell.

use super::{Facts, Rule};
use crate::finding::{Code, Finding};
use crate::node::Spot;
use crate::written::Bath;
use tankday_base::bath::HIGHEST;
use tankday_base::bath::water::boiling_point;
use tankday_base::luck::Spread;
use tankday_base::units::Temperature;

pub(super) const ALL: &[Rule] = &[
    hold_in_band,
    above_the_air,
    no_boiling,
    within_the_model,
    one_rule,
    time_in_window,
    acids,
];

/// The band's least is below its most, and what is held lies between.
fn hold_in_band(f: &Facts) -> Vec<Finding> {
    f.file.baths.iter().filter_map(band_of).collect()
}

fn band_of(bath: &Bath) -> Option<Finding> {
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
fn above_the_air(f: &Facts) -> Vec<Finding> {
    let air = f
        .file
        .shop
        .as_ref()
        .and_then(|s| s.air.as_ref()?.temperature.as_ref());
    let Some(air) = air else { return Vec::new() };
    let cold = |bath: &Bath| {
        let hold = bath.band.as_ref()?.hold.as_ref()?;
        (hold.value <= air.value).then(|| {
            Finding::new(
                Code::Bath,
                hold.at,
                format!("a heater does not hold {} in this air", celsius(hold.value)),
            )
            .label("colder than the air")
            .and(air.at, format!("the air has {}", celsius(air.value)))
            .help("write the temperature of a hot bath, such as 95 °C")
        })
    };
    f.file.baths.iter().filter_map(cold).collect()
}

/// As people write it, without needless digits.
pub(super) fn celsius(t: Temperature) -> String {
    format!("{} °C", (t.in_celsius() * 10.0).round() / 10.0)
}

/// The bath does not boil at the height of the shop.
fn no_boiling(f: &Facts) -> Vec<Finding> {
    let Some(boiling) = f.pressure().map(boiling_point) else {
        return Vec::new();
    };
    let cause = f.file.shop.as_ref().and_then(|s| s.air.as_ref()?.cause);
    let mut found = Vec::new();
    for bath in &f.file.baths {
        if let Some(most) = bath.band.as_ref().and_then(|b| b.most.as_ref())
            && most.value >= boiling
        {
            let message = format!(
                "water boils at {} here, below the {} that are allowed",
                celsius(boiling),
                celsius(most.value)
            );
            let finding = Finding::new(Code::Bath, most.at, message).label("boils");
            let finding = cause.into_iter().fold(finding, |f, at| f.and(at, "in this air"));
            found.push(finding.help("lower the band; a bath that boils stirs up its sludge and splashes"));
        }
    }
    found
}

/// A heater holds what can be worked out.
fn within_the_model(f: &Facts) -> Vec<Finding> {
    let too_hot = |bath: &Bath| {
        let band = bath.band.as_ref()?;
        let (hold, most) = (band.hold.as_ref()?, band.most.as_ref()?);
        (hold.value > HIGHEST && hold.value <= most.value).then(|| {
            let message = format!(
                "{} cannot be held: no bath hotter than {} is worked out",
                celsius(hold.value),
                celsius(HIGHEST)
            );
            Finding::new(Code::Bath, hold.at, message)
                .label("too hot")
                .help(format!("write {} or less", celsius(HIGHEST)))
        })
    };
    f.file.baths.iter().filter_map(too_hot).collect()
}

/// A target or a time, not both.
fn one_rule(f: &Facts) -> Vec<Finding> {
    let both = f.file.baths.iter().filter_map(|b| b.coat.as_ref()?.both);
    both.map(|(target, time)| {
        Finding::new(
            Code::Contradiction,
            time,
            "a time is written beside the target that decides it",
        )
        .label("one of the two")
        .and(target, "or this")
        .help("keep the target if the time should follow from the bath, else the time")
    })
    .collect()
}

/// A fixed time lies within the window that is written.
fn time_in_window(f: &Facts) -> Vec<Finding> {
    f.file.baths.iter().filter_map(time_outside).collect()
}

fn time_outside(bath: &Bath) -> Option<Finding> {
    let Spot {
        value: Spread::Fixed(time),
        at,
    } = bath.coat.as_ref()?.time.as_ref()?
    else {
        return None;
    };
    let window = bath.dwell.as_ref()?;
    let (least, most) = window.value;
    let outside = *time > most || (bath.dwell_written && *time < least);
    outside.then(|| {
        Finding::new(
            Code::Contradiction,
            *at,
            "the coating time lies outside the dwell",
        )
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
fn acids(f: &Facts) -> Vec<Finding> {
    let pair = |b: &Bath| {
        let now = b.now.as_ref()?.reads()?;
        let (total, free) = (now.total_acid.as_ref()?, now.free_acid.as_ref()?);
        (free.value >= total.value).then(|| {
            Finding::new(Code::Bath, free.at, "free acid is as much as total acid, or more")
                .label("free")
                .and(total.at, "total")
                .help("free acid is a part of total acid: are the two exchanged?")
        })
    };
    f.file.baths.iter().filter_map(pair).collect()
}
