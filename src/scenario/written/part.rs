//! Parts as written.

use crate::defaults::{NEUTRAL, OURS};
use crate::fields::Fields;
use crate::measure::{self, Thread};
use crate::node::{SourceSpan, Spanned};
use crate::reader::{NAME, TEMPERATURE, WINDOW, YES, factor, positive, quantity};
use crate::thing::{Key, Kind, Reader, Thing, or_word, thing, words};
use tankday_base::bath::rinse::{Drains, Hangs, drag_out};
use tankday_base::shape::{self, Estimate, Face, Head, Screw, Solid};
use tankday_base::shop::{Held, Size};
use tankday_base::units::{Area, Density, Length, Mass, Share, Span, Temperature, Volume, VolumePerArea};

const SIZE: Reader<Size> = Reader::new(
    Kind::Pattern(r"^\s*[\d.]+[^x×]*([x×]\s*[\d.]+[^x×]*){0,2}$"),
    measure::size,
);
const SCREW: Reader<Thread> = Reader::new(
    Kind::Pattern(r"^\s*M\s*\d+\s*[x×]\s*[\d.]+\s*(mm)?\s*$"),
    measure::thread,
);
const TWO: Reader<[Length; 2]> = Reader::new(
    Kind::Pattern(r"^\s*[\d.]+[^x×]*[x×]\s*[\d.]+[^x×]*$"),
    measure::lengths_of::<2>,
);
const THREE: Reader<[Length; 3]> = Reader::new(
    Kind::Pattern(r"^\s*[\d.]+[^x×]*[x×]\s*[\d.]+[^x×]*[x×]\s*[\d.]+[^x×]*$"),
    measure::lengths_of::<3>,
);
const COILS: Reader<f64> = factor::<1, 10_000>();
/// How rough it is.
const FACE: Reader<Face> = words!(
    "smooth" => Face::Smooth,
    "blasted" => Face::Blasted,
    "as cast" => Face::AsCast,
);
const DRAINS: Reader<Drains> = words!(
    "well" => Drains::Well,
    "poorly" => Drains::Poorly,
    "very poorly" => Drains::VeryPoorly,
);
const HANGS: Reader<Hangs> = words!(
    "upright" => Hangs::Upright,
    "flat" => Hangs::Flat,
    "cup" => Hangs::Cup,
);

