//! Heat held by the water, the vessel and the work in a bath, as one polynomial in °C.
//!
//! All heat capacities here are polynomials, so the heat content is one too, exactly: temperature follows from
//! heat by Newton's rule to the last digits, and a balance drawn up in heat contents closes to rounding.

use super::load::SolidHeat;
use super::water::HEAT_CAPACITY;

/// Heat capacity of all solids together, J/K as a cubic in °C.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) struct Solids([f64; 4]);

impl Solids {
    /// Adds so many kilograms; negative takes them away.
    pub(super) fn add(&mut self, heat: &SolidHeat, kilograms: f64) {
        for (sum, c) in self.0.iter_mut().zip(heat.coefficients) {
            *sum += c * kilograms;
        }
    }
}

/// Heat content counted from 0 °C: the integral of the heat capacity whose coefficients these are.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Content {
    capacity: [f64; 5],
}

impl Content {
    pub(super) fn new(kilograms_of_water: f64, solids: &Solids) -> Self {
        let [w0, w1, w2, w3, w4] = HEAT_CAPACITY;
        let [s0, s1, s2, s3] = solids.0;
        let m = kilograms_of_water;
        Self {
            capacity: [m * w0 + s0, m * w1 + s1, m * w2 + s2, m * w3 + s3, m * w4],
        }
    }

    /// Heat content, J.
    pub(super) fn heat(&self, t: f64) -> f64 {
        let [a, b, c, d, e] = self.capacity;
        ((((e * 0.2 * t + d * 0.25) * t + c * (1.0 / 3.0)) * t + b * 0.5) * t + a) * t
    }

    /// Heat capacity, J/K.
    pub(super) fn capacity(&self, t: f64) -> f64 {
        let [a, b, c, d, e] = self.capacity;
        (((e * t + d) * t + c) * t + b) * t + a
    }

    /// The temperature at which it holds so much heat, from a guess near it.
    pub(super) fn temperature(&self, heat: f64, guess: f64) -> f64 {
        let mut t = guess;
        for _ in 0..20 {
            let step = (heat - self.heat(t)) / self.capacity(t);
            t += step;
            // Newton's rule squares the error: 1e-5 K before this step is far below rounding after it.
            if step.abs() < 1e-5 {
                break;
            }
        }
        t
    }
}
