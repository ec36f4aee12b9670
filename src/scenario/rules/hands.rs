//! Hands: whether there are any where they are needed, and two pairs where one does not lift the work.

use super::{Facts, Rule, room};
use crate::finding::{Code, Finding};
use crate::node::Spanned;
use crate::thing::Thing;
use crate::written::{Given, Order, Part, Shop, Station, Step, TopUp};
use std::collections::BTreeSet;
use tankday_base::shop::{HEAVY_LIFT, Hands, Held};
use tankday_base::units::{Mass, Span};

pub(super) const ALL: &[Rule] = &[
    Rule::Step(somebody),
    Rule::Once(topping_up),
    Rule::Station(fresh_water),
    Rule::Whole(heavy_lift),
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

/// Work that one person should not lift over a hot bath, where there is one person: a piece on its wire, or a basket with what
/// of an order goes in at once, and no hoist. The limit is that of the day sheet.
fn heavy_lift(f: &Facts) -> Vec<Finding> {
    let Some(shop) = &f.file.shop else {
        return Vec::new();
    };
    let usual = shop.hands.as_ref().map(|h| h.value);
    let own = |h: &Given<u32>| h.as_ref().map(|h| h.value).or(usual) == Some(1);
    let by_hoist = shop.hoist.as_ref().is_some_and(|h| h.value);
    let alone = !by_hoist && f.file.days.iter().any(|d| d.hands().into_iter().any(own));
    let mut seen = BTreeSet::new();
    let lifts = f.coatings().filter(|_| alone).filter_map(|(order, part, step)| {
        let (pieces, mass) = lift(f, order, part, step)?;
        let heavy = mass >= HEAVY_LIFT && seen.insert(part.name.at.start);
        heavy.then(|| too_heavy(shop, part, pieces, mass))
    });
    lifts.collect()
}

/// How many pieces are lifted at once, and their mass. An order is divided evenly, so that no way to divide it makes all its
/// loads lighter.
fn lift(f: &Facts, order: &Order, part: &Part, step: &Step) -> Option<(u32, Mass)> {
    let (mass, _) = f.measures(part)?;
    if part.held.as_ref()?.value != Held::Basket {
        return Some((1, mass));
    }
    let tanks = f.tanks_meant(order, part, step);
    let most = tanks.iter().filter_map(|t| room::pieces(f, part, t));
    let most = most.fold(0.0, f64::max);
    let count = f64::from(order.count.as_ref()?.value);
    let pieces = (count / (count / most).ceil()).ceil();
    (most >= 1.0).then_some((pieces as u32, mass * pieces))
}

fn too_heavy(shop: &Shop, part: &Part, pieces: u32, mass: Mass) -> Finding {
    let at = part.places.of_value(&Part::mass).or(part.shape_at());
    let kg = (mass.in_kilograms() * 10.0).round() / 10.0;
    let name = &part.name.value;
    let (what, or) = match pieces {
        1 => (format!("one `{name}` weighs {kg} kg"), ""),
        _ => (
            format!("a basket of {pieces} pieces of `{name}` weighs {kg} kg"),
            "; or load less at once, with a smaller `room: {mass: ...}` at the bath",
        ),
    };
    let limit = (HEAVY_LIFT.in_kilograms() * 10.0).round() / 10.0;
    let message = format!(
        "{what}: over hot acid that is a lift for two people or a hoist, and the shop has one pair of hands"
    );
    let finding = Finding::warning(Code::Hands, at.unwrap_or(part.name.at), message)
        .label("heavy at arm's length")
        .help(format!(
            "from {limit} kg on (revised NIOSH lifting equation, from memory): see that a hoist or a second person is at the \
             tank, with `shop: {{hoist: yes}}` or `hands: 2` where it is so{or}"
        ));
    match shop.place(&Shop::hands).and(shop.hands.as_ref()) {
        Some(hands) => finding.and(hands.at, "one pair"),
        None => finding,
    }
}
