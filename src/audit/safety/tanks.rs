//! A tank as the record shows it: its samples, its heater, its lid, and what is in it when.

use super::spell::{Spell, joined};
use crate::stage::Story;
use tankday_base::shop::{BathRecipe, Shop, StationId, Tank};
use tankday_base::units::{Moment, Quantity, Temperature};
use tankday_record::{BathSample, HeaterState, LoadNo, LogEntry, Record};

/// A bath this hot must not be handled or left uncovered: about where skin is burnt within seconds; common practice,
/// no source.
pub(super) const HOT: Temperature = Temperature::celsius(60.0);

/// One tank through the whole record.
pub(super) struct Watched<'a> {
    pub(super) id: StationId,
    pub(super) tank: &'a Tank,
    pub(super) bath: &'a BathRecipe,
    /// Samples in order.
    pub(super) looks: Vec<(Moment, &'a BathSample)>,
    /// Loads in it, each from its putting in to its lifting.
    pub(super) inside: Vec<(LoadNo, Spell)>,
    pub(super) end: Moment,
}

/// Every tank of the shop that the record shows.
pub(super) fn watched<'a>(
    shop: &'a Shop,
    record: &'a Record,
    story: &Story,
    end: Moment,
) -> Vec<Watched<'a>> {
    let mut all: Vec<Watched<'a>> = Vec::new();
    for (id, _, tank) in shop.tanks() {
        let Some(bath) = shop.baths.get(tank.bath.index()) else {
            continue;
        };
        let visits = story.visits.iter().filter(|v| v.station == id);
        all.push(Watched {
            id,
            tank,
            bath,
            looks: Vec::new(),
            inside: visits
                .map(|v| (v.load, Spell::new(v.set_in, v.lift.unwrap_or(end))))
                .collect(),
            end,
        });
    }
    for entry in &record.entries {
        if let LogEntry::Bath { tank, sample } = &entry.event
            && let Some(watched) = all.iter_mut().find(|w| w.id == *tank)
        {
            watched.looks.push((entry.at, sample));
        }
    }
    all
}

impl Watched<'_> {
    /// Each sample with the time up to the next, or to the end.
    fn spans(&self) -> impl Iterator<Item = (Spell, &BathSample, Option<&BathSample>)> {
        let next = self
            .looks
            .iter()
            .skip(1)
            .map(|l| (l.0, Some(l.1)))
            .chain([(self.end, None)]);
        let pairs = self.looks.iter().zip(next);
        pairs.map(|(a, (to, b))| (Spell::new(a.0, to), a.1, b))
    }

    /// When something holds, told by the sample at the beginning of each stretch.
    fn when(&self, holds: impl Fn(&BathSample) -> bool) -> Vec<Spell> {
        joined(
            self.spans()
                .filter(|(_, a, _)| holds(a))
                .map(|(s, ..)| s)
                .collect(),
        )
    }

    /// When the heater is on, whatever its thermostat does.
    pub(super) fn on(&self) -> Vec<Spell> {
        self.when(|s| s.heater != HeaterState::Off)
    }

    /// When no lid is on it.
    pub(super) fn open(&self) -> Vec<Spell> {
        self.when(|s| !s.lid)
    }

    /// When a load is in it.
    pub(super) fn loaded(&self) -> Vec<Spell> {
        joined(self.inside.iter().map(|i| i.1).collect())
    }

    /// When it is certainly hotter than [`HOT`]: at both ends of a stretch between samples.
    pub(super) fn hot(&self) -> Vec<Spell> {
        let is_hot = |s: &BathSample| s.temperature > HOT;
        let both = |(_, a, b): &(Spell, &BathSample, Option<&BathSample>)| is_hot(a) && b.is_none_or(is_hot);
        joined(self.spans().filter(both).map(|(s, ..)| s).collect())
    }

    /// When its level certainly lies below so many cubic metres: at both ends of a stretch between samples.
    pub(super) fn below(&self, level: f64) -> Vec<Spell> {
        let low = |s: &BathSample| s.volume.base() < level * (1.0 - 1e-6);
        let both = |(_, a, b): &(Spell, &BathSample, Option<&BathSample>)| low(a) && b.is_none_or(low);
        joined(self.spans().filter(both).map(|(s, ..)| s).collect())
    }

    /// How hot it was at a moment: as sampled just then, the hottest of several samples; else between the samples beside it.
    pub(super) fn temperature(&self, at: Moment) -> Option<Temperature> {
        let first = self.looks.partition_point(|l| l.0 < at);
        let here = self.looks.iter().skip(first).take_while(|l| l.0 == at);
        if let Some(hottest) = here.map(|l| l.1.temperature).reduce(Temperature::max) {
            return Some(hottest);
        }
        let before = first.checked_sub(1).and_then(|i| self.looks.get(i));
        let (Some(a), Some(b)) = (before, self.looks.get(first)) else {
            return before.or(self.looks.get(first)).map(|l| l.1.temperature);
        };
        let share = (at - a.0).in_seconds() / (b.0 - a.0).in_seconds();
        let (x, y) = (a.1.temperature.in_celsius(), b.1.temperature.in_celsius());
        Some(Temperature::celsius(x + (y - x) * share))
    }

    /// The level at the end of a stretch, in cubic metres.
    pub(super) fn level(&self, at: Moment) -> f64 {
        let last = self.looks.partition_point(|l| l.0 <= at).saturating_sub(1);
        self.looks.get(last).map_or(0.0, |l| l.1.volume.base())
    }
}
