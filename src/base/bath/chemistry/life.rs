//! How long a bath lasts: surface, loads and days to each limit at the present mix of work.
//!
//! The volume is taken as made up with water all the time, and nothing else added. A stock N then follows
//! dN/da = R - k N over the area a coated, with R what a square metre gives and k what it carries off:
//! N = N0 + (R - k N0) (1 - exp(-k a)) / k. Iron that oxidises by the hour moves acid and sludge with it.
//!
//! Each limit is taken for itself. One that comes after that of strength counts only for a bath whose strength is
//! kept up: without additions its manganese ends at about the area at which its iron is too much.

use super::balance::Turnover;
use super::limits::{Side, Watched};
use super::species::{IRON, STRENGITE};
use super::state::Chemistry;
use crate::bath::root::falling_root;
use crate::shop::Limits;
use crate::shop::Recipe;
use crate::units::{Area, CoatWeight, Span};

/// The work that a bath does.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Mix {
    /// Coating.
    pub weight: CoatWeight,
    /// Surface of one load.
    pub area: Area,
    /// Time hot for one load.
    pub hot: Span,
    /// Loads in a day.
    pub loads_by_day: f64,
}

/// What is left to one limit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reach {
    /// What reaches its limit.
    pub what: Watched,
    /// Which limit.
    pub side: Side,
    /// Surface until then; nothing where it is passed already.
    pub area: Area,
    /// Loads until then.
    pub loads: f64,
    /// Days until then.
    pub days: f64,
}

/// What is left to every limit that the present mix leads to, the nearest first.
#[derive(Debug, Clone, PartialEq)]
pub struct Life {
    /// Limits that are reached at some time.
    pub reaches: Vec<Reach>,
}

impl Life {
    /// The limit that comes first.
    #[must_use]
    pub fn first(&self) -> Option<&Reach> {
        self.reaches.first()
    }

    /// What is left to one limit, if the mix leads there.
    #[must_use]
    pub fn to(&self, what: Watched) -> Option<&Reach> {
        self.reaches.iter().find(|r| r.what == what)
    }
}

/// What a bath holds after an area coated, in point-litres and grams.
#[derive(Debug, Clone, Copy)]
struct Held {
    total: f64,
    free: f64,
    iron: f64,
    sludge: f64,
}

/// How a bath goes on: start, gain by a square metre, share carried off by a square metre, and share of the iron that
/// oxidises in the hot time of a square metre.
#[derive(Debug, Clone, Copy)]
struct Course {
    start: Held,
    gain: Held,
    carried: f64,
    rusts: f64,
    /// Point-litres of total acid gained by a gram of iron that oxidises: its metal counts no more, its acid does.
    total_by_rust: f64,
}

/// Point-litres of free acid that a gram of iron sets free as it oxidises.
const FREED: f64 = 100.0 / IRON.in_grams_per_mole();
/// Grams of sludge that a gram of iron makes as it oxidises.
const RUST: f64 = STRENGITE.in_grams_per_mole() / IRON.in_grams_per_mole();

/// The integral of exp(-k a) from nothing to a.
fn faded(k: f64, a: f64) -> f64 {
    if k * a < 1e-12 {
        a
    } else {
        -libm::expm1(-k * a) / k
    }
}

/// A stock after an area that has faded to so much of itself: now + (gain - k now) x the faded area.
fn stock(now: f64, gain: f64, k: f64, faded: f64) -> f64 {
    now + (gain - k * now) * faded
}

/// What is left to a limit in a bath that holds so much; below nothing once it is passed.
type Margin<'a> = &'a dyn Fn(&Held) -> f64;

