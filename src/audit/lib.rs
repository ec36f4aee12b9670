//! Checks a record against its shop, with code of its own: whatever made the record is not asked.
//!
//! What is checked, one file a concern: the record is one (`names`), its hours (`hours`), the life of every load and the
//! way it takes (`life`, `charge`, `ways`), limits kept or reported (`limits`), orders and pieces (`pieces`), places and room
//! (`places`), hands (`hands`, `crew`), heat and water of every bath (`bath`, `water`), nobody away from a hot one (`alone`), what the supply bears (`supply`), its care (`care`), what must
//! not be in it (`foreign`), storage vessels (`vessel`), the water of rinses
//! (`rinse`), what inspection finds (`odds`), and that nothing was left undone that was due
//! (`rest`).

mod alone;
mod bath;
mod care;
mod charge;
mod crew;
mod fits;
mod foreign;
mod found;
mod hands;
mod hours;
mod life;
mod limits;
mod names;
mod odds;
mod pieces;
mod places;
mod rest;
mod rinse;
mod safety;
mod sheet;
mod stage;
mod supply;
mod vessel;
mod water;
mod ways;

pub use found::{Fault, FaultKind};
pub use safety::{Danger, DangerKind};
pub use sheet::{Written, check as check_sheet};

use found::Findings;
use tankday_base::shop::Shop;
use tankday_record::Record;

/// Everything in a record that cannot be, in order of time; empty for a sound record.
///
/// A record that names loads, orders, steps or stations which do not exist is not looked into further.
#[must_use]
pub fn check(shop: &Shop, record: &Record) -> Vec<Fault> {
    let mut found = Findings::new(shop, record);
    names::check(shop, record, &mut found);
    if found.is_empty() {
        hours::check_marks(shop, record, &mut found);
        let story = life::follow(shop, record, &mut found);
        limits::check(shop, record, &story, &mut found);
        pieces::check(shop, record, &story, &mut found);
        places::check(shop, &story, &mut found);
        let tasks = hands::tasks(record, &mut found);
        hands::check(shop, record, &story, &tasks, &mut found);
        crew::check(shop, record, &mut found);
        hours::check_tasks(shop, &story, &tasks, &mut found);
        care::check(shop, record, &story, &tasks, &mut found);
        bath::check(shop, record, &story, &mut found);
        alone::check(shop, record, &story, &mut found);
        supply::check(shop, record, &mut found);
        foreign::check(shop, record, &mut found);
        odds::check(shop, record, &mut found);
        rinse::check(shop, record, &story, &tasks, &mut found);
        rest::check(shop, record, &story, &tasks, &mut found);
    }
    found.sorted()
}

/// Every rule of safety that a day breaks, in order of time, those that it says among its warnings with them; empty for a
/// record that names what does not exist.
#[must_use]
pub fn dangers(shop: &Shop, record: &Record) -> Vec<Danger> {
    let mut found = Findings::new(shop, record);
    names::check(shop, record, &mut found);
    if !found.is_empty() {
        return Vec::new();
    }
    let story = life::follow(shop, record, &mut found);
    let tasks = hands::tasks(record, &mut found);
    safety::dangers(shop, record, &story, &tasks)
}

/// The rules of safety that a day breaks in silence, in order of time: what it says among its warnings is no fault.
#[must_use]
pub fn check_safety(shop: &Shop, record: &Record) -> Vec<Fault> {
    let mut found = Findings::new(shop, record);
    safety::check(&dangers(shop, record), &mut found);
    found.sorted()
}
