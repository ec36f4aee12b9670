//! Quotes as data.

use crate::json::round;
use crate::one_load::blocks;
use serde_json::{Value, json};
use tankday_base::shop::{Shop, StepRef};
use tankday_base::units::Moment;
use tankday_output::narrative::{Asked, Card, lever_said};
use tankday_record::{CostLine, CostOf, Priced};
use tankday_study::quote::{Later, Lever, Quote, Quoted, Relief, Rush};

/// One quote, with every figure behind it.
pub(super) fn object(asked: Asked<'_>, quote: &Quote, told: &Card) -> Value {
    let mut object = quoted(asked, &quote.quoted);
    object["title"] = asked.shop.title.clone().into();
    object["currency"] = asked.shop.prices.currency.clone().into();
    object["answer"] = json!(told.answer);
    object["warnings"] = json!(told.watch);
    object["day_costs_more"] = quote.more.map_or(Value::Null, round);
    object["lost_for_it"] = lost(&quote.later);
    object["hydrogen_relief"] = quote.relief.as_ref().map_or(Value::Null, |r| relief(asked, r));
    object["rush"] = quote.rush.as_ref().map_or(Value::Null, |r| rush(asked.shop, r));
    object["levers"] = quote.levers.iter().map(|l| lever(asked.shop, l)).collect();
    object["told"] = blocks(&told.blocks);
    object
}

/// A list of quotes.
pub(super) fn list(asked: Asked<'_>, quotes: &[Quoted], told: &Card) -> Value {
    json!({
        "title": asked.shop.title,
        "currency": asked.shop.prices.currency,
        "answer": told.answer,
        "warnings": told.watch,
        "quotes": quotes.iter().map(|q| quoted(asked, q)).collect::<Vec<_>>(),
    })
}

fn quoted(asked: Asked<'_>, quoted: &Quoted) -> Value {
    let shop = asked.shop;
    let order = shop.orders.get(quoted.order.index());
    let case = |p: &Option<Priced>| p.as_ref().map_or(Value::Null, |p| priced(asked, p));
    json!({
        "order": order.map(|o| o.id.clone()),
        "part": order.and_then(|o| shop.parts.get(o.part.index())).map(|p| p.name.clone()),
        "pieces": order.map(|o| o.count),
        "route": order.and_then(|o| shop.routes.get(o.route.index())).map(|r| r.name.clone()),
        "margin": round(asked.asking.margin.in_fraction()),
        "minimum": round(asked.asking.minimum),
        "ready": time(shop, quoted.ready),
        "with_the_days_loads": case(&quoted.today),
        "alone": case(&quoted.alone),
        "full_load": case(&quoted.full),
    })
}

fn priced(asked: Asked<'_>, p: &Priced) -> Value {
    let cost = p.total();
    let price = asked.asking.price(cost);
    let kg = p.mass.in_kilograms();
    json!({
        "pieces": p.pieces,
        "mass_kg": round(kg),
        "cost": round(cost),
        "price": round(price),
        "each": round(price / f64::from(p.pieces.max(1))),
        "per_kg": if kg > 0.0 { round(price / kg) } else { Value::Null },
        "lines": p.lines.iter().map(|l| line(asked.shop, l)).collect::<Vec<_>>(),
        "not_stated": p.missing(),
    })
}

fn line(shop: &Shop, line: &CostLine) -> Value {
    let name = |at: StepRef| shop.find_step(at).map(|s| s.name.clone());
    let minutes = |span: tankday_base::units::Span| Some(round(span.in_minutes()));
    let (what, step, took) = match line.of {
        CostOf::Hands(at, span) => ("hands", name(at), minutes(span)),
        CostOf::Between(span) => ("hands_without_load", None, minutes(span)),
        CostOf::Heat => ("heat", None, None),
        CostOf::Water => ("water", None, None),
        CostOf::Concentrate => ("concentrate", None, None),
        CostOf::CareChemicals(_) => ("care_chemicals", None, None),
        CostOf::Sludge => ("sludge", None, None),
        CostOf::FilterMedia => ("filter_media", None, None),
        CostOf::Waste => ("waste", None, None),
        CostOf::Wear(_) => ("bath_wear", None, None),
        CostOf::Supplies(at, what) => (what.words(), name(at), None),
        CostOf::TankHours(span) => ("tank_hours", None, minutes(span)),
        CostOf::Rejects(at) => ("rejects", at.and_then(name), None),
    };
    json!({"what": what, "step": step, "min": took, "money": round(line.money), "not_stated": line.missing})
}

fn time(shop: &Shop, at: Option<Moment>) -> Value {
    at.map_or(Value::Null, |at| shop.calendar.local_time(at).into())
}

fn relief(asked: Asked<'_>, relief: &Relief) -> Value {
    let route = relief.route.and_then(|r| asked.shop.routes.get(r.index()));
    let cost = |p: &Option<Priced>| p.as_ref().map_or(Value::Null, |p| round(p.total()));
    json!({
        "needed": relief.needed,
        "route": route.map(|r| r.name.clone()),
        "own_route": relief.own,
        "cost_with": cost(&relief.with),
        "cost_without": cost(&relief.without),
        "hands_and_oven": round(relief.at_it),
    })
}

fn rush(shop: &Shop, rush: &Rush) -> Value {
    let later: Vec<Value> = rush
        .later
        .iter()
        .map(|l| {
            json!({
                "order": l.id,
                "ready_without": time(shop, Some(l.before)),
                "ready": time(shop, l.after),
                "misses_its_due_time": l.misses,
                "lost": l.is_lost(),
            })
        })
        .collect();
    json!({
        "ready": time(shop, rush.ready),
        "ready_in_its_turn": time(shop, rush.in_turn),
        "day_costs_more": rush.more.map_or(Value::Null, round),
        "lost_for_it": lost(&rush.later),
        "later": later,
    })
}

/// The orders that aren't finished, or not sound, for another.
fn lost(later: &[Later]) -> Value {
    let lost = later.iter().filter(|l| l.is_lost());
    lost.map(|l| l.id.clone()).collect()
}

fn lever(shop: &Shop, lever: &Lever) -> Value {
    json!({"otherwise": lever_said(shop, lever.kind), "cost_each": round(lever.each), "by": round(lever.by)})
}
