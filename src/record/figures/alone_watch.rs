//! When a hot tank is left alone: from when nobody is there any more, until somebody comes or the heater is off.

use super::warning_kind::WarningKind;
use super::warnings::{Caution, at};
use super::watched::LeftAlone;
use crate::analysis::Analysis;
use crate::reading::{BathSample, HeaterState};
use tankday_base::shop::STAYS;
use tankday_base::units::Moment;

/// Every spell in which a hot tank is left alone.
pub(super) fn of(read: &Analysis<'_>) -> Vec<(WarningKind, Caution)> {
    let one = |&(left, tank, until, before): &LeftAlone| {
        let from = still_there(read, left).min(until);
        let until = goes_off(read.samples(tank), before).map_or(until, |off| off.min(until));
        let caution = Caution {
            by: until - from,
            ..at(from, Some(tank))
        };
        (from < until).then_some((WarningKind::HotTankAlone, caution))
    };
    read.watched.left_alone.iter().filter_map(one).collect()
}

/// Until when hands are still there that see to what cannot wait after closing; the moment itself where none are.
pub(super) fn still_there(read: &Analysis<'_>, now: Moment) -> Moment {
    let days = &read.shop.calendar.days;
    let closed = days.iter().map(|d| d.close).rfind(|close| *close <= now);
    let Some(closed) = closed.filter(|close| days.iter().all(|d| d.open <= *close || d.open > now)) else {
        return now;
    };
    let stays = closed + STAYS;
    let late = read.tasks.iter().filter(|t| t.from < stays && t.to > closed);
    late.map(|t| t.to).max().map_or(now, |to| to.max(now))
}

/// When a heater that is on after so many samples of its bath is off again; none where it is off already.
fn goes_off(samples: &[(Moment, BathSample)], before: usize) -> Option<Moment> {
    let (before, later) = samples.split_at_checked(before)?;
    if before.last()?.1.heater == HeaterState::Off {
        return None;
    }
    let off = later.iter().find(|(_, s)| s.heater == HeaterState::Off);
    off.map(|(at, _)| *at)
}
