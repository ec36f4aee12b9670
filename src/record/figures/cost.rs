//! What a run costs.

use super::hours_open;
use super::tanks::TankFigure;
use super::waste::Waste;
use crate::record::event::Event;
use crate::record::watch::Record;
use crate::shop::{Day, Shop};
use crate::units::{Energy, Moment, Span, Volume};

/// Costs, in the shop's currency.
///
/// Counted are: power drawn by the heaters; water topped up, added in care and run into rinses; concentrate added, not
/// what the work takes out of a bath that nobody replenishes; filter media; liquid waste; every pair of hands from opening
/// to the end of its day's last work (overtime included), less breaks.
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
}

pub(super) fn of(shop: &Shop, record: &Record, tanks: &[TankFigure], waste: &Waste) -> Cost {
    let prices = &shop.prices;
    let energy: Energy = tanks.iter().map(|t| t.energy).sum();
    let mut water: Volume = tanks.iter().map(|t| t.top_up).sum();
    let mut concentrate = Volume::ZERO;
    for entry in &record.entries {
        if let Event::CareEnds { used, .. } | Event::VesselEnds { used, .. } = &entry.event {
            water += used.water;
            concentrate += used.concentrate;
        }
    }
    let present = present(shop, record).times(f64::from(shop.hands));
    let rinsing = waste.rinse.in_litres() * prices.rinse_per_litre;
    Cost {
        power: energy.in_kilowatt_hours() * prices.power_per_kwh,
        water: water.in_litres() * prices.water_per_litre + rinsing,
        chemicals: concentrate.in_litres() * prices.concentrate_per_litre,
        filter: f64::from(waste.media) * prices.filter_each,
        waste: waste.liquid().in_litres() * prices.waste_per_litre,
        hands: present.in_hours() * prices.hands_per_hour,
        given: prices.given,
        currency: prices.currency.clone(),
        hands_time: present,
    }
}

/// From opening to the end of the last work under hands, day by day, breaks left out.
fn present(shop: &Shop, record: &Record) -> Span {
    let freed = |entry: &&crate::record::Entry| matches!(entry.event, Event::HandsFree { .. });
    let ends: Vec<Moment> = record.entries.iter().filter(freed).map(|e| e.at).collect();
    let days = &shop.calendar.days;
    let mut sum = Span::ZERO;
    for (i, day) in days.iter().enumerate() {
        let next = days.get(i + 1).map_or(Moment::NEVER, |d| d.open);
        let last = ends.iter().rev().find(|end| **end <= next && **end > day.open);
        sum += last.map_or(Span::ZERO, |last| on_day(shop, day, *last));
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
    within + overtime
}
