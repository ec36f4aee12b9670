//! Every figure of a run, from its record and the shop alone.
//!
//! # Known and left
//!
//! - Costs are split among orders by coated surface, hands too.

mod added_watch;
mod ahead;
mod alone_watch;
mod bare;
mod bath_watch;
mod baths;
mod bottleneck;
mod cost;
mod dwell;
mod filter_watch;
mod foreign;
mod heater_watch;
mod hot_steps;
mod idle_watch;
mod left;
mod load_watch;
mod loads;
mod open_watch;
mod orders;
mod reworks;
mod rinses;
mod shares;
mod supply_watch;
mod tanks;
mod warning_kind;
mod warnings;
mod waste;
pub(crate) mod watched;
mod wear;

pub(crate) use bare::lies_bare;
pub use bare::{Bare, Kept, WaitCause, Waited, bare};
pub use baths::{BathFigure, CareFigure};
pub use bottleneck::Bottleneck;
pub use cost::{Cost, CostKind};
pub use dwell::{ALL_BUT_STOPPED, DwellRange};
pub use left::LeftBehind;
pub use loads::TankLoad;
pub(crate) use loads::coats;
pub(crate) use orders::NO_COAT;
pub use orders::OrderFigure;
pub use reworks::ReworkFigure;
pub use rinses::RinseFigure;
pub use shares::{OrderCost, StepShare};
pub use tanks::{TankFigure, TankShares};
pub use warning_kind::WarningKind;
pub use warnings::{Caution, Reading, Warning};
pub use waste::Waste;
pub use wear::BathWear;

use super::analysis::Analysis;
use super::tally::{MeanSpan, StationFigure, Tally};
use super::watch::Record;
use tankday_base::shop::Shop;
use tankday_base::units::{Moment, Share, Span};

/// All figures of a run.
#[derive(Debug, Clone, PartialEq)]
pub struct Figures {
    /// First opening.
    pub opening: Moment,
    /// Last closing; [`Moment::NEVER`] in a shop that never closes.
    pub closing: Moment,
    /// First and last moment of the record.
    pub window: (Moment, Moment),
    /// End of the last work under hands; of the last step where no hands are needed.
    pub finish: Option<Moment>,
    /// When the last load was ready.
    pub end: Option<Moment>,
    /// Orders in order of arrival.
    pub orders: Vec<OrderFigure>,
    /// Loads in order of charging.
    pub loads: Vec<TankLoad>,
    /// Tanks in the order written.
    pub tanks: Vec<TankFigure>,
    /// What the tanks hold, tank by tank.
    pub baths: Vec<BathFigure>,
    /// Loads that were coated more than once.
    pub reworks: Vec<ReworkFigure>,
    /// Rinses whose water is counted.
    pub rinses: Vec<RinseFigure>,
    /// Stations in the order written, tanks among them.
    pub stations: Vec<StationFigure>,
    /// Share of the opening hours, less breaks, that each pair of hands is at work. Work outside the hours counts too.
    pub hands: Vec<Share>,
    /// From arrival to ready.
    pub in_system: MeanSpan,
    /// Costs.
    pub cost: Cost,
    /// What of them falls on each order, in order of arrival.
    pub order_costs: Vec<OrderCost>,
    /// Waste by stream.
    pub waste: Waste,
    /// What waited for a step longer than it may.
    pub waited: Vec<Waited>,
    /// What was kept out of a step, since a later one would have had no place for it in time.
    pub kept: Vec<Kept>,
    /// Ovens with work in them by which nobody is in a break that is short enough for that: from when, for how long.
    pub ovens_alone: Vec<Caution>,
    /// What to watch, the worst first.
    pub warnings: Vec<Warning>,
}

impl Figures {
    /// Computes them from a record alone.
    #[must_use]
    pub fn of(shop: &Shop, record: &Record) -> Self {
        Self::from(&Analysis::of(shop, record))
    }
}

impl From<&Analysis<'_>> for Figures {
    fn from(read: &Analysis<'_>) -> Self {
        let (shop, tally) = (read.shop, &read.tally);
        let loads = loads::of(read);
        let tanks = tanks::of(read);
        let (waited, kept) = (bare::waited(read), bare::kept(read));
        let orders = orders::of(read, &waited, &loads);
        let rinses = rinses::of(read);
        let waste = waste::of(read, &rinses);
        let cost = cost::of(read, &tanks, &waste);
        Self {
            opening: shop.calendar.days.first().map_or(Moment::ZERO, |d| d.open),
            closing: shop.calendar.days.last().map_or(Moment::NEVER, |d| d.close),
            window: tally.window(),
            finish: tally.finish(),
            end: tally.end(),
            baths: baths::of(read, &loads),
            stations: tally.stations(),
            hands: hands_shares(shop, tally, read.end),
            in_system: tally.in_system(),
            order_costs: shares::of(read, &orders, &loads, &cost),
            cost,
            waste,
            warnings: warnings::of(read, &orders, &loads, &rinses, (&waited, &kept)),
            ovens_alone: hot_steps::ovens(read),
            reworks: reworks::of(shop, &loads),
            orders,
            waited,
            kept,
            rinses,
            loads,
            tanks,
        }
    }
}

/// Opening hours up to a moment, less breaks.
pub fn hours_open(shop: &Shop, until: Moment) -> Span {
    let part = |from: Moment, to: Moment| {
        let to = to.min(until);
        if to > from { to - from } else { Span::ZERO }
    };
    let open = |day: &tankday_base::shop::Day| -> Span {
        let breaks: Span = day.breaks.iter().map(|b| part(b.from, b.until)).sum();
        part(day.open, day.close) - breaks
    };
    shop.calendar.days.iter().map(open).sum()
}

fn hands_shares(shop: &Shop, tally: &Tally<'_>, last: Moment) -> Vec<Share> {
    let closing = shop.calendar.days.last().map_or(last, |d| d.close);
    let until = if closing == Moment::NEVER { last } else { closing };
    let share = |(hand, busy): (u32, Span)| {
        let hours = hours_of(shop, hand, until).in_seconds();
        Share::fraction(if hours > 0.0 {
            busy.in_seconds() / hours
        } else {
            0.0
        })
    };
    (0..).zip(tally.hands_at_work()).map(share).collect()
}

/// Opening hours up to a moment, less breaks, in which a pair of hands is there: the first where any are.
fn hours_of(shop: &Shop, hand: u32, until: Moment) -> Span {
    if shop.calendar.crews.is_empty() {
        return hours_open(shop, until);
    }
    let there = |(from, _): &(Moment, Moment)| shop.hands_at(*from) > hand;
    let stretches = shop
        .calendar
        .days
        .iter()
        .flat_map(tankday_base::shop::Day::stretches);
    let part = |(from, to): (Moment, Moment)| {
        if to.min(until) > from {
            to.min(until) - from
        } else {
            Span::ZERO
        }
    };
    stretches.filter(there).map(part).sum()
}

#[cfg(test)]
mod tests;
