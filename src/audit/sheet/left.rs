//! Where nobody is by what is hot, the sheet says so: at closing by a tank whose heater stays on, in a break by one with its
//! wool in, or by an oven with work in it.

use super::Faults;
use super::acts::Done;
use super::held::{Held, minute};
use super::table::{Act, Row};
use std::collections::BTreeMap;
use tankday_base::shop::{Shop, StationId, StepKind, StepRef};
use tankday_base::units::{Moment, Span, Temperature};
use tankday_record::{LoadNo, LogEntry, Record};

/// So long after closing hands still see to what cannot wait.
const STAY: Span = Span::whole_minutes(240);
/// An oven may be left for a break of this length; common practice, no source.
const BREAK: Span = Span::whole_minutes(45);
/// About where skin is burnt within seconds; common practice, no source.
const SCALDS: Temperature = Temperature::celsius(60.0);

/// Whether somebody is there at a moment: the shop is open and has no break, or somebody stays.
pub(super) fn somebody_is_there(shop: &Shop, at: Moment) -> bool {
    let days = &shop.calendar.days;
    match days.iter().find(|d| d.open <= at && at < d.close) {
        Some(day) => {
            let mut breaks = day.breaks.iter();
            !breaks.any(|b| b.from <= at && at < b.until && !b.stays)
        }
        None => days.iter().rev().find(|d| d.close <= at).is_some_and(|d| d.stays),
    }
}

fn left_alone(record: &Record) -> impl Iterator<Item = (Moment, StationId)> {
    record.entries.iter().filter_map(|e| match e.event {
        LogEntry::LeftAlone { tank, .. } => Some((e.at, tank)),
        _ => None,
    })
}

/// Notes of tanks that stay hot when the shop closes. Where hands are still at work then, their heater may be off before they go.
pub(super) fn alone_at_closing(shop: &Shop, record: &Record) -> Vec<Done> {
    let closes = |at: Moment| shop.calendar.days.iter().any(|d| d.close == at);
    let late = |close: Moment| {
        record.entries.iter().any(|e| {
            let free = matches!(e.event, LogEntry::HandsFree { .. });
            free && close < e.at && e.at <= close + STAY
        })
    };
    let note = |(at, tank)| Done {
        station: Some(tank),
        optional: late(at),
        ..Done::plain(at, Act::Note)
    };
    left_alone(record)
        .filter(|(at, _)| closes(*at))
        .map(note)
        .collect()
}

/// A note of a tank that is left alone says that it is hot, and that nobody is there or comes.
pub(super) fn check_note(shop: &Shop, record: &Record, (row, acts): (&Row, &[&Done]), faults: &mut Faults) {
    let closes = |at: Moment| shop.calendar.days.iter().any(|d| d.close == at && !d.stays);
    let Some(note) = acts.first().filter(|d| d.act == Act::Note && closes(d.at)) else {
        return;
    };
    let alone = left_alone(record).any(|left| Some(left.1) == note.station && left.0 == note.at);
    if alone && !(row.cell("task").contains("stays hot") && row.cell("task").contains("nobody")) {
        faults.of_row(row, "it does not say that it stays hot, and that nobody is there");
    }
}

/// What breaks say of what is left alone in them.
pub(super) fn check_breaks(held: &Held<'_>, record: &Record, rows: &[Row], faults: &mut Faults) {
    for row in rows.iter().filter(|r| r.acts == [Act::Break]) {
        let mut breaks = held.shop.calendar.days.iter().flat_map(|d| &d.breaks);
        let Some(pause) = breaks.find(|b| minute(b.from) == row.at) else {
            continue;
        };
        let name = |id: StationId| {
            let station = held.shop.stations.get(id.index());
            station.map_or(String::new(), |s| s.name.clone())
        };
        let tanks = left_alone(record).filter(|(at, _)| *at == pause.from);
        let mut should: Vec<String> = tanks
            .map(|(_, tank)| format!("{} stays hot, nobody there", name(tank)))
            .collect();
        if !pause.stays && pause.until - pause.from <= BREAK {
            let ovens = ovens_at(held.shop, record, pause.from);
            should.extend(ovens.into_iter().map(|(load, oven)| {
                let label = held.names.load(load, pause.from);
                format!("{} on with {label} in it, nobody there", name(oven))
            }));
        }
        for words in should.iter().filter(|w| !row.cell("task").contains(w.as_str())) {
            faults.of_row(row, &format!("it does not say: {words}"));
        }
        if should.is_empty() && pause.until - pause.from <= BREAK && row.cell("task").contains("nobody there")
        {
            faults.of_row(row, "nothing hot is left alone then");
        }
    }
}

/// Loads that are in ovens at a moment, and go on after it.
fn ovens_at(shop: &Shop, record: &Record, now: Moment) -> Vec<(LoadNo, StationId)> {
    let mut inside: BTreeMap<LoadNo, (StepRef, StationId)> = BTreeMap::new();
    for entry in record.entries.iter().take_while(|e| e.at <= now) {
        match entry.event {
            LogEntry::WorkBegins {
                load, step, station, ..
            } if is_oven(shop, step) => {
                inside.insert(load, (step, station));
            }
            LogEntry::WorkEnds { load, .. }
                if inside.get(&load).is_some_and(|(at, _)| by_timer(shop, *at)) =>
            {
                inside.remove(&load);
            }
            LogEntry::LiftBegins { load, .. } => {
                inside.remove(&load);
            }
            _ => {}
        }
    }
    inside.into_iter().map(|(load, (_, oven))| (load, oven)).collect()
}

fn is_oven(shop: &Shop, at: StepRef) -> bool {
    let route = shop.routes.get(at.route.index());
    let step = route.and_then(|r| r.steps.get(at.step.index()));
    step.is_some_and(|s| {
        let heated = s.relief.and_then(|r| r.heat).is_some_and(|heat| heat > SCALDS);
        heated || matches!(s.kind, StepKind::DryByOven | StepKind::Preheat)
    })
}

/// Whether its heat goes off by a timer when the step is over.
fn by_timer(shop: &Shop, at: StepRef) -> bool {
    let route = shop.routes.get(at.route.index());
    let step = route.and_then(|r| r.steps.get(at.step.index()));
    step.is_some_and(|s| s.overnight || s.kind == StepKind::Relieve)
}
