//! The results as one JSON object. Its keys are a contract; more may be added.

mod over_days;

pub(super) use over_days::interval;

use super::summary::{Promise, Results, promises, watch_words};
use over_days::over_days;
use serde_json::{Map, Value, json};
use tankday_base::bath::chemistry::{Life, Reach};
use tankday_base::print::number;
use tankday_base::shop::Shop;
use tankday_base::units::{Moment, Span};
use tankday_output::narrative::some_days;
use tankday_record::{BathFigure, Cost, TankFigure, TankLoad};
use tankday_study::StudyDay;

/// The object. Of many days it holds what is true of all of them: `p50` and `p90` of times, chances, means with their
/// intervals; what is true of one of them only stands in `drawn_day`. Loads, what sets the end and warnings are keys of the
/// contract: they stand at the top, too, and each entry says that it is of the drawn day.
#[must_use]
pub(super) fn object(results: &Results<'_>) -> Value {
    let shop = results.shop;
    let head = |figures_of: String| {
        json!({
            "title": shop.title,
            "seed": results.seed,
            "replications": results.study.map_or(0, |s| s.days.len()),
            "figures_of": figures_of,
        })
    };
    let Some(study) = results.many() else {
        return match results.study {
            Some(_) => joined(
                head(format!(
                    "{}, which says nothing about chances",
                    results.each().simulated(1)
                )),
                one_day(results, false),
            ),
            None => joined(
                head("one day, worked out with average times".to_owned()),
                one_day(results, true),
            ),
        };
    };
    let many = study.days.len();
    let of_all = json!({
        "finish": times(shop, Some(study.finish()), None),
        "last_ready": times(shop, Some(study.end()), None),
        "orders": promises(results).iter().map(|p| order(results, p)).collect::<Vec<_>>(),
        "tanks": over_days(results, |day| day.tanks.iter().map(|t| tank(shop, t)).collect()),
        "baths": over_days(results, |day| day.baths.iter().map(bath).collect()),
        "cost": over_days(results, |day| cost(&day.cost)),
        "on_some_days": some_days(results).iter().map(|some| json!({
            "code": some.code, "text": some.words, "days": some.days, "of": some.of,
        })).collect::<Vec<_>>(),
    });
    let drawn = Results {
        study: None,
        ..*results
    };
    let which = json!({
        "replication": study.drawn + 1,
        "figures_of": format!("the one of {} that is nearest their medians", results.each().simulated(many)),
    });
    let day = one_day(&drawn, false);
    let told: Map<String, Value> = ["loads", "sets_the_end", "warnings"]
        .into_iter()
        .map(|key| (key.to_owned(), of_drawn_day(&day[key])))
        .collect();
    let of_all = joined(of_all, Value::Object(told));
    let drawn = json!({ "drawn_day": joined(which, day) });
    joined(
        head(format!("all {}", results.each().simulated(many))),
        joined(of_all, drawn),
    )
}

/// Entries that say that they are of the drawn day.
fn of_drawn_day(entries: &Value) -> Value {
    let mut entries = entries.clone();
    for entry in entries.as_array_mut().into_iter().flatten() {
        entry["figures_of"] = json!("drawn_day");
    }
    entries
}

/// Two objects as one.
fn joined(one: Value, two: Value) -> Value {
    match (one, two) {
        (Value::Object(mut one), Value::Object(two)) => {
            one.extend(two);
            Value::Object(one)
        }
        (one, _) => one,
    }
}

/// One day. With average times an order has a chance of all or nothing; one simulated day of many has none.
fn one_day(results: &Results<'_>, chances: bool) -> Value {
    let shop = results.shop;
    let orders = promises(results).into_iter().map(|p| {
        let mut order = order(results, &p);
        if let (false, Some(order)) = (chances, order.as_object_mut()) {
            order.shift_remove("on_time_chance");
        }
        order
    });
    json!({
        "finish": time(shop, results.figures.finish),
        "last_ready": time(shop, results.figures.end),
        "orders": orders.collect::<Vec<_>>(),
        "loads": results.figures.loads.iter().map(|l| load(results, l)).collect::<Vec<_>>(),
        "tanks": over_days(results, |day| day.tanks.iter().map(|t| tank(shop, t)).collect()),
        "baths": over_days(results, |day| day.baths.iter().map(bath).collect()),
        "cost": over_days(results, |day| cost(&day.cost)),
        "sets_the_end": sets_the_end(results),
        "would_help": results.gains.iter().take(3).map(|g| json!({
            "what": g.ease.words(shop), "minutes": round(g.earlier.in_minutes()), "more_orders": g.more_orders,
            "less_late_min": round(g.less_late.in_minutes()), "saves": g.saves.map(round),
        })).collect::<Vec<_>>(),
        "stations": stations(results),
        "waste": waste(&results.figures.waste),
        "rinses": rinses(results),
        "reworks": reworks(results),
        "hands": results.figures.hands.iter().map(|h| json!({"busy": round(h.in_fraction())})).collect::<Vec<_>>(),
        "warnings": warnings(results),
    })
}

