//! Plans of a small shop: sound, repeatable, and never better than the bound.

use crate::small_shop;
use std::sync::atomic::AtomicBool;
use tankday::line::Line;
use tankday::plan::{Effort, Found, plan};
use tankday::record::Record;

fn planned() -> Found {
    let shop = small_shop::shop();
    plan(&shop, 1, Effort::Days(300), &AtomicBool::new(false), &|_| ()).expect("two orders are stated")
}

#[test]
fn the_same_seed_and_effort_give_the_same_plan() {
    assert_eq!(planned().plan, planned().plan);
}

#[test]
fn a_plan_is_followed_soundly_and_beats_no_bound() {
    let (shop, found) = (small_shop::shop(), planned());
    let mut record = Record::default();
    Line::new(&shop).follow(&found.plan, None, &mut record);
    let faults = tankday::audit::check(&shop, &record);
    assert!(faults.is_empty(), "{faults:?}");
    assert_eq!(found.judged.unready, 0);
    assert!(found.judged.finish >= found.bounds.finish);
    assert!(found.judged.late >= found.bounds.late);
}
