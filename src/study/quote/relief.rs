//! What relief of hydrogen costs: the same order with it and without it.

use super::{Quoted, Run, last_cost};
use tankday_base::random::Spread;
use tankday_base::shop::{Hands, OrderId, Relieves, Route, RouteId, Shop, Step, StepKind, StepRef, StepTime};
use tankday_base::units::Span;
use tankday_record::{CostOf, Priced};

/// Relief of hydrogen after the bath.
#[derive(Debug, Clone, PartialEq)]
pub struct Relief {
    /// Whether the part needs it.
    pub needed: bool,
    /// The route with it: the order's own, or another of the shop; none if no route has it.
    pub route: Option<RouteId>,
    /// Whether that is the order's own route.
    pub own: bool,
    /// What the order costs with it.
    pub with: Option<Priced>,
    /// What it would cost without it: if its route had none, for every order that takes it.
    pub without: Option<Priced>,
    /// Of the cost with it, hands and oven at its steps.
    pub at_it: f64,
}

/// Relief where the part needs it or its route has it.
pub(super) fn of(shop: &Shop, order: OrderId, quoted: &Quoted, run: &impl Run) -> Option<Relief> {
    let written = shop.orders.get(order.index())?;
    let part = shop.parts.get(written.part.index())?;
    let needed = shop.materials.get(part.material.index())?.hardened;
    let own = shop.routes.get(written.route.index())?;
    if relieves(own) {
        return Some(Relief {
            needed,
            route: Some(written.route),
            own: true,
            at_it: at_it(shop, quoted.today.as_ref()),
            with: quoted.today.clone(),
            without: last_cost(&without(shop, order)?, run),
        });
    }
    if !needed {
        return None;
    }
    let other = other(shop, own);
    let on = |route: RouteId| {
        let mut shop = shop.clone();
        shop.orders.get_mut(order.index())?.route = route;
        last_cost(&shop, run)
    };
    let with = other.and_then(on);
    Some(Relief {
        needed,
        route: other,
        own: false,
        at_it: at_it(shop, with.as_ref()),
        with,
        without: quoted.today.clone(),
    })
}

fn is_relief(step: &Step) -> bool {
    step.relief.is_some_and(|r| r.what == Relieves::Hydrogen)
}

fn relieves(route: &Route) -> bool {
    route.steps.iter().any(is_relief)
}

/// Another route with relief that leads to the same tanks.
fn other(shop: &Shop, own: &Route) -> Option<RouteId> {
    let tanks = |r: &Route| {
        let coats = r.steps.iter().find(|s| s.kind == StepKind::Coat);
        coats.map(|s| s.stations.clone())
    };
    let all = (0..).map(RouteId).zip(&shop.routes);
    let mut like = all.filter(|(_, r)| relieves(r) && tanks(r) == tanks(own));
    like.next().map(|(id, _)| id)
}

/// What hands and oven cost at the steps that relieve hydrogen.
fn at_it(shop: &Shop, priced: Option<&Priced>) -> f64 {
    let relieves = |step: StepRef| shop.find_step(step).is_some_and(is_relief);
    let lines = priced.iter().flat_map(|p| &p.lines);
    let own = lines.filter(|l| match l.of {
        CostOf::Hands(step, _) | CostOf::Supplies(step, _) => relieves(step),
        _ => false,
    });
    own.map(|l| l.money).sum()
}

/// The shop with relief on the order's route taking no time, no hands and no oven.
fn without(shop: &Shop, order: OrderId) -> Option<Shop> {
    let mut shop = shop.clone();
    let route = shop.orders.get(order.index())?.route;
    let route = shop.routes.get_mut(route.index())?;
    for step in route.steps.iter_mut().filter(|s| is_relief(s)) {
        step.kind = StepKind::Other;
        step.relief = None;
        step.hands = Hands::None;
        (step.put_in, step.take_out) = (Span::ZERO, Span::ZERO);
        step.time = StepTime::Work {
            load: Spread::Fixed(Span::ZERO),
            each: Span::ZERO,
        };
        (step.most, step.within, step.overnight) = (None, None, false);
    }
    Some(shop)
}
