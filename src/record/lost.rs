//! What kept the tanks from coating, in opening hours, while work was there or still to come.

use super::event::{LoadNo, LogEntry, OrderNo};
use super::tank_state::{Now, TankState};
use super::watch::Record;
use std::collections::{BTreeMap, BTreeSet};
use tankday_base::shop::{OrderId, Shop, StationId, StepTime};
use tankday_base::units::{Moment, Span};

/// Time of one tank in opening hours. What is not told went by with nothing left to coat.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct TankHours {
    /// Loads dwelt.
    pub coating: Span,
    /// On its way to the band, with work waiting or to come.
    pub heat_up: Span,
    /// Coming back to temperature, with work waiting or to come.
    pub recovery: Span,
    /// Under care.
    pub care: Span,
    /// A load waited for hands: to be put in, or taken out.
    pub hands: Span,
    /// Hot and empty, while the work was still at the steps before, waiting for its places and hands there.
    pub upstream: Span,
}

/// The hours of every tank, in the order written.
#[must_use]
pub fn tank_hours(shop: &Shop, record: &Record) -> Vec<(StationId, TankHours)> {
    let mut watch = Watch::new(shop);
    for entry in &record.entries {
        watch.to(entry.at);
        watch.see(&entry.event);
    }
    watch.tanks.into_iter().map(|t| (t.id, t.hours)).collect()
}

struct Watch<'s> {
    shop: &'s Shop,
    at: Moment,
    open: bool,
    tanks: Vec<Tank>,
    /// Loads that still come to a bath, and whether they stand ready for it.
    coming: BTreeMap<LoadNo, bool>,
    waiting: usize,
    /// Orders of routes that coat.
    coated: BTreeSet<OrderNo>,
}

struct Tank {
    id: StationId,
    now: Now,
    /// The load in it has had its dwell.
    done: bool,
    hours: TankHours,
}

impl<'s> Watch<'s> {
    fn new(shop: &'s Shop) -> Self {
        let tank = |(id, ..): (StationId, &tankday_base::shop::Station, &tankday_base::shop::Tank)| Tank {
            id,
            now: Now::default(),
            done: false,
            hours: TankHours::default(),
        };
        Self {
            shop,
            at: Moment::ZERO,
            open: false,
            tanks: shop.tanks().map(tank).collect(),
            coming: BTreeMap::new(),
            waiting: 0,
            coated: BTreeSet::new(),
        }
    }

    fn to(&mut self, at: Moment) {
        let span = at - self.at;
        self.at = at;
        if !self.open || span <= Span::ZERO {
            return;
        }
        let (waiting, coming) = (self.waiting > 0, !self.coming.is_empty());
        for tank in &mut self.tanks {
            let hours = &mut tank.hours;
            let sum = match tank.now.state() {
                TankState::Coating(_) if tank.done => &mut hours.hands,
                TankState::Coating(_) => &mut hours.coating,
                TankState::Heating if coming => &mut hours.heat_up,
                TankState::Recovering if coming => &mut hours.recovery,
                TankState::Waiting if waiting => &mut hours.hands,
                TankState::Waiting if coming => &mut hours.upstream,
                TankState::Heating | TankState::Recovering | TankState::Waiting | TankState::Off => continue,
                _ => &mut hours.care,
            };
            *sum += span;
        }
    }

    fn see(&mut self, event: &LogEntry) {
        match *event {
            LogEntry::Opens => self.open = true,
            LogEntry::Closes => self.open = false,
            LogEntry::OrderArrives { order, source, .. } if self.coats(source) => {
                self.coated.insert(order);
            }
            LogEntry::OrderReady { order } => {
                self.coated.remove(&order);
            }
            LogEntry::LoadMade { load, order, .. } if self.coated.contains(&order) => {
                self.coming.insert(load, false);
            }
            LogEntry::Waits { load, step } => {
                let coats = matches!(self.shop.step(step).time, StepTime::Coat);
                if coats && self.coming.insert(load, true) != Some(true) {
                    self.waiting += 1;
                }
            }
            LogEntry::Joins { load, .. } | LogEntry::LoadReady { load } => self.gone(load),
            LogEntry::SetIn { load, station, .. } if self.tanks.iter().any(|t| t.id == station) => {
                self.gone(load);
            }
            LogEntry::WorkBegins { station, .. } => self.set_done(station, false),
            LogEntry::WorkEnds { station, .. } => self.set_done(station, true),
            _ => {}
        }
        for tank in &mut self.tanks {
            tank.now.note(tank.id, event);
        }
    }

    fn coats(&self, source: OrderId) -> bool {
        let order = self.shop.orders.get(source.index());
        order
            .and_then(|o| self.shop.routes.get(o.route.index()))
            .is_some_and(|r| r.steps.iter().any(|s| matches!(s.time, StepTime::Coat)))
    }

    fn gone(&mut self, load: LoadNo) {
        if self.coming.remove(&load) == Some(true) {
            self.waiting -= 1;
        }
    }

    fn set_done(&mut self, station: StationId, done: bool) {
        if let Some(tank) = self.tanks.iter_mut().find(|t| t.id == station) {
            tank.done = done;
        }
    }
}
