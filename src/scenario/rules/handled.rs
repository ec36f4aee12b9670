//! How hot a bath is when hands decant, filter, carry or feed it: a bath that is to cool can, and it has cooled.

use super::bath::celsius;
use super::care::acts;
use super::{Facts, Rule};
use crate::finding::{Code, Finding};
use crate::written::Act;
use tankday_base::bath::{HOT, SOLIDS};
use tankday_base::shop::Chore;
use tankday_base::units::TempDiff;

pub(super) const ALL: &[Rule] = &[cools, carried_cold, wool_cold];

/// A bath that is to cool can.
fn cools(f: &Facts) -> Vec<Finding> {
    let air = f
        .file
        .shop
        .as_ref()
        .and_then(|s| s.air.as_ref()?.temperature.as_ref());
    let Some(air) = air else { return Vec::new() };
    let least = air.value + TempDiff::kelvin(3.0);
    let warm = |a: &Act| {
        let to = match a.chore.as_ref()? {
            Chore::Stop(stop) => stop.cool_to,
            Chore::Renew { cool_to, .. } => *cool_to,
            _ => return None,
        };
        (!a.when.is_empty() && to < least).then(|| {
            Finding::new(
                Code::Bath,
                a.at,
                format!("a bath does not cool to {} in this air", celsius(to)),
            )
            .label("waits for ever")
            .and(air.at, format!("the air has {}", celsius(air.value)))
            .help("write a `cool to` at least 3 °C above the air")
        })
    };
    acts(f).filter_map(warm).collect()
}

/// Nobody decants, filters or carries a hot bath; a pump may move it.
fn carried_cold(f: &Facts) -> Vec<Finding> {
    let pump = f.file.shop.as_ref().and_then(|s| s.pump.as_ref());
    if pump.is_none_or(|p| p.value) {
        return Vec::new();
    }
    let hot = |a: &Act| {
        let to = match a.chore.as_ref()? {
            Chore::Stop(stop) => stop.cool_to,
            Chore::Renew { cool_to, .. } => *cool_to,
            _ => return None,
        };
        (!a.when.is_empty() && to > HOT).then(|| {
            let message = format!(
                "nobody decants, filters or carries a bath of {}: it scalds",
                celsius(to)
            );
            Finding::new(Code::Bath, a.at, message)
                .label(format!("above {}", celsius(HOT)))
                .help(format!(
                    "write a `cool to` of {} at most; or, if a pump moves the hot bath, `shop: {{pump: yes}}`",
                    celsius(HOT)
                ))
        })
    };
    acts(f).filter_map(hot).collect()
}

/// Steel wool goes into a bath that is not too hot for it.
fn wool_cold(f: &Facts) -> Vec<Finding> {
    let hot = |a: &Act| {
        let Some(Chore::Condition { at, .. }) = a.chore.filter(|_| !a.when.is_empty()) else {
            return None;
        };
        (at > SOLIDS).then(|| {
            let message = format!("steel wool goes in at {}: the bath froths over", celsius(at));
            Finding::warning(Code::Bath, a.at, message)
                .label(format!("above {}", celsius(SOLIDS)))
                .help(format!(
                    "write an `at` of {} at most, such as 65 °C",
                    celsius(SOLIDS)
                ))
        })
    };
    acts(f).filter_map(hot).collect()
}
