//! What was done for baths, as noted: care, and water that was made good.

use super::node::Spanned;
use super::noted::moment;
use super::reader::{NAME, WHEN, positive};
use super::thing::thing;
use super::time::When;
use super::walk::Walk;
use tankday_base::shop::Calendar;
use tankday_base::units::{Moment, Volume};

/// Water that was made good.
#[derive(Debug, Clone)]
pub struct NotedWater {
    /// In which tank.
    pub tank: Spanned<String>,
    /// When hands were done with it.
    pub at: Spanned<Moment>,
    /// How much.
    pub amount: Spanned<Volume>,
}

/// Care of a bath that was done.
#[derive(Debug, Clone)]
pub struct NotedCare {
    /// Of which tank.
    pub tank: Spanned<String>,
    /// Which.
    pub what: Spanned<String>,
    /// When it was over.
    pub done: Spanned<Moment>,
}

thing! {
    /// A top-up that was done.
    Water "notes.water", "a top-up" {
        must "top up" tank: String = NAME, "which tank was topped up";
        must "at" at: When = WHEN, "when, such as 10:05";
        must "amount" amount: Volume = positive(), "how much water, such as 0.6 L";
    }
}

pub(super) fn water(water: Water, calendar: &Calendar, walk: &mut Walk) -> Option<NotedWater> {
    let at = moment(calendar, water.at, walk);
    Some(NotedWater {
        tank: water.tank?,
        at: at?,
        amount: water.amount?,
    })
}

thing! {
    /// Care that was done.
    Care "notes.care", "care of a bath" {
        must "tank" tank: String = NAME, "of which tank";
        must "do" what: String = NAME, "what was done, such as filter or replenish";
        must "done" done: When = WHEN, "when it was over, such as 10:40";
    }
}

pub(super) fn care(care: Care, calendar: &Calendar, walk: &mut Walk) -> Option<NotedCare> {
    let done = moment(calendar, care.done, walk);
    Some(NotedCare {
        tank: care.tank?,
        what: care.what?,
        done: done?,
    })
}
