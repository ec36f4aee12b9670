//! A sweep as one JSON object. Its keys are a contract; more may be added.

use super::Swept;
use crate::cli::compare::figures;
use crate::cli::json::round;
use crate::study::Measure;
use crate::sweep::{Kind, Point, Sweep, Turning, best_cells, edges, turning};
use serde_json::{Value, json};

/// The object as text.
pub(super) fn text(sweep: &Sweep, told: &Swept) -> String {
    format!("{:#}\n", object(sweep, told))
}

fn object(sweep: &Sweep, told: &Swept) -> Value {
    let mut turns: Vec<Value> = Measure::ALL
        .iter()
        .filter_map(|m| turning(sweep, *m))
        .map(|t| turn(&t))
        .collect();
    turns.extend(best_cells(sweep).into_iter().map(|b| {
        json!({
            "figure": b.measure.key(),
            "kind": "best",
            "at": b.at.iter().map(|s| s.text.as_str()).collect::<Vec<_>>(),
            "low": b.low.iter().map(|s| s.text.as_str()).collect::<Vec<_>>(),
            "high": b.high.iter().map(|s| s.text.as_str()).collect::<Vec<_>>(),
            "text": b.text,
        })
    }));
    json!({
        "seed": told.seed,
        "replications": sweep.replications(),
        "precision": told.reached,
        "currency": told.currency,
        "keys": sweep.keys.iter().map(|k| k.path.as_str()).collect::<Vec<_>>(),
        "points": sweep.points.iter().map(point).collect::<Vec<_>>(),
        "turning_points": turns,
        "best_at_edge": edges(sweep).iter().map(|e| json!({
            "figure": e.measure.key(),
            "at": e.at.text,
            "go_on_to": e.go_on_to.as_ref().map(|s| s.text.as_str()),
            "ends_there": e.ends,
        })).collect::<Vec<_>>(),
    })
}

fn point(point: &Point) -> Value {
    json!({
        "values": point.settings.iter().map(|s| s.text.as_str()).collect::<Vec<_>>(),
        "figures": point.outcome.as_ref().ok().map(|_| figures(|m| point.mean(m))),
        "error": point.outcome.as_ref().err(),
    })
}

fn turn(t: &Turning) -> Value {
    json!({
        "figure": t.measure.key(),
        "kind": match t.kind { Kind::Best => "best", Kind::Bend => "bend" },
        "at": round(t.at),
        "low": round(t.low),
        "high": round(t.high),
        "text": t.text,
    })
}
