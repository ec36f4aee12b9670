//! How far work wears a bath, at what making it up anew costs: over the life that the limit of iron gives it.
//!
//! Acid used up and sludge are made good by concentrate and by stops, and are priced as those ([`super::LeftBehind`]); iron
//! stays, and at its limit the bath goes. That a bath lives from its making up to that limit is the shop's own figure:
//! `limits: {iron: ..}`.

use super::left::renewal;
use super::loads::TankLoad;
use crate::analysis::Analysis;
use crate::event::OrderNo;
use crate::task::TaskKind;
use std::collections::BTreeMap;
use tankday_base::bath::chemistry::{Mix, Watched, fresh, life_left};
use tankday_base::shop::{BathRecipe, Shop, StationId, Tank};
use tankday_base::units::{Area, CoatWeight, Mass, Share};

/// How far an order wears the bath of one tank.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BathWear {
    /// The tank.
    pub tank: StationId,
    /// Area that the order coats there.
    pub area: Area,
    /// Share of the bath's life, from its making up to its limit of iron; nothing where that limit is never reached.
    pub used: Share,
    /// What making the bath up anew costs, waste and hands in it.
    pub renewal: f64,
    /// Whether the bath was renewed in the run: then its costs hold that already.
    pub renewed: bool,
}

impl BathWear {
    /// What the wear costs.
    #[must_use]
    pub fn cost(&self) -> f64 {
        if self.renewed {
            0.0
        } else {
            self.renewal * self.used.in_fraction()
        }
    }
}

/// The wear of every order, bath by bath.
pub(super) fn of(read: &Analysis<'_>, loads: &[TankLoad]) -> BTreeMap<OrderNo, Vec<BathWear>> {
    let mut all: BTreeMap<OrderNo, Vec<BathWear>> = BTreeMap::new();
    for load in loads.iter().filter(|l| l.out.is_some()) {
        let tank = read.shop.tank(load.tank);
        let recipe = tank.and_then(|t| read.shop.baths.get(t.bath.index()));
        let Some((tank, recipe)) = tank.zip(recipe).filter(|(_, r)| r.wears) else {
            continue;
        };
        let life = life(read.shop, tank, recipe, load);
        for lot in &load.lots {
            let part = read.cargo.order(lot.order).and_then(|came| {
                let order = read.shop.orders.get(came.source.index())?;
                read.shop.parts.get(order.part.index())
            });
            let area = part.map_or(Area::ZERO, |p| p.area * f64::from(lot.pieces));
            let used = life.map_or(0.0, |life| area / life);
            let own = all.entry(lot.order).or_default();
            match own.iter_mut().find(|w| w.tank == load.tank) {
                Some(w) => {
                    w.area += area;
                    w.used = Share::fraction(w.used.in_fraction() + used);
                }
                None => own.push(BathWear {
                    tank: load.tank,
                    area,
                    used: Share::fraction(used),
                    renewal: renewal(read.shop, tank, recipe),
                    renewed: renewed(read, load.tank),
                }),
            }
        }
    }
    all
}

/// Area of such loads from a fresh bath to its limit of iron; none where they never lead there.
fn life(shop: &Shop, tank: &Tank, recipe: &BathRecipe, load: &TankLoad) -> Option<Area> {
    let mut coating = Mass::ZERO;
    for (id, weight) in &load.coats {
        let pieces = load.parts.iter().find(|(part, _)| part == id);
        let part = shop.parts.get(id.index());
        let area = part.zip(pieces).map(|(p, (_, count))| p.area * f64::from(*count));
        coating += *weight * area.unwrap_or(Area::ZERO);
    }
    let square_metres = load.area.in_square_metres();
    if square_metres <= 0.0 {
        return None;
    }
    let mix = Mix {
        weight: CoatWeight::grams_per_square_metre(coating.in_grams() / square_metres),
        area: load.area,
        hot: load.dwell()?,
        loads_by_day: 1.0,
    };
    let bath = fresh::make_up(&recipe.chemistry, tank.fill).ok()?;
    let reach = *life_left(&recipe.chemistry, &recipe.limits, &bath, &mix).to(Watched::Iron)?;
    (reach.area > Area::ZERO).then_some(reach.area)
}

fn renewed(read: &Analysis<'_>, tank: StationId) -> bool {
    let anew = |t: &&crate::analysis::Handled| t.task.kind == TaskKind::MakeUpAnew && t.task.station == tank;
    read.tasks.iter().any(|t| anew(&t) && t.done)
}
