//! How many due times a plan keeps under luck, beside the shop's own rules.

use super::traded::of_hundred;
use tankday_base::print::Replication;
use tankday_base::shop::Keeping;
use tankday_plan::Found;

/// In a sentence or two; nothing where nothing is left to luck, or nothing is due.
#[must_use]
pub fn chances(found: &Found, each: Replication) -> Option<String> {
    let chances = found.chances?;
    let days = each.simulated(chances.days as usize);
    let share = |kept: f64| of_hundred(kept, chances.due);
    if found.plan.keeping == Keeping::OwnRules {
        return Some(format!(
            "No plan found is better than the shop's own rules: keep to them. On {days} they keep {} of 100 due \
             times.",
            hundredths(share(chances.by_rules))
        ));
    }
    let (plan, rules) = (share(chances.kept), share(chances.by_rules));
    Some(format!(
        "On {days} this plan keeps {} of 100 due times; the shop's own rules keep {}.",
        hundredths(plan),
        hundredths(rules)
    ))
}

/// Whole, but never all or none where it is not.
fn hundredths(share: f64) -> String {
    let whole = libm::round(share);
    if (whole - share).abs() > 1e-6 && (whole <= 0.0 || whole >= 100.0 || share > 99.0) {
        format!("{share:.1}")
    } else {
        format!("{whole:.0}")
    }
}
