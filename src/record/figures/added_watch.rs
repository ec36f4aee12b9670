//! What to watch where something is added to a hot bath: solids make it froth over, and concentrate above its band boils up.

use super::warning_kind::WarningKind;
use super::warnings::{Caution, Reading, at};
use crate::event::LogEntry;
use crate::task::{CareKind, Task, TaskKind};
use std::collections::BTreeMap;
use tankday_base::bath::SOLIDS;
use tankday_base::shop::{Shop, StationId};
use tankday_base::units::{Moment, TempDiff, Temperature};

/// A bath that was waited for is as hot as asked, up to this.
const HARDLY: TempDiff = TempDiff::kelvin(1e-3);

/// Every addition that is warned of. The bath is read just before hands begin it.
#[derive(Debug, Clone)]
pub(super) struct Added<'s> {
    shop: &'s Shop,
    reads: BTreeMap<StationId, Temperature>,
    cares: BTreeMap<StationId, CareKind>,
    pub(super) found: Vec<(WarningKind, Caution)>,
}

impl<'s> Added<'s> {
    pub(super) fn of(shop: &'s Shop) -> Self {
        Self {
            shop,
            reads: BTreeMap::new(),
            cares: BTreeMap::new(),
            found: Vec::new(),
        }
    }

    pub(super) fn note(&mut self, now: Moment, event: &LogEntry) {
        match event {
            LogEntry::Bath { tank, sample } => {
                self.reads.insert(*tank, sample.temperature);
            }
            LogEntry::CareBegins { tank, care } => {
                self.cares.insert(*tank, *care);
            }
            LogEntry::HandsTake { task, .. } => self.found.extend(self.warning(now, *task)),
            _ => {}
        }
    }

    fn warning(&self, now: Moment, task: Task) -> Option<(WarningKind, Caution)> {
        let tank = task.station;
        let care = self.cares.get(&tank).copied();
        let (kind, most) = limit(self.shop, tank, task.kind, care)?;
        let hot = self.reads.get(&tank).filter(|t| **t > most + HARDLY)?;
        let caution = Caution {
            reading: Some(Reading::Temperature(*hot)),
            ..at(now, Some(tank))
        };
        Some((kind, caution))
    }
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
            let tank = shop.tank(tank)?;
            let most = shop.baths.get(tank.bath.index())?.band.most;
            Some((WarningKind::HotConcentrate, most))
        }
        (TaskKind::PutWoolIn | TaskKind::TrimRatio, _) => Some((WarningKind::HotSolids, SOLIDS)),
        _ => None,
    }
}
