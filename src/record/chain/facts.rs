//! What the trace looks up: who did what until when, arranged by where and when it ended.

use crate::event::{HeaterState, LoadNo, LogEntry, Task};
use crate::tank_state::{TankState, TankStretch, tank_states};
use crate::visit::{Trajectory, ways};
use crate::watch::Record;
use std::collections::BTreeMap;
use tankday_base::shop::{Shop, StationId};
use tankday_base::units::Moment;

/// A task of hands from beginning to end.
#[derive(Debug, Clone, Copy)]
pub(super) struct Done {
    pub(super) hand: u32,
    pub(super) from: Moment,
    pub(super) to: Moment,
    pub(super) task: Task,
}

/// The record, arranged.
pub(super) struct Facts<'s> {
    pub(super) shop: &'s Shop,
    pub(super) ways: BTreeMap<LoadNo, Trajectory>,
    /// In order of their ends.
    pub(super) tasks: Vec<Done>,
    /// Station, moment, load that left it.
    pub(super) freed: Vec<(StationId, Moment, LoadNo)>,
    /// Tanks that came into their band: when, and since when the heater was on if it was the first time since then.
    pub(super) heated: Vec<(StationId, Moment, Option<Moment>)>,
    /// States of every tank.
    pub(super) tanks: BTreeMap<StationId, Vec<TankStretch>>,
    /// Breaks and closed hours: from, to, whether a break.
    pub(super) rests: Vec<(Moment, Moment, bool)>,
    /// Care of tanks: which, from, to.
    pub(super) cares: Vec<(StationId, Moment, Moment)>,
    /// Joins: moment, holder, the load that came.
    pub(super) joins: Vec<(Moment, LoadNo, LoadNo)>,
}

impl<'s> Facts<'s> {
    pub(super) fn of(shop: &'s Shop, record: &Record) -> Self {
        let mut facts = Self {
            shop,
            ways: ways(record),
            tasks: Vec::new(),
            freed: Vec::new(),
            heated: Vec::new(),
            tanks: shop
                .tanks()
                .map(|(id, ..)| (id, tank_states(record, id)))
                .collect(),
            rests: rests(shop),
            cares: Vec::new(),
            joins: Vec::new(),
        };
        facts.read(record);
        facts
    }

    fn read(&mut self, record: &Record) {
        let mut at_work: BTreeMap<u32, (Moment, Task)> = BTreeMap::new();
        let mut heater_on: BTreeMap<StationId, Option<Moment>> = BTreeMap::new();
        for entry in &record.entries {
            let at = entry.at;
            match entry.event {
                LogEntry::HandsTake { hand, task } => {
                    at_work.insert(hand, (at, task));
                }
                LogEntry::HandsFree { hand } => {
                    if let Some((from, task)) = at_work.remove(&hand) {
                        self.tasks.push(Done {
                            hand,
                            from,
                            to: at,
                            task,
                        });
                    }
                }
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
                        heater_on.remove(&tank);
                    }
                    _ => {
                        heater_on.entry(tank).or_insert(Some(at));
                    }
                },
                LogEntry::InBand { tank } => {
                    let on = heater_on.get_mut(&tank).and_then(Option::take);
                    self.heated.push((tank, at, on));
                }
                _ => {}
            }
        }
    }

    /// The load that holds a load now: itself, or what it joined before this moment.
    pub(super) fn way(&self, load: LoadNo) -> Option<&Trajectory> {
        self.ways.get(&load)
    }

    /// The task that took this load up at this moment.
    pub(super) fn task_begun(&self, load: LoadNo, at: Moment) -> Option<Done> {
        let begun = |d: &&Done| d.from == at && d.task.load.is_some_and(|(l, _)| l == load);
        self.tasks.iter().find(begun).copied()
    }

    /// The task that this pair of hands ended at this moment and that took some time.
    pub(super) fn task_ended(&self, hand: u32, at: Moment) -> Option<Done> {
        let ended = |d: &&Done| d.hand == hand && d.to == at && d.from < at;
        self.tasks.iter().rev().find(ended).copied()
    }

    /// The load that left a place of a station at this moment.
    pub(super) fn left(&self, station: StationId, at: Moment, not: LoadNo) -> Option<LoadNo> {
        let left = |(s, t, load): &&(StationId, Moment, LoadNo)| *s == station && *t == at && *load != not;
        self.freed.iter().find(left).map(|(.., load)| *load)
    }

    /// Whether the bath reached its band at this moment, and since when the heater was on if for the first time.
    pub(super) fn heat_ended(&self, tank: StationId, at: Moment) -> Option<Option<Moment>> {
        self.heated
            .iter()
            .find(|(t, end, _)| *t == tank && *end == at)
            .map(|(.., on)| *on)
    }

    /// When a place of a station was last freed before a moment.
    pub(super) fn last_freed(&self, station: StationId, before: Moment) -> Option<Moment> {
        let freed = self
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
        let stretches = self.tanks.get(&tank)?;
        let stretch = stretches.iter().rev().find(|s| s.from < at && at <= s.to)?;
        Some((stretch.state, stretch.from))
    }

    /// A load that joined this one at this moment, or stood ready at it, and had not been waiting before.
    pub(super) fn company_came(&self, load: LoadNo, at: Moment) -> bool {
        let fresh = |other: LoadNo| {
            self.way(other)
                .is_some_and(|w| w.made == at || w.visits.last().is_some_and(|v| v.done == Some(at)))
        };
        self.joins
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
