//! What to watch where heaters share a supply: that together they are stronger than it, and which wait for it.

use super::warning_kind::WarningKind;
use super::warnings::{Caution, Reading, at};
use crate::analysis::Analysis;
use crate::event::LogEntry;
use crate::reading::HeaterState;
use std::collections::BTreeMap;
use tankday_base::shop::{Shop, StationId};
use tankday_base::units::{Moment, Power, Span};

/// A wait of less in a day is not worth a word.
const HARDLY: Span = Span::whole_minutes(2);

/// One heater.
#[derive(Debug, Clone, Copy)]
struct Seen {
    rated: Power,
    state: HeaterState,
    may: Power,
    /// Since when it heats with less than its own power.
    waits: Option<Moment>,
}

pub(super) fn of(read: &Analysis<'_>) -> Vec<(WarningKind, Caution)> {
    let watch = read.watched.supply.clone();
    watch.map_or_else(Vec::new, |w| w.found(read.end))
}

/// The heaters that share a supply, followed along the record.
#[derive(Debug, Clone)]
pub(super) struct Watch {
    heaters: BTreeMap<StationId, Seen>,
    supply: Power,
    /// When heaters that together are stronger than the supply were first on, and how strong they are.
    over: Option<(Moment, Power)>,
    /// Tank by tank and day by day: since when, and how long in all.
    waits: BTreeMap<(StationId, i64), (Moment, Span)>,
}

impl Watch {
    /// Nothing is followed in a shop whose supply is not stated.
    pub(super) fn of(shop: &Shop) -> Option<Self> {
        let one = |(id, _, tank): (StationId, _, &tankday_base::shop::Tank)| {
            let rated = tank.heater.power;
            let seen = Seen {
                rated,
                state: HeaterState::Off,
                may: rated,
                waits: None,
            };
            (id, seen)
        };
        Some(Self {
            heaters: shop.tanks().map(one).collect(),
            supply: shop.supply?,
            over: None,
            waits: BTreeMap::new(),
        })
    }

    pub(super) fn note(&mut self, now: Moment, event: &LogEntry) {
        let (id, state, may) = match event {
            LogEntry::Bath { tank, sample } => (*tank, Some(sample.heater), None),
            LogEntry::Allowed { tank, power } => (*tank, None, Some(*power)),
            _ => return,
        };
        let Some(seen) = self.heaters.get_mut(&id) else {
            return;
        };
        seen.may = may.unwrap_or(seen.may);
        seen.state = state.unwrap_or(seen.state);
        if seen.state == HeaterState::Off {
            // When it comes on again it asks for its own power.
            seen.may = seen.rated;
        }
        let waits = seen.state == HeaterState::Heating && seen.may < seen.rated;
        match (seen.waits, waits) {
            (None, true) => seen.waits = Some(now),
            (Some(since), false) => {
                seen.waits = None;
                self.waited(id, since, now);
            }
            _ => {}
        }
        self.together(now);
    }

    fn waited(&mut self, id: StationId, since: Moment, until: Moment) {
        let day = since.day_and_time().0;
        let sum = self.waits.entry((id, day)).or_insert((since, Span::ZERO));
        sum.1 += until - since;
    }

    fn together(&mut self, now: Moment) {
        let on = self.heaters.values().filter(|h| h.state != HeaterState::Off);
        let strength: Power = on.map(|h| h.rated).sum();
        if self.over.is_none() && strength > self.supply {
            self.over = Some((now, strength));
        }
    }

    fn found(mut self, last: Moment) -> Vec<(WarningKind, Caution)> {
        let still: Vec<(StationId, Moment)> = self
            .heaters
            .iter()
            .filter_map(|(id, h)| Some((*id, h.waits?)))
            .collect();
        for (id, since) in still {
            self.waited(id, since, last);
        }
        let over = self.over.map(|(when, heaters)| {
            let reading = Reading::Supply {
                heaters,
                supply: self.supply,
            };
            let caution = Caution {
                reading: Some(reading),
                ..at(when, None)
            };
            (WarningKind::HeatersOverSupply, caution)
        });
        let mut waits: Vec<(Moment, StationId, Span)> = (self.waits.into_iter())
            .filter(|(_, (_, by))| *by >= HARDLY)
            .map(|((id, _), (since, by))| (since, id, by))
            .collect();
        waits.sort();
        let waits = waits.into_iter().map(|(since, id, by)| {
            let caution = Caution {
                by,
                ..at(since, Some(id))
            };
            (WarningKind::WaitsForSupply, caution)
        });
        over.into_iter().chain(waits).collect()
    }
}
