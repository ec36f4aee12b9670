//! A record read once, from its first entry to its last: what figures, names and pictures are worked out from.

use super::cargo::Cargo;
use super::chain::facts::Marks;
use super::event::{Breach, Coated, LoadNo, LogEntry, OrderNo, Task, TaskKind};
use super::figures::watched::Watched;
use super::reading::BathSample;
use super::tally::Tally;
use super::tank_state::{States, TankStretch};
use super::task::CareUse;
use super::top_up::ToppedUp;
use super::visit::{Trajectory, follow};
use super::watch::Record;
use std::collections::BTreeMap;
use std::sync::Arc;
use tankday_base::shop::{Shop, StationId, StepRef};
use tankday_base::units::Moment;

/// A task of one pair of hands, from beginning to end.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Handled {
    /// Which pair.
    pub hand: u32,
    /// Its beginning.
    pub from: Moment,
    /// Its end; that of the record where it is not done by then.
    pub to: Moment,
    /// What.
    pub task: Task,
    /// Whether it is done by the end of the record.
    pub done: bool,
}

/// What a record says of one tank.
#[derive(Debug, Clone)]
pub struct TankLog {
    /// The tank.
    pub tank: StationId,
    /// Its bath, in order of time.
    pub samples: Vec<(Moment, BathSample)>,
    /// When it came into its band while heating.
    pub in_band: Vec<Moment>,
    states: States,
}

impl TankLog {
    fn of(tank: StationId) -> Self {
        Self {
            tank,
            samples: Vec::new(),
            in_band: Vec::new(),
            states: States::default(),
        }
    }

    fn note(&mut self, at: Moment, event: &LogEntry) {
        match event {
            LogEntry::Bath { tank, sample } if *tank == self.tank => self.samples.push((at, **sample)),
            LogEntry::InBand { tank } if *tank == self.tank => self.in_band.push(at),
            _ => {}
        }
        self.states.note(self.tank, at, event);
    }

    /// What it did, from the first to the last entry, without gaps.
    #[must_use]
    pub fn states(&self) -> &[TankStretch] {
        self.states.stretches()
    }
}

/// A load lifted out of a bath: when, which, where, and what it did there.
pub(crate) type Lifted = (Moment, LoadNo, StationId, Coated);

/// A record, read once.
#[derive(Debug, Clone)]
pub struct Analysis<'s> {
    /// The shop.
    pub shop: &'s Shop,
    /// Orders as they came, loads as they were.
    pub cargo: Cargo,
    /// The ways of all loads.
    pub ways: BTreeMap<LoadNo, Trajectory>,
    /// Tanks in the order written.
    pub tanks: Vec<TankLog>,
    /// Tasks of hands in order of their end, those that are not done last.
    pub tasks: Vec<Handled>,
    /// Water made good, in order of its end. What no hands began has its end for its beginning.
    pub top_ups: Vec<ToppedUp>,
    /// When each order was ready.
    pub ready: BTreeMap<OrderNo, Moment>,
    /// Loads that are ready, in order of time.
    pub(crate) loads_ready: Vec<(Moment, LoadNo)>,
    /// The time of the last entry.
    pub end: Moment,
    pub(crate) tally: Tally<'s>,
    pub(crate) watched: Watched<'s>,
    pub(crate) marks: Marks,
    pub(crate) made: BTreeMap<OrderNo, Vec<LoadNo>>,
    pub(crate) names: BTreeMap<LoadNo, Arc<str>>,
    pub(crate) lifted: Vec<Lifted>,
    /// What care, of baths and of vessels, took.
    pub(crate) used: Vec<CareUse>,
    pub(crate) breaches: Vec<(Moment, LoadNo, StepRef, Breach)>,
    /// Each with the step that it is kept out of, and the one that has no place.
    pub(crate) kept: Vec<(Moment, LoadNo, StepRef, StepRef)>,
    begun: BTreeMap<u32, (Moment, Task)>,
    topping: BTreeMap<StationId, Moment>,
}

impl<'s> Analysis<'s> {
    /// Reads a record.
    #[must_use]
    pub fn of(shop: &'s Shop, record: &Record) -> Self {
        let mut all = Self {
            shop,
            cargo: Cargo::default(),
            ways: BTreeMap::new(),
            tanks: shop.tanks().map(|(id, ..)| TankLog::of(id)).collect(),
            tasks: Vec::new(),
            top_ups: Vec::new(),
            ready: BTreeMap::new(),
            loads_ready: Vec::new(),
            end: Moment::ZERO,
            tally: Tally::new(shop),
            watched: Watched::of(shop),
            marks: Marks::default(),
            made: BTreeMap::new(),
            names: BTreeMap::new(),
            lifted: Vec::new(),
            used: Vec::new(),
            breaches: Vec::new(),
            kept: Vec::new(),
            begun: BTreeMap::new(),
            topping: BTreeMap::new(),
        };
        for entry in &record.entries {
            all.note(entry.at, &entry.event);
        }
        let end = all.end;
        for tank in &mut all.tanks {
            tank.states.close(end);
        }
        let open = std::mem::take(&mut all.begun).into_iter();
        all.tasks.extend(open.map(|(hand, (from, task))| Handled {
            hand,
            from,
            to: end,
            task,
            done: false,
        }));
        all
    }

    /// What it says of a tank.
    #[must_use]
    pub fn tank(&self, tank: StationId) -> Option<&TankLog> {
        self.tanks.iter().find(|t| t.tank == tank)
    }

    /// The bath of a tank, in order of time.
    pub(crate) fn samples(&self, tank: StationId) -> &[(Moment, BathSample)] {
        self.tank(tank).map_or(&[], |t| t.samples.as_slice())
    }

    fn note(&mut self, at: Moment, event: &LogEntry) {
        self.end = at;
        self.cargo.note(at, event);
        follow(&mut self.ways, at, event);
        self.tally.see(at, event);
        self.watched.note(at, event);
        self.marks.note(at, event);
        for tank in &mut self.tanks {
            tank.note(at, event);
        }
        match *event {
            LogEntry::LoadMade { load, order, .. } => self.made.entry(order).or_default().push(load),
            LogEntry::LoadNamed { load, ref name } => {
                self.names.insert(load, name.clone());
            }
            LogEntry::LoadReady { load } => self.loads_ready.push((at, load)),
            LogEntry::OrderReady { order } => {
                self.ready.insert(order, at);
            }
            LogEntry::HandsTake { hand, task } => {
                self.begun.insert(hand, (at, task));
                if task.kind == TaskKind::TopUp {
                    self.topping.insert(task.station, at);
                }
            }
            LogEntry::HandsFree { hand } => {
                let ended = self.begun.remove(&hand).map(|(from, task)| Handled {
                    hand,
                    from,
                    to: at,
                    task,
                    done: true,
                });
                self.tasks.extend(ended);
            }
            LogEntry::ToppedUp { tank, volume } => self.top_ups.push(ToppedUp {
                tank,
                from: self.topping.remove(&tank).unwrap_or(at),
                to: at,
                volume,
            }),
            LogEntry::Coated {
                load,
                tank,
                ref coated,
            } => self.lifted.push((at, load, tank, **coated)),
            LogEntry::CareEnds { ref used, .. } | LogEntry::VesselEnds { ref used, .. } => {
                self.used.push(**used);
            }
            LogEntry::Breaks { load, step, what } => self.breaches.push((at, load, step, what)),
            LogEntry::KeptBack { load, step, behind } => self.kept.push((at, load, step, behind)),
            _ => {}
        }
    }
}
