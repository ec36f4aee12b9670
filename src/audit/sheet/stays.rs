//! Where the shop says that somebody stays, the sheet names the tanks for which that is needed.

use super::Faults;
use super::acts::Done;
use super::table::{Act, Row};
use std::collections::{BTreeMap, BTreeSet};
use tankday_base::shop::{Shop, StationId};
use tankday_base::units::{Moment, Temperature};
use tankday_record::{HeaterState, LoadNo, LogEntry, Record};

/// About where skin is burnt within seconds; common practice, no source.
const SCALDS: Temperature = Temperature::celsius(60.0);

/// The state of one tank: heated or hot and open, and what is in it.
#[derive(Default)]
struct Now {
    open_or_heated: bool,
    inside: Vec<LoadNo>,
}

impl Now {
    fn needs(&self) -> bool {
        self.open_or_heated || !self.inside.is_empty()
    }
}

/// For each of these times, each from a moment up to another, the tanks that must not be left in it, as the record has it.
fn needing(
    shop: &Shop,
    record: &Record,
    times: &[(Moment, Moment)],
) -> BTreeMap<Moment, BTreeSet<StationId>> {
    let mut now: BTreeMap<StationId, Now> = shop.tanks().map(|(id, ..)| (id, Now::default())).collect();
    let mut found: BTreeMap<Moment, BTreeSet<StationId>> = BTreeMap::new();
    let mut entries = record.entries.iter().peekable();
    for (from, until) in times {
        while let Some(entry) = entries.next_if(|e| e.at <= *from) {
            apply(&mut now, &entry.event);
        }
        let tanks = found.entry(*from).or_default();
        let needs = |now: &BTreeMap<StationId, Now>| -> Vec<StationId> {
            now.iter().filter(|(_, t)| t.needs()).map(|(id, _)| *id).collect()
        };
        tanks.extend(needs(&now));
        while let Some(entry) = entries.next_if(|e| e.at < *until) {
            apply(&mut now, &entry.event);
            tanks.extend(needs(&now));
        }
    }
    found
}

fn apply(now: &mut BTreeMap<StationId, Now>, event: &LogEntry) {
    match event {
        LogEntry::Bath { tank, sample } => {
            let heated = sample.heater != HeaterState::Off;
            let open = !sample.lid && sample.temperature > SCALDS;
            now.entry(*tank).or_default().open_or_heated = heated || open;
        }
        LogEntry::SetIn { load, station, .. } => {
            if let Some(tank) = now.get_mut(station) {
                tank.inside.push(*load);
            }
        }
        LogEntry::LiftBegins { load, .. } => {
            for tank in now.values_mut() {
                tank.inside.retain(|l| l != load);
            }
        }
        _ => {}
    }
}

/// Notes at the closings after which somebody stays by a tank.
pub(super) fn after_closing(shop: &Shop, record: &Record) -> Vec<Done> {
    let nights = shop
        .calendar
        .days
        .iter()
        .filter(|d| d.stays && d.close < Moment::NEVER);
    // What a timer lights later in the night is cautioned of where it does.
    let closings: Vec<(Moment, Moment)> = nights.map(|d| (d.close, d.close)).collect();
    let all = needing(shop, record, &closings);
    let notes = all
        .into_iter()
        .flat_map(|(at, tanks)| tanks.into_iter().map(move |tank| (at, tank)));
    notes
        .map(|(at, tank)| Done {
            station: Some(tank),
            ..Done::plain(at, Act::Note)
        })
        .collect()
}

/// The rows of breaks: whether somebody stays, and by which tanks.
pub(super) fn check_breaks(shop: &Shop, record: &Record, rows: &[Row], faults: &mut Faults) {
    let stays = shop
        .calendar
        .days
        .iter()
        .flat_map(|d| &d.breaks)
        .filter(|b| b.stays);
    let times: Vec<(Moment, Moment)> = stays.map(|b| (b.from, b.until)).collect();
    let all = needing(shop, record, &times);
    let none = BTreeSet::new();
    for row in rows.iter().filter(|r| r.acts == [Act::Break]) {
        let at = times.iter().find(|(at, _)| super::held::minute(*at) == row.at);
        let tanks = at.and_then(|(at, _)| all.get(at)).unwrap_or(&none);
        let said = row
            .cell("task")
            .split_once("somebody stays by the ")
            .map(|(_, said)| said);
        if said.is_some() == tanks.is_empty() {
            let what = if tanks.is_empty() {
                "nobody need stay"
            } else {
                "it does not say that somebody stays"
            };
            faults.of_row(row, what);
        }
        for name in tanks
            .iter()
            .filter_map(|t| shop.stations.get(t.index()))
            .map(|s| &s.name)
        {
            if said.is_some_and(|said| !said.contains(name.as_str())) {
                faults.of_row(row, &format!("somebody stays by the {name}, too"));
            }
        }
    }
}

/// The rows of breaks that nobody stays for: who must stay all the same, since a load is in a bath when they begin.
pub(super) fn check_forced(shop: &Shop, record: &Record, rows: &[Row], faults: &mut Faults) {
    for row in rows.iter().filter(|r| r.acts == [Act::Break]) {
        let mut breaks = shop.calendar.days.iter().flat_map(|d| &d.breaks);
        let Some(alone) = breaks.find(|b| super::held::minute(b.from) == row.at && !b.stays) else {
            continue;
        };
        let mut inside = BTreeSet::new();
        for entry in record.entries.iter().take_while(|e| e.at <= alone.from) {
            match entry.event {
                LogEntry::SetIn { load, station, .. }
                    if entry.at < alone.from && shop.tank(station).is_some() =>
                {
                    inside.insert(load);
                }
                LogEntry::LiftBegins { load, .. } => {
                    inside.remove(&load);
                }
                _ => {}
            }
        }
        let said = row.cell("task").matches("somebody must stay").count();
        if said != inside.len() {
            let text = format!(
                "loads in a bath when it begins: {}, and it says {said}",
                inside.len()
            );
            faults.of_row(row, &text);
        }
    }
}

/// A note at closing says that somebody stays, and until when.
pub(super) fn check_note(shop: &Shop, row: &Row, acts: &[&Done], faults: &mut Faults) {
    let Some(note) = acts.first().filter(|d| d.act == Act::Note && d.station.is_some()) else {
        return;
    };
    let task = row.cell("task");
    let closes = shop
        .calendar
        .days
        .iter()
        .position(|d| d.close == note.at && d.stays);
    let Some(day) = closes else { return };
    let opens = shop.calendar.days.get(day + 1).map(|d| d.open.clock());
    if !task.contains("somebody stays by the ") || opens.is_some_and(|opens| !task.contains(&opens)) {
        faults.of_row(row, "it does not say that somebody stays, and until when");
    }
}