thing! {
    /// A kind of part.
    Part "parts", "a part" {
        or "material" material: String = NAME,
            "what it is made of, such as plain steel", {"plain steel": OURS};
        may "insert" insert: String = NAME,
            "a material that a piece holds besides, such as brass, if it stays in it for the bath";
        or "plugged" plugged: bool = YES,
            "the insert is covered so that no bath gets to it", {"no": NEUTRAL};
        may "dwell" dwell: (Span, Span) = WINDOW,
            "its own shortest and longest time in the bath, such as 10 to 14 min";
        or "mass" mass: Mass = quantity(),
            "mass of one piece, such as 2.4 g",
            {"0 g": "only for parts that no bath sees; else as stated, or from the shape"};
        or "area" area: Area = quantity(),
            "area of one piece, such as 4.8 cm2",
            {"0 cm2": "only for parts that no bath sees; else as stated, or from the shape"};
        /// None inside where nobody cares.
        or "bulk" bulk: Option<Volume> = or_word!("any", quantity::<Volume>()),
            "room of one piece in a basket, air included, such as 3 mL", {"any": NEUTRAL};
        or "held" held: Held = words!("basket" => Held::Basket, "wire" => Held::Wire),
            "in a basket, or one by one on wires", {"basket": OURS};
        /// The box around it, as written.
        may "size" box_size: Size = SIZE,
            "the box around one piece: its length, such as 3 m, or 600 x 40 x 20 mm; where a shape gives it, only if it is bent";
        or "turned" turned: bool = YES,
            "a long part coated in two halves, turned end for end: a mark stays where they meet",
            {"no": NEUTRAL};
        /// Tanks that it is meant for.
        may names "tank" tanks: Vec<Spanned<String>>,
            "the tank that it is meant for, or several";
        may "screw" screw: Thread = SCREW, "thread and length, such as M6 x 20, instead of mass and area";
        or "head" head: Head = words!("socket" => Head::Socket, "hexagon" => Head::Hexagon),
            "head of the screw: socket (ISO 4762) or hexagon (ISO 4017)",
            {"socket": "ISO 4762: area within 5 %, mass within 12 % of published masses"};
        may "sheet" sheet: [Length; 3] = THREE,
            "length, width and thickness, such as 80 mm x 40 mm x 2 mm, instead of mass and area";
        may "bar" bar: [Length; 2] = TWO,
            "diameter and length of a round bar, such as 10 mm x 60 mm, instead of mass and area";
        may "tube" tube: [Length; 3] = THREE,
            "outer diameter, wall and length, such as 20 mm x 2 mm x 60 mm, instead of mass and area";
        may "ring" ring: [Length; 3] = THREE,
            "bore, outer diameter and thickness of a ring or a washer, such as 6.4 mm x 12 mm x 1.6 mm, instead of mass and area";
        may "spring" spring: [Length; 3] = THREE,
            "wire, outer diameter and free length of a coiled spring, such as 1.5 mm x 12 mm x 40 mm, instead of mass and area; with its `coils`";
        may "coils" coils: f64 = COILS, "coils of the spring, such as 8.5";
        may "cast wall" wall: Length = positive(),
            "mean wall of a casting, such as 6 mm: with its mass it gives the area";
        may own "face" face: Option<Face> = FACE.kind => |f| face(f),
            "how rough it is, where a shape gives the area", {
            "smooth": "machined, drawn or rolled: 1 to 1.1 times the area of the shape; blasted 1.2 (1 to 2), as cast 1.5 (1.2 to 2): common practice, no source",
            "as cast" for "casting": "common practice, no source; the area of a casting is within 30 % besides",
        };
        may own "drains" drains: Option<Drains> = DRAINS.kind => |f| drains(f, held.as_ref()),
            "how well it drains over the bath", {
            "very poorly" for "basket": "163 mL/m2, usually credited to US EPA handbooks (from memory): weigh a load before and after a rinse to have your own",
            "well" for "wire": "16 mL/m2, as above; a free-draining film of hot water gives 9 to 17",
        }, after "hangs";
        or "hangs" hangs: Hangs = HANGS, "how it hangs; cup: its open side up", {"upright": OURS};
        /// As measured.
        may "drag out" dragged: VolumePerArea = quantity(),
            "liquid that leaves on its surface after 10 s of dripping, such as 80 mL/m2, if measured";
        or "thick" thick: Length = quantity(),
            "its greatest thickness, such as 6 mm: what stress relief goes by",
            {"0 mm": "not known: stress relief then takes its least time"};
        may "tempered" tempered: Temperature = TEMPERATURE,
            "its tempering temperature, such as 300 °C, if other than its material's";
        or "worked cold" worked_cold: bool = YES,
            "ground, cold formed or straightened after hardening", {"no": NEUTRAL};
        or "greasy" greasy: bool = YES,
            "oil or grease may be left on it, in corners that no cleaning reaches", {"no": NEUTRAL};
        or "pickled" pickled: bool = YES, "cleaned in strong acid before the bath", {"no": NEUTRAL};
        or "holes down" holes_down: bool = YES,
            "it has blind holes that hang down in the bath, so that gas stays in them", {"no": NEUTRAL};
        or "crevices" crevices: bool = YES, "it has seams or rolled edges that hold liquid", {"no": NEUTRAL};
    }
    plus {
        name: Spanned<String> = |f| Spanned::new(f.name.to_owned(), f.at);
    }
}

/// As written, or as a casting or anything else usually is.
fn face(f: &mut Fields) -> Option<Face> {
    if let Some(stated) = f.value(&Part::face, FACE.read) {
        return Some(stated.value);
    }
    let case = if f.has(&Part::wall) { "casting" } else { "" };
    f.walk.usual_of(&Part::face, case, FACE.read)
}

/// As written, or as what is held so usually does.
fn drains(f: &mut Fields, held: Option<&Spanned<Held>>) -> Option<Drains> {
    if let Some(stated) = f.value(&Part::drains, DRAINS.read) {
        return Some(stated.value);
    }
    let case = match held.map(|h| h.value) {
        Some(Held::Wire) => "wire",
        _ => "basket",
    };
    f.walk.usual_of(&Part::drains, case, DRAINS.read)
}

impl Part {
    /// The box around it: as written, which may be that of a shape bent or coiled, or else that of its shape.
    pub(crate) fn size(&self) -> Option<Size> {
        self.box_size
            .as_ref()
            .map(|s| s.value)
            .or_else(|| self.shape_size())
    }

    /// Where its size stands, if it is known.
    pub(crate) fn size_at(&self) -> Option<SourceSpan> {
        let shape = || self.shape_size().and(self.shape_at());
        self.box_size.as_ref().map(|s| s.at).or_else(shape)
    }

