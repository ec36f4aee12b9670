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

/// The last choice is made among several plans by what they cost under luck, and the one chosen costs least.
#[test]
fn the_choice_is_made_under_luck() {
    let path = "tests/data/mixed-day-first.yaml";
    let shop = tankday::scenario::read(path, &std::fs::read_to_string(path).unwrap())
        .unwrap()
        .shop;
    let found = plan(&shop, 1, Effort::Days(400), &AtomicBool::new(false), &|_| ()).unwrap();
    assert!(found.choice.len() > 1, "{:?}", found.choice);
    let chosen = found.choice.iter().find(|c| c.chosen).expect("one is chosen");
    assert_eq!(found.choice.iter().filter(|c| c.chosen).count(), 1);
    assert!(
        found.choice.iter().all(|c| c.under_luck >= chosen.under_luck),
        "{:?}",
        found.choice
    );
    // Luck costs something on this day: it is not the mean day that was judged.
    assert!(found.choice.iter().all(|c| c.under_luck != c.mean_day));
    assert_eq!(chosen.mean_day, found.judged.cost);
}
