//! How long baths take to get hot on a morning: on the first, and after each night.

use super::warms::Warm;
use std::collections::BTreeMap;
use tankday_base::bath::{Bath, Heater};
use tankday_base::shop::{Day, Shop};
use tankday_base::units::Span;

/// How long a bath that is heated by hand takes to its band from opening on at the least; none where it never gets there.
pub(super) struct Heats {
    /// On the first day, as it starts.
    pub(super) first: Option<Span>,
    /// After a night of so long, as hot as may be before it.
    pub(super) later: BTreeMap<Span, Option<Span>>,
}

impl Heats {
    pub(super) fn of(warm: &Warm, shop: &Shop) -> Self {
        let days = &shop.calendar.days;
        let nights = days
            .iter()
            .zip(days.iter().skip(1))
            .map(|(eve, day)| night(eve, day));
        let later = |night: Span| {
            let most = shop.baths.get(warm.tank.bath.index())?.band.most;
            takes(warm, shop, Bath::new(&warm.heat, warm.tank.fill, most), night)
        };
        let start = Bath::new(&warm.heat, warm.tank.volume, warm.tank.temperature);
        let mut all = BTreeMap::new();
        for night in nights {
            all.entry(night).or_insert_with(|| later(night));
        }
        Self {
            first: takes(warm, shop, start, Span::ZERO),
            later: all,
        }
    }
}

/// From closing to the next opening.
pub(super) fn night(eve: &Day, day: &Day) -> Span {
    Ord::max(day.open - eve.close, Span::ZERO)
}

/// How long a bath that was left to cool for so long takes to its band.
fn takes(warm: &Warm, shop: &Shop, mut bath: Bath, cools: Span) -> Option<Span> {
    let band = shop.baths.get(warm.tank.bath.index())?.band;
    bath.set_lid(warm.lid);
    bath.advance(&warm.heat, cools);
    if bath.temperature() >= band.least {
        return Some(Span::ZERO);
    }
    bath.switch(Heater::Keep(band.hold));
    bath.time_until_temperature(&warm.heat, band.least)
}