    /// What its shape gives, made of a material of that density; none where it has no shape.
    pub(crate) fn estimate(&self, density: Density) -> Option<Estimate> {
        let stated = self.place(&Self::mass).and(self.mass.as_ref()).map(|m| m.value);
        let estimate = Estimate::new(&self.solid(density, stated)?, density, self.face?);
        match (stated, &self.wall) {
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
        let mass = estimate
            .filter(|_| self.place(&Self::mass).is_none())
            .map(|e| e.mass);
        let area = estimate
            .filter(|_| self.place(&Self::area).is_none())
            .map(|e| e.area);
        Some((
            mass.or(self.mass.as_ref().map(|m| m.value))?,
            area.or(self.area.as_ref().map(|a| a.value))?,
        ))
    }

    /// Liquid that leaves a tank on its surface; none where the table has no row for how it hangs and drains.
    pub(crate) fn drag_out(&self) -> Option<VolumePerArea> {
        if let Some(measured) = &self.dragged {
            return Some(measured.value);
        }
        let (least, most) = drag_out(self.hangs.as_ref()?.value, self.drains?)?;
        Some((least + most) * 0.5)
    }

    /// Whether a shape is written that could not be read.
    pub(crate) fn has_unread_shape(&self) -> bool {
        let unread = |key: &Key, read: bool| !read && self.place(key).is_some();
        unread(&Self::screw, self.screw.is_some())
            || unread(&Self::sheet, self.sheet.is_some())
            || unread(&Self::bar, self.bar.is_some())
            || unread(&Self::tube, self.tube.is_some())
            || unread(&Self::ring, self.ring.is_some())
            || unread(&Self::spring, self.spring.is_some())
            || unread(&Self::wall, self.wall.is_some())
    }

    /// Whether any shape is written.
    pub(crate) fn is_shaped(&self) -> bool {
        !self.shapes().is_empty()
    }

    /// The solid that it is; a casting needs its mass. None where there is none of such measures.
    pub(crate) fn solid(&self, density: Density, mass: Option<Mass>) -> Option<Solid> {
        if let Some(screw) = self.as_screw() {
            return screw.solid();
        }
        if let Some([length, width, thickness]) = self.sheet.as_ref().map(|s| s.value) {
            return shape::sheet(length, width, thickness);
        }
        if let Some([diameter, length]) = self.bar.as_ref().map(|b| b.value) {
            return shape::bar(diameter, length);
        }
        if let Some([outside, wall, length]) = self.tube.as_ref().map(|t| t.value) {
            return shape::tube(outside, wall, length);
        }
        if let Some([bore, outside, thickness]) = self.ring.as_ref().map(|r| r.value) {
            return shape::ring(bore, outside, thickness);
        }
        if let Some([wire, outside, free]) = self.spring.as_ref().map(|s| s.value) {
            return shape::spring(wire, outside, free, self.coils.as_ref()?.value);
        }
        let volume: Volume = mass? / density;
        shape::cast_wall(volume, self.wall.as_ref()?.value)
    }

    /// The box around its shape; none for a casting, of which only the wall is known.
    fn shape_size(&self) -> Option<Size> {
        if let Some(screw) = self.as_screw() {
            let (long, thick) = screw.outside();
            return Some(Size::new([long, thick, thick], true));
        }
        if let Some(sides) = self.sheet.as_ref().map(|s| s.value) {
            return Some(Size::new(sides, false));
        }
        if let Some([_, outside, thickness]) = self.ring.as_ref().map(|r| r.value) {
            return Some(Size::new([outside, outside, thickness], false));
        }
        if let Some([_, outside, free]) = self.spring.as_ref().map(|s| s.value) {
            return Some(Size::new([free, outside, outside], true));
        }
        let (thick, long) = match (
            self.bar.as_ref().map(|b| b.value),
            self.tube.as_ref().map(|t| t.value),
        ) {
            (Some([diameter, length]), _) => (diameter, length),
            (_, Some([outside, _, length])) => (outside, length),
            _ => return None,
        };
        Some(Size::new([long, thick, thick], true))
    }

    fn as_screw(&self) -> Option<Screw> {
        let thread = self.screw.as_ref()?.value;
        Some(Screw {
            head: self.head.as_ref()?.value,
            size: thread.size,
            length: thread.length,
        })
    }

    /// Where each shape stands, with its key, those that could not be read included: at most one if nothing is wrong.
    pub(crate) fn shapes(&self) -> Vec<(&'static str, SourceSpan)> {
        let keys: [&Key; 7] = [
            &Self::screw,
            &Self::sheet,
            &Self::bar,
            &Self::tube,
            &Self::ring,
            &Self::spring,
            &Self::wall,
        ];
        keys.iter()
            .filter_map(|key| Some((key.name, self.place(key)?)))
            .collect()
    }

    /// Where its shape stands, if it has one.
    pub(crate) fn shape_at(&self) -> Option<SourceSpan> {
        self.shapes().first().map(|(_, at)| *at)
    }
}
