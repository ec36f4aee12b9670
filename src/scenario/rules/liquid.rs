//! How hot a liquid may be at the start: one rule for every key that states it, for baths and for rinses. It neither freezes
//! nor boils; a bath does not begin above its band.

use super::bath::celsius;
use super::{Facts, Rule};
use crate::finding::{Code, Finding};
use crate::node::{SourceSpan, Spanned};
use tankday_base::bath::HIGHEST;
use tankday_base::bath::water::boiling_point;
use tankday_base::units::Temperature;

pub(super) const ALL: &[Rule] = &[Rule::Whole(is_liquid), Rule::Tank(not_above_its_band)];

/// Where water freezes.
const FREEZES: Temperature = Temperature::celsius(0.0);

/// A liquid as it is at the start.
struct Start {
    what: &'static str,
    temperature: Temperature,
    at: SourceSpan,
    /// Whether it has the temperature of the air, and nothing is written of it.
    as_air: bool,
}

fn starts(f: &Facts) -> Vec<Start> {
    let air = f.file.shop.as_ref().and_then(|s| s.air.as_ref());
    let air = air.and_then(|a| a.temperature.as_ref());
    let start = |what, now: &Spanned<Option<Temperature>>| match now.value {
        Some(temperature) => Some(Start {
            what,
            temperature,
            at: now.at,
            as_air: false,
        }),
        None => air.map(|air| Start {
            what,
            temperature: air.value,
            at: air.at,
            as_air: true,
        }),
    };
    let baths = f
        .file
        .tanks
        .iter()
        .filter_map(|t| t.now.as_ref()?.temperature.as_ref());
    let filled = f.file.stations.iter().filter(|s| s.fill.is_some());
    let rinses = filled.filter_map(|s| s.temperature.as_ref());
    let baths = baths.filter_map(|now| start("a bath", now));
    baths
        .chain(rinses.filter_map(|now| start("rinse water", now)))
        .collect()
}

/// At the start nothing boils or is frozen.
fn is_liquid(f: &Facts) -> Vec<Finding> {
    let Some(boils) = f.pressure().map(boiling_point) else {
        return Vec::new();
    };
    let mut of_air = false;
    let mut found = Vec::new();
    for start in starts(f) {
        let frozen = start.temperature < FREEZES;
        // Of the air one word is enough.
        if (!frozen && start.temperature < boils) || (start.as_air && std::mem::replace(&mut of_air, true)) {
            continue;
        }
        let as_air = if start.as_air {
            ", the air that it starts with"
        } else {
            ""
        };
        let message = format!(
            "{} cannot have {}{as_air}",
            start.what,
            celsius(start.temperature)
        );
        found.push(
            Finding::new(Code::Bath, start.at, message)
                .label(if frozen { "frozen" } else { "boils" })
                .help(format!("it freezes at 0 °C and boils at {} here", celsius(boils))),
        );
    }
    found
}

/// A bath that begins above its band is told: it is let down before work goes in, or the reading is a slip.
fn not_above_its_band(f: &Facts, t: &crate::written::Tank) -> Option<Finding> {
    let boils = f.pressure().map(boiling_point);
    let now = t.now.as_ref()?.temperature.as_ref()?;
    let most = f.bath(&t.bath.as_ref()?.value)?.band.as_ref()?.most.as_ref()?;
    let temperature = now.value.filter(|t| boils.is_none_or(|b| *t < b))?;
    (temperature > most.value).then(|| {
        let message = format!("the bath starts at {}, above its band", celsius(temperature));
        Finding::warning(Code::Bath, now.at, message)
            .label("now")
            .and(most.at, format!("at most {}", celsius(most.value)))
            .help(format!(
                "check the reading; let it cool into its band before work or concentrate goes in{}",
                taken_as(temperature)
            ))
    })
}

/// What a reading is taken as that is hotter than any bath that is worked out.
pub(super) fn taken_as(temperature: Temperature) -> String {
    if temperature <= HIGHEST {
        return String::new();
    }
    format!(
        "; it is taken as {}, the hottest that is worked out",
        celsius(HIGHEST)
    )
}
