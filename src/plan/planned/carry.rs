//! A plan carried from one shop to another by what its file says.

use crate::plan_file::{understand, write};
use tankday_base::shop::Shop;
use tankday_line::{Line, Plan};
use tankday_scenario::PlanFile;

/// How the file is called in findings, which nobody sees.
const NAME: &str = "plan.yaml";

/// The plan as its file says it, to the second, with the file; the plan itself and no file if that would not be understood.
#[must_use]
pub fn as_written(shop: &Shop, line: &Line<'_>, plan: &Plan) -> (Option<String>, Plan) {
    let text = write(shop, line, plan);
    match carried(&text, shop, line) {
        Some(read) => (Some(text), read),
        None => (None, plan.clone()),
    }
}

/// What a plan's file means in a shop, whichever shop it was made for; none if it cannot be followed there.
#[must_use]
pub fn carried(text: &str, shop: &Shop, line: &Line<'_>) -> Option<Plan> {
    let mut file = PlanFile::read(NAME, text, &shop.calendar).ok()?;
    file.rests_on = None;
    Some(understand(shop, line, &file).ok()?.plan)
}