fn time(shop: &Shop, at: Option<Moment>) -> Value {
    at.map_or(Value::Null, |at| Value::String(shop.calendar.local_time(at)))
}

/// A time, or its usual and its nine-in-ten value.
fn times(shop: &Shop, many: Option<(Option<Moment>, Option<Moment>)>, one: Option<Moment>) -> Value {
    match many {
        Some((usual, nine)) => json!({"p50": time(shop, usual), "p90": time(shop, nine)}),
        None => time(shop, one),
    }
}

/// Six decimals: more than anything is known to, and no tails of rounding.
pub(super) fn round(value: f64) -> Value {
    number(value, 6).parse::<f64>().map_or(Value::Null, Value::from)
}

fn minutes(span: Option<Span>) -> Value {
    span.map_or(Value::Null, |s| round(s.in_minutes()))
}

/// An order: of one day with what it costs then, of many with how sure it is.
fn order(results: &Results<'_>, promise: &Promise<'_>) -> Value {
    let (shop, order) = (results.shop, promise.order);
    let chance = promise
        .chance
        .map(|c| f64::from(c.on_time) / f64::from(c.of.max(1)));
    let one_day = if order.on_time() { 1.0 } else { 0.0 };
    let late = match results.many() {
        Some(study) => {
            let late = |d: &StudyDay| {
                let (ready, due) = d.orders.get(&(order.source, order.nth)).copied()?;
                Some((ready? - due?).max(Span::ZERO).in_minutes())
            };
            interval(&study.days.iter().filter_map(late).collect::<Vec<_>>())
        }
        None => minutes(order.late()),
    };
    let shares = &results.figures.order_costs;
    let share = shares
        .iter()
        .find(|s| s.order == order.order && results.figures.cost.given);
    let said = json!({
        "id": order.id,
        "part": shop.parts.get(order.part.index()).map(|p| p.name.as_str()),
        "pieces": order.pieces,
        "ready": times(shop, promise.chance.map(|c| (c.usual, c.nine_in_ten)), order.ready),
        "due": time(shop, promise.due),
        "late_min": late,
        "on_time_chance": round(chance.unwrap_or(one_day)),
        "harm": promise.harm.codes(),
    });
    if results.many().is_some() {
        return said;
    }
    let costs = json!({
        "cost": share.map_or(Value::Null, |s| round(s.cost)),
        "cost_per_piece": share.map_or(Value::Null, |s| round(s.each)),
    });
    joined(said, costs)
}

fn load(results: &Results<'_>, load: &TankLoad) -> Value {
    let mut orders: Vec<&str> = Vec::new();
    for lot in &load.lots {
        let id = results.labels.order(lot.order);
        if !orders.contains(&id) {
            orders.push(id);
        }
    }
    let weight = |(id, w): &(tankday_base::shop::PartId, tankday_base::units::CoatWeight)| {
        let part = results
            .shop
            .parts
            .get(id.index())
            .map_or("?", |p| p.name.as_str());
        (part.to_owned(), round(w.in_grams_per_square_metre()))
    };
    let coats: Map<String, Value> = load.coats.iter().map(weight).collect();
    json!({
        "id": results.labels.load(load.load),
        "tank": name(results.shop, load.tank),
        "in": results.shop.calendar.local_time(load.begins),
        "out": time(results.shop, load.out),
        "dwell_min": minutes(load.dwell()),
        "dwell_believed_min": load.range.map(|r| [round(r.quick.in_minutes()), round(r.slow.in_minutes())]),
        "gas_left_share": load.range.map(|r| round(r.fizz.in_fraction())),
        "area_dm2": round(load.area.in_square_decimetres()),
        "coating_g_per_m2": coats,
        "over_g_per_m2": load.over(results.shop).map(|w| round(w.in_grams_per_square_metre())),
        "mass_kg": round(load.mass.in_kilograms()),
        "orders": orders,
    })
}

fn name(shop: &Shop, station: tankday_base::shop::StationId) -> &str {
    shop.station_name(station)
}

fn tank(shop: &Shop, tank: &TankFigure) -> Value {
    let share = |share: tankday_base::units::Share| round(share.in_fraction());
    json!({
        "name": name(shop, tank.tank),
        "heat_up_min": minutes(tank.heat_up),
        "lowest_in_band_c": tank.lowest.map_or(Value::Null, |t| round(t.in_celsius())),
        "share": {
            "heating": share(tank.shares.heating),
            "waiting": share(tank.shares.waiting),
            "coating": share(tank.shares.coating),
            "recovering": share(tank.shares.recovering),
            "care": share(tank.shares.care),
            "off": share(tank.shares.off),
        },
        "energy_kwh": round(tank.energy.in_kilowatt_hours()),
        "top_up_l": round(tank.top_up.in_litres()),
    })
}

