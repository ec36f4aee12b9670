//! Days on which one pair of hands works without hours or breaks: how many of them are looked at.

use crate::plan_bounds::{finish_only, shops};
use serde_json::Value;
use std::sync::atomic::AtomicBool;
use tankday::plan::{Effort, plan};

fn laid_out(name: &str) -> u64 {
    let path = format!("{}/tests/scheduling/{name}.json", env!("CARGO_MANIFEST_DIR"));
    let file: Value = serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap();
    let shop = shops::lite_day(&file["data"], finish_only()).unwrap();
    let found = plan(&shop, 1, Effort::Days(3_000), &AtomicBool::new(false), &|_| ()).unwrap();
    assert_eq!((found.judged.unready, found.judged.breaches), (0, 0), "{name}");
    found.dispatched
}

/// The same thirty orders in one tank, and in two of half its size: there are about twice as many loads then, and a day
/// takes about twice as long to lay out. As many of both once left two thirds of the time of the first unused.
#[test]
fn of_days_that_are_laid_out_quickly_more_are() {
    let (one, two) = (laid_out("lite_n30_t1_s105"), laid_out("lite_n30_t2_s105"));
    assert!(2 * one >= 3 * two, "{one} and {two}");
}
