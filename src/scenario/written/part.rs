//! Parts as written.

use super::Got;
use super::shape::Shape;
use super::work::names;
use crate::keys;
use crate::measure;
use crate::node::{Node, Place, Spot};
use crate::value;
use crate::walk::{Fields, Walk};
use tankday_base::bath::rinse::{Drains, Hangs, drag_out};
use tankday_base::shape::Estimate;
use tankday_base::shop::{Held, Size};
use tankday_base::units::{Area, Density, Length, Mass, Share, Span, Temperature, Volume, VolumePerArea};

/// A kind of part.
#[derive(Debug)]
pub(crate) struct Part {
    pub(crate) name: Spot<String>,
    pub(crate) material: Got<String>,
    pub(crate) mass: Got<Mass>,
    pub(crate) area: Got<Area>,
    /// None inside where nobody cares.
    pub(crate) bulk: Got<Option<Volume>>,
    pub(crate) held: Got<Held>,
    pub(crate) dwell: Got<(Span, Span)>,
    /// The box around it, as written.
    pub(crate) box_size: Got<Size>,
    pub(crate) turned: Got<bool>,
    /// Tanks that it is meant for.
    pub(crate) tanks: Vec<Spot<String>>,
    /// What it is shaped like.
    pub(crate) shape: Shape,
    /// How it sheds what it is wet with.
    pub(crate) sheds: Sheds,
    pub(crate) thick: Got<Length>,
    pub(crate) tempered: Got<Temperature>,
    pub(crate) worked_cold: Got<bool>,
    pub(crate) greasy: Got<bool>,
    pub(crate) pickled: Got<bool>,
    pub(crate) holes_down: Got<bool>,
    pub(crate) crevices: Got<bool>,
    /// Where its mass and its area stand, if they are written.
    pub(crate) mass_at: Option<Place>,
    pub(crate) area_at: Option<Place>,
}

/// How a part sheds liquid.
#[derive(Debug)]
pub(crate) struct Sheds {
    pub(crate) drains: Option<Drains>,
    /// Where it stands how it drains or hangs.
    pub(crate) at: Option<Place>,
    pub(crate) hangs: Got<Hangs>,
    /// As measured.
    pub(crate) drag_out: Got<VolumePerArea>,
}

fn drains(node: &Node, walk: &mut Walk) -> Option<Drains> {
    let words = [
        ("well", Drains::Well),
        ("poorly", Drains::Poorly),
        ("very poorly", Drains::VeryPoorly),
    ];
    value::word(node, walk, &words)
}

impl Sheds {
    fn of(f: &mut Fields, held: Option<Held>) -> Self {
        let usual = match held {
            Some(Held::Wire) => "parts.drains, wire",
            _ => "parts.drains, basket",
        };
        Self {
            at: f.place("drains").or(f.place("hangs")),
            drains: match f.get("drains", drains) {
                Some(stated) => Some(stated.value),
                None => f.walk.usual(usual, drains),
            },
            hangs: f.or("hangs", |n, w| {
                let words = [
                    ("upright", Hangs::Upright),
                    ("flat", Hangs::Flat),
                    ("cup", Hangs::Cup),
                ];
                value::word(n, w, &words)
            }),
            drag_out: f.get("drag out", value::quantity),
        }
    }
}

impl Part {
    pub(super) fn read(name: &Spot<String>, node: &Node, walk: &mut Walk) -> Option<Self> {
        let mut f = Fields::of(name.at, node, &keys::PARTS, walk)?;
        let held = f.or("held", |n, w| {
            value::word(n, w, &[("basket", Held::Basket), ("wire", Held::Wire)])
        });
        Some(Self {
            name: name.clone(),
            material: f.or("material", value::name),
            mass: f.or("mass", value::quantity),
            area: f.or("area", value::quantity),
            bulk: f.or("bulk", |n, w| {
                value::or_word(n, w, "any", value::quantity::<Volume>)
            }),
            shape: Shape::of(&mut f),
            sheds: Sheds::of(&mut f, held.as_ref().map(|h| h.value)),
            held,
            dwell: f.get("dwell", crate::time::window),
            box_size: f.get("size", measure::size),
            turned: f.or("turned", value::yes),
            tanks: names(&mut f, "tank"),
            thick: f.or("thick", value::quantity),
            tempered: f.get("tempered", value::temperature),
            worked_cold: f.or("worked cold", value::yes),
            greasy: f.or("greasy", value::yes),
            pickled: f.or("pickled", value::yes),
            holes_down: f.or("holes down", value::yes),
            crevices: f.or("crevices", value::yes),
            mass_at: f.node("mass").map(|n| n.at),
            area_at: f.node("area").map(|n| n.at),
        })
    }

    /// The box around it: as written, which may be that of a shape bent or coiled, or else that of its shape.
    pub(crate) fn size(&self) -> Option<Size> {
        self.box_size
            .as_ref()
            .map(|s| s.value)
            .or_else(|| self.shape.size())
    }

    /// Where its size stands, if it is known.
    pub(crate) fn size_at(&self) -> Option<Place> {
        let shape = || self.shape.size().and(self.shape.places.first().map(|p| p.1));
        self.box_size.as_ref().map(|s| s.at).or_else(shape)
    }

    /// What its shape gives, made of a material of that density; none where it has no shape.
    pub(crate) fn estimate(&self, density: Density) -> Option<Estimate> {
        let stated = self.mass_at.and(self.mass.as_ref()).map(|m| m.value);
        let estimate = self
            .shape
            .estimate(density, stated)
            .filter(|_| self.shape.any())?;
        match (stated, &self.shape.wall) {
            // A casting weighs what the scale says; only its surface is estimated.
            (Some(mass), Some(_)) => Some(Estimate {
                mass,
                mass_within: Share::ZERO,
                ..estimate
            }),
            _ => Some(estimate),
        }
    }

    /// Mass and surface of one piece: as stated, or by its shape.
    pub(crate) fn measures(&self, density: Density) -> Option<(Mass, Area)> {
        let estimate = self.estimate(density);
        let mass = estimate.filter(|_| self.mass_at.is_none()).map(|e| e.mass);
        let area = estimate.filter(|_| self.area_at.is_none()).map(|e| e.area);
        Some((
            mass.or(self.mass.as_ref().map(|m| m.value))?,
            area.or(self.area.as_ref().map(|a| a.value))?,
        ))
    }

    /// Liquid that leaves a tank on its surface; none where the table has no row for how it hangs and drains.
    pub(crate) fn drag_out(&self) -> Option<VolumePerArea> {
        if let Some(measured) = &self.sheds.drag_out {
            return Some(measured.value);
        }
        let (least, most) = drag_out(self.sheds.hangs.as_ref()?.value, self.sheds.drains?)?;
        Some((least + most) * 0.5)
    }
}
