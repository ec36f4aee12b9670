//! The odds of inspection as written.

use super::Got;
use crate::finding::{Code, Finding};
use crate::node::Node;
use crate::value;
use crate::walk::{Fields, Walk};
use tankday_base::shop;
use tankday_base::units::Share;

/// How often loads fail, and what makes them fail more often.
#[derive(Debug)]
pub(crate) struct Odds {
    pub(crate) base: Got<Share>,
    pub(crate) factors: Option<shop::Odds>,
}

impl Odds {
    pub(super) fn of(mut f: Fields) -> Self {
        let base = f.or("base", some_pass);
        let mut factor = |key: &str| f.or(key, value::factor::<10, 1_000>).map(|s| s.value);
        // Every key is read before any of them is missed, so that all mistakes are told.
        let all = [
            factor("overloaded"),
            factor("underfired"),
            factor("without iron"),
            factor("much iron"),
            factor("sludge"),
            factor("too hot"),
            factor("too short"),
            factor("too long"),
            factor("spent rinse"),
            factor("waited"),
            factor("hot rinse"),
            factor("dried on"),
            factor("greasy"),
            factor("pickled"),
            factor("holes down"),
            factor("crevices"),
        ];
        let factors = match all {
            [
                Some(overloaded),
                Some(underfired),
                Some(without_iron),
                Some(much_iron),
                Some(sludge),
                Some(too_hot),
                Some(too_short),
                Some(too_long),
                Some(spent_rinse),
                Some(waited),
                Some(hot_rinse),
                Some(dried_on),
                Some(greasy),
                Some(pickled),
                Some(holes_down),
                Some(crevices),
            ] => Some(shop::Odds {
                overloaded,
                underfired,
                without_iron,
                much_iron,
                sludge,
                too_hot,
                too_short,
                too_long,
                spent_rinse,
                waited,
                hot_rinse,
                dried_on,
                greasy,
                pickled,
                holes_down,
                crevices,
            }),
            _ => None,
        };
        Self { base, factors }
    }
}

/// A share below all: where every load fails nothing is ever ready.
fn some_pass(node: &Node, walk: &mut Walk) -> Option<Share> {
    let share = value::share(node, walk)?;
    if share.in_fraction() < 1.0 {
        return Some(share);
    }
    walk.add(Finding::new(
        Code::Range,
        node.at,
        "where every load fails, nothing is ever ready",
    ));
    None
}
