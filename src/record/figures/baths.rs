//! What the tanks hold. Readings other than area and uses are carried unchanged from the start: nothing in a record
//! says yet how the work changes them.

use super::loads::TankLoad;
use crate::shop::{BathId, BathState, Shop, StationId};

/// The bath in one tank at the end.
#[derive(Debug, Clone, PartialEq)]
pub struct BathFigure {
    /// The tank.
    pub tank: StationId,
    /// The recipe.
    pub bath: BathId,
    /// Its name; with the tank's where several tanks hold the same bath.
    pub name: String,
    /// Area and uses at the end, the other readings as they were at the start.
    pub now: BathState,
}

pub(super) fn of(shop: &Shop, loads: &[TankLoad]) -> Vec<BathFigure> {
    shop.tanks()
        .filter_map(|(id, station, tank)| {
            let recipe = shop.baths.get(tank.bath.index())?;
            let shared = shop.tanks().filter(|(.., t)| t.bath == tank.bath).count() > 1;
            let mut now = recipe.now;
            for load in loads.iter().filter(|l| l.tank == id) {
                now.area += area_per_volume(load, tank.fill);
                now.uses = now.uses.saturating_add(1);
            }
            let name = if shared {
                format!("{} in {}", recipe.name, station.name)
            } else {
                recipe.name.clone()
            };
            Some(BathFigure {
                tank: id,
                bath: tank.bath,
                name,
                now,
            })
        })
        .collect()
}

fn area_per_volume(load: &TankLoad, fill: crate::units::Volume) -> crate::units::AreaPerVolume {
    let litres = fill.in_litres();
    let per_litre = if litres > 0.0 {
        load.area.in_square_decimetres() / litres
    } else {
        0.0
    };
    crate::units::AreaPerVolume::square_decimetres_per_litre(per_litre)
}
