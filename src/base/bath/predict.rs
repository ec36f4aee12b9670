//! When a bath will be where, under the heater and lid it has now.

use super::advance::Regime;
use super::content::Content;
use super::flow::Stop;
use super::ode::{next_length, step};
use super::state::{Bath, Heater};
use super::tank_heat::TankHeat;
use crate::shop::CoatsFrom;
use crate::units::{Quantity, Span, Temperature, Volume};

/// The first step, and the longest, K.
const FIRST_STRIDE: f64 = 8.0;
const STRIDE: f64 = 25.0;
/// Error of one step, s, and as a share of its length.
const FINE: f64 = 1e-3;
const FINE_SHARE: f64 = 1e-6;
/// Beyond this a prediction is of no use to anybody: a hundred days, s.
const FAR: f64 = 8.64e6;

impl Bath {
    /// Time until the bath takes a temperature under its present heater and lid; none if it never does, or if it
    /// would fall dry before.
    #[must_use]
    pub fn time_until_temperature(&self, tank: &TankHeat, target: Temperature) -> Option<Span> {
        let target = target.in_celsius();
        if target == self.celsius {
            return Some(Span::ZERO);
        }
        let Regime::Flow { power, goal } = self.regime(tank) else {
            return None;
        };
        let beyond = goal.is_some_and(|goal| (target - goal) * (goal - self.celsius) > 0.0);
        if beyond {
            return None;
        }
        self.seconds_to(tank, power, target).map(Span::seconds)
    }

    /// Time until the bath is down to a volume (counted cold); zero if it already is, none if that is more than
    /// a hundred days away.
    #[must_use]
    pub fn time_until_volume(&self, tank: &TankHeat, level: Volume) -> Option<Span> {
        let level = (super::water::measuring_density() * level).base();
        if self.water <= level {
            return Some(Span::ZERO);
        }
        self.time_until(tank, Stop::Water(level))
    }

    /// Time until so much more conversion has been gathered on plain steel; none without growth, or beyond a hundred days.
    #[must_use]
    pub fn time_until_conversion(&self, tank: &TankHeat, amount: f64) -> Option<Span> {
        self.time_until_conversion_on(CoatsFrom::Steel, tank, amount)
    }

    /// The same on a material.
    #[must_use]
    pub fn time_until_conversion_on(&self, from: CoatsFrom, tank: &TankHeat, amount: f64) -> Option<Span> {
        if amount <= 0.0 {
            return Some(Span::ZERO);
        }
        self.time_until(tank, Stop::Conversion(from, self.conversion_on(from) + amount))
    }

    fn time_until(&self, tank: &TankHeat, stop: Stop) -> Option<Span> {
        let mut copy = *self;
        let (seconds, met) = copy.run(tank, FAR, Some(stop));
        met.then(|| Span::seconds(seconds))
    }

    /// Seconds to a temperature under a constant heater power, with temperature as the independent variable.
    pub(super) fn seconds_to(&self, tank: &TankHeat, power: f64, target: f64) -> Option<f64> {
        let way = target - self.celsius;
        let drift = |t: f64| power - tank.leaving(Temperature::celsius(t), self.lid).heat.base();
        if drift(self.celsius) * way <= 0.0 || drift(target) * way <= 0.0 {
            return None;
        }
        let slope = |t: f64, water: f64| {
            let leaving = tank.leaving(Temperature::celsius(t), self.lid);
            let capacity = Content::new(water, &self.solids).capacity(t);
            let pace = capacity / (power - leaving.heat.base());
            [pace, -leaving.evaporation.base() * pace]
        };
        let mut t = self.celsius;
        let mut y = [0.0, self.water];
        let mut h = way.clamp(-FIRST_STRIDE, FIRST_STRIDE);
        for _ in 0..10_000 {
            let made = step(&y, &slope(t, y[1]), h, |x, y| slope(t + x, y[1]));
            let size = made.error[0].abs() / (FINE + FINE_SHARE * made.y[0]);
            if size <= 1.0 || h.abs() < 1e-9 {
                t += h;
                y = made.y;
                if y[0] > FAR || y[1] <= tank.dry().base() {
                    return None;
                }
                if (target - t) * way <= 0.0 || (target - t).abs() < 1e-12 {
                    return Some(y[0]);
                }
            }
            let next = (h * next_length(size)).abs().min(STRIDE).min((target - t).abs());
            h = next * way.signum();
        }
        None
    }

    /// How the thermostat switches about the set point: a differential of the tank's `swing`, half of it on
    /// either side. None with the heater off or too weak.
    #[must_use]
    pub fn cycle(&self, tank: &TankHeat) -> Option<Cycle> {
        let Heater::Keep(set) = self.heater else {
            return None;
        };
        let half = tank.swing() * 0.5;
        let (low, high) = (set - half, set + half);
        let at = |t: Temperature| {
            let mut copy = *self;
            copy.celsius = t.in_celsius();
            copy
        };
        let on = at(low).seconds_to(tank, self.net_power(tank).base(), high.in_celsius())?;
        let off = at(high).seconds_to(tank, 0.0, low.in_celsius())?;
        Some(Cycle {
            on: Span::seconds(on),
            off: Span::seconds(off),
        })
    }
}

/// One switching cycle of a thermostat.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Cycle {
    /// Time with full power.
    pub on: Span,
    /// Time without.
    pub off: Span,
}
