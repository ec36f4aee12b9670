//! Loads in tanks: what went in where, when, for how long.

use crate::record::cargo::{Cargo, Lot};
use crate::record::event::LoadNo;
use crate::record::visit::{Visit, Way};
use crate::shop::{PartId, Shop, StationId, StepRef};
use crate::units::{Area, Mass, Moment, Span};
use std::collections::BTreeMap;

/// One stay of a load in a tank.
#[derive(Debug, Clone, PartialEq)]
pub struct TankLoad {
    /// Its number in the run.
    pub load: LoadNo,
    /// For which step.
    pub step: StepRef,
    /// Which tank.
    pub tank: StationId,
    /// The dwell begins.
    pub begins: Moment,
    /// Taking out begins: the dwell is over. None if the record ends before.
    pub out: Option<Moment>,
    /// The longest it may stay, if it says so.
    pub most: Option<Span>,
    /// Surface.
    pub area: Area,
    /// Mass.
    pub mass: Mass,
    /// What is in it.
    pub lots: Vec<Lot>,
    /// Kinds of part in it with their pieces.
    pub parts: Vec<(PartId, u32)>,
}

impl TankLoad {
    /// Time in the bath.
    #[must_use]
    pub fn dwell(&self) -> Option<Span> {
        Some(self.out? - self.begins)
    }
}

pub(super) fn of(shop: &Shop, cargo: &Cargo, ways: &BTreeMap<LoadNo, Way>) -> Vec<TankLoad> {
    let in_tank = |v: &Visit| {
        shop.stations
            .get(v.station.index())
            .is_some_and(|s| s.tank.is_some())
    };
    let mut loads: Vec<TankLoad> = Vec::new();
    for (&load, way) in ways {
        for visit in way.visits.iter().filter(|v| in_tank(v)) {
            let Some(begins) = visit.begins else { continue };
            loads.push(TankLoad {
                load,
                step: visit.step,
                tank: visit.station,
                begins,
                out: visit.lift,
                most: visit.most,
                area: cargo.area(shop, load),
                mass: cargo.mass(shop, load),
                lots: cargo.lots(load).collect(),
                parts: cargo
                    .parts(shop, load)
                    .into_iter()
                    .map(|(id, _, n)| (id, n))
                    .collect(),
            });
        }
    }
    loads.sort_by_key(|l| (l.begins, l.tank, l.load));
    loads
}
