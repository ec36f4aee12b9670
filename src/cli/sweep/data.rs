//! A sweep as one JSON object. Its keys are a contract; more may be added.

use super::Told;
use crate::compare::{figures, following, follows};
use crate::json::round;
use serde_json::{Value, json};
use tankday_plan::planned::Following;
use tankday_study::Measure;
use tankday_study::sweep::{Kind, Point, Sweep, Turning, best_cells, edges, turning};

/// The object as text.
pub(super) fn text(told: &Told) -> String {
    format!("{:#}\n", object(told))
}

fn object(told: &Told) -> Value {
    let (sweep, setting) = (&told.sweep, &told.setting);
    json!({
        "seed": setting.seed,
        "replications": sweep.replications(),
        "precision": setting.reached,
        "currency": setting.currency,
        "following": following(&setting.following),
        "keys": sweep.keys.iter().map(|k| k.path.as_str()).collect::<Vec<_>>(),
        "points": points(sweep, Some(&setting.following)),
        "turning_points": turns(sweep),
        "best_at_edge": edges(sweep).iter().map(|e| json!({
            "figure": e.measure.key(),
            "at": e.at.text,
            "go_on_to": e.go_on_to.as_ref().map(|s| s.text.as_str()),
            "ends_there": e.ends,
            "level_from": e.level.as_ref().map(|l| l.from.text.as_str()),
            "nothing_changes": e.level.as_ref().is_some_and(|l| l.same),
            "nothing_done_beyond": e.idle_beyond,
        })).collect::<Vec<_>>(),
        "nothing_done": json!({
            "from": value_at(sweep, sweep.idle.from),
            "to": value_at(sweep, sweep.idle.to),
        }),
        "by_rules": told.by_rules.as_ref().map(|rules| json!({
            "points": points(rules, None),
            "turning_points": turns(rules),
        })),
    })
}

/// A value of a single key of numbers, as it stands in the scenario.
fn value_at(sweep: &Sweep, at: Option<f64>) -> Option<String> {
    let form = sweep.keys.first()?.form.as_ref()?;
    Some(form.at(at?).text)
}

fn turns(sweep: &Sweep) -> Vec<Value> {
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
    turns
}

/// The points; what each follows, where that is asked for.
fn points(sweep: &Sweep, following: Option<&Following>) -> Vec<Value> {
    let sound = || sweep.points.iter().filter(|p| p.outcome.is_ok());
    let names: Vec<String> = sound().map(Point::name).collect();
    let mut at = 0;
    let one = |p: &Point| {
        let mut object = point(p);
        if let (Ok(_), Some(following), Some(object)) = (&p.outcome, following, object.as_object_mut()) {
            object.insert("follows".to_owned(), json!(follows(following, at, &names)));
            at += 1;
        }
        object
    };
    sweep.points.iter().map(one).collect()
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
        "kind": match t.kind { Kind::Best => "best", Kind::Bend => "bend", Kind::Step => "step" },
        "at": round(t.at),
        "low": round(t.low),
        "high": round(t.high),
        "text": t.text,
    })
}