impl Course {
    fn new(recipe: &Recipe, bath: &Chemistry, mix: &Mix) -> Self {
        let per = Area::square_metres(1.0);
        let made = Turnover::of(recipe, mix.weight, per);
        let litres = bath.volume().in_litres();
        let hours = mix.hot.in_hours() / mix.area.in_square_metres();
        let rusts = -libm::log1p(-recipe.oxidised_by_hour().0.min(0.999)) * hours;
        Self {
            start: Held {
                total: bath.total_acid().in_points() * litres,
                free: bath.free_acid().in_points() * litres,
                iron: bath.iron().in_grams_per_litre() * litres,
                sludge: (bath.suspended() + bath.settled()).in_grams(),
            },
            gain: Held {
                total: made.change().total_acid(recipe.metal_counts).in_point_litres(),
                free: made.change().free_acid().in_point_litres(),
                iron: (made.change().iron * IRON).in_grams(),
                sludge: made.sludge().mass().in_grams(),
            },
            carried: (recipe.drag_out * per) / bath.volume(),
            rusts: if rusts.is_finite() { rusts } else { 0.0 },
            total_by_rust: (2.0 - recipe.metal_counts) * FREED,
        }
    }

    /// What it holds after an area. An acid and its part of the iron together follow the law of the drag-out alone.
    fn at(&self, a: f64) -> Held {
        let (s, g, k) = (&self.start, &self.gain, self.carried);
        let fades = k + self.rusts;
        let iron = stock(s.iron, g.iron, fades, faded(fades, a));
        let faded = faded(k, a);
        let acid =
            |now: f64, gain: f64, by: f64| stock(now + by * s.iron, gain + by * g.iron, k, faded) - by * iron;
        // All the iron that rusted: what went in, less what is left, in the share of rust in all that leaves.
        let left = s.iron + g.iron * a - iron;
        let rusted = if fades > 0.0 {
            left * self.rusts / fades
        } else {
            0.0
        };
        Held {
            total: acid(s.total, g.total, self.total_by_rust),
            free: acid(s.free, g.free, FREED),
            iron,
            sludge: s.sludge + g.sludge * a + RUST * rusted,
        }
    }

    /// Area in m2 after which each margin is used up; none where it lasts beyond any bath's life. All are followed
    /// together, since what the bath holds is the same for all.
    fn until<const N: usize>(&self, margins: [Margin; N]) -> [Option<f64>; N] {
        let start = self.at(0.0);
        let mut found = margins.map(|margin| (margin(&start) < 0.0).then_some(0.0));
        let (mut inside, mut a) = (0.0, 1e-4);
        while a < 1e5 && found.contains(&None) {
            let held = self.at(a);
            for (found, margin) in found.iter_mut().zip(margins) {
                if found.is_none() && margin(&held) < 0.0 {
                    *found = Some(falling_root(inside, a, |x| margin(&self.at(x))));
                }
            }
            (inside, a) = (a, a * 1.1);
        }
        found
    }
}

/// What is left of a bath.
#[must_use]
pub fn life_left(recipe: &Recipe, limits: &Limits, bath: &Chemistry, mix: &Mix) -> Life {
    let course = Course::new(recipe, bath, mix);
    let litres = bath.volume().in_litres();
    let strength = limits.strength.stop_below.in_points() * litres;
    let iron = limits.iron.stop_above.in_grams_per_litre() * litres;
    let sludge = limits.sludge.stop_above.in_fraction() * recipe.sludge_bed.in_grams_per_litre() * litres;
    let (low, high) = (limits.ratio.stop_below, limits.ratio.stop_above);
    let limits = [
        (Watched::Strength, Side::Below),
        (Watched::Ratio, Side::Below),
        (Watched::Ratio, Side::Above),
        (Watched::Iron, Side::Above),
        (Watched::Sludge, Side::Above),
    ];
    let areas = course.until([
        &|h: &Held| h.total - strength,
        &|h| h.total - low * h.free,
        &|h| high * h.free - h.total,
        &|h| iron - h.iron,
        &|h| sludge - h.sludge,
    ]);
    let mut reaches: Vec<Reach> = limits
        .into_iter()
        .zip(areas)
        .filter_map(|((what, side), area)| Some(reach(mix, what, side, area?)))
        .collect();
    let m2 = |r: &Reach| r.area.in_square_metres();
    reaches.sort_by(|a, b| m2(a).total_cmp(&m2(b)).then(a.what.cmp(&b.what)));
    Life { reaches }
}

fn reach(mix: &Mix, what: Watched, side: Side, area: f64) -> Reach {
    let loads = area / mix.area.in_square_metres();
    Reach {
        what,
        side,
        area: Area::square_metres(area),
        loads,
        days: loads / mix.loads_by_day,
    }
}
