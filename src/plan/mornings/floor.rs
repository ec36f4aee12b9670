//! What a record says of the floor of the shop: which orders have come, how far each lot is, how baths read.

use std::collections::BTreeMap;
use tankday_base::shop::{OrderId, Route, Shop, StationId, StepIx, StepRef};
use tankday_base::units::Moment;
use tankday_record::{BathSample, LoadNo, LogEntry, Record};

/// An order that has come.
#[derive(Debug, Clone)]
pub(super) struct Came {
    pub(super) source: OrderId,
    pub(super) nth: u32,
    pub(super) pieces: u32,
    pub(super) at: Moment,
}

/// A step that is under way.
#[derive(Debug, Clone, Copy)]
pub(super) struct UnderWay {
    pub(super) step: u32,
    pub(super) since: Moment,
    /// When taking out began, if it did.
    pub(super) lifted: Option<Moment>,
}

/// A stay in a tank.
#[derive(Debug, Clone, Copy)]
pub(super) struct Stay {
    pub(super) step: u32,
    pub(super) station: StationId,
    pub(super) since: Moment,
    pub(super) lifted: Option<Moment>,
}

/// A lot that was made.
#[derive(Debug, Clone)]
pub(super) struct Lot {
    /// Its order, in order of coming.
    pub(super) order: usize,
    pub(super) pieces: u32,
    /// The lot that it moves with; itself if it moves alone.
    pub(super) with: usize,
    /// Steps that are done, a bit each.
    pub(super) done: u64,
    /// When the last of them was over.
    pub(super) until: Moment,
    pub(super) now: Option<UnderWay>,
    pub(super) stay: Option<Stay>,
}

/// The floor at the end of a record.
#[derive(Debug, Clone, Default)]
pub(super) struct Floor {
    pub(super) orders: Vec<Came>,
    pub(super) lots: Vec<Lot>,
    pub(super) baths: BTreeMap<StationId, BathSample>,
}

impl Floor {
    pub(super) fn of(shop: &Shop, record: &Record) -> Self {
        let mut floor = Self::default();
        for entry in &record.entries {
            floor.note(shop, entry.at, &entry.event);
        }
        floor
    }

    fn note(&mut self, shop: &Shop, at: Moment, event: &LogEntry) {
        match *event {
            LogEntry::OrderArrives {
                source, nth, pieces, ..
            } => self.orders.push(Came {
                source,
                nth,
                pieces,
                at,
            }),
            LogEntry::LoadMade { order, pieces, .. } => self.lots.push(Lot {
                order: order.0 as usize,
                pieces,
                with: self.lots.len(),
                done: 0,
                until: Moment::NEVER,
                now: None,
                stay: None,
            }),
            LogEntry::Joins { load, into } => {
                let (load, into) = (load.0 as usize, into.0 as usize);
                for lot in self.lots.iter_mut().filter(|l| l.with == load) {
                    lot.with = into;
                }
            }
            // One that waits by itself goes on alone.
            LogEntry::Waits { load, .. } => {
                if let Some(lot) = self.lots.get_mut(load.0 as usize) {
                    lot.with = load.0 as usize;
                }
            }
            LogEntry::SetIn { load, step, station } => self.set_in(at, load, step, station),
            LogEntry::LiftBegins { load, .. } => self.all_of(load, |lot| {
                lot.now = lot.now.map(|n| UnderWay {
                    lifted: Some(at),
                    ..n
                });
                if let (Some(stay), Some(now)) = (&mut lot.stay, lot.now)
                    && stay.step == now.step
                {
                    stay.lifted = Some(at);
                }
            }),
            LogEntry::StepDone { load, step, .. } => self.all_of(load, |lot| {
                lot.done |= 1 << step.step.0;
                lot.until = at;
                lot.now = None;
            }),
            LogEntry::Fails { load, back_to, .. } => {
                let route = shop.routes.get(back_to.route.index());
                let again = route.map_or(0, |r| from_there_on(r, back_to.step));
                self.all_of(load, |lot| {
                    lot.done &= !again;
                    lot.stay = lot.stay.filter(|s| again & (1 << s.step) == 0);
                });
            }
            LogEntry::Bath { tank, ref sample } => {
                self.baths.insert(tank, **sample);
            }
            _ => {}
        }
    }

    fn set_in(&mut self, at: Moment, load: LoadNo, step: StepRef, station: StationId) {
        let tank = self.baths.contains_key(&station);
        self.all_of(load, |lot| {
            let step = step.step.0;
            lot.now = Some(UnderWay {
                step,
                since: at,
                lifted: None,
            });
            if tank {
                lot.stay = Some(Stay {
                    step,
                    station,
                    since: at,
                    lifted: None,
                });
            }
        });
    }

    fn all_of(&mut self, load: LoadNo, mut change: impl FnMut(&mut Lot)) {
        let with = load.0 as usize;
        self.lots
            .iter_mut()
            .filter(|l| l.with == with)
            .for_each(&mut change);
    }
}

/// A step and all behind it, a bit each.
fn from_there_on(route: &Route, from: StepIx) -> u64 {
    // Steps stand in an order in which they may be done.
    let all = (0u32..).zip(&route.steps).skip(from.index() + 1);
    all.fold(1 << from.0, |found: u64, (i, step)| {
        let behind = step.after.iter().any(|a| found & (1 << a.0) != 0);
        found | (u64::from(behind) << i)
    })
}
