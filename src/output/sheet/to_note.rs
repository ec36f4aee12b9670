//! What a row that is done adds to the notes of a day under way: the page writes notes from it for `plan --at --done`.

use super::rows::Maker;
use super::tasks::{SheetTask, is_tank};
use std::collections::BTreeMap;
use tankday_base::shop::{Arrival, Shop};
use tankday_base::units::{Moment, Span};
use tankday_record::{Cargo, LoadNo, LogEntry, OrderNo, Record, TaskKind};

/// Pieces of an order that stay together.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Lot {
    /// The order.
    pub order: String,
    /// Counts the lots of the order from 1.
    pub nth: u32,
    /// How many lots the order has.
    pub of: u32,
    /// Pieces.
    pub pieces: u32,
}

/// Whose step it is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Whose {
    /// Before the bath: a lot of an order.
    Lot(Lot),
    /// From the bath on: a load, by its name.
    Load(String),
}

/// What is noted when a row is done.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum ToNote {
    /// A load went into a tank.
    Into {
        /// The tank.
        tank: String,
        /// The load's name.
        load: String,
        /// What it holds.
        holds: Vec<Lot>,
    },
    /// A tank was topped up.
    TopUp {
        /// The tank.
        tank: String,
        /// How much, in litres, as the sheet states it.
        litres: String,
    },
    /// Care of a bath was done, or its steel wool went in.
    Care {
        /// The tank.
        tank: String,
        /// Which, as the notes call it.
        what: &'static str,
        /// Whether its chemical is in and it is not over: from here on nobody gives it again.
        begun: bool,
    },
    /// A load came out of a tank.
    Out {
        /// The load's name.
        load: String,
    },
    /// A step was done, or was begun and goes on without hands.
    Step {
        /// Whose.
        whose: Whose,
        /// Its name.
        step: String,
        /// Whether it goes on.
        goes_on: bool,
        /// How long after the row's beginning it is done, or begins to go on.
        after: Span,
    },
}

impl Maker<'_> {
    /// What a deed adds to the notes. Nothing where notes have no word for it: orders that come at random, and work on a load
    /// that inspection sent back.
    pub(super) fn to_note(&self, deed: &SheetTask) -> Vec<ToNote> {
        let Some(load) = deed.load() else {
            return Vec::new();
        };
        let holder = self.cargo.holder(load);
        let goes_in = deed
            .tasks()
            .any(|t| t.kind == TaskKind::PutIn && is_tank(self.shop, t));
        // What ends as the load goes in was still done to a lot.
        let until = if goes_in { deed.to } else { deed.from };
        let charged = self.labels.charged(load).is_some_and(|at| at <= until);
        let Some(lots) = self.lots.inside(holder, (!charged).then_some(load)) else {
            return Vec::new();
        };
        if self.lots.sent_back_before(holder, deed.from) {
            return Vec::new();
        }
        let tank = |kind| {
            let mut tasks = deed.tasks();
            let found = tasks.find(|t| t.kind == kind && is_tank(self.shop, t));
            found.map(|t| self.station(t.station))
        };
        let mut notes = Vec::new();
        if tank(TaskKind::TakeOut).is_some() {
            notes.push(ToNote::Out {
                load: self.labels.at(load, deed.from).to_owned(),
            });
        }
        if let Some(tank) = tank(TaskKind::PutIn) {
            let load = self.labels.at(load, deed.to).to_owned();
            notes.push(ToNote::Into {
                tank,
                load,
                holds: lots,
            });
            // Whatever stands before it in the row is done, or it could not go in.
            return notes;
        }
        notes.extend(self.last_step(deed, load, lots));
        notes
    }

    /// The last step of a deed; those before it are done.
    fn last_step(&self, deed: &SheetTask, load: LoadNo, lots: Vec<Lot>) -> Option<ToNote> {
        let last = deed.tasks().next_back().filter(|t| !is_tank(self.shop, t))?;
        let charged = self.labels.charged(load).is_some_and(|at| at <= deed.from);
        let whose = if charged {
            Whose::Load(self.labels.at(load, deed.from).to_owned())
        } else {
            Whose::Lot(lots.into_iter().next()?)
        };
        Some(ToNote::Step {
            whose,
            step: self.shop.find_step(last.load?.1)?.name.clone(),
            goes_on: last.kind == TaskKind::PutIn,
            after: deed.to - deed.from,
        })
    }
}

/// Who is in which load, and since when inspection has sent it back.
#[derive(Debug, Default)]
pub(super) struct Lots {
    /// Of orders that come when they are stated to come.
    lots: BTreeMap<LoadNo, Option<Lot>>,
    /// By the load that holds them in the end.
    members: BTreeMap<LoadNo, Vec<LoadNo>>,
    sent_back: BTreeMap<LoadNo, Moment>,
}

impl Lots {
    pub(super) fn of(shop: &Shop, record: &Record, cargo: &Cargo) -> Self {
        let mut made: BTreeMap<OrderNo, BTreeMap<LoadNo, u32>> = BTreeMap::new();
        let mut all = Self::default();
        for entry in &record.entries {
            match entry.event {
                LogEntry::LoadMade { load, order, pieces } => {
                    made.entry(order).or_default().insert(load, pieces);
                    all.members.entry(cargo.holder(load)).or_default().push(load);
                }
                LogEntry::Fails { load, .. } => {
                    all.sent_back.entry(cargo.holder(load)).or_insert(entry.at);
                }
                _ => {}
            }
        }
        for (order, loads) in made {
            let stated = cargo
                .order(order)
                .and_then(|came| shop.orders.get(came.source.index()));
            let stated = stated.filter(|o| matches!(o.arrival, Arrival::At(_)));
            let of = u32::try_from(loads.len()).unwrap_or(u32::MAX);
            for (nth, (load, pieces)) in (1..).zip(loads) {
                let lot = stated.map(|o| Lot {
                    order: o.id.clone(),
                    nth,
                    of,
                    pieces,
                });
                all.lots.insert(load, lot);
            }
        }
        all
    }

    /// The lots in a load, or that one alone before it met others; nothing where one comes at random.
    fn inside(&self, holder: LoadNo, alone: Option<LoadNo>) -> Option<Vec<Lot>> {
        let members = self.members.get(&holder)?.iter();
        let meant = members.filter(|l| alone.is_none_or(|own| own == **l));
        meant.map(|l| self.lots.get(l)?.clone()).collect()
    }

    fn sent_back_before(&self, holder: LoadNo, at: Moment) -> bool {
        self.sent_back.get(&holder).is_some_and(|since| *since <= at)
    }
}