fn bath(bath: &BathFigure) -> Value {
    let used = bath.used();
    json!({
        "name": bath.name,
        "area_dm2_per_l": round(bath.now.area.in_square_decimetres_per_litre()),
        "iron_g_per_l": round(bath.now.iron.in_grams_per_litre()),
        "total_acid_points": round(bath.now.total_acid.in_points()),
        "sludge_g_per_l": round(bath.now.sludge.in_grams_per_litre()),
        "free_acid_points": round(bath.now.free_acid.in_points()),
        "acid_ratio": round(bath.now.total_acid / bath.now.free_acid),
        "uses": bath.now.uses,
        "contaminated": bath.now.contaminants.names().collect::<Vec<_>>(),
        "coating_g": round(bath.coating.in_grams()),
        "metal_dissolved_g": round(bath.metal.in_grams()),
        "hydrogen_l": round(bath.hydrogen.in_litres()),
        "dragged_out_l": round(bath.dragged_out.in_litres()),
        "care": {
            "times": bath.care.len(),
            "water_l": round(used.water.in_litres()),
            "concentrate_l": round(used.concentrate.in_litres()),
            "chemical_g": round(used.chemical.in_grams()),
            "wasted_l": round(used.wasted.in_litres()),
            "sludge_g": round(used.sludge.in_grams()),
            "filter_media": used.media,
        },
        "life_left": bath.life.as_ref().map(life),
    })
}

/// What is left to every limit that the present mix of work leads to, the nearest first.
fn life(life: &Life) -> Value {
    let reach = |r: &Reach| {
        json!({
            "limit": r.what.words(r.side),
            "area_m2": round(r.area.in_square_metres()),
            "loads": round(r.loads),
            "days": round(r.days),
        })
    };
    json!({
        "first": life.first().map(reach),
        "all": life.reaches.iter().map(reach).collect::<Vec<_>>(),
    })
}

fn cost(cost: &Cost) -> Value {
    json!({
        "power": round(cost.power),
        "water": round(cost.water),
        "chemicals": round(cost.chemicals),
        "filter_media": round(cost.filter),
        "waste": round(cost.waste),
        "hands": round(cost.hands),
        "hands_paid_otherwise": round(cost.hands_otherwise),
        "prices_given": cost.given,
        "total": round(cost.total()),
        "left_behind": round(cost.left.total()),
        "currency": cost.currency,
    })
}

fn sets_the_end(results: &Results<'_>) -> Vec<Value> {
    let causes = results
        .chain
        .map(tankday_record::Chain::causes)
        .unwrap_or_default();
    let one = |(cause, span): &(tankday_record::Cause, Span)| json!({"what": cause.words(results.shop), "minutes": round(span.in_minutes())});
    causes.iter().map(one).collect()
}

fn stations(results: &Results<'_>) -> Vec<Value> {
    let one = |s: &tankday_record::StationFigure| {
        json!({
            "name": name(results.shop, s.station),
            "served": s.served,
            "busy": round(s.busy.in_fraction()),
            "mean_wait_min": minutes(s.wait.mean()),
            "mean_in_line": round(s.in_line),
            "mean_in_place": round(s.in_place),
        })
    };
    results.figures.stations.iter().map(one).collect()
}

fn waste(waste: &tankday_record::Waste) -> Value {
    json!({
        "spent_rinse_l": round(waste.rinse.in_litres()),
        "bath_l": round(waste.bath.in_litres()),
        "sludge_kg": round(waste.sludge.in_kilograms()),
        "filter_media": waste.media,
    })
}

fn reworks(results: &Results<'_>) -> Vec<Value> {
    let micrometres = |length: tankday_base::units::Length| round(length.in_millimetres() * 1e3);
    let one = |r: &tankday_record::ReworkFigure| {
        json!({
            "load": results.labels.load(r.load),
            "passes": r.passes,
            "metal_lost_g": round(r.metal_lost.in_grams()),
            "face_lost_um": micrometres(r.face_lost),
            "face_gained_um": micrometres(r.face_gained),
        })
    };
    results.figures.reworks.iter().map(one).collect()
}

fn rinses(results: &Results<'_>) -> Vec<Value> {
    let one = |r: &tankday_record::RinseFigure| {
        json!({
            "name": name(results.shop, r.station),
            "loads": r.loads,
            "total_acid_points": round(r.strength.in_points()),
            "highest_total_acid_points": round(r.strongest.in_points()),
            "renewals": r.renewals,
            "water_l": round(r.water.in_litres()),
        })
    };
    results.figures.rinses.iter().map(one).collect()
}

pub(super) fn warnings(results: &Results<'_>) -> Vec<Value> {
    let one = |warning: &tankday_record::Warning| {
        let (fact, deed) = watch_words(results, warning);
        let place = |c: &tankday_record::Caution| {
            json!({
                "time": results.shop.calendar.local_time(c.at),
                "station": c.station.map(|s| name(results.shop, s)),
                "load": c.load.map(|l| results.labels.at(l, c.at)),
            })
        };
        json!({
            "code": warning.kind.code(),
            "text": format!("{fact} {deed}"),
            "where": warning.at.iter().map(place).collect::<Vec<_>>(),
        })
    };
    results.figures.warnings.iter().map(one).collect()
}
