//! One load as data.

use crate::json::round;
use serde_json::{Value, json};
use tankday_base::bath::chemistry::{Breach, Gravity, Readings};
use tankday_base::shop::{Shop, StationId, Trimming};
use tankday_base::units::Span;
use tankday_output::narrative::{Block, Card};
use tankday_record::one_load::{Course, Ends, Gave, Look, OneLoad, PutIn, SetRight, Takes};

/// Everything that is said of a load, with every figure behind it.
pub(super) fn object(shop: &Shop, load: &OneLoad, told: &Card) -> Value {
    let part = |id: tankday_base::shop::PartId| shop.parts.get(id.index()).map(|p| p.name.clone());
    let pieces: Vec<Value> = load
        .pieces
        .iter()
        .map(|p| {
            json!({
                "part": part(p.part),
                "pieces": p.count,
                "goes_under": p.lies.is_some(),
                "keeps_out": p.refused,
            })
        })
        .collect();
    let apart: Vec<Value> = load
        .apart
        .iter()
        .map(|a| json!({"part": part(a.part), "why": a.why}))
        .collect();
    json!({
        "title": shop.title,
        "tank": shop.station_name(load.tank),
        "may_go_in": told.may,
        "answer": told.answer,
        "warnings": told.watch,
        "pieces": pieces,
        "fits": load.fits(),
        "takes": takes(&load.takes),
        "room": takes(&load.room),
        "headroom_mm": round(load.headroom.in_millimetres()),
        "now": course(&load.now),
        "hot": load.later.as_ref().map(|l| json!({
            "wait_min": minutes(l.waits),
            "heat_kwh": round(l.drawn.in_kilowatt_hours()),
            "then": course(&l.course),
        })),
        "loads_left": load.life.as_ref().map(|life| {
            let reach = |r: &tankday_base::bath::chemistry::Reach| {
                json!({"limit": r.what.words(r.side), "loads": round(r.loads), "area_dm2": round(r.area.in_square_decimetres())})
            };
            life.reaches.iter().map(reach).collect::<Vec<_>>()
        }),
        "not_in_with_it": apart,
        "not_together": load.clashes.iter().map(|c| [part(c.one), part(c.other)]).collect::<Vec<_>>(),
    })
}

fn minutes(span: Span) -> Value {
    round(span.in_minutes())
}

fn takes(t: &Takes) -> Value {
    json!({
        "area_dm2": round(t.area.in_square_decimetres()),
        "mass_kg": round(t.mass.in_kilograms()),
        "basket_l": t.basket.map(|b| round(b.in_litres())),
    })
}

fn course(c: &Course) -> Value {
    json!({
        "bath_c": round(c.at.in_celsius()),
        "lowest_c": round(c.lowest.in_celsius()),
        "in_band_min": c.in_band.map(minutes),
        "recovered_min": c.recovered.map(minutes),
        "dwell_min": minutes(c.stay),
        "dwell_believed_min": c.range.map(|(quick, slow)| json!([minutes(quick), minutes(slow)])),
        "coating": match c.ends {
            Ends::Done => "done",
            Ends::OutOfTime => "below target",
            Ends::Full => "ends below target",
            Ends::Nothing => "none",
        },
        "coated_g_per_m2": c.coated.iter().map(|w| round(w.in_grams_per_square_metre())).collect::<Vec<_>>(),
        "curve": c.looks.iter().map(look).collect::<Vec<_>>(),
        "energy_kwh": round(c.drawn.in_kilowatt_hours()),
        "evaporated_l": round(c.evaporated.in_litres()),
        "dragged_out_l": round(c.dragged_out.in_litres()),
        "bath": c.chemistry.as_ref().map(gave),
    })
}

fn look(l: &Look) -> Value {
    json!({
        "min": minutes(l.after),
        "bath_c": round(l.temperature.in_celsius()),
        "coat_share": round(l.coat.in_fraction()),
        "gas_left_share": round(l.gas.in_fraction()),
        "gas_l_per_min": round(l.rises.in_litres_per_minute()),
    })
}

fn gave(g: &Gave) -> Value {
    json!({
        "total_acid_points": [round(g.before.total_acid.in_points()), round(g.after.total_acid.in_points())],
        "free_acid_points": [round(g.before.free_acid.in_points()), round(g.after.free_acid.in_points())],
        "iron_g_per_l": [round(g.before.iron.in_grams_per_litre()), round(g.after.iron.in_grams_per_litre())],
        "metal_g": round(g.metal.in_grams()),
        "sludge_g": round(g.sludge.in_grams()),
        "hydrogen_l": round(g.hydrogen.in_litres()),
        "concentrate_l": round(g.concentrate.in_litres()),
        "too_weak": g.exhausted,
    })
}

/// Headings with their rows.
pub(crate) fn blocks(blocks: &[Block]) -> Value {
    let row = |(name, words): &(String, String)| json!({"what": name, "text": words});
    let block = |b: &Block| json!({"heading": b.heading, "rows": b.rows.iter().map(row).collect::<Vec<_>>()});
    blocks.iter().map(block).collect::<Vec<_>>().into()
}

/// How a bath is set right, with every figure behind it.
pub(super) fn set_right(shop: &Shop, tank: StationId, right: &SetRight, told: &Card) -> Value {
    json!({
        "title": shop.title,
        "tank": shop.station_name(tank),
        "may_go_in": told.may,
        "answer": told.answer,
        "warnings": told.watch,
        "add": right.put_in.iter().map(added).collect::<Vec<_>>(),
        "before": readings(&right.before),
        "after": readings(&right.after),
        "passes": breaches(&right.passes),
        "still_passes": breaches(&right.still),
    })
}

fn added(put: &PutIn) -> Value {
    match put {
        PutIn::Water(v) => json!({"what": "distilled water", "l": round(v.in_litres())}),
        PutIn::Wool(m, gas) => {
            json!({"what": "steel wool", "g": round(m.in_grams()), "hydrogen_l": round(gas.in_litres())})
        }
        PutIn::Concentrate(v) => json!({"what": "concentrate", "l": round(v.in_litres())}),
        PutIn::Trim(by, pure) => {
            let bottle = match by {
                Trimming::PhosphoricAcid(bottle) => round(bottle.holds(*pure).in_litres()),
                _ => Value::Null,
            };
            json!({"what": by.words(), "g_pure": round(pure.in_grams()), "bottle_l": bottle})
        }
    }
}

pub(crate) fn readings(r: &Readings) -> Value {
    json!({
        "volume_l": round(r.volume.in_litres()),
        "total_acid_points": round(r.total_acid.in_points()),
        "free_acid_points": round(r.free_acid.in_points()),
        "acid_ratio": round(r.total_acid / r.free_acid),
        "iron_g_per_l": round(r.iron.in_grams_per_litre()),
        "sludge_g_per_l": round(r.sludge.in_grams_per_litre()),
    })
}

pub(crate) fn breaches(all: &[Breach]) -> Vec<Value> {
    let one = |b: &Breach| json!({"what": b.what.words(b.side), "stops": b.gravity == Gravity::Stop});
    all.iter().map(one).collect()
}
