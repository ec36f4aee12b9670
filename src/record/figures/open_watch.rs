//! When a hot bath that has no lid stands open and nobody is there: in breaks and between closing and opening.

use super::alone_watch::still_there;
use super::warning_kind::WarningKind;
use super::warnings::{Caution, at};
use crate::analysis::Analysis;
use crate::reading::BathSample;
use tankday_base::bath::HOT;
use tankday_base::shop::{LidKind, Shop, StationId};
use tankday_base::units::Moment;

/// Every such spell, in order.
pub(super) fn of(read: &Analysis<'_>) -> Vec<(WarningKind, Caution)> {
    let bare = read.shop.tanks().filter(|(.., tank)| tank.lid == LidKind::None);
    let bare: Vec<StationId> = bare.map(|(id, ..)| id).collect();
    if bare.is_empty() {
        return Vec::new();
    }
    let nobody: Vec<(Moment, Moment)> = unattended(read.shop)
        .into_iter()
        .map(|(from, until)| (still_there(read, from), until))
        .collect();
    let one = |tank: StationId| {
        let samples = read.samples(tank);
        let spells: Vec<_> = nobody.iter().flat_map(|spell| hot(samples, *spell)).collect();
        spells.into_iter().map(move |(from, until)| {
            let caution = Caution {
                by: until - from,
                ..at(from, Some(tank))
            };
            (WarningKind::NoLid, caution)
        })
    };
    let mut all: Vec<_> = bare.into_iter().flat_map(one).collect();
    all.sort_by_key(|(_, caution)| (caution.at, caution.station));
    all
}

/// Breaks and nights that nobody stays for.
pub(super) fn unattended(shop: &Shop) -> Vec<(Moment, Moment)> {
    let days = &shop.calendar.days;
    let opens = days.iter().skip(1).map(|d| d.open).chain([Moment::NEVER]);
    let mut all = Vec::new();
    for (day, opens) in days.iter().zip(opens) {
        let breaks = day.breaks.iter().filter(|b| !b.stays);
        all.extend(breaks.map(|b| (b.from, b.until)));
        // A shop that never closes has no night.
        all.extend((!day.stays && day.close < Moment::NEVER).then_some((day.close, opens)));
    }
    all
}

/// From when until when a bath is hot within a spell, as far as the record goes: to the same moment where it ends there.
fn hot(read: &[(Moment, BathSample)], (from, until): (Moment, Moment)) -> Vec<(Moment, Moment)> {
    let first = read.partition_point(|r| r.0 <= from).saturating_sub(1);
    let last = read.last().map_or(from, |r| r.0);
    let here = read.get(first..).unwrap_or_default();
    let mut all = Vec::new();
    let mut since = None;
    for (at, sample) in here.iter().take_while(|r| r.0 < until) {
        match since {
            None if sample.temperature > HOT => since = Some((*at).max(from)),
            Some(begins) if sample.temperature <= HOT => {
                all.push((begins, *at));
                since = None;
            }
            _ => {}
        }
    }
    all.extend(since.map(|begins| (begins, last.max(begins).min(until))));
    all
}
