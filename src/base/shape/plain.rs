//! Sheet, bar, tube, ring, spring and cast walls.

use crate::units::{Area, Length, Share, Volume};
use core::f64::consts::PI;

/// A shape: its smooth surface, its volume, and how far off the shape itself may be.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Solid {
    /// Smooth surface.
    pub area: Area,
    /// How far off it may be.
    pub area_within: Share,
    /// Volume.
    pub volume: Volume,
    /// How far off it may be.
    pub volume_within: Share,
}

impl Solid {
    /// Exact up to the tolerances of stock: 3 % (common practice, no source).
    fn of_stock(area: Area, volume: Volume) -> Option<Self> {
        let real = area > Area::ZERO
            && volume > Volume::ZERO
            && (area.in_square_metres() + volume.in_cubic_metres()).is_finite();
        real.then_some(Self {
            area,
            area_within: Share::percent(3.0),
            volume,
            volume_within: Share::percent(3.0),
        })
    }
}

fn all_positive(lengths: &[Length]) -> bool {
    lengths.iter().all(|l| *l > Length::ZERO)
}

/// A sheet, its edges counted: 2 (a b + a s + b s). None for lengths not above zero.
#[must_use]
pub fn sheet(length: Length, width: Length, thickness: Length) -> Option<Solid> {
    let area = (length * width + length * thickness + width * thickness) * 2.0;
    all_positive(&[length, width, thickness])
        .then(|| Solid::of_stock(area, length * width * thickness))
        .flatten()
}

/// A round bar, its ends counted. None for lengths not above zero.
#[must_use]
pub fn bar(diameter: Length, length: Length) -> Option<Solid> {
    let end = diameter * diameter * (PI / 4.0);
    let area = diameter * length * PI + end * 2.0;
    all_positive(&[diameter, length])
        .then(|| Solid::of_stock(area, end * length))
        .flatten()
}

/// A tube, wetted inside and out, its ends counted. None where the wall leaves no bore or a length is not above zero.
#[must_use]
pub fn tube(outside: Length, wall: Length, length: Length) -> Option<Solid> {
    let inside = outside - wall * 2.0;
    let end = (outside * outside - inside * inside) * (PI / 4.0);
    let area = (outside + inside) * length * PI + end * 2.0;
    all_positive(&[outside, wall, inside, length])
        .then(|| Solid::of_stock(area, end * length))
        .flatten()
}

/// A ring or a washer: a tube as short as it is thick. None where the bore is not smaller than the outside or a length is not
/// above zero.
#[must_use]
pub fn ring(bore: Length, outside: Length, thickness: Length) -> Option<Solid> {
    (bore > Length::ZERO)
        .then(|| tube(outside, (outside - bore) * 0.5, thickness))
        .flatten()
}

/// A spring of round wire, coiled so many times: its wire is a helix, whose length is that of the hypotenuse over the mean coils
/// and the free length. None where the coil has no bore or a measure is not above zero.
#[must_use]
pub fn spring(wire: Length, outside: Length, free: Length, coils: f64) -> Option<Solid> {
    let mean = outside - wire;
    let coiled = coils > 0.0 && coils.is_finite();
    if !coiled || !all_positive(&[wire, mean - wire, free]) {
        return None;
    }
    bar(wire, spring_wire(mean, free, coils))
}

/// How long the wire of a spring is, by its mean diameter, its free length and its coils.
fn spring_wire(mean: Length, free: Length, coils: f64) -> Length {
    let around = mean * (PI * coils);
    Length::metres(libm::hypot(around.in_metres(), free.in_metres()))
}

/// A casting of a volume whose walls have a mean thickness: A = 2 V / s. Its edges, ribs and bosses make it uncertain
/// by about 30 % (common practice, no source); the volume is what its weight says.
#[must_use]
pub fn cast_wall(volume: Volume, wall: Length) -> Option<Solid> {
    let area = Area::square_metres(2.0 * volume.in_cubic_metres() / wall.in_metres());
    let solid = Solid::of_stock(area, volume)?;
    (wall > Length::ZERO).then_some(Solid {
        area_within: Share::percent(30.0),
        ..solid
    })
}
