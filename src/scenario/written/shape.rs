//! The shape of a part as written, and what mass and surface it gives.

use super::Got;
use crate::measure;
use crate::node::{Node, Place, Spot};
use crate::value;
use crate::walk::{Fields, Walk};
use tankday_base::shape::{self, Estimate, Face, Head, Screw, Solid};
use tankday_base::shop::Size;
use tankday_base::units::{Density, Length, Mass, Volume};

/// The shape of a part: at most one of the first five, if nothing is wrong.
#[derive(Debug)]
pub(crate) struct Shape {
    pub(crate) screw: Got<measure::Thread>,
    pub(crate) sheet: Got<[Length; 3]>,
    pub(crate) bar: Got<[Length; 2]>,
    pub(crate) tube: Got<[Length; 3]>,
    pub(crate) wall: Got<Length>,
    pub(crate) head: Got<Head>,
    pub(crate) face: Option<Face>,
    /// Where the face stands, if it is written.
    pub(crate) face_at: Option<Place>,
    /// Where the head stands, if it is written.
    pub(crate) head_at: Option<Place>,
    /// Where each shape stands, with its key, those that could not be read included.
    pub(crate) places: Vec<(&'static str, Place)>,
}

const KEYS: [&str; 5] = ["screw", "sheet", "bar", "tube", "cast wall"];

/// How rough a part is.
fn face(node: &Node, walk: &mut Walk) -> Option<Face> {
    let words = [
        ("smooth", Face::Smooth),
        ("blasted", Face::Blasted),
        ("as cast", Face::AsCast),
    ];
    value::word(node, walk, &words)
}

impl Shape {
    pub(super) fn of(f: &mut Fields) -> Self {
        let places = KEYS.into_iter().filter_map(|key| Some((key, f.place(key)?)));
        Self {
            places: places.collect(),
            screw: f.get("screw", measure::thread),
            sheet: f.get("sheet", measure::lengths_of::<3>),
            bar: f.get("bar", measure::lengths_of::<2>),
            tube: f.get("tube", measure::lengths_of::<3>),
            wall: f.get("cast wall", value::positive),
            head_at: f.place("head"),
            head: f.or("head", |n, w| {
                value::word(n, w, &[("socket", Head::Socket), ("hexagon", Head::Hexagon)])
            }),
            face_at: f.place("face"),
            face: match (f.get("face", face), f.has("cast wall")) {
                (Some(stated), _) => Some(stated.value),
                (None, true) => f.walk.usual("parts.face, casting", face),
                (None, false) => f.walk.usual("parts.face", face),
            },
        }
    }

    /// Whether any shape is written.
    pub(crate) fn any(&self) -> bool {
        !self.places.is_empty()
    }

    /// The solid that it is; a casting needs its mass. None where there is none of such measures.
    pub(crate) fn solid(&self, density: Density, mass: Option<Mass>) -> Option<Solid> {
        let value = |got: &Got<[Length; 3]>| got.as_ref().map(|s: &Spot<_>| s.value);
        if let (Some(thread), Some(head)) = (&self.screw, &self.head) {
            let screw = Screw {
                head: head.value,
                size: thread.value.size,
                length: thread.value.length,
            };
            return screw.solid();
        }
        if let Some([length, width, thickness]) = value(&self.sheet) {
            return shape::sheet(length, width, thickness);
        }
        if let Some([diameter, length]) = self.bar.as_ref().map(|b| b.value) {
            return shape::bar(diameter, length);
        }
        if let Some([outside, wall, length]) = value(&self.tube) {
            return shape::tube(outside, wall, length);
        }
        let volume: Volume = mass? / density;
        shape::cast_wall(volume, self.wall.as_ref()?.value)
    }

    /// The box around it; none for a casting, of which only the wall is known.
    pub(crate) fn size(&self) -> Option<Size> {
        let value = |got: &Got<[Length; 3]>| got.as_ref().map(|s: &Spot<_>| s.value);
        if let (Some(thread), Some(head)) = (&self.screw, &self.head) {
            let screw = Screw {
                head: head.value,
                size: thread.value.size,
                length: thread.value.length,
            };
            let (long, thick) = screw.outside();
            return Some(Size::new([long, thick, thick], true));
        }
        if let Some(sides) = value(&self.sheet) {
            return Some(Size::new(sides, false));
        }
        let (thick, long) = match (self.bar.as_ref().map(|b| b.value), value(&self.tube)) {
            (Some([diameter, length]), _) => (diameter, length),
            (_, Some([outside, _, length])) => (outside, length),
            _ => return None,
        };
        Some(Size::new([long, thick, thick], true))
    }

    /// Mass and surface by it.
    pub(crate) fn estimate(&self, density: Density, mass: Option<Mass>) -> Option<Estimate> {
        Some(Estimate::new(&self.solid(density, mass)?, density, self.face?))
    }
}
