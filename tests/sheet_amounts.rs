//! Of a day sheet: heaters, orders that are ready, and amounts, held against the record.

use crate::sheet_read::{Day, Row, stamp};
use std::collections::BTreeMap;
use tankday::record::{HeaterState, LogEntry, Task, TaskKind};
use tankday::shop::StationId;
use tankday::units::Moment;

/// Every change of a heater has its row at its time, and what it says of getting hot is of that heating-up.
pub(crate) fn holds_heaters(day: &Day) -> usize {
    let mut changes: Vec<(Moment, StationId, bool)> = Vec::new();
    let mut on: BTreeMap<StationId, bool> = BTreeMap::new();
    for entry in &day.record.entries {
        if let LogEntry::Bath { tank, sample } = &entry.event {
            let now = sample.heater != HeaterState::Off;
            if on.insert(*tank, now).unwrap_or(false) != now {
                changes.push((entry.at, *tank, now));
            }
        }
    }
    let mut seen = 0;
    for row in &day.rows {
        let acts = row.acts();
        for (act, station) in acts.iter().zip(row.each("station", acts.len())) {
            let Some(goes_on) = act.strip_prefix("heater ").map(|w| w == "on") else {
                continue;
            };
            let own = |c: &&(Moment, StationId, bool)| {
                day.shop.stations[c.1.index()].name == station && stamp(&day.shop, c.0) == row.when()
            };
            let Some(change) = changes.iter().find(own) else {
                // Where a bath is left in a break, what is off already and only covered is said, too.
                let left = |e: &tankday::record::Entry| matches!(e.event, LogEntry::Left { tank, .. } if day.shop.stations[tank.index()].name == station);
                let at = |e: &&tankday::record::Entry| stamp(&day.shop, e.at) == row.when();
                assert!(
                    !goes_on && day.record.entries.iter().filter(at).any(left),
                    "{row:?}"
                );
                continue;
            };
            assert_eq!(change.2, goes_on, "{row:?}");
            seen += 1;
            if goes_on {
                holds_hot(day, row, &station, change, &changes);
            }
        }
    }
    assert_eq!(seen, changes.len(), "changes of heaters that stand in no row");
    seen
}

fn holds_hot(
    day: &Day,
    row: &Row,
    name: &str,
    change: &(Moment, StationId, bool),
    all: &[(Moment, StationId, bool)],
) {
    let off = all.iter().find(|c| c.1 == change.1 && !c.2 && c.0 > change.0);
    let clock = |at: Moment| stamp(&day.shop, at).1;
    let words = match (usable(day, change, off.map(|o| o.0)), off) {
        (Some(since), _) if since <= change.0 => format!("{name} hot enough already"),
        (Some(since), _) => format!("{name} hot enough about {}", clock(since)),
        (None, Some(off)) if takes_wool(day, change, off.0) => format!("{name} warm enough for the wool "),
        (None, Some(off)) => format!("{name} not hot enough before it goes off at {}", clock(off.0)),
        (None, None) => format!("{name} does not get hot enough"),
    };
    assert!(
        row.get("task").contains(&words),
        "`{words}` is missing in {row:?}"
    );
}

/// Whether steel wool goes into a bath before its heater goes off.
fn takes_wool(day: &Day, change: &(Moment, StationId, bool), off: Moment) -> bool {
    day.record.entries.iter().any(|e| {
        let wool = |t: &Task| t.kind == TaskKind::PutWoolIn && t.station == change.1;
        let put_in = matches!(&e.event, LogEntry::HandsTake { task, .. } if wool(task));
        put_in && change.0 <= e.at && e.at < off
    })
}

