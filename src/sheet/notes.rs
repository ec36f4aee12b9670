//! Rows that no task of hands stands behind: heaters, breaks, orders that are ready.

use super::caution::StepCaution;
use super::rows::Maker;
use super::tasks::step;
use super::{Row, RowKind};
use crate::print::{capital, list, plural};
use crate::record::{Event, HeaterState, LoadNo};
use crate::shop::{Defect, LidKind, StationId};
use crate::units::{Moment, Power};
use std::collections::BTreeMap;

/// Whether a tank is left to itself in a break from here on.
fn leaves(event: &Event, id: StationId) -> bool {
    matches!(*event, Event::Left { tank, .. } if tank == id)
}

impl Maker<'_> {
    /// A row that no hands task stands behind.
    fn note(&self, at: Moment, kind: RowKind, words: String) -> Row {
        Row {
            at,
            kind,
            deed: words,
            load: String::new(),
            part: String::new(),
            pieces: 0,
            station: String::new(),
            takes: None,
            latest: None,
            cautions: Vec::new(),
            at_bath: false,
            to_note: Vec::new(),
        }
    }

    /// Heaters that go on or off, those of one moment together.
    pub(super) fn heaters(&self) -> Vec<Row> {
        let mut turns: BTreeMap<(Moment, bool), Vec<StationId>> = BTreeMap::new();
        let mut on: BTreeMap<StationId, bool> = BTreeMap::new();
        for entry in &self.record.entries {
            if let Event::Bath { tank, sample } = &entry.event {
                let now = sample.heater != HeaterState::Off;
                let stop = |c: &super::cares::Cared| {
                    c.tank == *tank && c.from == entry.at && c.kind.is_stop() && !c.outside
                };
                let left = || {
                    self.record
                        .entries
                        .iter()
                        .any(|e| e.at == entry.at && leaves(&e.event, *tank))
                };
                if on.insert(*tank, now).unwrap_or(false) != now
                    && !self.cares.iter().any(stop)
                    && (now || !left())
                {
                    turns.entry((entry.at, now)).or_default().push(*tank);
                }
            }
        }
        turns
            .into_iter()
            .map(|((at, on), tanks)| self.heater(at, on, &tanks))
            .collect()
    }

    /// Tanks that nobody stays by in a break, those of one moment together.
    pub(super) fn left(&self) -> Vec<Row> {
        let mut together: BTreeMap<(Moment, Moment, bool), Vec<StationId>> = BTreeMap::new();
        for entry in &self.record.entries {
            if let Event::Left { tank, until } = entry.event {
                let station = self.shop.stations.get(tank.index());
                let lid = station
                    .and_then(|s| s.tank.as_ref())
                    .map(|t| t.lid != LidKind::None);
                let key = (entry.at, until, lid.unwrap_or(false));
                together.entry(key).or_default().push(tank);
            }
        }
        let row = |((at, until, lid), tanks): ((Moment, Moment, bool), Vec<StationId>)| {
            let names: Vec<String> = tanks.iter().map(|t| self.station(*t)).collect();
            let s = if names.len() > 1 { "s" } else { "" };
            let lid = if lid {
                format!(", lid{s} on")
            } else {
                String::new()
            };
            let words = format!(
                "Heater{s} off{lid}, nothing in the {}: break {} to {}",
                list(&names),
                at.clock(),
                until.clock()
            );
            Row {
                station: list(&names),
                at_bath: true,
                ..self.note(at, RowKind::Deed, words)
            }
        };
        together.into_iter().map(row).collect()
    }

    fn heater(&self, at: Moment, on: bool, tanks: &[StationId]) -> Row {
        let names: Vec<String> = tanks.iter().map(|t| self.station(*t)).collect();
        let which = match tanks {
            [_] => format!("{}: heater", capital(&names.join(""))),
            [_, _] => "Both heaters".to_owned(),
            _ => "All heaters".to_owned(),
        };
        let low = |e: &crate::record::Entry| {
            e.at == at && matches!(e.event, Event::CutOff { tank } if tanks.contains(&tank))
        };
        let off = if self.record.entries.iter().any(low) {
            "switches itself off: too low, top up before it is heated again"
        } else {
            "off"
        };
        let mut words = format!("{which} {}", if on { "on" } else { off });
        if on && self.take_turns(tanks) {
            words.push_str(", by turns: the supply does not bear them together");
        }
        if on {
            let several = tanks.len() > 1;
            let bands: Vec<String> = tanks
                .iter()
                .filter_map(|t| self.in_band_after(*t, at, several))
                .collect();
            if !bands.is_empty() {
                words.push_str(&format!("; hot enough about {}", bands.join(", ")));
            }
        }
        let open = self
            .shop
            .calendar
            .days
            .iter()
            .any(|d| d.open <= at && at < d.close);
        let caution = if open {
            StepCaution::HeaterOn
        } else {
            StepCaution::HeaterOnAlone
        };
        Row {
            station: list(&names),
            at_bath: true,
            cautions: on.then_some(caution).into_iter().collect(),
            ..self.note(at, RowKind::Deed, words)
        }
    }

    /// Whether heaters that go on together are stronger than the supply they share.
    fn take_turns(&self, tanks: &[StationId]) -> bool {
        let heater = |id: &StationId| Some(self.shop.stations.get(id.index())?.tank?.heater.power);
        let together: Power = tanks.iter().filter_map(heater).sum();
        tanks.len() > 1 && self.shop.supply.is_some_and(|supply| together > supply)
    }

    /// When a tank comes into its band after a moment, with its name where there are several.
    fn in_band_after(&self, tank: StationId, at: Moment, several: bool) -> Option<String> {
        let reached = |e: &&crate::record::Entry| e.at >= at && e.event == Event::InBand { tank };
        let clock = self.record.entries.iter().find(reached)?.at.clock();
        Some(if several {
            format!("{clock} ({})", self.station(tank))
        } else {
            clock
        })
    }

    pub(super) fn ready(&self) -> Vec<Row> {
        let row = |order: &crate::record::OrderFigure| {
            let ready = order.ready?;
            let late = !order.on_time();
            let promised = order.due.map_or(String::new(), |due| {
                let day = if due.day_and_time().0 == ready.day_and_time().0 {
                    String::new()
                } else {
                    format!("{} ", self.shop.calendar.date(due).strftime("%-d %B"))
                };
                format!(
                    ", promised {day}{}{}",
                    due.clock(),
                    if late { " LATE" } else { "" }
                )
            });
            let part = self
                .shop
                .parts
                .get(order.part.index())
                .map_or("", |p| p.name.as_str());
            Some(Row {
                load: order.id.clone(),
                part: plural(part),
                pieces: order.pieces,
                latest: order.due,
                ..self.note(
                    ready,
                    if late { RowKind::ReadyLate } else { RowKind::Ready },
                    format!("{} ready{promised}", order.id),
                )
            })
        };
        self.figures.orders.iter().filter_map(row).collect()
    }

    pub(super) fn breaks(&self) -> Vec<Row> {
        let last = self.figures.finish.unwrap_or(Moment::ZERO);
        let breaks = self.shop.calendar.days.iter().flat_map(|d| d.breaks.iter());
        breaks
            .filter(|b| b.from <= last)
            .map(|b| self.pause(b.from, b.until))
            .collect()
    }

    fn pause(&self, from: Moment, to: Moment) -> Row {
        let mut words = format!("Break to {}", to.clock());
        for load in self
            .figures
            .loads
            .iter()
            .filter(|l| l.out.is_some_and(|out| out >= from && out < to))
        {
            if let Some(out) = load.out {
                words.push_str(&format!(
                    "; {} must come out at {}",
                    self.labels.load(load.load),
                    out.clock()
                ));
            }
        }
        Row {
            takes: Some(to - from),
            ..self.note(from, RowKind::Break, words)
        }
    }

    /// What inspection found on a load at a moment.
    fn found(&self, load: LoadNo, at: Moment) -> Option<Defect> {
        let here = self.record.entries.iter().filter(|e| e.at == at);
        here.filter_map(|e| match e.event {
            Event::Found { load: l, defect, .. } if l == load => Some(defect),
            _ => None,
        })
        .next_back()
    }

    pub(super) fn sent_back(&self) -> Vec<Row> {
        let row = |entry: &crate::record::Entry| match entry.event {
            Event::Fails { load, back_to, .. } => {
                let name = step(self.shop, back_to).map_or("the beginning", |s| s.name.as_str());
                let label = self.labels.at(load, entry.at).to_owned();
                let found = self
                    .found(load, entry.at)
                    .map_or(String::new(), |d| format!(", {}", d.words()));
                let words = format!("{label} fails inspection{found}: back to {name}");
                Some(Row {
                    load: label,
                    ..self.note(entry.at, RowKind::Note, words)
                })
            }
            _ => None,
        };
        self.record.entries.iter().filter_map(row).collect()
    }
}
