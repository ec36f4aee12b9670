//! Whether a piece lies under the solution of a tank, and how.

use super::ids::StationId;
use super::station::{Inside, Tank};
use crate::units::{Length, Quantity, Volume};

/// The room of one piece: the smallest box around it, its longest side first.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Size {
    /// Longest, middle and shortest side; a side that nobody stated is zero.
    pub sides: [Length; 3],
    /// Whether it is round about the side that differs from the other two, as a bar or a disc is.
    pub round: bool,
}

impl Size {
    /// Of three sides in any order.
    #[must_use]
    pub fn new(mut sides: [Length; 3], round: bool) -> Self {
        sides.sort_by(|a, b| b.base().total_cmp(&a.base()));
        Self { sides, round }
    }

    /// Volume of the box.
    #[must_use]
    pub fn volume(&self) -> Volume {
        let [a, b, c] = self.sides.map(Quantity::base);
        Volume::cubic_metres(a * b * c)
    }
}

/// How a piece goes under the solution, the plainest way first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Lies {
    /// Flat, along the walls.
    Flat,
    /// Hanging upright: its longest side is covered.
    Upright,
    /// From corner to corner of the opening.
    Across,
    /// Tilted: one end lower than the other.
    Tilted,
    /// Hanging upright, one half covered; then turned end for end.
    Turned,
}

/// What of a piece decides into which tanks it goes.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Goes {
    /// Its size; none where nobody stated one.
    pub size: Option<Size>,
    /// Whether it may be coated in two halves, turned end for end.
    pub turned: bool,
    /// Tanks that it is meant for; empty for any. Of a bath none of whose tanks is named, every tank will do.
    pub tanks: Vec<StationId>,
}

impl Goes {
    /// How a piece goes under the solution of a tank; flat if its size is not known. None if it does not fit.
    #[must_use]
    pub fn lies(&self, tank: &Tank) -> Option<Lies> {
        self.lies_in(tank.inside, tank.fill, Length::ZERO)
    }

    /// The same for inside measures and a fill, with so much clear on every side.
    #[must_use]
    pub fn lies_in(&self, inside: Inside, fill: Volume, clear: Length) -> Option<Lies> {
        let Some(size) = self.size else {
            return Some(Lies::Flat);
        };
        let depth = depth(inside, fill).base() - 2.0 * clear.base();
        let room = match inside {
            Inside::Box { length, width, .. } => {
                let sides = [length, width].map(|l| l.base() - 2.0 * clear.base());
                Room::Box(sides[0].max(sides[1]), sides[0].min(sides[1]), depth)
            }
            Inside::Round { diameter, .. } => Room::Round(diameter.base() - 2.0 * clear.base(), depth),
        };
        let [a, b, c] = size.sides.map(Quantity::base);
        room.lies([a, b, c], size.round).or_else(|| {
            let half = room.stands(a / 2.0, b, c, size.round);
            (self.turned && half).then_some(Lies::Turned)
        })
    }
}

/// Depth of a volume of solution.
#[must_use]
pub fn depth(inside: Inside, fill: Volume) -> Length {
    let ground = match inside {
        Inside::Box { length, width, .. } => length.base() * width.base(),
        Inside::Round { diameter, .. } => core::f64::consts::FRAC_PI_4 * diameter.base() * diameter.base(),
    };
    Length::metres(fill.base() / ground)
}

/// The solution of a tank as a room, m: the longer side of the opening first, or its diameter; then the depth.
#[derive(Debug, Clone, Copy)]
enum Room {
    Box(f64, f64, f64),
    Round(f64, f64),
}

/// No longer than, but for a hair of rounding.
fn within(a: f64, b: f64) -> bool {
    a <= b * (1.0 + 1e-9) + 1e-12
}

/// Whether a rectangle goes into another, turned as it may be; each with its longer side first. Carver's condition:
/// one that is longer than the other, p > L, goes in if W >= (2 p q L + (p² - q²) √(p² + q² - L²)) / (p² + q²).
fn turned_in((p, q): (f64, f64), (long, short): (f64, f64)) -> bool {
    let (p, q) = (p.max(q), p.min(q));
    let (long, short) = (long.max(short), long.min(short));
    if !within(q, short) {
        return false;
    }
    if within(p, long) {
        return true;
    }
    let sum = p * p + q * q;
    let needs = (2.0 * p * q * long + (p * p - q * q) * (sum - long * long).max(0.0).sqrt()) / sum;
    within(needs, short)
}

/// Longest of so much width that goes into a rectangle, turned as it may be.
fn longest(width: f64, (long, short): (f64, f64)) -> f64 {
    let (mut least, mut most) = (long, (long * long + short * short).sqrt());
    if width > short {
        return 0.0;
    }
    for _ in 0..60 {
        let mid = (least + most) / 2.0;
        if turned_in((mid, width), (long, short)) {
            least = mid;
        } else {
            most = mid;
        }
    }
    least
}

impl Room {
    /// How a box of these sides, the longest first, lies in it.
    fn lies(self, sides: [f64; 3], round: bool) -> Option<Lies> {
        let [a, b, c] = sides;
        let flat = [(c, a, b), (b, a, c)]
            .into_iter()
            .any(|(high, p, q)| self.takes(high, p, q, false))
            || (round && self.takes_disc(c, a, b));
        let across = [(c, a, b), (b, a, c)]
            .into_iter()
            .any(|(high, p, q)| self.takes(high, p, q, true));
        let ways = [
            (Lies::Flat, flat),
            (Lies::Upright, self.stands(a, b, c, round)),
            (Lies::Across, across),
            (Lies::Tilted, self.tilts([(c, a, b), (b, a, c), (a, b, c)])),
        ];
        ways.into_iter().find(|w| w.1).map(|w| w.0)
    }

