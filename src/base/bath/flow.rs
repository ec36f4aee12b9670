//! One step of a bath whose temperature moves.

use super::content::Content;
use super::ode::{next_length, step};
use super::state::Bath;
use super::tank_heat::TankHeat;
use super::water;
use crate::shop::CoatsFrom;
use crate::units::{Quantity, Temperature};

/// Error of one step, K.
const TOLERANCE: f64 = 1e-4;
/// Error of one step, as a share of the full tank.
const TOLERANCE_WATER: f64 = 1e-6;
/// Error of one step, as a conversion: hundredths of a second of a dwell.
const TOLERANCE_CONVERSION: f64 = 3e-5;
/// Steps are not divided below this, s.
const SHORTEST: f64 = 1e-3;

/// Heat lost, heat content carried by vapour, water, conversion on steel and on cast iron; J, J, kg, 1, 1.
pub(super) type Course = [f64; 5];

/// What ends a run early.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Stop {
    /// Water down to, kg.
    Water(f64),
    /// Conversion on a material up to.
    Conversion(CoatsFrom, f64),
}

impl Stop {
    /// Which figure of a course it watches, its value, and whether it is met there.
    fn watched(self, y: &Course) -> (usize, f64, bool) {
        match self {
            Self::Water(level) => (2, level, y[2] <= level),
            Self::Conversion(CoatsFrom::Steel, amount) => (3, amount, y[3] >= amount),
            Self::Conversion(CoatsFrom::CastIron, amount) => (4, amount, y[4] >= amount),
        }
    }
}

/// What makes an error of a step large or small.
pub(super) struct Scale {
    /// J/K.
    pub(super) capacity: f64,
    /// kg.
    pub(super) full: f64,
}

/// A step made.
#[derive(Debug, Clone, Copy)]
pub(super) struct Made {
    /// How long it was.
    pub(super) seconds: f64,
    /// The course at its end.
    pub(super) y: Course,
    /// The temperature at its end.
    pub(super) celsius: f64,
    /// How long the next may be.
    pub(super) next: f64,
}

/// What does not change during a step.
pub(super) struct Flow<'a> {
    tank: &'a TankHeat,
    bath: &'a Bath,
    dry: bool,
    power: f64,
    /// Heat capacity at the start, J/K, its growth by kelvin over twice itself, and heat content of the water, J/kg.
    capacity: f64,
    bend: f64,
    carried: f64,
    heat: f64,
    start: Course,
    first: Course,
}

impl<'a> Flow<'a> {
    pub(super) fn new(tank: &'a TankHeat, bath: &'a Bath, dry: bool, power: f64) -> Self {
        let content = bath.content();
        let capacity = content.capacity(bath.celsius);
        let mut flow = Self {
            tank,
            bath,
            dry,
            power,
            capacity,
            bend: 0.5 * (content.capacity(bath.celsius + 1.0) / capacity - 1.0),
            carried: water::heat_content(bath.temperature()).base(),
            heat: content.heat(bath.celsius),
            start: [0.0, 0.0, bath.water, bath.conversion[0], bath.conversion[1]],
            first: [0.0; 5],
        };
        flow.first = flow.slope_at(bath.celsius);
        flow
    }

    /// Slopes at the start.
    pub(super) fn first(&self) -> &Course {
        &self.first
    }

    fn slope_at(&self, celsius: f64) -> Course {
        let at = Temperature::celsius(celsius);
        let leaving = self.tank.leaving(at, self.bath.lid);
        let vapour = if self.dry { 0.0 } else { leaving.evaporation.base() };
        let carried = vapour * water::heat_content(at).base();
        let [steel, iron] = self.bath.rate.all(celsius);
        [leaving.heat.base(), carried, -vapour, steel, iron]
    }

    /// Temperature at a point of the step: a parabola from the start as guess, then exactly.
    fn temperature(&self, x: f64, y: &Course) -> f64 {
        let content = Content::new(y[2], &self.bath.solids);
        let gained = self.power * x - y[0] - y[1];
        let rise = (gained - self.carried * (y[2] - self.start[2])) / self.capacity;
        let guess = self.bath.celsius + rise * (1.0 - self.bend * rise);
        content.temperature(self.heat + gained, guess)
    }

    fn step(&self, h: f64) -> (Made, Course) {
        let mut celsius = self.bath.celsius;
        let made = step(&self.start, &self.first, h, |x, y| {
            celsius = self.temperature(x, y);
            self.slope_at(celsius)
        });
        let end = Made {
            seconds: h,
            y: made.y,
            celsius,
            next: h,
        };
        (end, made.error)
    }

    /// A step of at most `h` whose error is small enough.
    pub(super) fn controlled(&self, h: f64, scale: &Scale) -> Made {
        let mut h = h;
        loop {
            let (made, error) = self.step(h);
            let heat = (error[0].abs() + error[1].abs()) / (scale.capacity * TOLERANCE);
            let water = error[2].abs() / (scale.full * TOLERANCE_WATER);
            let coat = error[3].abs().max(error[4].abs()) / TOLERANCE_CONVERSION;
            let size = heat.max(water).max(coat);
            let factor = next_length(size);
            if size <= 1.0 || h <= SHORTEST || size.is_nan() {
                return Made {
                    next: h * factor,
                    ..made
                };
            }
            h *= factor.min(0.9);
        }
    }

    /// The shorter step that ends where the stop is met, if it is met within a step made.
    ///
    /// Newton's rule on the length: its slope is known at every end.
    pub(super) fn until(&self, stop: Stop, made: &Made) -> Option<Made> {
        let (which, target, met) = stop.watched(&made.y);
        if !met {
            return None;
        }
        let value = |y: &Course| y.get(which).copied().unwrap_or(target);
        let from = value(&self.start);
        let mut h = made.seconds * ((target - from) / (value(&made.y) - from)).clamp(0.0, 1.0);
        let mut end = self.step(h).0;
        for _ in 0..8 {
            let slope = value(&self.slope_at(end.celsius));
            let short = target - value(&end.y);
            // Where nothing grows at the end of the guess, it lies too near the start of the step, or beyond its end.
            let more = if slope == 0.0 {
                0.5 * if short > 0.0 { made.seconds - h } else { -h }
            } else {
                short / slope
            };
            if !more.is_finite() || more.abs() < 1e-9 {
                break;
            }
            h = (h + more).clamp(0.0, made.seconds);
            end = self.step(h).0;
        }
        Some(end)
    }
}
