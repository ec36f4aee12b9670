//! A tank in its room: geometry, and what leaves it at a bath temperature, straight from the models.

use super::surface::{Bulk, open_surface};
use super::wall::{Face, emissivity, lid_loss, wall_loss};
use crate::shop::{Air, Inside, LidKind, Tank, WallMaterial};
use crate::units::{
    Area, HeatCapacity, HeatTransfer, Length, MassFlow, Power, Quantity, Share, Temperature, Volume,
};

/// Whether the lid lies on the tank.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Lid {
    /// The surface is open.
    #[default]
    Off,
    /// The lid is on; without effect on a tank that has none.
    On,
}

/// The wetted inside of a tank filled to its mark.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Geometry {
    /// Surface of the bath.
    pub opening: Area,
    /// Its edge.
    pub edge: Length,
    /// Depth of the bath.
    pub depth: Length,
    /// Wetted wall: edge times depth at the full mark, kept as the level falls.
    pub wall: Area,
}

impl Geometry {
    /// Of a tank filled to a volume.
    #[must_use]
    pub fn new(inside: Inside, fill: Volume) -> Self {
        let (opening, edge) = match inside {
            Inside::Box { length, width, .. } => {
                (length.base() * width.base(), 2.0 * (length.base() + width.base()))
            }
            Inside::Round { diameter, .. } => {
                let d = diameter.base();
                (std::f64::consts::FRAC_PI_4 * d * d, std::f64::consts::PI * d)
            }
        };
        let depth = fill.base() / opening;
        Self {
            opening: Area::square_metres(opening),
            edge: Length::metres(edge),
            depth: Length::metres(depth),
            wall: Area::square_metres(edge * depth),
        }
    }

    /// Area by edge: the length that governs convection over the surface.
    #[must_use]
    pub fn surface_length(&self) -> Length {
        Length::metres(self.opening.base() / self.edge.base())
    }
}

/// Heat capacity of the empty vessel: 500 J/(kg K) stainless, 465 mild steel, also used for enamel and plastic
/// (from memory).
#[must_use]
pub const fn vessel_heat(material: WallMaterial) -> HeatCapacity {
    match material {
        WallMaterial::Stainless => HeatCapacity::joules_per_kilogram_kelvin(500.0),
        WallMaterial::Dull => HeatCapacity::joules_per_kilogram_kelvin(465.0),
    }
}

/// What leaves a whole tank.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Losses {
    /// Through the opening: evaporation, convection and radiation.
    pub top: Power,
    /// Through the walls.
    pub wall: Power,
    /// Through the bottom; negative when the bath is colder than the room.
    pub bottom: Power,
    /// Water that evaporates.
    pub evaporation: MassFlow,
    /// Temperature of the open surface.
    pub skin: Temperature,
}

impl Losses {
    /// All the heat.
    #[must_use]
    pub fn heat(&self) -> Power {
        self.top + self.wall + self.bottom
    }
}

/// What a tank in a room loses at a bath temperature.
///
/// The draught factor of the tank scales evaporation and its heat as they leave the model, so that it can be set
/// to measured over modelled. Under the lid, the leaking share of the opening behaves as open.
#[must_use]
pub fn losses(tank: &Tank, air: &Air, bath: Temperature, lid: Lid) -> Losses {
    let geometry = Geometry::new(tank.inside, tank.fill);
    let length = geometry.surface_length();
    let open = open_surface(bath, air, length, &Bulk::default());
    let draught = if bath > air.temperature { tank.draught } else { 0.0 };
    let open_heat = open.convection + open.radiation + open.latent * draught;
    let (leak, covered) = match (lid, lid_face(&tank.lid)) {
        (Lid::On, Some((leak, face))) => (leak, lid_loss(bath, air, length, &face)),
        _ => (1.0, crate::units::HeatFlux::ZERO),
    };
    let wall = Face {
        emissivity: emissivity(tank.wall.material),
        insulation: tank.wall.insulation,
    };
    let bottom: HeatTransfer = tank.wall.bottom_loss;
    Losses {
        top: (covered * (1.0 - leak) + open_heat * leak) * geometry.opening,
        wall: wall_loss(bath, air, geometry.depth, &wall) * geometry.wall,
        bottom: bottom * (bath - air.temperature) * geometry.opening,
        evaporation: open.evaporation * (draught * leak) * geometry.opening,
        skin: open.skin,
    }
}

/// The share a lid leaves open and its face, if there is one.
fn lid_face(lid: &LidKind) -> Option<(f64, Face)> {
    match *lid {
        LidKind::None => None,
        LidKind::Lid {
            leak,
            material,
            insulation,
        } => Some((
            leak.in_fraction().clamp(0.0, 1.0),
            Face {
                emissivity: emissivity(material),
                insulation,
            },
        )),
    }
}

/// Share of a heater's rated power that arrives in the bath, between 1 % and all.
#[must_use]
pub fn arriving(tank: &Tank) -> Share {
    Share::fraction(tank.heater.efficiency.in_fraction().clamp(0.01, 1.0))
}
