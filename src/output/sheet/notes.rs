//! Rows that no task of hands stands behind: heaters, breaks, orders that are ready.

use super::act::{Act, Doing};
use super::rows::Maker;
use super::{Row, RowKind};
use std::collections::BTreeMap;
use tankday_base::print::{capital, list, plural};
use tankday_base::shop::{Defect, LidKind, StationId};
use tankday_base::units::{Moment, Power, Span};
use tankday_record::{Entry, HeaterState, LoadNo, LogEntry, OrderFigure};

/// A heater that goes on or off.
#[derive(Debug, Clone, Copy)]
pub(super) struct Turn {
    pub(super) tank: StationId,
    pub(super) at: Moment,
    pub(super) on: bool,
    /// Whether the bath is in its band then.
    pub(super) in_band: bool,
    /// Whether a lid of its own lies on it then.
    covered: bool,
}

/// Whether a tank is left to itself from here on.
fn leaves(event: &LogEntry, id: StationId) -> bool {
    matches!(*event, LogEntry::Left { tank, .. } if tank == id)
}

impl Maker<'_> {
    /// Heaters that go on or off, those of one moment together.
    pub(super) fn heaters(&self) -> Vec<Row> {
        let turns = self.turns();
        let stop = |t: &&Turn| {
            let begins = |c: &super::cares::Cared| c.tank == t.tank && c.from == t.at;
            self.cares
                .iter()
                .any(|c| begins(c) && c.kind.is_stop() && !c.outside)
        };
        let mut together: BTreeMap<(Moment, bool, bool, bool), Vec<Turn>> = BTreeMap::new();
        let entries = &self.record.entries;
        let left = |t: &Turn| !t.on && entries.iter().any(|e| e.at == t.at && leaves(&e.event, t.tank));
        let told = |t: &&Turn| !t.on && (stop(t) || left(t));
        for turn in turns.iter().filter(|t| !told(t)) {
            let covered = !turn.on && turn.covered;
            together
                .entry((turn.at, turn.on, covered, self.cuts_off(turn.at, &[*turn])))
                .or_default()
                .push(*turn);
        }
        together
            .into_iter()
            .map(|((at, on, covered, _), these)| {
                let words = if on { "on" } else { self.off(at, &these, covered) };
                self.heater((at, on), words, &these, &turns)
            })
            .collect()
    }

    /// Tanks that nobody stays by in a break or after closing, those of one moment together.
    pub(super) fn left(&self) -> Vec<Row> {
        let mut together: BTreeMap<(Moment, Moment, bool), Vec<StationId>> = BTreeMap::new();
        for entry in &self.record.entries {
            if let LogEntry::Left { tank, until } = entry.event {
                let key = (entry.at, until, self.has_lid(tank));
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
                "Heater{s} off{lid}, nothing in the {}: {}",
                list(&names),
                self.alone(at, until)
            );
            Row {
                doings: names.iter().map(|name| Doing::at(Act::HeaterOff, name)).collect(),
                at_bath: true,
                ..Row::plain(at, RowKind::SheetTask, words, Doing::at(Act::HeaterOff, ""))
            }
        };
        together.into_iter().map(row).collect()
    }

    pub(super) fn has_lid(&self, tank: StationId) -> bool {
        let station = self.shop.stations.get(tank.index());
        let tank = station.and_then(|s| s.tank.as_ref());
        tank.is_some_and(|t| t.lid != LidKind::None)
    }

    /// Why nobody is there from a moment on: a break, or closing.
    fn alone(&self, at: Moment, until: Moment) -> String {
        if self.shop.calendar.days.iter().any(|d| d.close == at) {
            return match until {
                Moment::NEVER => "closed, and nobody comes".to_owned(),
                opens => format!("closed until {}", self.clock(opens, at)),
            };
        }
        format!("break {} to {}", at.clock(), until.clock())
    }

    /// Every change of a heater between off and on, in order of time.
    fn turns(&self) -> Vec<Turn> {
        let mut turns = Vec::new();
        let mut on: BTreeMap<StationId, bool> = BTreeMap::new();
        for entry in &self.record.entries {
            let LogEntry::Bath { tank, sample } = &entry.event else {
                continue;
            };
            let now = sample.heater != HeaterState::Off;
            if on.insert(*tank, now).unwrap_or(false) != now {
                let last = turns.iter().rposition(|t: &Turn| t.tank == *tank);
                let just_on = |i: &usize| turns.get(*i).is_some_and(|t| t.on && t.at == entry.at);
                if let Some(i) = last.filter(|i| !now && just_on(i)) {
                    // On for no time at all: nobody touches it.
                    turns.remove(i);
                    continue;
                }
                turns.push(Turn {
                    tank: *tank,
                    at: entry.at,
                    on: now,
                    in_band: self.least(*tank).is_some_and(|least| sample.temperature >= least),
                    covered: sample.lid && self.has_lid(*tank),
                });
            }
        }
        turns
    }

    /// What no load goes in below.
    pub(super) fn least(&self, tank: StationId) -> Option<tankday_base::units::Temperature> {
        let bath = self.shop.stations.get(tank.index())?.tank?.bath;
        Some(self.shop.baths.get(bath.index())?.band.least)
    }

    /// How heaters go off at a moment.
    fn off(&self, at: Moment, these: &[Turn], covered: bool) -> &'static str {
        // No lid goes on by itself.
        let cut = self.cuts_off(at, these);
        let covered = covered && (!cut || self.somebody_is_there(at));
        match (cut, covered, these.len()) {
            (true, true, 1) => "switches itself off; lid on: too low, top up before it is heated again",
            (true, true, _) => "switch themselves off; lids on: too low, top up before they are heated again",
            (true, _, 1) => "switches itself off: too low, top up before it is heated again",
            (true, ..) => "switch themselves off: too low, top up before they are heated again",
            (_, true, 1) => "off, lid on",
            (_, true, _) => "off, lids on",
            _ => "off",
        }
    }

    /// Whether one of these heaters switches itself off just then.
    fn cuts_off(&self, at: Moment, these: &[Turn]) -> bool {
        let cut = |e: &Entry| match e.event {
            LogEntry::CutOff { tank } => e.at == at && these.iter().any(|t| t.tank == tank),
            _ => false,
        };
        self.record.entries.iter().any(cut)
    }

    fn heater(&self, (at, on): (Moment, bool), words: &str, these: &[Turn], turns: &[Turn]) -> Row {
        let tanks: Vec<StationId> = these.iter().map(|t| t.tank).collect();
        let names: Vec<String> = tanks.iter().map(|t| self.station(*t)).collect();
        let which = match names.as_slice() {
            [one] => format!("{}: heater", capital(one)),
            [_, _] if self.shop.tanks().count() == 2 => "Both heaters".to_owned(),
            all if all.len() == self.shop.tanks().count() => "All heaters".to_owned(),
            all => format!("{}: heaters", capital(&list(all))),
        };
        let mut words = format!("{which} {words}");
        if on {
            if self.take_turns(&tanks) {
                words.push_str(", by turns: the supply does not bear them together");
            }
            words.push_str(&self.when_hot(these, turns));
        }
        let cautions = if on {
            self.of_heaters(&tanks, at)
        } else {
            Vec::new()
        };
        let act = if on { Act::HeaterOn } else { Act::HeaterOff };
        // What switches itself off with nobody there is no task.
        let told = !on && self.cuts_off(at, these) && !self.somebody_is_there(at);
        let kind = if told { RowKind::Note } else { RowKind::SheetTask };
        Row {
            doings: names.iter().map(|name| Doing::at(act, name)).collect(),
            at_bath: !told,
            cautions,
            ..Row::plain(at, kind, words, Doing::at(act, ""))
        }
    }

    /// Whether heaters that go on together are stronger than the supply they share.
    fn take_turns(&self, tanks: &[StationId]) -> bool {
        let heater = |id: &StationId| Some(self.shop.stations.get(id.index())?.tank?.heater.power);
        let together: Power = tanks.iter().filter_map(heater).sum();
        tanks.len() > 1 && self.shop.supply.is_some_and(|supply| together > supply)
    }

    /// Orders that are ready; those of one moment stand in one row.
    pub(super) fn ready(&self) -> Vec<Row> {
        let mut together: BTreeMap<(Moment, bool), Vec<&OrderFigure>> = BTreeMap::new();
        for order in &self.figures.orders {
            if let Some(ready) = order.ready {
                let late = !order.in_time();
                together.entry((ready, late)).or_default().push(order);
            }
        }
        let row = |((at, late), orders): ((Moment, bool), Vec<&OrderFigure>)| {
            let kind = if late { RowKind::ReadyLate } else { RowKind::Ready };
            let said: Vec<String> = orders.iter().map(|o| self.is_ready(o, at, late)).collect();
            Row {
                doings: orders.iter().map(|o| self.order(o)).collect(),
                latest: orders.iter().filter_map(|o| o.due).min(),
                ..Row::plain(at, kind, said.join("; "), Doing::at(Act::Ready, ""))
            }
        };
        together.into_iter().map(row).collect()
    }

    fn is_ready(&self, order: &OrderFigure, at: Moment, late: bool) -> String {
        let due = order
            .due
            .map_or(String::new(), |due| format!(", due {}", self.clock(due, at)));
        let late = if late { ", LATE" } else { "" };
        let bare = if order.bare > Span::ZERO {
            ", LAY BARE TOO LONG"
        } else {
            ""
        };
        let uncoated = if order.uncoated { ", NO COAT" } else { "" };
        format!("{} ready{due}{late}{bare}{uncoated}", order.id)
    }

    fn order(&self, order: &OrderFigure) -> Doing {
        let part = self.shop.parts.get(order.part.index());
        Doing {
            load: order.id.clone(),
            part: part.map_or(String::new(), |p| plural(&p.name)),
            pieces: order.pieces,
            ..Doing::at(Act::Ready, "")
        }
    }

    /// Breaks up to the last act of hands.
    pub(super) fn breaks(&self, last: Moment) -> Vec<Row> {
        let breaks = self.shop.calendar.days.iter().flat_map(|d| d.breaks.iter());
        breaks
            .filter(|b| {
                let needed = || {
                    self.stays_in_break(b.from).is_some()
                        || !self.alone_in_break(b.from).is_empty()
                        || !self.must_stay_in_break(b.from).is_empty()
                };
                b.from <= last || needed()
            })
            .map(|b| self.pause(b.from, b.until))
            .collect()
    }

    fn pause(&self, from: Moment, to: Moment) -> Row {
        let mut words = format!("Break to {}", self.clock(to, from));
        let out =
            |l: &tankday_record::TankLoad| Some((l.load, l.out.filter(|out| *out >= from && *out < to)?));
        for (load, out) in self.figures.loads.iter().filter_map(out) {
            words.push_str(&format!(
                "; {} must come out at {}",
                self.labels.at(load, out),
                self.clock(out, from)
            ));
        }
        if let Some(stays) = self.stays_in_break(from) {
            words.push_str(&format!("; {stays}"));
        }
        let must = self.must_stay_in_break(from);
        for more in must.iter().chain(&self.alone_in_break(from)) {
            words.push_str(&format!("; {more}"));
        }
        let doing = Doing::at(Act::Break, "").lasting(Some(to - from));
        Row {
            calls: self.stays_in_break(from).is_some() || !must.is_empty(),
            ..Row::plain(from, RowKind::Break, words, doing)
        }
    }

    /// What inspection found on a load at a moment.
    fn found(&self, load: LoadNo, at: Moment) -> Option<Defect> {
        let here = self.record.entries.iter().filter(|e| e.at == at);
        here.filter_map(|e| match e.event {
            LogEntry::Found { load: l, defect, .. } if l == load => Some(defect),
            _ => None,
        })
        .next_back()
    }

    pub(super) fn sent_back(&self) -> Vec<Row> {
        let row = |entry: &Entry| match entry.event {
            LogEntry::Fails { load, back_to, .. } => {
                let name = self
                    .shop
                    .find_step(back_to)
                    .map_or("the beginning", |s| s.name.as_str());
                let label = self.labels.at(load, entry.at).to_owned();
                let found = self
                    .found(load, entry.at)
                    .map_or(String::new(), |d| format!(", {}", d.words()));
                let words = format!("{label} fails inspection{found}: back to {name}");
                let doing = Doing {
                    load: label,
                    ..Doing::at(Act::Note, "")
                };
                Some(Row::plain(entry.at, RowKind::Note, words, doing))
            }
            _ => None,
        };
        self.record.entries.iter().filter_map(row).collect()
    }
}
