//! What the trace looks up: who did what until when, arranged by where and when it ended.

use crate::analysis::{Analysis, Handled, TankLog};
use crate::event::{HeaterState, LoadNo, LogEntry};
use crate::tank_state::{TankState, TankStretch};
use crate::visit::Trajectory;
use std::collections::BTreeMap;
use tankday_base::shop::{Shop, StationId};
use tankday_base::units::Moment;

/// What the trace follows along a record while it is read.
#[derive(Debug, Clone, Default)]
pub(crate) struct Marks {
    /// Station, moment, load that left it.
    freed: Vec<(StationId, Moment, LoadNo)>,
    /// Tanks that came into their band: when, and since when the heater was on if it was the first time since then.
    heated: Vec<(StationId, Moment, Option<Moment>)>,
    /// Care of tanks: which, from, to.
    cares: Vec<(StationId, Moment, Moment)>,
    /// Joins: moment, holder, the load that came.
    joins: Vec<(Moment, LoadNo, LoadNo)>,
    heater_on: BTreeMap<StationId, Option<Moment>>,
}

impl Marks {
    pub(crate) fn note(&mut self, at: Moment, event: &LogEntry) {
        match *event {
            LogEntry::PlaceFree { load, station } => self.freed.push((station, at, load)),
            LogEntry::CareBegins { tank, .. } => self.cares.push((tank, at, Moment::NEVER)),
            LogEntry::CareEnds { tank, .. } => {
                if let Some(open) = self.cares.iter_mut().rev().find(|c| c.0 == tank) {
                    open.2 = at;
                }
            }
            LogEntry::Joins { load, into } => self.joins.push((at, into, load)),
            LogEntry::Bath { tank, ref sample } => match sample.heater {
                HeaterState::Off => {
                    self.heater_on.remove(&tank);
                }
                _ => {
                    self.heater_on.entry(tank).or_insert(Some(at));
                }
            },
            LogEntry::InBand { tank } => {
                let on = self.heater_on.get_mut(&tank).and_then(Option::take);
                self.heated.push((tank, at, on));
            }
            _ => {}
        }
    }
}

/// The record, arranged.
pub(super) struct Facts<'a> {
    pub(super) shop: &'a Shop,
    read: &'a Analysis<'a>,
    marks: &'a Marks,
    /// Breaks and closed hours: from, to, whether a break.
    pub(super) rests: Vec<(Moment, Moment, bool)>,
}

impl<'a> Facts<'a> {
    pub(super) fn of(read: &'a Analysis<'a>) -> Self {
        Self {
            shop: read.shop,
            read,
            marks: &read.marks,
            rests: rests(read.shop),
        }
    }

    /// Tasks that are done, in order of their ends.
    pub(super) fn tasks(&self) -> impl DoubleEndedIterator<Item = &'a Handled> {
        self.read.tasks.iter().filter(|task| task.done)
    }

    /// Station, moment, load that left it.
    pub(super) fn freed(&self) -> &'a [(StationId, Moment, LoadNo)] {
        &self.marks.freed
    }

    /// Care of tanks: which, from, to.
    pub(super) fn cares(&self) -> &'a [(StationId, Moment, Moment)] {
        &self.marks.cares
    }

    /// What a tank did.
    pub(super) fn states(&self, tank: StationId) -> Option<&'a [TankStretch]> {
        self.read.tank(tank).map(TankLog::states)
    }

    /// The load that holds a load now: itself, or what it joined before this moment.
    pub(super) fn way(&self, load: LoadNo) -> Option<&Trajectory> {
        self.read.ways.get(&load)
    }

    /// The task that took this load up at this moment.
    pub(super) fn task_begun(&self, load: LoadNo, at: Moment) -> Option<Handled> {
        let begun = |d: &&Handled| d.from == at && d.task.load.is_some_and(|(l, _)| l == load);
        self.tasks().find(begun).copied()
    }

    /// The task that this pair of hands ended at this moment and that took some time.
    pub(super) fn task_ended(&self, hand: u32, at: Moment) -> Option<Handled> {
        let ended = |d: &&Handled| d.hand == hand && d.to == at && d.from < at;
        self.tasks().rev().find(ended).copied()
    }

    /// The load that left a place of a station at this moment.
    pub(super) fn left(&self, station: StationId, at: Moment, not: LoadNo) -> Option<LoadNo> {
        let left = |(s, t, load): &&(StationId, Moment, LoadNo)| *s == station && *t == at && *load != not;
        self.marks.freed.iter().find(left).map(|(.., load)| *load)
    }

    /// Whether the bath reached its band at this moment, and since when the heater was on if for the first time.
    pub(super) fn heat_ended(&self, tank: StationId, at: Moment) -> Option<Option<Moment>> {
        self.marks
            .heated
            .iter()
            .find(|(t, end, _)| *t == tank && *end == at)
            .map(|(.., on)| *on)
    }

    /// When a place of a station was last freed before a moment.
    pub(super) fn last_freed(&self, station: StationId, before: Moment) -> Option<Moment> {
        let freed = self
            .marks
            .freed
            .iter()
            .filter(|(s, at, _)| *s == station && *at < before);
        freed.map(|(_, at, _)| *at).max()
    }

    /// A break or a closed stretch that ended at this moment.
    pub(super) fn rest_ended(&self, at: Moment) -> Option<(Moment, bool)> {
        self.rests
            .iter()
            .find(|(_, to, _)| *to == at)
            .map(|(from, _, pause)| (*from, *pause))
    }

    /// The break or closed stretch in which this moment lies, its beginning left out.
    pub(super) fn resting(&self, at: Moment) -> Option<(Moment, bool)> {
        let within = |(from, to, _): &&(Moment, Moment, bool)| *from < at && at <= *to;
        self.rests
            .iter()
            .find(within)
            .map(|(from, _, pause)| (*from, *pause))
    }

    /// What a tank was doing just before a moment, and since when.
    pub(super) fn tank_before(&self, tank: StationId, at: Moment) -> Option<(TankState, Moment)> {
        let stretches = self.states(tank)?;
        let stretch = stretches.iter().rev().find(|s| s.from < at && at <= s.to)?;
        Some((stretch.state, stretch.from))
    }

    /// A load that joined this one at this moment, or stood ready at it, and had not been waiting before.
    pub(super) fn company_came(&self, load: LoadNo, at: Moment) -> bool {
        let fresh = |other: LoadNo| {
            self.way(other)
                .is_some_and(|w| w.made == at || w.visits.last().is_some_and(|v| v.done == Some(at)))
        };
        self.marks
            .joins
            .iter()
            .any(|(t, into, other)| *t == at && *into == load && fresh(*other))
    }
}

/// Breaks and the hours between closing and the next opening, in order.
fn rests(shop: &Shop) -> Vec<(Moment, Moment, bool)> {
    let mut rests = Vec::new();
    let days = &shop.calendar.days;
    for (i, day) in days.iter().enumerate() {
        rests.extend(day.breaks.iter().map(|b| (b.from, b.until, true)));
        if let Some(next) = days.get(i + 1) {
            rests.push((day.close, next.open, false));
        }
    }
    rests
}
