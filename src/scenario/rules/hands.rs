//! Hands: whether there are any where they are needed.

use super::{Facts, Rule};
use crate::finding::{Code, Finding};
use crate::written::{Below, TopUp};
use tankday_base::shop::Hands;
use tankday_base::units::Span;

pub(super) const ALL: &[Rule] = &[somebody, topping_up, fresh_water];

/// Work that needs hands has hands.
fn somebody(f: &Facts) -> Vec<Finding> {
    let Some(none) = f
        .file
        .shop
        .as_ref()
        .and_then(|s| s.hands.as_ref())
        .filter(|h| h.value == 0)
    else {
        return Vec::new();
    };
    let needs = f.steps().filter_map(|(_, step)| {
        let hands = step.hands.as_ref()?;
        let zero = |s: &Option<crate::node::Spot<Span>>| s.as_ref().is_some_and(|s| s.value == Span::ZERO);
        let idle = hands.value == Hands::None
            || (hands.value == Hands::Ends && zero(&step.put_in) && zero(&step.take_out));
        (!idle).then(|| {
            Finding::new(
                Code::Hands,
                hands.at,
                "this step needs hands, and the shop has none",
            )
            .label("needs hands")
            .and(none.at, "no hands")
            .help("write `hands: none` if it works by itself")
        })
    });
    needs.collect()
}

/// A tank that is topped up by hand needs a hand.
fn topping_up(f: &Facts) -> Vec<Finding> {
    let none = f
        .file
        .shop
        .as_ref()
        .and_then(|s| s.hands.as_ref())
        .filter(|h| h.value == 0);
    let (Some(none), Some(rules)) = (none, &f.file.rules) else {
        return Vec::new();
    };
    match &rules.top_up {
        Some(TopUp::Below(
            Below {
                below: Some(below), ..
            },
            true,
        )) if below.value.in_fraction() > 0.0 && !f.file.tanks.is_empty() => {
            let finding = Finding::new(
                Code::Hands,
                below.at,
                "a tank is topped up by hand, and the shop has no hands",
            );
            vec![
                finding
                    .label("needs hands")
                    .and(none.at, "no hands")
                    .help("write `top up: never`"),
            ]
        }
        _ => Vec::new(),
    }
}

/// A rinse that is renewed by hand needs a hand.
fn fresh_water(f: &Facts) -> Vec<Finding> {
    let hands = f.file.shop.as_ref().and_then(|s| s.hands.as_ref());
    let Some(none) = hands.filter(|h| h.value == 0) else {
        return Vec::new();
    };
    let rules = f.file.stations.iter().filter_map(|s| s.renew.as_ref()?.written);
    rules
        .map(|at| {
            Finding::new(
                Code::Hands,
                at,
                "a rinse is renewed by hand, and the shop has no hands",
            )
            .label("needs hands")
            .and(none.at, "no hands")
            .help("write `renew: never`")
        })
        .collect()
}