/// From when on a bath is in its band for the next load that goes in before the heater goes off; where none does, when it gets
/// there.
fn usable(day: &Day, change: &(Moment, StationId, bool), off: Option<Moment>) -> Option<Moment> {
    let entries = || {
        let later = day.record.entries.iter().filter(|e| e.at >= change.0);
        later.take_while(|e| off.is_none_or(|off| e.at <= off))
    };
    let goes_in = |e: &&tankday::record::Entry| matches!(e.event, LogEntry::SetIn { station, .. } if station == change.1);
    let Some(into) = entries().find(goes_in).map(|e| e.at) else {
        let reached = |e: &&tankday::record::Entry| e.event == LogEntry::InBand { tank: change.1 };
        return entries().find(reached).map(|e| e.at);
    };
    let tank = day.shop.tank(change.1).unwrap();
    let least = day.shop.baths[tank.bath.index()].band.least.in_celsius() - 1e-3;
    let looks: Vec<(Moment, f64)> = entries()
        .take_while(|e| e.at <= into)
        .filter_map(|e| match &e.event {
            LogEntry::Bath { tank, sample } if *tank == change.1 => {
                Some((e.at, sample.temperature.in_celsius()))
            }
            _ => None,
        })
        .collect();
    let cold = looks.iter().rposition(|(_, t)| *t < least);
    looks.get(cold.map_or(0, |i| i + 1)).map(|(at, _)| *at)
}

/// Orders that are ready, at the moment that the record has, with their pieces.
pub(crate) fn holds_ready(day: &Day) -> usize {
    let mut orders = BTreeMap::new();
    let mut seen = 0;
    for entry in &day.record.entries {
        match entry.event {
            LogEntry::OrderArrives {
                order,
                source,
                pieces,
                ..
            } => {
                orders.insert(order, (day.shop.orders[source.index()].id.clone(), pieces));
            }
            LogEntry::OrderReady { order } => {
                let (id, pieces) = &orders[&order];
                let row = day.rows.iter().find(|r| {
                    let acts = r.acts();
                    let here = r
                        .each("load", acts.len())
                        .into_iter()
                        .zip(r.each("pieces", acts.len()));
                    acts.contains(&"ready") && here.into_iter().any(|h| h == (id.clone(), pieces.to_string()))
                });
                assert_eq!(row.unwrap().when(), stamp(&day.shop, entry.at), "{id}");
                seen += 1;
            }
            _ => {}
        }
    }
    let said: usize = day
        .rows
        .iter()
        .flat_map(Row::acts)
        .filter(|a| *a == "ready")
        .count();
    assert_eq!(said, seen);
    seen
}

/// Amounts of what goes into baths, against what the record says was used; in the column and in the words.
pub(crate) fn holds_amounts(day: &Day) -> usize {
    let mut wanted: Vec<(StationId, Moment, String)> = Vec::new();
    for entry in &day.record.entries {
        match &entry.event {
            LogEntry::ToppedUp { tank, volume } => {
                wanted.push((*tank, entry.at, format!("{:.1} L", volume.in_litres())));
            }
            LogEntry::CareEnds { tank, used, .. } if used.chemical.in_grams() > 0.0 => {
                let grams = used.chemical.in_grams();
                // Wool as it is; acid from a bottle with 75 % of it by mass and 1.575 kg/L.
                let wool = format!("{grams:.1} g").replace(".0 g", " g");
                let acid = format!("{:.0} mL", grams / 0.75 / 1.575);
                let is_wool = used.hydrogen.in_litres() > 0.0;
                wanted.push((*tank, entry.at, if is_wool { wool } else { acid }));
            }
            _ => {}
        }
    }
    let rows: Vec<&Row> = day.rows.iter().filter(|r| !r.get("amount").is_empty()).collect();
    assert_eq!(rows.len(), wanted.len(), "{wanted:?}");
    for (tank, at, words) in &wanted {
        let name = &day.shop.stations[tank.index()].name;
        let own = |r: &&&Row| {
            r.get("station") == name
                && r.when() <= stamp(&day.shop, *at)
                && format!("{} {}", r.get("amount"), r.get("unit")) == *words
        };
        let row = rows
            .iter()
            .find(own)
            .unwrap_or_else(|| panic!("no row for {words} into the {name}"));
        assert!(row.get("task").contains(words.as_str()), "{row:?}");
    }
    wanted.len()
}
