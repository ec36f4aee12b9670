//! How fast days are laid out: the search in the timetable alone, for the benchmark.

use super::anneal::{Cooling, anneal, by_rules};
use super::level::best_of;
use crate::model::SearchContext;
use std::sync::atomic::AtomicBool;
use tankday_base::shop::Shop;
use tankday_line::{Line, Plan};

/// Searches the timetable of a shop on one thread, for at most so many days, as a plan does first; how many days were laid
/// out. None if the shop has no timetable, or no day of it comes to its end.
#[must_use]
pub fn days_laid_out(shop: &Shop, days: u64, seed: u64) -> Option<u64> {
    let line = Line::new(shop);
    let world = SearchContext::on(shop, &line, Plan::of(&line));
    let mut bench = world.bench();
    let starts = world.starts(&mut bench);
    let compiled = world.first_compiled(&starts)?;
    let states = best_of(&compiled.table, by_rules(&compiled.table), 1);
    let how = Cooling {
        days,
        heat: 1.0,
        seed,
    };
    let (_, _, laid_out) = anneal(&compiled.table, states.first()?, how, &AtomicBool::new(false));
    Some(laid_out)
}
