//! What goes into a bath and what is done to it: no load below the band, nothing decanted, filtered or carried hot, nothing
//! stirred in where it boils up.

use super::spell::Spell;
use super::tanks::{HOT, Watched};
use super::{Danger, DangerKind};
use tankday_base::shop::Shop;
use tankday_base::units::{Moment, TempDiff, Temperature};
use tankday_record::{CareKind, LogEntry, Record, TaskKind};

/// Tolerated in a temperature that was waited for.
const SLACK: TempDiff = TempDiff::kelvin(1e-3);
/// Solids that go into a hotter bath are warned of: they make it froth over. Common practice, no source.
const SOLIDS: Temperature = Temperature::celsius(70.0);

pub(super) fn check(shop: &Shop, record: &Record, tank: &Watched<'_>, found: &mut Vec<Danger>) {
    for (load, spell) in &tank.inside {
        let Some(now) = tank.temperature(spell.from) else {
            continue;
        };
        if now < tank.bath.band.least - SLACK {
            let words = format!(
                "a load goes in at {:.1} °C, below the {:.1} °C of its band",
                now.in_celsius(),
                tank.bath.band.least.in_celsius()
            );
            let danger = Danger::of(DangerKind::ColdLoad, *spell, tank.id, words);
            found.push(Danger {
                loads: vec![*load],
                ..danger
            });
        }
    }
    // The care under way: one that takes no time begins and ends at one moment.
    let mut care = None;
    for entry in &record.entries {
        match entry.event {
            LogEntry::CareBegins { tank: id, care: kind } if id == tank.id => care = Some(kind),
            LogEntry::CareEnds { tank: id, .. } if id == tank.id => care = None,
            // What hands do in a vessel they do not do to the bath in the tank.
            LogEntry::HandsTake { task, .. } if task.station == tank.id && task.vessel.is_none() => {
                let added = Added {
                    kind: task.kind,
                    is_acid: care == Some(CareKind::LowerRatio),
                    pump: shop.pump,
                };
                task_at(tank, entry.at, added, found);
            }
            _ => {}
        }
    }
}

/// What hands do to a bath.
#[derive(Clone, Copy)]
struct Added {
    kind: TaskKind,
    /// Whether what trims it is a liquid: free acid.
    is_acid: bool,
    /// Whether a pump moves it.
    pump: bool,
}

fn task_at(tank: &Watched<'_>, at: Moment, Added { kind, is_acid, pump }: Added, found: &mut Vec<Danger>) {
    let Some(now) = tank.temperature(at) else { return };
    let (limit, danger, doing) = match kind {
        TaskKind::Decant
        | TaskKind::SetUpFilter
        | TaskKind::FillBack
        | TaskKind::Exchange
        | TaskKind::MakeUpAnew
            if !pump =>
        {
            (HOT, DangerKind::HotHandling, "is decanted, filtered or carried")
        }
        TaskKind::PutWoolIn => (SOLIDS, DangerKind::HotSolids, "takes solids"),
        TaskKind::TrimRatio if !is_acid => (SOLIDS, DangerKind::HotSolids, "takes solids"),
        TaskKind::AddConcentrate | TaskKind::TrimRatio => (
            tank.bath.band.most,
            DangerKind::HotConcentrate,
            "takes concentrate",
        ),
        _ => return,
    };
    if now > limit + SLACK {
        let words = format!(
            "it {doing} ({}) at {:.1} °C, above {:.0} °C",
            kind.words(),
            now.in_celsius(),
            limit.in_celsius()
        );
        found.push(Danger::of(danger, Spell::new(at, at), tank.id, words));
    }
}
