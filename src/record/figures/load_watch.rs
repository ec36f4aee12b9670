//! What to watch of a load before it goes into a bath: by what it is made of, what it weighs and what its parts bring.

use super::loads::TankLoad;
use super::warning_kind::WarningKind;
use tankday_base::shop::{HEAVY_PIECE, HEAVY_SHARE, Held, Mishap, PartId, Relieves, Shop, StepKind, StepRef};

/// Every kind of warning that is about it.
pub(super) fn of(shop: &Shop, load: &TankLoad) -> Vec<WarningKind> {
    let mut kinds = Vec::new();
    let parts = || load.parts.iter().filter_map(|(id, _)| shop.parts.get(id.index()));
    let hard =
        |p: &&tankday_base::shop::Part| shop.materials.get(p.material.index()).is_some_and(|m| m.hardened);
    let hardened: Vec<PartId> = load
        .parts
        .iter()
        .map(|(id, _)| *id)
        .filter(|id| shop.parts.get(id.index()).as_ref().is_some_and(hard))
        .collect();
    let relieved = |id: &PartId| is_relieved(shop, load.step, *id);
    match (hardened.is_empty(), hardened.iter().all(relieved)) {
        (true, _) => {}
        (false, true) => kinds.push(WarningKind::Hardened),
        (false, false) => kinds.push(WarningKind::NotRelieved),
    }
    if hardened.iter().any(|id| is_pickled(shop, load.step, *id)) {
        kinds.push(WarningKind::AcidOnHardened);
    }
    let heavy = parts().any(|p| p.held == Held::Wire && p.mass >= HEAVY_PIECE);
    if heavy && mass_share(shop, load) >= HEAVY_SHARE.in_fraction() {
        kinds.push(WarningKind::HeavyLoad);
    }
    for (mishap, kind) in [
        (Mishap::Greasy, WarningKind::Greasy),
        (Mishap::Pickled, WarningKind::Pickled),
        (Mishap::HolesDown, WarningKind::HolesDown),
        (Mishap::Crevices, WarningKind::Crevices),
    ] {
        if parts().any(|p| p.brings.has(mishap)) {
            kinds.push(kind);
        }
    }
    kinds
}

/// Whether hydrogen is relieved of a part on the route of a coating step, after it in the order of the route.
fn is_relieved(shop: &Shop, coat: StepRef, part: PartId) -> bool {
    let steps = shop.routes.get(coat.route.index()).map_or(&[][..], |r| &r.steps);
    let later = steps.get(coat.step.index()..).unwrap_or_default().iter();
    later
        .filter(|s| s.only.is_empty() || s.only.contains(&part))
        .any(|s| s.relief.is_some_and(|r| r.what == Relieves::Hydrogen))
}

/// Whether a part was in strong acid before a coating step: before it came, or on its route.
fn is_pickled(shop: &Shop, coat: StepRef, part: PartId) -> bool {
    let came = shop.parts.get(part.index());
    let steps = shop.routes.get(coat.route.index()).map_or(&[][..], |r| &r.steps);
    let earlier = steps.get(..coat.step.index()).unwrap_or_default().iter();
    let mut own = earlier.filter(|s| s.only.is_empty() || s.only.contains(&part));
    came.is_some_and(|p| p.brings.has(Mishap::Pickled)) || own.any(|s| s.kind == StepKind::Pickle)
}

/// Share of the tank's room by mass that a load takes.
fn mass_share(shop: &Shop, load: &TankLoad) -> f64 {
    let tank = shop.tank(load.tank);
    let room = tank.and_then(|t| Some(shop.baths.get(t.bath.index())?.room.mass * t.fill));
    room.filter(|r| r.in_kilograms() > 0.0)
        .map_or(0.0, |room| load.mass / room)
}
