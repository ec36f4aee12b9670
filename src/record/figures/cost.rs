//! What a run costs.

use super::hours_open;
use super::left::LeftBehind;
use super::tanks::TankFigure;
use super::waste::Waste;
use crate::analysis::Analysis;
use tankday_base::shop::{Day, HandsPaid, Shop};
use tankday_base::units::{Energy, Moment, Span, Volume};

/// Costs, in the shop's currency.
///
/// Counted are: power drawn by the heaters; water topped up, added in care and run into rinses; concentrate added, not
/// what the work takes out of a bath that nobody replenishes; filter media; liquid waste; every pair of hands from opening
/// to the end of its day's last work (overtime included), less breaks, or to closing, as the shop pays them.
#[derive(Debug, Clone, PartialEq)]
pub struct Cost {
    /// Power.
    pub power: f64,
    /// Water.
    pub water: f64,
    /// Chemicals.
    pub chemicals: f64,
    /// Filter media.
    pub filter: f64,
    /// Liquid waste taken away.
    pub waste: f64,
    /// Hands.
    pub hands: f64,
    /// What hands would cost if they were paid the other way: to closing, or to the end of their work.
    pub hands_otherwise: f64,
    /// What the run leaves undone in its baths; not paid for yet, and not part of the total.
    pub left: LeftBehind,
    /// Whether any price was stated: where not, all of this is nothing because nobody knows.
    pub given: bool,
    /// How the currency is written.
    pub currency: String,
    /// Hours of hands that are counted, all pairs together.
    pub hands_time: Span,
}

/// A kind of cost: what it is called, and its sum.
pub type CostKind = (&'static str, fn(&Cost) -> f64);

impl Cost {
    /// The kinds that together are the total.
    pub const KINDS: [CostKind; 6] = [
        ("hands", |c| c.hands),
        ("power", |c| c.power),
        ("water", |c| c.water),
        ("chemicals", |c| c.chemicals),
        ("filter media", |c| c.filter),
        ("waste", |c| c.waste),
    ];

    /// Everything together.
    #[must_use]
    pub fn total(&self) -> f64 {
        Self::KINDS.iter().map(|(_, of)| of(self)).sum()
    }

    /// The total with what is left behind: what alternatives and varied values are compared by, so that a run that puts
    /// care off is not the cheaper for it.
    #[must_use]
    pub fn with_left(&self) -> f64 {
        self.total() + self.left.total()
    }
}

pub(super) fn of(read: &Analysis<'_>, tanks: &[TankFigure], waste: &Waste) -> Cost {
    let prices = &read.shop.prices;
    let energy: Energy = tanks.iter().map(|t| t.energy).sum();
    let mut water: Volume = tanks.iter().map(|t| t.top_up).sum();
    let mut concentrate = Volume::ZERO;
    for used in &read.used {
        water += used.water;
        concentrate += used.concentrate;
    }
    let hours = |paid: HandsPaid| present(read, paid);
    let (present, otherwise) = match prices.hands_paid {
        HandsPaid::ToEndOfWork => (hours(HandsPaid::ToEndOfWork), hours(HandsPaid::ToClosing)),
        HandsPaid::ToClosing => (hours(HandsPaid::ToClosing), hours(HandsPaid::ToEndOfWork)),
    };
    let rinsing = waste.rinse.in_litres() * prices.rinse_per_litre;
    Cost {
        power: energy.in_kilowatt_hours() * prices.power_per_kwh,
        water: water.in_litres() * prices.water_per_litre + rinsing,
        chemicals: concentrate.in_litres() * prices.concentrate_per_litre,
        filter: f64::from(waste.media) * prices.filter_each,
        waste: waste.liquid().in_litres() * prices.waste_per_litre,
        hands: present.in_hours() * prices.hands_per_hour,
        hands_otherwise: otherwise.in_hours() * prices.hands_per_hour,
        left: super::left::of(read),
        given: prices.given(),
        currency: prices.currency.clone(),
        hands_time: present,
    }
}

/// Of all pairs of hands together: from opening to the end of the last work under hands, or to closing if that is later and they are paid so, day by day,
/// breaks left out. Where a shop never closes they are paid for their work.
fn present(read: &Analysis<'_>, paid: HandsPaid) -> Span {
    let shop = read.shop;
    let done = read.tasks.iter().filter(|task| task.done);
    let ends: Vec<Moment> = done.map(|task| task.to).collect();
    let days = &shop.calendar.days;
    let mut sum = Span::ZERO;
    for (i, day) in days.iter().enumerate() {
        let next = days.get(i + 1).map_or(Moment::NEVER, |d| d.open);
        let last = ends.iter().rev().find(|end| **end <= next && **end > day.open);
        let closing = Some(day.close).filter(|at| paid == HandsPaid::ToClosing && *at != Moment::NEVER);
        let until = last.copied().max(closing);
        sum += until.map_or(Span::ZERO, |until| on_day(shop, day, until));
    }
    sum
}

fn on_day(shop: &Shop, day: &Day, last: Moment) -> Span {
    let before = hours_open(shop, day.open);
    let within = hours_open(shop, last) - before;
    let overtime = if last > day.close {
        last - day.close
    } else {
        Span::ZERO
    };
    if shop.calendar.crews.is_empty() {
        return (within + overtime).times(f64::from(shop.hands));
    }
    let part = |(from, to): (Moment, Moment)| {
        let there = if to.min(last) > from {
            to.min(last) - from
        } else {
            Span::ZERO
        };
        there.times(f64::from(shop.hands_at(from)))
    };
    let within: Span = day.stretches().map(part).sum();
    within + overtime.times(f64::from(shop.hands_at(day.close)))
}
