//! Whether the targets are met, each told in a line.

use super::{Known, Result_};

/// Nothing beats a proved value, by more than rounding.
const ROUNDING: f64 = 1e-6;

/// A line for each target, and whether it is met.
pub(crate) fn verdicts(all: &[Result_]) -> Vec<(String, bool)> {
    let mut lines = vec![beaten(all)];
    lines.extend(exact(all));
    for (problem, objective) in [("finite-single-hoist", "makespan"), ("lite-day", "makespan")] {
        lines.extend(near(all, problem, objective));
    }
    lines.extend(tardiness(all));
    lines
}

fn beaten(all: &[Result_]) -> (String, bool) {
    let too_good = |r: &&Result_| match r.known {
        Known::Optimal => r.found < r.value - ROUNDING,
        Known::Best(bound) => r.found < bound - ROUNDING,
        Known::Inexpressible(_) => false,
    };
    let names: Vec<&str> = all.iter().filter(too_good).map(|r| r.id.as_str()).collect();
    (
        format!(
            "proved values beaten: {}",
            if names.is_empty() {
                "none".to_owned()
            } else {
                names.join(", ")
            }
        ),
        names.is_empty(),
    )
}

fn gap(r: &Result_) -> f64 {
    r.found / r.value - 1.0
}

/// Job shop, flow shop, batch, bin packing: all within 2 %, two thirds reached.
fn exact(all: &[Result_]) -> Option<(String, bool)> {
    const KINDS: [&str; 4] = [
        "job-shop",
        "permutation-flow-shop",
        "single-batch-machine",
        "bin-packing",
    ];
    let these: Vec<&Result_> = all
        .iter()
        .filter(|r| KINDS.contains(&r.problem.as_str()))
        .collect();
    if these.is_empty() {
        return None;
    }
    let worst = these.iter().map(|r| gap(r)).fold(0.0, f64::max);
    let reached = these.iter().filter(|r| gap(r) <= ROUNDING).count();
    let met = worst <= 0.02 && 3 * reached >= 2 * these.len();
    let line = format!(
        "optima: {reached} of {} reached, worst gap {:.2} % (targets: two thirds, 2 %)",
        these.len(),
        100.0 * worst
    );
    Some((line, met))
}

/// Within 2 % on average, none over 5 %.
fn near(all: &[Result_], problem: &str, objective: &str) -> Option<(String, bool)> {
    let gaps: Vec<f64> = all
        .iter()
        .filter(|r| r.problem == problem && r.objective == objective)
        .map(gap)
        .collect();
    if gaps.is_empty() {
        return None;
    }
    let mean = gaps.iter().sum::<f64>() / gaps.len() as f64;
    let worst = gaps.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let line = format!(
        "{problem}, {objective}: mean gap {:.2} %, worst {:.2} % (targets: 2 %, 5 %)",
        100.0 * mean,
        100.0 * worst
    );
    Some((line, mean <= 0.02 && worst <= 0.05))
}

/// Never worse than the best plain rule, and in the mean nearer to the best known than to the rule.
fn tardiness(all: &[Result_]) -> Option<(String, bool)> {
    let these: Vec<(f64, f64, f64)> = all
        .iter()
        .filter(|r| r.objective == "tardiness")
        .filter_map(|r| Some((r.found, r.value, r.rule?)))
        .collect();
    if these.is_empty() {
        return None;
    }
    let never_worse = these.iter().all(|t| t.0 <= t.2 + ROUNDING);
    let share = |t: &(f64, f64, f64)| if t.2 > t.1 { (t.0 - t.1) / (t.2 - t.1) } else { 0.0 };
    let mean = these.iter().map(share).sum::<f64>() / these.len() as f64;
    let line = format!(
        "lite-day, tardiness: {} the best rule, on average {:.0} % of the way from the best known to it (targets: never worse, below 50 %)",
        if never_worse {
            "never worse than"
        } else {
            "worse than"
        },
        100.0 * mean
    );
    Some((line, never_worse && mean < 0.5))
}
