//! How hot a bath is when hands decant, filter, carry or feed it: a bath that is to cool can, and it has cooled.

use super::bath::celsius;
use super::{Facts, Rule};
use crate::finding::{Code, Finding};
use crate::written::Act;
use tankday_base::bath::{HOT, SOLIDS};
use tankday_base::shop::Chore;
use tankday_base::units::{TempDiff, Temperature};

pub(super) const ALL: &[Rule] = &[Rule::Act(cools), Rule::Act(carried_cold), Rule::Act(wool_cold)];

/// Down to what a chore lets its bath cool before hands go on with it.
fn cool_to(act: &Act) -> Option<Temperature> {
    match act.chore.as_ref().filter(|_| !act.when.is_empty())? {
        Chore::Stop(stop) => Some(stop.cool_to),
        Chore::Renew { cool_to, .. } => Some(*cool_to),
        _ => None,
    }
}

/// A bath that is to cool can.
fn cools(f: &Facts, a: &Act) -> Option<Finding> {
    let air = f.air()?;
    let least = air.value + TempDiff::kelvin(3.0);
    let to = cool_to(a)?;
    (to < least).then(|| {
        Finding::error(Code::Bath, a.at)
            .says(format!("a bath does not cool to {} in this air", celsius(to)))
            .label("waits for ever")
            .and(air.at, format!("the air has {}", celsius(air.value)))
            .help("write a `cool to` at least 3 °C above the air")
    })
}

/// Nobody decants, filters or carries a hot bath; a pump may move it.
fn carried_cold(f: &Facts, a: &Act) -> Option<Finding> {
    let pump = f.file.shop.as_ref().and_then(|s| s.pump.as_ref());
    if pump.is_none_or(|p| p.value) {
        return None;
    }
    let to = cool_to(a)?;
    (to > HOT).then(|| {
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
}

/// Steel wool goes into a bath that is not too hot for it.
fn wool_cold(_: &Facts, a: &Act) -> Option<Finding> {
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
}
