//! A due time that is asked for with the new order: whether it can be promised.

use super::Told;
use super::said::{day_words, what};
use tankday_base::print::{Replication, pieces_of};
use tankday_base::shop::Arrival;
use tankday_base::units::Moment;
use tankday_plan::{Asked, Promised};

/// The due time that is asked for, and how often it is kept.
#[derive(Debug, Clone, Copy)]
pub(super) struct Wish {
    /// When it is to be ready.
    pub(super) due: Moment,
    /// Simulated days on which it is, by the plan that was found.
    pub(super) kept: u32,
}

impl Wish {
    /// None where the new order has no due time.
    pub(super) fn of(found: &Promised) -> Option<Self> {
        let new = found.shop.orders.last()?;
        let (Arrival::At(comes), Some(after)) = (&new.arrival, new.due_after) else {
            return None;
        };
        Some(Self {
            due: *comes + after,
            kept: found.on_due,
        })
    }

    /// Whether it is kept on as many days as a promise needs.
    pub(super) fn can_be_promised(self, asked: Asked) -> bool {
        self.kept as usize >= asked.least_days()
    }

    /// The answer to what was asked: `Yes, 17:00 today can be promised for 20 wood screws: …`.
    pub(super) fn said(self, told: &Told<'_>) -> String {
        let shop = &told.found.shop;
        let each = Replication::of_days(shop.calendar.days.len());
        let (clock, day) = (self.due.clock(), day_words(shop, self.due));
        let days = pieces_of(told.found.days, each.one());
        let ready = format!("ready by then on {} of {days}", self.kept);
        match self.can_be_promised(told.asked) {
            true => format!("Yes, {clock} {day} can be promised for {}: {ready}.", what(shop)),
            false => format!(
                "No, {clock} {day} can't be promised for {} by what was found: {ready}.",
                what(shop)
            ),
        }
    }
}