    /// Whether it takes so much height, with the ground beneath it along the walls, or turned.
    fn takes(self, high: f64, p: f64, q: f64, turned: bool) -> bool {
        match self {
            Self::Box(long, short, depth) => {
                let ground = if turned {
                    turned_in((p, q), (long, short))
                } else {
                    within(p.max(q), long) && within(p.min(q), short)
                };
                within(high, depth) && ground
            }
            Self::Round(diameter, depth) => within(high, depth) && within((p * p + q * q).sqrt(), diameter),
        }
    }

    /// Whether it takes so much standing upright.
    fn stands(self, high: f64, p: f64, q: f64, round: bool) -> bool {
        let disc = round && self.takes_disc(high, p, q);
        disc || self.takes(high, p, q, false) || self.takes(high, p, q, true)
    }

    /// Whether a round pot takes so much height of something that is round seen from above.
    fn takes_disc(self, high: f64, p: f64, q: f64) -> bool {
        match self {
            Self::Round(diameter, depth) => within(p, q) && within(high, depth) && within(p, diameter),
            Self::Box(..) => false,
        }
    }

    /// Whether it goes in tilted, one of its sides level: along a wall, or from corner to corner of the opening.
    fn tilts(self, ways: [(f64, f64, f64); 3]) -> bool {
        ways.into_iter().any(|(level, p, q)| match self {
            Self::Box(long, short, depth) => {
                let corner = longest(level, (long, short));
                (within(level, short) && turned_in((p, q), (long, depth)))
                    || (within(level, long) && turned_in((p, q), (short, depth)))
                    || (corner > 0.0 && turned_in((p, q), (corner, depth)))
            }
            Self::Round(diameter, depth) => {
                let chord = (diameter * diameter - level * level).max(0.0).sqrt();
                within(level, diameter) && turned_in((p, q), (chord, depth))
            }
        })
    }
}

#[cfg(test)]
mod tests {
    use super::{Goes, Lies, Size, depth};
    use crate::shop::Inside;
    use crate::units::{Length, Quantity, Volume};

    fn mm(v: f64) -> Length {
        Length::millimetres(v)
    }

    fn bar(thick: f64, long: f64) -> Goes {
        Goes {
            size: Some(Size::new([mm(thick), mm(long), mm(thick)], true)),
            ..Goes::default()
        }
    }

    /// 400 x 300 mm with 200 mm of solution: its diagonals are 500 mm in the opening and 538.5 mm through the room.
    fn tank() -> (Inside, Volume) {
        let inside = Inside::Box {
            length: mm(400.0),
            width: mm(300.0),
            height: mm(260.0),
        };
        (inside, Volume::litres(24.0))
    }

    fn lies(piece: &Goes, (inside, fill): (Inside, Volume)) -> Option<Lies> {
        piece.lies_in(inside, fill, Length::ZERO)
    }

    #[test]
    fn a_bar_goes_in_as_far_as_the_room_is_long() {
        assert!((depth(tank().0, tank().1).base() - 0.2).abs() < 1e-12);
        assert_eq!(lies(&bar(1e-3, 400.0), tank()), Some(Lies::Flat));
        assert_eq!(lies(&bar(1e-3, 499.9), tank()), Some(Lies::Across));
        assert_eq!(lies(&bar(1e-3, 538.4), tank()), Some(Lies::Tilted));
        assert_eq!(lies(&bar(1e-3, 538.6), tank()), None);
        // A thicker one goes less far. 40 mm wide and L long, turned by t: L cos t + 40 sin t = 400 and
        // L sin t + 40 cos t = 300, by hand t = 35.355° and L = 462.07 mm.
        assert_eq!(lies(&bar(40.0, 461.5), tank()), Some(Lies::Across));
        assert_ne!(lies(&bar(40.0, 462.7), tank()), Some(Lies::Across));
    }

    #[test]
    fn a_pot_takes_what_its_circle_and_its_depth_take() {
        let pot = Inside::Round {
            diameter: mm(280.0),
            height: mm(270.0),
        };
        let full = (pot, Volume::litres(13.0));
        assert!((depth(pot, full.1).in_millimetres() - 211.1).abs() < 0.1);
        assert_eq!(lies(&bar(12.0, 279.0), full), Some(Lies::Flat));
        // Tilted: up to √(280² + 211²) = 350.6 mm if it were of no thickness.
        assert_eq!(lies(&bar(1.0, 349.0), full), Some(Lies::Tilted));
        assert_eq!(lies(&bar(1.0, 352.0), full), None);
        assert_eq!(lies(&bar(12.0, 3000.0), full), None);
        // The box around a disc of 275 mm has a diagonal of 389 mm; the disc itself goes in.
        assert_eq!(lies(&bar(275.0, 200.0), full), Some(Lies::Flat));
        assert_eq!(lies(&bar(275.0, 212.0), full), None);
        assert_eq!(lies(&bar(200.0, 210.0), full), Some(Lies::Upright));
    }

    #[test]
    fn what_is_turned_end_for_end_needs_half_its_length_covered() {
        let turned = |long| Goes {
            turned: true,
            ..bar(12.0, long)
        };
        let deep = (
            Inside::Round {
                diameter: mm(100.0),
                height: mm(800.0),
            },
            Volume::litres(5.0),
        );
        // 636.6 mm of solution.
        assert_eq!(lies(&bar(12.0, 1200.0), deep), None);
        assert_eq!(lies(&turned(1200.0), deep), Some(Lies::Turned));
        assert_eq!(lies(&turned(1300.0), deep), None);
    }
}
