//! Which tanks hold what must not be in a bath, and since when: what the scenario says of the start, until all of the bath
//! is renewed; an exchange with a storage vessel leaves it in both.

use crate::event::LogEntry;
use crate::task::CareKind;
use tankday_base::shop::{Contaminants, Shop, StationId};
use tankday_base::units::Moment;

/// Every change, in order of time.
#[derive(Debug, Clone)]
pub(super) struct Foreign {
    changes: Vec<(Moment, StationId, Contaminants)>,
    vessels: Vec<Contaminants>,
}

impl Foreign {
    /// What the tanks hold at the start.
    pub(super) fn of(shop: &Shop) -> Self {
        let start = |(id, _, tank): (StationId, _, &tankday_base::shop::Tank)| {
            let held = shop.baths.get(tank.bath.index())?.now.contaminants;
            held.any().then_some((Moment::ZERO, id, held))
        };
        Self {
            changes: shop.tanks().filter_map(start).collect(),
            vessels: vec![Contaminants::default(); shop.vessels.len()],
        }
    }

    pub(super) fn note(&mut self, at: Moment, event: &LogEntry) {
        if self.changes.is_empty() {
            return;
        }
        match *event {
            LogEntry::CareEnds {
                tank,
                care: CareKind::Renew,
                ..
            } => self.changes.push((at, tank, Contaminants::default())),
            LogEntry::VesselBegins { vessel, tank } => {
                let held = self.at(tank, at);
                if let Some(kept) = self.vessels.get_mut(vessel.index()) {
                    *kept = kept.with(held);
                    self.changes.push((at, tank, *kept));
                }
            }
            _ => {}
        }
    }

    /// What a tank holds at a moment.
    pub(super) fn at(&self, tank: StationId, when: Moment) -> Contaminants {
        let changes = self.changes.iter().rev();
        let last = |c: &&(Moment, StationId, Contaminants)| c.1 == tank && c.0 <= when;
        changes
            .clone()
            .find(last)
            .map_or(Contaminants::default(), |c| c.2)
    }

    /// Each spell of a tank: from when, how long, with what. One that lasts to the end of the record ends never.
    pub(super) fn spells(&self, tank: StationId) -> Vec<(Moment, Moment, Contaminants)> {
        let mut spells: Vec<(Moment, Moment, Contaminants)> = Vec::new();
        for (at, _, held) in self.changes.iter().filter(|c| c.1 == tank) {
            if let Some(last) = spells.last_mut().filter(|s| s.1 == Moment::NEVER) {
                if last.2 == *held {
                    continue;
                }
                last.1 = *at;
            }
            if held.any() {
                spells.push((*at, Moment::NEVER, *held));
            }
        }
        spells
    }
}
