//! Care of the baths, as the record tells it, and the amounts that each stage of it moves.

use tankday_base::shop::{Chore, Shop, StationId, Trimming, VesselId};
use tankday_base::units::{Moment, Volume};
use tankday_record::{CareKind, CareUse, LogEntry, Record, Task, TaskKind};

/// Less than this is not stated where a vessel is filled.
const LITTLE: Volume = Volume::litres(0.05);
/// From here on litres are stated, not millilitres.
const MUCH: Volume = Volume::litres(2.0);

/// One care from beginning to end.
#[derive(Debug, Clone, Copy)]
pub(super) struct Cared {
    pub(super) tank: StationId,
    pub(super) kind: CareKind,
    pub(super) from: Moment,
    pub(super) to: Moment,
    pub(super) used: CareUse,
    /// Whether it goes on in a vessel while the tank works.
    pub(super) outside: bool,
    vessel: Option<VesselId>,
}

/// All care of a record, in order of beginning.
pub(super) fn cared(record: &Record) -> Vec<Cared> {
    let mut all: Vec<Cared> = Vec::new();
    let new = |tank, kind, from| Cared {
        tank,
        kind,
        from,
        to: Moment::NEVER,
        used: CareUse::default(),
        outside: false,
        vessel: None,
    };
    for entry in &record.entries {
        let at = entry.at;
        match &entry.event {
            LogEntry::CareBegins { tank, care } => all.push(new(*tank, *care, at)),
            LogEntry::VesselBegins { vessel, tank } => all.push(Cared {
                outside: true,
                vessel: Some(*vessel),
                ..new(*tank, CareKind::Exchange, at)
            }),
            LogEntry::CareEnds { tank, used, .. } => {
                let open = all.iter_mut().rev().find(|c| c.tank == *tank && !c.outside);
                if let Some(care) = open {
                    (care.to, care.used) = (at, **used);
                }
            }
            LogEntry::VesselEnds { vessel, used, .. } => {
                if let Some(care) = all.iter_mut().rev().find(|c| c.vessel == Some(*vessel)) {
                    (care.to, care.used) = (at, **used);
                }
            }
            _ => {}
        }
    }
    all
}

/// The care that a task of hands belongs to: of the tank itself, or of what was drawn off it into a vessel.
pub(super) fn of_task(cares: &[Cared], task: Task, (from, to): (Moment, Moment)) -> Option<&Cared> {
    let own = |c: &&Cared| match task.vessel {
        Some(_) => c.outside && c.vessel == task.vessel,
        None => !c.outside && stages(c.kind).contains(&task.kind),
    };
    let meanwhile = |c: &&Cared| c.tank == task.station && c.from <= from && to <= c.to;
    cares.iter().filter(meanwhile).find(own)
}

/// What hands do in a care of the tank itself.
fn stages(kind: CareKind) -> &'static [TaskKind] {
    match kind {
        CareKind::Replenish => &[TaskKind::AddConcentrate],
        CareKind::RaiseRatio | CareKind::LowerRatio => &[TaskKind::TrimRatio],
        CareKind::Condition => &[TaskKind::PutWoolIn, TaskKind::TakeWoolOut],
        CareKind::Filter => &[TaskKind::Decant, TaskKind::SetUpFilter, TaskKind::FillBack],
        CareKind::Settle => &[TaskKind::Decant, TaskKind::FillBack],
        CareKind::RenewHalf | CareKind::Renew => &[TaskKind::MakeUpAnew],
        CareKind::Exchange => &[TaskKind::Exchange],
    }
}

fn litres(volume: Volume) -> (String, &'static str) {
    (format!("{:.1}", volume.in_litres().max(0.0)), "L")
}

fn millilitres(volume: Volume) -> (String, &'static str) {
    if volume >= MUCH {
        return litres(volume);
    }
    (format!("{:.0}", (volume.in_litres() * 1e3).max(0.0)), "mL")
}

/// What a stage moves, with its units, in the order in which the sheet states it.
pub(super) fn amounts(shop: &Shop, kind: TaskKind, care: Option<&Cared>) -> Vec<(String, &'static str)> {
    let used = care.map(|c| c.used).unwrap_or_default();
    let vessel = care.is_some_and(|c| c.outside);
    let chemical = used.chemical.in_grams() > 0.0;
    match kind {
        TaskKind::AddConcentrate if used.concentrate > Volume::ZERO => vec![millilitres(used.concentrate)],
        TaskKind::TrimRatio if chemical => vec![trimmed(shop, care, &used)],
        TaskKind::PutWoolIn if chemical => vec![grams(&used)],
        TaskKind::FillBack if vessel => Some(used.water)
            .filter(|w| *w >= LITTLE)
            .map(litres)
            .into_iter()
            .collect(),
        TaskKind::FillBack => {
            let heel = care.is_some_and(|c| c.kind == CareKind::Settle) && used.wasted > LITTLE;
            let heel = heel.then(|| litres(used.wasted));
            std::iter::once(litres(used.water)).chain(heel).collect()
        }
        TaskKind::MakeUpAnew => vec![
            litres(used.wasted),
            litres(used.water),
            millilitres(used.concentrate),
        ],
        TaskKind::Exchange => {
            let water = Some(used.water).filter(|w| *w >= LITTLE).map(litres);
            [litres(used.drawn_off), litres(used.refilled)]
                .into_iter()
                .chain(water)
                .collect()
        }
        _ => Vec::new(),
    }
}

fn grams(used: &CareUse) -> (String, &'static str) {
    let tenths = format!("{:.1}", used.chemical.in_grams());
    let whole = tenths.strip_suffix(".0").map(str::to_owned);
    (whole.unwrap_or(tenths), "g")
}

/// Acid by the volume of the bottle, all else by mass.
fn trimmed(shop: &Shop, care: Option<&Cared>, used: &CareUse) -> (String, &'static str) {
    let lowers = care.is_some_and(|c| c.kind == CareKind::LowerRatio);
    let acid = shop.rules.care.iter().find_map(|rule| match rule.chore {
        Chore::Trim {
            by: Trimming::PhosphoricAcid(bottle),
            ..
        } if lowers => Some(bottle),
        _ => None,
    });
    acid.map_or_else(|| grams(used), |bottle| millilitres(bottle.holds(used.chemical)))
}
