//! What to watch where something is added to a hot bath: solids make it froth over, and concentrate above its band boils up.

use super::warning_kind::WarningKind;
use super::warnings::{Caution, Reading, at};
use crate::event::LogEntry;
use crate::task::{CareKind, TaskKind};
use crate::watch::Record;
use std::collections::BTreeMap;
use tankday_base::bath::SOLIDS;
use tankday_base::shop::{Shop, StationId};
use tankday_base::units::{TempDiff, Temperature};

/// A bath that was waited for is as hot as asked, up to this.
const HARDLY: TempDiff = TempDiff::kelvin(1e-3);

/// Every addition that is warned of. The bath is read just before hands begin it.
pub(super) fn of(shop: &Shop, record: &Record) -> Vec<(WarningKind, Caution)> {
    let mut reads: BTreeMap<StationId, Temperature> = BTreeMap::new();
    let mut cares: BTreeMap<StationId, CareKind> = BTreeMap::new();
    let mut found = Vec::new();
    for entry in &record.entries {
        match &entry.event {
            LogEntry::Bath { tank, sample } => {
                reads.insert(*tank, sample.temperature);
            }
            LogEntry::CareBegins { tank, care } => {
                cares.insert(*tank, *care);
            }
            LogEntry::HandsTake { task, .. } => {
                let tank = task.station;
                let care = cares.get(&tank).copied();
                let Some((kind, most)) = limit(shop, tank, task.kind, care) else {
                    continue;
                };
                if let Some(hot) = reads.get(&tank).filter(|t| **t > most + HARDLY) {
                    let reading = Some(Reading::Temperature(*hot));
                    let caution = Caution {
                        reading,
                        ..at(entry.at, Some(tank))
                    };
                    found.push((kind, caution));
                }
            }
            _ => {}
        }
    }
    found
}

/// How hot a bath may be at most for what is added, and what is warned of above.
fn limit(
    shop: &Shop,
    tank: StationId,
    task: TaskKind,
    care: Option<CareKind>,
) -> Option<(WarningKind, Temperature)> {
    match (task, care) {
        (TaskKind::AddConcentrate, _) | (TaskKind::TrimRatio, Some(CareKind::LowerRatio)) => {
            let tank = shop.stations.get(tank.index())?.tank.as_ref()?;
            let most = shop.baths.get(tank.bath.index())?.band.most;
            Some((WarningKind::HotConcentrate, most))
        }
        (TaskKind::PutWoolIn | TaskKind::TrimRatio, _) => Some((WarningKind::HotSolids, SOLIDS)),
        _ => None,
    }
}
