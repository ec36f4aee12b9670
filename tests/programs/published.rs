//! Plans published instances with the planner and the line of this crate, and compares with their known values.
//!
//! `cargo run --release --example published -- [--effort quick|normal|long] FILE…` reads instance files of these kinds: job
//! shop, permutation flow shop, one batch machine, bin packing, finite single hoist, lite day. Each becomes an ordinary
//! shop. Prints for each the value found, the known one, the gap and how long the search took; fails if a target is missed
//! or a proved value is beaten.
//!
//! Not expressible: `batch-machines-min-max-time` (setups between batches that depend on both, stations that only some
//! loads may use, and windows of single machines; a shop has none of these), and the cyclic hoist (a day has an
//! end; a cycle has none).

#[path = "published_kinds/mod.rs"]
mod published_kinds;

use published_kinds::{Known, Result_, solve};
use std::process::ExitCode;
use tankday::plan::Effort;

fn main() -> ExitCode {
    let Some((effort, files)) = asked(std::env::args().skip(1).collect()) else {
        eprintln!("published [--effort quick|normal|long] FILE…");
        return ExitCode::from(2);
    };
    let mut all: Vec<Result_> = Vec::new();
    let mut failed = false;
    println!(
        "{:<28} {:<26} {:>10} {:>10} {:>8} {:>8}",
        "instance", "objective", "found", "known", "gap", "seconds"
    );
    for file in &files {
        match std::fs::read_to_string(file)
            .map_err(|e| e.to_string())
            .and_then(|text| solve(&text, effort))
        {
            Ok(results) => {
                for r in results {
                    print_one(&r);
                    all.push(r);
                }
            }
            Err(problem) => {
                println!("{file}: {problem}");
                failed = true;
            }
        }
    }
    let verdicts = published_kinds::verdicts(&all);
    for v in &verdicts {
        println!("{}", v.0);
    }
    failed |= verdicts.iter().any(|v| !v.1);
    let out = all
        .iter()
        .filter(|r| matches!(r.known, Known::Inexpressible(_)))
        .count();
    println!(
        "{} results, {out} left out, targets {}",
        all.len() - out,
        if failed { "missed" } else { "met" }
    );
    ExitCode::from(u8::from(failed))
}

/// How much to search, and which files; none if that is not understood.
fn asked(mut said: Vec<String>) -> Option<(Effort, Vec<String>)> {
    let mut effort = Effort::Long;
    if said.first().is_some_and(|s| s == "--effort") {
        effort = match said.get(1).map(String::as_str) {
            Some("quick") => Effort::Quick,
            Some("normal") => Effort::Normal,
            Some("long") => Effort::Long,
            _ => return None,
        };
        said.drain(..2);
    }
    (!said.is_empty()).then_some((effort, said))
}

fn print_one(r: &Result_) {
    let gap = match &r.known {
        Known::Inexpressible(why) => {
            println!("{:<28} {:<26} {why}", r.id, r.objective);
            return;
        }
        _ if r.objective == "tardiness" => format!("{:+.0} min", r.found - r.value),
        _ => format!("{:+.2} %", 100.0 * (r.found / r.value - 1.0)),
    };
    println!(
        "{:<28} {:<26} {:>10} {:>10} {:>8} {:>8.2}",
        r.id, r.objective, r.found, r.value, gap, r.seconds
    );
}
