//! From an instance file to an ordinary shop, and from the plan that is found to the instance's own value.

mod shops;
mod verdict;

use serde_json::Value;
use std::sync::atomic::AtomicBool;
use std::time::Instant;
use tankday::plan::{Effort, Found, plan};
use tankday::shop::{Aim, Shop};
use tankday::units::Moment;

pub(crate) use verdict::verdicts;

/// What is known of an instance.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Known {
    /// The best possible.
    Optimal,
    /// The best that was found, and what cannot be beaten.
    Best(f64),
    /// The planner cannot express it, and why.
    Inexpressible(&'static str),
}

/// One value found.
#[derive(Debug, Clone)]
pub(crate) struct Result_ {
    pub(crate) id: String,
    pub(crate) problem: String,
    pub(crate) objective: &'static str,
    pub(crate) found: f64,
    pub(crate) value: f64,
    pub(crate) known: Known,
    /// How long the search took.
    pub(crate) seconds: f64,
    /// The best plain rule, where the file lists them.
    pub(crate) rule: Option<f64>,
}

/// The shop of a lite day, its aim to be late as little as can be.
///
/// # Errors
/// When the text is no lite day.
#[allow(dead_code)]
pub(crate) fn lite_shop(text: &str) -> Result<Shop, String> {
    let file: Value = serde_json::from_str(text).map_err(|e| e.to_string())?;
    shops::lite_day(&file["data"], late_only())
}

/// Reads, plans, and measures an instance.
///
/// # Errors
/// When the text is no instance of a kind that is known.
pub(crate) fn solve(text: &str, effort: Effort) -> Result<Vec<Result_>, String> {
    let file: Value = serde_json::from_str(text).map_err(|e| e.to_string())?;
    let problem = file["problem"].as_str().ok_or("it names no problem")?;
    let data = &file["data"];
    let result = |objective, found, value, known, seconds, rule| Result_ {
        id: file["id"].as_str().unwrap_or("?").to_owned(),
        problem: problem.to_owned(),
        objective,
        found,
        value,
        known,
        seconds,
        rule,
    };
    let single = |shop: Shop, measure: fn(&Found) -> f64, objective: &'static str| {
        let (found, took) = planned(&shop, effort)?;
        let value = file["known"]["value"].as_f64().ok_or("it tells no known value")?;
        let optimal = file["known"]["status"].as_str() == Some("optimal");
        let known = if optimal { Known::Optimal } else { Known::Best(0.0) };
        Ok(vec![result(objective, measure(&found), value, known, took, None)])
    };
    match problem {
        "job-shop" => single(shops::job_shop(data)?, seconds, "makespan"),
        "permutation-flow-shop" => single(shops::flow_shop(data)?, seconds, "makespan"),
        "single-batch-machine" => single(shops::batch_machine(data)?, seconds, "makespan"),
        "bin-packing" => single(shops::bin_packing(data)?, seconds, "bins"),
        "finite-single-hoist" => single(shops::hoist(data)?, seconds, "makespan"),
        "lite-day" => {
            let mut results = Vec::new();
            for (objective, aim) in [("makespan", finish_only()), ("tardiness", late_only())] {
                let shop = shops::lite_day(data, aim)?;
                let (found, took) = planned(&shop, effort)?;
                let known = &file["known"][objective];
                let best = known["best"].as_f64().ok_or("it tells no best value")?;
                let bound = known["lower_bound"].as_f64().unwrap_or(0.0);
                let value = if objective == "makespan" {
                    seconds(&found) / 60.0
                } else {
                    found.judged.late.in_minutes()
                };
                let rule = file["simple_rules"][objective]["best_of_41_rules"][1].as_f64();
                results.push(result(objective, value, best, Known::Best(bound), took, rule));
            }
            Ok(results)
        }
        "batch-machines-min-max-time" | "cyclic-single-hoist" | "cyclic-multi-hoist" => {
            let value = file["known"]["value"].as_f64().unwrap_or(f64::NAN);
            let why = if problem.starts_with("cyclic") {
                "its value is the length of a cycle without an end; a day has an end"
            } else {
                "setups between two batches, stations that only some loads may use, hours of single stations: a shop has none"
            };
            Ok(vec![result(
                "left out",
                f64::NAN,
                value,
                Known::Inexpressible(why),
                0.0,
                None,
            )])
        }
        other => Err(format!("no kind that is known: {other}")),
    }
}

fn seconds(found: &Found) -> f64 {
    let micros = (found.judged.finish - Moment::ZERO).in_micros();
    (micros as f64 / 1e6).round()
}

/// What is found, and in how many seconds.
fn planned(shop: &Shop, effort: Effort) -> Result<(Found, f64), String> {
    let begun = Instant::now();
    let found = plan(shop, 1, effort, &AtomicBool::new(false), &|_| ()).ok_or("there is nothing to plan")?;
    if found.judged.unready > 0 || found.judged.breaches > 0 {
        return Err(format!(
            "the plan breaks {} limits, {} orders are not ready",
            found.judged.breaches, found.judged.unready
        ));
    }
    Ok((found, begun.elapsed().as_secs_f64()))
}

pub(crate) fn finish_only() -> Aim {
    Aim {
        late_order: 0.0,
        late_minute: 0.0,
        finish_minute: 1.0,
        power_kwh: 0.0,
        water_litre: 0.0,
        hands_minute: 0.0,
        overtaking: true,
    }
}

pub(crate) fn late_only() -> Aim {
    Aim {
        late_minute: 1.0,
        finish_minute: 0.01,
        ..finish_only()
    }
}
