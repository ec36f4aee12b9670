//! When a hot tank is left alone: from when nobody is there any more, until somebody comes or the heater is off.

use super::warning_kind::WarningKind;
use super::warnings::{Caution, at};
use crate::event::LogEntry;
use crate::reading::HeaterState;
use crate::watch::Record;
use std::collections::BTreeMap;
use tankday_base::shop::{STAYS, Shop, StationId};
use tankday_base::units::Moment;

/// Every spell in which a hot tank is left alone.
pub(super) fn of(shop: &Shop, record: &Record) -> Vec<(WarningKind, Caution)> {
    let busy = busy(record);
    let one = |(i, entry): (usize, &crate::watch::Entry)| {
        let LogEntry::LeftAlone { tank, until } = entry.event else {
            return None;
        };
        let from = still_there(shop, &busy, entry.at).min(until);
        let until = goes_off(record, tank, i).map_or(until, |off| off.min(until));
        let caution = Caution {
            by: until - from,
            ..at(from, Some(tank))
        };
        (from < until).then_some((WarningKind::HotTankAlone, caution))
    };
    record.entries.iter().enumerate().filter_map(one).collect()
}

/// Every task of hands from its beginning to its end.
pub(super) fn busy(record: &Record) -> Vec<(Moment, Moment)> {
    let mut begun: BTreeMap<u32, Moment> = BTreeMap::new();
    let mut all = Vec::new();
    for entry in &record.entries {
        match entry.event {
            LogEntry::HandsTake { hand, .. } => {
                begun.insert(hand, entry.at);
            }
            LogEntry::HandsFree { hand } => {
                all.extend(begun.remove(&hand).map(|from| (from, entry.at)));
            }
            _ => {}
        }
    }
    let end = record.entries.last().map_or(Moment::ZERO, |e| e.at);
    all.extend(begun.into_values().map(|from| (from, end)));
    all
}

/// Until when hands are still there that see to what cannot wait after closing; the moment itself where none are.
pub(super) fn still_there(shop: &Shop, busy: &[(Moment, Moment)], now: Moment) -> Moment {
    let days = &shop.calendar.days;
    let closed = days.iter().map(|d| d.close).rfind(|close| *close <= now);
    let Some(closed) = closed.filter(|close| days.iter().all(|d| d.open <= *close || d.open > now)) else {
        return now;
    };
    let stays = closed + STAYS;
    let late = busy.iter().filter(|(from, to)| *from < stays && *to > closed);
    late.map(|(_, to)| *to).max().map_or(now, |to| to.max(now))
}

/// When a heater that is on at an entry of the record is off again; none where it is off already.
fn goes_off(record: &Record, id: StationId, entry: usize) -> Option<Moment> {
    let state = |e: &crate::watch::Entry| match &e.event {
        LogEntry::Bath { tank, sample } if *tank == id => Some(sample.heater != HeaterState::Off),
        _ => None,
    };
    let before = record.entries.get(..entry)?.iter().rev().find_map(state);
    if before != Some(true) {
        return None;
    }
    let later = record.entries.get(entry..)?.iter();
    later.filter(|e| state(e) == Some(false)).map(|e| e.at).next()
}
