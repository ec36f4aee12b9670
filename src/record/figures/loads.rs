//! Loads in tanks: what went in where, when, for how long.

use super::dwell::{self, DwellRange};
use crate::analysis::Analysis;
use crate::cargo::Lot;
use crate::event::{Coated, LoadNo};
use crate::visit::Visit;
use tankday_base::bath::Substrate;
use tankday_base::shop::{CoatRule, PartId, Shop, StationId, StepRef};
use tankday_base::units::{Area, CoatWeight, Mass, Moment, Span};

/// One stay of a load in a tank.
#[derive(Debug, Clone, PartialEq)]
pub struct TankLoad {
    /// Its number in the run.
    pub load: LoadNo,
    /// For which step.
    pub step: StepRef,
    /// Which tank.
    pub tank: StationId,
    /// It is put in: the time that a day sheet says of it.
    pub set_in: Moment,
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
    /// Coating weight on each kind of part; none while it is in.
    pub coats: Vec<(PartId, CoatWeight)>,
    /// Between which times it is done; none while it is in, and where a time is set instead of a weight.
    pub range: Option<DwellRange>,
}

impl TankLoad {
    /// Time in the bath.
    #[must_use]
    pub fn dwell(&self) -> Option<Span> {
        Some(self.out? - self.begins)
    }

    /// What the piece with the heaviest coating has beyond the target, where there is one.
    #[must_use]
    pub fn over(&self, shop: &Shop) -> Option<CoatWeight> {
        let target = target(shop, self.tank)?;
        let heaviest = self.coats.iter().map(|(_, w)| *w).reduce(CoatWeight::max)?;
        Some((heaviest - target).max(CoatWeight::ZERO))
    }
}

/// The weight that a tank's bath aims at; none where the time is fixed.
pub(super) fn target(shop: &Shop, tank: StationId) -> Option<CoatWeight> {
    let tank = shop.tank(tank)?;
    match shop.baths.get(tank.bath.index())?.coat {
        CoatRule::Target(weight) => Some(weight),
        CoatRule::Time(_) => None,
    }
}

/// Weight on each kind of part after what it had in a tank's bath.
pub(crate) fn coats(
    shop: &Shop,
    tank: StationId,
    parts: &[(PartId, u32)],
    coated: &Coated,
) -> Vec<(PartId, CoatWeight)> {
    let tank = shop.tank(tank);
    let Some(recipe) = tank.and_then(|t| shop.baths.get(t.bath.index())) else {
        return Vec::new();
    };
    let weight = |(id, _): &(PartId, u32)| {
        let part = shop.parts.get(id.index())?;
        let material = shop.materials.get(part.material.index())?;
        let conversion = coated.conversion_on(material.from);
        Some((*id, recipe.growth.weight(conversion, Substrate::of(material))))
    };
    parts.iter().filter_map(weight).collect()
}

pub(super) fn of(read: &Analysis<'_>) -> Vec<TankLoad> {
    let (shop, cargo) = (read.shop, &read.cargo);
    let in_tank = |v: &Visit| shop.tank(v.station).is_some();
    let mut loads: Vec<TankLoad> = Vec::new();
    for (&load, way) in &read.ways {
        for visit in way.visits.iter().filter(|v| in_tank(v)) {
            let Some(begins) = visit.begins else { continue };
            loads.push(TankLoad {
                load,
                step: visit.step,
                tank: visit.station,
                set_in: visit.set_in,
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
                coats: Vec::new(),
                range: None,
            });
        }
    }
    for &(at, load, tank, ref coated) in &read.lifted {
        let own = |l: &&mut TankLoad| l.load == load && l.tank == tank && l.out == Some(at);
        if let Some(l) = loads.iter_mut().find(own) {
            l.coats = coats(shop, tank, &l.parts, coated);
            l.range = dwell::range(read, l, coated);
        }
    }
    loads.sort_by_key(|l| (l.begins, l.tank, l.load));
    loads
}
