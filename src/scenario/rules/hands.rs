//! Hands: whether there are any where they are needed.

use super::{Facts, Rule};
use crate::finding::{Code, Finding};
use crate::node::Spanned;
use crate::written::{Station, Step, TopUp};
use tankday_base::shop::Hands;
use tankday_base::units::Span;

pub(super) const ALL: &[Rule] = &[
    Rule::Step(somebody),
    Rule::Once(topping_up),
    Rule::Station(fresh_water),
];

/// Work that needs hands has hands.
fn somebody(f: &Facts, step: &Step) -> Option<Finding> {
    let (none, hands) = (f.no_hands()?, step.hands.as_ref()?);
    let zero = |s: &Option<Spanned<Span>>| s.as_ref().is_some_and(|s| s.value == Span::ZERO);
    let idle = hands.value == Hands::None
        || (hands.value == Hands::Ends && zero(&step.put_in) && zero(&step.take_out));
    (!idle).then(|| {
        Finding::error(Code::Hands, hands.at)
            .says("this step needs hands, and the shop has none")
            .label("needs hands")
            .and(none.at, "no hands")
            .help("write `hands: none` if it works by itself")
    })
}

/// A tank that is topped up by hand needs a hand.
fn topping_up(f: &Facts) -> Option<Finding> {
    let none = f.no_hands()?;
    let Some(TopUp::Below(rule, true)) = &f.file.rules.as_ref()?.top_up else {
        return None;
    };
    let below = rule.below.as_ref()?;
    (below.value.in_fraction() > 0.0 && !f.file.tanks.is_empty()).then(|| {
        Finding::error(Code::Hands, below.at)
            .says("a tank is topped up by hand, and the shop has no hands")
            .label("needs hands")
            .and(none.at, "no hands")
            .help("write `top up: never`")
    })
}

/// A rinse that is renewed by hand needs a hand.
fn fresh_water(f: &Facts, station: &Station) -> Option<Finding> {
    let (none, rule) = (f.no_hands()?, station.renew.as_ref()?.written?);
    Some(
        Finding::error(Code::Hands, rule)
            .says("a rinse is renewed by hand, and the shop has no hands")
            .label("needs hands")
            .and(none.at, "no hands")
            .help("write `renew: never`"),
    )
}
