//! Tanks and stations as meant.

use super::Context;
use crate::measure::{Layer, Vessel};
use crate::value;
use crate::walk::Walk;
use crate::written::{Heater, Lid, OwnLid, Station, Tank, Wall};
use tankday_base::bath::HIGHEST;
use tankday_base::shop::{self, BathId, Frees, HeaterKind, Inside, Insulation, LidKind};
use tankday_base::units::{Density, Length, Mass, Quantity, Share, Temperature, Volume};

/// Tanks first, then the other stations, each in the order written.
pub(super) fn stations(
    c: Context,
    room: Temperature,
    hands: u32,
    walk: &mut Walk,
) -> Option<Vec<shop::Station>> {
    let mut all = Vec::new();
    for tank in &c.file.tanks {
        all.push(shop::Station {
            name: tank.name.as_ref()?.value.clone(),
            places: tank.loads.as_ref()?.value,
            together: 1,
            frees: Frees::WhenEmptied,
            tank: Some(self::tank(tank, c, room, walk)?),
            rinse: None,
        });
    }
    for station in &c.file.stations {
        all.push(self::station(station, hands)?);
    }
    Some(all)
}

fn station(written: &Station, hands: u32) -> Option<shop::Station> {
    Some(shop::Station {
        name: written.name.as_ref()?.value.clone(),
        places: written.loads.as_ref()?.value,
        together: written.together.as_ref()?.value,
        frees: written.frees.as_ref()?.value,
        tank: None,
        rinse: super::rinse::rinse(written, hands)?,
    })
}

fn tank(written: &Tank, c: Context, room: Temperature, walk: &mut Walk) -> Option<shop::Tank> {
    let inside = written.inside.as_ref()?.value;
    let fill = written.fill.as_ref()?.value;
    let now = written.now.as_ref()?;
    Some(shop::Tank {
        bath: BathId(*c.names.baths.get(&written.bath.as_ref()?.value)?),
        inside,
        fill,
        volume: now.volume.as_ref()?.value.unwrap_or(fill),
        temperature: now.temperature.as_ref()?.value.unwrap_or(room).min(HIGHEST),
        wall: wall(written, inside, walk)?,
        lid: lid(written.lid.as_ref()?, walk)?,
        heater: heater(written, walk)?,
        basket: written.basket.as_ref()?.value.unwrap_or(Volume::ZERO),
        draught: written.draught.as_ref()?.value,
    })
}

fn wall(written: &Tank, inside: Inside, walk: &mut Walk) -> Option<shop::Wall> {
    let wall = written.wall.as_ref()?;
    Some(shop::Wall {
        material: wall.material.as_ref()?.value,
        insulation: insulation(wall.insulation.as_ref()?.value, walk)?,
        vessel: match wall.vessel.as_ref()?.value {
            Vessel::Weighs(mass) => mass,
            Vessel::Thick(thick) => {
                let density = walk.usual_of(&Wall::vessel, "density", value::positive::<Density>)?;
                shell(inside, thick, density)
            }
        },
        bottom_loss: wall.bottom.as_ref()?.value,
    })
}

/// Mass of walls and bottom of so much thickness.
fn shell(inside: Inside, thick: Length, density: Density) -> Mass {
    let (bottom, walls) = match inside {
        Inside::Box {
            length,
            width,
            height,
        } => (
            length.base() * width.base(),
            2.0 * (length.base() + width.base()) * height.base(),
        ),
        Inside::Round { diameter, height } => {
            let d = diameter.base();
            (
                std::f64::consts::FRAC_PI_4 * d * d,
                std::f64::consts::PI * d * height.base(),
            )
        }
    };
    Mass::kilograms((bottom + walls) * thick.base() * density.base())
}

fn insulation(layer: Layer, walk: &mut Walk) -> Option<Insulation> {
    let conductivity = match layer.conductivity {
        Some(stated) => stated,
        None => walk.usual_of(&Wall::insulation, "conductivity", value::positive)?,
    };
    Some(Insulation {
        thickness: layer.thickness,
        conductivity,
    })
}

fn lid(written: &Lid, walk: &mut Walk) -> Option<LidKind> {
    match written {
        Lid::None => Some(LidKind::None),
        Lid::Usual(case) => Some(LidKind::Lid {
            leak: walk.usual(&OwnLid::leak, case)?,
            material: walk.usual(&OwnLid::material, "")?,
            insulation: insulation(walk.usual(&OwnLid::insulation, "")?, walk)?,
        }),
        Lid::Own(lid) => Some(LidKind::Lid {
            leak: lid.leak.as_ref()?.value,
            material: lid.material.as_ref()?.value,
            insulation: insulation(lid.insulation.as_ref()?.value, walk)?,
        }),
    }
}

fn heater(written: &Tank, walk: &mut Walk) -> Option<shop::Heater> {
    let heater = written.heater.as_ref()?;
    let kind = heater.kind.as_ref()?.value;
    let efficiency = match &heater.efficiency {
        Some(stated) => stated.value,
        None => usual_efficiency(kind, walk)?,
    };
    Some(shop::Heater {
        power: heater.power.as_ref()?.value,
        kind,
        efficiency,
        swing: heater.swing.as_ref()?.value,
        cut_off: heater.cut_off.as_ref()?.value,
    })
}

fn usual_efficiency(kind: HeaterKind, walk: &mut Walk) -> Option<Share> {
    let case = match kind {
        HeaterKind::Immersion => "immersion",
        HeaterKind::HotPlate => "hot plate",
        HeaterKind::Induction => "induction",
    };
    walk.usual(&Heater::efficiency, case)
}
