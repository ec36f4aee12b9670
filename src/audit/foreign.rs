//! No load goes into a bath that holds foreign metal or oil: one that does at the start does until all of it is renewed.

use super::found::{FaultKind, Findings};
use std::collections::BTreeSet;
use tankday_base::shop::{Shop, StationId};
use tankday_record::{CareKind, LogEntry, Record};

pub(super) fn check(shop: &Shop, record: &Record, found: &mut Findings<'_>) {
    let foreign = |bath: tankday_base::shop::BathId| {
        shop.baths
            .get(bath.index())
            .is_some_and(|b| b.now.contaminants.any())
    };
    let mut tanks: BTreeSet<StationId> = shop
        .tanks()
        .filter(|(.., t)| foreign(t.bath))
        .map(|(id, ..)| id)
        .collect();
    let mut vessels = BTreeSet::new();
    for entry in &record.entries {
        match &entry.event {
            LogEntry::CareEnds {
                tank,
                care: CareKind::Renew,
                ..
            } => {
                tanks.remove(tank);
            }
            // What is drawn off and what comes back meet in the same hoses and on the same walls.
            LogEntry::VesselBegins { vessel, tank } if tanks.contains(tank) || vessels.contains(vessel) => {
                tanks.insert(*tank);
                vessels.insert(*vessel);
            }
            LogEntry::SetIn { load, station, .. } if tanks.contains(station) => found.of_load(
                entry.at,
                FaultKind::Life,
                *load,
                "goes into a bath with foreign metal or oil in it",
            ),
            _ => {}
        }
    }
}
