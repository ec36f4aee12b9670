//! Which tanks hold what must not be in a bath, and since when: what the scenario says of the start, until all of the bath
//! is renewed; an exchange with a storage vessel leaves it in both.

use crate::event::LogEntry;
use crate::task::CareKind;
use crate::watch::Record;
use tankday_base::shop::{Contaminants, Shop, StationId};
use tankday_base::units::Moment;

/// Every change, in order of time.
pub(super) struct Foreign {
    changes: Vec<(Moment, StationId, Contaminants)>,
}

impl Foreign {
    pub(super) fn of(shop: &Shop, record: &Record) -> Self {
        let start = |(id, _, tank): (StationId, _, &tankday_base::shop::Tank)| {
            let held = shop.baths.get(tank.bath.index())?.now.contaminants;
            held.any().then_some((Moment::ZERO, id, held))
        };
        let mut foreign = Self {
            changes: shop.tanks().filter_map(start).collect(),
        };
        if foreign.changes.is_empty() {
            return foreign;
        }
        let mut vessels = vec![Contaminants::default(); shop.vessels.len()];
        for entry in &record.entries {
            match &entry.event {
                LogEntry::CareEnds {
                    tank,
                    care: CareKind::Renew,
                    ..
                } => foreign.changes.push((entry.at, *tank, Contaminants::default())),
                LogEntry::VesselBegins { vessel, tank } => {
                    if let Some(kept) = vessels.get_mut(vessel.index()) {
                        *kept = kept.with(foreign.at(*tank, entry.at));
                        foreign.changes.push((entry.at, *tank, *kept));
                    }
                }
                _ => {}
            }
        }
        foreign
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
