//! Whether a day says that it breaks a rule: the warning that belongs to it, at its tank and at its time.

use super::spell::{Spell, joined, without};
use super::{Danger, DangerKind};
use tankday_record::{Caution, Warning, WarningKind};

/// Whether the warnings tell of it: for as long as it lasts, or, where a warning is of a moment, at some moment of it.
pub(super) fn says(warnings: &[Warning], danger: &Danger) -> bool {
    let kinds = kinds(danger.kind);
    let about = warnings.iter().filter(|w| kinds.contains(&w.kind));
    let here = |c: &&Caution| match c.load {
        Some(load) => danger.loads.contains(&load),
        None => c.station == Some(danger.tank),
    };
    let told: Vec<(WarningKind, &Caution)> = about
        .flat_map(|w| w.at.iter().filter(here).map(|c| (w.kind, c)))
        .collect();
    if danger.kind.lasts() {
        let spells = told.iter().map(|(kind, c)| spell(*kind, c)).collect();
        return without(&[Spell::new(danger.from, danger.to)], &joined(spells)).is_empty();
    }
    told.iter().any(|(_, c)| danger.from <= c.at && c.at <= danger.to)
}

/// From when until when a warning says that it is so: one of a load that is in a bath when a break begins looks back.
fn spell(kind: WarningKind, caution: &Caution) -> Spell {
    match kind {
        WarningKind::InAtBreak => Spell::new(caution.at - caution.by, caution.at),
        _ => Spell::new(caution.at, caution.at + caution.by),
    }
}

/// The warnings that may tell of a rule.
fn kinds(kind: DangerKind) -> &'static [WarningKind] {
    match kind {
        DangerKind::Alone => &[WarningKind::HotTankAlone, WarningKind::InAtBreak],
        DangerKind::Uncovered => &[
            WarningKind::HotTankAlone,
            WarningKind::NoLid,
            WarningKind::InAtBreak,
        ],
        DangerKind::Low => &[WarningKind::LevelOff, WarningKind::RanLow],
        DangerKind::BelowHeater => &[],
        DangerKind::ColdLoad => &[WarningKind::ColdBath],
        DangerKind::HotSolids => &[WarningKind::HotSolids],
        DangerKind::HotConcentrate => &[WarningKind::HotConcentrate],
        DangerKind::HotHandling => &[],
    }
}
