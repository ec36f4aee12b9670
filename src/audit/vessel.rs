//! Storage vessels: drawn on only when they are ready, by a tank of their own bath, and what goes in comes out.

use super::care::Cared;
use super::found::{FaultKind, Findings};
use tankday_base::shop::{Shop, StationId, VesselId};
use tankday_base::units::{Moment, Quantity, Volume};
use tankday_record::{CareKind, CareUse, LogEntry, Record};

/// Rounding in sums of volumes, as a share of them.
const ROUNDING: f64 = 1e-6;

/// One vessel while the record is followed.
struct Kept {
    /// What it keeps ready.
    volume: Volume,
    /// The tank whose bath settles in it, since when, and how much.
    settles: Option<(StationId, Moment, Volume)>,
}

/// Says when solution of which tank settled and was filtered in a vessel.
pub(super) fn check(shop: &Shop, record: &Record, found: &mut Findings<'_>) -> Vec<Cared> {
    let mut vessels: Vec<Kept> = shop
        .vessels
        .iter()
        .map(|v| Kept {
            volume: v.filtered,
            settles: None,
        })
        .collect();
    let mut spells = Vec::new();
    for (place, entry) in record.entries.iter().enumerate() {
        match &entry.event {
            LogEntry::VesselBegins { vessel, tank } => {
                let used = exchange(record, place, *tank);
                begins(shop, &mut vessels, *vessel, *tank, entry.at, used.as_ref(), found);
            }
            LogEntry::VesselEnds { vessel, tank, used } => {
                spells.extend(ends(&mut vessels, *vessel, *tank, entry.at, used, found));
            }
            _ => {}
        }
    }
    for (tank, from, _) in vessels.iter().filter_map(|v| v.settles) {
        spells.push(Cared {
            tank,
            from,
            to: Moment::NEVER,
        });
    }
    spells
}

/// What the exchange at a tank took that ends with this entry.
fn exchange(record: &Record, place: usize, tank: StationId) -> Option<CareUse> {
    let at = record.entries.get(place)?.at;
    let soon = record.entries.iter().skip(place).take_while(|e| e.at == at);
    soon.filter_map(|e| match &e.event {
        LogEntry::CareEnds { tank: t, care, used } if *t == tank && *care == CareKind::Exchange => {
            Some(**used)
        }
        _ => None,
    })
    .next()
}

fn begins(
    shop: &Shop,
    vessels: &mut [Kept],
    vessel: VesselId,
    tank: StationId,
    at: Moment,
    used: Option<&CareUse>,
    found: &mut Findings<'_>,
) {
    let station = found.station(tank);
    let bath = shop
        .stations
        .get(tank.index())
        .and_then(|s| s.tank)
        .map(|t| t.bath);
    let (Some(v), Some(kept)) = (shop.vessels.get(vessel.index()), vessels.get_mut(vessel.index())) else {
        return;
    };
    let Some(used) = used else {
        let text = format!("{station} is drawn off into {} without an exchange", v.name);
        return found.say(at, FaultKind::Life, text);
    };
    if kept.settles.is_some() || bath != Some(v.bath) {
        let text = format!(
            "{station} is exchanged with {}, which is not ready, or keeps another bath",
            v.name
        );
        found.say(at, FaultKind::Life, text);
    }
    let off = (used.refilled - kept.volume).base().abs();
    if off > ROUNDING * kept.volume.base() || used.drawn_off > v.holds * (1.0 + ROUNDING) {
        let text = format!(
            "{} gives another volume than it kept, or takes in more than it holds",
            v.name
        );
        found.say(at, FaultKind::Water, text);
    }
    kept.settles = Some((tank, at, used.drawn_off));
}

fn ends(
    vessels: &mut [Kept],
    vessel: VesselId,
    tank: StationId,
    at: Moment,
    used: &CareUse,
    found: &mut Findings<'_>,
) -> Option<Cared> {
    let kept = vessels.get_mut(vessel.index())?;
    let Some((of, from, drawn)) = kept.settles.take().filter(|s| s.0 == tank) else {
        let text = format!(
            "a vessel is done with {}, of which it held nothing",
            found.station(tank)
        );
        found.say(at, FaultKind::Life, text);
        return None;
    };
    if used.water < Volume::ZERO || used.wasted < Volume::ZERO || used.sludge.base() < 0.0 {
        found.say(at, FaultKind::Water, "a vessel used less than nothing".to_owned());
    }
    kept.volume = drawn + used.water - used.wasted;
    Some(Cared {
        tank: of,
        from,
        to: at,
    })
}
