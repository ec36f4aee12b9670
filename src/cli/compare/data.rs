//! A comparison as one JSON object. Its keys are a contract; more may be added.

use super::Told;
use crate::json::round;
use serde_json::{Map, Value, json};
use tankday_base::stats::MeanInterval;
use tankday_output::narrative::{followed, same_answer};
use tankday_plan::planned::{Followed, Following};
use tankday_study::Measure;
use tankday_study::compare::{
    Assumption, Comparison, Difference, Finding, Leaning, Payback, Standing, identical, leaning, payback,
    places, ranking, verdict,
};

/// The object as text.
pub(super) fn text(told: &Told<'_>) -> String {
    format!("{:#}\n", object(told))
}

fn object(told: &Told<'_>) -> Value {
    let (comparison, assumptions, setting) = (&told.comparison, &told.assumptions, told.setting);
    let all = &comparison.alternatives;
    let ranking = ranking(comparison);
    json!({
        "seed": setting.seed,
        "replications": comparison.replications(),
        "precision": setting.reached,
        "currency": setting.currency,
        "following": following(&setting.following),
        "alternatives": all.iter().enumerate().map(|(i, a)| json!({
            "name": a.name,
            "outlay": a.outlay.map(round),
            "follows": follows(&setting.following, i, &setting.names),
            "figures": figures(|m| a.mean(m)),
        })).collect::<Vec<_>>(),
        "differences": comparison.differences.iter().map(|d| difference(comparison, d)).collect::<Vec<_>>(),
        "best": best(comparison),
        "payback": (1..all.len()).filter_map(|i| payback(comparison, i, 0)).map(|p| paid(comparison, &p)).collect::<Vec<_>>(),
        "assumptions": assumptions.iter().map(|a| assumed(comparison, a)).collect::<Vec<_>>(),
        "take": ranking.take.iter().map(|i| name(comparison, *i)).collect::<Vec<_>>(),
        "leave": ranking.leave.iter().map(|l| json!({
            "alternative": name(comparison, l.alternative),
            "behind": name(comparison, l.behind),
            "figure": l.measure.key(),
        })).collect::<Vec<_>>(),
        "verdict": verdict(comparison),
        "by_rules": told.by_rules.as_ref().map(|rules| json!({
            "alternatives": rules.alternatives.iter().map(|a| json!({
                "name": a.name,
                "figures": figures(|m| a.mean(m)),
            })).collect::<Vec<_>>(),
            "verdict": verdict(rules),
            "same_answer": same_answer(comparison, rules),
        })),
    })
}

/// What all of them follow.
pub(crate) fn following(following: &Following) -> Value {
    match following {
        Following::Rules { can_be_planned } => json!({ "by": "rules", "can_be_planned": can_be_planned }),
        Following::Plans {
            effort,
            each,
            searched,
        } => json!({
            "by": "plans",
            "effort": effort,
            "random_orders": each.contains(&Followed::EachMorning),
            "searched": searched,
            "of": each.len(),
        }),
    }
}

/// What one of them follows.
pub(crate) fn follows(following: &Following, at: usize, names: &[String]) -> String {
    match following {
        Following::Plans { each, .. } => each.get(at).map_or_else(String::new, |f| followed(*f, names)),
        Following::Rules { .. } => followed(Followed::OwnRules, names),
    }
}

fn assumed(usual: &Comparison, assumption: &Assumption) -> Value {
    let answers = |here: &Comparison| -> Vec<Value> {
        let one = |i: usize| {
            json!({
                "alternative": name(here, i),
                "take": match leaning(here, i) {
                    Leaning::Take => "this",
                    Leaning::Stay => "first",
                    Leaning::Same if identical(here, &[0, i]) => "exactly the same",
                    Leaning::Same => "about the same",
                },
                "turns": assumption.turns(usual, i),
            })
        };
        (1..here.alternatives.len()).map(one).collect()
    };
    match &assumption.outcome {
        Ok(here) => json!({
            "name": assumption.words,
            "assume": assumption.typed,
            "differences": here.differences.iter().map(|d| difference(here, d)).collect::<Vec<_>>(),
            "answers": answers(here),
        }),
        Err(why) => json!({ "name": assumption.words, "assume": assumption.typed, "error": why }),
    }
}

/// Figures by their keys; those that are not told are left out.
pub(crate) fn figures(of: impl Fn(Measure) -> Option<MeanInterval>) -> Value {
    let told = |m: &Measure| Some((m.key().to_owned(), interval(&of(*m)?)));
    Value::Object(Measure::ALL.iter().filter_map(told).collect::<Map<_, _>>())
}

fn interval(i: &MeanInterval) -> Value {
    json!({ "mean": round(i.mean), "low": round(i.low()), "high": round(i.high()) })
}

fn name(comparison: &Comparison, at: usize) -> &str {
    comparison.alternatives.get(at).map_or("", |a| a.name.as_str())
}

fn difference(comparison: &Comparison, d: &Difference) -> Value {
    json!({
        "figure": d.measure.key(),
        "alternative": name(comparison, d.alternative),
        "against": name(comparison, d.against),
        "mean": round(d.interval.mean),
        "low": round(d.interval.low()),
        "high": round(d.interval.high()),
        "chance_lower": round(d.chance_lower()),
        "chance_higher": round(d.chance_higher()),
        "correlation": d.correlation.map(round),
        "finding": match d.finding() {
            Finding::Identical => "identical",
            Finding::Noise => "noise",
            Finding::Small => "small",
            Finding::Lower => "lower",
            Finding::Higher => "higher",
        },
    })
}

fn best(comparison: &Comparison) -> Value {
    let rows = Measure::ALL
        .iter()
        .filter_map(|m| Some((*m, places(&comparison.alternatives, *m)?)));
    let rows = rows.flat_map(|(m, places)| places.into_iter().map(move |p| (m, p)));
    let row = |(m, p): (Measure, tankday_study::compare::Place)| {
        json!({
            "figure": m.key(),
            "alternative": name(comparison, p.alternative),
            "behind_low": round(p.low),
            "behind_high": round(p.high),
            "standing": match p.standing {
                Standing::Best => "best",
                Standing::MayBeBest => "may be best",
                Standing::NotBest => "not best",
            },
        })
    };
    Value::Array(rows.map(row).collect())
}

fn paid(comparison: &Comparison, p: &Payback) -> Value {
    json!({
        "alternative": name(comparison, p.alternative),
        "against": name(comparison, p.against),
        "outlay": round(p.outlay),
        "days": p.days.map(round),
        "low": p.soonest.map(round),
        "high": p.latest.map(round),
    })
}
